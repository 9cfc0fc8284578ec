// A furnace with a load: view factors of handbooks, the energy balance, the limits.
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

#include "catch.hpp"
#include "decalesce/shop/furnace.hpp"

using namespace decalesce;
using furnace::Load;

namespace {

constexpr double mm = 1e-3;

furnace::Furnace box(double power_W, double contents_J_K = 2000.0) {
  furnace::Furnace f{.width = 0.20, .height = 0.15, .depth = 0.35, .lining = {.thickness = 0.115}};
  f.power_W = power_W;
  f.contents_J_K = contents_J_K;
  f.film_W_m2K = 10.0;
  f.emissivity = 0.8;
  Flags flags;
  f = furnace::lined(f, "insulating_firebrick", 850.0, flags);
  REQUIRE(flags.empty());
  return f;
}

/// What an exception says; empty without one.
template <typename F>
std::string refusal(F&& f) {
  try {
    f();
  } catch (const std::invalid_argument& e) {
    return e.what();
  }
  return {};
}
bool says(const std::string& text, const char* part) { return text.find(part) != std::string::npos; }

const conduction::Material steel = conduction::Material::constant(28.0, 640.0, 7850.0);
const Section bar{.shape = Shape::rectangle, .thickness = 6 * mm, .width = 40 * mm};
const furnace::Options options{.set_point_C = 850.0, .duration_s = 1800.0};

}  // namespace

TEST_CASE("the share a face sees past its like", "[furnace]") {
  using furnace::open_share;
  CHECK(open_share(0.0, 40 * mm) == 0.0);
  // long parallel strips as wide as they are apart: F = sqrt(2) - 1 (Hottel's crossed strings, every handbook)
  CHECK(open_share(40 * mm, 40 * mm) == Approx(2.0 - std::numbers::sqrt2));
  CHECK(open_share(1000.0, 40 * mm) == Approx(1.0).margin(1e-4));
  CHECK(std::isnan(open_share(-1.0, 1.0)));
  CHECK(std::isnan(open_share(1.0, 0.0)));
  // parallel cylinders that touch: F = 1/2 - 1/pi (crossed strings, every handbook)
  CHECK(furnace::open_share_round(0.0, 25 * mm) == Approx(2.0 / std::numbers::pi));
  CHECK(furnace::open_share_round(100.0, 25 * mm) == Approx(1.0).margin(1e-3));
}

TEST_CASE("energy goes into the load, out or into the lining", "[furnace]") {
  for (const double gap : {std::nan(""), 0.0, 20 * mm}) {
    Load load = furnace::side_by_side(bar, 0.25, 6, gap);
    load.door_open_s = 10.0;
    const furnace::Loaded found = furnace::load(box(3000.0), steel, load, options);
    CHECK(found.into_load_J + found.lost_J + found.stored_J == Approx(found.energy_J).epsilon(1e-9));
    // what the walk took is what the trace in the same chamber takes
    const double units = static_cast<double>(load.pieces) * load.piece_volume / load.mesh.total_volume();
    CHECK(found.steel.heat_in_J() * units == Approx(found.into_load_J).epsilon(1e-6));
    CHECK(found.steel.enthalpy_gained_J() * units == Approx(found.into_load_J).epsilon(1e-6));
    CHECK(found.lowest_chamber_C < 850.0);
    CHECK(found.recovered_s > 0.0);
    CHECK(found.energy_J <= 3000.0 * options.duration_s);
  }
}

TEST_CASE("at rest the furnace only makes up its loss", "[furnace]") {
  Load load = furnace::side_by_side(bar, 1e-6, 1, NAN);
  load.start_C = 850.0;
  const furnace::Furnace f = box(3000.0);
  const furnace::Loaded found = furnace::load(f, steel, load, options);
  CHECK(found.energy_J == Approx(f.loss_W(850.0) * options.duration_s).epsilon(1e-6));
  CHECK(found.lowest_chamber_C == Approx(850.0).margin(1e-6));
  CHECK(found.recovered_s == 0.0);
}

TEST_CASE("halving windows and slices changes nothing that matters", "[furnace]") {
  Load load = furnace::side_by_side(bar, 0.25, 6, 20 * mm);
  load.door_open_s = 10.0;
  furnace::Options finer = options;
  finer.finer = 2;
  for (const double contents : {0.0, 2000.0}) {
    const furnace::Loaded usual = furnace::load(box(3000.0, contents), steel, load, options);
    const furnace::Loaded fine = furnace::load(box(3000.0, contents), steel, load, finer);
    CHECK(usual.steel_within_s == Approx(fine.steel_within_s).epsilon(0.005));
    CHECK(usual.recovered_s == Approx(fine.recovered_s).epsilon(0.005));
    CHECK(850.0 - usual.lowest_chamber_C == Approx(850.0 - fine.lowest_chamber_C).epsilon(0.01));
  }
}

TEST_CASE("hot work in a cool furnace is flagged", "[furnace]") {
  Load load = furnace::side_by_side(bar, 0.25, 2, NAN);
  load.start_C = 1000.0;
  const furnace::Loaded found = furnace::load(box(3000.0), steel, load, options);
  CHECK(found.flags.has(Flag::not_heating));
  CHECK(found.into_load_J < 0.0);
  load.start_C = 20.0;
  CHECK(furnace::load(box(3000.0), steel, load, options).flags.empty());
}

TEST_CASE("what cannot be is refused by name", "[furnace]") {
  Flags flags;
  CHECK(says(refusal([&] { furnace::lined(box(3000.0), "straw", 850.0, flags); }), "lining = 'straw'"));
  const Load load = furnace::side_by_side(bar, 0.25, 2, NAN);
  CHECK(says(refusal([&] { furnace::load(box(100.0), steel, load, options); }), "power_W = 100"));
  CHECK(says(refusal([&] { furnace::side_by_side(bar, 0.25, 0, NAN); }), "pieces = 0"));
  CHECK(says(refusal([&] { furnace::side_by_side(bar, 0.0, 1, NAN); }), "length"));
  CHECK(says(refusal([&] { furnace::side_by_side(bar, 0.25, 2, -0.01); }), "gap"));
  const Section plate{.shape = Shape::plate, .thickness = 6 * mm};
  CHECK(says(refusal([&] { furnace::side_by_side(plate, 0.25, 1, NAN); }), "expected a rectangle"));
}
