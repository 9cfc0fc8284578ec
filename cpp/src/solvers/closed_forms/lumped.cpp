#include "decalesce/solvers/conduction/lumped.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>

#include "decalesce/ground/physical_constants.hpp"
#include "solve.hpp"

namespace decalesce::conduction::closed {

namespace {

bool sensible(double length, double volumetric_heat) { return length > 0.0 && volumetric_heat > 0.0; }
bool sensible(const Surroundings& s) {
  return s.film >= 0.0 && s.emissivity >= 0.0 && s.emissivity <= 1.0 && s.gas >= 0.0 && s.walls >= 0.0 &&
         s.film + s.emissivity > 0.0 && std::isfinite(s.film);
}

/// Film and radiation as one coefficient on the distance from the steady temperature, W/m2K.
double coefficient(double steady, double temperature, const Surroundings& s) {
  return s.film +
         s.emissivity * stefan_boltzmann * (steady * steady + temperature * temperature) * (steady + temperature);
}

}  // namespace

double biot_number(double film, double length, double conductivity) {
  if (!(film >= 0.0) || !(length > 0.0) || !(conductivity > 0.0)) return nan;
  return film * length / conductivity;
}

Limit what_limits(double biot) {
  if (!(biot >= 0.0)) return Limit::unknown;
  if (biot < lumped_greatest_biot) return Limit::film;
  return biot > 1.0 / lumped_greatest_biot ? Limit::conduction : Limit::both;
}

std::string_view limit_sentence(Limit limit) {
  switch (limit) {
    case Limit::film:
      return "The film limits the heating: the piece is nearly even inside, and a livelier furnace or bath would heat "
             "it "
             "faster.";
    case Limit::both:
      return "Film and conduction both limit the heating: the middle lags behind the surface, so wait for it.";
    case Limit::conduction:
      return "Conduction limits the heating: the surface follows the furnace and the middle lags far behind; only "
             "time, "
             "or a thinner section, helps.";
    case Limit::unknown: break;
  }
  return "What limits the heating is not known: the Biot number could not be formed.";
}

double lumped_theta(double time, double length, double film, double volumetric_heat) {
  if (!(time >= 0.0) || !(film >= 0.0) || !sensible(length, volumetric_heat)) return nan;
  return std::exp(-film * time / (volumetric_heat * length));
}

double lumped_time(double theta, double length, double film, double volumetric_heat) {
  if (!(theta > 0.0 && theta <= 1.0) || !(film > 0.0) || !sensible(length, volumetric_heat)) return nan;
  return -std::log(theta) * volumetric_heat * length / film;
}

double steady_temperature(const Surroundings& around) {
  if (!sensible(around)) return nan;
  if (around.gas == around.walls) return around.gas;
  const auto gain = [&](double T) {
    return around.film * (around.gas - T) +
           around.emissivity * stefan_boltzmann * (std::pow(around.walls, 4) - std::pow(T, 4));
  };
  return root_between(gain, std::min(around.gas, around.walls), std::max(around.gas, around.walls));
}

double lumped_radiation_time(double start, double target, double length, double volumetric_heat,
                             const Surroundings& around) {
  const double steady = steady_temperature(around);
  if (!(start >= 0.0) || !sensible(length, volumetric_heat) || std::isnan(steady)) return nan;
  const double from = std::abs(steady - start);
  const double to = std::abs(steady - target);
  const bool same_side = (steady - start) * (steady - target) > 0.0;
  if (target == start) return 0.0;
  if (!same_side || !(to <= from)) return nan;
  // Against the logarithm of what is left the rest is smooth, also close to the steady temperature.
  const double side = start < steady ? -1.0 : 1.0;
  const auto per_log = [&](double log_left) {
    return 1.0 / coefficient(steady, steady + side * std::exp(log_left), around);
  };
  constexpr unsigned deepest = 12;
  constexpr double tolerance = 1e-12;
  return volumetric_heat * length *
         boost::math::quadrature::gauss_kronrod<double, 31>::integrate(per_log, std::log(to), std::log(from), deepest,
                                                                       tolerance);
}

double lumped_radiation_temperature(double start, double time, double length, double volumetric_heat,
                                    const Surroundings& around) {
  const double steady = steady_temperature(around);
  if (!(start >= 0.0) || !(time >= 0.0) || !sensible(length, volumetric_heat) || std::isnan(steady)) return nan;
  if (start == steady || time == 0.0) return start;
  // Looked for as the logarithm of the share that is left, which no faster and no slower coefficient can leave.
  const double at_start = coefficient(steady, start, around);
  const double at_steady = coefficient(steady, steady, around);
  const double pace = time / (volumetric_heat * length);
  const double least = std::min(at_start, at_steady) * pace;
  const double greatest = std::max(at_start, at_steady) * pace;
  const auto temperature = [&](double logs) { return steady + (start - steady) * std::exp(-logs); };
  constexpr double nothing_left = 36.0;  // exp(-36) of the difference is below rounding
  if (least > nothing_left) return steady;
  const auto late = [&](double logs) {
    return lumped_radiation_time(start, temperature(logs), length, volumetric_heat, around) - time;
  };
  return temperature(root_between(late, least, std::min(greatest, nothing_left)));
}

double radiation_only_time(double start, double target, double length, double volumetric_heat, double emissivity,
                           double walls) {
  if (!(start >= 0.0) || !(target >= 0.0) || !(walls > 0.0) || !(emissivity > 0.0 && emissivity <= 1.0) ||
      !sensible(length, volumetric_heat))
    return nan;
  if (!((walls - start) * (walls - target) > 0.0) || std::abs(walls - target) > std::abs(walls - start)) return nan;
  const auto part = [&](double T) {
    return std::log(std::abs((walls + T) / (walls - T))) + 2.0 * std::atan(T / walls);
  };
  return volumetric_heat * length / (4.0 * emissivity * stefan_boltzmann * walls * walls * walls) *
         (part(target) - part(start));
}

}  // namespace decalesce::conduction::closed
