#include "decalesce/shop/furnace.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string>

namespace decalesce::furnace {

namespace {

constexpr double stefan_boltzmann = 5.670374419e-8;  // W/m2K4 [CODATA2018]
/// Outside of a furnace: free convection and radiation of a warm wall together, W/m2K. [common practice, no source]
constexpr double outer_film = 10.0;
constexpr std::size_t layers = 12;
/// Windows in which chamber and load are brought to agree, s: as short as the chamber's change asks for.
constexpr double shortest_window_s = 0.5;
constexpr double longest_window_s = 60.0;
constexpr double wanted_change_K = 1.0;
constexpr double agreed_K = 1e-3;
constexpr int most_turns = 30;

void above_zero(const char* what, double value) {
  if (!(value > 0.0) || !std::isfinite(value))
    throw std::invalid_argument(std::string(what) + " = " + std::to_string(value) + "; expected a number above zero");
}

/// Chamber and lining: point 0 is the hot face with what the chamber holds, the last is the outer face.
class Walls {
 public:
  Walls(const Furnace& f, double chamber_C) : room_C_(f.room_C) {
    const double slice = f.lining.thickness / layers;
    const double area = f.middle_area();
    link_ = f.lining.conductivity_W_mK * area / slice;
    const double slice_J_K = f.lining.heat_capacity_J_kgK * f.lining.density_kg_m3 * area * slice;
    capacity_.fill(slice_J_K);
    capacity_.front() = 0.5 * slice_J_K + f.contents_J_K;
    capacity_.back() = 0.5 * slice_J_K;
    out_ = outer_film * f.outer_area();
    const double loss = f.loss_W(chamber_C);  // at rest the same through every slice
    for (std::size_t i = 0; i <= layers; ++i) temperature_[i] = chamber_C - loss * static_cast<double>(i) / link_;
  }

  double chamber_C() const { return temperature_.front(); }
  double stored_J() const {
    double sum = 0.0;
    for (std::size_t i = 0; i <= layers; ++i) sum += capacity_[i] * temperature_[i];
    return sum;
  }

  struct Step {
    std::array<double, layers + 1> temperature;
    double power_W;
    double lost_J;
  };

  /// One step with heat `drawn_W` taken from the chamber: with full power, unless that would pass the set point; then
  /// with the power that just reaches it, if any. Trapezoidal in time.
  Step step(double seconds, double drawn_W, double power_W, double set_point_C) const {
    Step full = solve(seconds, power_W - drawn_W, nullptr);
    full.power_W = power_W;
    if (full.temperature.front() <= set_point_C) return full;
    Step held = solve(seconds, 0.0, &set_point_C);
    held.power_W += drawn_W;
    if (held.power_W >= 0.0) return held;
    Step off = solve(seconds, -drawn_W, nullptr);
    off.power_W = 0.0;
    return off;
  }
  void take(const Step& step) { temperature_ = step.temperature; }

 private:
  std::array<double, layers + 1> temperature_{};
  std::array<double, layers + 1> capacity_{};
  double link_ = 0.0;
  double out_ = 0.0;
  double room_C_;

  double flow_into(std::size_t i, const std::array<double, layers + 1>& t) const {
    double flow = 0.0;
    if (i > 0) flow += link_ * (t[i - 1] - t[i]);
    if (i < layers) flow += link_ * (t[i + 1] - t[i]);
    if (i == layers) flow += out_ * (room_C_ - t[i]);
    return flow;
  }

