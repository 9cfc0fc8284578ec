#pragma once
// What a formula may be computed with: double, a packet of doubles, a dual number, or a dual of packets.
// One text serves all four because every operator returns a value and every branch is a `select`.
#include <cmath>
#include <concepts>
#include <cstddef>

namespace decalesce {

constexpr double select(bool condition, double yes, double no) { return condition ? yes : no; }

/// True of a condition in every lane, and in any lane; for double the condition is one bool.
inline bool all(bool condition) { return condition; }
inline bool any(bool condition) { return condition; }

template <class Real>
concept Scalar = requires(Real a, Real b) {
  Real(1.0);
  { a + b } -> std::same_as<Real>;
  { a - b } -> std::same_as<Real>;
  { a* b } -> std::same_as<Real>;
  { a / b } -> std::same_as<Real>;
  { -a } -> std::same_as<Real>;
  { 2.0 * a } -> std::same_as<Real>;
  { a + 2.0 } -> std::same_as<Real>;
  { select(a < b, a, b) } -> std::same_as<Real>;
  { select(a <= b, a, b) } -> std::same_as<Real>;
};

/// What a comparison of two `Real` gives: bool, or a mask a lane.
template <class Real>
using Condition = decltype(Real(0.0) < Real(1.0));

/// One line of a paper's table: the value holds up to and including `up_to`.
template <class Real>
struct Piece {
  double up_to;
  Real value;
};

/// The value where the condition holds, else zero.
template <Scalar Real>
constexpr Real keep(const Condition<Real>& condition, const Real& value) {
  return select(condition, value, Real(0.0));
}

/// Pieces in the order of the paper's table; `beyond` holds above the last.
template <Scalar Real, std::size_t Count>
constexpr Real piecewise(const Real& x, const Piece<Real> (&pieces)[Count], const Real& beyond) {
  Real value = beyond;
  for (std::size_t k = Count; k-- > 0;) value = select(x <= Real(pieces[k].up_to), pieces[k].value, value);
  return value;
}

/// Straight lines between tabulated points; the end values hold outside the table. Each point adds the change of slope
/// to what lies beyond it, which takes the fewest steps; NaN passes every point and stays NaN.
template <Scalar Real, std::size_t Count>
constexpr Real interpolate(const Real& x, const double (&at)[Count], const double (&values)[Count]) {
  const auto slope_after = [&](std::size_t k) {
    return k + 1 < Count ? (values[k + 1] - values[k]) / (at[k + 1] - at[k]) : 0.0;
  };
  Real value = Real(values[0]);
  for (std::size_t k = 0; k < Count; ++k) {
    const double change = slope_after(k) - (k > 0 ? slope_after(k - 1) : 0.0);
    value = value + select(x <= Real(at[k]), Real(0.0), change * x - change * at[k]);
  }
  return value;
}

template <Scalar Real>
constexpr Real larger(const Real& a, const Real& b) {
  return select(a <= b, b, a);
}

template <Scalar Real>
constexpr Real smaller(const Real& a, const Real& b) {
  return select(a <= b, a, b);
}

}  // namespace decalesce
