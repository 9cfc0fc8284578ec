#pragma once
// What goes into the furnace: pieces side by side, and how much of the furnace the one between its neighbours sees.
// Neighbours are as hot as the piece itself, so what a face sees of them gives it nothing. The piece in the middle of
// the row is the one to wait for; every piece is counted to draw as much as that one.
#include <cstddef>
#include <cstdint>

#include "../ground/section.hpp"
#include "../solvers/conduction/mesh.hpp"

namespace decalesce::furnace {

/// Share of the furnace that a face sees which looks at its like across a gap: 1 less the view factor between two long
/// parallel strips of this depth, by crossed strings. 0 when they touch. [computed: Hottel's crossed strings]
double open_share(double gap, double depth);

/// Share of the furnace that a round bar sees between two of its like: 1 less twice the view factor between long
/// parallel cylinders. 2 / pi when they touch. [computed: Hottel's crossed strings]
double open_share_round(double gap, double diameter);

/// How the pieces stand, for whoever has to say it.
enum class Row : std::uint8_t {
  single,    // one piece
  free,      // far enough apart not to see one another
  spaced,    // broad faces look at one another across a gap
  one_block  // they touch and heat as one
};

struct Load {
  conduction::Mesh mesh;      // of one piece, or of the block they make
  std::size_t pieces = 1;     // of that mesh
  double piece_volume = 0.0;  // m3
  double face_share = 1.0;    // on all of the surface, for shapes that see all round alike
  Row row = Row::single;
  double open = 1.0;  // what a face that looks at a neighbour still sees
  double start_C = 20.0;
  double door_open_s = 0.0;  // before the load is in and the door closed
  bool door_switch = true;   // no power while the door is open
};

/// Volume of a piece, m3. A block has its own length; a plate needs a width and has none here. Throws
/// std::invalid_argument naming what is not above zero.
double piece_volume(const Section& section, double length);

/// `pieces` in a row, broad faces to one another, `gap` m apart; a NaN gap: they stand free. `cells` as
/// conduction::mesh_of, 0 for the usual. Throws std::invalid_argument naming what cannot be.
Load side_by_side(const Section& section, double length, std::size_t pieces, double gap, int cells = 0);

}  // namespace decalesce::furnace
