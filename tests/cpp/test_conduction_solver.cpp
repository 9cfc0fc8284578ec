// The conduction solver: heat-up times with the properties of EN 1993-1-2, sizes of the meshes, heat in against heat
// stored, and the kernels against one another.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "catch.hpp"
#include "check_rows.hpp"
#include "decalesce/solvers/conduction/run.hpp"
#include "solvers/conduction/problem.hpp"

using decalesce::History;
using namespace decalesce::conduction;

namespace {

constexpr double mm = 1e-3;
constexpr double zero_C = 273.15;
constexpr double stefan_boltzmann = 5.670374419e-8;
constexpr double density = 7850.0;

/// EN 1993-1-2, 3.4.1.2 integrated from 20 degC, J/kg.
double en1993_enthalpy(double t) {
  const auto ferrite = [](double c) {
    return 425.0 * c + 0.773 / 2.0 * c * c - 1.69e-3 / 3.0 * std::pow(c, 3) + 2.22e-6 / 4.0 * std::pow(c, 4);
  };
  const double second = std::clamp(t, 600.0, 735.0);
  const double third = std::clamp(t, 735.0, 900.0);
  return ferrite(std::clamp(t, 20.0, 600.0)) - ferrite(20.0) + 666.0 * (second - 600.0) -
         13002.0 * std::log((738.0 - second) / (738.0 - 600.0)) + 545.0 * (third - 735.0) +
         17820.0 * std::log((third - 731.0) / (735.0 - 731.0)) + 650.0 * (std::max(t, 900.0) - 900.0);
}

/// EN 1993-1-2, 3.4.1.2 and 3.4.1.3, 20 to 1200 degC.
Material en1993() {
  std::vector<double> temperature, enthalpy, conductivity;
  for (double t = 20.0; t <= 1200.0; t += 0.5) {
    temperature.push_back(t);
    enthalpy.push_back(en1993_enthalpy(t));
    conductivity.push_back(t < 800.0 ? 54.0 - 3.33e-2 * t : 27.3);
  }
  return Material(temperature, enthalpy, conductivity, density);
}

Material constant() { return Material::constant(30.0, 600.0, density); }

Mesh mesh_of_row(const checks::Row& row) {
  const double half = row.number("half_mm") * mm;
  const std::string& shape = row.text("shape");
  if (shape == "lumped") return lumped(half);
  return shape == "round" ? round(2.0 * half, 40) : plate(2.0 * half, 40);
}

/// A mesh with what its geometry says: the part that is kept, and the area that meets the surroundings.
struct Sized {
  const char* name;
  Mesh mesh;
  double volume;
  double area;
};

std::vector<Sized> shapes() {
  const double pi = std::numbers::pi;
  const double root3 = std::numbers::sqrt3;
  const double slant = std::hypot(25.0, (5.0 - 0.4) / 2.0) * mm;
  // a half for each plane of symmetry; a radian of a round, a radian each way of a sphere
  return {
      {"lumped", lumped(3.0 * mm), 3.0 * mm, 1.0},
      {"plate", plate(25.0 * mm, 8), 12.5 * mm, 1.0},
      {"plate on the hearth", plate(25.0 * mm, 8, {.below = 0.2}), 25.0 * mm, 1.2},
      {"round", round(40.0 * mm, 8), pi * 400.0 * mm * mm / (2.0 * pi), 20.0 * mm},
      {"sphere", sphere(40.0 * mm, 8), 8000.0 * mm * mm * mm / 3.0, 400.0 * mm * mm},
      {"rectangle", rectangle(20.0 * mm, 44.0 * mm, 6, {.sides = 0.7}), 220.0 * mm * mm, (22.0 + 0.7 * 10.0) * mm},
      {"hexagon", hexagon(30.0 * mm, 6), root3 / 12.0 * 900.0 * mm * mm, 30.0 / root3 * mm},
      {"short cylinder", short_cylinder(40.0 * mm, 30.0 * mm, 6, 0.5), 200.0 * 15.0 * mm * mm * mm,
       (20.0 * 15.0 + 0.5 * 200.0) * mm * mm},
      {"block", block(20.0 * mm, 30.0 * mm, 40.0 * mm, 4), 10.0 * 15.0 * 20.0 * mm * mm * mm,
       (10.0 * 15.0 + 15.0 * 20.0 + 20.0 * 10.0) * mm * mm},
      {"wedge", wedge(5.0 * mm, 0.4 * mm, 25.0 * mm, 3), 2.7 / 2.0 * 25.0 * mm * mm, slant + 2.7 * mm},
      {"wedge on the hearth", wedge(5.0 * mm, 0.4 * mm, 25.0 * mm, 3, {.below = 0.0}), 2.7 * 25.0 * mm * mm,
       slant + 5.4 * mm},
  };
}

/// Film and radiation through every face on the temperatures of a trace, by fine sums along time.
double heat_through_faces(const Trace& trace, const Surroundings& around) {
  constexpr int parts = 8000;
  const double span = trace.end_s();
  double sum = 0.0;
  for (const Mesh::Face& face : trace.mesh().faces) {
    for (int k = 0; k <= parts; ++k) {
      // cubes of even parts: the first moments are the fastest
      const double u = static_cast<double>(k) / parts;
      const double time = span * u * u * u;
      const double weight = (k == 0 || k == parts ? 0.5 : 1.0) * 3.0 * u * u * span / parts;
      const double surface = trace.temperature_C(static_cast<std::size_t>(face.point), time);
      const double source = around.temperature.temperatures_C().front();
      const double flux =
          around.film_W_m2K * (source - surface) +
          around.emissivity * stefan_boltzmann * (std::pow(source + zero_C, 4) - std::pow(surface + zero_C, 4));
      sum += weight * flux * face.area * face.exposure;
    }
  }
  return sum;
}

}  // namespace

