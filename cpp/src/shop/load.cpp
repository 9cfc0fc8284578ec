#include "decalesce/shop/load.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

namespace decalesce::furnace {

namespace {

void above_zero(const char* what, double value) {
  if (!(value > 0.0) || !std::isfinite(value))
    throw std::invalid_argument(std::string(what) + " = " + std::to_string(value) + " m; expected a length above zero");
}

/// Area across a bar, m2.
double area(const Section& s) {
  switch (s.shape) {
    case Shape::round: return std::numbers::pi / 4.0 * s.thickness * s.thickness;
    case Shape::square: return s.thickness * s.thickness;
    case Shape::hexagon: return std::numbers::sqrt3 / 2.0 * s.thickness * s.thickness;
    case Shape::wedge: return 0.5 * (s.thickness + s.edge) * s.width;
    case Shape::plate:
    case Shape::rectangle:
    case Shape::block: break;
  }
  return s.thickness * s.width;
}

/// How far the face reaches that looks at the next piece: the shorter way out of the gap.
double face_depth(const Section& s) {
  switch (s.shape) {
    case Shape::square: return s.thickness;
    case Shape::hexagon: return s.thickness / std::numbers::sqrt3;
    case Shape::block: return std::min(s.width, s.length);
    case Shape::plate:
    case Shape::round:
    case Shape::rectangle:
    case Shape::wedge: break;
  }
  return s.width;
}

/// Pieces that touch make one; a wedge counts with its mean thickness, so that the steel is all there.
Section stacked(const Section& s, double pieces) {
  const double thick = s.shape == Shape::wedge ? 0.5 * (s.thickness + s.edge) : s.thickness;
  const double wide = s.shape == Shape::square ? s.thickness : s.width;
  const double high = thick * pieces;
  if (s.shape == Shape::block) return {.shape = Shape::block, .thickness = high, .width = wide, .length = s.length};
  return {.shape = Shape::rectangle, .thickness = std::min(high, wide), .width = std::max(high, wide)};
}

}  // namespace

double open_share(double gap, double depth) {
  if (!(gap >= 0.0) || !(depth > 0.0)) return NAN;
  const double ratio = gap / depth;
  // the same as 1 - (hypot(1, ratio) - ratio), without the difference of two large numbers
  return 1.0 - 1.0 / (std::hypot(1.0, ratio) + ratio);
}

double open_share_round(double gap, double diameter) {
  if (!(gap >= 0.0) || !(diameter > 0.0)) return NAN;
  const double x = 1.0 + gap / diameter;
  const double view = (std::asin(1.0 / x) - 1.0 / (std::sqrt(x * x - 1.0) + x)) / std::numbers::pi;
  return 1.0 - 2.0 * view;
}

double piece_volume(const Section& section, double length) {
  if (!section.valid()) throw std::invalid_argument("section: expected lengths above zero that fit one another");
  if (section.shape == Shape::plate)
    throw std::invalid_argument("section: a plate has no width; expected a rectangle, thickness and width");
  const double long_ = section.shape == Shape::block ? section.length : length;
  above_zero("length", long_);
  return area(section) * long_;
}

Load side_by_side(const Section& section, double length, std::size_t pieces, double gap, int cells) {
  if (pieces == 0) throw std::invalid_argument("pieces = 0; expected at least one");
  if (gap < 0.0) throw std::invalid_argument("gap = " + std::to_string(gap) + " m; expected zero or more");
  Load load;
  load.pieces = pieces;
  load.piece_volume = piece_volume(section, length);
  const auto mesh = [&](const Section& s, const conduction::Exposure& e) {
    return conduction::mesh_of(s, cells > 0 ? cells : conduction::usual_cells(s), e);
  };
  if (pieces == 1 || std::isnan(gap)) {
    load.row = pieces == 1 ? Row::single : Row::free;
    load.mesh = mesh(section, {});
    return load;
  }
  const bool all_round = section.shape == Shape::round || section.shape == Shape::hexagon;
  load.row = Row::spaced;
  const double neighbours = pieces == 2 ? 1.0 : 2.0;
  if (all_round) {
    if (section.shape == Shape::round) {
      load.open = open_share_round(gap, section.thickness);
      load.face_share = 1.0 - 0.5 * neighbours * (1.0 - load.open);
    } else {
      load.open = open_share(gap, face_depth(section));
      load.face_share = 1.0 - neighbours / 6.0 * (1.0 - load.open);
    }
    load.mesh = mesh(section, {});
    return load;
  }
  if (gap == 0.0) {
    load.row = Row::one_block;
    load.open = 0.0;
    load.mesh = mesh(stacked(section, static_cast<double>(pieces)), {});
    load.piece_volume *= static_cast<double>(pieces);
    load.pieces = 1;
    return load;
  }
  load.open = open_share(gap, face_depth(section));
  load.mesh = mesh(section, {.above = pieces == 2 ? 1.0 : load.open, .below = load.open});
  return load;
}

}  // namespace decalesce::furnace
