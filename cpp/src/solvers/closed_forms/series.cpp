#include "decalesce/solvers/conduction/series.hpp"

#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/sinc.hpp>
#include <cstddef>

#include "solve.hpp"

namespace decalesce::conduction::closed {

namespace {

using std::numbers::pi;
// Doubles stay doubles: the library would do its work in long double otherwise.
constexpr auto in_double = boost::math::policies::policy<boost::math::policies::promote_double<false>>();

double j0(double x) { return boost::math::cyl_bessel_j(0, x, in_double); }
double j1(double x) { return boost::math::cyl_bessel_j(1, x, in_double); }
double j0_zero(int n) { return boost::math::cyl_bessel_j_zero(0.0, n, in_double); }
double j1_zero(int n) { return boost::math::cyl_bessel_j_zero(1.0, n, in_double); }
double sine_over(double x) { return boost::math::sinc_pi(x, in_double); }

/// sin z - z cos z, also where both parts are nearly alike.
double sine_less_cosine(double z) {
  constexpr double alike = 0.5;
  return z < alike ? z * z * boost::math::sph_bessel(1, z, in_double) : std::sin(z) - z * std::cos(z);
}

/// The exponent beyond which a term no longer shows beside the first.
constexpr double vanished = 40.0;
/// (dimensions - 1) / 2: 0, 1/2, 1. With theta times r to this power all three bodies become plates, but for a small
/// part of the cylinder.
double half_curvature(Body body) { return 0.5 * static_cast<double>(body); }
double dimensions(Body body) { return 1.0 + static_cast<double>(body); }

double plate_root(double biot, int n) {
  const double low = n * pi;
  const double high = low + 0.5 * pi;
  if (std::isinf(biot)) return high;
  return root_between([&](double z) { return z * std::sin(z) - biot * std::cos(z); }, low, high);
}

double cylinder_root(double biot, int n) {
  const double high = j0_zero(n + 1);
  if (std::isinf(biot)) return high;
  const double low = n == 0 ? 0.0 : j1_zero(n);
  return root_between([&](double z) { return z * j1(z) - biot * j0(z); }, low, high);
}

double sphere_root(double biot, int n) {
  if (std::isinf(biot)) return (n + 1) * pi;
  const auto f = [&](double z) { return biot * sine_over(z) - (z > 0.0 ? sine_less_cosine(z) / z : 0.0); };
  // Bi = 1 has its roots at the odd multiples of pi / 2.
  const double middle = (n + 0.5) * pi;
  return biot < 1.0 ? root_between(f, n * pi, middle) : root_between(f, middle, (n + 1) * pi);
}

double coefficient(Body body, double z) {
  if (z == 0.0) return 1.0;
  if (body == Body::plate) return 4.0 * std::sin(z) / (2.0 * z + std::sin(2.0 * z));
  if (body == Body::cylinder) {
    const double a = j0(z);
    const double b = j1(z);
    return 2.0 * b / (z * (a * a + b * b));
  }
  // 4 (sin z - z cos z) / (2 z - sin 2z), with the denominator written so that small z keeps its digits.
  const double g = sine_less_cosine(z);
  const double s = std::sin(z);
  return 2.0 * g / (z * s * s - g * std::cos(z));
}

}  // namespace

Term term(Body body, double biot, int n) {
  if (!(biot >= 0.0) || n < 0) return {nan, nan};
  if (biot == 0.0 && n == 0) return {0.0, 1.0};
  const double root = body == Body::plate      ? plate_root(biot, n)
                      : body == Body::cylinder ? cylinder_root(biot, n)
                                               : sphere_root(biot, n);
  return {root, coefficient(body, root)};
}

Series::Series(Body body, double biot) : body_(body), biot_(biot) {}

const Term& Series::at(int n) {
  while (static_cast<int>(terms_.size()) <= n) terms_.push_back(term(body_, biot_, static_cast<int>(terms_.size())));
  return terms_[static_cast<std::size_t>(n)];
}

double Series::shape(double root, double position) const {
  const double x = root * position;
  return body_ == Body::plate ? std::cos(x) : body_ == Body::cylinder ? j0(x) : sine_over(x);
}

double Series::shape_mean(double root) const {
  if (root == 0.0) return 1.0;
  if (body_ == Body::plate) return sine_over(root);
  if (body_ == Body::cylinder) return 2.0 * j1(root) / root;
  return 3.0 * sine_less_cosine(root) / (root * root * root);
}

template <class Factor>
double Series::sum(double fourier, const Factor& factor) {
  const double first = at(0).root;
  double total = 0.0;
  for (int n = 0;; ++n) {
    const Term t = at(n);
    if ((t.root * t.root - first * first) * fourier > vanished) return total;
    total += t.coefficient * std::exp(-t.root * t.root * fourier) * factor(t.root);
  }
}

double Series::early_theta(double fourier, double position) const {
  const double root_fourier = std::sqrt(fourier);
  const double e = (1.0 - position) / (2.0 * root_fourier);
  const double curvature = half_curvature(body_);
  double felt = 0.0;
  if (std::isinf(biot_)) {
    felt = std::erfc(e);
  } else {
    felt = biot_ * root_fourier * film_per_b(e, (biot_ - curvature) * root_fourier);
  }
  return felt == 0.0 ? 1.0 : 1.0 - felt / std::pow(position, curvature);
}

double Series::early_loss(double fourier) const {
  const double curvature = half_curvature(body_);
  const double root_fourier = std::sqrt(fourier);
  if (std::isinf(biot_)) return dimensions(body_) * (2.0 * root_fourier / sqrt_pi - curvature * fourier);
  // The flux through the surface, Bi theta there, added up: with beta = Bi - curvature the mean of theta at the surface
  // so far is 1 - (Bi / beta) (1 - lag) = (Bi lag - curvature) / beta.
  const double beta = biot_ - curvature;
  const double b = beta * root_fourier;
  const double lag = surface_lag(b);
  const double one_less_lag_per_beta = root_fourier * (std::abs(b) > 0.0 ? (1.0 - lag) / b : 4.0 / (3.0 * sqrt_pi));
  const double mean_surface =
      std::abs(b) < 1.0 ? 1.0 - biot_ * one_less_lag_per_beta : (biot_ * lag - curvature) / beta;
  return dimensions(body_) * biot_ * fourier * mean_surface;
}

double Series::theta(double fourier, double position) {
  const double s = std::abs(position);
  if (!(biot_ >= 0.0) || !(fourier >= 0.0) || !(s <= 1.0)) return nan;
  if (biot_ == 0.0 || fourier == 0.0) return 1.0;
  if (fourier < least_fourier) return early_theta(fourier, s);
  return sum(fourier, [&](double root) { return shape(root, s); });
}

double Series::mean(double fourier) {
  if (!(biot_ >= 0.0) || !(fourier >= 0.0)) return nan;
  if (biot_ == 0.0 || fourier == 0.0) return 1.0;
  if (fourier < least_fourier) return 1.0 - early_loss(fourier);
  return sum(fourier, [&](double root) { return shape_mean(root); });
}

OneTerm Series::one_term(double fourier, double position) {
  const double s = std::abs(position);
  if (!(biot_ >= 0.0) || !(fourier >= 0.0) || !(s <= 1.0)) return {nan, true};
  if (biot_ == 0.0) return {1.0, false};
  const Term t = at(0);
  return {t.coefficient * std::exp(-t.root * t.root * fourier) * shape(t.root, s), !(fourier > one_term_least_fourier)};
}

namespace {

/// Fo from the first term alone where that makes sense, or a moment after the start.
double first_guess(const Term& first, double factor, double wanted) {
  constexpr double soon = 1e-3;
  const double guess = std::log(first.coefficient * factor / wanted) / (first.root * first.root);
  return guess > soon ? guess : soon;
}

}  // namespace

double Series::fourier_at(double wanted, double position) {
  const double s = std::abs(position);
  if (!(biot_ > 0.0) || !(wanted > 0.0 && wanted <= 1.0) || !(s <= 1.0)) return nan;
  if (wanted == 1.0) return 0.0;
  return falling_root([&](double fourier) { return theta(fourier, s) - wanted; },
                      first_guess(at(0), shape(at(0).root, s), wanted));
}

double Series::fourier_at_mean(double wanted) {
  if (!(biot_ > 0.0) || !(wanted > 0.0 && wanted <= 1.0)) return nan;
  if (wanted == 1.0) return 0.0;
  return falling_root([&](double fourier) { return mean(fourier) - wanted; },
                      first_guess(at(0), shape_mean(at(0).root), wanted));
}

}  // namespace decalesce::conduction::closed
