#pragma once
// What a steel needs to be heated: enthalpy and conductivity against temperature, and a density, in the arrays that the
// conduction solver takes. The transformation heat sits at the steel's own Ac1 and Ac3, not at 735 degC for every
// alloy.
//
// How the heat is placed. Ferrite and carbide follow the smooth first branch of EN 1993-1-2, read on; austenite has the
// enthalpy the standard gives above 900 degC. What lies between the two lines at a temperature is the heat of
// transformation there (79.7 kJ/kg at 727 degC; remembered for a eutectoid steel: 77 to 85). A steel goes from the
// first line to the second: the share that was pearlite in a few kelvin from Ac1 on, the rest evenly up to Ac3. So a
// structural steel has the standard's own enthalpy from 900 degC up, and within 1 % at 850 degC, without its peak.
#include <cmath>
#include <cstddef>
#include <string_view>
#include <vector>

#include "../ground/estimate.hpp"
#include "../ground/flags.hpp"
#include "en1993.hpp"

namespace decalesce::thermal {

/// Where the transformation of a steel lies. NaN where something is not known: the family's usual value is taken and
/// `from_memory` flagged.
struct Transformation {
  double Ac1_C = NAN;
  double end_C = NAN;             // Ac3 or, in hypereutectoid steel, Acm
  double carbon_wt_pct = NAN;     // of the steel
  double eutectoid_wt_pct = NAN;  // carbon of this steel's eutectoid
};

/// Piecewise properties of one steel; all vectors have one length, temperature and enthalpy increase strictly.
struct Steel {
  std::vector<double> temperature_C;  // 20 to 1250; 0.25 K apart near the eutectoid arrest, 5 K at most elsewhere
  std::vector<double> enthalpy_J_kg;  // from cold steel of 20 degC
  std::vector<double> conductivity_W_mK;
  double density_kg_m3 = NAN;            // of cold steel, as sizes are measured cold and mass does not change
  double conductivity_half_width = NAN;  // relative, 90 %
  double enthalpy_half_width = NAN;      // relative, 90 %: the same for every heat capacity
  double density_half_width = NAN;       // relative, 90 %
  double transformation_J_kg = 0.0;      // heat that the transformation adds, 0 without one
  double Ac1_C = NAN;                    // where it was put
  double end_C = NAN;
  double low_C = en1993_low_C;  // outside this range values are read on
  double high_C = en1993_high_C;
  std::string_view family;  // row of tables::thermal::families, or the name of the reference case
  Flags flags;
  Sources sources;

  /// Closed form, not read from the grid. Outside 20 to 1250 degC read on; NaN in, NaN out.
  Point at(double T_C) const { return form(T_C, *this); }

  /// How `at` answers; set by the functions below, with what it needs beside.
  Point (*form)(double, const Steel&) = nullptr;
  std::size_t family_row = 0;      // of tables::thermal::families
  double eutectoid_share = 0.0;    // transforms at Ac1
  double carbide_heat_J_kg = 0.0;  // of carbide that dissolves from there to Acm
};

/// A steel of a family on the way up. `family` is one of laws/family.hpp by name (this room knows no law).
/// Throws std::invalid_argument for a family without a row in data/tables/thermal_families.csv.
Steel heating(std::string_view family, const Transformation& where = {});

/// The same steel after austenitizing: austenite from the top down to Ms, without any transformation; below Ms read on
/// and no longer true. Meets `heating` in enthalpy and conductivity above the end of its transformation.
Steel cooling(std::string_view family, double Ms_C);

/// EN 1993-1-2 with its own peak, for reference cases.
Steel en1993_heating();

/// Annex C of the standard, for reference cases.
Steel en1993_stainless_heating();

/// Constant properties, for textbook cases. Throws std::invalid_argument unless all three are above zero.
Steel constant(double conductivity_W_mK, double heat_capacity_J_kgK, double density_kg_m3);

}  // namespace decalesce::thermal
