#include <limits>
#include <vector>

#include "catch.hpp"
#include "check_rows.hpp"
#include "decalesce/temper/published_table.hpp"
#include "decalesce/temper/setting.hpp"

namespace {

using namespace decalesce;
using namespace decalesce::temper;

Composition plain(double carbon) {
  Composition w;
  w.set(Element::C, carbon).set(Element::Mn, 0.75).set(Element::Si, 0.20);
  return w;
}

double answer(const checks::Row& row) {
  const std::string& quantity = row.text("quantity");
  const double constant = row.number("constant_hours");
  const double P = parameter_kK(row.number("temperature_C"), row.number("time_s"), constant);
  if (quantity == "temper_parameter") return P;
  if (quantity == "grange_baughman_parameter") return parameter_P18(row.number("temperature_C"), row.number("time_s"));
  if (quantity == "constant_hours")
    return published_constant(ConstantRule::carbon_dependent, row.number("carbon_wt_pct")).hours;
  if (quantity == "equivalent_temperature") return equivalent_temperature_C(P, row.number("time_2_s"), constant);
  if (quantity == "equivalent_time") return equivalent_time_s(P, row.number("temperature_2_C"), constant);
  TemperState state(constant);
  if (quantity == "two_tempers_gain") {
    for (int k = 0; k < 2; ++k) state.hold(row.number("temperature_C"), row.number("time_s"));
    return equivalent_temperature_C(state.parameter(), row.number("time_s"), constant) - row.number("temperature_C");
  }
  REQUIRE(quantity == "ramp_equivalent_time");
  const double start_C = 20.0;
  const double seconds = (row.number("temperature_C") - start_C) / row.number("rate_K_per_h") * seconds_per_hour;
  state.ramp(start_C, row.number("temperature_C"), seconds);
  return equivalent_time_s(state.parameter(), row.number("temperature_C"), constant);
}

}  // namespace

// HollomonJaffe1945, GrangeBaughman1956 and arithmetic on them.
TEST_CASE("printed temper parameters and equivalent tempers", "[temper]") {
  std::size_t seen = 0;
  for (const checks::Row& row : checks::read("checks/temper_time.csv")) {
    if (row.text("quantity") == "effective_temperature_above_mean") continue;
    INFO(row.text("case_id"));
    CHECK(std::abs(answer(row) - row.number("expected")) <= row.number("tolerance"));
    ++seen;
  }
  CHECK(seen >= 70);
}

TEST_CASE("a hold in pieces is the hold", "[temper]") {
  TemperState whole(20.0);
  whole.hold(215.0, 7200.0);
  TemperState pieces(20.0);
  for (int k = 0; k < 1000; ++k) pieces.hold(215.0, 7.2);
  CHECK(pieces.parameter() == Approx(whole.parameter()).epsilon(1e-9));
  CHECK(pieces.total_s() == Approx(7200.0));
}

TEST_CASE("a ramp in pieces is the ramp, and starts from nothing", "[temper]") {
  TemperState whole(20.0);
  whole.ramp(20.0, 300.0, 5400.0);
  TemperState pieces(20.0);
  const int count = 500;
  for (int k = 0; k < count; ++k) pieces.ramp(20.0 + 280.0 * k / count, 20.0 + 280.0 * (k + 1) / count, 5400.0 / count);
  CHECK(std::isfinite(whole.parameter()));
  CHECK(pieces.parameter() == Approx(whole.parameter()).epsilon(1e-9));
}

TEST_CASE("holds that have no parameter", "[temper]") {
  CHECK(std::isnan(parameter_kK(200.0, 0.0, 20.0)));
  CHECK(std::isnan(parameter_kK(200.0, -1.0, 20.0)));
  CHECK(std::isnan(parameter_kK(NAN, 3600.0, 20.0)));
  CHECK(std::isnan(parameter_kK(-300.0, 3600.0, 20.0)));
  CHECK(std::isnan(TemperState(20.0).parameter()));
}

