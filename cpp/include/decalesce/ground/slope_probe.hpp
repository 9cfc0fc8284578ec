#pragma once
// Reads the text of a formula while compiling: which elements enter it, with which constant slope, and which of them
// have a slope that changes. The batch loops use it to compute only what is not known beforehand.
#include <cstddef>
#include <cstdint>

#include "element.hpp"
#include "weight_percent.hpp"

namespace decalesce {

/// A condition inside a formula: what it depends on, one bit an element.
struct ProbedCondition {
  std::uint32_t elements;
  friend constexpr ProbedCondition operator&(ProbedCondition a, ProbedCondition b) { return {a.elements | b.elements}; }
  friend constexpr ProbedCondition operator|(ProbedCondition a, ProbedCondition b) { return {a.elements | b.elements}; }
  friend constexpr ProbedCondition operator!(ProbedCondition a) { return a; }
};

/// A kind of number that keeps account of slopes instead of computing a value. What does not depend on an element is a
/// constant and its value is kept, because it may multiply a slope. No NaN is computed here: a compiler may refuse
/// arithmetic that makes one while it compiles.
class SlopeProbe {
 public:
  constexpr SlopeProbe(double constant) : constant_(constant) {}  // implicit on purpose, as for packets
  static constexpr SlopeProbe variable(Element e) {
    SlopeProbe p(0.0);
    p.slope_[index(e)] = 1.0;
    p.entering_ = bit(e);
    return p;
  }

  constexpr bool enters(Element e) const { return (entering_ & bit(e)) != 0; }
  /// Whether the slope by this element is not constant; `slope` is then without meaning.
  constexpr bool curved(Element e) const { return (curved_ & bit(e)) != 0; }
  constexpr double slope(Element e) const { return slope_[index(e)]; }

  friend constexpr SlopeProbe operator+(const SlopeProbe& a, const SlopeProbe& b) { return sum(a, b, 1.0); }
  friend constexpr SlopeProbe operator-(const SlopeProbe& a, const SlopeProbe& b) { return sum(a, b, -1.0); }
  friend constexpr SlopeProbe operator-(const SlopeProbe& a) { return sum(SlopeProbe(0.0), a, -1.0); }
  friend constexpr SlopeProbe operator*(const SlopeProbe& a, const SlopeProbe& b) {
    if (a.entering_ != 0 && b.entering_ != 0) return bent(a.entering_ | b.entering_);
    return a.entering_ == 0 ? b.times(a) : a.times(b);
  }
  friend constexpr SlopeProbe operator/(const SlopeProbe& a, const SlopeProbe& b) {
    if (b.entering_ != 0 || !b.known_) return bent(a.entering_ | b.entering_);
    SlopeProbe r = a;
    r.constant_ = a.constant_ / b.constant_;
    for (double& s : r.slope_) s = s / b.constant_;
    return r;
  }
  friend constexpr ProbedCondition operator<(const SlopeProbe& a, const SlopeProbe& b) { return both(a, b); }
  friend constexpr ProbedCondition operator<=(const SlopeProbe& a, const SlopeProbe& b) { return both(a, b); }
  friend constexpr ProbedCondition operator>(const SlopeProbe& a, const SlopeProbe& b) { return both(a, b); }
  friend constexpr ProbedCondition operator>=(const SlopeProbe& a, const SlopeProbe& b) { return both(a, b); }
  friend constexpr ProbedCondition operator==(const SlopeProbe& a, const SlopeProbe& b) { return both(a, b); }

  /// Curved in what the condition asks about, and in every element of which the two branches make different use.
  friend constexpr SlopeProbe select(ProbedCondition m, const SlopeProbe& yes, const SlopeProbe& no) {
    SlopeProbe r = yes;
    r.known_ = yes.known_ && no.known_ && yes.constant_ == no.constant_;
    r.entering_ |= no.entering_ | m.elements;
    r.curved_ |= no.curved_ | m.elements;
    for (std::size_t k = 0; k < element_count; ++k)
      if (yes.slope_[k] != no.slope_[k]) r.curved_ |= std::uint32_t{1} << k;
    return r;
  }
  friend constexpr SlopeProbe exp(const SlopeProbe& a) { return bent(a.entering_); }
  friend constexpr SlopeProbe log(const SlopeProbe& a) { return bent(a.entering_); }
  friend constexpr SlopeProbe sqrt(const SlopeProbe& a) { return bent(a.entering_); }

 private:
  static constexpr std::uint32_t bit(Element e) { return std::uint32_t{1} << index(e); }
  static constexpr ProbedCondition both(const SlopeProbe& a, const SlopeProbe& b) {
    return {a.entering_ | b.entering_};
  }
  static constexpr SlopeProbe sum(const SlopeProbe& a, const SlopeProbe& b, double sign) {
    SlopeProbe r(a.constant_ + sign * b.constant_);
    r.known_ = a.known_ && b.known_;
    r.entering_ = a.entering_ | b.entering_;
    r.curved_ = a.curved_ | b.curved_;
    for (std::size_t k = 0; k < element_count; ++k) r.slope_[k] = a.slope_[k] + sign * b.slope_[k];
    return r;
  }
  /// A function that is not a straight line. Of a constant it is a constant whose value is not known here.
  static constexpr SlopeProbe bent(std::uint32_t elements) {
    SlopeProbe r(0.0);
    r.known_ = false;
    r.entering_ = elements;
    r.curved_ = elements;
    return r;
  }
  /// A slope times a constant that is not known is not a known slope: left to be differentiated for each steel.
  constexpr SlopeProbe times(const SlopeProbe& factor) const {
    if (!factor.known_) return bent(entering_);
    SlopeProbe r = *this;
    r.constant_ = constant_ * factor.constant_;
    for (double& s : r.slope_) s = s * factor.constant_;
    return r;
  }

  double constant_;
  bool known_ = true;  // whether constant_ is the value, where no element enters
  double slope_[element_count] = {};
  std::uint32_t entering_ = 0;
  std::uint32_t curved_ = 0;
};

/// Each element as its own variable.
constexpr WeightPercent<SlopeProbe> probed_elements() {
  WeightPercent<SlopeProbe> w;
  for_each_element([&](Element e) { w[e] = SlopeProbe::variable(e); });
  return w;
}

}  // namespace decalesce