TEST_CASE("pieces heat up in a furnace as the properties of EN 1993-1-2 have it") {
  int compared = 0;
  for (const checks::Row& row : checks::read("checks/furnace_heating.csv")) {
    INFO(row.text("case_id") << " " << row.text("topic"));
    const double source = row.number("source_C");
    const double capacity = row.number("heat_capacity");
    const Material steel = std::isnan(capacity) ? en1993() : Material::constant(30.0, capacity, row.number("density"));
    const Trace trace = heat(steel, mesh_of_row(row), row.number("start_C"),
                             {History::hold(source, 7200.0), row.number("film"), row.number("emissivity")}, 0.01);
    const double time =
        trace.time_to(static_cast<std::size_t>(trace.mesh().centre), source - row.number("below_source_K"));
    const double found = row.text("quantity") == "time" ? time : trace.surface_C(time) - trace.centre_C(time);
    CHECK(found == Approx(row.number("expected")).margin(row.number("tolerance")).epsilon(0.0));
    ++compared;
  }
  CHECK(compared == 17);
}

TEST_CASE("a mesh holds the volume of its body and meets the surroundings over its area") {
  for (const Sized& body : shapes()) {
    INFO(body.name);
    CHECK(body.mesh.total_volume() == Approx(body.volume).epsilon(1e-12));
    CHECK(body.mesh.total_area() == Approx(body.area).epsilon(1e-12));
    CHECK(body.mesh.centre < body.mesh.points());
    CHECK(body.mesh.surface < body.mesh.points());
    CHECK(body.mesh.position.size() == static_cast<std::size_t>(body.mesh.points() * body.mesh.directions));
    for (const Mesh::Link& link : body.mesh.links) {
      CHECK(link.from < link.to);
      CHECK(link.to - link.from <= body.mesh.band);
      CHECK(link.conductance > 0.0);
    }
  }
}

TEST_CASE("heat taken up is the enthalpy gained, and what film and radiation give") {
  for (const Material& steel : {constant(), en1993()}) {
    for (const Sized& body : shapes()) {
      INFO(body.name);
      const Surroundings around{History::hold(900.0, 1500.0), 40.0, 0.7};
      const Trace trace = heat(steel, body.mesh, 20.0, around, 0.02);
      CHECK(trace.heat_in_J() == Approx(trace.enthalpy_gained_J()).epsilon(1e-6));
      CHECK(trace.heat_in_J() == Approx(heat_through_faces(trace, around)).epsilon(1e-3));
      const double most = body.volume * (steel.enthalpy_J_m3(900.0) - steel.enthalpy_J_m3(20.0));
      CHECK(trace.heat_in_J() < most * (1.0 + 1e-4));
      CHECK(trace.heat_in_J() > 0.3 * most);
    }
  }
}

