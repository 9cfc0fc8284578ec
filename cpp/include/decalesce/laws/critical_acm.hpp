#pragma once
// Acm from iron-carbon saturation and the alloy shifts: step 10 of the joining.
#include <cstddef>
#include <iterator>

#include "../tables/fe_c_fits.hpp"
#include "critical_coverage.hpp"
#include "critical_slopes.hpp"

namespace decalesce::critical {

namespace detail {

constexpr double carbon_limit() {
  for (const auto& row : table::coverage)
    if (row.formula == AcmVoter::id && row.element == static_cast<int>(Element::C)) return row.maximum;
  throw "no carbon limit for Acm in critical_coverage.csv";
}

template <class Real>
struct Saturation {
  Real temperature;
  Real per_slope;  // dT/d(carbon) along the saturation line, K/wt %
};

/// The temperature at which saturated carbon, moved by the alloy, equals the steel's. Three Newton steps from where the
/// iron-carbon line stands at the carbon less the shift at 850 degC: they leave less than 1e-9 K inside the coverage.
template <class Real>
inline Saturation<Real> saturation(const WeightPercent<Real>& w) {
  const auto& p = tables::acm_carbon_fit.coefficients;
  const auto& q = tables::acm_temperature_fit.coefficients;
  Real a0 = Real(0.0);
  Real a1 = Real(0.0);
  Real a2 = Real(0.0);
  written_out<std::size(table::shift)>([&]<std::size_t K>() {
    constexpr table::ShiftRow row = table::shift[K];
    const Real& x = w[static_cast<Element>(row.element)];
    a0 = a0 + (row.term[0] + row.term[3] * x) * x;
    a1 = a1 + (row.term[1] + row.term[4] * x) * x;
    a2 = a2 + (row.term[2] + row.term[5] * x) * x;
  });
  a0 = a0 - w.C;
  constexpr double carbon_from = tables::acm_temperature_fit.valid_min;
  constexpr double carbon_to = carbon_limit();  // as far as the shift table reaches
  const Real start = smaller(larger(-a0, Real(carbon_from)), Real(carbon_to));
  Saturation<Real> s{((q[3] * start + q[2]) * start + q[1]) * start + q[0], Real(0.0)};
  for (int step = 0; step < 3; ++step) {
    const Real T = s.temperature;
    const Real t = (T - 850.0) * 0.01;
    s.per_slope = 1.0 / (((3.0 * p[3]) * T + 2.0 * p[2]) * T + p[1] + (a1 + 2.0 * a2 * t) * 0.01);
    const Real error = ((p[3] * T + p[2]) * T + p[1]) * T + p[0] + (a2 * t + a1) * t + a0;
    s.temperature = T - error * s.per_slope;
  }
  return s;
}

}  // namespace detail

template <bool Widths, bool Absent, class Real>
inline Answer<Real> join_acm(const Steel<Real>& steel, const Shared<Real>& shared) {
  Answer<Real> a;
  a.value = Real(NAN);
  a.square_formula = Real(0.0);
  a.square_composition = Real(0.0);
  a.shift = Real(0.0);
  a.bits = shared.blank;
  const Condition<Real> asked = shared.safe() & shared.hyper;
  if (!any(asked)) return a;
  const detail::Saturation<Real> s = detail::saturation(steel.w);
  const Condition<Real> inside = shared.hyper & detail::covered<AcmVoter, Absent>(steel, shared) &
                                 (s.temperature >= Real(table::acm_lowest)) &
                                 (s.temperature <= Real(table::acm_highest));
  const Real carbon = select(shared.family == Real(static_cast<double>(Family::plain_hyper)),
                             Real(table::acm_carbon_plain), Real(table::acm_carbon_alloyed));
  a.value = select(inside, s.temperature, a.value);
  const Real half = carbon * s.per_slope;
  a.square_formula = half * half;
  a.bits.say(asked & !inside, Flag::outside_range);
  a.bits.say(inside, Flag::single_formula);
  if constexpr (Widths) {
    const Real t = (s.temperature - 850.0) * 0.01;
    Real variance = steel.half_width[0] * steel.half_width[0];
    written_out<std::size(table::shift)>([&]<std::size_t K>() {
      constexpr table::ShiftRow row = table::shift[K];
      constexpr auto element = static_cast<Element>(row.element);
      constexpr std::size_t direction = detail::direction_of(element);
      const Real twice = 2.0 * steel.w[element];
      const Real per_wt = row.term[0] + row.term[3] * twice +
                          (row.term[1] + row.term[4] * twice + (row.term[2] + row.term[5] * twice) * t) * t;
      const Real moved = per_wt * steel.half_width[direction];
      variance = variance + moved * moved;
    });
    a.square_composition = (table::normal_90 * table::normal_90 / 3.0) * variance * (s.per_slope * s.per_slope);
  }
  if constexpr (Absent) {
    const WeightPercent<Real> raised = detail::with_residuals(steel.w, detail::residuals(steel.absent));
    widen(a, detail::saturation(raised).temperature - s.temperature, inside);
  }
  return a;
}

}  // namespace decalesce::critical
