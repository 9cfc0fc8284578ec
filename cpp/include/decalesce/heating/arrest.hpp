#pragma once
// The arrest: steel takes up heat at Ac1 while it turns into austenite (decalescence), so the rise of a thermocouple in
// the work slows or stops there and then goes on, though the furnace does not change. Ac1 follows from the composition,
// so the arrest checks the sensor where it matters. On cooling the steel gives the heat back at Ar1 (recalescence);
// that is undercooled by an unknown amount and checks nothing.
//
// Method. Rates come from parabolas through the readings in a window, over a ladder of windows. Ahead of the arrest the
// rate is a straight line of temperature (a lumped body in surroundings of one temperature; a steady ramp is level);
// drawn on, it says what the rate would have been. Where it falls short of that by more than the noise allows and comes
// back within a few tens of kelvin, heat went into the steel: dT/dt = q / c with c at its peak. The corner of the
// trace, a parabola meeting a straight line, is where the arrest starts. Numbers: data/tables/arrest_rules.csv.
#include <array>
#include <cmath>
#include <cstdint>
#include <span>
#include <string_view>

#include "../ground/estimate.hpp"
#include "../ground/flags.hpp"

namespace decalesce::heating {

enum class Direction : std::uint8_t { heating, cooling };

/// What a trace shows. `controller_hold`: the rate fell and came back, but the furnace did it, or may have done.
enum class Finding : std::uint8_t { arrest, no_arrest, too_fast, too_noisy, not_reached, controller_hold };
inline constexpr std::array<std::string_view, 6> finding_names{"arrest",    "no_arrest",   "too_fast",
                                                               "too_noisy", "not_reached", "controller_hold"};

/// Readings of a thermocouple in the work, and of one in the furnace beside it where there is one (else empty).
struct Logged {
  std::span<const double> times_s;
  std::span<const double> work_C;  // NaN where a reading is missing
  std::span<const double> furnace_C{};
};

/// Where the arrest is looked for, in readings of the sensor; NaN stands for the table's range of the direction.
struct Between {
  double low_C = NAN;
  double high_C = NAN;
};

struct Arrest {
  Finding finding = Finding::no_arrest;
  Direction direction = Direction::heating;
  Estimate start_C{};  // where the branches meet; 90 % band of noise, sampling and how round the corner is
  double start_s = NAN;
  double plateau_C = NAN;  // where the rate is least
  double end_C = NAN;
  double duration_s = NAN;
  double rate_before_K_s = NAN;  // drawn on to the arrest
  double rate_at_K_s = NAN;
  double rate_after_K_s = NAN;
  double excess_K = NAN;            // heating that the arrest swallowed
  double noise_K = NAN;             // standard deviation of one reading
  double spacing_s = NAN;           // middle time between readings
  double difference_start_K = NAN;  // furnace less work, where the arrest starts
  double difference_least_K = NAN;  // and the least of it until the rate is back
  Flags flags{};

  bool found() const { return finding == Finding::arrest; }
};

/// The arrest of a trace. Throws std::invalid_argument for lengths that differ, fewer than 12 readings that can be
/// used, times that do not increase, or an empty range.
Arrest find_arrest(const Logged& trace, Direction direction = Direction::heating, Between range = {});

/// A sensor against the computed Ac1.
enum class SensorVerdict : std::uint8_t { agrees, reads_high, reads_low, not_checked };
inline constexpr std::array<std::string_view, 4> sensor_verdict_names{"agrees", "reads_high", "reads_low",
                                                                      "not_checked"};

struct SensorCheck {
  SensorVerdict verdict = SensorVerdict::not_checked;
  Estimate bias_K{};  // start of the arrest less Ac1; the band joins both
};

/// `not_checked`, with the reason in the flags, for no arrest, a cooling trace or an Ac1 that is not known.
SensorCheck check_sensor(const Arrest& arrest, const Estimate& ac1);

}  // namespace decalesce::heating
