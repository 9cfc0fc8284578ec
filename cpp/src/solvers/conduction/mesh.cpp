#include "decalesce/solvers/conduction/mesh.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

namespace decalesce::conduction {

namespace {

constexpr double mm = 1e-3;

void check(const char* what, double length) {
  if (!(length > 0.0) || !std::isfinite(length))
    throw std::invalid_argument(std::string(what) + " = " + std::to_string(length / mm) +
                                " mm; expected a length above zero");
}
void check_cells(int cells) {
  if (cells < 2) throw std::invalid_argument("cells = " + std::to_string(cells) + "; expected two or more");
}
void check_exposure(const Exposure& exposure) {
  for (const double factor : {exposure.above, exposure.below, exposure.sides, exposure.ends})
    if (!(factor >= 0.0 && factor <= 1.0))
      throw std::invalid_argument("exposure = " + std::to_string(factor) + "; expected 0 (covered) to 1 (free)");
}

/// One direction: points evenly from `start` to `start + length`, areas growing as distance^power from zero.
struct Axis {
  std::vector<double> position;
  std::vector<double> volume;
  std::vector<double> conductance;  // one fewer
  double area_first = 0.0;          // of the faces at the ends; zero where symmetry lets nothing through
  double area_last = 0.0;
  double exposure_first = 0.0;
  double exposure_last = 1.0;

