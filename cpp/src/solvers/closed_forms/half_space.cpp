#include "decalesce/solvers/conduction/half_space.hpp"

#include <boost/math/special_functions/erf.hpp>

#include "solve.hpp"

namespace decalesce::conduction::closed {

namespace {

using std::numbers::pi;

bool sensible(double depth, double time, double diffusivity) {
  return depth >= 0.0 && time >= 0.0 && diffusivity > 0.0 && std::isfinite(diffusivity);
}
bool is_share(double share) { return share > 0.0 && share < 1.0; }

/// The depth in lengths of diffusion; far away at time 0, also from the surface, so that nothing has been felt.
double reduced(double depth, double time, double diffusivity) {
  return time == 0.0 ? std::numeric_limits<double>::infinity() : depth / (2.0 * std::sqrt(diffusivity * time));
}
/// A time at which something is felt, to start looking from.
double some_time(double depth, double diffusivity) {
  constexpr double second = 1.0;
  return depth > 0.0 ? depth * depth / diffusivity : second;
}

}  // namespace

double half_space_step(double depth, double time, double diffusivity) {
  if (!sensible(depth, time, diffusivity)) return nan;
  return std::erfc(reduced(depth, time, diffusivity));
}

double half_space_step_time(double share, double depth, double diffusivity) {
  if (!is_share(share) || !sensible(depth, 0.0, diffusivity)) return nan;
  const double e = boost::math::erfc_inv(share);
  return depth * depth / (4.0 * diffusivity * e * e);
}

double half_space_step_depth(double share, double time, double diffusivity) {
  if (!is_share(share) || !sensible(0.0, time, diffusivity)) return nan;
  return 2.0 * std::sqrt(diffusivity * time) * boost::math::erfc_inv(share);
}

double half_space_film(double depth, double time, double film, double conductivity, double diffusivity) {
  if (!sensible(depth, time, diffusivity) || !(film >= 0.0) || !(conductivity > 0.0)) return nan;
  if (std::isinf(film)) return half_space_step(depth, time, diffusivity);
  if (time == 0.0 || film == 0.0) return 0.0;
  const double b = film * std::sqrt(diffusivity * time) / conductivity;
  return b * film_per_b(reduced(depth, time, diffusivity), b);
}

double half_space_film_time(double share, double depth, double film, double conductivity, double diffusivity) {
  if (!is_share(share) || !sensible(depth, 0.0, diffusivity) || !(film > 0.0) || !(conductivity > 0.0)) return nan;
  return falling_root(
      [&](double time) { return share - half_space_film(depth, time, film, conductivity, diffusivity); },
      some_time(depth, diffusivity));
}

double half_space_flux(double depth, double time, double flux, double conductivity, double diffusivity) {
  if (!sensible(depth, time, diffusivity) || !(conductivity > 0.0)) return nan;
  if (time == 0.0) return 0.0;
  const double e = reduced(depth, time, diffusivity);
  return flux / conductivity * (2.0 * std::sqrt(diffusivity * time / pi) * std::exp(-e * e) - depth * std::erfc(e));
}

double half_space_flux_time(double rise, double depth, double flux, double conductivity, double diffusivity) {
  if (!(rise / flux > 0.0) || !sensible(depth, 0.0, diffusivity) || !(conductivity > 0.0)) return nan;
  return falling_root(
      [&](double time) { return rise / flux - half_space_flux(depth, time, 1.0, conductivity, diffusivity); },
      some_time(depth, diffusivity));
}

double half_space_pulse(double depth, double time, double energy, double volumetric_heat, double diffusivity) {
  if (!sensible(depth, time, diffusivity) || !(volumetric_heat > 0.0)) return nan;
  if (time == 0.0) return depth > 0.0 ? 0.0 : nan;
  const double e = reduced(depth, time, diffusivity);
  return energy / (volumetric_heat * std::sqrt(pi * diffusivity * time)) * std::exp(-e * e);
}

double half_space_pulse_time(double rise, double depth, double energy, double volumetric_heat, double diffusivity) {
  if (!(rise / energy > 0.0) || !sensible(depth, 0.0, diffusivity) || !(volumetric_heat > 0.0)) return nan;
  const double hottest = depth * depth / (2.0 * diffusivity);
  const auto excess = [&](double time) {
    return half_space_pulse(depth, time, 1.0, volumetric_heat, diffusivity) - rise / energy;
  };
  if (depth > 0.0 && excess(hottest) < 0.0) return nan;
  return falling_root(excess, depth > 0.0 ? hottest : some_time(depth, diffusivity));
}

Wave half_space_wave(double depth, double period, double diffusivity) {
  if (!sensible(depth, 0.0, diffusivity) || !(period > 0.0)) return {nan, nan};
  const double omega = 2.0 * pi / period;
  const double lengths = depth / std::sqrt(2.0 * diffusivity / omega);
  return {std::exp(-lengths), lengths / omega};
}

double half_space_wave_depth(double share, double period, double diffusivity) {
  if (!is_share(share) || !sensible(0.0, 0.0, diffusivity) || !(period > 0.0)) return nan;
  return -std::log(share) * std::sqrt(diffusivity * period / pi);
}

}  // namespace decalesce::conduction::closed
