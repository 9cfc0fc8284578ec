#pragma once
// Austenitizing, at the depth of the screen: how hot, and how much carbon is then in solution.
//
// Plain and low-alloy steel: carbon in solution is the carbon of the bar, or what austenite can hold beside cementite,
// whichever is less. With more than half a per cent of chromium the carbide of the annealed bar keeps its chromium for
// hours, so a shop soak stays behind equilibrium by a stored amount that fades with the clock of chromium diffusion;
// above 1.7 %Cr the answer is flagged.
// High-alloy steel: computed equilibria of twelve steels; a steel that is near none of them has no answer.
#include <array>
#include <cstdint>
#include <string_view>

#include "ground/austenite.hpp"
#include "ground/estimate.hpp"
#include "ground/history.hpp"

namespace decalesce::austenite {

/// What the carbon in solution needs to know of a history.
struct Soak {
  double peak_C = 0.0;
  double metal_clock = 0.0;  // time in units of the time chromium needs to leave the carbide
};

Soak soak_of(const History& history);
Soak soak_at(double temperature_C, double hold_s);

struct Dissolved {
  Austenite austenite;
  Estimate carbon;  // in solution, wt %
};

/// What is in solution after a soak. NaN carbon where there is no answer; `carbon.flags` then say why.
Dissolved dissolve(const Composition& steel, const Soak& soak);

/// Why the window lies where it lies.
enum class Reason : std::uint8_t { above_ac3, above_ac1, all_carbon_dissolved, carbide_kept, no_rule };
struct ReasonText {
  std::string_view id;
  std::string_view sentence;
};
inline constexpr std::array<ReasonText, 5> reason_texts{{
    {"above_ac3", "The aim lies above Ac3, where the last ferrite goes."},
    {"above_ac1", "The aim lies far enough above Ac1 that pearlite turns to austenite in minutes and evenly."},
    {"all_carbon_dissolved", "All carbon goes into solution: the aim lies above Acm, where the last cementite goes."},
    {"carbide_kept",
     "Some cementite is kept on purpose: more carbon in solution would retain austenite and let the grain grow."},
    {"no_rule", "No rule from composition is safe for this steel; use the grade's published hardening temperature."},
}};

/// Austenitizing temperatures, degC.
struct Window {
  Estimate coolest;  // recommended low end
  Estimate aim;
  Estimate hottest;           // recommended high end
  std::uint32_t reasons = 0;  // bit k for Reason k

  bool has(Reason r) const { return (reasons & (1U << static_cast<unsigned>(r))) != 0; }
};

/// The window from composition alone. Families: plain and low-alloy, silicon spring and bearing steel; the others have
/// no rule here. The middle of a published window is met within 15 K in 0.70 of the fitted ones and 0.76 of those held
/// out; plain steel above the eutectoid, held out, in one of five, 20 to 30 K too hot (data/fit/austenitize_rules.md).
Window window(const Composition& steel);

}  // namespace decalesce::austenite
