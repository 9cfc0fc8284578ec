#pragma once
// The nineteen elements a certificate may state. Iron is the balance and is never listed.
#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace decalesce {

enum class Element : std::uint8_t { C, Mn, Si, Cr, Ni, Mo, V, W, Cu, Co, Al, Nb, Ti, N, B, P, S, As, Sn };

inline constexpr std::size_t element_count = 19;

inline constexpr std::array<std::string_view, element_count> element_symbols{
    "C", "Mn", "Si", "Cr", "Ni", "Mo", "V", "W", "Cu", "Co", "Al", "Nb", "Ti", "N", "B", "P", "S", "As", "Sn"};

constexpr std::size_t index(Element e) { return static_cast<std::size_t>(e); }

constexpr std::string_view symbol(Element e) { return element_symbols[index(e)]; }

/// How an amount became known. `not_stated` is neither zero nor NaN: formulas read 0 and the answer says so.
enum class Stated : std::uint8_t { measured, below_limit, filled, not_stated };

inline constexpr std::array<std::string_view, 4> stated_names{"measured", "below_limit", "filled", "not_stated"};

}  // namespace decalesce
