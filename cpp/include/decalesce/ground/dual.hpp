#pragma once
// A value with its slopes along a few directions, carried through a formula by the chain rule. `T` is double or a
// packet.
#include <cmath>

#include "scalar.hpp"

namespace decalesce {

template <class T, int Directions>
struct Dual {
  static constexpr int directions = Directions;
  T value;
  T slope[Directions];

  Dual() = default;
  Dual(double constant) : value(constant) {  // implicit on purpose, as for packets
    for (T& s : slope) s = T(0.0);
  }
  /// The variable of direction `direction`; use -1 for a value held constant.
  Dual(T at, int direction) : value(at) {
    for (int i = 0; i < Directions; ++i) slope[i] = T(i == direction ? 1.0 : 0.0);
  }

  friend Dual operator+(const Dual& a, const Dual& b) {
    return chain(a.value + b.value, [&](int i) { return a.slope[i] + b.slope[i]; });
  }
  friend Dual operator-(const Dual& a, const Dual& b) {
    return chain(a.value - b.value, [&](int i) { return a.slope[i] - b.slope[i]; });
  }
  friend Dual operator*(const Dual& a, const Dual& b) {
    return chain(a.value * b.value, [&](int i) { return a.slope[i] * b.value + a.value * b.slope[i]; });
  }
  friend Dual operator/(const Dual& a, const Dual& b) {
    const T quotient = a.value / b.value;
    return chain(quotient, [&](int i) { return (a.slope[i] - quotient * b.slope[i]) / b.value; });
  }
  friend Dual operator-(const Dual& a) {
    return chain(-a.value, [&](int i) { return -a.slope[i]; });
  }
  // A plain number has no slope: nothing to add to those of the other side.
  friend Dual operator+(double a, const Dual& b) {
    return chain(a + b.value, [&](int i) { return b.slope[i]; });
  }
  friend Dual operator+(const Dual& a, double b) {
    return chain(a.value + b, [&](int i) { return a.slope[i]; });
  }
  friend Dual operator-(double a, const Dual& b) {
    return chain(a - b.value, [&](int i) { return -b.slope[i]; });
  }
  friend Dual operator-(const Dual& a, double b) {
    return chain(a.value - b, [&](int i) { return a.slope[i]; });
  }
  friend Dual operator*(double a, const Dual& b) {
    return chain(a * b.value, [&](int i) { return a * b.slope[i]; });
  }
  friend Dual operator*(const Dual& a, double b) {
    return chain(a.value * b, [&](int i) { return a.slope[i] * b; });
  }
  friend Dual operator/(const Dual& a, double b) {
    return chain(a.value / b, [&](int i) { return a.slope[i] / b; });
  }
  friend auto operator<(const Dual& a, const Dual& b) { return a.value < b.value; }
  friend auto operator<=(const Dual& a, const Dual& b) { return a.value <= b.value; }
  friend auto operator>(const Dual& a, const Dual& b) { return a.value > b.value; }
  friend auto operator>=(const Dual& a, const Dual& b) { return a.value >= b.value; }
  friend auto operator==(const Dual& a, const Dual& b) { return a.value == b.value; }

  friend Dual exp(const Dual& a) {
    using std::exp;
    const T e = exp(a.value);
    return chain(e, [&](int i) { return e * a.slope[i]; });
  }
  friend Dual log(const Dual& a) {
    using std::log;
    return chain(log(a.value), [&](int i) { return a.slope[i] / a.value; });
  }
  /// At zero the slope of a root is infinite; it is given as zero there, so that a band stays finite.
  friend Dual sqrt(const Dual& a) {
    using std::sqrt;
    const T root = sqrt(a.value);
    const auto positive = root > T(0.0);
    const T divisor = select(positive, root + root, T(1.0));
    return chain(root, [&](int i) { return select(positive, a.slope[i] / divisor, T(0.0)); });
  }

  template <class Condition>
  friend Dual select(const Condition& m, const Dual& yes, const Dual& no) {
    return chain(select(m, yes.value, no.value), [&](int i) { return select(m, yes.slope[i], no.slope[i]); });
  }

 private:
  template <class Slope>
  static Dual chain(T value, Slope&& slope_of) {
    Dual r;
    r.value = value;
    for (int i = 0; i < Directions; ++i) r.slope[i] = slope_of(i);
    return r;
  }
};

}  // namespace decalesce
