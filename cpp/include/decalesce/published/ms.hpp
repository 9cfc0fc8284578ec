#pragma once
// Ms, the start of martensite. Every formula wants the composition of the austenite, not of the bar.
#include <cmath>

#include "formula_record.hpp"

namespace decalesce::published {

using std::exp;
using std::log;
using std::sqrt;

/// Ms, linear form. [Andrews1965] Recollected limits.
struct MsAndrews1965Linear {
  static constexpr FormulaRecord record{
      .id = "ms_andrews_1965_linear",
      .quantity = Quantity::Ms,
      .citation = Citation::Andrews1965,
      .lineage = Lineage::andrews,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.0, 0.6}, Range{Element::Mn, 0.0, 4.9}, Range{Element::Si, 0.0, 1.9},
                             Range{Element::Cr, 0.0, 5.0}, Range{Element::Ni, 0.0, 5.0}, Range{Element::Mo, 0.0, 5.4}),
      .standard_error_K = 12.8,
      .unit = Unit::celsius,
      .status = Status::two_pages,
      .note = "Use the carbon that is in the austenite.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 539.0 - 423.0 * w.C - 30.4 * w.Mn - 17.7 * w.Ni - 12.1 * w.Cr - 7.5 * w.Mo;
  }
};

/// Ms, product form. [Andrews1965] Recollected limit.
struct MsAndrews1965Product {
  static constexpr FormulaRecord record{
      .id = "ms_andrews_1965_product",
      .quantity = Quantity::Ms,
      .citation = Citation::Andrews1965,
      .lineage = Lineage::andrews,
      .ranges = Ranges::remembered(Range{Element::C, 0.0, 0.6}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Turns up again above about 0.9 to 1.1 %C: do not extrapolate.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 512.0 - 453.0 * w.C - 16.9 * w.Ni + 15.0 * w.Cr - 9.5 * w.Mo + 217.0 * w.C * w.C - 71.5 * w.C * w.Mn -
           67.6 * w.C * w.Cr;
  }
};

/// Ms, linear form. [KungRayment1982] As Andrews, extended to Co and Si.
struct MsKungRayment1982Andrews {
  static constexpr FormulaRecord record{
      .id = "ms_kung_rayment_1982_andrews",
      .quantity = Quantity::Ms,
      .citation = Citation::KungRayment1982,
      .lineage = Lineage::andrews,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.0, 0.6}, Range{Element::Mn, 0.0, 4.9}, Range{Element::Si, 0.0, 1.9},
                             Range{Element::Cr, 0.0, 5.0}, Range{Element::Ni, 0.0, 5.0}, Range{Element::Mo, 0.0, 5.4}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "CONFLICT: -10 Co is also met; Co raises Ms, so +10 is believed.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 539.0 - 423.0 * w.C - 30.4 * w.Mn - 17.7 * w.Ni - 12.1 * w.Cr - 7.5 * w.Mo + 10.0 * w.Co - 7.5 * w.Si;
  }
};

/// Ms, linear form. [StevenHaynes1956] Recollected limits.
struct MsStevenHaynes1956 {
  static constexpr FormulaRecord record{
      .id = "ms_steven_haynes_1956",
      .quantity = Quantity::Ms,
      .citation = Citation::StevenHaynes1956,
      .lineage = Lineage::steven_haynes,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.1, 0.55}, Range{Element::Mn, 0.2, 1.7}, Range{Element::Si, 0.1, 0.35},
                             Range{Element::Cr, 0.0, 3.5}, Range{Element::Ni, 0.0, 5.0}, Range{Element::Mo, 0.0, 1.0}),
      .standard_error_K = 12.2,
      .unit = Unit::celsius,
      .status = Status::two_pages,
      .note = "One place prints it in degF; it converts to these coefficients within rounding.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 561.0 - 474.0 * w.C - 33.0 * w.Mn - 17.0 * w.Cr - 17.0 * w.Ni - 21.0 * w.Mo;
  }
};

