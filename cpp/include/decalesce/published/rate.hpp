#pragma once
// The Koistinen-Marburger rate: how fast austenite turns to martensite below Ms.
#include <cmath>

#include "formula_record.hpp"

namespace decalesce::published {

using std::exp;
using std::log;
using std::sqrt;

/// alpha, linear form. [KoistinenMarburger1959] Plain carbon steel 0.37-1.1 %C; recollected.
struct AlphaKoistinenMarburger1959 {
  static constexpr FormulaRecord record{
      .id = "alpha_koistinen_marburger_1959",
      .quantity = Quantity::alpha,
      .citation = Citation::KoistinenMarburger1959,
      .lineage = Lineage::koistinen_marburger,
      .ranges = Ranges::remembered(Range{Element::C, 0.37, 1.1}),
      .standard_error_K = unknown,
      .unit = Unit::per_kelvin,
      .status = Status::memory,
      .note = "Universally quoted as 1.10e-2.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return Real(0.011);
  }
};

/// alpha, nonlinear form. [vanBohemen2012] Recollected limits.
struct AlphaVanBohemen2012 {
  static constexpr FormulaRecord record{
      .id = "alpha_van_bohemen_2012",
      .quantity = Quantity::alpha,
      .citation = Citation::vanBohemen2012,
      .lineage = Lineage::van_bohemen,
      .ranges = Ranges::remembered(Range{Element::C, 0.3, 1.9}),
      .standard_error_K = unknown,
      .unit = Unit::per_kelvin,
      .status = Status::memory,
      .note = "Use with the Ms of the same author.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 0.001 * (27.2 - (0.14 * w.Mn + 0.21 * w.Si + 0.11 * w.Cr + 0.08 * w.Ni + 0.05 * w.Mo) -
                    19.8 * (1.0 - exp(-1.56 * w.C)));
  }
};

using RateFormulas = FormulaList<AlphaKoistinenMarburger1959, AlphaVanBohemen2012>;

}  // namespace decalesce::published
