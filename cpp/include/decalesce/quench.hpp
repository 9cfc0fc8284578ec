#pragma once
// The steel after the quench, as far as the screen goes: what it reaches where it hardens fully, or what was measured.
// Whether a section hardens fully in a tank is not evaluated here.
#include "ground/as_quenched.hpp"
#include "laws/hardness.hpp"
#include "laws/martensite.hpp"

namespace decalesce::quench {

namespace detail {
/// Martensite is what is neither retained austenite nor carbide.
inline Estimate martensite_beside(const Austenite& a, const Estimate& retained) {
  const double austenitic = 1.0 - (a.cementite_wt + a.alloy_carbide_wt) / 100.0;
  Estimate e = retained;
  e.value = austenitic - retained.value;
  e.low = austenitic - retained.high;
  e.high = std::min(austenitic - retained.low, 1.0);
  return e;
}
}  // namespace detail

/// Hardened fully: no pearlite and no bainite anywhere. Hardness from the carbon in solution, less what retained
/// austenite takes. Steels whose retained austenite has no law here (more than 1.7 %Cr in solution) keep the hardness
/// of martensite, flagged `no_model`.
inline AsQuenched fully_hardened(const Austenite& a, double cooled_to_C = martensite::rule::room_temperature) {
  AsQuenched q;
  q.austenite = a;
  q.retained_austenite = martensite::retained_austenite(a, cooled_to_C);
  q.martensite = detail::martensite_beside(a, q.retained_austenite);
  Estimate full =
      a.in_solution.stated[index(Element::C)] == Stated::not_stated
          ? Estimate::missing(Unit::hrc, Flag::carbon_not_stated)
          : hardness::full_martensite(a.in_solution.amount.C,
                                      std::max(a.carbon_half_width, a.in_solution.half_width[index(Element::C)]));
  q.hardness_HRC = hardness::with_retained_austenite(full, q.retained_austenite);
  q.hardness_HRC.flags |= Flag::screen_detail;
  return q;
}

/// Hardness as read, with the error of a good reading (1 HRC) unless another is given.
inline AsQuenched measured(double hrc, const Austenite& a,
                           double reading_half_width = martensite::rule::hardness_reading) {
  AsQuenched q;
  q.austenite = a;
  q.retained_austenite = martensite::retained_austenite(a);
  q.martensite = detail::martensite_beside(a, q.retained_austenite);
  Parts parts{};
  parts[static_cast<std::size_t>(Part::table)] = reading_half_width;
  q.hardness_HRC = Estimate::banded(hrc, parts, Unit::hrc, std::isnan(hrc) ? Flags(Flag::nan_input) : Flags(),
                                    Citation::CommonPractice);
  q.measured = true;
  return q;
}

}  // namespace decalesce::quench
