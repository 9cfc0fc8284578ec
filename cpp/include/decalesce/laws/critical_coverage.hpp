#pragma once
// Which voters cover a steel, and how far each scatters in its family: the tables, turned into code while compiling.
#include <array>
#include <cstddef>
#include <iterator>
#include <string_view>

#include "critical_votes.hpp"
#include "family.hpp"

namespace decalesce::critical {

namespace table = tables::critical;

template <class Formula>
struct FormulaVoter {
  static constexpr std::string_view id = Formula::record.id;
};
struct AcmVoter {
  static constexpr std::string_view id = "acm_fe_c_shift";
};

namespace detail {

template <std::size_t Count>
struct CoverageOf {
  table::CoverageRow rows[Count];
};

constexpr std::size_t coverage_size(std::string_view formula) {
  std::size_t count = 0;
  for (const auto& row : table::coverage) count += row.formula == formula ? 1 : 0;
  return count;
}

template <std::size_t Count>
constexpr CoverageOf<Count> coverage_of(std::string_view formula) {
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

constexpr const table::ScatterRow& scatter_of(std::string_view formula) {
  for (const auto& row : table::scatter)
    if (row.formula == formula) return row;
  throw "no scatter for this formula in critical_family_rms.csv";
}

/// An upper limit, wt %.
struct Limit {
  int element;
  double maximum;
  constexpr bool states(const table::CoverageRow& row) const {
    return row.element == element && row.maximum == maximum && row.minimum <= 0.0;
  }
};

constexpr std::size_t voters() {
  std::size_t count = 1;
  for (std::size_t k = 1; k < std::size(table::coverage); ++k)
    count += table::coverage[k].formula != table::coverage[k - 1].formula ? 1 : 0;
  return count;
}

/// How many voters have the upper limit of each row; 0 where the row states none, or an earlier row the same. One pass,
/// because a compiler may stop after a million steps.
constexpr auto voters_with_limit() {
  std::array<std::size_t, std::size(table::coverage)> count{};
  for (std::size_t k = 0; k < count.size(); ++k) {
    const Limit limit{table::coverage[k].element, table::coverage[k].maximum};
    std::size_t first = 0;
    while (first < k && !limit.states(table::coverage[first])) ++first;
    if (limit.states(table::coverage[first])) ++count[first];
  }
  return count;
}

constexpr std::size_t common_limit_count() {
  const std::size_t all = voters();
  std::size_t common = 0;
  for (std::size_t with : voters_with_limit()) common += 2 * with > all ? 1 : 0;
  return common;
}

/// The limits that most voters share, the commonest first: tested once a steel, not once a voter.
constexpr auto find_common_limits() {
  std::array<Limit, common_limit_count()> found{};
  const auto with = voters_with_limit();
  std::size_t count = 0;
  for (std::size_t wanted = voters(); count < found.size(); --wanted)
    for (std::size_t k = 0; k < with.size(); ++k)
      if (with[k] == wanted) found[count++] = {table::coverage[k].element, table::coverage[k].maximum};
  return found;
}
inline constexpr auto common_limits = find_common_limits();

/// How many of the common limits, counted from the first, are all limits of this voter.
template <class Voter>
constexpr std::size_t leading_common_limits() {
  std::size_t leading = 0;
  for (const Limit& limit : common_limits) {
    bool stated = false;
    for (const auto& row : VoterCoverage<Voter>::found.rows) stated = stated || limit.states(row);
    if (!stated) return leading;
    ++leading;
  }
  return leading;
}

constexpr bool among_common_limits(const table::CoverageRow& row, std::size_t leading) {
  bool among = false;
  for (std::size_t k = 0; k < leading; ++k) among = among || common_limits[k].states(row);
  return among;
}

/// A steel of a safe family has less than this of each alloying element, so that a wider limit needs no test.
constexpr bool implied_by_safe(const table::CoverageRow& row) {
  bool alloying = false;
  for (Element e : alloying_elements) alloying = alloying || static_cast<int>(e) == row.element;
  return alloying && row.minimum <= 0.0 && row.maximum >= table::austenitic_other_largest_at_least;
}

}  // namespace detail

/// What the quantities of one steel share.
template <class Real>
struct Shared {
  static constexpr std::size_t steps = detail::common_limits.size() + 1;
  Real family;
  Condition<Real> hyper;
  /// [k]: the family is safe, all amounts are usable, and the first k common limits are kept.
  Condition<Real> within[steps];
  Bits<Real> blank;  // flags of a steel for which nothing can be said

