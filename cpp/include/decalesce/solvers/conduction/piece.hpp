#pragma once
// A piece with its sizes, and how it heats or cools all round by one film: products of the series.
// A rectangular bar is plate x plate, a block three plates, a short cylinder cylinder x plate; a piece whose far end
// does not matter yet has a half space as its last factor. [Incropera_HeatTransfer] [Cengel_HeatTransfer]
#include <span>
#include <vector>

#include "series.hpp"

namespace decalesce::conduction::closed {

class Piece {
 public:
  struct Direction {
    Body body;
    double half;  // m: half thickness or radius
  };

  /// `film` W/m2K (infinity: the surface steps), conductivity W/mK, diffusivity m2/s. With `semi_infinite` the piece
  /// has one more direction, from its end inwards. Throws std::invalid_argument naming what is not above zero.
  Piece(std::span<const Direction> directions, bool semi_infinite, double film, double conductivity,
        double diffusivity);

  /// (T - surroundings) / (start - surroundings) at a time and a place (m): from the centre along each direction, and
  /// from the end along a semi-infinite one; directions not given are 0. NaN for a place outside the piece.
  double theta(double time, std::span<const double> place);
  /// theta of the volume mean; 1 minus it is the share of the heat exchanged. NaN for a semi-infinite piece.
  double mean(double time);
  /// When theta, or its mean, has fallen to a value between 0 and 1.
  double time_to(double theta, std::span<const double> place);
  double time_to_mean(double mean);

  /// Bi on the half thickness of direction k.
  double biot(std::size_t k) const { return series_[k].biot(); }
  std::size_t directions() const { return series_.size() + (semi_infinite_ ? 1 : 0); }

 private:
  double fourier(std::size_t k, double time) const { return diffusivity_ * time / (half_[k] * half_[k]); }
  /// The time the first terms give for theta = `wanted`.
  double first_guess(double wanted);

  std::vector<Series> series_;
  std::vector<double> half_;
  bool semi_infinite_;
  double film_;
  double conductivity_;
  double diffusivity_;
};

}  // namespace decalesce::conduction::closed
