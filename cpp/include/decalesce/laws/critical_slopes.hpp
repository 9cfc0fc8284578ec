#pragma once
// How the joined value moves with the amounts: constant slopes are read from the formulas' text while compiling, and
// only what is curved is differentiated for each steel.
#include <cstddef>
#include <iterator>

#include "../ground/dual.hpp"
#include "../ground/slope_probe.hpp"
#include "../tables/critical.hpp"
#include "../tables/usual_residuals.hpp"
#include "critical_votes.hpp"

namespace decalesce::critical {

namespace detail {

template <class Formula>
inline constexpr SlopeProbe probe = published::evaluate<Formula>(probed_elements());

/// The place of an element among `voting_elements`.
constexpr std::size_t direction_of(Element e) {
  for (std::size_t k = 0; k < std::size(voting_elements); ++k)
    if (voting_elements[k] == e) return k;
  throw "voting_elements lacks this element";
}

/// How many of the first `end` voting elements have a slope that changes.
template <class Formula>
constexpr int curved_before(std::size_t end) {
  int count = 0;
  for (std::size_t k = 0; k < end; ++k) count += probe<Formula>.curved(voting_elements[k]) ? 1 : 0;
  return count;
}
template <class Formula>
constexpr int curved_count() {
  return curved_before<Formula>(std::size(voting_elements));
}

template <class Formula>
constexpr bool reads_voting_elements_only() {
  bool only = true;
  for_each_element([&](Element e) {
    bool votes = false;
    for (Element v : voting_elements) votes = votes || v == e;
    only = only && (votes || !probe<Formula>.enters(e));
  });
  return only;
}

/// Adds `weight` times the slopes of one formula.
template <class Formula, class Real>
inline void add_slopes(const WeightPercent<Real>& w, const Real& weight, Real (&slope)[voting_count]) {
  static_assert(reads_voting_elements_only<Formula>(), "voting_elements lacks an element of this formula");
  if constexpr (curved_count<Formula>() > 0) {
    using Slopes = Dual<Real, curved_count<Formula>()>;
    WeightPercent<Slopes> seeded;
    written_out<voting_count>([&]<std::size_t K>() {
      constexpr Element e = voting_elements[K];
      seeded[e] = Slopes(w[e], probe<Formula>.curved(e) ? curved_before<Formula>(K) : -1);
    });
    const Slopes d = published::evaluate<Formula>(seeded);
    written_out<voting_count>([&]<std::size_t K>() {
      if constexpr (probe<Formula>.curved(voting_elements[K]))
        slope[K] = slope[K] + weight * d.slope[curved_before<Formula>(K)];
    });
  }
  written_out<voting_count>([&]<std::size_t K>() {
    constexpr Element e = voting_elements[K];
    if constexpr (probe<Formula>.enters(e) && !probe<Formula>.curved(e))
      slope[K] = slope[K] + weight * probe<Formula>.slope(e);
  });
}

/// The elements that steel carries unasked, and whose absence from a certificate is therefore no zero.
inline constexpr Element residual_elements[] = {Element::Cr, Element::Ni, Element::Mo, Element::Cu};

/// What is added to each of `residual_elements`: its usual amount where it was not stated.
template <class Real>
struct Residuals {
  Real added[4];
};

template <class Real>
inline Residuals<Real> residuals(const NotStated<Real>& absent) {
  const auto usual = [](const Condition<Real>& missing, Element e) {
    return keep(missing, Real(tables::usual_residual_wt_pct[index(e)]));
  };
  return {{usual(absent.Cr, Element::Cr), usual(absent.Ni, Element::Ni), usual(absent.Mo, Element::Mo),
           usual(absent.Cu, Element::Cu)}};
}

template <class Real>
inline WeightPercent<Real> with_residuals(const WeightPercent<Real>& w, const Residuals<Real>& residual) {
  WeightPercent<Real> r = w;
  written_out<std::size(residual_elements)>(
      [&]<std::size_t K>() { r[residual_elements[K]] = w[residual_elements[K]] + residual.added[K]; });
  return r;
}

template <class Formula>
constexpr bool straight_in_residuals() {
  for (Element e : residual_elements)
    if (probe<Formula>.curved(e)) return false;
  return true;
}

/// Adds to `moved` what the residuals move a curved formula, and to `slope` the slopes of a straight one.
template <class Formula, class Real>
inline void add_residual_move([[maybe_unused]] const WeightPercent<Real>& raised, [[maybe_unused]] const Real& vote,
                              const Real& weight, [[maybe_unused]] Real (&slope)[4], [[maybe_unused]] Real& moved) {
  if constexpr (straight_in_residuals<Formula>()) {
    written_out<std::size(residual_elements)>([&]<std::size_t K>() {
      constexpr Element e = residual_elements[K];
      if constexpr (probe<Formula>.enters(e)) slope[K] = slope[K] + weight * probe<Formula>.slope(e);
    });
  } else {
    moved = moved + weight * (published::evaluate<Formula>(raised) - vote);
  }
}

}  // namespace detail

/// Assumed residuals widen the band by what they would move; they never move the value.
template <class Real>
inline void widen(Answer<Real>& a, const Real& delta, const Condition<Real>& where) {
  const Real size = larger(delta, Real(-delta));
  const Condition<Real> matters = where & (size > Real(tables::critical::residual_matters));
  a.shift = keep(matters, size);
  a.bits.say(matters, Flag::residual_assumed);
}

}  // namespace decalesce::critical