  int points() const { return static_cast<int>(volume.size()); }
};

Axis axis(double length, int cells, int power) {
  Axis a;
  const double step = length / cells;
  const auto moment = [&](double r) { return std::pow(r, power + 1) / (power + 1); };
  for (int i = 0; i <= cells; ++i) {
    const double inner = i == 0 ? 0.0 : (i - 0.5) * step;
    const double outer = i == cells ? length : (i + 0.5) * step;
    a.position.push_back(i * step);
    a.volume.push_back(moment(outer) - moment(inner));
    if (i < cells) a.conductance.push_back(std::pow(outer, power) / step);
  }
  a.area_last = std::pow(length, power);
  return a;
}

/// Across a thickness with two free sides: half of it where both see the furnace alike, else all of it.
Axis across(double thickness, int cells, double first, double last) {
  if (first == last) {
    Axis a = axis(thickness / 2.0, cells, 0);
    a.exposure_last = last;
    return a;
  }
  Axis a = axis(thickness, 2 * cells, 0);
  a.area_first = 1.0;
  a.exposure_first = first;
  a.exposure_last = last;
  return a;
}

/// The point that heats last: half way between the sides, shifted towards the one that sees less of the furnace.
int last_to_heat(const Axis& a) {
  if (a.area_first == 0.0) return 0;
  const double both = a.exposure_first + a.exposure_last;
  const double from_first = both > 0.0 ? a.exposure_first / both : 0.5;
  return static_cast<int>(std::lround(from_first * (a.points() - 1)));
}
int first_to_heat(const Axis& a) { return a.exposure_first > a.exposure_last ? 0 : a.points() - 1; }

/// The product of one to three directions; the last of `axes` runs fastest.
Mesh product(const std::vector<Axis>& axes) {
  Mesh mesh;
  const std::size_t directions = axes.size();
  mesh.directions = static_cast<int>(directions);
  std::vector<int> stride(directions, 1);
  for (std::size_t d = directions - 1; d-- > 0;) stride[d] = stride[d + 1] * axes[d + 1].points();
  const int points = stride[0] * axes[0].points();
  mesh.band = stride[0];
  for (std::size_t d = 0; d < directions; ++d) {
    mesh.centre += stride[d] * last_to_heat(axes[d]);
    mesh.surface += stride[d] * first_to_heat(axes[d]);
  }
  for (int p = 0; p < points; ++p) {
    std::vector<int> at(directions);
    double volume = 1.0;
    for (std::size_t d = 0; d < directions; ++d) {
      at[d] = p / stride[d] % axes[d].points();
      volume *= axes[d].volume[static_cast<std::size_t>(at[d])];
      mesh.position.push_back(axes[d].position[static_cast<std::size_t>(at[d])]);
    }
    mesh.volume.push_back(volume);
    for (std::size_t d = 0; d < directions; ++d) {
      const Axis& a = axes[d];
      const auto i = static_cast<std::size_t>(at[d]);
      const double others = volume / a.volume[i];
      if (at[d] + 1 < a.points()) mesh.links.push_back({p, p + stride[d], a.conductance[i] * others});
      if (at[d] == 0 && a.area_first > 0.0) mesh.faces.push_back({p, a.area_first * others, a.exposure_first});
      if (at[d] + 1 == a.points()) mesh.faces.push_back({p, a.area_last * others, a.exposure_last});
    }
  }
  return mesh;
}

}  // namespace

double Mesh::total_volume() const {
  double sum = 0.0;
  for (const double v : volume) sum += v;
  return sum;
}

double Mesh::total_area() const {
  double sum = 0.0;
  for (const Face& face : faces) sum += face.area * face.exposure;
  return sum;
}

Mesh lumped(double volume_to_surface) {
  check("volume_to_surface", volume_to_surface);
  Mesh mesh;
  mesh.volume = {volume_to_surface};
  mesh.faces = {{0, 1.0, 1.0}};
  mesh.position = {0.0};
  mesh.half_thickness = volume_to_surface;
  return mesh;
}

Mesh plate(double thickness, int cells, const Exposure& exposure) {
  check("thickness", thickness);
  check_cells(cells);
  check_exposure(exposure);
  Mesh mesh = product({across(thickness, cells, exposure.below, exposure.above)});
  mesh.half_thickness = thickness / 2.0;
  return mesh;
}

Mesh round(double diameter, int cells) {
  check("diameter", diameter);
  check_cells(cells);
  Mesh mesh = product({axis(diameter / 2.0, cells, 1)});
  mesh.half_thickness = diameter / 2.0;
  return mesh;
}

Mesh sphere(double diameter, int cells) {
  check("diameter", diameter);
  check_cells(cells);
  Mesh mesh = product({axis(diameter / 2.0, cells, 2)});
  mesh.half_thickness = diameter / 2.0;
  return mesh;
}

Mesh rectangle(double thickness, double width, int cells, const Exposure& exposure) {
  check("thickness", thickness);
  check("width", width);
  check_cells(cells);
  check_exposure(exposure);
  Mesh mesh = product(
      {across(width, cells, exposure.sides, exposure.sides), across(thickness, cells, exposure.below, exposure.above)});
  mesh.half_thickness = thickness / 2.0;
  return mesh;
}

Mesh short_cylinder(double diameter, double length, int cells, double ends_exposure) {
  check("diameter", diameter);
  check("length", length);
  check_cells(cells);
  check_exposure({.ends = ends_exposure});
  Mesh mesh = product({across(length, cells, ends_exposure, ends_exposure), axis(diameter / 2.0, cells, 1)});
  mesh.half_thickness = std::min(diameter, length) / 2.0;
  return mesh;
}

Mesh block(double thickness, double width, double length, int cells, const Exposure& exposure) {
  check("thickness", thickness);
  check("width", width);
  check("length", length);
  check_cells(cells);
  check_exposure(exposure);
  Mesh mesh = product({across(length, cells, exposure.ends, exposure.ends),
                       across(width, cells, exposure.sides, exposure.sides),
                       across(thickness, cells, exposure.below, exposure.above)});
  mesh.half_thickness = std::min({thickness, width, length}) / 2.0;
  return mesh;
}

Mesh hexagon(double across_flats, int cells) {
  check("across_flats", across_flats);
  check_cells(cells);
  // A hexagon is tiled by equal triangles; their corners are points whose control volumes are small hexagons. One sixth
  // is kept, between two lines from the centre to neighbouring corners, which are lines of symmetry.
  Mesh mesh;
  mesh.directions = 2;
  mesh.half_thickness = across_flats / 2.0;
  const double root3 = std::numbers::sqrt3;
  const double spacing = across_flats / root3 / cells;
  const double whole_cell = root3 / 2.0 * spacing * spacing;
  const double whole_link = 1.0 / root3;
  const auto number = [](int ring, int j) { return ring * (ring + 1) / 2 + j; };
  for (int ring = 0; ring <= cells; ++ring)
    for (int j = 0; j <= ring; ++j) {
      const bool on_line = j == 0 || j == ring;
      const bool outside = ring == cells;
      const int p = number(ring, j);
      mesh.volume.push_back(whole_cell * (ring == 0            ? 1.0 / 6.0
                                          : on_line && outside ? 1.0 / 6.0
                                          : on_line || outside ? 0.5
                                                               : 1.0));
      mesh.position.push_back(spacing * (ring - 0.5 * j));
      mesh.position.push_back(spacing * j * root3 / 2.0);
      if (j < ring) mesh.links.push_back({p, p + 1, whole_link * (outside ? 0.5 : 1.0)});
      if (outside) {
        mesh.faces.push_back({p, spacing * (on_line ? 0.5 : 1.0), 1.0});
        continue;
      }
      mesh.links.push_back({p, number(ring + 1, j), whole_link * (j == 0 ? 0.5 : 1.0)});
      mesh.links.push_back({p, number(ring + 1, j + 1), whole_link * (j == ring ? 0.5 : 1.0)});
    }
  mesh.band = cells + 1;
  mesh.centre = 0;
  mesh.surface = number(cells, 0);
  return mesh;
}

Mesh wedge(double spine, double edge, double width, int cells, const Exposure& exposure) {
  check("spine", spine);
  check("width", width);
  check_cells(cells);
  check_exposure(exposure);
  if (!(edge >= 0.0 && edge <= spine))
    throw std::invalid_argument("edge = " + std::to_string(edge / mm) + " mm; expected zero to the spine, " +
                                std::to_string(spine / mm) + " mm");
  // Along the width the cells are as long as the spine's are thick, within reason; across, the points follow the taper,
  // where lines of equal depth stand square to the arcs through the thickness.
  const bool alike = exposure.above == exposure.below;
  const int across_cells = alike ? cells : 2 * cells;
  const double share = alike ? 0.5 : 1.0;  // of the thickness that is kept
  const int along = std::clamp(static_cast<int>(std::ceil(width / (spine / 2.0) * cells)), 4 * cells, 24 * cells);
  const Axis x = axis(width, along, 0);
  const Axis eta = axis(1.0, across_cells, 0);
  const auto thickness = [&](double at) { return share * (edge + (spine - edge) * at / width); };
  const double slant = std::hypot(1.0, 0.5 * (spine - edge) / width);
  Mesh mesh;
  mesh.directions = 2;
  mesh.half_thickness = spine / 2.0;
  const int rows = eta.points();
  for (int i = 0; i <= along; ++i) {
    const auto column = static_cast<std::size_t>(i);
    const double left = i == 0 ? 0.0 : x.position[column] - 0.5 * width / along;
    const double right = i == along ? width : x.position[column] + 0.5 * width / along;
    const double here = thickness(0.5 * (left + right));  // mean of the cell: never zero, even at a sharp edge
    for (int j = 0; j < rows; ++j) {
      const auto row = static_cast<std::size_t>(j);
      const int p = i * rows + j;
      mesh.volume.push_back(x.volume[column] * here * eta.volume[row]);
      mesh.position.push_back(x.position[column]);
      mesh.position.push_back(thickness(x.position[column]) * eta.position[row]);
      if (j + 1 < rows) mesh.links.push_back({p, p + 1, x.volume[column] * eta.conductance[row] / here});
      if (i < along) mesh.links.push_back({p, p + rows, x.conductance[column] * thickness(right) * eta.volume[row]});
      if (j == 0 && !alike) mesh.faces.push_back({p, x.volume[column] * slant, exposure.below});
      if (j + 1 == rows) mesh.faces.push_back({p, x.volume[column] * slant, exposure.above});
      if (i == 0 && edge > 0.0) mesh.faces.push_back({p, thickness(0.0) * eta.volume[row], exposure.ends});
      if (i == along) mesh.faces.push_back({p, thickness(width) * eta.volume[row], exposure.ends});
    }
  }
  mesh.band = rows;
  // the middle of the spine's depth, half a spine in from the back, is the last to be hot
  const int deep = std::max(0, along - static_cast<int>(std::lround(0.5 * spine / width * along)));
  mesh.centre = deep * rows + (alike ? 0 : rows / 2);
  mesh.surface = rows - 1;
  return mesh;
}

Mesh mesh_of(const Section& section, int cells, const Exposure& exposure) {
  switch (section.shape) {
    case Shape::plate: return plate(section.thickness, cells, exposure);
    case Shape::round: return round(section.thickness, cells);
    case Shape::square: return rectangle(section.thickness, section.thickness, cells, exposure);
    case Shape::hexagon: return hexagon(section.thickness, cells);
    case Shape::rectangle: return rectangle(section.thickness, section.width, cells, exposure);
    case Shape::wedge: return wedge(section.thickness, section.edge, section.width, cells, exposure);
    case Shape::block: return block(section.thickness, section.width, section.length, cells, exposure);
  }
  throw std::invalid_argument("section: not a known shape");
}

int usual_cells(const Section& section) {
  constexpr int along_one = 20;
  constexpr int along_two = 10;
  constexpr int along_wedge = 4;  // of the spine; the width has as many times more as it is longer
  constexpr int along_three = 6;
  switch (section.shape) {
    case Shape::plate:
    case Shape::round: return along_one;
    case Shape::wedge: return along_wedge;
    case Shape::block: return along_three;
    default: return along_two;
  }
}

}  // namespace decalesce::conduction
