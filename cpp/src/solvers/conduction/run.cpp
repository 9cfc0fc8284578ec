#include "decalesce/solvers/conduction/run.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

#include "problem.hpp"

namespace decalesce::conduction {

namespace {

constexpr std::size_t cubic_size = 4;
/// Halvings that bring a step down to less than a nanosecond of it.
constexpr int halvings = 50;

double at(const double* cubic, double s) {
  return (1.0 - s) * cubic[0] + s * (cubic[1] + (1.0 - s) * (cubic[2] + s * cubic[3]));
}

}  // namespace

struct Trace::Recorder {
  Trace* trace;
  static bool accepted(void* observer, const Step& step) {
    Trace& t = *static_cast<Recorder*>(observer)->trace;
    t.from_.push_back(step.from);
    t.to_.push_back(step.to);
    t.heat_.push_back(step.heat1);
    for (std::ptrdiff_t i = 0; i < t.mesh_.points(); ++i) {
      const std::ptrdiff_t k = i * step.stride;
      t.cubics_.insert(t.cubics_.end(), {step.y0[k], step.y1[k], step.c2[k], step.c3[k]});
    }
    return false;
  }
};

Trace heat(const Material& material, const Mesh& mesh, const std::vector<double>& enthalpy_J_m3,
           const Surroundings& surroundings, double tolerance_K) {
  if (const std::string what = trouble(mesh, surroundings, tolerance_K); !what.empty())
    throw std::invalid_argument(what);
  if (enthalpy_J_m3.size() != mesh.volume.size())
    throw std::invalid_argument("enthalpy_J_m3 has " + std::to_string(enthalpy_J_m3.size()) + " values; the mesh has " +
                                std::to_string(mesh.volume.size()) + " points");
  for (const double h : enthalpy_J_m3)
    if (!std::isfinite(h)) throw std::invalid_argument("enthalpy_J_m3 holds a value that is not finite");
  Trace trace(material, mesh);
  const Body body{&trace.material_, &trace.mesh_, &surroundings, trace.material_.coolest_C()};
  Packed packed({&body, 1}, 1, tolerance_K);
  for (int i = 0; i < mesh.points(); ++i) packed.enthalpy(i, 0) = enthalpy_J_m3[static_cast<std::size_t>(i)];
  Trace::Recorder recorder{&trace};
  packed.problem().observer = &recorder;
  packed.problem().accepted = &Trace::Recorder::accepted;
  fastest_kernel().one(packed.problem());
  trace.rejected_ = static_cast<std::size_t>(packed.problem().rejected);
  if (std::isnan(packed.heat(0)))
    throw std::runtime_error("heat: no step is short enough to follow these surroundings");
  return trace;
}

Trace heat(const Material& material, const Mesh& mesh, double start_C, const Surroundings& surroundings,
           double tolerance_K) {
  if (!std::isfinite(start_C) || start_C <= -zero_celsius_K)
    throw std::invalid_argument("start_C = " + std::to_string(start_C) +
                                "; expected a temperature above absolute zero");
  return heat(material, mesh, std::vector<double>(mesh.volume.size(), material.enthalpy_J_m3(start_C)), surroundings,
              tolerance_K);
}

Walk::Walk(const Material& material, const Mesh& mesh, double start_C)
    : material_(&material), mesh_(&mesh), enthalpy_(mesh.volume.size(), material.enthalpy_J_m3(start_C)) {}

double Walk::go(const Surroundings& surroundings, double tolerance_K) {
  if (const std::string what = trouble(*mesh_, surroundings, tolerance_K); !what.empty())
    throw std::invalid_argument(what);
  const Body body{material_, mesh_, &surroundings, material_->coolest_C()};
  Packed packed({&body, 1}, 1, tolerance_K);
  for (int i = 0; i < mesh_->points(); ++i) packed.enthalpy(i, 0) = enthalpy_[static_cast<std::size_t>(i)];
  fastest_kernel().one(packed.problem());
  for (int i = 0; i < mesh_->points(); ++i) enthalpy_[static_cast<std::size_t>(i)] = packed.enthalpy(i, 0);
  return packed.heat(0);
}

std::vector<double> Trace::times_s() const {
  std::vector<double> times{start_s()};
  times.insert(times.end(), to_.begin(), to_.end());
  return times;
}

bool Trace::covers(double time_s) const { return !to_.empty() && time_s >= start_s() && time_s <= end_s(); }

std::size_t Trace::step_at(double time_s, double& s) const {
  const auto next = std::upper_bound(to_.begin(), to_.end(), time_s);
  const auto k = std::min(static_cast<std::size_t>(next - to_.begin()), to_.size() - 1);
  s = std::clamp((time_s - from_[k]) / (to_[k] - from_[k]), 0.0, 1.0);
  return k;
}

double Trace::enthalpy(std::size_t point, std::size_t step, double s) const {
  return at(&cubics_[(step * mesh_.volume.size() + point) * cubic_size], s);
}

double Trace::temperature_C(std::size_t point, double time_s) const {
  if (!covers(time_s)) return NAN;
  double s = 0.0;
  const std::size_t k = step_at(time_s, s);
  return material_.temperature_C(enthalpy(point, k, s));
}

double Trace::mean_C(double time_s) const {
  if (!covers(time_s)) return NAN;
  double s = 0.0;
  const std::size_t k = step_at(time_s, s);
  double sum = 0.0;
  for (std::size_t i = 0; i < mesh_.volume.size(); ++i) sum += mesh_.volume[i] * enthalpy(i, k, s);
  return material_.temperature_C(sum / mesh_.total_volume());
}

double Trace::coolest_C(double time_s) const {
  double least = HUGE_VAL;
  for (std::size_t i = 0; i < mesh_.volume.size(); ++i) least = std::min(least, temperature_C(i, time_s));
  return covers(time_s) ? least : NAN;
}

double Trace::hottest_C(double time_s) const {
  double most = -HUGE_VAL;
  for (std::size_t i = 0; i < mesh_.volume.size(); ++i) most = std::max(most, temperature_C(i, time_s));
  return covers(time_s) ? most : NAN;
}

double Trace::time_to(std::size_t point, double temperature_C) const {
  const double wanted = material_.enthalpy_J_m3(temperature_C);
  for (std::size_t k = 0; k < to_.size(); ++k) {
    const double before = enthalpy(point, k, 0.0) - wanted;
    const double after = enthalpy(point, k, 1.0) - wanted;
    if (before == 0.0) return from_[k];
    if (before * after > 0.0 || std::isnan(before * after)) continue;
    double low = 0.0;
    double high = 1.0;
    for (int turn = 0; turn < halvings; ++turn) {
      const double middle = 0.5 * (low + high);
      ((enthalpy(point, k, middle) - wanted) * before > 0.0 ? low : high) = middle;
    }
    return from_[k] + high * (to_[k] - from_[k]);
  }
  return NAN;
}

double Trace::time_within(double temperature_C, double within_K) const {
  const double low_wanted = material_.enthalpy_J_m3(temperature_C - within_K);
  const double high_wanted = material_.enthalpy_J_m3(temperature_C + within_K);
  const auto outside = [&](std::size_t k, double s) {
    for (std::size_t i = 0; i < mesh_.volume.size(); ++i) {
      const double h = enthalpy(i, k, s);
      if (h < low_wanted || h > high_wanted) return true;
    }
    return false;
  };
  for (std::size_t k = 0; k < to_.size(); ++k) {
    if (!outside(k, 0.0)) return from_[k];
    if (outside(k, 1.0)) continue;
    double low = 0.0;
    double high = 1.0;
    for (int turn = 0; turn < halvings; ++turn) {
      const double middle = 0.5 * (low + high);
      (outside(k, middle) ? low : high) = middle;
    }
    return from_[k] + high * (to_[k] - from_[k]);
  }
  return NAN;
}

Trace::Difference Trace::largest_difference() const {
  Difference largest;
  const auto centre = static_cast<std::size_t>(mesh_.centre);
  const auto surface = static_cast<std::size_t>(mesh_.surface);
  for (std::size_t k = 0; k < to_.size(); ++k)
    for (const double s : {0.25, 0.5, 0.75, 1.0}) {
      const double difference =
          material_.temperature_C(enthalpy(surface, k, s)) - material_.temperature_C(enthalpy(centre, k, s));
      if (std::abs(difference) > std::abs(largest.kelvin)) largest = {difference, from_[k] + s * (to_[k] - from_[k])};
    }
  return largest;
}

double Trace::enthalpy_gained_J() const {
  if (to_.empty()) return 0.0;
  double sum = 0.0;
  for (std::size_t i = 0; i < mesh_.volume.size(); ++i)
    sum += mesh_.volume[i] * (enthalpy(i, to_.size() - 1, 1.0) - enthalpy(i, 0, 0.0));
  return sum;
}

std::vector<double> Trace::last_enthalpy_J_m3() const {
  std::vector<double> last;
  for (std::size_t i = 0; i < mesh_.volume.size() && !to_.empty(); ++i)
    last.push_back(enthalpy(i, to_.size() - 1, 1.0));
  return last;
}

}  // namespace decalesce::conduction
