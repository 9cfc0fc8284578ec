#pragma once
// A furnace with a load in it. Its chamber is the hot face of the lining with what else is hot there (elements, shelf);
// the lining is layers through which heat goes out to the room; power is what it takes to hold the set point, as far as
// there is any. So "how long after the door closed" has an answer, and the soak is counted from when the steel is
// there.
#include <cmath>
#include <cstddef>
#include <string_view>
#include <vector>

#include "../ground/flags.hpp"
#include "../ground/history.hpp"
#include "../solvers/conduction/run.hpp"
#include "../tables/furnace.hpp"
#include "load.hpp"

namespace decalesce::furnace {

struct Lining {
  double thickness = 0.0;          // m
  double conductivity_W_mK = 0.0;  // at the mean temperature of the lining
  double heat_capacity_J_kgK = 0.0;
  double density_kg_m3 = 0.0;
};

struct Furnace {
  double width = 0.0;  // of the chamber, m
  double height = 0.0;
  double depth = 0.0;
  Lining lining;
  double power_W = 0.0;
  double contents_J_K = 0.0;  // elements, shelf, posts: what heats and cools with the hot face
  double room_C = 20.0;
  double film_W_m2K = 0.0;  // from the chamber to the work
  double emissivity = 0.0;

  double inner_area() const { return 2.0 * (width * height + height * depth + depth * width); }
  double outer_area() const;
  /// Through which heat goes on its way out: half way between the faces, by the geometric mean.
  double middle_area() const;
  double door_area() const { return width * height; }
  /// Loss of the furnace at rest, W.
  double loss_W(double chamber_C) const;
  /// Mean of hot and outer face at rest, degC.
  double lining_mean_C(double chamber_C) const;
};

/// Throws std::invalid_argument naming what cannot be.
void check(const Furnace& furnace);

/// A lining of data/tables/linings.csv in the furnace, which gives sizes and thickness: its conductivity is that at the
/// mean temperature it has at rest with this chamber. `outside_table` is set where that mean lies beyond the points,
/// whose nearest counts. Throws std::invalid_argument for an unknown name.
Furnace lined(Furnace furnace, std::string_view lining, double chamber_C, Flags& flags);

/// A kiln shelf over the whole floor and, where there are elements, these, J/K. [common practice, no source]
double usual_contents_J_K(const Furnace& furnace, bool elements);

struct Loaded {
  History chamber;          // degC against s after the door closed
  conduction::Trace steel;  // in that chamber
  double lowest_chamber_C = NAN;
  double recovered_s = NAN;  // the chamber is back within `recovered_within_K` of the set point
  double steel_within_s = NAN;
  double energy_J = 0.0;  // from the elements
  double into_load_J = 0.0;
  double lost_J = 0.0;    // to the room, the open door left out
  double stored_J = 0.0;  // gain of chamber and lining
  Flags flags;            // not_heating, not_at_temperature
};

struct Options {
  double set_point_C = NAN;
  double duration_s = 0.0;
  double within_K = tables::furnace::constants::steel_within;                // of the set point, for the steel
  double recovered_within_K = tables::furnace::constants::recovered_within;  // for the chamber
  double tolerance_K = conduction::default_tolerance_K;
  int finer = 1;  // this many times finer than usual in time and in the lining
};

/// A furnace that has stood at its set point long enough for the lining to be at rest is opened, loaded and closed.
/// Throws std::invalid_argument naming what cannot be.
Loaded load(const Furnace& furnace, const conduction::Material& material, const Load& load, const Options& options);

}  // namespace decalesce::furnace
