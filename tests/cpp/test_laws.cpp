// Hardness of martensite, retained austenite and saturated carbon, against the rows of data/checks and their own sense.
#include <cmath>

#include "catch.hpp"
#include "check_rows.hpp"
#include "decalesce/laws/fe_c.hpp"
#include "decalesce/laws/hardness.hpp"
#include "decalesce/laws/martensite.hpp"

using namespace decalesce;

namespace {

Austenite austenite_of(double carbon, double manganese = 0.4) {
  Austenite a;
  a.in_solution.set(Element::C, carbon).set(Element::Mn, manganese);
  return a;
}

}  // namespace

TEST_CASE("hardness of martensite against the standard's curves and the printed table") {
  int compared = 0;
  for (const checks::Row& row : checks::read("checks/as_quenched.csv")) {
    if (row.text("quantity") != "hardness_of_martensite" || row.text("gate") == "report") continue;
    const double carbon = row.number("carbon_wt_pct");
    const double value = row.number("martensite_percent") == 100.0 ? hardness::full_martensite_HRC(carbon)
                                                                   : hardness::half_martensite(carbon).value;
    INFO(row.text("case_id"));
    CHECK(value == Approx(row.number("expected")).margin(row.number("tolerance")));
    ++compared;
  }
  CHECK(compared >= 70);
}

TEST_CASE("hardness never falls with carbon and never passes the ceiling") {
  double before = 0.0;
  for (double carbon = 0.05; carbon < 2.0; carbon += 0.01) {
    const Estimate e = hardness::full_martensite(carbon, 0.03);
    CHECK(e.value >= before - 1e-9);
    CHECK(e.value <= tables::as_quenched_ceiling_HRC);
    CHECK(e.high <= 67.4143);  // the upper end of the ceiling, 66 and 1 and 1 HRC in quadrature
    CHECK(e.low < e.value);
    CHECK(e.high > e.value);
    CHECK(e.flags.has(Flag::outside_range) == (carbon < 0.1));
    before = e.value;
  }
}

TEST_CASE("much retained austenite softens, little does not") {
  const Estimate full = hardness::full_martensite(1.0);
  Estimate kept;
  kept.unit = Unit::fraction;
  kept.value = kept.low = kept.high = 0.10;
  CHECK(hardness::with_retained_austenite(full, kept).value == full.value);
  kept.value = kept.low = kept.high = 0.40;
  const Estimate soft = hardness::with_retained_austenite(full, kept);
  CHECK(soft.value < full.value - 2.0);
  CHECK(soft.flags.has(Flag::retained_austenite));
  CHECK(hardness::with_retained_austenite(full, Estimate::missing(Unit::fraction, Flag::no_model)).value == full.value);
}

TEST_CASE("published retained austenite lies in the band") {
  int compared = 0;
  for (const checks::Row& row : checks::read("checks/retained_austenite.csv")) {
    if (!row.text("temperature_C").empty()) continue;  // those go through the soak: tests of the stages
    Austenite a;
    a.in_solution = row.composition();
    const Estimate e = martensite::retained_austenite(a, row.number("cooled_to_C"));
    INFO(row.text("case_id"));
    CHECK(e.low <= row.number("expected"));
    CHECK(row.number("expected") <= e.high);
    ++compared;
  }
  CHECK(compared >= 6);
}

TEST_CASE("retained austenite rises with carbon, falls with cold and stops falling") {
  double before = -1.0;
  for (double carbon = 0.1; carbon < 1.8; carbon += 0.05) {
    const double kept = martensite::retained_austenite(austenite_of(carbon)).value;
    CHECK(kept > before);
    CHECK(kept <= 1.0);
    before = kept;
  }
  const Austenite a = austenite_of(1.1);
  CHECK(martensite::retained_austenite(a, -75.0).value < martensite::retained_austenite(a, 20.0).value);
  CHECK(martensite::retained_austenite(a, -196.0).value == martensite::retained_austenite(a, -120.0).value);
  CHECK(martensite::retained_austenite(a, 900.0).value == 1.0);
}

TEST_CASE("the martensite laws refuse what they were not made for") {
  CHECK(martensite::retained_austenite(austenite_of(NAN)).flags.has(Flag::nan_input));
  Austenite bare;
  CHECK(martensite::start(bare).flags.has(Flag::carbon_not_stated));
  Austenite alloyed = austenite_of(0.55);
  alloyed.in_solution.set(Element::Cr, 6.0);
  CHECK(std::isnan(martensite::start(alloyed).value));
  CHECK(martensite::start(alloyed).flags.has(Flag::no_model));
  CHECK(martensite::start(austenite_of(0.8)).value ==
        Approx(published::MsVanBohemen2012{}(austenite_of(0.8).in_solution.amount, {})));
}

TEST_CASE("saturated carbon of iron and carbon against the handbook figures") {
  // Fe-C: 0.76 % at 727 degC; carbon beside cementite 0.844 at 760, 0.949 at 800, 1.228 at 900 degC (computed,
  // Gustafson 1985)
  const WeightPercent<double> iron;
  CHECK(fe_c::saturated_carbon(727.0, iron) == Approx(0.762).margin(0.003));
  CHECK(fe_c::saturated_carbon(760.0, iron) == Approx(0.844).margin(0.002));
  CHECK(fe_c::saturated_carbon(800.0, iron) == Approx(0.949).margin(0.002));
  CHECK(fe_c::saturated_carbon(900.0, iron) == Approx(1.228).margin(0.002));
}

TEST_CASE("chromium lowers saturated carbon, the fit follows its table") {
  for (const checks::Row& row : checks::read("tables/acm_shift.csv")) {
    WeightPercent<double> w;
    for_each_element([&](Element e) {
      if (symbol(e) == row.text("element")) w[e] = row.number("wt_pct_in_austenite");
    });
    const double T = row.number("temperature_C");
    INFO(row.text("element") << " " << row.number("wt_pct_in_austenite") << " at " << T);
    const double shift = fe_c::saturated_carbon(T, w) - fe_c::saturated_carbon(T, {});
    CHECK(shift == Approx(row.number("carbon_shift_wt_pct")).margin(0.004));
  }
}

TEST_CASE("cementite balances the carbon") {
  CHECK(fe_c::cementite_fraction(0.9, 1.0) == 0.0);
  const double cementite = fe_c::cementite_fraction(1.2, 0.9);
  CHECK((1.0 - cementite) * 0.9 + cementite * tables::austenitize_rules::cementite_carbon == Approx(1.2));
  CHECK(std::isnan(fe_c::cementite_fraction(NAN, 0.9)));
}