/// Ms, nonlinear form. [StevenHaynes1956] "up to about 1.0 to 1.2 %C": the lower figure; the other elements as
/// Steven and Haynes.
struct MsStevenHaynes1956HighCarbon {
  static constexpr FormulaRecord record{
      .id = "ms_steven_haynes_1956_high_carbon",
      .quantity = Quantity::Ms,
      .citation = Citation::StevenHaynes1956,
      .lineage = Lineage::steven_haynes,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.1, 1.0}, Range{Element::Mn, 0.2, 1.7}, Range{Element::Si, 0.1, 0.35},
                             Range{Element::Cr, 0.0, 3.5}, Range{Element::Ni, 0.0, 5.0}, Range{Element::Mo, 0.0, 1.0}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note =
          "The correction polynomial is quoted by a later gear-carburizing paper; the original is a curve. It "
          "starts at 0.53 %C with a step of 0.1 degC, adds 78 degC at 1.0 %C and turns up above 1.2 %C.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    const Real correction = 242.42 * w.C * w.C * w.C - 357.26 * w.C * w.C + 272.65 * w.C - 80.103;
    return 561.0 - 474.0 * w.C - 33.0 * w.Mn - 17.0 * w.Cr - 17.0 * w.Ni - 21.0 * w.Mo +
           select(w.C < Real(0.53), Real(0.0), correction);
  }
};

/// Ms, linear form. [KungRayment1982] As Steven and Haynes.
struct MsKungRayment1982StevenHaynes {
  static constexpr FormulaRecord record{
      .id = "ms_kung_rayment_1982_steven_haynes",
      .quantity = Quantity::Ms,
      .citation = Citation::KungRayment1982,
      .lineage = Lineage::steven_haynes,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.1, 0.55}, Range{Element::Mn, 0.2, 1.7}, Range{Element::Si, 0.1, 0.35},
                             Range{Element::Cr, 0.0, 3.5}, Range{Element::Ni, 0.0, 5.0}, Range{Element::Mo, 0.0, 1.0}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Recollection only.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 561.0 - 474.0 * w.C - 33.0 * w.Mn - 17.0 * w.Cr - 17.0 * w.Ni - 21.0 * w.Mo + 10.0 * w.Co - 7.5 * w.Si;
  }
};

/// Ms, linear form. [PaysonSavage1944] C 0.2-1.0, low alloy; recollected.
struct MsPaysonSavage1944 {
  static constexpr FormulaRecord record{
      .id = "ms_payson_savage_1944",
      .quantity = Quantity::Ms,
      .citation = Citation::PaysonSavage1944,
      .lineage = Lineage::payson,
      .ranges = Ranges::remembered(Range{Element::C, 0.2, 1.0}),
      .standard_error_K = unknown,
      .unit = Unit::fahrenheit,
      .status = Status::memory,
      .note = "A degC form is met with two misprints (489.9 for 498.9, 16/7 for 16.7); the degF form settles them.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 930.0 - 570.0 * w.C - 60.0 * w.Mn - 50.0 * w.Cr - 30.0 * w.Ni - 20.0 * w.Si - 20.0 * w.Mo - 20.0 * w.W;
  }
};

/// Ms, linear form. [RowlandLyle1946] Not known.
struct MsRowlandLyle1946 {
  static constexpr FormulaRecord record{
      .id = "ms_rowland_lyle_1946",
      .quantity = Quantity::Ms,
      .citation = Citation::RowlandLyle1946,
      .lineage = Lineage::payson,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::fahrenheit,
      .status = Status::memory,
      .note = "Tungsten term from memory.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 930.0 - 600.0 * w.C - 60.0 * w.Mn - 50.0 * w.Cr - 30.0 * w.Ni - 20.0 * w.Si - 20.0 * w.Mo - 20.0 * w.W;
  }
};

/// Ms, linear form. [GrangeStewart1946] Not known.
struct MsGrangeStewart1946 {
  static constexpr FormulaRecord record{
      .id = "ms_grange_stewart_1946",
      .quantity = Quantity::Ms,
      .citation = Citation::GrangeStewart1946,
      .lineage = Lineage::grange_stewart,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::fahrenheit,
      .status = Status::memory,
      .note = "The degC form met agrees.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 1000.0 - 650.0 * w.C - 70.0 * w.Mn - 70.0 * w.Cr - 35.0 * w.Ni - 50.0 * w.Mo;
  }
};

/// Ms, linear form. [Nehrenberg1946] Not known.
struct MsNehrenberg1946 {
  static constexpr FormulaRecord record{
      .id = "ms_nehrenberg_1946",
      .quantity = Quantity::Ms,
      .citation = Citation::Nehrenberg1946,
      .lineage = Lineage::payson,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::fahrenheit,
      .status = Status::memory,
      .note = "Recollection only.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 930.0 - 540.0 * w.C - 60.0 * w.Mn - 40.0 * w.Cr - 30.0 * w.Ni - 20.0 * w.Si - 20.0 * w.Mo;
  }
};

