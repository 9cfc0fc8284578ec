#pragma once
// How much austenite turns to martensite, and how much is retained, from the AUSTENITE: its composition and the carbide
// beside it, never the composition of the bar.
//
// One pair of laws serves every steel: Ms and rate of van Bohemen 2012, both exponential in carbon and fitted together.
//   f = exp(-alpha (Ms - T))
// On published cases with all carbon in solution, 0.6 to 1.4 %C, the pair misses by 2 vol % rms; Andrews' Ms with the
// rate 0.011 of Koistinen and Marburger by 45 (data/fit/martensite_constants.py). Ms of one author with the rate of
// another is not offered: for a measured 8 % such mixtures give 3 to 19.
#include <algorithm>
#include <cmath>

#include "../ground/austenite.hpp"
#include "../ground/estimate.hpp"
#include "../published/ms.hpp"
#include "../published/rate.hpp"
#include "../tables/martensite_rules.hpp"

namespace decalesce::martensite {

namespace rule = tables::martensite_rules;

namespace detail {

/// What stops the laws for this austenite; empty when they answer.
inline Flags refusal(const Composition& c) {
  Flags flags;
  bool unusable = false;
  for_each_element([&](Element e) { unusable = unusable || std::isnan(c.amount[e]); });
  if (unusable) flags |= Flag::nan_input;
  if (c.stated[index(Element::C)] == Stated::not_stated) flags |= Flag::carbon_not_stated;
  if (c.amount.Cr > rule::pair_chromium_max || c.amount.Mn > rule::pair_manganese_max) flags |= Flag::no_model;
  return flags;
}

inline Flags remarks(const Composition& c) {
  Flags flags = Flag::from_memory;
  if (c.amount.C < rule::pair_carbon_min || c.amount.C > rule::pair_carbon_max) flags |= Flag::outside_range;
  return flags;
}

inline double ms_C(const WeightPercent<double>& w) { return published::MsVanBohemen2012{}(w, {}); }

/// Fraction of the austenite that is left after cooling to a temperature.
inline double left(const WeightPercent<double>& w, double cooled_to_C) {
  const double alpha = published::AlphaVanBohemen2012{}(w, {});
  return std::exp(-alpha * std::max(ms_C(w) - cooled_to_C, 0.0));
}

/// Half-width of `answer(w)` from the half-widths of the amounts; the austenite's own carbon counts when it is wider.
template <class Answer>
double by_composition(const Austenite& a, Answer&& answer) {
  double square = 0.0;
  for (const Element e : {Element::C, Element::Mn, Element::Si, Element::Cr, Element::Ni, Element::Mo}) {
    double half = a.in_solution.half_width[index(e)];
    if (e == Element::C) half = std::max(half, a.carbon_half_width);
    if (!(half > 0.0)) continue;
    WeightPercent<double> more = a.in_solution.amount;
    WeightPercent<double> less = more;
    more[e] += half;
    less[e] = std::max(less[e] - half, 0.0);
    const double change = 0.5 * (answer(more) - answer(less));
    square += change * change;
  }
  return std::sqrt(square);
}

}  // namespace detail

/// Martensite start, degC, that belongs to the pair. Valid for 0.1-1.9 %C, at most 2 %Mn and 1.7 %Cr in solution; NaN
/// and `no_model` beyond the alloy limits. 90 % half-width 35 K plus what the composition leaves open.
inline Estimate start(const Austenite& a) {
  const Flags refused = detail::refusal(a.in_solution);
  if (!refused.empty()) return Estimate::missing(Unit::celsius, refused);
  Parts parts{};
  parts[static_cast<std::size_t>(Part::formula)] = rule::ms_half_width;
  parts[static_cast<std::size_t>(Part::composition)] = detail::by_composition(a, detail::ms_C);
  return Estimate::banded(detail::ms_C(a.in_solution.amount), parts, Unit::celsius, detail::remarks(a.in_solution),
                          Citation::vanBohemen2012);
}

/// Where transformation ends on cooling below room temperature: 110 K lower nothing more happens.
inline double acting_temperature_C(double cooled_to_C) {
  return std::max(cooled_to_C, rule::room_temperature - rule::subzero_stop);
}

/// Retained austenite, fraction of the whole steel with its carbide, after cooling without delay to a temperature: 20
/// room, -18 freezer, -75 dry ice, -196 liquid nitrogen. 90 % half-width 5 vol % below 20 %, in proportion above; late
/// cold treatment is covered by the upper end of the band. Range as `start`.
inline Estimate retained_austenite(const Austenite& a, double cooled_to_C = rule::room_temperature) {
  Flags refused = detail::refusal(a.in_solution);
  if (std::isnan(cooled_to_C)) refused |= Flag::nan_input;
  if (!refused.empty()) return Estimate::missing(Unit::fraction, refused);
  const double austenitic = 1.0 - (a.cementite_wt + a.alloy_carbide_wt) / 100.0;
  const double at_C = acting_temperature_C(cooled_to_C);
  const auto amount = [&](const WeightPercent<double>& w) { return austenitic * detail::left(w, at_C); };
  const double value = amount(a.in_solution.amount);
  Parts parts{};
  parts[static_cast<std::size_t>(Part::formula)] =
      rule::retained_half_width * std::max(1.0, value / rule::retained_half_width_from);
  parts[static_cast<std::size_t>(Part::composition)] = detail::by_composition(a, amount);
  Estimate e = Estimate::banded(value, parts, Unit::fraction, detail::remarks(a.in_solution), Citation::vanBohemen2012);
  if (cooled_to_C < rule::room_temperature) {
    const double warm = austenitic * detail::left(a.in_solution.amount, rule::room_temperature);
    e.high = std::max(e.high, rule::subzero_late_share * warm);
    e.sources.add(Citation::CommonPractice);
  }
  e.low = std::clamp(e.low, 0.0, 1.0);
  e.high = std::clamp(e.high, 0.0, 1.0);
  if (value > rule::much_retained) e.flags |= Flag::retained_austenite;
  return e;
}

}  // namespace decalesce::martensite
