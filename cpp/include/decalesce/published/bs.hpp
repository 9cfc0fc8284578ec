#pragma once
// Bs and Bf: start and end of bainite.
#include <cmath>

#include "formula_record.hpp"

namespace decalesce::published {

using std::exp;
using std::log;
using std::sqrt;

/// Bs, linear form. [StevenHaynes1956] Recollected limits; 65 steels is stated.
struct BsStevenHaynes1956 {
  static constexpr FormulaRecord record{
      .id = "bs_steven_haynes_1956",
      .quantity = Quantity::Bs,
      .citation = Citation::StevenHaynes1956,
      .lineage = Lineage::steven_haynes,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.1, 0.55}, Range{Element::Mn, 0.2, 1.7}, Range{Element::Si, 0.1, 0.35},
                             Range{Element::Cr, 0.0, 3.5}, Range{Element::Ni, 0.0, 5.0}, Range{Element::Mo, 0.0, 1.0}),
      .standard_error_K = 15.2,
      .unit = Unit::celsius,
      .status = Status::two_pages,
      .note = "Rests on 65 steels.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 830.0 - 270.0 * w.C - 90.0 * w.Mn - 37.0 * w.Ni - 70.0 * w.Cr - 83.0 * w.Mo;
  }
};

/// Bs, linear form. [KirkaldyVenugopalan1984] Low alloy, no figures.
struct BsKirkaldyVenugopalan1984 {
  static constexpr FormulaRecord record{
      .id = "bs_kirkaldy_venugopalan_1984",
      .quantity = Quantity::Bs,
      .citation = Citation::KirkaldyVenugopalan1984,
      .lineage = Lineage::kirkaldy,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note = "Authors by memory. 75 per %Si is large: invalid for silicon spring steel.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 656.0 - 57.7 * w.C - 75.0 * w.Si - 35.0 * w.Mn - 15.3 * w.Ni - 34.0 * w.Cr - 41.2 * w.Mo;
  }
};

/// Bs, linear form. [Li1998] Low alloy, no figures.
struct BsLi1998 {
  static constexpr FormulaRecord record{
      .id = "bs_li_1998",
      .quantity = Quantity::Bs,
      .citation = Citation::Li1998,
      .lineage = Lineage::kirkaldy,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Small carbon slope: reads 100 degC and more too high above about 0.6 %C.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 637.0 - 58.0 * w.C - 35.0 * w.Mn - 15.0 * w.Ni - 34.0 * w.Cr - 41.0 * w.Mo;
  }
};

/// Bs, linear form. [Suehiro1992] Low-alloy C-Mn, no figures.
struct BsSuehiro1992 {
  static constexpr FormulaRecord record{
      .id = "bs_suehiro_1992",
      .quantity = Quantity::Bs,
      .citation = Citation::Suehiro1992,
      .lineage = Lineage::suehiro,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note = "Authors by memory.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 718.0 - 425.0 * w.C - 42.5 * w.Mn;
  }
};

/// Bs, linear form. [Bodnar1989] 3.5NiCrMoV rotor steel (memory), no figures.
struct BsBodnar1989 {
  static constexpr FormulaRecord record{
      .id = "bs_bodnar_1989",
      .quantity = Quantity::Bs,
      .citation = Citation::Bodnar1989,
      .lineage = Lineage::bodnar,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note = "Authors by memory. Carbon slope fitted near 0.25 %C: do not extrapolate.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 844.0 - 597.0 * w.C - 63.0 * w.Mn - 16.0 * w.Ni - 78.0 * w.Cr;
  }
};

/// Bs, linear form. [BodnarTaylor1990] Not known.
struct BsBodnarTaylor1990 {
  static constexpr FormulaRecord record{
      .id = "bs_bodnar_taylor_1990",
      .quantity = Quantity::Bs,
      .citation = Citation::BodnarTaylor1990,
      .lineage = Lineage::bodnar_taylor,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note = "Volume of the journal uncertain (17 or 18).",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 719.0 - 127.0 * w.C - 50.0 * w.Mn - 31.0 * w.Ni - 27.0 * w.Cr - 61.0 * w.Mo;
  }
};

