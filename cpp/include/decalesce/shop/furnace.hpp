#pragma once
// A furnace with a load in it. Its chamber is the hot face of the lining with what else is hot there (elements, shelf);
// the lining is layers through which heat goes out to the room; power is what it takes to hold the set point, as far as
// there is any. So "how long after the door closed" has an answer, and the soak is counted from when the steel is
// there.
#include <cstddef>
#include <vector>

#include "../ground/history.hpp"
#include "../solvers/conduction/run.hpp"

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
};

/// Throws std::invalid_argument naming what cannot be.
void check(const Furnace& furnace);

struct Load {
  std::size_t pieces = 1;
  double piece_volume = 0.0;  // m3
  double start_C = 20.0;
  double door_open_s = 0.0;  // before the load is in and the door closed
};

/// Share of the furnace that a face sees which looks at its like across a gap: 1 less the view factor between two long
/// parallel strips of this depth, by crossed strings. 0 when they touch. [computed: Hottel's crossed strings]
double open_share(double gap, double depth);

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
};

struct Options {
  double set_point_C = NAN;
  double duration_s = 0.0;
  double within_K = 10.0;           // of the set point, for the steel
  double recovered_within_K = 5.0;  // for the chamber
  double tolerance_K = 0.1;
};

/// A furnace that has stood at its set point long enough for the lining to be at rest is opened, loaded and closed.
/// Throws std::invalid_argument naming what cannot be.
Loaded load(const Furnace& furnace, const conduction::Material& material, const conduction::Mesh& mesh,
            const Load& load, const Options& options);

}  // namespace decalesce::furnace
