#pragma once
// Temperatures are degC outside and kelvin inside; differences are K. The two conversions are never mixed.
#include <array>
#include <cstdint>
#include <string_view>

#include "physical_constants.hpp"

namespace decalesce {

enum class Unit : std::uint8_t {
  celsius,
  fahrenheit,
  kelvin,
  per_kelvin,
  difference_K,
  hrc,
  hv,
  hbw,
  wt_percent,
  fraction,
  second,
  millimetre,
  mpa,
  none
};

inline constexpr std::array<std::string_view, 14> unit_names{
    "degC", "degF", "K", "1/K", "K (difference)", "HRC", "HV", "HBW", "wt %", "fraction", "s", "mm", "MPa", ""};

template <class Real>
constexpr Real kelvin_from_celsius(const Real& t_C) {
  return t_C + zero_celsius_K;
}
template <class Real>
constexpr Real celsius_from_kelvin(const Real& t_K) {
  return t_K - zero_celsius_K;
}
template <class Real>
constexpr Real celsius_from_fahrenheit(const Real& t_F) {
  return (t_F - 32.0) / 1.8;
}
template <class Real>
constexpr Real fahrenheit_from_celsius(const Real& t_C) {
  return t_C * 1.8 + 32.0;
}
/// A difference of temperature, not a temperature: 27 degF of swing is 15 K.
template <class Real>
constexpr Real difference_K_from_difference_F(const Real& d_F) {
  return d_F / 1.8;
}
template <class Real>
constexpr Real difference_F_from_difference_K(const Real& d_K) {
  return d_K * 1.8;
}

}  // namespace decalesce
