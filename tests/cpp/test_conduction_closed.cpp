// Closed forms of conduction against worked examples of textbooks and the table of first roots.
#include <cmath>
#include <limits>
#include <numbers>
#include <set>

#include "catch.hpp"
#include "check_rows.hpp"
#include "decalesce/solvers/conduction/closed_forms.hpp"

using namespace decalesce::conduction::closed;

namespace {

constexpr double mm = 1e-3;
constexpr double zero_C = 273.15;
constexpr double infinity = std::numeric_limits<double>::infinity();

Body body_of(const std::string& name) {
  for (std::size_t k = 0; k < body_names.size(); ++k)
    if (body_names[k] == name) return static_cast<Body>(k);
  throw std::runtime_error("no body '" + name + "'");
}

Piece piece_of(const checks::Row& row) {
  const std::string& form = row.text("form");
  const double first = row.number("size_1_mm") * mm;
  const double second = row.number("size_2_mm") * mm;
  std::vector<Piece::Direction> directions;
  if (form == "plate_one_sided") {
    directions = {{Body::plate, first}};
  } else if (form == "plate" || form == "bar") {
    directions = {{Body::plate, first / 2.0}};
  } else if (form == "sphere") {
    directions = {{Body::sphere, first / 2.0}};
  } else {
    directions = {{Body::cylinder, first / 2.0}};
  }
  if (form == "bar" || form == "short_cylinder") directions.push_back({Body::plate, second / 2.0});
  return Piece(directions, form.starts_with("semi_infinite"), row.number("film"), row.number("conductivity"),
               row.number("diffusivity"));
}

/// (T - surroundings) / (start - surroundings) of a column.
double left(const checks::Row& row, double temperature) {
  return (temperature - row.number("surroundings_C")) / (row.number("start_C") - row.number("surroundings_C"));
}
double temperature(const checks::Row& row, double theta) {
  return row.number("surroundings_C") + theta * (row.number("start_C") - row.number("surroundings_C"));
}

double square_bar(const checks::Row& row) {
  Series plate(Body::plate, row.number("biot"));
  const double fourier = row.number("fourier");
  const double half = row.number("size_1_mm") / 2.0;
  if (row.text("quantity") == "mean") return temperature(row, std::pow(plate.mean(fourier), 2));
  return temperature(
      row, plate.theta(fourier, row.number("at_1_mm") / half) * plate.theta(fourier, row.number("at_2_mm") / half));
}

double by_piece(const checks::Row& row) {
  if (!row.text("biot").empty()) return square_bar(row);
  Piece piece = piece_of(row);
  std::vector<double> place;
  for (const char* column : {"at_1_mm", "at_2_mm"})
    if (!row.text(column).empty()) place.push_back(row.number(column) * mm);
  const std::string& quantity = row.text("quantity");
  if (quantity == "temperature") return temperature(row, piece.theta(row.number("time_s"), place));
  if (quantity == "time") return piece.time_to(left(row, row.number("target_C")), place);
  const double length = row.text("size_2_mm").empty() ? 1.0 : row.number("size_2_mm") * mm;
  const double volume = std::numbers::pi / 4.0 * std::pow(row.number("size_1_mm") * mm, 2) * length;
  return (1.0 - piece.mean(row.number("time_s"))) * row.number("volumetric_heat") * volume *
         (row.number("start_C") - row.number("surroundings_C")) / 1000.0;
}

double by_lumped(const checks::Row& row) {
  const double time = lumped_time(left(row, row.number("target_C")), row.number("volume_to_surface_mm") * mm,
                                  row.number("film"), row.number("volumetric_heat"));
  return row.text("quantity") == "speed" ? row.number("path_mm") / 10.0 / time : time;
}

double by_lumped_radiation(const checks::Row& row) {
  const double length = row.number("volume_to_surface_mm") * mm;
  const double heat = row.number("volumetric_heat");
  const double start = row.number("start_C") + zero_C;
  Surroundings around{row.number("film"), row.number("gas_C") + zero_C, row.number("emissivity"),
                      row.number("walls_C") + zero_C};
  if (row.text("quantity") == "time") {
    const double target = steady_temperature(around) - row.number("target_K_from_steady");
    return lumped_radiation_time(start, target, length, heat, around);
  }
  const double heated =
      lumped_radiation_time(start, row.number("target_C") + zero_C, length, heat, around) + row.number("hold_s");
  const double hottest = lumped_radiation_temperature(start, heated, length, heat, around);
  around.film = row.number("second_film");
  around.gas = around.walls = row.number("second_surroundings_C") + zero_C;
  return heated + lumped_radiation_time(hottest, row.number("second_target_C") + zero_C, length, heat, around);
}

double by_half_space(const checks::Row& row) {
  const std::string form = row.text("form").substr(std::string("half_space_").size());
  const std::string& quantity = row.text("quantity");
  const double depth = row.number("at_1_mm") * mm;
  const double time = row.number("time_s");
  const double k = row.number("conductivity");
  const double alpha = row.number("diffusivity");
  const double share = 1.0 - left(row, row.number("target_C"));
  if (form == "flux") return row.number("start_C") + half_space_flux(depth, time, row.number("flux"), k, alpha);
  if (form == "pulse")
    return row.number("start_C") +
           half_space_pulse(depth, time, row.number("energy"), row.number("volumetric_heat"), alpha);
  if (form == "wave") {
    const Wave wave = half_space_wave(depth, row.number("period_s"), alpha);
    return quantity == "lag" ? wave.lag : wave.amplitude * row.number("amplitude_K");
  }
  if (form == "film") {
    const double film = row.number("film");
    if (quantity == "time") return half_space_film_time(share, depth, film, k, alpha);
    return temperature(row, 1.0 - half_space_film(depth, time, film, k, alpha));
  }
  if (quantity == "depth") return half_space_step_depth(share, time, alpha);
  if (quantity == "time") return half_space_step_time(share, depth, alpha);
  return temperature(row, 1.0 - half_space_step(depth, time, alpha));
}

double answer(const checks::Row& row) {
  const std::string& form = row.text("form");
  double found = 0.0;
  if (form == "lumped") {
    found = by_lumped(row);
  } else if (form == "lumped_radiation") {
    found = by_lumped_radiation(row);
  } else if (form == "radiation_only") {
    found = radiation_only_time(row.number("start_C") + zero_C, row.number("target_C") + zero_C,
                                row.number("volume_to_surface_mm") * mm, row.number("volumetric_heat"),
                                row.number("emissivity"), row.number("walls_C") + zero_C);
  } else if (form == "sine_face") {
    found = row.number("start_C") +
            row.number("amplitude_K") * sine_face(row.number("at_1_mm") * mm, row.number("time_s"),
                                                  row.number("size_1_mm") * mm, row.number("period_s"),
                                                  row.number("diffusivity"));
  } else {
    found = form.starts_with("half_space") ? by_half_space(row) : by_piece(row);
  }
  const std::string& unit = row.text("unit");
  return unit == "degF" ? found * 1.8 + 32.0 : unit == "min" ? found / 60.0 : unit == "h" ? found / 3600.0 : found;
}

}  // namespace

