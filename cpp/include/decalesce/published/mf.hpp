#pragma once
// Mf and M90: the end of martensite, and nine tenths of it.
#include <cmath>

#include "formula_record.hpp"

namespace decalesce::published {

using std::exp;
using std::log;
using std::sqrt;

/// Mf, linear form. [StevenHaynes1956] As Steven and Haynes.
struct MfStevenHaynes1956 {
  static constexpr FormulaRecord record{
      .id = "mf_steven_haynes_1956",
      .quantity = Quantity::Mf,
      .citation = Citation::StevenHaynes1956,
      .lineage = Lineage::steven_haynes,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.1, 0.55}, Range{Element::Mn, 0.2, 1.7}, Range{Element::Si, 0.1, 0.35},
                             Range{Element::Cr, 0.0, 3.5}, Range{Element::Ni, 0.0, 5.0}, Range{Element::Mo, 0.0, 1.0}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .needs = Needs::Ms,
      .note =
          "Same source by memory: 10 % at Ms-10, 50 % at Ms-47, 90 % at Ms-103. CONFLICT: Ms-268 degC is met in"
          " one post; not believed.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return given.Ms - 215.0;
  }
};

/// M90, nonlinear form. [KoistinenMarburger1959] Range is that of the rate used.
struct M90KoistinenMarburger1959 {
  static constexpr FormulaRecord record{
      .id = "m90_koistinen_marburger_1959",
      .quantity = Quantity::M90,
      .citation = Citation::KoistinenMarburger1959,
      .lineage = Lineage::koistinen_marburger,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .needs = Needs::Ms_and_rate,
      .note =
          "CONFLICT: with 0.011 per K, 90 % lies at Ms-209, twice the offset Steven and Haynes give (103). Pick"
          " one and say which.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return given.Ms - log(10.0) / given.rate_per_K;
  }
};

using MfFormulas = FormulaList<MfStevenHaynes1956, M90KoistinenMarburger1959>;

}  // namespace decalesce::published
