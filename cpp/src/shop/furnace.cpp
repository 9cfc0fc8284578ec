#include "decalesce/shop/furnace.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "walls.hpp"

namespace decalesce::furnace {

namespace {

namespace constants = tables::furnace::constants;

/// Windows in which chamber and load are brought to agree, s: as short as the chamber's change asks for.
constexpr double shortest_window_s = 0.1;
constexpr double longest_window_s = 60.0;
constexpr double wanted_change_K = 1.0;
/// A window in which the chamber changes this many times more than wanted is taken again, halved.
constexpr double most_change = 3.0;
constexpr double most_growth = 1.5;
constexpr double agreed_K = 1e-4;
constexpr int most_turns = 60;
/// The mean temperature of the lining and its conductivity are brought to agree in this many turns.
constexpr int lining_turns = 30;

void above_zero(const char* what, double value) {
  if (!(value > 0.0) || !std::isfinite(value))
    throw std::invalid_argument(std::string(what) + " = " + std::to_string(value) + "; expected a number above zero");
}

double conductivity(const tables::furnace::LiningRow& row, double mean_C, Flags& flags) {
  const auto* points = &tables::furnace::lining_points[row.first];
  if (mean_C < points[0].mean_C || mean_C > points[row.count - 1].mean_C) flags |= Flag::outside_table;
  if (mean_C <= points[0].mean_C) return points[0].conductivity_W_mK;
  for (std::size_t i = 1; i < row.count; ++i)
    if (mean_C <= points[i].mean_C) {
      const double share = (mean_C - points[i - 1].mean_C) / (points[i].mean_C - points[i - 1].mean_C);
      return std::lerp(points[i - 1].conductivity_W_mK, points[i].conductivity_W_mK, share);
    }
  return points[row.count - 1].conductivity_W_mK;
}

/// The door is open: its opening radiates to the room.
void open_door(Walls& walls, const Furnace& furnace, const Load& load, const Options& options) {
  const double power = load.door_switch ? 0.0 : furnace.power_W;
  const double cold = kelvin_from_celsius(furnace.room_C);
  walls.sudden_change();
  for (double open = 0.0; open < load.door_open_s;) {
    const double seconds = std::min(shortest_window_s / options.finer, load.door_open_s - open);
    const double hot = kelvin_from_celsius(walls.chamber_C());
    const double out = stefan_boltzmann * furnace.door_area() * (hot * hot * hot * hot - cold * cold * cold * cold);
    walls.take(walls.step(seconds, out, power, options.set_point_C));
    open += seconds;
  }
}

/// One window of chamber and load together. The hotter the chamber is at its end, the more the load draws and the
/// cooler the chamber must be: one crossing, found between two bounds by the Illinois rule.
class Together {
 public:
  Together(const Furnace& furnace, const Load& load, const Options& options, const Walls& walls, conduction::Walk& walk)
      : furnace_(&furnace),
        options_(&options),
        walls_(&walls),
        walk_(&walk),
        units_(static_cast<double>(load.pieces) * load.piece_volume / load.mesh.total_volume()),
        share_(load.face_share) {}

  /// Leaves the load at the end of the window; the walls stay where they were.
  Walls::Step over(double seconds, double guess_C) {
    before_ = walk_->enthalpy_J_m3();
    double a = guess_C;
    double miss_a = miss(seconds, a);
    if (std::abs(miss_a) < agreed_K) return step_;
    double b = a + miss_a;  // the crossing lies between, as the miss falls faster than the guess rises
    double miss_b = miss(seconds, b);
    for (int turn = 0; turn < most_turns && std::abs(miss_b) >= agreed_K; ++turn) {
      const double next = b - miss_b * (b - a) / (miss_b - miss_a);
      const double miss_next = miss(seconds, next);
      if (miss_next * miss_b < 0.0) {
        a = b;
        miss_a = miss_b;
      } else {
        miss_a *= 0.5;
      }
      b = next;
      miss_b = miss_next;
    }
    return step_;
  }
  double drawn_J() const { return drawn_J_; }
  void undo() { walk_->go_back(before_); }

