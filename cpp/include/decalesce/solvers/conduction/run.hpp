#pragma once
// A body in surroundings of changing temperature, solved along time: every point's temperature at every moment, and for
// batches the few numbers people ask for.
#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

#include "../../ground/flags.hpp"
#include "../../ground/history.hpp"
#include "material.hpp"
#include "mesh.hpp"

namespace decalesce::conduction {

/// What the body stands in. `film` is convection alone, W/m2K; `emissivity` that of the grey exchange with a much
/// larger enclosure of the same temperature, 0 for none.
struct Surroundings {
  History temperature;
  double film_W_m2K = 0.0;
  double emissivity = 0.0;
};

/// The answer along time. Between steps it is the method's own interpolant; outside its time, NaN.
class Trace {
 public:
  Trace(Material material, Mesh mesh) : material_(std::move(material)), mesh_(std::move(mesh)) {}

  const Material& material() const { return material_; }
  const Mesh& mesh() const { return mesh_; }
  std::size_t steps() const { return to_.size(); }
  std::size_t rejected() const { return rejected_; }
  double start_s() const { return from_.empty() ? 0.0 : from_.front(); }
  double end_s() const { return to_.empty() ? 0.0 : to_.back(); }
  /// Ends of the steps, s, the start first.
  std::vector<double> times_s() const;

  double temperature_C(std::size_t point, double time_s) const;
  double centre_C(double time_s) const { return temperature_C(static_cast<std::size_t>(mesh_.centre), time_s); }
  double surface_C(double time_s) const { return temperature_C(static_cast<std::size_t>(mesh_.surface), time_s); }
  /// Mean over the volume of enthalpy, as a temperature.
  double mean_C(double time_s) const;
  double coolest_C(double time_s) const;
  double hottest_C(double time_s) const;

  /// First time the point crosses a temperature, either way, s; NaN if it does not.
  double time_to(std::size_t point, double temperature_C) const;
  /// First time from which every point is within `within_K` of a temperature; NaN if that does not happen.
  double time_within(double temperature_C, double within_K) const;
  /// The largest difference between surface and centre while heating, K, and when.
  struct Difference {
    double kelvin = 0.0;
    double time_s = 0.0;
  };
  Difference largest_difference() const;

  /// Heat taken up since the start, and gain of enthalpy between the ends, J (per metre of length, or radian, as the
  /// mesh).
  double heat_in_J() const { return heat_.empty() ? 0.0 : heat_.back(); }
  double enthalpy_gained_J() const;
  /// The enthalpy of each point at the end, to go on from.
  std::vector<double> last_enthalpy_J_m3() const;

 private:
  friend Trace heat(const Material&, const Mesh&, const std::vector<double>&, const Surroundings&, double);
  struct Recorder;
  double enthalpy(std::size_t point, std::size_t step, double s) const;
  bool covers(double time_s) const;
  std::size_t step_at(double time_s, double& s) const;

  Material material_;
  Mesh mesh_;
  std::vector<double> from_, to_, heat_;
  std::vector<double> cubics_;  // a step, a point: y0 y1 c2 c3
  std::size_t rejected_ = 0;
};

inline constexpr double default_tolerance_K = 0.1;
/// Boiling water gives a few times 10^4 W/m2K; what is a hundred times more is a slip of units.
inline constexpr double largest_film_W_m2K = 1e6;

/// From a uniform temperature, degC. Error is controlled to `tolerance_K` at every point. Throws std::invalid_argument
/// for a start, film coefficient, emissivity or tolerance that cannot be.
Trace heat(const Material& material, const Mesh& mesh, double start_C, const Surroundings& surroundings,
           double tolerance_K = default_tolerance_K);
/// From what an earlier trace ended with, J/m3 a point.
Trace heat(const Material& material, const Mesh& mesh, const std::vector<double>& enthalpy_J_m3,
           const Surroundings& surroundings, double tolerance_K = default_tolerance_K);

/// A body that is led through surroundings piece by piece, when what surrounds it depends on what it takes up.
class Walk {
 public:
  /// Both must outlive the walk. Starts at a uniform temperature, degC.
  Walk(const Material& material, const Mesh& mesh, double start_C);

  /// Goes on through these surroundings; returns the heat taken up, J (per unit, as the mesh's volumes).
  double go(const Surroundings& surroundings, double tolerance_K = default_tolerance_K);
  /// The state, to come back to.
  const std::vector<double>& enthalpy_J_m3() const { return enthalpy_; }
  void go_back(std::vector<double> enthalpy_J_m3) { enthalpy_ = std::move(enthalpy_J_m3); }

 private:
  const Material* material_;
  const Mesh* mesh_;
  std::vector<double> enthalpy_;
};

/// One of many bodies. What it points to must outlive the call.
struct Body {
  const Material* material = nullptr;
  const Mesh* mesh = nullptr;
  const Surroundings* surroundings = nullptr;
  double start_C = 20.0;
};

/// What a batch tells of each body.
struct Summary {
  double time_within_s = NAN;  // first time surface and centre are within the wanted kelvin of the last temperature
  double largest_difference_K = 0.0;  // surface less centre, of greatest size
  double difference_time_s = 0.0;
  double surface_C = NAN;  // at the end
  double centre_C = NAN;
  double heat_in_J = NAN;
  Flags flags;  // impossible_input, nan_input, not_heating, outside_range
};

/// Many bodies, those of like mesh side by side in the lanes of the processor. With `stop_within` a body is left when
/// it has got there. A body that cannot be (a null pointer, a NaN, an absurd film) gives NaN and a flag.
std::vector<Summary> heat_batch(std::span<const Body> bodies, double within_K, double tolerance_K = default_tolerance_K,
                                bool stop_within = false);

}  // namespace decalesce::conduction
