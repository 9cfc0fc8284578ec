#include "decalesce/thermal/steel.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <stdexcept>
#include <string>

#include "decalesce/tables/thermal.hpp"

namespace decalesce::thermal {

namespace {

namespace t = tables::thermal;
namespace c = tables::thermal::constants;

constexpr double joule_per_kilojoule = 1000.0;

std::size_t family_row(std::string_view name) {
  std::string known;
  for (std::size_t k = 0; k < t::families.size(); ++k) {
    if (t::families[k].family == name) return k;
    known += (k == 0 ? "" : ", ") + std::string(t::families[k].family);
  }
  throw std::invalid_argument("family = '" + std::string(name) + "'; expected one of " + known);
}

/// The table of a family; null where an equation of the standard stands for it.
const t::ConductivitySet* table_of(const t::ThermalFamily& family) {
  const auto* found = std::find_if(t::conductivity_sets.begin(), t::conductivity_sets.end(),
                                   [&](const t::ConductivitySet& s) { return s.name == family.conductivity_set; });
  return found == t::conductivity_sets.end() ? nullptr : found;
}

/// Straight between the points of a table, held at its ends.
double read(const t::ConductivitySet& set, double T) {
  const t::ConductivityPoint* point = &t::conductivity_points[set.first];
  if (T <= point[0].temperature_C) return point[0].conductivity_W_mK;
  for (std::size_t k = 1; k < set.count; ++k) {
    const t::ConductivityPoint& a = point[k - 1];
    const t::ConductivityPoint& b = point[k];
    if (T <= b.temperature_C)
      return a.conductivity_W_mK +
             (b.conductivity_W_mK - a.conductivity_W_mK) * (T - a.temperature_C) / (b.temperature_C - a.temperature_C);
  }
  return point[set.count - 1].conductivity_W_mK;
}

Point before_transformation(double T, const Steel& steel) {
  Point p = ferrite_and_carbide(T);
  const t::ConductivitySet* table = table_of(t::families[steel.family_row]);
  if (table != nullptr) p.conductivity_W_mK = read(*table, T);
  return p;
}

/// What has transformed at a temperature, and how fast: pearlite (smooth at both ends) and what goes on to the end.
struct Progress {
  double share;
  double slope;
};
Progress pearlite(double T, const Steel& steel) {
  const double s = (T - steel.Ac1_C) / c::eutectoid_spread;
  if (s <= 0.0) return {0.0, 0.0};
  if (s >= 1.0) return {1.0, 0.0};
  return {s * s * (3.0 - 2.0 * s), 6.0 * s * (1.0 - s) / c::eutectoid_spread};
}
double rest_from(const Steel& steel) {
  return steel.eutectoid_share > 0.0 ? steel.Ac1_C + c::eutectoid_spread : steel.Ac1_C;
}
Progress rest(double T, const Steel& steel) {
  const double from = rest_from(steel);
  if (T < from) return {0.0, 0.0};
  if (T >= steel.end_C) return {1.0, 0.0};
  return {(T - from) / (steel.end_C - from), 1.0 / (steel.end_C - from)};
}

/// Share of austenite, and its slope.
Progress transformed(double T, const Steel& steel) {
  const Progress first = pearlite(T, steel);
  const Progress second = rest(T, steel);
  const double e = steel.eutectoid_share;
  return {e * first.share + (1.0 - e) * second.share, e * first.slope + (1.0 - e) * second.slope};
}

Point on_heating(double T, const Steel& steel) {
  if (std::isnan(T)) return {T, T, T};
  const Point low = before_transformation(T, steel);
  const Point high = austenite(T);
  const auto [f, slope] = transformed(T, steel);
  const Progress carbide = rest(T, steel);
  const double q = steel.carbide_heat_J_kg;
  return {(1.0 - f) * low.conductivity_W_mK + f * high.conductivity_W_mK,
          (1.0 - f) * low.heat_capacity_J_kgK + f * high.heat_capacity_J_kgK +
              slope * (high.enthalpy_J_kg - low.enthalpy_J_kg) + q * carbide.slope,
          (1.0 - f) * low.enthalpy_J_kg + f * high.enthalpy_J_kg + q * carbide.share};
}

Point on_cooling(double T, const Steel&) { return austenite(T); }
Point as_carbon(double T, const Steel&) { return en1993_carbon(T); }
Point as_stainless(double T, const Steel&) { return en1993_stainless(T); }

/// Points up to a temperature, evenly, no further apart than the step.
void extend(std::vector<double>& grid, double to, double step) {
  const double from = grid.back();
  if (!(to > from)) return;
  const int count = static_cast<int>(std::ceil((to - from) / step * (1.0 - 1e-12)));
  for (int k = 1; k <= count; ++k) grid.push_back(k == count ? to : from + (to - from) * k / count);
}

void fill(Steel& steel) {
  extend(steel.temperature_C, c::austenite_from, c::grid_step);
  extend(steel.temperature_C, c::grid_high, c::grid_step);
  for (const double T : steel.temperature_C) {
    const Point p = steel.at(T);
    steel.enthalpy_J_kg.push_back(p.enthalpy_J_kg);
    steel.conductivity_W_mK.push_back(p.conductivity_W_mK);
  }
}

Steel of_family(std::size_t row) {
  const t::ThermalFamily& family = t::families[row];
  Steel steel;
  steel.temperature_C = {c::grid_low};
  steel.density_kg_m3 = family.density_kg_m3;
  steel.conductivity_half_width = family.conductivity_half_width;
  steel.enthalpy_half_width = family.enthalpy_half_width;
  steel.density_half_width = family.density_half_width;
  steel.family = family.family;
  steel.family_row = row;
  steel.flags = Flag::derived;
  steel.sources = Sources(Citation::EN_1993_1_2);
  steel.sources.add(family.source);
  if (const t::ConductivitySet* table = table_of(family)) {
    steel.sources.add(table->source);
    if (table->from_memory) steel.flags |= Flag::from_memory;
  }
  return steel;
}

bool has_transformation(const t::ThermalFamily& family) { return !std::isnan(family.usual_Ac1_C); }

/// Put the transformation in its place; what is not known is the family's usual.
void place(Steel& steel, const Transformation& where) {
  const t::ThermalFamily& family = t::families[steel.family_row];
  const double usual_width = family.usual_end_C - family.usual_Ac1_C;
  steel.Ac1_C = std::isnan(where.Ac1_C) ? family.usual_Ac1_C : where.Ac1_C;
  steel.end_C = std::isnan(where.end_C) ? steel.Ac1_C + usual_width : where.end_C;
  if (std::isnan(where.Ac1_C) || std::isnan(where.end_C)) steel.flags |= Flag::from_memory;
  const double eutectoid = std::isnan(where.eutectoid_wt_pct) ? c::eutectoid_carbon : where.eutectoid_wt_pct;
  const double carbon = std::isnan(where.carbon_wt_pct) ? eutectoid : where.carbon_wt_pct;
  if (family.pearlitic) {
    steel.eutectoid_share = std::clamp(carbon / eutectoid, 0.0, 1.0);
    steel.carbide_heat_J_kg = c::carbide_heat * joule_per_kilojoule * std::max(carbon - eutectoid, 0.0);
  }
  if (!(steel.end_C > steel.Ac1_C + c::eutectoid_spread)) {  // no room for anything but the arrest
    steel.end_C = steel.Ac1_C + c::eutectoid_spread;
    steel.eutectoid_share = 1.0;
    steel.carbide_heat_J_kg = 0.0;
    steel.flags |= Flag::clamped_to_ac1;
  }
}

double heat_of_transformation(const Steel& steel) {
  const auto rate = [&](double T) {
    return transformed(T, steel).slope * (austenite(T).enthalpy_J_kg - before_transformation(T, steel).enthalpy_J_kg);
  };
  using Gauss = boost::math::quadrature::gauss<double, 7>;
  double heat = steel.carbide_heat_J_kg;
  // polynomials between the places where a branch begins: the rule is exact
  std::vector<double> edges{steel.Ac1_C, steel.Ac1_C + c::eutectoid_spread, steel.end_C};
  for (const double edge : {c::curie, c::austenite_from, c::ferrite_from})
    if (edge > steel.Ac1_C && edge < steel.end_C) edges.push_back(edge);
  std::sort(edges.begin(), edges.end());
  for (std::size_t k = 0; k + 1 < edges.size(); ++k) heat += Gauss::integrate(rate, edges[k], edges[k + 1]);
  return heat;
}

void require(bool holds, const char* name, double value, const char* expected) {
  if (!holds) throw std::invalid_argument(std::string(name) + " = " + std::to_string(value) + "; expected " + expected);
}

}  // namespace

Steel heating(std::string_view family, const Transformation& where) {
  for (const auto& [name, value] : {std::pair{"Ac1_C", where.Ac1_C}, std::pair{"end_C", where.end_C}})
    require(std::isnan(value) || (value > c::grid_low + c::grid_margin && value < c::grid_high - c::grid_margin), name,
            value, "a temperature in degC between 30 and 1240, or NaN");
  Steel steel = of_family(family_row(family));
  if (!has_transformation(t::families[steel.family_row])) {
    steel.form = as_stainless;
    fill(steel);
    return steel;
  }
  place(steel, where);
  steel.form = on_heating;
  steel.transformation_J_kg = heat_of_transformation(steel);
  auto& grid = steel.temperature_C;
  extend(grid, steel.Ac1_C - c::grid_margin, c::grid_step);
  extend(grid, steel.Ac1_C, c::grid_step_arrest);
  extend(grid, steel.Ac1_C + c::eutectoid_spread, c::grid_step_arrest);
  extend(grid, std::min(steel.Ac1_C + c::eutectoid_spread + c::grid_margin, steel.end_C), c::grid_step_arrest);
  extend(grid, steel.end_C, c::grid_step_transformation);
  extend(grid, steel.end_C + c::grid_margin, c::grid_step_transformation);
  fill(steel);
  return steel;
}

Steel cooling(std::string_view family, double Ms_C) {
  Steel steel = of_family(family_row(family));
  steel.form = has_transformation(t::families[steel.family_row]) ? on_cooling : as_stainless;
  if (!std::isnan(Ms_C)) steel.low_C = std::max(Ms_C, en1993_low_C);
  fill(steel);
  return steel;
}

Steel en1993_heating() {
  Steel steel = of_family(family_row("plain_hypo"));
  steel.family = "en1993_carbon";
  steel.flags = {};
  steel.form = as_carbon;
  auto& grid = steel.temperature_C;
  const auto& branches = t::en1993_carbon_heat_capacity;
  extend(grid, branches[1].low_C, c::grid_step);
  extend(grid, c::peak_low, c::grid_step_transformation);
  extend(grid, branches[2].low_C, c::grid_step_arrest);
  extend(grid, c::peak_high, c::grid_step_arrest);
  extend(grid, t::en1993_carbon_conductivity[1].low_C, c::grid_step_transformation);
  fill(steel);
  return steel;
}

Steel en1993_stainless_heating() {
  Steel steel = of_family(family_row("austenitic_other"));
  steel.family = "en1993_stainless";
  steel.flags = {};
  steel.form = as_stainless;
  fill(steel);
  return steel;
}

Steel constant(double conductivity_W_mK, double heat_capacity_J_kgK, double density_kg_m3) {
  const auto good = [](double x) { return x > 0.0 && std::isfinite(x); };
  require(good(conductivity_W_mK), "conductivity_W_mK", conductivity_W_mK, "a number above zero");
  require(good(heat_capacity_J_kgK), "heat_capacity_J_kgK", heat_capacity_J_kgK, "a number above zero");
  require(good(density_kg_m3), "density_kg_m3", density_kg_m3, "a number above zero");
  Steel steel;
  steel.temperature_C = {c::grid_low, c::grid_high};
  steel.conductivity_W_mK = {conductivity_W_mK, conductivity_W_mK};
  steel.enthalpy_J_kg = {0.0, heat_capacity_J_kgK * (c::grid_high - c::grid_low)};
  steel.density_kg_m3 = density_kg_m3;
  steel.conductivity_half_width = steel.enthalpy_half_width = steel.density_half_width = 0.0;
  steel.high_C = c::grid_high;
  steel.family = "constant";
  steel.form = [](double T, const Steel& s) {
    const double capacity = s.enthalpy_J_kg.back() / (s.temperature_C.back() - s.temperature_C.front());
    return Point{s.conductivity_W_mK.front(), capacity, capacity * (T - s.temperature_C.front())};
  };
  return steel;
}

}  // namespace decalesce::thermal
