#pragma once
// Soak, at the depth of the screen: heat-up, then equalize, then hold, each apart. Nothing is computed along a history
// here (heating/heat_up.hpp does that): heat-up is read between stored computed cases by volume over surface, hold is
// the published or common rule of the family; from a 6 mm blade to a 25 mm bar it grows from one rule to the other.
// Published rules stand beside the answer; some include the heat-up and some do not, which is why they contradict one
// another.
#include <array>
#include <cmath>
#include <cstdint>
#include <string_view>
#include <vector>

#include "ground/composition.hpp"
#include "ground/estimate.hpp"
#include "ground/section.hpp"
#include "laws/family.hpp"

namespace decalesce::heating {

enum class Furnace : std::uint8_t { still_electric, forced_air, gas_fired, neutral_salt, fluidized_bed };
inline constexpr std::array<std::string_view, 5> furnace_names{"still_electric", "forced_air", "gas_fired",
                                                               "neutral_salt", "fluidized_bed"};

/// One published rule, for this section: row of `tables::soak_rules`, seconds.
struct RuleBeside {
  std::size_t row = 0;
  double low_s = 0.0;
  double high_s = 0.0;
  bool includes_heat_up = false;
};

struct Soak {
  Estimate heat_up_s;
  Estimate equalize_s;
  Estimate hold_s;
  std::size_t hold_rule = 0;   // row of `tables::soak_rules` the hold comes from, or of the two the nearer one
  double preheat_low_C = NAN;  // NaN where no preheat is called for
  double preheat_high_C = NAN;
};

/// Why nothing can be told of a section: nan_input, impossible_input or size_impossible; empty where something can.
Flags unusable(const Section& section);

/// Time from loading a cold piece until all of it is within 10 K of the furnace, which is at temperature when loaded.
/// From stored cases at 850 degC and a stored factor for the set point (degC, 780 to 1200, its ends held; NaN: 850), up
/// to 12.5 mm of volume over surface (25 mm plate, 50 mm round); flagged `thick_section` beyond. The band holds real
/// loads. A wedge is taken as a plate as thick as its spine.
Estimate heat_through(const Section& section, Furnace furnace, double set_point_C = NAN);

/// The soak of a steel. Its family decides the hold; `no_model` where no rule speaks for it.
Soak soak(const Section& section, const Composition& steel, Furnace furnace, double set_point_C = NAN);

/// The published rules that speak of a soak, a hold or a heat-up of such a piece.
std::vector<RuleBeside> rules_beside(const Section& section, const Composition& steel, Furnace furnace);

enum class SoakCheck : std::uint8_t { too_short, fits, long_soak, far_too_long, not_known };
inline constexpr std::array<std::string_view, 5> soak_check_names{"too_short", "fits", "long", "far_too_long",
                                                                  "not_known"};

/// A time from loading to quench, s, against the soak that is due.
SoakCheck check_soak(double time_s, const Soak& due);

}  // namespace decalesce::heating
