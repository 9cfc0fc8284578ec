#pragma once
// Chamber and lining of a furnace, led along time with the power that the set point lets through.
#include <cstddef>
#include <vector>

#include "decalesce/shop/furnace.hpp"

namespace decalesce::furnace {

/// Point 0 is the hot face with what the chamber holds, the last is the outer face. Slices are thin at the hot face,
/// where heat goes in and out within seconds, and grow outwards.
class Walls {
 public:
  /// At rest at this chamber temperature.
  Walls(const Furnace& furnace, double chamber_C, int finer);

  double chamber_C() const { return temperature_.front(); }
  double stored_J() const;

  enum class Mode { full_power, held, no_power };
  struct Step {
    std::vector<double> temperature;
    double power_W = 0.0;
    double lost_J = 0.0;
    Mode mode = Mode::full_power;
  };

  /// One step with heat `drawn_W` taken from the chamber: with full power, unless that would pass the set point; then
  /// with the power that just reaches it, if any.
  Step step(double seconds, double drawn_W, double power_W, double set_point_C) const;
  void take(Step step);
  /// The next steps are taken fully implicit, so that a sudden change does not ring.
  void sudden_change();

 private:
  double flow_into(std::size_t i, const std::vector<double>& t) const;
  /// With `held` the chamber is brought to that temperature and the power is what it takes.
  Step solve(double seconds, double net_W, const double* held) const;

  std::vector<double> temperature_;
  std::vector<double> capacity_;  // J/K
  std::vector<double> link_;      // W/K, from point i to i + 1
  double out_ = 0.0;              // W/K, to the room
  double room_C_;
  int implicit_steps_ = 0;
  Mode mode_ = Mode::held;
};

}  // namespace decalesce::furnace