/// Bs, nonlinear form. [vanBohemen2012] C 0.1-1.9, low alloy; recollected.
struct BsVanBohemen2012 {
  static constexpr FormulaRecord record{
      .id = "bs_van_bohemen_2012",
      .quantity = Quantity::Bs,
      .citation = Citation::vanBohemen2012,
      .lineage = Lineage::van_bohemen,
      .ranges = Ranges::remembered(Range{Element::C, 0.1, 1.9}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Exponential in carbon.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 839.0 - 270.0 * (1.0 - exp(-1.33 * w.C)) - 86.0 * w.Mn - 23.0 * w.Si - 67.0 * w.Cr - 33.0 * w.Ni -
           75.0 * w.Mo;
  }
};

/// Bs, nonlinear form. [Lee2002] Recollected limits.
struct BsLee2002 {
  static constexpr FormulaRecord record{
      .id = "bs_lee_2002",
      .quantity = Quantity::Bs,
      .citation = Citation::Lee2002,
      .lineage = Lineage::lee_2002,
      .ranges = Ranges::remembered(Range{Element::C, 0.1, 0.8}, Range{Element::Mn, 0.26, 1.63},
                                   Range{Element::Si, 0.13, 0.67}, Range{Element::Cr, 0.0, 4.48},
                                   Range{Element::Ni, 0.0, 4.34}, Range{Element::Mo, 0.0, 1.02}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Recollection only.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 745.0 - 110.0 * w.C - 59.0 * w.Mn - 39.0 * w.Ni - 68.0 * w.Cr - 106.0 * w.Mo + 17.0 * w.Mn * w.Ni +
           6.0 * w.Cr * w.Cr + 29.0 * w.Mo * w.Mo;
  }
};

/// Bs, linear form. [Zhao2001] Low-carbon bainitic (memory), no figures.
struct BsZhao2001 {
  static constexpr FormulaRecord record{
      .id = "bs_zhao_2001",
      .quantity = Quantity::Bs,
      .citation = Citation::Zhao2001,
      .lineage = Lineage::zhao,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Recollection only; no carbon term.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 630.0 - 45.0 * w.Mn - 40.0 * w.V - 35.0 * w.Si - 30.0 * w.Cr - 25.0 * w.Mo - 20.0 * w.Ni - 15.0 * w.W;
  }
};

/// Bs, linear form. [Trzaska2016] Structural steel, no figures.
struct BsTrzaska2016 {
  static constexpr FormulaRecord record{
      .id = "bs_trzaska_2016",
      .quantity = Quantity::Bs,
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
    return 771.0 - 231.0 * w.C - 69.0 * w.Mn - 23.0 * w.Si - 58.5 * w.Cr - 31.0 * w.Ni - 55.0 * w.Mo - 41.0 * w.V;
  }
};

/// Bf, linear form. [StevenHaynes1956] As Steven and Haynes.
struct BfStevenHaynes1956 {
  static constexpr FormulaRecord record{
      .id = "bf_steven_haynes_1956",
      .quantity = Quantity::Bf,
      .citation = Citation::StevenHaynes1956,
      .lineage = Lineage::steven_haynes,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.1, 0.55}, Range{Element::Mn, 0.2, 1.7}, Range{Element::Si, 0.1, 0.35},
                             Range{Element::Cr, 0.0, 3.5}, Range{Element::Ni, 0.0, 5.0}, Range{Element::Mo, 0.0, 1.0}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .needs = Needs::Bs,
      .note = "Half way at Bs-60 by the same source.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return given.Bs - 120.0;
  }
};

using BsFormulas =
    FormulaList<BsStevenHaynes1956, BsKirkaldyVenugopalan1984, BsLi1998, BsSuehiro1992, BsBodnar1989,
                BsBodnarTaylor1990, BsVanBohemen2012, BsLee2002, BsZhao2001, BsTrzaska2016, BfStevenHaynes1956>;

}  // namespace decalesce::published
