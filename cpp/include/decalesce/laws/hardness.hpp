#pragma once
// Hardness of martensite from the carbon IN SOLUTION when the steel goes into the quench, never from the carbon of the
// bar: carbon left in carbide does not harden the martensite.
//
//   up to 0.70 %C   polynomial of full martensite                                     [ASTM_A255]
//   above           one ceiling for every steel; more carbon only retains austenite   [HollomonJaffe1945, derived]
//
// The printed polynomials turn down above their range (44 HRC at 0.9 %C); they are never used there.
#include <algorithm>
#include <cmath>

#include "../ground/estimate.hpp"
#include "../tables/as_quenched.hpp"
#include "../tables/martensite_rules.hpp"

namespace decalesce::hardness {

namespace detail {
inline double polynomial(const tables::AsQuenchedPolynomial& p, double carbon) {
  double value = 0.0;
  for (std::size_t k = p.coefficients.size(); k-- > 0;) value = value * carbon + p.coefficients[k];
  return value;
}
inline constexpr const tables::AsQuenchedPolynomial& full = tables::as_quenched_polynomials[0];
inline constexpr const tables::AsQuenchedPolynomial& half = tables::as_quenched_polynomials[2];
static_assert(full.martensite_percent == 100.0 && half.martensite_percent == 50.0);
}  // namespace detail

/// HRC of full martensite; no band. Above the end of the polynomial it rises to the ceiling by the first measured disc.
inline double full_martensite_HRC(double carbon) {
  const double held = detail::polynomial(detail::full, std::min(carbon, detail::full.C_hold));
  const double rise =
      (carbon - detail::full.C_hold) / (tables::as_quenched_high_carbon_wt_pct[0] - detail::full.C_hold);
  return held + std::clamp(rise, 0.0, 1.0) * (tables::as_quenched_ceiling_HRC - held);
}

namespace detail {
/// What a half-width of the carbon does to a curve, HRC.
template <class Curve>
double by_carbon(Curve&& curve, double carbon, double half_width) {
  return 0.5 * std::fabs(curve(carbon + half_width) - curve(std::max(carbon - half_width, 0.0)));
}
inline Flags carbon_flags(double carbon) {
  Flags flags;
  if (std::isnan(carbon)) flags |= Flag::nan_input;
  if (carbon < full.C_min) flags |= Flag::outside_range;
  return flags;
}
}  // namespace detail

/// HRC: no martensite reads more than this, whatever leaves the band open below it.
inline double highest_martensite_HRC() {
  return tables::as_quenched_ceiling_HRC +
         std::hypot(tables::as_quenched_ceiling_half_width_HRC, tables::martensite_rules::hardness_reading);
}

/// Hardness of full martensite, HRC, for carbon in solution (wt %) and its half-width. Valid from 0.10 %C; below it the
/// answer is flagged. 90 % half-width 2.5 HRC up to 0.70 %C, 1.4 on the ceiling (ceiling and reading, 1 HRC each), plus
/// what the carbon leaves open. The upper end stops at the upper end of the ceiling everywhere.
inline Estimate full_martensite(double carbon, double carbon_half_width = 0.0) {
  namespace rule = tables::martensite_rules;
  Parts parts{};
  const bool on_ceiling = carbon >= tables::as_quenched_high_carbon_wt_pct[0];
  if (on_ceiling) {
    parts[static_cast<std::size_t>(Part::table)] = tables::as_quenched_ceiling_half_width_HRC;
    parts[static_cast<std::size_t>(Part::formula)] = rule::hardness_reading;
  } else {
    parts[static_cast<std::size_t>(Part::formula)] = rule::hardness_half_width;
  }
  parts[static_cast<std::size_t>(Part::composition)] =
      detail::by_carbon(full_martensite_HRC, carbon, carbon_half_width);
  Sources sources(detail::full.source);
  if (on_ceiling) sources.add(Citation::HollomonJaffe1945);
  Estimate full =
      Estimate::banded(full_martensite_HRC(carbon), parts, Unit::hrc, detail::carbon_flags(carbon), sources);
  if (full.high > highest_martensite_HRC()) {
    full.high = highest_martensite_HRC();
    full.sources.add(Citation::HollomonJaffe1945);
  }
  return full;
}

/// Hardness of 50 % martensite, HRC. The published curve ends at 0.70 %C: above, its last value is held and flagged.
inline Estimate half_martensite(double carbon, double carbon_half_width = 0.0) {
  const auto curve = [](double c) { return detail::polynomial(detail::half, std::min(c, detail::half.C_hold)); };
  Parts parts{};
  parts[static_cast<std::size_t>(Part::formula)] = tables::martensite_rules::hardness_half_width;
  parts[static_cast<std::size_t>(Part::composition)] = detail::by_carbon(curve, carbon, carbon_half_width);
  Flags flags = detail::carbon_flags(carbon);
  if (carbon > detail::half.C_hold) flags |= Flag::outside_table;
  return Estimate::banded(std::isnan(carbon) ? carbon : curve(carbon), parts, Unit::hrc, flags, detail::half.source);
}

/// Full martensite made softer by the austenite it retains. Up to about 17 % retained nothing is lost (hardness peaks
/// there); beyond, 17 HRC for each unit of fraction, from one measured disc. An unknown retained fraction (NaN) takes
/// nothing off.
inline Estimate with_retained_austenite(Estimate full, const Estimate& retained) {
  namespace rule = tables::martensite_rules;
  const auto loss = [](double fraction) {
    return rule::retained_softening * std::max(fraction - rule::much_retained, 0.0);
  };
  full.flags |= retained.flags;
  if (std::isnan(retained.value)) return full;
  if (retained.value > rule::much_retained) full.flags |= Flag::retained_austenite;
  full.value -= loss(retained.value);
  full.low -= loss(retained.high);
  full.high -= loss(retained.low);
  full.sources |= retained.sources;
  return full;
}

}  // namespace decalesce::hardness