/// Ms, product form. [Carapella1944] Not known.
struct MsCarapella1944 {
  static constexpr FormulaRecord record{
      .id = "ms_carapella_1944",
      .quantity = Quantity::Ms,
      .citation = Citation::Carapella1944,
      .lineage = Lineage::carapella,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::fahrenheit,
      .status = Status::memory,
      .note = "Recollection; plausible numerically.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 925.0 * (1.0 - 0.620 * w.C) * (1.0 - 0.092 * w.Mn) * (1.0 - 0.033 * w.Si) * (1.0 - 0.045 * w.Ni) *
           (1.0 - 0.070 * w.Cr) * (1.0 - 0.029 * w.Mo) * (1.0 - 0.018 * w.W) * (1.0 + 0.120 * w.Co);
  }
};

/// Ms, linear form. [Eldis1978] Recollected limits.
struct MsEldis1978 {
  static constexpr FormulaRecord record{
      .id = "ms_eldis_1978",
      .quantity = Quantity::Ms,
      .citation = Citation::Eldis1978,
      .lineage = Lineage::eldis,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.1, 0.8}, Range{Element::Mn, 0.35, 1.8}, Range{Element::Si, 0.0, 1.5},
                             Range{Element::Cr, 0.0, 1.5}, Range{Element::Ni, 0.0, 4.5}, Range{Element::Mo, 0.0, 0.9}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Recollection only.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 531.0 - 391.2 * w.C - 43.3 * w.Mn - 21.8 * w.Ni - 16.2 * w.Cr;
  }
};

/// Ms, linear form. [Kunitake] Not known.
struct MsKunitake {
  static constexpr FormulaRecord record{
      .id = "ms_kunitake",
      .quantity = Quantity::Ms,
      .citation = Citation::Kunitake,
      .lineage = Lineage::kunitake,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "CONFLICT, unsettled: 14.8 Cr is also met; 19.8 kept.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 560.5 - 407.3 * w.C - 7.3 * w.Si - 37.8 * w.Mn - 20.5 * w.Cu - 19.5 * w.Ni - 19.8 * w.Cr - 4.5 * w.Mo;
  }
};

/// Ms, linear form. [Yurioka_web] Low-alloy weldable steel, no figures.
struct MsYuriokaWeb {
  static constexpr FormulaRecord record{
      .id = "ms_yurioka_web",
      .quantity = Quantity::Ms,
      .citation = Citation::Yurioka_web,
      .lineage = Lineage::yurioka,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::page,
      .note = "Original publication not identified.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 521.0 - 353.0 * w.C - 22.0 * w.Si - 24.3 * w.Mn - 7.7 * w.Cu - 17.3 * w.Ni - 17.7 * w.Cr - 25.8 * w.Mo;
  }
};

/// Ms, linear form. [Tamura1970] Not known.
struct MsTamura1970 {
  static constexpr FormulaRecord record{
      .id = "ms_tamura_1970",
      .quantity = Quantity::Ms,
      .citation = Citation::Tamura1970,
      .lineage = Lineage::tamura,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "CONFLICT: -30 Al is met in one place; Al raises Ms, so +30 is believed.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 550.0 - 361.0 * w.C - 39.0 * w.Mn - 35.0 * w.V - 20.0 * w.Cr - 17.0 * w.Ni - 10.0 * w.Cu - 5.0 * w.Mo -
           5.0 * w.W + 15.0 * w.Co + 30.0 * w.Al;
  }
};

/// Ms, linear form. [Ishida1995] Low to medium alloy (memory), no figures.
struct MsIshida1995 {
  static constexpr FormulaRecord record{
      .id = "ms_ishida_1995",
      .quantity = Quantity::Ms,
      .citation = Citation::Ishida1995,
      .lineage = Lineage::ishida,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Recollection only.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 545.0 - 330.0 * w.C + 2.0 * w.Al + 7.0 * w.Co - 14.0 * w.Cr - 13.0 * w.Cu - 23.0 * w.Mn - 5.0 * w.Mo -
           4.0 * w.Nb - 13.0 * w.Ni - 7.0 * w.Si + 3.0 * w.Ti + 4.0 * w.V;
  }
};