  const Condition<Real>& safe() const { return within[0]; }
};

template <bool Absent, class Real>
inline Shared<Real> shared_of(const Steel<Real>& steel) {
  const WeightPercent<Real>& w = steel.w;
  // a NaN anywhere makes the sum NaN
  const Real total = alloy_content(w) + ((w.C + w.Nb) + (w.Ti + w.N)) + ((w.B + w.P) + (w.S + w.As) + w.Sn);
  const Condition<Real> numbers = total == total;
  Condition<Real> usable = numbers;
  Shared<Real> s;
  s.blank = {};
  if constexpr (Absent) {
    usable = numbers & !steel.absent.C;
    s.blank.say(steel.absent.C, Flag::carbon_not_stated);
  }
  s.family = family_number(w);
  const Condition<Real> formula_safe = s.family < Real(static_cast<double>(families_with_safe_formulas));
  s.within[0] = usable & formula_safe;
  written_out<detail::common_limits.size()>([&]<std::size_t K>() {
    constexpr detail::Limit limit = detail::common_limits[K];
    s.within[K + 1] = s.within[K] & (w[static_cast<Element>(limit.element)] <= Real(limit.maximum));
  });
  s.hyper = w.C > eutectoid_carbon(w);
  s.blank.say(!numbers, Flag::nan_input);
  s.blank.say(usable & !formula_safe, Flag::no_formula_safe);
  return s;
}

namespace detail {

/// Of a safe family and inside the voter's ranges. A minimum counts as met where the element is not stated.
template <class Voter, bool Absent, class Real>
inline Condition<Real> covered(const Steel<Real>& steel, const Shared<Real>& shared) {
  // The high-carbon form takes over where the linear one ends, so that Steven and Haynes have one vote.
  constexpr bool takes_over = Voter::id == published::MsStevenHaynes1956HighCarbon::record.id;
  constexpr std::size_t leading = leading_common_limits<Voter>();
  Condition<Real> inside = shared.within[leading];
  written_out<std::size(VoterCoverage<Voter>::found.rows)>([&]<std::size_t K>() {
    constexpr table::CoverageRow row = VoterCoverage<Voter>::found.rows[K];
    constexpr auto element = static_cast<Element>(row.element);
    const Real& amount = steel.w[element];
    if constexpr (row.minimum > 0.0) {
      static_assert(element == Element::C || element == Element::Mn,
                    "a minimum on another element needs its not-stated mask");
      if constexpr (element == Element::Mn && Absent)
        inside = inside & ((amount >= Real(row.minimum)) | steel.absent.Mn);
      else if constexpr (takes_over && element == Element::C)
        inside = inside & (amount > Real(row.minimum));
      else
        inside = inside & (amount >= Real(row.minimum));
    }
    if constexpr (row.maximum <= 100.0 && !among_common_limits(row, leading) && !implied_by_safe(row))
      inside = inside & (amount <= Real(row.maximum));
  });
  return inside;
}

/// The scatter met in most families.
constexpr double usual_scatter(const table::ScatterRow& row) {
  std::size_t usual = 0;
  std::size_t most = 0;
  for (std::size_t f = 0; f < families_with_safe_formulas; ++f) {
    std::size_t same = 0;
    for (double other : row.family) same += other == row.family[f] ? 1 : 0;
    if (same > most) {
      most = same;
      usual = f;
    }
  }
  return row.family[usual];
}

/// Scatter of a formula in the family of each steel, K^2.
template <class Formula, class Real>
inline Real scatter_square(const Real& family) {
  constexpr table::ScatterRow row = scatter_of(Formula::record.id);
  constexpr double usual = usual_scatter(row);
  Real square = Real(usual * usual);
  for (std::size_t f = 0; f < families_with_safe_formulas; ++f)
    if (row.family[f] != usual)
      square = select(family == Real(static_cast<double>(f)), Real(row.family[f] * row.family[f]), square);
  return square;
}

}  // namespace detail

}  // namespace decalesce::critical
