#include "decalesce/austenite.hpp"

#include <algorithm>
#include <cmath>

#include "decalesce/laws/critical.hpp"
#include "decalesce/laws/fe_c.hpp"
#include "decalesce/tables/alloy_austenite.hpp"
#include "decalesce/tables/austenitize_rules.hpp"
#include "decalesce/tables/fe_c_fits.hpp"

namespace decalesce::austenite {

namespace {

namespace rule = tables::austenitize_rules;
using critical::Family;

/// 1/s: how fast the clock of the metal atoms runs at a temperature.
double metal_rate(double temperature_C) {
  const double reference = kelvin_from_celsius(rule::metal_clock_at);
  return std::exp(rule::metal_clock_activation * (1.0 / reference - 1.0 / kelvin_from_celsius(temperature_C))) /
         rule::metal_clock;
}

Flags refusal(const Composition& steel, const Soak& soak) {
  Flags flags;
  double sum = soak.peak_C + soak.metal_clock;
  for_each_element([&](Element e) { sum += steel.amount[e]; });
  if (std::isnan(sum)) flags |= Flag::nan_input;
  if (steel.stated[index(Element::C)] == Stated::not_stated) flags |= Flag::carbon_not_stated;
  return flags;
}

Dissolved refused(const Composition& steel, Flags why) {
  Dissolved d;
  d.austenite = {steel, NAN, NAN, NAN, NAN, AusteniteMade::screen_rule};
  d.austenite.in_solution.amount.C = NAN;
  d.carbon = Estimate::missing(Unit::wt_percent, why);
  return d;
}

/// Joins what the model and the certificate leave open of the carbon in solution.
Dissolved answered(const Austenite& a, double model_half_width, double bulk_half_width, Flags flags,
                   const Sources& sources) {
  Parts parts{};
  parts[static_cast<std::size_t>(Part::formula)] = model_half_width;
  parts[static_cast<std::size_t>(Part::composition)] = bulk_half_width;
  Dissolved d;
  d.austenite = a;
  d.carbon = Estimate::banded(a.in_solution.amount.C, parts, Unit::wt_percent,
                              flags | Flag::screen_detail | Flag::derived, sources);
  d.austenite.carbon_half_width = d.carbon.half_width();
  d.austenite.in_solution.half_width[index(Element::C)] = d.carbon.half_width();
  return d;
}

/// Vanadium carbide stays when everything else is gone, and keeps carbon.
struct VanadiumCarbide {
  double vanadium_dissolved;
  double carbon_held;
  double weight;
};
VanadiumCarbide vanadium_carbide(double vanadium, double temperature_C) {
  const double can = rule::vanadium_dissolved *
                     std::exp((temperature_C - rule::vanadium_dissolved_at) / rule::vanadium_dissolved_e_fold);
  const double dissolved = std::min(vanadium, can);
  const double bound = vanadium - dissolved;
  return {dissolved, rule::mc_carbon_per_vanadium * bound, rule::mc_per_vanadium * bound};
}

/// How far carbon in solution stays behind equilibrium while the carbide keeps its chromium, wt %; never more than in
/// the steel it was computed for.
double carbon_lag(double chromium, const Soak& soak) {
  const double full = rule::carbon_lag + rule::carbon_lag_slope * (soak.peak_C - rule::carbon_lag_at);
  const double share =
      (chromium - rule::carbon_lag_from_chromium) / (rule::carbon_lag_chromium - rule::carbon_lag_from_chromium);
  return std::max(full, 0.0) * std::clamp(share, 0.0, 1.0) * std::exp(-std::sqrt(soak.metal_clock));
}

void share_between(WeightPercent<double>& in_austenite, const WeightPercent<double>& bulk, double cementite) {
  in_austenite.Cr = bulk.Cr / (1.0 - cementite + cementite * rule::cementite_chromium_ratio);
  in_austenite.Mn = bulk.Mn / (1.0 - cementite + cementite * rule::cementite_manganese_ratio);
  in_austenite.Si = bulk.Si / (1.0 - cementite);
  in_austenite.Ni = bulk.Ni / (1.0 - cementite);
}

Dissolved dissolve_cementite(const Composition& steel, const Soak& soak, const critical::Temperatures& t) {
  const double T = soak.peak_C;
  const bool hypo = std::isfinite(t.ac3.value);
  if (T < (hypo ? t.ac3.low : t.ac1.low)) return refused(steel, Flag::ferrite_left);
  Flags flags;
  if (!fe_c::in_range(T)) flags |= Flag::outside_range;

  const WeightPercent<double>& bulk = steel.amount;
  if (bulk.Cr > rule::carbon_lag_chromium_most) flags |= Flag::outside_range;
  const VanadiumCarbide mc = vanadium_carbide(bulk.V, T);
  const double available = bulk.C - mc.carbon_held;
  Austenite a{steel, 0.0, mc.weight, NAN, 0.0, AusteniteMade::screen_rule};
  WeightPercent<double>& in = a.in_solution.amount;
  in.V = mc.vanadium_dissolved;
  double saturated = fe_c::saturated_carbon(T, in);
  constexpr int rounds = 4;  // the shares settle to 1e-4 wt %
  for (int k = 0; k < rounds; ++k) {
    share_between(in, bulk, fe_c::cementite_fraction(available, std::min(available, saturated)));
    saturated = fe_c::saturated_carbon(T, in);
  }
  const double lag = carbon_lag(bulk.Cr, soak);
  const double can_hold = std::max(saturated - lag, 0.0);
  in.C = std::min(available, can_hold);
  const double cementite = fe_c::cementite_fraction(available, in.C);
  if (lag > 0.0 && cementite > 0.0)
    in.Cr = std::max(bulk.Cr * (1.0 - cementite * rule::annealed_cementite_chromium) / (1.0 - cementite), 0.0);
  a.cementite_wt = 100.0 * cementite;

  const bool plain = t.family == Family::plain_hypo || t.family == Family::plain_hyper;
  const double accuracy = plain ? rule::carbon_half_width_plain : rule::carbon_half_width_alloyed;
  const bool near_saturation = can_hold - available < accuracy;
  const double bulk_half = cementite > 0.0 ? 0.0 : steel.half_width[index(Element::C)];
  // the iron-carbon line rests on the paper, what the alloy moves on our own equilibria, the lag on chromium figures
  Sources sources(tables::acm_carbon_fit.source);
  sources.add(Citation::OwnArithmetic);
  if (lag > 0.0 && cementite > 0.0) sources.add(Citation::Sato1955).add(Citation::RuzickovaMillion1981);
  return answered(a, near_saturation ? accuracy : 0.0, bulk_half, flags, sources);
}

using Row = tables::AlloyAustenite;

bool same_steel(const Row& a, const Row& b) {
  return a.C == b.C && a.Cr == b.Cr && a.Mo == b.Mo && a.V == b.V && a.W == b.W;
}

/// How far a steel is from a row, in tolerances; above 1 it is no neighbour.
double distance(const WeightPercent<double>& w, const Row& row) {
  const double apart[] = {(w.C - row.C) / rule::neighbour_carbon, (w.Cr - row.Cr) / rule::neighbour_chromium,
                          (w.Mo - row.Mo) / rule::neighbour_molybdenum, (w.V - row.V) / rule::neighbour_vanadium,
                          (w.W - row.W) / rule::neighbour_tungsten};
  double largest = 0.0;
  for (double d : apart) largest = std::max(largest, std::fabs(d));
  return largest;
}

Dissolved dissolve_alloy_carbide(const Composition& steel, const Soak& soak) {
  constexpr auto& table = tables::alloy_austenite;
  std::size_t first = table.size();
  double nearest = 1.0;
  for (std::size_t k = 0; k < table.size(); ++k)
    if ((k == 0 || !same_steel(table[k], table[k - 1])) && distance(steel.amount, table[k]) <= nearest) {
      first = k;
      nearest = distance(steel.amount, table[k]);
    }
  if (first == table.size()) return refused(steel, Flag::no_model);
  std::size_t last = first;
  while (last + 1 < table.size() && same_steel(table[last + 1], table[first])) ++last;
  const double T = soak.peak_C;
  if (T < table[first].temperature_C - rule::neighbour_temperature ||
      T > table[last].temperature_C + rule::neighbour_temperature)
    return refused(steel, Flag::no_model);

  std::size_t k = first;
  while (k + 1 < last && T > table[k + 1].temperature_C) ++k;
  const Row& below = table[k];
  const Row& above = table[k + 1];
  const double share = (T - below.temperature_C) / (above.temperature_C - below.temperature_C);
  const auto between = [&](double Row::*member) { return below.*member + share * (above.*member - below.*member); };
  const auto dissolved_share = [&](double Row::*in_solution, double bulk) {
    return bulk > 0.0 ? std::min(between(in_solution) / bulk, 1.0) : 1.0;
  };
  Austenite a{steel, 0.0, std::max(between(&Row::carbide_left_wt_pct), 0.0), NAN, 0.0, AusteniteMade::screen_rule};
  WeightPercent<double>& in = a.in_solution.amount;
  in.C = std::min(between(&Row::C_in_solution), steel.amount.C);
  in.Cr *= dissolved_share(&Row::Cr_in_solution, below.Cr);
  in.Mo *= dissolved_share(&Row::Mo_in_solution, below.Mo);
  in.V *= dissolved_share(&Row::V_in_solution, below.V);
  in.W *= dissolved_share(&Row::W_in_solution, below.W);
  const bool high_chromium = steel.amount.Cr >= tables::critical::tool_11_13_cr_Cr_at_least;
  Sources sources(below.source);
  sources.add(above.source).add(Citation::OwnArithmetic);
  return answered(a, high_chromium ? rule::carbon_half_width_high_chromium : rule::carbon_half_width_high_alloy, 0.0,
                  {}, sources);
}

}  // namespace

Soak soak_at(double temperature_C, double hold_s) { return {temperature_C, hold_s * metal_rate(temperature_C)}; }

Soak soak_of(const History& history) {
  Soak soak{history.peak_C(), 0.0};
  const auto& times = history.times_s();
  const auto& temperatures = history.temperatures_C();
  for (std::size_t i = 1; i < times.size(); ++i) {
    // Simpson's rule; long ramps are cut so that the rate changes by less than a factor two in a step.
    const double change = std::fabs(temperatures[i] - temperatures[i - 1]);
    constexpr double step_K = 20.0;
    const int steps = std::max(1, static_cast<int>(std::ceil(change / step_K)));
    const double dt = (times[i] - times[i - 1]) / steps;
    const double dT = (temperatures[i] - temperatures[i - 1]) / steps;
    for (int k = 0; k < steps; ++k) {
      const double from = temperatures[i - 1] + k * dT;
      soak.metal_clock += dt / 6.0 * (metal_rate(from) + 4.0 * metal_rate(from + 0.5 * dT) + metal_rate(from + dT));
    }
  }
  return soak;
}

Dissolved dissolve(const Composition& steel, const Soak& soak) {
  const Flags why = refusal(steel, soak);
  if (!why.empty()) return refused(steel, why);
  const Family family = critical::family(steel.amount);
  if (family == Family::austenitic_other) return refused(steel, Flag::no_model);
  if (!critical::formula_safe(family)) return dissolve_alloy_carbide(steel, soak);
  const critical::Temperatures t = critical::temperatures(steel);
  if (std::isnan(t.ac1.value)) {
    const Dissolved near = dissolve_alloy_carbide(steel, soak);
    return std::isnan(near.carbon.value) ? refused(steel, t.ac1.flags | Flag::no_model) : near;
  }
  return dissolve_cementite(steel, soak, t);
}

namespace {

struct Aim {
  double temperature_C;
  Reason reason;
  double composition_half_width;
  Flags flags;
  Sources sources;
};

double by_composition(const Estimate& e) { return e.parts[static_cast<std::size_t>(Part::composition)]; }

Aim aim_from(const Estimate& critical, double margin, Reason reason) {
  return {critical.value + margin, reason, by_composition(critical), critical.flags, critical.sources};
}

/// How much the rule that all carbon goes into solution still counts: less and less above 0.80 % carbon.
double share_of_acm_rule(double carbon) {
  return std::clamp((rule::acm_rule_ends - carbon) / (rule::acm_rule_ends - rule::acm_rule_fades_from), 0.0, 1.0);
}

Aim aim_of(const Composition& steel, const critical::Temperatures& t) {
  const double eutectoid = critical::eutectoid_carbon(steel.amount);
  if (steel.amount.C <= eutectoid) {
    const Aim by_ac1 = aim_from(t.ac1, rule::aim_above_ac1_hypo, Reason::above_ac1);
    const Aim by_ac3 = aim_from(t.ac3, rule::aim_above_ac3, Reason::above_ac3);
    return by_ac3.temperature_C > by_ac1.temperature_C ? by_ac3 : by_ac1;
  }
  // from the eutectoid to the carbon that is wanted in solution the margin over Ac1 falls, so that neighbours in carbon
  // have neighbouring aims
  const double beyond = std::max((steel.amount.C - eutectoid) / (rule::full_solution_carbon - eutectoid), 0.0);
  const double margin =
      rule::aim_above_ac1_hypo + (rule::aim_above_ac1_hyper - rule::aim_above_ac1_hypo) * std::min(beyond, 1.0);
  Aim aim = aim_from(t.ac1, margin, Reason::above_ac1);
  const double share = share_of_acm_rule(steel.amount.C);
  const double more = t.acm.value + rule::aim_above_acm - aim.temperature_C;
  if (share > 0.0 && more > 0.0) {
    aim.temperature_C += share * more;
    aim.composition_half_width += share * (by_composition(t.acm) - aim.composition_half_width);
    aim.flags |= t.acm.flags;
    aim.sources |= t.acm.sources;
  }
  if (t.acm.value > aim.temperature_C) aim.reason = Reason::carbide_kept;
  if (t.acm.value <= aim.temperature_C) aim.reason = Reason::all_carbon_dissolved;
  return aim;
}

}  // namespace

Window window(const Composition& steel) {
  const auto none = [](Flags why) {
    const Estimate missing = Estimate::missing(Unit::celsius, why);
    return Window{missing, missing, missing, 1U << static_cast<unsigned>(Reason::no_rule)};
  };
  const Flags why = refusal(steel, {});
  if (!why.empty()) return none(why);
  const critical::Temperatures t = critical::temperatures(steel);
  if (std::isnan(t.ac1.value)) return none(t.ac1.flags | Flag::no_model);

  const Aim aim = aim_of(steel, t);
  Parts parts{};
  const bool alloyed = t.family == Family::low_alloy || t.family == Family::hyper_low_alloy;
  parts[static_cast<std::size_t>(Part::table)] = alloyed ? rule::aim_scatter_alloyed : rule::aim_scatter;
  parts[static_cast<std::size_t>(Part::composition)] = aim.composition_half_width;
  Sources sources = aim.sources;
  sources.add(Citation::SAE_J412).add(Citation::EN_ISO4957);
  const Flags flags = aim.flags | Flag::screen_detail | Flag::derived;
  const auto at = [&](double C) { return Estimate::banded(C, parts, Unit::celsius, flags, sources); };
  return {at(aim.temperature_C - rule::window_half_width), at(aim.temperature_C),
          at(aim.temperature_C + rule::window_half_width), 1U << static_cast<unsigned>(aim.reason)};
}

}  // namespace decalesce::austenite