  /// With `held` the chamber is brought to that temperature and the power is what it takes.
  Step solve(double seconds, double net_W, const double* held) const {
    std::array<double, layers + 1> diagonal{};
    std::array<double, layers + 1> right{};
    for (std::size_t i = 0; i <= layers; ++i) {
      const double links = (i > 0 ? link_ : 0.0) + (i < layers ? link_ : out_);
      diagonal[i] = capacity_[i] / seconds + 0.5 * links;
      right[i] = capacity_[i] / seconds * temperature_[i] + 0.5 * flow_into(i, temperature_);
      if (i == layers) right[i] += 0.5 * out_ * room_C_;
    }
    right[0] += net_W;
    std::size_t first = 0;
    if (held != nullptr) {
      first = 1;
      right[1] += 0.5 * link_ * *held;
    }
    for (std::size_t i = first + 1; i <= layers; ++i) {
      const double factor = 0.5 * link_ / diagonal[i - 1];
      diagonal[i] -= factor * 0.5 * link_;
      right[i] += factor * right[i - 1];
    }
    Step s{};
    s.temperature[layers] = right[layers] / diagonal[layers];
    for (std::size_t i = layers; i-- > first;)
      s.temperature[i] = (right[i] + 0.5 * link_ * s.temperature[i + 1]) / diagonal[i];
    if (held != nullptr) {
      s.temperature[0] = *held;
      s.power_W = capacity_[0] / seconds * (*held - temperature_[0]) -
                  0.5 * (flow_into(0, temperature_) + flow_into(0, s.temperature));
    }
    s.lost_J = seconds * out_ * (0.5 * (temperature_[layers] + s.temperature[layers]) - room_C_);
    return s;
  }
};

}  // namespace

double Furnace::outer_area() const {
  const double more = 2.0 * lining.thickness;
  const Furnace outside{.width = width + more, .height = height + more, .depth = depth + more, .lining = {}};
  return outside.inner_area();
}

double Furnace::middle_area() const { return std::sqrt(inner_area() * outer_area()); }

double Furnace::loss_W(double chamber_C) const {
  const double inside = lining.thickness / (lining.conductivity_W_mK * middle_area());
  return (chamber_C - room_C) / (inside + 1.0 / (outer_film * outer_area()));
}

void check(const Furnace& f) {
  above_zero("width", f.width);
  above_zero("height", f.height);
  above_zero("depth", f.depth);
  above_zero("lining thickness", f.lining.thickness);
  above_zero("lining conductivity_W_mK", f.lining.conductivity_W_mK);
  above_zero("lining heat_capacity_J_kgK", f.lining.heat_capacity_J_kgK);
  above_zero("lining density_kg_m3", f.lining.density_kg_m3);
  above_zero("power_W", f.power_W);
  if (!(f.contents_J_K >= 0.0) || !std::isfinite(f.contents_J_K))
    throw std::invalid_argument("contents_J_K = " + std::to_string(f.contents_J_K) + "; expected zero or more");
}

double open_share(double gap, double depth) {
  if (!(gap >= 0.0) || !(depth > 0.0)) return NAN;
  const double ratio = gap / depth;
  return 1.0 - (std::hypot(1.0, ratio) - ratio);
}

Loaded load(const Furnace& furnace, const conduction::Material& material, const conduction::Mesh& mesh,
            const Load& load, const Options& options) {
  check(furnace);
  above_zero("set_point_C", options.set_point_C);
  above_zero("duration_s", options.duration_s);
  above_zero("within_K", options.within_K);
  above_zero("piece_volume", load.piece_volume);
  if (load.pieces == 0) throw std::invalid_argument("pieces = 0; expected at least one");
  if (!(load.door_open_s >= 0.0)) throw std::invalid_argument("door_open_s: expected zero or more, s");
  const double needed = furnace.loss_W(options.set_point_C);
  if (needed > furnace.power_W)
    throw std::invalid_argument("power_W = " + std::to_string(furnace.power_W) + "; to hold " +
                                std::to_string(options.set_point_C) + " degC empty takes " + std::to_string(needed) +
                                " W");

  Walls walls(furnace, options.set_point_C);
  for (double open = 0.0; open < load.door_open_s;) {  // the opening radiates to the room
    const double seconds = std::min(shortest_window_s, load.door_open_s - open);
    const double hot = kelvin_from_celsius(walls.chamber_C());
    const double cold = kelvin_from_celsius(furnace.room_C);
    const double out = stefan_boltzmann * furnace.door_area() * (hot * hot * hot * hot - cold * cold * cold * cold);
    walls.take(walls.step(seconds, out, furnace.power_W, options.set_point_C));
    open += seconds;
  }

  const double pieces_per_unit = static_cast<double>(load.pieces) * load.piece_volume / mesh.total_volume();
  conduction::Walk walk(material, mesh, load.start_C);
  Loaded answer{History::hold(options.set_point_C, options.duration_s), conduction::Trace(material, mesh)};
  std::vector<double> times{0.0};
  std::vector<double> chamber{walls.chamber_C()};
  answer.lowest_chamber_C = walls.chamber_C();
  const double stored_before = walls.stored_J();
  double seconds = shortest_window_s;
  double drawn_W = 0.0;
  for (double now = 0.0; now < options.duration_s;) {
    seconds = std::min(seconds, options.duration_s - now);
    const std::vector<double> before = walk.enthalpy_J_m3();
    const double from = walls.chamber_C();
    double to = walls.step(seconds, drawn_W, furnace.power_W, options.set_point_C).temperature.front();
    Walls::Step step{};
    for (int turn = 0; turn < most_turns; ++turn) {
      walk.go_back(before);
      const History window({0.0, seconds}, {from, to});
      const double heat =
          pieces_per_unit * walk.go({window, furnace.film_W_m2K, furnace.emissivity}, options.tolerance_K);
      drawn_W = heat / seconds;
      step = walls.step(seconds, drawn_W, furnace.power_W, options.set_point_C);
      const double miss = step.temperature.front() - to;
      to = step.temperature.front();
      if (std::abs(miss) < agreed_K) break;
    }
    walls.take(step);
    now += seconds;
    answer.energy_J += step.power_W * seconds;
    answer.into_load_J += drawn_W * seconds;
    answer.lost_J += step.lost_J;
    answer.lowest_chamber_C = std::min(answer.lowest_chamber_C, to);
    times.push_back(now);
    chamber.push_back(to);
    const double change = std::abs(to - from);
    seconds = std::clamp(seconds * std::clamp(wanted_change_K / std::max(change, agreed_K), 0.5, 1.5),
                         shortest_window_s, longest_window_s);
  }
  answer.stored_J = walls.stored_J() - stored_before;
  // recovered once it has been lowest and is back; at once where it never fell
  std::size_t lowest = 0;
  for (std::size_t i = 0; i < chamber.size(); ++i)
    if (chamber[i] < chamber[lowest]) lowest = i;
  for (std::size_t i = lowest; i < chamber.size() && std::isnan(answer.recovered_s); ++i)
    if (options.set_point_C - chamber[i] <= options.recovered_within_K)
      answer.recovered_s = options.set_point_C - chamber[lowest] <= options.recovered_within_K ? 0.0 : times[i];
  answer.chamber = History(times, chamber);
  answer.steel = conduction::heat(material, mesh, load.start_C,
                                  {answer.chamber, furnace.film_W_m2K, furnace.emissivity}, options.tolerance_K);
  answer.steel_within_s = answer.steel.time_within(options.set_point_C, options.within_K);
  return answer;
}

}  // namespace decalesce::furnace