TEST_CASE("a step that has no parameter leaves none, and ends", "[temper]") {
  const double infinite = std::numeric_limits<double>::infinity();
  const Temperable steel(plain(0.8), 66.0);
  for (double time_s : {0.0, -1.0, -3600.0, infinite, -infinite, double(NAN)}) {
    INFO(time_s);
    for (double end_C : {200.0, 300.0}) {  // a hold, a ramp
      TemperState alone(18.0);
      alone.ramp(200.0, end_C, time_s);
      CHECK(std::isnan(alone.parameter()));
      CHECK(std::isnan(alone.peak_C()));
      CHECK(std::isnan(alone.mean_C()));
      const Estimate hardness = steel.after(hold_of(alone));
      CHECK(std::isnan(hardness.value));
      CHECK(hardness.flags == Flags(time_s <= 0.0 ? Flag::impossible_input : Flag::nan_input));
      // Nor does what comes before or after give it one.
      TemperState among(18.0);
      among.hold(200.0, 7200.0);
      among.ramp(200.0, end_C, time_s);
      among.ramp(200.0, 250.0, 600.0);
      among.hold(250.0, 7200.0);
      CHECK(std::isnan(among.parameter()));
      CHECK(std::isnan(among.peak_C()));
      CHECK(std::isnan(among.mean_C()));
    }
  }
  for (double bad_C : {double(NAN), infinite, -infinite, -zero_celsius_K, -300.0}) {
    INFO(bad_C);
    TemperState hold(20.0);
    hold.hold(bad_C, 3600.0);
    CHECK(std::isnan(hold.parameter()));
    TemperState up(20.0);
    up.ramp(bad_C, 200.0, 3600.0);
    CHECK(std::isnan(up.parameter()));
    TemperState down(20.0);
    down.ramp(200.0, bad_C, 3600.0);
    CHECK(std::isnan(down.parameter()));
    CHECK(std::isnan(down.peak_C()));
  }
  for (double constant_hours : {double(NAN), infinite, -infinite}) {
    TemperState state(constant_hours);
    state.ramp(20.0, 200.0, 3600.0);
    CHECK(std::isnan(state.parameter()));
  }
}

TEST_CASE("a ramp that rounding keeps from settling ends", "[temper]") {
  TemperState absurd(1e6);
  absurd.ramp(20.0, 300.0, 3600.0);
  CHECK(std::isnan(absurd.parameter()));
  TemperState cold(20.0);  // liquid helium to a temper is no such case
  cold.ramp(-269.0, 200.0, 3600.0);
  CHECK(std::isfinite(cold.parameter()));
}

TEST_CASE("softening never turns upward", "[temper]") {
  for (double carbon = 0.25; carbon <= 1.15; carbon += 0.05)
    for (double nickel : {0.0, 3.5})
      for (double silicon : {0.0, 1.7}) {
        Composition w = plain(carbon);
        w.set(Element::Ni, nickel).set(Element::Si, silicon).set(Element::Mo, 0.36).set(Element::V, 0.2);
        const SofteningCurve curve(w);
        double before = curve.HV(10.0);
        for (double P = 10.0; P < 36.0; P += 0.05) {
          CHECK(curve.HV(P) <= before + 1e-9);
          before = curve.HV(P);
        }
      }
}

// RaiipaTempering2024, derived: the grid's own points for a steel without alloy terms.
TEST_CASE("the grid's points come back", "[temper]") {
  for (std::size_t c = 0; c < tables::temper_base_carbon_wt_pct.size(); ++c) {
    const SofteningCurve curve(plain(tables::temper_base_carbon_wt_pct[c]));
    for (std::size_t p = 0; p < tables::temper_base_P18.size(); ++p)
      CHECK(curve.HV(tables::temper_base_P18[p]) == Approx(tables::temper_base_HV[c][p]).margin(1e-9));
  }
}

TEST_CASE("molybdenum counts half beside chromium, without a step", "[temper]") {
  const double P = 26.0;
  const auto rise = [&](double chromium) {
    Composition w = plain(0.5);
    w.set(Element::Cr, chromium);
    const double without = SofteningCurve(w).HV(P);
    w.set(Element::Mo, 0.3);
    return SofteningCurve(w).HV(P) - without;
  };
  CHECK(rise(0.7) == Approx(0.5 * rise(0.3)));
  CHECK(rise(0.5) == Approx(0.75 * rise(0.3)));
}

