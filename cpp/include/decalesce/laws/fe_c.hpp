#pragma once
// Carbon that austenite can hold beside cementite, and how much cementite a given carbon leaves.
// Iron-carbon line from the assessed Gibbs energies, moved by the alloy that is IN the austenite. [Gustafson1985,
// computed]
#include <cmath>

#include "../ground/weight_percent.hpp"
#include "../tables/austenitize_rules.hpp"
#include "../tables/critical.hpp"
#include "../tables/fe_c_fits.hpp"

namespace decalesce::fe_c {

/// Carbon of austenite saturated with cementite, wt %, at a temperature (degC). The line holds from 727 to 1148 degC,
/// the alloy's part from 750 to 1000 degC and up to 2 % of each element. Accuracy 0.03 wt % plain, 0.06 alloyed.
inline double saturated_carbon(double temperature_C, const WeightPercent<double>& in_austenite) {
  const auto& p = tables::acm_carbon_fit.coefficients;
  const double T = temperature_C;
  const double t = (T - 850.0) * 0.01;  // the variable the shift was fitted in
  double carbon = ((p[3] * T + p[2]) * T + p[1]) * T + p[0];
  for (const auto& row : tables::critical::shift) {
    const double x = in_austenite[static_cast<Element>(row.element)];
    const auto& a = row.term;
    carbon += ((a[0] + a[1] * t + a[2] * t * t) + (a[3] + a[4] * t + a[5] * t * t) * x) * x;
  }
  return carbon;
}

/// Whether the line and its shift were made for this temperature.
inline bool in_range(double temperature_C) {
  return temperature_C >= tables::critical::acm_lowest && temperature_C <= tables::critical::acm_highest;
}

/// Cementite left, as a fraction of the weight, when the austenite holds less carbon than there is.
inline double cementite_fraction(double carbon, double carbon_in_austenite) {
  if (!(carbon > carbon_in_austenite)) return std::isnan(carbon + carbon_in_austenite) ? NAN : 0.0;
  return (carbon - carbon_in_austenite) / (tables::austenitize_rules::cementite_carbon - carbon_in_austenite);
}

}  // namespace decalesce::fe_c
