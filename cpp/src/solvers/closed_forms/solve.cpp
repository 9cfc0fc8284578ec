#include "solve.hpp"

#include <boost/math/special_functions/erf.hpp>

namespace decalesce::conduction::closed {

namespace {

/// Below this |b| the power series in b keeps more digits than the difference it stands for.
constexpr double small_b = 0.05;

}  // namespace

double scaled_erfc(double x) {
  constexpr double asymptotic_from = 10.0;
  if (x < asymptotic_from) return std::exp(x * x) * std::erfc(x);
  if (std::isinf(x)) return 0.0;
  // 1 - 1/(2 x^2) + 1*3/(2 x^2)^2 - ..., whose terms shrink below rounding long before they grow again.
  const double q = 1.0 / (2.0 * x * x);
  double part = 1.0;
  double sum = 1.0;
  for (int n = 1; std::abs(part) > std::numeric_limits<double>::epsilon() * sum; ++n) {
    part *= -(2.0 * n - 1.0) * q;
    sum += part;
  }
  return sum / (x * sqrt_pi);
}

double film_per_b(double e, double b) {
  if (std::abs(b) > small_b) return (std::erfc(e) - std::exp(-e * e) * scaled_erfc(e + b)) / b;
  // Minus the sum of (-2)^n b^(n-1) i^n erfc(e) from n = 1, by the recurrence of the repeated integrals.
  double before = 2.0 / sqrt_pi * std::exp(-e * e);
  double integral = std::erfc(e);
  double power = -1.0;
  double sum = 0.0;
  constexpr int terms = 12;
  for (int n = 1; n <= terms; ++n) {
    const double next = (0.5 * before - e * integral) / n;
    before = integral;
    integral = next;
    power *= -2.0 * (n == 1 ? 1.0 : b);
    sum += power * integral;
  }
  return sum;
}

double surface_lag(double b) {
  if (std::abs(b) > small_b) return 2.0 / (b * sqrt_pi) - (1.0 - scaled_erfc(b)) / (b * b);
  // 1 plus the sum of (-b)^n / Gamma(n/2 + 2) from n = 1.
  double power = 1.0;
  double sum = 1.0;
  constexpr int terms = 12;
  for (int n = 1; n <= terms; ++n) {
    power *= -b;
    sum += power / std::tgamma(0.5 * n + 2.0);
  }
  return sum;
}

}  // namespace decalesce::conduction::closed