 private:
  double miss(double seconds, double to_C) {
    walk_->go_back(before_);
    const History window({0.0, seconds}, {walls_->chamber_C(), to_C});
    drawn_J_ = units_ *
               walk_->go({window, share_ * furnace_->film_W_m2K, share_ * furnace_->emissivity}, options_->tolerance_K);
    step_ = walls_->step(seconds, drawn_J_ / seconds, furnace_->power_W, options_->set_point_C);
    return step_.temperature.front() - to_C;
  }

  const Furnace* furnace_;
  const Options* options_;
  const Walls* walls_;
  conduction::Walk* walk_;
  double units_;  // of the mesh in the load
  double share_;
  std::vector<double> before_;
  Walls::Step step_;
  double drawn_J_ = 0.0;
};

/// Recovered once it has been lowest and is back; at once where it never fell.
double recovered_s(const std::vector<double>& times, const std::vector<double>& chamber, const Options& options) {
  const double enough = options.set_point_C - options.recovered_within_K;
  const auto lowest = std::min_element(chamber.begin(), chamber.end());
  if (*lowest >= enough) return 0.0;
  for (auto i = static_cast<std::size_t>(lowest - chamber.begin()) + 1; i < chamber.size(); ++i)
    if (chamber[i] >= enough)
      return std::lerp(times[i - 1], times[i], (enough - chamber[i - 1]) / (chamber[i] - chamber[i - 1]));
  return NAN;
}

void check(const Furnace& furnace, const Load& load, const Options& options) {
  check(furnace);
  above_zero("set_point_C", options.set_point_C);
  above_zero("duration_s", options.duration_s);
  above_zero("within_K", options.within_K);
  above_zero("recovered_within_K", options.recovered_within_K);
  above_zero("piece_volume", load.piece_volume);
  if (load.pieces == 0) throw std::invalid_argument("pieces = 0; expected at least one");
  if (options.finer < 1) throw std::invalid_argument("finer: expected one or more");
  if (!(load.door_open_s >= 0.0) || !std::isfinite(load.door_open_s))
    throw std::invalid_argument("door_open = " + std::to_string(load.door_open_s) + " s; expected zero or more");
  if (!(load.start_C > -zero_celsius_K) || !std::isfinite(load.start_C))
    throw std::invalid_argument("start_C = " + std::to_string(load.start_C) +
                                "; expected a temperature above absolute zero");
  const double needed = furnace.loss_W(options.set_point_C);
  if (needed > furnace.power_W)
    throw std::invalid_argument("power_W = " + std::to_string(furnace.power_W) + "; expected more than the " +
                                std::to_string(needed) + " W that it takes to hold " +
                                std::to_string(options.set_point_C) + " degC empty");
}

}  // namespace

double Furnace::outer_area() const {
  const double more = 2.0 * lining.thickness;
  const Furnace outside{.width = width + more, .height = height + more, .depth = depth + more, .lining = {}};
  return outside.inner_area();
}

double Furnace::middle_area() const { return std::sqrt(inner_area() * outer_area()); }

double Furnace::loss_W(double chamber_C) const {
  const double inside = lining.thickness / (lining.conductivity_W_mK * middle_area());
  return (chamber_C - room_C) / (inside + 1.0 / (constants::outer_film * outer_area()));
}

double Furnace::lining_mean_C(double chamber_C) const {
  const double outer_C = room_C + loss_W(chamber_C) / (constants::outer_film * outer_area());
  return 0.5 * (chamber_C + outer_C);
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
  if (!std::isfinite(f.room_C) || f.room_C <= -zero_celsius_K)
    throw std::invalid_argument("room_C = " + std::to_string(f.room_C) + "; expected a temperature, degC");
  if (!(f.contents_J_K >= 0.0) || !std::isfinite(f.contents_J_K))
    throw std::invalid_argument("contents_J_K = " + std::to_string(f.contents_J_K) + "; expected zero or more");
}

Furnace lined(Furnace furnace, std::string_view lining, double chamber_C, Flags& flags) {
  for (const tables::furnace::LiningRow& row : tables::furnace::linings) {
    if (row.name != lining) continue;
    furnace.lining.density_kg_m3 = row.density_kg_m3;
    furnace.lining.heat_capacity_J_kgK = row.heat_capacity_J_kgK;
    double mean_C = 0.5 * (chamber_C + furnace.room_C);
    Flags found;
    for (int turn = 0; turn < lining_turns; ++turn) {
      found = {};
      furnace.lining.conductivity_W_mK = conductivity(row, mean_C, found);
      mean_C = furnace.lining_mean_C(chamber_C);
    }
    flags |= found;
    return furnace;
  }
  std::string known;
  for (const tables::furnace::LiningRow& row : tables::furnace::linings)
    known += (known.empty() ? "" : ", ") + std::string(row.name);
  throw std::invalid_argument("lining = '" + std::string(lining) + "'; expected one of " + known);
}

double usual_contents_J_K(const Furnace& furnace, bool elements) {
  const double shelf = constants::shelf_heat * furnace.width * furnace.depth;
  return elements ? shelf + constants::element_heat * furnace.power_W : shelf;
}

Loaded load(const Furnace& furnace, const conduction::Material& material, const Load& load, const Options& options) {
  check(furnace, load, options);
  Walls walls(furnace, options.set_point_C, options.finer);
  open_door(walls, furnace, load, options);

  conduction::Walk walk(material, load.mesh, load.start_C);
  Together together(furnace, load, options, walls, walk);
  Loaded answer{.chamber = History::hold(options.set_point_C, options.duration_s),
                .steel = conduction::Trace(material, load.mesh),
                .flags = {}};
  std::vector<double> times{0.0};
  std::vector<double> chamber{walls.chamber_C()};
  const double stored_before = walls.stored_J();
  const double shortest = shortest_window_s / options.finer;
  const double longest = longest_window_s / options.finer;
  const double wanted = wanted_change_K / options.finer;
  double seconds = shortest;
  walls.sudden_change();
  for (double now = 0.0; now < options.duration_s;) {
    const double left = options.duration_s - now;
    if (seconds > left - shortest) seconds = left;
    const double from = walls.chamber_C();
    Walls::Step step = together.over(seconds, from);
    const double to = step.temperature.front();
    const double change = std::abs(to - from);
    if (change > most_change * wanted && seconds > 2.0 * shortest) {
      together.undo();
      seconds *= 0.5;
      continue;
    }
    answer.energy_J += step.power_W * seconds;
    answer.into_load_J += together.drawn_J();
    answer.lost_J += step.lost_J;
    walls.take(std::move(step));
    now = seconds == left ? options.duration_s : now + seconds;
    times.push_back(now);
    chamber.push_back(to);
    seconds =
        std::clamp(seconds * std::clamp(wanted / std::max(change, agreed_K), 0.5, most_growth), shortest, longest);
  }
  answer.stored_J = walls.stored_J() - stored_before;
  answer.lowest_chamber_C = *std::min_element(chamber.begin(), chamber.end());
  answer.recovered_s = recovered_s(times, chamber, options);
  answer.chamber = History(std::move(times), std::move(chamber));
  const conduction::Surroundings around{answer.chamber, load.face_share * furnace.film_W_m2K,
                                        load.face_share * furnace.emissivity};
  answer.steel = conduction::heat(material, load.mesh, load.start_C, around, options.tolerance_K);
  answer.steel_within_s = answer.steel.time_within(options.set_point_C, options.within_K);
  if (load.start_C > options.set_point_C) answer.flags |= Flag::not_heating;
  if (std::isnan(answer.steel_within_s)) answer.flags |= Flag::not_at_temperature;
  return answer;
}

}  // namespace decalesce::furnace
