#pragma once
// Ac3, the end of ferrite on heating (hypoeutectoid steel), and Ae3.
#include <cmath>

#include "formula_record.hpp"

namespace decalesce::published {

using std::exp;
using std::log;
using std::sqrt;

/// Ac3, nonlinear form. [Andrews1965] Low-alloy steel, C below 0.6 is stated; Si to 1 is set here: a 2.6 %Si spring
/// steel is missed by 76 degC.
struct Ac3Andrews1965 {
  static constexpr FormulaRecord record{
      .id = "ac3_andrews_1965",
      .quantity = Quantity::Ac3,
      .citation = Citation::Andrews1965,
      .lineage = Lineage::andrews,
      .ranges = Ranges::stated(Range{Element::C, 0.0, 0.6}, Range{Element::Si, 0.0, 1.0}),
      .standard_error_K = 16.7,
      .unit = Unit::celsius,
      .status = Status::two_pages,
      .note =
          "CONFLICT on the minor terms: a compilation and a second post print +11Cr +20Cu -700P -400Al -120As "
          "-400Ti, another page prints all six reversed. The reversed set is believed: P, Al, As and Ti "
          "stabilize ferrite and must raise A3, Cu lowers it, and Roberts 1988 has the same signs. One text "
          "also loses the root sign on carbon.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 910.0 - 203.0 * sqrt(w.C) + 44.7 * w.Si - 15.2 * w.Ni + 31.5 * w.Mo + 104.0 * w.V + 13.1 * w.W -
           30.0 * w.Mn - 11.0 * w.Cr - 20.0 * w.Cu + 700.0 * w.P + 400.0 * w.Al + 120.0 * w.As + 400.0 * w.Ti;
  }
};

/// Ac3, nonlinear form. [Andrews1965] Low-alloy steel, C below 0.6 is stated; Si to 1 is set here: a 2.6 %Si spring
/// steel is missed by 76 degC.
struct Ac3Andrews1965Major {
  static constexpr FormulaRecord record{
      .id = "ac3_andrews_1965_major",
      .quantity = Quantity::Ac3,
      .citation = Citation::Andrews1965,
      .lineage = Lineage::andrews,
      .ranges = Ranges::stated(Range{Element::C, 0.0, 0.6}, Range{Element::Si, 0.0, 1.0}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::two_pages,
      .note =
          "Textbook form: Mn, Cr, Cu, P, Al, As and Ti left out because they nearly cancel in commercial low-"
          "alloy steel.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 910.0 - 203.0 * sqrt(w.C) + 44.7 * w.Si - 15.2 * w.Ni + 31.5 * w.Mo + 104.0 * w.V + 13.1 * w.W;
  }
};

/// Ae3, linear form. [Grange1961] Described as low-alloy and hypoeutectoid; it falls below A1 above about 0.75 %C.
struct Ae3Grange1961 {
  static constexpr FormulaRecord record{
      .id = "ae3_grange_1961",
      .quantity = Quantity::Ae3,
      .citation = Citation::Grange1961,
      .lineage = Lineage::grange,
      .ranges = Ranges::remembered(Range{Element::C, 0.0, 0.75}),
      .standard_error_K = unknown,
      .unit = Unit::fahrenheit,
      .status = Status::two_pages,
      .note = "Clamp to A1 near the eutectoid.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 1570.0 - 323.0 * w.C - 25.0 * w.Mn + 80.0 * w.Si - 3.0 * w.Cr - 32.0 * w.Ni;
  }
};

/// Ae3, linear form. [Eldis1978] Low-alloy steel, C below 0.6 is stated.
struct Ae3Eldis1978 {
  static constexpr FormulaRecord record{
      .id = "ae3_eldis_1978",
      .quantity = Quantity::Ae3,
      .citation = Citation::Eldis1978,
      .lineage = Lineage::eldis,
      .ranges = Ranges::stated(Range{Element::C, 0.0, 0.6}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note =
          "CONFLICT: the page seen prints 254.4 sqrt(C). Linear carbon is believed: with the root "
          "Fe-0.2C-0.25Si comes out at 770 degC, linear gives 833, the diagram about 840.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 871.0 - 254.4 * w.C - 14.2 * w.Ni + 51.7 * w.Si;
  }
};

/// Ac3, linear form. [Hougardy1984] Not stated.
struct Ac3Hougardy1984 {
  static constexpr FormulaRecord record{
      .id = "ac3_hougardy_1984",
      .quantity = Quantity::Ac3,
      .citation = Citation::Hougardy1984,
      .lineage = Lineage::hougardy,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note = "The page seen shows the same list of elements; the coefficients agree with memory.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 902.0 - 255.0 * w.C - 11.0 * w.Mn + 19.0 * w.Si - 5.0 * w.Cr + 13.0 * w.Mo - 20.0 * w.Ni + 55.0 * w.V;
  }
};

/// Ac3, nonlinear form. [TrzaskaDobrzanski2007] Recollected limits.
struct Ac3TrzaskaDobrzanski2007 {
  static constexpr FormulaRecord record{
      .id = "ac3_trzaska_dobrzanski_2007",
      .quantity = Quantity::Ac3,
      .citation = Citation::TrzaskaDobrzanski2007,
      .lineage = Lineage::trzaska,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.07, 0.65}, Range{Element::Mn, 0.1, 1.75}, Range{Element::Si, 0.0, 1.6},
                             Range{Element::Cr, 0.0, 2.3}, Range{Element::Ni, 0.0, 3.9}, Range{Element::Mo, 0.0, 1.25},
                             Range{Element::V, 0.0, 0.4}, Range{Element::Cu, 0.0, 0.3}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note =
          "CONFLICT: 973 is met for the first number; 937.3 is believed (973 puts Fe-0.4C-0.8Mn-0.25Si some 35 "
          "degC too high).",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 937.3 - 224.5 * sqrt(w.C) - 17.0 * w.Mn + 34.0 * w.Si - 14.0 * w.Ni + 21.6 * w.Mo + 41.8 * w.V - 20.0 * w.Cu;
  }
};

/// Ac3, nonlinear form. [Trzaska2016] Structural steel, no figures.
struct Ac3Trzaska2016 {
  static constexpr FormulaRecord record{
      .id = "ac3_trzaska_2016",
      .quantity = Quantity::Ac3,
      .citation = Citation::Trzaska2016,
      .lineage = Lineage::trzaska,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Recollection only.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 925.0 - 219.0 * sqrt(w.C) - 7.0 * w.Mn + 39.0 * w.Si - 16.0 * w.Ni + 13.0 * w.Mo + 97.0 * w.V;
  }
};

/// Ac3, linear form. [Yurioka_web] Low-carbon weldable steel; far too low above about 0.3 %C.
struct Ac3YuriokaWeb {
  static constexpr FormulaRecord record{
      .id = "ac3_yurioka_web",
      .quantity = Quantity::Ac3,
      .citation = Citation::Yurioka_web,
      .lineage = Lineage::yurioka,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note = "-436.5 per %C gives about 765 degC at 0.4 %C and nonsense at 0.8 %C. Not for tool or spring steel.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 937.2 - 436.5 * w.C + 56.0 * w.Si - 19.7 * w.Mn - 16.3 * w.Cu - 26.6 * w.Ni - 4.9 * w.Cr + 38.1 * w.Mo +
           124.8 * w.V + 136.3 * w.Ti - 19.1 * w.Nb + 198.4 * w.Al + 3315.0 * w.B;
  }
};

/// Ae3, nonlinear form. [Roberts1988] Limits of its carbon table.
struct Ae3Roberts1988 {
  static constexpr FormulaRecord record{
      .id = "ae3_roberts_1988",
      .quantity = Quantity::Ae3,
      .citation = Citation::Roberts1988,
      .lineage = Lineage::andrews,
      .ranges = Ranges::stated(Range{Element::C, 0.05, 0.4}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note =
          "interp is linear in the carbon table, held at its ends. The page prints -250 Al as well; Al raises "
          "A3, so that term is left out here.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    constexpr double carbon[] = {0.05, 0.10, 0.15, 0.20, 0.25, 0.30, 0.35, 0.40};
    constexpr double lowering[] = {24, 48, 64, 80, 93, 106, 117, 128};
    return 910.0 - 25.0 * w.Mn - 11.0 * w.Cr - 20.0 * w.Cu + 60.0 * w.Si + 700.0 * w.P -
           interpolate(w.C, carbon, lowering);
  }
};

/// Ac3, linear form. [Park1996] TRIP sheet steel (memory), no figures.
struct Ac3Park1996 {
  static constexpr FormulaRecord record{
      .id = "ac3_park_1996",
      .quantity = Quantity::Ac3,
      .citation = Citation::Park1996,
      .lineage = Lineage::park,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Recollection only; low-carbon sheet.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 955.0 - 350.0 * w.C - 25.0 * w.Mn + 51.0 * w.Si + 106.0 * w.Nb + 100.0 * w.Ti + 68.0 * w.Al - 11.0 * w.Cr -
           33.0 * w.Ni - 16.0 * w.Cu + 67.0 * w.Mo;
  }
};

/// Ac3, linear form. [KunitakeKatou] Not known.
struct Ac3KunitakeKatou {
  static constexpr FormulaRecord record{
      .id = "ac3_kunitake_katou",
      .quantity = Quantity::Ac3,
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
    return 920.07 - 394.75 * w.C - 14.46 * w.Mn + 54.99 * w.Si + 5.77 * w.Cr + 24.49 * w.Mo + 83.37 * w.V;
  }
};

using Ac3Formulas =
    FormulaList<Ac3Andrews1965, Ac3Andrews1965Major, Ae3Grange1961, Ae3Eldis1978, Ac3Hougardy1984,
                Ac3TrzaskaDobrzanski2007, Ac3Trzaska2016, Ac3YuriokaWeb, Ae3Roberts1988, Ac3Park1996, Ac3KunitakeKatou>;

}  // namespace decalesce::published
