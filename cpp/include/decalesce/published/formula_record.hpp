#pragma once
// What is known about a published formula besides its text: where it stands, where it holds, how well it does.
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "../ground/element.hpp"
#include "../ground/scalar.hpp"
#include "../ground/units.hpp"
#include "../ground/weight_percent.hpp"
#include "../tables/citations.hpp"

namespace decalesce::published {

using tables::Citation;

enum class Quantity : std::uint8_t { Ac1, Ae1, Ac3, Ae3, Acm, Ar3, Ms, Mf, M90, Bs, Bf, alpha };
inline constexpr std::array<std::string_view, 12> quantity_names{"Ac1", "Ae1", "Ac3", "Ae3", "Acm", "Ar3",
                                                                 "Ms",  "Mf",  "M90", "Bs",  "Bf",  "alpha"};

/// How a value was seen by the people who entered it here. Only the first two may be called published.
enum class Status : std::uint8_t { two_pages, page, memory, computed, derived };
inline constexpr std::array<std::string_view, 5> status_names{"two-pages", "page", "memory", "computed", "derived"};

/// Formulas of one lineage are near copies or refits of the same data: together they have one vote.
enum class Lineage : std::uint8_t {
  andrews,
  barbier,
  bodnar,
  bodnar_taylor,
  bott_pickering,
  capdevila,
  carapella,
  eichelman_hull,
  eldis,
  grange,
  grange_stewart,
  hougardy,
  ishida,
  kirkaldy,
  koistinen_marburger,
  kunitake,
  lee_2002,
  lee_park,
  ouchi,
  park,
  payson,
  steven_haynes,
  suehiro,
  sverdlin_ness,
  tamura,
  trzaska,
  van_bohemen,
  yurioka,
  zhao,
};
inline constexpr std::array<std::string_view, 29> lineage_names{
    "andrews",        "barbier",       "bodnar",         "bodnar_taylor", "bott_pickering",
    "capdevila",      "carapella",     "eichelman_hull", "eldis",         "grange",
    "grange_stewart", "hougardy",      "ishida",         "kirkaldy",      "koistinen_marburger",
    "kunitake",       "lee_2002",      "lee_park",       "ouchi",         "park",
    "payson",         "steven_haynes", "suehiro",        "sverdlin_ness", "tamura",
    "trzaska",        "van_bohemen",   "yurioka",        "zhao"};
inline constexpr std::size_t lineage_count = lineage_names.size();

struct Range {
  Element element;
  double minimum;
  double maximum;
};

/// The element ranges a formula was made for; `known` false means the paper's range was never seen.
struct Ranges {
  static constexpr std::size_t capacity = 12;
  bool known = false;
  bool from_memory = false;
  std::size_t count = 0;
  std::array<Range, capacity> range{};

  static constexpr Ranges unknown() { return {}; }

  template <class... R>
  static constexpr Ranges stated(R... r) {
    static_assert(sizeof...(R) <= capacity);
    return {true, false, sizeof...(R), {r...}};
  }
  template <class... R>
  static constexpr Ranges remembered(R... r) {
    static_assert(sizeof...(R) <= capacity);
    return {true, true, sizeof...(R), {r...}};
  }
};

/// What a formula needs beyond the composition.
enum class Needs : std::uint8_t { composition, thickness_mm, grain_um, Ms, Bs, Ms_and_rate };

inline constexpr double unknown = NAN;

struct FormulaRecord {
  std::string_view id;
  Quantity quantity;
  Citation citation;
  Lineage lineage;
  Ranges ranges;
  double standard_error_K;  // one standard deviation; `unknown` where the paper's figure was never seen
  Unit unit;                // unit of the formula's own text
  Status status;
  Needs needs = Needs::composition;
  std::string_view note = {};

  /// Whether the composition lies inside the published ranges. False where the range is unknown, and for NaN.
  template <class Real>
  constexpr auto covers(const WeightPercent<Real>& w) const {
    auto inside = Real(ranges.known ? 1.0 : 0.0) > Real(0.5);
    for (std::size_t k = 0; k < ranges.count; ++k) {
      const Range& r = ranges.range[k];
      inside = inside & (w[r.element] >= Real(r.minimum)) & (w[r.element] <= Real(r.maximum));
    }
    return inside;
  }
};

/// The formula's answer in degC (1/K for a rate), whatever unit its paper prints.
template <class Formula, Scalar Real>
constexpr Real evaluate(const WeightPercent<Real>& w, const Given<Real>& given = {}) {
  const Real printed = Formula{}(w, given);
  if constexpr (Formula::record.unit == Unit::fahrenheit) return celsius_from_fahrenheit(printed);
  if constexpr (Formula::record.unit == Unit::kelvin) return celsius_from_kelvin(printed);
  return printed;
}

/// The formulas of one quantity; registry, batch loop, catalogue and documents are made from it.
template <class... Formulas>
struct FormulaList {
  static constexpr std::size_t size = sizeof...(Formulas);

  /// Calls `visit.template operator()<Formula>()` for each formula in order.
  template <class Visit>
  static constexpr void for_each(Visit&& visit) {
    (visit.template operator()<Formulas>(), ...);
  }
};

}  // namespace decalesce::published
