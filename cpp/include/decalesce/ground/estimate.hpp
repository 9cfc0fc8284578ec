#pragma once
// A number with an honest band: nine of ten measurements on bars described as this one is should fall inside.
#include <array>
#include <bitset>
#include <cmath>
#include <cstdint>
#include <string_view>

#include "../tables/citations.hpp"
#include "flags.hpp"
#include "units.hpp"

namespace decalesce {

using tables::Citation;

/// Where a half-width comes from. Only the plan joins parts of different stages: their errors are correlated.
enum class Part : std::uint8_t { formula, composition, temperature, time, table };
inline constexpr std::size_t part_count = 5;
inline constexpr std::array<std::string_view, part_count> part_names{"formula", "composition", "temperature", "time",
                                                                     "table"};

using Parts = std::array<double, part_count>;

/// The published sources an answer rests on.
class Sources {
 public:
  Sources() = default;
  Sources(Citation c) { add(c); }  // implicit on purpose
  Sources& add(Citation c) {
    bits_.set(static_cast<std::size_t>(c));
    return *this;
  }
  Sources& operator|=(const Sources& other) {
    bits_ |= other.bits_;
    return *this;
  }
  bool has(Citation c) const { return bits_.test(static_cast<std::size_t>(c)); }
  friend bool operator==(const Sources&, const Sources&) = default;

 private:
  std::bitset<tables::citation_entries.size()> bits_;
};

struct Estimate {
  double value = NAN;
  double low = NAN;
  double high = NAN;
  Unit unit = Unit::none;
  Flags flags{};
  Parts parts{};
  Sources sources{};

  /// Independent parts add in quadrature into a symmetric band about the value.
  static Estimate banded(double value, const Parts& parts, Unit unit, Flags flags, const Sources& sources) {
    double square = 0.0;
    for (double p : parts) square += p * p;
    const double half = std::sqrt(square);
    return {value, value - half, value + half, unit, flags, parts, sources};
  }
  static Estimate missing(Unit unit, Flags why) {
    Estimate e;
    e.unit = unit;
    e.flags = why;
    return e;
  }

  double half_width() const { return 0.5 * (high - low); }
};

}  // namespace decalesce