TEST_CASE("one body, two and four side by side are solved alike") {
  const std::array materials{en1993(), constant(), en1993(), en1993()};
  const std::array around{Surroundings{History::hold(850.0, 3000.0), 10.0, 0.8},
                          Surroundings{History({0.0, 500.0, 2000.0}, {20.0, 900.0, 300.0}), 300.0, 0.0},
                          Surroundings{History({0.0, 10.0, 900.0}, {900.0, 700.0, 1100.0}), 60.0, 0.5},
                          Surroundings{History::hold(200.0, 400.0), 25.0, 0.3}};
  const std::array<double, 4> starts{20.0, 20.0, 600.0, 900.0};
  for (const bool chain : {true, false}) {
    std::array<Mesh, 4> meshes;
    for (std::size_t l = 0; l < 4; ++l) {
      const double size = (12.0 + 9.0 * static_cast<double>(l)) * mm;
      meshes[l] = chain ? plate(size, 15) : hexagon(size, 7);
    }
    std::vector<Body> bodies;
    for (std::size_t l = 0; l < 4; ++l) bodies.push_back({&materials[l], &meshes[l], &around[l], starts[l]});

    // ends of each lane, by kernels of one, two and four lanes
    const auto solved = [&](int lanes, Integrate integrate) {
      std::vector<double> ends;
      for (std::size_t first = 0; first < 4; first += static_cast<std::size_t>(lanes)) {
        Packed packed({bodies.data() + first, static_cast<std::size_t>(lanes)}, lanes, 0.1);
        integrate(packed.problem());
        for (int l = 0; l < lanes; ++l) {
          for (int i = 0; i < meshes[0].points(); ++i)
            ends.push_back(materials[first + static_cast<std::size_t>(l)].temperature_C(packed.enthalpy(i, l)));
          ends.push_back(packed.heat(l) / 1e6);
        }
      }
      return ends;
    };
    const std::vector<double> one = solved(1, portable_kernel().one);
    const std::vector<double> two = solved(portable_kernel().lanes, portable_kernel().together);
    CHECK(portable_kernel().lanes == 2);
    REQUIRE(one.size() == two.size());
    for (std::size_t k = 0; k < one.size(); ++k) CHECK(two[k] == Approx(one[k]).epsilon(1e-9));
    if (avx2_kernel() == nullptr) continue;
    const std::vector<double> wide_one = solved(1, avx2_kernel()->one);
    for (std::size_t k = 0; k < one.size(); ++k) CHECK(wide_one[k] == Approx(one[k]).epsilon(1e-9));
    CHECK(avx2_kernel()->lanes == 4);
    const std::vector<double> four = solved(4, avx2_kernel()->together);
    REQUIRE(one.size() == four.size());
    for (std::size_t k = 0; k < one.size(); ++k) CHECK(four[k] == Approx(one[k]).epsilon(1e-9));
  }
}

TEST_CASE("a batch of one to nine bodies tells of each what its own trace tells") {
  const Material steel = en1993();
  const Surroundings around{History::hold(850.0, 6000.0), 10.0, 0.8};
  std::vector<Mesh> meshes;
  for (int k = 0; k < 9; ++k) meshes.push_back(round((10.0 + 5.0 * k) * mm, 10));
  for (std::size_t rows = 1; rows <= 9; ++rows) {
    std::vector<Body> bodies(rows, Body{&steel, nullptr, &around, 20.0});
    for (std::size_t k = 0; k < rows; ++k) bodies[k].mesh = &meshes[k];
    const std::vector<Summary> found = heat_batch(bodies, 10.0, 0.05);
    REQUIRE(found.size() == rows);
    for (std::size_t k = 0; k < rows; ++k) {
      const Trace trace = heat(steel, meshes[k], 20.0, around, 0.05);
      CHECK(found[k].time_within_s == Approx(trace.time_within(850.0, 10.0)).epsilon(1e-6));
      CHECK(found[k].centre_C == Approx(trace.centre_C(6000.0)).margin(1e-3));
      CHECK(found[k].heat_in_J == Approx(trace.heat_in_J()).epsilon(1e-6));
    }
  }
  CHECK(heat_batch({}, 10.0).empty());
  const Body nothing{};
  CHECK(std::isnan(heat_batch({&nothing, 1}, 10.0).front().time_within_s));
}

TEST_CASE("sizes, films and starts that cannot be are refused") {
  CHECK_THROWS_AS(plate(0.0, 10), std::invalid_argument);
  CHECK_THROWS_AS(round(-1.0, 10), std::invalid_argument);
  CHECK_THROWS_AS(plate(0.01, 1), std::invalid_argument);
  CHECK_THROWS_AS(wedge(0.003, 0.004, 0.03, 4), std::invalid_argument);
  CHECK_THROWS_AS(plate(0.01, 10, {.above = 1.1}), std::invalid_argument);
  const Mesh body = plate(0.01, 10);
  const History hold = History::hold(850.0, 100.0);
  CHECK_THROWS_AS(heat(constant(), body, 20.0, {hold, -1.0, 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(heat(constant(), body, 20.0, {hold, 10.0, 1.1}), std::invalid_argument);
  CHECK_THROWS_AS(heat(constant(), body, 20.0, {hold, 0.0, 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(heat(constant(), body, NAN, {hold, 10.0, 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(heat(constant(), body, 20.0, {hold, 10.0, 0.0}, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(heat(constant(), body, std::vector<double>{1.0, 2.0}, {hold, 10.0, 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(Material({}, {}, {}, density), std::invalid_argument);
}
