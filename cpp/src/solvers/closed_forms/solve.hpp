#pragma once
// Roots and special functions shared by the closed forms.
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>

namespace decalesce::conduction::closed {

inline constexpr double nan = std::numeric_limits<double>::quiet_NaN();
inline constexpr int root_bits = 52;
inline constexpr double sqrt_pi = 1.0 / std::numbers::inv_sqrtpi;

/// The root between two ends where f has unlike signs. Where rounding hides that, the end where f is smaller.
template <class Function>
double root_between(const Function& f, double low, double high) {
  const double at_low = f(low);
  const double at_high = f(high);
  if (std::isnan(at_low) || std::isnan(at_high)) return nan;
  if (std::signbit(at_low) == std::signbit(at_high) || at_low == 0.0 || at_high == 0.0)
    return std::abs(at_low) < std::abs(at_high) ? low : high;
  std::uintmax_t iterations = 300;
  const auto [a, b] = boost::math::tools::toms748_solve(
      f, low, high, at_low, at_high, boost::math::tools::eps_tolerance<double>(root_bits), iterations);
  return a + 0.5 * (b - a);
}

/// The positive x at which a falling f passes 0, looked for from a guess. 0 where f is below 0 everywhere, NaN where it
/// never falls so far.
template <class Function>
double falling_root(const Function& f, double guess) {
  constexpr double widen = 4.0;
  if (std::isnan(f(guess))) return nan;
  double low = guess;
  double high = guess;
  while (f(low) < 0.0) {
    high = low;
    low /= widen;
    if (low < std::numeric_limits<double>::min()) return 0.0;
  }
  while (f(high) > 0.0) {
    low = high;
    high *= widen;
    if (high > std::numeric_limits<double>::max()) return nan;
  }
  return low == high ? low : root_between(f, low, high);
}

/// exp(x^2) erfc(x), without overflow for any x that is not far below 0.
double scaled_erfc(double x);

/// What a film passes on to a depth, per unit of b: [erfc(e) - exp(-e^2) scaled_erfc(e + b)] / b, with
/// e = x / (2 sqrt(alpha t)) and b = h sqrt(alpha t) / k; smooth through b = 0, where it is 2 ierfc(e).
double film_per_b(double e, double b);

/// How far the surface of a half space lags behind its film, on average over the time so far: the mean of
/// scaled_erfc(b), which is 2 / (b sqrt(pi)) - (1 - scaled_erfc(b)) / b^2.
double surface_lag(double b);

}  // namespace decalesce::conduction::closed
