#pragma once
// The question the other way round: which temper for a wanted hardness.
#include "hardness.hpp"

namespace decalesce::temper {

struct Setting {
  Estimate temperature_C = Estimate::missing(Unit::celsius, {});
  double hardness_HRC = NAN;  // that the model gives at this temper
  double stays_from_C = NAN;  // tempers from here ...
  double stays_to_C = NAN;    // ... to here stay within one reading, 1 HRC, of the target
  double coolest_C = NAN;     // the coolest temper the model knows for this time, never below 100, and its hardness
  double hardest_HRC = NAN;
  double hottest_C = NAN;  // the hottest below Ac1, the grid's end and 20 HRC, and its hardness
  double softest_HRC = NAN;
};

/// The temper of `total_s` seconds that leaves `target_HRC`; where a range of tempers does, its hot end. The band holds
/// the tempers between which the target lies inside the hardness band; `band_clipped` where the model ends first,
/// `embrittlement_range` where the tempers that stay within one reading reach into the range that embrittles
/// martensite, `reversible_embrittlement` where they reach into that of a steel that embrittles on slow cooling
/// (`embrittles_back`), `barely_tempered` close below the as-quenched hardness. NaN with `target_above_reach` or
/// `target_below_reach` where no temper does it.
Setting temperature_for(const Temperable& steel, double target_HRC, double total_s, bool embrittles_back = false);

}  // namespace decalesce::temper
