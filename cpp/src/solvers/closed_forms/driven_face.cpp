#include "decalesce/solvers/conduction/driven_face.hpp"

#include <complex>

#include "solve.hpp"

namespace decalesce::conduction::closed {

using std::numbers::pi;

double sine_face(double depth, double time, double thickness, double period, double diffusivity) {
  if (!(thickness > 0.0) || !(depth >= 0.0 && depth <= thickness) || !(time >= 0.0) || !(period > 0.0) ||
      !(diffusivity > 0.0))
    return nan;
  if (time == 0.0) return 0.0;
  const double omega = 2.0 * pi / period;
  // sinh(q (L - x)) / sinh(q L) by falling exponentials, so that a thick plate does not overflow.
  const std::complex<double> q = std::sqrt(std::complex<double>(0.0, omega / diffusivity));
  const std::complex<double> share =
      std::exp(-q * depth) * (1.0 - std::exp(-2.0 * q * (thickness - depth))) / (1.0 - std::exp(-2.0 * q * thickness));
  double total = std::imag(std::polar(1.0, omega * time) * share);
  constexpr double vanished = 40.0;
  constexpr int most_terms = 20000;
  for (int n = 1; n <= most_terms; ++n) {
    const double number = n * pi / thickness;
    const double rate = diffusivity * number * number;
    if (rate * time > vanished) break;
    total += 2.0 * omega * rate / (n * pi * (rate * rate + omega * omega)) * std::exp(-rate * time) *
             std::sin(number * depth);
  }
  return total;
}

}  // namespace decalesce::conduction::closed
