#pragma once
// The temper parameter: one number for temperature and time together. Two tempers with the same parameter soften a
// steel alike, below Ac1 and while the mechanism stays the same.
//
//   P = T (C + log10 t) / 1000     T in K, t in hours, C the constant for hours    [HollomonJaffe1945]
//
// The constant is always the one for hours; for seconds the same law has C - 3.556.
#include <array>
#include <cmath>
#include <cstdint>
#include <string_view>

#include "../ground/estimate.hpp"
#include "../tables/temper_constants.hpp"

namespace decalesce::temper {

inline constexpr double seconds_per_hour = 3600.0;
/// P18 of Grange and Baughman is in thousand degrees Rankine.
inline constexpr double rankine_per_kelvin = 1.8;

enum class ConstantRule : std::uint8_t { practice, grange_baughman, carbon_dependent, own };
inline constexpr std::array<std::string_view, 4> constant_rule_names{"practice", "grange_baughman", "carbon_dependent",
                                                                     "own"};

/// A constant for hours, and where it comes from.
struct Constant {
  double hours = NAN;
  ConstantRule rule = ConstantRule::own;
  Flags flags{};
  Sources sources{};
};

inline Constant own_constant(double hours) { return {hours, ConstantRule::own, {}, {}}; }

/// One of the published constants. Carbon (wt %) decides the third and checks the range of the others; NaN: not given.
inline Constant published_constant(ConstantRule rule, double carbon = NAN) {
  const tables::TemperConstant& row = tables::temper_constants[static_cast<std::size_t>(rule)];
  Constant c{row.constant_hours + (row.carbon_slope == 0.0 ? 0.0 : row.carbon_slope * carbon), rule, {}, row.source};
  if (row.status == "memory") c.flags |= Flag::from_memory;
  if (carbon < row.C_min || carbon > row.C_max) c.flags |= Flag::outside_range;
  if (std::isnan(c.hours)) c.flags |= Flag::input_not_given;
  return c;
}

/// NaN for a time of zero or less, or so short that the law has no meaning.
inline double parameter_kK(double temperature_C, double time_s, double constant_hours) {
  const double bracket = constant_hours + std::log10(time_s / seconds_per_hour);
  const double kelvin = kelvin_from_celsius(temperature_C);
  return time_s > 0.0 && bracket > 0.0 && kelvin > 0.0 ? kelvin * bracket / 1000.0 : NAN;
}

/// Temperature that gives this parameter in a time.
inline double equivalent_temperature_C(double parameter, double time_s, double constant_hours) {
  const double bracket = constant_hours + std::log10(time_s / seconds_per_hour);
  return time_s > 0.0 && bracket > 0.0 ? celsius_from_kelvin(1000.0 * parameter / bracket) : NAN;
}

/// Time that gives this parameter at a temperature.
inline double equivalent_time_s(double parameter, double temperature_C, double constant_hours) {
  const double kelvin = kelvin_from_celsius(temperature_C);
  if (!(kelvin > 0.0)) return NAN;
  return std::pow(10.0, 1000.0 * parameter / kelvin - constant_hours) * seconds_per_hour;
}

/// The Grange-Baughman parameter, constant 18, thousand degrees Rankine. [GrangeBaughman1956]
inline double parameter_P18(double temperature_C, double time_s) {
  return rankine_per_kelvin *
         parameter_kK(temperature_C, time_s, tables::temper_constant_grange_baughman.constant_hours);
}

}  // namespace decalesce::temper
