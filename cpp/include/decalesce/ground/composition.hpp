#pragma once
// The chemistry of one steel: amounts, how each became known, and how far each may be off.
#include <array>

#include "element.hpp"
#include "weight_percent.hpp"

namespace decalesce {

namespace composition_detail {
constexpr std::array<Stated, element_count> all_not_stated() {
  std::array<Stated, element_count> s{};
  s.fill(Stated::not_stated);
  return s;
}
}  // namespace composition_detail

struct Composition {
  WeightPercent<double> amount{};
  std::array<Stated, element_count> stated = composition_detail::all_not_stated();
  /// Half-width of each amount, wt %: what the certificate's digits or the grade's limits leave open.
  std::array<double, element_count> half_width{};

  constexpr Composition& set(Element e, double wt, Stated how = Stated::measured, double half = 0.0) {
    amount[e] = wt;
    stated[index(e)] = how;
    half_width[index(e)] = half;
    return *this;
  }

  constexpr double total() const {
    double sum = 0.0;
    for_each_element([&](Element e) { sum += amount[e]; });
    return sum;
  }

  /// Bit k set where element k was not stated.
  constexpr std::uint32_t not_stated_bits() const {
    std::uint32_t bits = 0;
    for (std::size_t k = 0; k < element_count; ++k)
      if (stated[k] == Stated::not_stated) bits |= std::uint32_t{1} << k;
    return bits;
  }

  constexpr bool has_half_width() const {
    for (double h : half_width)
      if (h != 0.0) return true;
    return false;
  }

  friend constexpr bool operator==(const Composition&, const Composition&) = default;
};

}  // namespace decalesce