TEST_CASE("closed forms of conduction answer the worked examples") {
  int exact = 0;
  std::set<std::string> forms;
  for (const checks::Row& row : checks::read("checks/conduction.csv")) {
    INFO(row.text("case_id") << " " << row.text("inputs"));
    CHECK(answer(row) == Approx(row.number("expected")).margin(row.number("tolerance")).epsilon(0.0));
    exact += row.text("gate") == "exact" ? 1 : 0;
    forms.insert(row.text("form"));
  }
  CHECK(exact >= 38);
  CHECK(forms.size() >= 15);
}

TEST_CASE("roots and coefficients of the series") {
  int compared = 0;
  for (const checks::Row& row : checks::read("checks/conduction_roots.csv")) {
    const Term found = term(body_of(row.text("body")), row.number("biot"), 0);
    INFO(row.text("case_id"));
    CHECK(found.root == Approx(row.number("root")).margin(row.number("tolerance")).epsilon(0.0));
    CHECK(found.coefficient == Approx(row.number("coefficient")).margin(row.number("tolerance")).epsilon(0.0));
    ++compared;
  }
  CHECK(compared == 102);
}

TEST_CASE("the series holds from no film to no resistance, and from the first moment on") {
  for (const Body body : {Body::plate, Body::cylinder, Body::sphere}) {
    INFO(body_names[static_cast<std::size_t>(body)]);
    CHECK(term(body, 0.0, 0).root == 0.0);
    CHECK(term(body, 1e-20, 0).coefficient == Approx(1.0).epsilon(1e-12));
    CHECK(term(body, 1e300, 3).root == Approx(term(body, infinity, 3).root).epsilon(1e-12));
    for (const double biot : {0.0, 1e-15, 0.5, 1.0, 30.0, 1e15, infinity}) {
      Series series(body, biot);
      double before = 1.0;
      for (double fourier = 1e-12; fourier < 1e3; fourier *= 7.0) {
        const double now = series.mean(fourier);
        CHECK(now <= before + 1e-12);
        CHECK(now >= 0.0);
        before = now;
      }
      CHECK(series.theta(0.0, 0.7) == 1.0);
    }
    Series series(body, 2.0);
    CHECK(std::isnan(series.theta(-1.0, 0.0)));
    CHECK(std::isnan(series.theta(1.0, 1.1)));
    CHECK(std::isnan(series.fourier_at(1.5, 0.0)));
    CHECK(std::isnan(Series(body, -1.0).theta(1.0, 0.0)));
    CHECK(series.theta(series.fourier_at(0.37, 0.4), 0.4) == Approx(0.37).epsilon(1e-12));
    CHECK(series.one_term(0.2, 0.0).outside);
    CHECK(!series.one_term(0.21, 0.0).outside);
  }
}

TEST_CASE("a piece refuses what is no size and answers NaN outside itself") {
  const Piece::Direction half{Body::plate, 0.01};
  CHECK_THROWS_AS(Piece({}, true, 10.0, 30.0, 7e-6), std::invalid_argument);
  CHECK_THROWS_AS(Piece({&half, 1}, false, 0.0, 30.0, 7e-6), std::invalid_argument);
  Piece piece({&half, 1}, true, 400.0, 30.0, 7e-6);
  const double outside[] = {0.011, 0.0};
  CHECK(std::isnan(piece.theta(10.0, outside)));
  CHECK(std::isnan(piece.mean(10.0)));
  const double inside[] = {0.004, 0.02};
  CHECK(piece.theta(piece.time_to(0.4, inside), inside) == Approx(0.4).epsilon(1e-12));
}

TEST_CASE("what limits the heating") {
  CHECK(what_limits(biot_number(10.0, 0.002, 30.0)) == Limit::film);
  CHECK(what_limits(biot_number(1000.0, 0.02, 30.0)) == Limit::both);
  CHECK(what_limits(infinity) == Limit::conduction);
  CHECK(what_limits(biot_number(-1.0, 0.02, 30.0)) == Limit::unknown);
}
