#include "walls.hpp"

#include <cmath>
#include <utility>

namespace decalesce::furnace {

namespace {

constexpr int usual_layers = 24;
/// Each slice is this much thicker than the one before: the first is then 1/400 of the lining.
constexpr double growth = 1.2;
/// Backward Euler steps after a sudden change, before the trapezoidal rule goes on. [Rannacher's start]
constexpr int implicit_steps = 4;

}  // namespace

Walls::Walls(const Furnace& f, double chamber_C, int finer) : room_C_(f.room_C) {
  const auto layers = static_cast<std::size_t>(usual_layers) * static_cast<std::size_t>(finer);
  const double ratio = std::pow(growth, 1.0 / finer);
  double slice = f.lining.thickness * (ratio - 1.0) / (std::pow(ratio, static_cast<double>(layers)) - 1.0);
  const double area = f.middle_area();
  const double heat_J_m3K = f.lining.heat_capacity_J_kgK * f.lining.density_kg_m3;
  const double loss = f.loss_W(chamber_C);  // at rest the same through every slice
  capacity_.assign(layers + 1, 0.0);
  capacity_.front() = f.contents_J_K;
  temperature_.push_back(chamber_C);
  for (std::size_t i = 0; i < layers; ++i) {
    link_.push_back(f.lining.conductivity_W_mK * area / slice);
    capacity_[i] += 0.5 * heat_J_m3K * area * slice;
    capacity_[i + 1] += 0.5 * heat_J_m3K * area * slice;
    temperature_.push_back(temperature_.back() - loss / link_.back());
    slice *= ratio;
  }
  out_ = tables::furnace::constants::outer_film * f.outer_area();
}

double Walls::stored_J() const {
  double sum = 0.0;
  for (std::size_t i = 0; i < capacity_.size(); ++i) sum += capacity_[i] * temperature_[i];
  return sum;
}

void Walls::sudden_change() { implicit_steps_ = implicit_steps; }

void Walls::take(Step step) {
  if (implicit_steps_ > 0) --implicit_steps_;
  if (step.mode != mode_) sudden_change();
  mode_ = step.mode;
  temperature_ = std::move(step.temperature);
}

Walls::Step Walls::step(double seconds, double drawn_W, double power_W, double set_point_C) const {
  Step full = solve(seconds, power_W - drawn_W, nullptr);
  full.power_W = power_W;
  if (full.temperature.front() <= set_point_C) return full;
  Step held = solve(seconds, 0.0, &set_point_C);
  held.power_W += drawn_W;
  held.mode = Mode::held;
  if (held.power_W >= 0.0) return held;
  Step off = solve(seconds, -drawn_W, nullptr);
  off.power_W = 0.0;
  off.mode = Mode::no_power;
  return off;
}

double Walls::flow_into(std::size_t i, const std::vector<double>& t) const {
  const std::size_t last = link_.size();
  double flow = i == last ? out_ * (room_C_ - t[i]) : link_[i] * (t[i + 1] - t[i]);
  if (i > 0) flow += link_[i - 1] * (t[i - 1] - t[i]);
  return flow;
}

Walls::Step Walls::solve(double seconds, double net_W, const double* held) const {
  const double now = implicit_steps_ > 0 ? 1.0 : 0.5;  // share of the flows at the end of the step
  const std::size_t last = link_.size();
  std::vector<double> diagonal(last + 1);
  std::vector<double> right(last + 1);
  for (std::size_t i = 0; i <= last; ++i) {
    const double links = (i > 0 ? link_[i - 1] : 0.0) + (i < last ? link_[i] : out_);
    diagonal[i] = capacity_[i] / seconds + now * links;
    right[i] = capacity_[i] / seconds * temperature_[i] + (1.0 - now) * flow_into(i, temperature_);
  }
  right[last] += now * out_ * room_C_;
  right[0] += net_W;
  const std::size_t first = held != nullptr ? 1 : 0;
  if (held != nullptr) right[1] += now * link_[0] * *held;
  for (std::size_t i = first + 1; i <= last; ++i) {
    const double factor = now * link_[i - 1] / diagonal[i - 1];
    diagonal[i] -= factor * now * link_[i - 1];
    right[i] += factor * right[i - 1];
  }
  Step s{.temperature = std::vector<double>(last + 1)};
  std::vector<double>& t = s.temperature;
  t[last] = right[last] / diagonal[last];
  for (std::size_t i = last; i-- > first;) t[i] = (right[i] + now * link_[i] * t[i + 1]) / diagonal[i];
  if (held != nullptr) {
    t[0] = *held;
    s.power_W = capacity_[0] / seconds * (*held - temperature_[0]) - now * flow_into(0, t) -
                (1.0 - now) * flow_into(0, temperature_);
  }
  s.lost_J = seconds * out_ * (now * t[last] + (1.0 - now) * temperature_[last] - room_C_);
  return s;
}

}  // namespace decalesce::furnace
