#pragma once
// How the votes are joined, one text for a steel and for a packet of steels. The steps are those of
// data/fit/critical_scores.md; tests compare this text with an independent NumPy one to 1e-9.
#include <cstddef>
#include <cstdint>
#include <utility>

#include "../ground/dual.hpp"
#include "../ground/flags.hpp"
#include "../ground/packet.hpp"
#include "../ground/weight_percent.hpp"
#include "../published/ac1.hpp"
#include "../published/ac3.hpp"
#include "../published/bs.hpp"
#include "../published/mf.hpp"
#include "../published/ms.hpp"
#include "../tables/fe_c_fits.hpp"
#include "../tables/usual_residuals.hpp"
#include "family.hpp"

namespace decalesce::critical {

namespace table = tables::critical;
using std::sqrt;

/// The formulas that vote; data/tables/formulas.csv says why the others do not.
using Ac1Votes =
    published::FormulaList<published::Ac1Andrews1965, published::Ae1Grange1961, published::Ac1TrzaskaDobrzanski2007>;
using Ac3Votes = published::FormulaList<published::Ac3Andrews1965Major, published::Ae3Grange1961,
                                        published::Ae3Eldis1978, published::Ac3TrzaskaDobrzanski2007>;
using MsVotes = published::FormulaList<published::MsAndrews1965Linear, published::MsStevenHaynes1956,
                                       published::MsStevenHaynes1956HighCarbon, published::MsPaysonSavage1944,
                                       published::MsEldis1978, published::MsCapdevila2002, published::MsVanBohemen2012>;
using BsVotes =
    published::FormulaList<published::BsStevenHaynes1956, published::BsVanBohemen2012, published::BsLee2002>;

/// Flags, one set a steel.
template <class Real>
struct Bits;
template <>
struct Bits<double> {
  std::uint64_t set = 0;
  void say(bool condition, Flag what) { set |= condition ? Flags::bit(what) : 0; }
  static Bits choose(bool condition, const Bits& yes, const Bits& no) { return condition ? yes : no; }
};
template <int Lanes>
struct Bits<Packet<Lanes>> {
  using Integers = typename Packet<Lanes>::Integers;
  Integers set = {};
  void say(const Mask<Lanes>& condition, Flag what) {
    set |= condition.bits & static_cast<std::int64_t>(Flags::bit(what));
  }
  static Bits choose(const Mask<Lanes>& condition, const Bits& yes, const Bits& no) {
    return {(condition.bits & yes.set) | (~condition.bits & no.set)};
  }
};

template <class Real>
struct Answer {
  Real value;
  Real square_formula;      // squares of the half-width's parts, 90 %, K^2
  Real square_composition;  // without the residual shift
  Real shift;               // widening by assumed residuals, K
  Bits<Real> bits;
};

/// Elements of which the votes know that they were not stated.
template <class Real>
struct NotStated {
  Condition<Real> C, Mn, Cr, Ni, Mo, Cu;
};

/// The elements a voting formula reads; the composition band has one direction for each.
inline constexpr Element voting_elements[] = {Element::C,  Element::Mn, Element::Si, Element::Cr,
                                              Element::Ni, Element::Mo, Element::V,  Element::W,
                                              Element::Cu, Element::Co, Element::As};
inline constexpr int voting_count = 11;

template <class Real>
struct Steel {
  WeightPercent<Real> w;
  NotStated<Real> absent;
  Real half_width[voting_count];
};

namespace detail {

template <std::size_t Count>
struct CoverageOf {
  table::CoverageRow rows[Count];
};

consteval std::size_t coverage_size(std::string_view formula) {
  std::size_t count = 0;
  for (const auto& row : table::coverage) count += row.formula == formula ? 1 : 0;
  return count;
}

template <std::size_t Count>
consteval CoverageOf<Count> coverage_of(std::string_view formula) {
  CoverageOf<Count> found{};
  std::size_t at = 0;
  for (const auto& row : table::coverage)
    if (row.formula == formula) found.rows[at++] = row;
  return found;
}

/// The table's rows of one voter, known when compiled.
template <class Voter>
struct VoterCoverage {
  static constexpr auto found = coverage_of<coverage_size(Voter::id)>(Voter::id);
};

template <class Formula>
struct FormulaVoter {
  static constexpr std::string_view id = Formula::record.id;
};
struct AcmVoter {
  static constexpr std::string_view id = "acm_fe_c_shift";
};

consteval const table::ScatterRow& scatter_of(std::string_view formula) {
  for (const auto& row : table::scatter)
    if (row.formula == formula) return row;
  throw "no scatter for this formula in critical_family_rms.csv";
}

consteval double carbon_limit() {
  for (const auto& row : table::coverage)
    if (row.formula == AcmVoter::id && row.element == static_cast<int>(Element::C)) return row.maximum;
  throw "no carbon limit for Acm in critical_coverage.csv";
}

/// Inside the voter's ranges. A minimum counts as met where the element is not stated.
template <class Voter, class Real>
inline Condition<Real> covered(const Steel<Real>& steel) {
  // The high-carbon form takes over where the linear one ends, so that Steven and Haynes have one vote.
  constexpr bool takes_over = Voter::id == published::MsStevenHaynes1956HighCarbon::record.id;
  Condition<Real> inside = steel.w.C == steel.w.C;
  const auto test = [&]<std::size_t K>() {
    constexpr table::CoverageRow row = VoterCoverage<Voter>::found.rows[K];
    constexpr auto element = static_cast<Element>(row.element);
    const Real& amount = steel.w[element];
    if constexpr (row.minimum > 0.0) {
      static_assert(element == Element::C || element == Element::Mn,
                    "a minimum on another element needs its not-stated mask");
      if constexpr (element == Element::Mn)
        inside = inside & ((amount >= Real(row.minimum)) | steel.absent.Mn);
      else if constexpr (takes_over)
        inside = inside & (amount > Real(row.minimum));
      else
        inside = inside & (amount >= Real(row.minimum));
    }
    if constexpr (row.maximum <= 100.0) inside = inside & (amount <= Real(row.maximum));
  };
  [&]<std::size_t... K>(std::index_sequence<K...>) {
    (test.template operator()<K>(), ...);
  }(std::make_index_sequence<std::size(VoterCoverage<Voter>::found.rows)>{});
  return inside;
}

/// Scatter of a formula in the family of each steel, K^2.
template <class Formula, class Real>
inline Real scatter_square(const Real& family) {
  constexpr table::ScatterRow row = scatter_of(Formula::record.id);
  Real square = Real(row.family[families_with_safe_formulas - 1] * row.family[families_with_safe_formulas - 1]);
  for (std::size_t f = families_with_safe_formulas - 1; f-- > 0;)
    if (row.family[f] != row.family[f + 1])
      square = select(family <= Real(static_cast<double>(f)), Real(row.family[f] * row.family[f]), square);
  return square;
}

/// The steel with the usual residuals where nickel, chromium, molybdenum and copper were not stated.
template <class Real>
inline WeightPercent<Real> with_residuals(const Steel<Real>& steel) {
  const auto usual = [](Element e) { return Real(tables::usual_residual_wt_pct[index(e)]); };
  WeightPercent<Real> w = steel.w;
  w.Cr = select(steel.absent.Cr, w.Cr + usual(Element::Cr), w.Cr);
  w.Ni = select(steel.absent.Ni, w.Ni + usual(Element::Ni), w.Ni);
  w.Mo = select(steel.absent.Mo, w.Mo + usual(Element::Mo), w.Mo);
  w.Cu = select(steel.absent.Cu, w.Cu + usual(Element::Cu), w.Cu);
  return w;
}

template <class Real>
inline WeightPercent<Dual<Real, voting_count>> with_slopes(const WeightPercent<Real>& w) {
  using Slopes = Dual<Real, voting_count>;
  WeightPercent<Slopes> out;
  for_each_element([&](Element e) {
    int direction = -1;
    for (int k = 0; k < voting_count; ++k)
      if (voting_elements[k] == e) direction = k;
    out[e] = Slopes(w[e], direction);
  });
  return out;
}

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

}  // namespace detail

/// What the quantities of one steel share.
template <class Real>
struct Shared {
  Real family;
  Condition<Real> safe;
  Condition<Real> hyper;
  Bits<Real> blank;  // flags of a steel for which nothing can be said
};

template <bool Absent, class Real>
inline Shared<Real> shared_of(const Steel<Real>& steel) {
  Real total = steel.w.C;
  for_each_element([&](Element e) {
    if (e != Element::C) total = total + steel.w[e];
  });
  const Condition<Real> numbers = total == total;  // a NaN anywhere makes the sum NaN
  Condition<Real> usable = numbers;
  Shared<Real> s;
  s.blank = {};
  if constexpr (Absent) {
    usable = numbers & !steel.absent.C;
    s.blank.say(steel.absent.C, Flag::carbon_not_stated);
  }
  s.family = family_number(steel.w);
  s.safe = usable & (s.family < Real(static_cast<double>(families_with_safe_formulas)));
  s.hyper = steel.w.C > eutectoid_carbon(steel.w);
  s.blank.say(!numbers, Flag::nan_input);
  s.blank.say(usable & !s.safe, Flag::no_formula_safe);
  return s;
}

/// Assumed residuals widen the band by what they would move; they never move the value.
template <class Real>
inline void widen(Answer<Real>& a, const Real& delta, const Condition<Real>& where) {
  const Real size = select(delta < Real(0.0), -delta, delta);
  const Condition<Real> matters = where & (size > Real(table::residual_matters));
  a.shift = select(matters, size, Real(0.0));
  a.bits.say(matters, Flag::residual_assumed);
}

/// One vote a lineage, weight 1/(s^2 + spread^2); averaging is not taken to shrink the scatter.
template <bool Widths, bool Absent, class Real, class... Formulas>
inline Answer<Real> join(published::FormulaList<Formulas...>, const Steel<Real>& steel, const Shared<Real>& shared) {
  constexpr std::size_t count = sizeof...(Formulas);
  const Real zero(0.0);
  const Real one(1.0);
  const Real vote[count] = {published::evaluate<Formulas>(steel.w)...};
  const Real square[count] = {detail::scatter_square<Formulas>(shared.family)...};
  const Condition<Real> covers[count] = {
      Condition<Real>(shared.safe & detail::covered<detail::FormulaVoter<Formulas>>(steel))...};
  constexpr bool remembered[count] = {(Formulas::record.status == published::Status::memory)...};

  Real counted[count];
  Real term[count];
  Condition<Real> any_remembered = zero < zero;
  for (std::size_t k = 0; k < count; ++k) {
    counted[k] = select(covers[k], one, zero);
    term[k] = select(covers[k], vote[k], zero);
    if (remembered[k]) any_remembered = any_remembered | covers[k];
  }
  const Real n = detail::sum<count>(counted);
  const Real mean = detail::sum<count>(term) / larger(n, one);
  for (std::size_t k = 0; k < count; ++k) {
    const Real away = vote[k] - mean;
    term[k] = select(covers[k], away * away, zero);
  }
  const Real spread = detail::sum<count>(term) / larger(n - 1.0, one);

  Real weight[count];
  for (std::size_t k = 0; k < count; ++k) weight[k] = select(covers[k], 1.0 / (square[k] + spread), zero);
  const Real per_weight = 1.0 / detail::sum<count>(weight);  // infinite where nothing covers: the value is then NaN
  for (std::size_t k = 0; k < count; ++k) term[k] = select(covers[k], weight[k] * vote[k], zero);
  Answer<Real> a;
  a.value = detail::sum<count>(term) * per_weight;
  for (std::size_t k = 0; k < count; ++k) term[k] = weight[k] * square[k];
  a.square_formula = (table::normal_90 * table::normal_90) * (detail::sum<count>(term) * per_weight + spread);
  a.square_composition = zero;
  a.shift = zero;
  a.bits = shared.blank;
  a.bits.say(shared.safe & (n < Real(0.5)), Flag::outside_range);
  a.bits.say((n > Real(0.5)) & (n < Real(1.5)), Flag::single_formula);
  a.bits.say(spread > Real(table::wide_spread * table::wide_spread), Flag::wide_spread);
  a.bits.say(any_remembered, Flag::from_memory);

  if constexpr (Widths) {
    const auto seeded = detail::with_slopes(steel.w);
    Real slope[voting_count];
    for (Real& s : slope) s = zero;
    const auto add = [&]<class Formula>(std::size_t k) {
      const Dual<Real, voting_count> d = published::evaluate<Formula>(seeded);
      const Real share = weight[k] * per_weight;
      for (int i = 0; i < voting_count; ++i) slope[i] = slope[i] + select(covers[k], share * d.slope[i], zero);
    };
    std::size_t k = 0;
    (add.template operator()<Formulas>(k++), ...);
    Real variance = zero;
    for (int i = 0; i < voting_count; ++i) {
      const Real moved = slope[i] * steel.half_width[i];
      variance = variance + moved * moved;
    }
    a.square_composition = (table::normal_90 * table::normal_90 / 3.0) * variance;
  }
  if constexpr (Absent) {
    const WeightPercent<Real> residual = detail::with_residuals(steel);
    const Real moved[count] = {published::evaluate<Formulas>(residual)...};
    for (std::size_t k = 0; k < count; ++k) term[k] = select(covers[k], weight[k] * (moved[k] - vote[k]), zero);
    widen(a, detail::sum<count>(term) * per_weight, shared.safe);
  }
  return a;
}

namespace detail {

template <class Real>
struct Saturation {
  Real temperature;
  Real slope;  // d(carbon)/dT along the saturation line, wt %/K
};

/// The temperature at which saturated carbon, moved by the alloy, equals the steel's: four Newton steps.
template <class Real>
inline Saturation<Real> saturation(const WeightPercent<Real>& w) {
  const auto& p = tables::acm_carbon_fit.coefficients;
  const auto& q = tables::acm_temperature_fit.coefficients;
  Real a0 = -w.C;
  Real a1 = Real(0.0);
  Real a2 = Real(0.0);
  for (const auto& row : table::shift) {
    const Real& x = w[static_cast<Element>(row.element)];
    const Real xx = x * x;
    a0 = a0 + row.term[0] * x + row.term[3] * xx;
    a1 = a1 + row.term[1] * x + row.term[4] * xx;
    a2 = a2 + row.term[2] * x + row.term[5] * xx;
  }
  constexpr double carbon_from = tables::acm_temperature_fit.valid_min;
  constexpr double carbon_to = carbon_limit();  // as far as the shift table reaches
  const Real start = smaller(larger(w.C, Real(carbon_from)), Real(carbon_to));
  Saturation<Real> s{((q[3] * start + q[2]) * start + q[1]) * start + q[0], Real(0.0)};
  for (int step = 0; step < 4; ++step) {
    const Real T = s.temperature;
    const Real t = (T - 850.0) * 0.01;
    s.slope = ((3.0 * p[3]) * T + 2.0 * p[2]) * T + p[1] + (a1 + 2.0 * a2 * t) * 0.01;
    const Real error = ((p[3] * T + p[2]) * T + p[1]) * T + p[0] + (a2 * t + a1) * t + a0;
    s.temperature = T - error / s.slope;
  }
  return s;
}

}  // namespace detail

/// Acm from iron-carbon saturation and the alloy shifts.
template <bool Widths, bool Absent, class Real>
inline Answer<Real> join_acm(const Steel<Real>& steel, const Shared<Real>& shared) {
  Answer<Real> a;
  a.value = Real(NAN);
  a.square_formula = Real(0.0);
  a.square_composition = Real(0.0);
  a.shift = Real(0.0);
  a.bits = shared.blank;
  const Condition<Real> asked = shared.safe & shared.hyper;
  if (!any(asked)) return a;
  const detail::Saturation<Real> s = detail::saturation(steel.w);
  const Condition<Real> inside = asked & detail::covered<detail::AcmVoter>(steel) &
                                 (s.temperature >= Real(table::acm_lowest)) &
                                 (s.temperature <= Real(table::acm_highest));
  const Real carbon = select(shared.family == Real(static_cast<double>(Family::plain_hyper)),
                             Real(table::acm_carbon_plain), Real(table::acm_carbon_alloyed));
  a.value = select(inside, s.temperature, a.value);
  a.square_formula = (carbon * carbon) / (s.slope * s.slope);
  a.bits.say(asked & !inside, Flag::outside_range);
  a.bits.say(inside, Flag::single_formula);
  if constexpr (Widths) {
    const Real t = (s.temperature - 850.0) * 0.01;
    Real variance = steel.half_width[0] * steel.half_width[0];
    for (const auto& row : table::shift)
      for (int k = 1; k < voting_count; ++k)
        if (index(voting_elements[k]) == static_cast<std::size_t>(row.element)) {
          const Real twice = 2.0 * steel.w[voting_elements[k]];
          const Real per_wt = row.term[0] + row.term[3] * twice +
                              (row.term[1] + row.term[4] * twice + (row.term[2] + row.term[5] * twice) * t) * t;
          variance = variance + per_wt * per_wt * steel.half_width[k] * steel.half_width[k];
        }
    a.square_composition = (table::normal_90 * table::normal_90 / 3.0) * variance / (s.slope * s.slope);
  }
  if constexpr (Absent) widen(a, detail::saturation(detail::with_residuals(steel)).temperature - s.temperature, inside);
  return a;
}

/// Ac3 and Acm exist on one side of the eutectoid only, and never below Ac1.
template <class Real>
inline void one_side(Answer<Real>& a, const Real& ac1, const Condition<Real>& wrong_side, const Shared<Real>& shared) {
  const Condition<Real> below = a.value < ac1;
  a.bits.say(below, Flag::clamped_to_ac1);
  Bits<Real> only;
  only.say(shared.safe, Flag::not_applicable);
  a.bits = Bits<Real>::choose(shared.safe & wrong_side, only, a.bits);
  a.value = select(wrong_side, Real(NAN), select(below, ac1, a.value));
}

/// Ms less a fixed offset, where Steven and Haynes cover the steel.
template <class Real>
inline Answer<Real> join_mf(const Steel<Real>& steel, const Shared<Real>& shared, const Answer<Real>& ms) {
  const Condition<Real> has = shared.safe &
                              detail::covered<detail::FormulaVoter<published::MfStevenHaynes1956>>(steel) &
                              (ms.value == ms.value);
  Answer<Real> a = ms;
  a.value = select(has, ms.value - table::mf_offset, Real(NAN));
  const double offset = table::normal_90 * table::mf_offset_scatter;
  const Real half_ms = sqrt(ms.square_formula + ms.square_composition) + ms.shift;
  a.square_formula = half_ms * half_ms - ms.square_composition + offset * offset;
  a.shift = Real(0.0);
  Bits<Real> own = ms.bits;
  own.say(has, Flag::single_formula);
  own.say(has, Flag::from_memory);
  Bits<Real> none = shared.blank;
  none.say(shared.safe, Flag::outside_range);
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
  mf = join_mf(steel, shared, ms);
  bs = join<Widths, Absent>(BsVotes{}, steel, shared);
  say_bulk(ms, shared);
  say_bulk(mf, shared);
  say_bulk(bs, shared);
}

}  // namespace decalesce::critical
