#include "decalesce/solvers/conduction/piece.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

#include "decalesce/solvers/conduction/half_space.hpp"
#include "solve.hpp"

namespace decalesce::conduction::closed {

namespace {

void require_positive(double value, const char* name) {
  if (!(value > 0.0))
    throw std::invalid_argument(std::string(name) + " = " + std::to_string(value) + "; expected above 0");
}

}  // namespace

Piece::Piece(std::span<const Direction> directions, bool semi_infinite, double film, double conductivity,
             double diffusivity)
    : semi_infinite_(semi_infinite), film_(film), conductivity_(conductivity), diffusivity_(diffusivity) {
  require_positive(film, "film");
  require_positive(conductivity, "conductivity");
  require_positive(diffusivity, "diffusivity");
  if (directions.empty()) throw std::invalid_argument("directions: none given; expected at least one");
  for (const Direction& d : directions) {
    require_positive(d.half, "half thickness or radius");
    series_.emplace_back(d.body, film * d.half / conductivity);
    half_.push_back(d.half);
  }
}

double Piece::theta(double time, std::span<const double> place) {
  const auto at = [&](std::size_t k) { return k < place.size() ? place[k] : 0.0; };
  double product = 1.0;
  for (std::size_t k = 0; k < series_.size(); ++k) product *= series_[k].theta(fourier(k, time), at(k) / half_[k]);
  if (semi_infinite_) product *= 1.0 - half_space_film(at(series_.size()), time, film_, conductivity_, diffusivity_);
  return product;
}

double Piece::mean(double time) {
  if (semi_infinite_) return nan;
  double product = 1.0;
  for (std::size_t k = 0; k < series_.size(); ++k) product *= series_[k].mean(fourier(k, time));
  return product;
}

double Piece::first_guess(double wanted) {
  double product = 1.0;
  double rate = 0.0;
  double shortest = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < series_.size(); ++k) {
    const Term& first = series_[k].at(0);
    product *= first.coefficient;
    rate += diffusivity_ * first.root * first.root / (half_[k] * half_[k]);
    shortest = std::min(shortest, half_[k] * half_[k] / diffusivity_);
  }
  constexpr double soon = 1e-3;
  return std::max(std::log(product / wanted) / rate, soon * shortest);
}

double Piece::time_to(double wanted, std::span<const double> place) {
  if (!(wanted > 0.0 && wanted <= 1.0) || std::isnan(theta(0.0, place))) return nan;
  if (wanted == 1.0) return 0.0;
  return falling_root([&](double time) { return theta(time, place) - wanted; }, first_guess(wanted));
}

double Piece::time_to_mean(double wanted) {
  if (!(wanted > 0.0 && wanted <= 1.0) || semi_infinite_) return nan;
  if (wanted == 1.0) return 0.0;
  return falling_root([&](double time) { return mean(time) - wanted; }, first_guess(wanted));
}

}  // namespace decalesce::conduction::closed
