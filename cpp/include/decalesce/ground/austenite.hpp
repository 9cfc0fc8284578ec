#pragma once
// The steel as it goes into the quench: what is in solution, which carbide is left, how coarse the grain is.
#include <array>
#include <cstdint>
#include <string_view>

#include "composition.hpp"

namespace decalesce {

enum class AusteniteMade : std::uint8_t { all_dissolved, at_equilibrium, dissolved_along_a_history, screen_rule };
inline constexpr std::array<std::string_view, 4> austenite_made_names{"all_dissolved", "at_equilibrium",
                                                                      "dissolved_along_a_history", "screen_rule"};

struct Austenite {
  Composition in_solution;
  double cementite_wt = 0.0;      // M3C left
  double alloy_carbide_wt = 0.0;  // M7C3, M23C6, M6C and MC left
  double grain_um = 0.0;
  double carbon_half_width = 0.0;  // of the carbon in solution, wt %
  AusteniteMade made = AusteniteMade::all_dissolved;
  friend constexpr bool operator==(const Austenite&, const Austenite&) = default;
};

}  // namespace decalesce
