#pragma once
// Ar3, the start of ferrite on cooling.
#include <cmath>

#include "formula_record.hpp"

namespace decalesce::published {

using std::exp;
using std::log;
using std::sqrt;

/// Ar3, linear form. [Ouchi1981] Low-carbon plate, no figures.
struct Ar3Ouchi1981 {
  static constexpr FormulaRecord record{
      .id = "ar3_ouchi_1981",
      .quantity = Quantity::Ar3,
      .citation = Citation::Ouchi1981,
      .lineage = Lineage::ouchi,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .needs = Needs::thickness_mm,
      .note =
          "A cooling value for hot-rolled plate, not for knife steel. CONFLICT: one page prints 3.5 per mm for "
          "the thickness term; 0.35 is believed, since 3.5 would add 112 degC to a 40 mm plate.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 910.0 - 310.0 * w.C - 80.0 * w.Mn - 20.0 * w.Cu - 15.0 * w.Cr - 55.0 * w.Ni - 80.0 * w.Mo +
           0.35 * (given.thickness_mm - 8.0);
  }
};

using Ar3Formulas = FormulaList<Ar3Ouchi1981>;

}  // namespace decalesce::published
