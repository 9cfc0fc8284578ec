#pragma once
// What heat-up and cooling in air share: one piece, its properties, and the same piece with one of them at an end of
// its range.
#include <array>
#include <functional>
#include <utility>

#include "decalesce/heating/heat_up.hpp"

namespace decalesce::heating {

/// What decides how fast a piece follows its surroundings; the last two are factors on the properties of the steel.
struct Conditions {
  double film_W_m2K;
  double emissivity;
  double enthalpy = 1.0;
  double conductivity = 1.0;
};

Conditions middle(const thermal::Film& film);

/// Film and grey radiation together, W/m2K, between a piece and surroundings, degC.
double whole_film(const Conditions& conditions, double piece_C, double surroundings_C);

conduction::Material material(const thermal::Steel& steel, const Conditions& conditions);

/// Number of cells that leaves less than 0.2 % in the time, in a piece that radiation or gas heats.
int enough_cells(const Section& section);

/// The body whose answers give the shares of the band: itself along one direction; for bodies of two and three a plate
/// with the same volume over surface, since only ratios of times are wanted.
conduction::Mesh body_of_the_band(const conduction::Mesh& mesh);

/// Family, Ac1 and its end from the laws; what no formula knows is left to the family.
struct Placed {
  std::string_view family;
  thermal::Transformation where;
  double Ms_C = NAN;
};
Placed place(const Composition& steel);

/// Why there can be no answer, whatever the furnace.
Flags refusal(const Composition& steel);

/// When the first of a piece is there, and when all of it is, s.
struct Times {
  double first_s;
  double last_s;
};

/// Times at the middle conditions, with each one alone at its low and high end, and with neighbours that leave the
/// piece so many times less of what the furnace gives.
struct Varied {
  Times middle;
  std::array<Times, 2> film, emissivity, enthalpy, conductivity;
  Times load;
};
Varied vary(const thermal::Film& film, const thermal::Steel& steel, double load_factor,
            const std::function<Times(const Conditions&)>& at);

/// What each cause does to a time that goes as `of` does; a condition under which it is not reached counts for nothing.
Causes causes_of(double value_s, const Varied& varied, double (*of)(const Times&));

/// The band of a time, film and load as the part of the table, properties as that of the formula.
Estimate banded(double value_s, const Causes& causes, Flags flags, const Sources& sources);

}  // namespace decalesce::heating