TEST_CASE("the inverse gives back the hardness, and says when it cannot", "[temper]") {
  const Temperable steel(plain(0.8), 66.0);
  for (double target = 22.0; target < 66.0; target += 0.7) {
    const Setting s = temperature_for(steel, target, 7200.0);
    CHECK(steel.after(hold_of(s.temperature_C.value, 7200.0)).value == Approx(target).margin(1e-6));
    CHECK(s.stays_from_C <= s.temperature_C.value);
    CHECK(s.stays_to_C >= s.temperature_C.value);
  }
  CHECK(temperature_for(steel, 67.0, 7200.0).temperature_C.flags == Flags(Flag::target_above_reach));
  CHECK(temperature_for(steel, 10.0, 7200.0).temperature_C.flags == Flags(Flag::off_scale));
  CHECK(temperature_for(steel, 60.0, 0.0).temperature_C.flags == Flags(Flag::impossible_input));
}

TEST_CASE("no number where the model has none", "[temper]") {
  Composition hot_work = plain(0.40);
  hot_work.set(Element::Cr, 5.2).set(Element::Mo, 1.3).set(Element::V, 0.8);
  const Estimate e = Temperable(hot_work, 54.0).after(hold_of(550.0, 7200.0));
  CHECK(std::isnan(e.value));
  CHECK(e.flags.has(Flag::secondary_hardening));
  CHECK(e.flags.has(Flag::no_model));
  CHECK(Temperable(plain(0.8), NAN).after(hold_of(200.0, 7200.0)).flags.has(Flag::nan_input));
  CHECK(Temperable(plain(0.8), 66.0).after(hold_of(200.0, 0.0)).flags.has(Flag::impossible_input));
  CHECK(Temperable(plain(0.8), 66.0).after(hold_of(800.0, 7200.0)).flags.has(Flag::temper_near_ac1));
  CHECK(Temperable(plain(-0.1), 66.0).after(hold_of(200.0, 7200.0)).flags.has(Flag::impossible_input));
}

TEST_CASE("a published table is read at its points and not beyond", "[temper]") {
  const std::vector<double> celsius{150.0, 200.0, 300.0, 500.0, 550.0};
  const std::vector<double> seconds(5, 7200.0);
  const std::vector<double> printed{64.0, 62.0, 58.0, 58.0, 52.0};
  const PublishedTable table(celsius, seconds, printed, Citation::SteelmakerCards);
  for (std::size_t i = 0; i < celsius.size(); ++i)
    CHECK(table.after(parameter_kK(celsius[i], seconds[i], 20.0)).value == Approx(printed[i]));
  CHECK(std::isnan(table.after(parameter_kK(140.0, 7200.0, 20.0)).value));
  CHECK(std::isnan(table.after(parameter_kK(600.0, 7200.0, 20.0)).value));
  // Of a level stretch both ends; a target off the table is not found.
  const auto level = table.tempers_for(58.0, 7200.0);
  REQUIRE(level.size() == 2);
  CHECK(level[0].temperature_C.value == Approx(300.0));
  CHECK(level[1].temperature_C.value == Approx(500.0));
  CHECK(table.tempers_for(65.0, 7200.0).empty());
  CHECK(table.tempers_for(50.0, 7200.0).empty());
}

TEST_CASE("a band in a published table keeps to its side of the peak", "[temper]") {
  const std::vector<double> celsius{200.0, 400.0, 500.0, 550.0, 600.0, 650.0};
  const std::vector<double> seconds(6, 7200.0);
  const std::vector<double> printed{61.0, 58.0, 63.0, 65.0, 62.0, 55.0};
  const PublishedTable table(celsius, seconds, printed, Citation::SteelmakerCards);
  const auto all = table.tempers_for(64.0, 7200.0);
  REQUIRE(all.size() == 2);
  CHECK(all[1].temperature_C.low == Approx(550.0));
  CHECK(all[1].cool_end == BandEnd::turning_point);
  CHECK(all[1].hot_end == BandEnd::doubt);
  CHECK(all[1].temperature_C.flags.has(Flag::band_clipped));
  CHECK(all[0].temperature_C.high == Approx(550.0));
  const auto usual = table.tempers_for(64.0, 7200.0, {560.0, 600.0});
  CHECK(usual[1].temperature_C.low == 560.0);
  CHECK(usual[1].cool_end == BandEnd::usual_range);
  CHECK(usual[0].temperature_C.low == all[0].temperature_C.low);  // itself outside the usual range
  CHECK(table.tempers_for(61.0, 7200.0).front().cool_end == BandEnd::table_end);
  CHECK(table.hardest_HRC() == 65.0);
  CHECK(table.softest_HRC() == 55.0);
}
