#pragma once
// Ac1, the start of austenite on heating, and Ae1, its equilibrium value.
#include <cmath>

#include "formula_record.hpp"

namespace decalesce::published {

using std::exp;
using std::log;
using std::sqrt;

/// Ac1, linear form. [Andrews1965] Low-alloy steel, C below 0.6 is stated; the chromium limit is set here: it held
/// to about 5 %Cr on open rows and overshoots grossly on 11-18 %Cr.
struct Ac1Andrews1965 {
  static constexpr FormulaRecord record{
      .id = "ac1_andrews_1965",
      .quantity = Quantity::Ac1,
      .citation = Citation::Andrews1965,
      .lineage = Lineage::andrews,
      .ranges = Ranges::stated(Range{Element::C, 0.0, 0.6}, Range{Element::Cr, 0.0, 5.0}),
      .standard_error_K = 11.5,
      .unit = Unit::celsius,
      .status = Status::two_pages,
      .note =
          "No carbon term. Often printed under the name Ae1. Do not use on ledeburitic chromium steel: most "
          "chromium sits in carbide, so the bulk figure overshoots.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 723.0 - 10.7 * w.Mn - 16.9 * w.Ni + 29.1 * w.Si + 16.9 * w.Cr + 290.0 * w.As + 6.38 * w.W;
  }
};

/// Ae1, linear form. [Grange1961] Described as low-alloy and hypoeutectoid; no figures where seen, so carbon is
/// capped at the eutectoid 0.77.
struct Ae1Grange1961 {
  static constexpr FormulaRecord record{
      .id = "ae1_grange_1961",
      .quantity = Quantity::Ae1,
      .citation = Citation::Grange1961,
      .lineage = Lineage::grange,
      .ranges = Ranges::remembered(Range{Element::C, 0.0, 0.77}),
      .standard_error_K = unknown,
      .unit = Unit::fahrenheit,
      .status = Status::two_pages,
      .note = "One place names the 1961 article, another prints the same coefficients without an author.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 1333.0 - 25.0 * w.Mn + 40.0 * w.Si + 42.0 * w.Cr - 26.0 * w.Ni;
  }
};

/// Ae1, linear form. [Eldis1978] Low-alloy steel, C below 0.6 is stated.
struct Ae1Eldis1978 {
  static constexpr FormulaRecord record{
      .id = "ae1_eldis_1978",
      .quantity = Quantity::Ae1,
      .citation = Citation::Eldis1978,
      .lineage = Lineage::eldis,
      .ranges = Ranges::stated(Range{Element::C, 0.0, 0.6}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note = "Quoted by a French textbook of 1982. Two editions of one compilation count as one place.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 712.0 - 17.8 * w.Mn - 19.1 * w.Ni + 20.1 * w.Si + 11.9 * w.Cr + 9.8 * w.Mo;
  }
};

/// Ac1, linear form. [Hougardy1984] Not stated.
struct Ac1Hougardy1984 {
  static constexpr FormulaRecord record{
      .id = "ac1_hougardy_1984",
      .quantity = Quantity::Ac1,
      .citation = Citation::Hougardy1984,
      .lineage = Lineage::hougardy,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note =
          "The scan that was seen drops minus signs but keeps three plus signs; they fit +Si +Cr +Mo. Some "
          "quotations add +20 V (memory). The same coefficients also circulate under Brandis 1975.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 739.0 - 22.0 * w.C - 7.0 * w.Mn + 2.0 * w.Si + 14.0 * w.Cr + 13.0 * w.Mo - 13.0 * w.Ni;
  }
};

/// Ac1, linear form. [Yurioka_web] Low-alloy weldable steel, no figures; reported to fail on martensitic stainless.
struct Ac1YuriokaWeb {
  static constexpr FormulaRecord record{
      .id = "ac1_yurioka_web",
      .quantity = Quantity::Ac1,
      .citation = Citation::Yurioka_web,
      .lineage = Lineage::yurioka,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note = "Author by memory only, original publication not identified. Meant for low-carbon structural steel.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 750.8 - 26.6 * w.C + 17.6 * w.Si - 11.6 * w.Mn - 22.9 * w.Cu - 23.0 * w.Ni + 24.1 * w.Cr + 22.5 * w.Mo -
           39.7 * w.V - 5.7 * w.Ti + 232.4 * w.Nb - 169.4 * w.Al - 894.7 * w.B;
  }
};

/// Ac1, linear form. [TrzaskaDobrzanski2007] Recollected limits.
struct Ac1TrzaskaDobrzanski2007 {
  static constexpr FormulaRecord record{
      .id = "ac1_trzaska_dobrzanski_2007",
      .quantity = Quantity::Ac1,
      .citation = Citation::TrzaskaDobrzanski2007,
      .lineage = Lineage::trzaska,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.07, 0.65}, Range{Element::Mn, 0.1, 1.75}, Range{Element::Si, 0.0, 1.6},
                             Range{Element::Cr, 0.0, 2.3}, Range{Element::Ni, 0.0, 3.9}, Range{Element::Mo, 0.0, 1.25},
                             Range{Element::V, 0.0, 0.4}, Range{Element::Cu, 0.0, 0.3}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Coefficients are recollection only.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 739.0 - 22.8 * w.C - 6.8 * w.Mn + 18.2 * w.Si + 11.7 * w.Cr - 15.0 * w.Ni - 6.4 * w.Mo - 5.0 * w.V -
           28.0 * w.Cu;
  }
};

/// Ac1, linear form. [Trzaska2016] Structural steel, more than 500 compositions (abstract seen).
struct Ac1Trzaska2016 {
  static constexpr FormulaRecord record{
      .id = "ac1_trzaska_2016",
      .quantity = Quantity::Ac1,
      .citation = Citation::Trzaska2016,
      .lineage = Lineage::trzaska,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "The first page of the paper was seen, its equations were not: coefficients are recollection.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 742.0 - 29.0 * w.C - 14.0 * w.Mn + 13.0 * w.Si + 16.0 * w.Cr - 17.0 * w.Ni - 16.0 * w.Mo + 45.0 * w.V +
           36.0 * w.Cu;
  }
};

/// Ac1, linear form. [KunitakeKatou] Not known.
struct Ac1KunitakeKatou {
  static constexpr FormulaRecord record{
      .id = "ac1_kunitake_katou",
      .quantity = Quantity::Ac1,
      .citation = Citation::KunitakeKatou,
      .lineage = Lineage::kunitake,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Recollection only.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 754.83 - 32.25 * w.C - 17.76 * w.Mn + 23.32 * w.Si + 17.3 * w.Cr + 4.51 * w.Mo + 15.62 * w.V;
  }
};

using Ac1Formulas = FormulaList<Ac1Andrews1965, Ae1Grange1961, Ae1Eldis1978, Ac1Hougardy1984, Ac1YuriokaWeb,
                                Ac1TrzaskaDobrzanski2007, Ac1Trzaska2016, Ac1KunitakeKatou>;

}  // namespace decalesce::published
