#pragma once
// How the votes are joined, one text for a steel and for a packet of steels. The steps are those of
// data/fit/critical_scores.md; tests compare this text with an independent NumPy one to 1e-9.
#include <cmath>
#include <cstddef>

#include "critical_acm.hpp"
#include "critical_coverage.hpp"
#include "critical_slopes.hpp"
#include "critical_votes.hpp"

namespace decalesce::critical {

using std::sqrt;

namespace detail {

/// Pairwise sum: short chains, so that the processor can work on several at once.
template <std::size_t Count, class Real>
inline Real sum(const Real* terms) {
  if constexpr (Count == 1)
    return terms[0];
  else if constexpr (Count == 2)
    return terms[0] + terms[1];
  else
    return sum<Count / 2>(terms) + sum<Count - Count / 2>(terms + Count / 2);
}

template <std::size_t Count, class Real>
inline Real product(const Real* factors) {
  if constexpr (Count == 1)
    return factors[0];
  else
    return product<Count / 2>(factors) * product<Count - Count / 2>(factors + Count / 2);
}

/// others[k] = outside times the product of all factors but the k-th: weights 1/factor without a division.
template <std::size_t Count, class Real>
inline void products_of_others(const Real* factors, const Real& outside, Real* others) {
  if constexpr (Count == 1) {
    others[0] = outside;
  } else {
    constexpr std::size_t left = Count / 2;
    products_of_others<left>(factors, outside * product<Count - left>(factors + left), others);
    products_of_others<Count - left>(factors + left, outside * product<left>(factors), others + left);
  }
}
template <std::size_t Count, class Real>
inline void products_of_others(const Real* factors, Real* others) {
  constexpr std::size_t left = Count / 2;
  products_of_others<left>(factors, product<Count - left>(factors + left), others);
  products_of_others<Count - left>(factors + left, product<left>(factors), others + left);
}

}  // namespace detail

/// One vote a lineage, weight 1/(s^2 + spread^2); averaging is not taken to shrink the scatter.
template <bool Widths, bool Absent, class Real, class... Formulas>
inline Answer<Real> join(published::FormulaList<Formulas...>, const Steel<Real>& steel, const Shared<Real>& shared) {
  constexpr std::size_t count = sizeof...(Formulas);
  const Real zero(0.0);
  const Real one(1.0);
  const Real vote[count] = {published::evaluate<Formulas>(steel.w)...};
  const Condition<Real> covers[count] = {
      Condition<Real>(detail::covered<FormulaVoter<Formulas>, Absent>(steel, shared))...};
  constexpr bool remembered[count] = {(Formulas::record.status == published::Status::memory)...};

  Real counted[count];
  Real voted[count];
  Real term[count];
  Condition<Real> any_remembered = zero < zero;
  for (std::size_t k = 0; k < count; ++k) {
    counted[k] = keep(covers[k], one);
    voted[k] = keep(covers[k], vote[k]);
    term[k] = voted[k] * voted[k];
    if (remembered[k]) any_remembered = any_remembered | covers[k];
  }
  // The spread about the mean is squares / pairs; multiplied through by `pairs`, n (n - 1), it needs no division.
  const Real n = detail::sum<count>(counted);
  const Real pairs = larger(n, one) * larger(n - 1.0, one);
  const Real total = detail::sum<count>(voted);
  const Real squares = n * detail::sum<count>(term) - total * total;

  // Nor do the weights 1/(s^2 + spread^2): scaled by the product of all denominators, which cancels in a mean.
  const Real denominator[count] = {(pairs * detail::scatter_square<Formulas>(shared.family) + squares)...};
  Real weight[count];
  detail::products_of_others<count>(denominator, weight);
  for (std::size_t k = 0; k < count; ++k) {
    weight[k] = keep(covers[k], weight[k]);
    term[k] = weight[k] * voted[k];
  }
  const Real per = 1.0 / (detail::sum<count>(weight) * pairs);
  const Real per_weight = pairs * per;  // infinite where nothing covers: the value is then NaN
  Answer<Real> a;
  a.value = detail::sum<count>(term) * per_weight;
  // the weighted mean of s^2 + spread^2 is their harmonic mean
  a.square_formula = (table::normal_90 * table::normal_90) * (n * detail::product<count>(denominator) * per);
  a.square_composition = zero;
  a.shift = zero;
  a.bits = shared.blank;
  a.bits.say(shared.safe() & (n == zero), Flag::outside_range);
  a.bits.say(n == one, Flag::single_formula);
  a.bits.say(squares > (table::wide_spread * table::wide_spread) * pairs, Flag::wide_spread);
  a.bits.say(any_remembered, Flag::from_memory);

  if constexpr (Widths) {
    Real slope[voting_count];
    for (Real& s : slope) s = zero;
    std::size_t k = 0;
    (detail::add_slopes<Formulas>(steel.w, weight[k++], slope), ...);
    Real variance = zero;
    for (int i = 0; i < voting_count; ++i) {
      const Real moved = slope[i] * steel.half_width[i];
      variance = variance + moved * moved;
    }
    a.square_composition = (table::normal_90 * table::normal_90 / 3.0) * variance * (per_weight * per_weight);
  }
  if constexpr (Absent) {
    const detail::Residuals<Real> residual = detail::residuals(steel.absent);
    const WeightPercent<Real> raised = detail::with_residuals(steel.w, residual);
    Real slope[4] = {zero, zero, zero, zero};
    Real moved = zero;
    std::size_t k = 0;
    ((detail::add_residual_move<Formulas>(raised, vote[k], weight[k], slope, moved), ++k), ...);
    for (int i = 0; i < 4; ++i) moved = moved + slope[i] * residual.added[i];
    widen(a, Real(moved * per_weight), shared.safe());
  }
  return a;
}

/// Ac3 and Acm exist on one side of the eutectoid only, and never below Ac1.
template <class Real>
inline void one_side(Answer<Real>& a, const Real& ac1, const Condition<Real>& wrong_side, const Shared<Real>& shared) {
  const Condition<Real> below = a.value < ac1;
  a.bits.say(below, Flag::clamped_to_ac1);
  Bits<Real> only;
  only.say(shared.safe(), Flag::not_applicable);
  a.bits = Bits<Real>::choose(shared.safe() & wrong_side, only, a.bits);
  a.value = select(wrong_side, Real(NAN), select(below, ac1, a.value));
}

/// Ms less a fixed offset, where Steven and Haynes cover the steel.
template <bool Widths, bool Absent, class Real>
inline Answer<Real> join_mf(const Steel<Real>& steel, const Shared<Real>& shared, const Answer<Real>& ms) {
  const Condition<Real> has =
      detail::covered<FormulaVoter<published::MfStevenHaynes1956>, Absent>(steel, shared) & (ms.value == ms.value);
  Answer<Real> a = ms;
  a.value = select(has, ms.value - table::mf_offset, Real(NAN));
  constexpr double offset = table::normal_90 * table::mf_offset_scatter;
  a.square_formula = ms.square_formula + offset * offset;
  if constexpr (Absent) {  // the whole band of Ms goes into that of Mf, the part of the residuals with it
    const Real half_ms = sqrt(ms.square_formula + ms.square_composition) + ms.shift;
    a.square_formula = half_ms * half_ms - ms.square_composition + offset * offset;
    a.shift = Real(0.0);
  }
  Bits<Real> own = ms.bits;
  own.say(has, Flag::single_formula);
  own.say(has, Flag::from_memory);
  Bits<Real> none = shared.blank;
  none.say(shared.safe(), Flag::outside_range);
  a.bits = Bits<Real>::choose(has, own, none);
  return a;
}

template <bool Widths, bool Absent, class Real>
inline Answer<Real> join_ac1(const Steel<Real>& steel, const Shared<Real>& shared) {
  Answer<Real> a = join<Widths, Absent>(Ac1Votes{}, steel, shared);
  a.bits.say((steel.w.C > Real(table::ac1_carbon_published)) & (a.value == a.value), Flag::carbon_extended);
  return a;
}

/// Ms, Mf and Bs of a hypereutectoid steel hold for all its carbon in solution.
template <class Real>
inline void say_bulk(Answer<Real>& a, const Shared<Real>& shared) {
  a.bits.say(shared.hyper & (a.value == a.value), Flag::bulk_composition);
}

/// Ac1, Ac3, Acm, Ms, Mf, Bs.
inline constexpr int quantities = 6;

/// All six at once, for one steel. `Widths`: the steel carries half-widths; `Absent`: some elements may not be stated.
template <bool Widths, bool Absent, class Real>
inline void joined(const Steel<Real>& steel, const Shared<Real>& shared, Answer<Real> (&answer)[quantities]) {
  auto& [ac1, ac3, acm, ms, mf, bs] = answer;
  ac1 = join_ac1<Widths, Absent>(steel, shared);
  ac3 = join<Widths, Absent>(Ac3Votes{}, steel, shared);
  one_side(ac3, ac1.value, shared.hyper, shared);
  acm = join_acm<Widths, Absent>(steel, shared);
  one_side(acm, ac1.value, Condition<Real>(!shared.hyper), shared);
  ms = join<Widths, Absent>(MsVotes{}, steel, shared);
  mf = join_mf<Widths, Absent>(steel, shared, ms);
  bs = join<Widths, Absent>(BsVotes{}, steel, shared);
  say_bulk(ms, shared);
  say_bulk(mf, shared);
  say_bulk(bs, shared);
}

}  // namespace decalesce::critical
