#pragma once
// The shape of the piece that is heated and quenched. Lengths are metres here; the Python face takes millimetres.
#include <array>
#include <cstdint>
#include <string_view>

namespace decalesce {

enum class Shape : std::uint8_t { plate, round, square, hexagon, rectangle, wedge, block };
inline constexpr std::array<std::string_view, 7> shape_names{"plate",     "round", "square", "hexagon",
                                                             "rectangle", "wedge", "block"};

struct Section {
  Shape shape = Shape::plate;
  double thickness =
      0.0;              // plate, rectangle, block: least; round: diameter; square, hexagon: across flats; wedge: spine
  double width = 0.0;   // rectangle, block, wedge
  double length = 0.0;  // block
  double edge = 0.0;    // wedge: thickness at the edge

  /// The least distance heat has to cross, side to side: what the trade calls the ruling section.
  constexpr double ruling() const { return thickness; }

  /// Volume over surface, the length that governs heating by film: half thickness for a plate, a quarter diameter for a
  /// round.
  constexpr double volume_to_surface() const {
    switch (shape) {
      case Shape::plate: return thickness / 2.0;
      case Shape::round:
      case Shape::square:
      case Shape::hexagon: return thickness / 4.0;
      case Shape::rectangle: return thickness * width / (2.0 * (thickness + width));
      case Shape::wedge: return (thickness + edge) / 4.0;
      case Shape::block:
        return thickness * width * length / (2.0 * (thickness * width + width * length + length * thickness));
    }
    return thickness / 2.0;
  }

  constexpr bool valid() const {
    const bool width_needed = shape == Shape::rectangle || shape == Shape::block || shape == Shape::wedge;
    return thickness > 0.0 && (!width_needed || width > 0.0) && (shape != Shape::block || length > 0.0) &&
           (shape != Shape::wedge || (edge >= 0.0 && edge <= thickness));
  }

  friend constexpr bool operator==(const Section&, const Section&) = default;
};

}  // namespace decalesce
