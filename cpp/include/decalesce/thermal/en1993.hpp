#pragma once
// Thermal properties of steel as EN 1993-1-2 prints them: carbon steel with the peak at 735 degC that stands in for the
// transformation of a structural steel, and the austenitic stainless steels of annex C. [EN_1993_1_2]
// Coefficients: data/tables/thermal_en1993.csv.

namespace decalesce::thermal {

struct Point {
  double conductivity_W_mK;
  double heat_capacity_J_kgK;
  double enthalpy_J_kg;  // 0 for cold steel of 20 degC; the exact integral of the heat capacity
};

/// The limits of the standard; beyond them the nearest branch is read on, and whoever asks has to say so.
inline constexpr double en1993_low_C = 20.0;
inline constexpr double en1993_high_C = 1200.0;

/// Carbon steel. The branches meet within 0.4 J/kgK at 900 degC and exactly elsewhere. NaN in, NaN out.
Point en1993_carbon(double temperature_C);

/// Austenitic stainless steel, annex C. NaN in, NaN out.
Point en1993_stainless(double temperature_C);

/// Ferrite and carbide without any transformation: the first branch of carbon steel, read on above 600 degC to the
/// Curie temperature of iron, from there straight down to the heat capacity of iron at 911 degC. [derived; the last
/// from memory]
Point ferrite_and_carbide(double temperature_C);

/// Austenite of ferritic steels, with the enthalpy of carbon steel above 900 degC: from there up the standard's own
/// values; below, where austenite is met on the way to Ac3 and again undercooled on the way to Ms, straight lines to
/// the annex C values of 20 degC. Enthalpy counts from cold ferrite, so that heating and cooling meet. [derived]
Point austenite(double temperature_C);

}  // namespace decalesce::thermal