/// Ms, linear form. [Capdevila2002] Recollected limits.
struct MsCapdevila2002 {
  static constexpr FormulaRecord record{
      .id = "ms_capdevila_2002",
      .quantity = Quantity::Ms,
      .citation = Citation::Capdevila2002,
      .lineage = Lineage::capdevila,
      .ranges =
          Ranges::remembered(Range{Element::C, 0.001, 1.65}, Range{Element::Mn, 0.0, 3.8}, Range{Element::Si, 0.0, 3.4},
                             Range{Element::Cr, 0.0, 18.0}, Range{Element::Ni, 0.0, 27.0}, Range{Element::Mo, 0.0, 5.1},
                             Range{Element::V, 0.0, 4.6}, Range{Element::W, 0.0, 13.0}, Range{Element::Co, 0.0, 30.0}),
      .standard_error_K = unknown,
      .unit = Unit::kelvin,
      .status = Status::memory,
      .note = "Gives kelvin. The title of a companion paper was seen, the coefficients were not.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 764.2 - 302.6 * w.C - 30.6 * w.Mn - 16.6 * w.Ni - 8.9 * w.Cr + 2.4 * w.Mo - 11.3 * w.Cu + 8.58 * w.Co +
           7.4 * w.W - 14.5 * w.Si;
  }
};

