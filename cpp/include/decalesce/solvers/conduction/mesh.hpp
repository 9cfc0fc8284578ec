#pragma once
// A body cut into control volumes about points: how much each holds, how well neighbours are linked, and where it meets
// the surroundings. Second order in the spacing. Every shape is one of these, so one solver serves all.
// A body of two or three directions is the product of one-dimensional ones (bar = plate x plate, short cylinder =
// round x plate), as its exact solution is.
#include <cstddef>
#include <vector>

#include "../../ground/section.hpp"

namespace decalesce::conduction {

struct Mesh {
  struct Link {
    int from, to;        // from < to
    double conductance;  // area over distance, m (per metre of length, or per radian, as the volumes)
  };
  struct Face {
    int point;
    double area;      // that meets the surroundings
    double exposure;  // factor on what the surroundings give: 1 free, 0 covered
  };
  std::vector<double> volume;
  std::vector<Link> links;
  std::vector<Face> faces;
  int band = 1;     // the largest to - from
  int centre = 0;   // the point that heats last
  int surface = 0;  // the point of the surface farthest from the centre
  /// Half of the least thickness, for the Biot number.
  double half_thickness = 0.0;
  /// Where each point lies (m), as many coordinates a point as the body has directions.
  int directions = 1;
  std::vector<double> position;

  int points() const { return static_cast<int>(volume.size()); }
  double total_volume() const;
  /// Area that meets the surroundings, weighed by its exposure.
  double total_area() const;
};

/// How well each side sees the furnace: 1 free, 0 covered. A blade on the hearth has `below` near 0; blades packed in a
/// rack have both faces low. `ends` are the edge and the back of a wedge, the ends of a cylinder or a block.
struct Exposure {
  double above = 1.0;
  double below = 1.0;
  double sides = 1.0;
  double ends = 1.0;
};

/// All lengths m, whole sizes (diameter, thickness, across flats). `cells` is how many lie along half the least
/// thickness, and along half of the other directions too. Throws std::invalid_argument for a size that is not above
/// zero. One point: a body so thin, or heated so gently, that it is as hot inside as outside (Biot number below 0.1).
Mesh lumped(double volume_to_surface);
Mesh plate(double thickness, int cells, const Exposure& exposure = {});
Mesh round(double diameter, int cells);
Mesh sphere(double diameter, int cells);
Mesh rectangle(double thickness, double width, int cells, const Exposure& exposure = {});
Mesh hexagon(double across_flats, int cells);
Mesh short_cylinder(double diameter, double length, int cells, double ends_exposure = 1.0);
Mesh block(double thickness, double width, double length, int cells, const Exposure& exposure = {});
/// A ground blade: `spine` and `edge` thick, `width` from edge to spine. `cells` lie along half the spine.
Mesh wedge(double spine, double edge, double width, int cells, const Exposure& exposure = {});

/// The mesh of a section. A round, square or hexagon has the length of a bar: its ends do not count.
Mesh mesh_of(const Section& section, int cells, const Exposure& exposure = {});
/// Cells that leave less than about 0.1 % in the time to temperature: more along one direction than along two or three.
int usual_cells(const Section& section);

}  // namespace decalesce::conduction
