// Thermal properties against EN 1993-1-2 and independent arithmetic (data/checks/thermal.csv).
#include <algorithm>
#include <cmath>
#include <string>

#include "catch.hpp"
#include "check_rows.hpp"
#include "decalesce/heating.hpp"
#include "decalesce/laws/family.hpp"
#include "decalesce/thermal/film.hpp"
#include "decalesce/thermal/steel.hpp"

using namespace decalesce;

namespace {

double of(const thermal::Point& p, const std::string& quantity) {
  if (quantity == "conductivity") return p.conductivity_W_mK;
  if (quantity == "heat_capacity") return p.heat_capacity_J_kgK;
  return p.enthalpy_J_kg / 1000.0;
}

thermal::Transformation where(const checks::Row& row) {
  return {row.number("Ac1_C"), row.number("end_C"), row.number("C"), row.number("eutectoid_wt_pct")};
}

double answer(const checks::Row& row) {
  const std::string& material = row.text("material");
  const double T = row.number("temperature_C");
  if (material == "en1993_carbon") return of(thermal::en1993_carbon(T), row.text("quantity"));
  if (material == "en1993_stainless") return of(thermal::en1993_stainless(T), row.text("quantity"));
  const thermal::Steel steel = thermal::heating(material, where(row));
  if (row.text("quantity") == "transformation") return steel.transformation_J_kg / 1000.0;
  return of(steel.at(T), row.text("quantity"));
}

std::vector<thermal::Steel> every_steel() {
  std::vector<thermal::Steel> steels{thermal::en1993_heating(), thermal::en1993_stainless_heating(),
                                     thermal::constant(30.0, 600.0, 7850.0)};
  for (const std::string_view family : critical::family_names) {
    steels.push_back(thermal::cooling(family, 200.0));
    steels.push_back(thermal::heating(family));
    for (const double Ac1 : {690.0, 727.0, 845.0})
      for (const double width : {-20.0, 3.0, 40.0, 230.0})
        for (const double carbon : {0.02, 0.4, 0.76, 1.3})
          steels.push_back(thermal::heating(family, {Ac1, Ac1 + width, carbon, 0.76}));
  }
  return steels;
}

}  // namespace

TEST_CASE("thermal properties meet their check rows") {
  int exact = 0;
  for (const checks::Row& row : checks::read("checks/thermal.csv")) {
    INFO(row.text("case_id"));
    if (row.text("gate") != "exact") continue;
    CHECK(std::abs(answer(row) - row.number("expected")) <= row.number("tolerance"));
    ++exact;
  }
  CHECK(exact >= 50);
}

TEST_CASE("the arrays of every steel increase and can be solved on") {
  for (const thermal::Steel& steel : every_steel()) {
    INFO(steel.family << " " << steel.Ac1_C << " to " << steel.end_C << ", pearlite " << steel.eutectoid_share);
    const auto& T = steel.temperature_C;
    REQUIRE(T.size() == steel.enthalpy_J_kg.size());
    REQUIRE(T.size() == steel.conductivity_W_mK.size());
    CHECK(T.front() == 20.0);
    CHECK(T.back() == 1250.0);
    double least = 1e9;
    double longest = 0.0;
    for (std::size_t i = 1; i < T.size(); ++i) {
      longest = std::max(longest, T[i] - T[i - 1]);
      least = std::min(least, (steel.enthalpy_J_kg[i] - steel.enthalpy_J_kg[i - 1]) / (T[i] - T[i - 1]));
    }
    if (steel.family != "constant") CHECK(longest <= 5.0 + 1e-9);
    CHECK(least > 400.0);  // no steel takes less: J/kgK
    const auto [low, high] = std::minmax_element(steel.conductivity_W_mK.begin(), steel.conductivity_W_mK.end());
    CHECK(*low > 10.0);
    CHECK(*high < 60.0);
    CHECK(std::isnan(steel.at(NAN).enthalpy_J_kg));
  }
}

TEST_CASE("the heat of transformation is what the arrest takes above the base line") {
  const thermal::Steel steel = thermal::heating("plain_hypo", {727.0, 727.0, 0.761, 0.761});
  const double taken = steel.at(733.0).enthalpy_J_kg - steel.at(727.0).enthalpy_J_kg;
  CHECK(steel.transformation_J_kg < taken);
  CHECK(steel.transformation_J_kg > taken - 6.0 * 1100.0);
  CHECK(steel.at(733.0).enthalpy_J_kg == Approx(thermal::austenite(733.0).enthalpy_J_kg).epsilon(1e-12));
  CHECK(thermal::heating("austenitic_other").transformation_J_kg == 0.0);
}

TEST_CASE("heating and cooling meet in austenite") {
  const thermal::Steel up = thermal::heating("low_alloy", {735.0, 790.0, 0.4, 0.7});
  const thermal::Steel down = thermal::cooling("low_alloy", 330.0);
  CHECK(down.low_C == 330.0);
  for (const double T : {791.0, 850.0, 900.0, 1100.0}) {
    CHECK(up.at(T).enthalpy_J_kg == Approx(down.at(T).enthalpy_J_kg).epsilon(1e-13));
    CHECK(up.at(T).conductivity_W_mK == Approx(down.at(T).conductivity_W_mK).epsilon(1e-13));
  }
  CHECK(down.at(400.0).enthalpy_J_kg > up.at(400.0).enthalpy_J_kg);
}

TEST_CASE("what is not known is flagged, what is impossible refused") {
  CHECK(thermal::heating("tool_11_13_cr").flags.has(Flag::from_memory));
  CHECK_FALSE(thermal::heating("plain_hypo", {725.0, 790.0, 0.4, 0.76}).flags.has(Flag::from_memory));
  CHECK(thermal::heating("plain_hypo", {725.0, 720.0, 0.4, 0.76}).flags.has(Flag::clamped_to_ac1));
  CHECK_THROWS_AS(thermal::heating("brass"), std::invalid_argument);
  CHECK_THROWS_AS(thermal::heating("plain_hypo", {-5.0, 800.0, 0.4, 0.76}), std::invalid_argument);
  CHECK_THROWS_AS(thermal::constant(0.0, 500.0, 7850.0), std::invalid_argument);
  CHECK_THROWS_AS(thermal::constant(30.0, INFINITY, 7850.0), std::invalid_argument);
}

TEST_CASE("films carry the furnace's own name and never radiation twice") {
  for (std::size_t k = 0; k < heating::furnace_names.size(); ++k)
    CHECK(thermal::furnace_film(static_cast<thermal::Surroundings>(k)).name == heating::furnace_names[k]);
  for (std::size_t k = 0; k < thermal::surroundings_count; ++k) {
    const thermal::Film film = thermal::furnace_film(static_cast<thermal::Surroundings>(k));
    INFO(film.name);
    CHECK(thermal::furnace_film(film.name).convection_W_m2K.value == film.convection_W_m2K.value);
    CHECK(film.convection_W_m2K.low < film.convection_W_m2K.value);
    CHECK(film.convection_W_m2K.value < film.convection_W_m2K.high);
    CHECK(film.radiates == (film.emissivity.value > 0.0));
    CHECK(film.emissivity.low <= film.emissivity.value);
    CHECK(film.emissivity.value <= film.emissivity.high);
    CHECK(film.emissivity.high < 1.0);
    // a gas film of a furnace that radiates is below the 257 W/m2K that radiation alone gives at 850 degC
    if (film.radiates) CHECK(film.convection_W_m2K.high < 257.0);
  }
  CHECK_THROWS_AS(thermal::furnace_film("campfire"), std::invalid_argument);
}