/// Ms, nonlinear form. [vanBohemen2012] C 0.1-1.9, low alloy; recollected.
struct MsVanBohemen2012 {
  static constexpr FormulaRecord record{
      .id = "ms_van_bohemen_2012",
      .quantity = Quantity::Ms,
      .citation = Citation::vanBohemen2012,
      .lineage = Lineage::van_bohemen,
      .ranges = Ranges::remembered(Range{Element::C, 0.1, 1.9}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note =
          "Exponential in carbon: preferred for high carbon. Ms here is the start fitted to the Koistinen-"
          "Marburger curve, slightly below the first martensite; use it with its own rate.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 565.0 - 600.0 * (1.0 - exp(-0.96 * w.C)) - 31.0 * w.Mn - 13.0 * w.Si - 10.0 * w.Cr - 18.0 * w.Ni -
           12.0 * w.Mo;
  }
};

/// Ms, nonlinear form. [Barbier2014] Wide fit (memory), no figures.
struct MsBarbier2014 {
  static constexpr FormulaRecord record{
      .id = "ms_barbier_2014",
      .quantity = Quantity::Ms,
      .citation = Citation::Barbier2014,
      .lineage = Lineage::barbier,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note =
          "Met as 818 K with C+N in the exponent; memory has 545 degC with C. The Nb and B coefficients are "
          "huge: apply only within ppm.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 545.0 - 601.2 * (1.0 - exp(-0.868 * w.C)) - 34.4 * w.Mn - 13.7 * w.Si - 9.2 * w.Cr - 17.3 * w.Ni -
           15.4 * w.Mo + 10.8 * w.V + 4.7 * w.Co - 1.4 * w.Al - 16.3 * w.Cu - 361.0 * w.Nb - 2.44 * w.Ti - 3448.0 * w.B;
  }
};

/// Ms, nonlinear form. [IngberKunert2022] High-carbon steel (title), no figures.
struct MsIngberKunert2022 {
  static constexpr FormulaRecord record{
      .id = "ms_ingber_kunert_2022",
      .quantity = Quantity::Ms,
      .citation = Citation::IngberKunert2022,
      .lineage = Lineage::van_bohemen,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "The authors state 14 degC for C 1.5, Mn 0.5, Si 0.8; it gives 14.3.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 530.2 - 290.3 * w.C - 35.5 * w.Mn - 6.8 * w.Si - 17.2 * w.Ni - 20.8 * w.Cr - 10.4 * w.Mo + 7.1 * w.Al +
           4.8 * w.Co - 75.0 * (1.0 - exp(-0.96 * w.C));
  }
};

/// Ms, linear form. [Trzaska2016] Structural steel, more than 500 compositions (abstract seen).
struct MsTrzaska2016 {
  static constexpr FormulaRecord record{
      .id = "ms_trzaska_2016",
      .quantity = Quantity::Ms,
      .citation = Citation::Trzaska2016,
      .lineage = Lineage::trzaska,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Equations not seen.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 541.0 - 401.0 * w.C - 36.0 * w.Mn - 10.5 * w.Si - 14.0 * w.Cr - 18.0 * w.Ni - 17.0 * w.Mo;
  }
};

/// Ms, nonlinear form. [LeePark2013] Not stated.
struct MsLeePark2013 {
  static constexpr FormulaRecord record{
      .id = "ms_lee_park_2013",
      .quantity = Quantity::Ms,
      .citation = Citation::LeePark2013,
      .lineage = Lineage::lee_park,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .needs = Needs::grain_um,
      .note = "The only formula here with grain size. 11.64 is also met for 11.67 (0.1 degC).",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 475.9 - 335.1 * w.C - 34.5 * w.Mn - 1.3 * w.Si - 15.5 * w.Ni - 13.1 * w.Cr - 10.7 * w.Mo - 9.6 * w.Cu +
           11.67 * log(given.grain_um);
  }
};

/// Ms, linear form. [SverdlinNess1997] Not known.
struct MsSverdlinNess1997 {
  static constexpr FormulaRecord record{
      .id = "ms_sverdlin_ness_1997",
      .quantity = Quantity::Ms,
      .citation = Citation::SverdlinNess1997,
      .lineage = Lineage::sverdlin_ness,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Recollection only.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 520.0 - 320.0 * w.C - 50.0 * w.Mn - 30.0 * w.Cr - 20.0 * w.Ni - 20.0 * w.Mo - 5.0 * w.Cu - 5.0 * w.Si;
  }
};

/// Ms, linear form. [FinklerSchirra1996] 8 to 14 %Cr steel; recollected.
struct MsFinklerSchirra1996 {
  static constexpr FormulaRecord record{
      .id = "ms_finkler_schirra_1996",
      .quantity = Quantity::Ms,
      .citation = Citation::FinklerSchirra1996,
      .lineage = Lineage::steven_haynes,
      .ranges = Ranges::remembered(Range{Element::Cr, 8.0, 14.0}),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "CONFLICT: met with the signs of N and Nb reversed; N must lower Ms. Zr, Ta and Hf terms left out.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 635.0 - 474.0 * (w.C + 0.86 * (w.N - 0.15 * w.Nb)) - 33.0 * w.Mn - 17.0 * w.Cr - 17.0 * w.Ni - 21.0 * w.Mo -
           39.0 * w.V - 11.0 * w.W;
  }
};

/// Ms, linear form. [BottPickering] Fe-Cr-Ni martensitic and transformable stainless (memory), no figures.
struct MsBottPickering {
  static constexpr FormulaRecord record{
      .id = "ms_bott_pickering",
      .quantity = Quantity::Ms,
      .citation = Citation::BottPickering,
      .lineage = Lineage::bott_pickering,
      .ranges = Ranges::unknown(),
      .standard_error_K = unknown,
      .unit = Unit::celsius,
      .status = Status::memory,
      .note = "Recollection only.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 502.0 - 810.0 * w.C - 1230.0 * w.N - 13.0 * w.Mn - 12.0 * w.Cr - 54.0 * w.Cu - 46.0 * w.Mo - 30.0 * w.Ni;
  }
};

/// Ms, linear form. [EichelmanHull1953] Recollected limits.
struct MsEichelmanHull1953 {
  static constexpr FormulaRecord record{
      .id = "ms_eichelman_hull_1953",
      .quantity = Quantity::Ms,
      .citation = Citation::EichelmanHull1953,
      .lineage = Lineage::eichelman_hull,
      .ranges = Ranges::remembered(Range{Element::C, 0.004, 0.12}, Range{Element::Mn, 0.6, 5.0},
                                   Range{Element::Si, 0.3, 2.6}, Range{Element::Cr, 10.0, 18.0},
                                   Range{Element::Ni, 6.0, 12.0}, Range{Element::N, 0.01, 0.06}),
      .standard_error_K = unknown,
      .unit = Unit::fahrenheit,
      .status = Status::memory,
      .note = "A degC form with 1350 for 1305 is met; the bracket form settles it. Nonsense for 420 or 440C.",
  };
  template <Scalar Real>
  constexpr Real operator()([[maybe_unused]] const WeightPercent<Real>& w,
                            [[maybe_unused]] const Given<Real>& given = {}) const {
    return 75.0 * (14.6 - w.Cr) + 110.0 * (8.9 - w.Ni) + 60.0 * (1.33 - w.Mn) + 50.0 * (0.47 - w.Si) +
           3000.0 * (0.068 - w.C - w.N);
  }
};

using MsFormulas = FormulaList<MsAndrews1965Linear, MsAndrews1965Product, MsKungRayment1982Andrews, MsStevenHaynes1956,
                               MsStevenHaynes1956HighCarbon, MsKungRayment1982StevenHaynes, MsPaysonSavage1944,
                               MsRowlandLyle1946, MsGrangeStewart1946, MsNehrenberg1946, MsCarapella1944, MsEldis1978,
                               MsKunitake, MsYuriokaWeb, MsTamura1970, MsIshida1995, MsCapdevila2002, MsVanBohemen2012,
                               MsBarbier2014, MsIngberKunert2022, MsTrzaska2016, MsLeePark2013, MsSverdlinNess1997,
                               MsFinklerSchirra1996, MsBottPickering, MsEichelmanHull1953>;

}  // namespace decalesce::published
