#include "decalesce/thermal/en1993.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "decalesce/tables/thermal.hpp"

namespace decalesce::thermal {

namespace {

namespace t = tables::thermal;
using Branch = t::ThermalBranch;

/// The branch a temperature belongs to: where two meet the hotter one, beyond the ends the nearest.
template <std::size_t N>
std::size_t branch_of(const std::array<Branch, N>& branches, double T) {
  std::size_t k = 0;
  while (k + 1 < N && T >= branches[k].high_C) ++k;
  return k;
}

double value(const Branch& b, double T) {
  const double pole = b.pole_numerator == 0.0 ? 0.0 : b.pole_numerator / (T - b.pole_C);
  return b.c0 + T * (b.c1 + T * (b.c2 + T * b.c3)) + pole;
}

/// Antiderivative of `value`.
double integral(const Branch& b, double T) {
  const double pole = b.pole_numerator == 0.0 ? 0.0 : b.pole_numerator * std::log(std::abs(T - b.pole_C));
  return T * (b.c0 + T * (b.c1 / 2.0 + T * (b.c2 / 3.0 + T * b.c3 / 4.0))) + pole;
}

double integral(const Branch& b, double from, double to) { return integral(b, to) - integral(b, from); }

/// A sum over pieces, each in closed form, so that a narrow peak costs no accuracy.
template <std::size_t N>
double enthalpy(const std::array<Branch, N>& branches, double T) {
  const std::size_t own = branch_of(branches, T);
  double sum = 0.0;
  for (std::size_t k = 0; k < own; ++k) sum += integral(branches[k], branches[k].low_C, branches[k].high_C);
  return sum + integral(branches[own], branches[own].low_C, T);
}

template <std::size_t K, std::size_t C>
Point point(const std::array<Branch, K>& conductivity, const std::array<Branch, C>& capacity, double T) {
  if (std::isnan(T)) return {T, T, T};
  return {value(conductivity[branch_of(conductivity, T)], T), value(capacity[branch_of(capacity, T)], T),
          enthalpy(capacity, T)};
}

}  // namespace

Point en1993_carbon(double temperature_C) {
  return point(t::en1993_carbon_conductivity, t::en1993_carbon_heat_capacity, temperature_C);
}

Point en1993_stainless(double temperature_C) {
  return point(t::en1993_stainless_conductivity, t::en1993_stainless_heat_capacity, temperature_C);
}

Point ferrite_and_carbide(double temperature_C) {
  namespace c = t::constants;
  const double T = temperature_C;
  const double conductivity = value(t::en1993_carbon_conductivity.front(), T);
  const Branch& capacity = t::en1993_carbon_heat_capacity.front();
  if (!(T > c::curie)) return {conductivity, value(capacity, T), integral(capacity, capacity.low_C, T)};
  static const double peak = value(capacity, c::curie);
  static const double peak_enthalpy = integral(capacity, capacity.low_C, c::curie);
  constexpr double span = c::ferrite_from - c::curie;
  const double fallen = std::min((T - c::curie) / span, 1.0);
  const double drop = peak - c::ferrite_heat_capacity;
  return {conductivity, peak - fallen * drop,
          peak_enthalpy + fallen * span * (peak - 0.5 * fallen * drop) +
              std::max(T - c::ferrite_from, 0.0) * c::ferrite_heat_capacity};
}

Point austenite(double temperature_C) {
  constexpr double hot = t::constants::austenite_from;
  if (temperature_C >= hot) return en1993_carbon(temperature_C);
  static const Point top = en1993_carbon(hot);
  static const Point bottom = en1993_stainless(en1993_low_C);
  constexpr double span = hot - en1993_low_C;
  const double below = hot - temperature_C;
  const double slope = (top.heat_capacity_J_kgK - bottom.heat_capacity_J_kgK) / span;
  return {top.conductivity_W_mK - below * (top.conductivity_W_mK - bottom.conductivity_W_mK) / span,
          top.heat_capacity_J_kgK - below * slope,
          top.enthalpy_J_kg - below * (top.heat_capacity_J_kgK - 0.5 * below * slope)};
}

}  // namespace decalesce::thermal
