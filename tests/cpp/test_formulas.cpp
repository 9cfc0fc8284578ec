// Every formula of the catalogue in every kind of number, against one another and against the rows of data/checks.
#include <cmath>
#include <random>
#include <string>

#include "catch.hpp"
#include "check_rows.hpp"
#include "decalesce/ground/dual.hpp"
#include "decalesce/ground/packet.hpp"
#include "decalesce/published/catalogue.hpp"

using namespace decalesce;

namespace {

using Pair = Packet<2>;
constexpr int directions = static_cast<int>(element_count);

Given<double> usual_given() { return {25.0, 30.0, 300.0, 550.0, 0.011}; }

/// A composition inside every common range, away from the joints of the piecewise tables.
WeightPercent<double> random_steel(std::mt19937& generator) {
  std::uniform_real_distribution<double> u(0.02, 0.98);
  WeightPercent<double> w;
  for_each_element([&](Element e) { w[e] = 0.1 * u(generator); });
  w.C = u(generator);
  w.Mn = 1.5 * u(generator);
  w.Cr = 2.0 * u(generator);
  w.Ni = 2.0 * u(generator);
  return w;
}

template <class Real, class Make>
WeightPercent<Real> as(const WeightPercent<double>& w, Make&& make) {
  WeightPercent<Real> out;
  for_each_element([&](Element e) { out[e] = make(w[e], static_cast<int>(index(e))); });
  return out;
}

template <class Real>
Given<Real> given_as(const Given<double>& g) {
  return {Real(g.thickness_mm), Real(g.grain_um), Real(g.Ms), Real(g.Bs), Real(g.rate_per_K)};
}

bool near(double a, double b, double tolerance) { return std::abs(a - b) <= tolerance * (1.0 + std::abs(b)); }

}  // namespace

TEST_CASE("a formula gives one answer whatever kind of number it is computed with") {
  std::mt19937 generator(20260);
  published::AllFormulas::for_each([&]<class Formula>() {
    INFO(std::string(Formula::record.id));
    for (int trial = 0; trial < 20; ++trial) {
      const auto w = random_steel(generator);
      const auto other = random_steel(generator);
      const double plain = published::evaluate<Formula>(w, usual_given());

      WeightPercent<Pair> packed;
      for_each_element([&](Element e) {
        Pair p;
        p.v[0] = w[e];
        p.v[1] = other[e];
        packed[e] = p;
      });
      const Pair two = published::evaluate<Formula>(packed, given_as<Pair>(usual_given()));
      REQUIRE(near(two[0], plain, 1e-13));
      REQUIRE(near(two[1], published::evaluate<Formula>(other, usual_given()), 1e-13));

      using Slopes = Dual<double, directions>;
      const Slopes dual = published::evaluate<Formula>(as<Slopes>(w, [](double v, int k) { return Slopes(v, k); }),
                                                       given_as<Slopes>(usual_given()));
      REQUIRE(dual.value == plain);
      for_each_element([&](Element e) {
        const double h = 1e-6;
        auto up = w;
        auto down = w;
        up[e] += h;
        down[e] -= h;
        const double difference =
            (published::evaluate<Formula>(up, usual_given()) - published::evaluate<Formula>(down, usual_given())) /
            (2.0 * h);
        INFO(std::string(symbol(e)) << " slope " << dual.slope[index(e)] << " difference " << difference);
        // a joint of a table may lie inside the step: both slopes are then right
        const bool at_joint = !near(difference, dual.slope[index(e)], 1e-4);
        if (at_joint)
          REQUIRE(
              (Formula::record.id == "ae3_roberts_1988" || Formula::record.id == "ms_steven_haynes_1956_high_carbon"));
      });

      using PackedSlopes = Dual<Pair, directions>;
      WeightPercent<PackedSlopes> both;
      for_each_element([&](Element e) { both[e] = PackedSlopes(packed[e], static_cast<int>(index(e))); });
      const PackedSlopes wide = published::evaluate<Formula>(both, given_as<PackedSlopes>(usual_given()));
      REQUIRE(near(wide.value[0], plain, 1e-13));
      for_each_element([&](Element e) { REQUIRE(near(wide.slope[index(e)][0], dual.slope[index(e)], 1e-12)); });
    }
  });
}

TEST_CASE("NaN in one lane stays in that lane") {
  published::AllFormulas::for_each([&]<class Formula>() {
    if (Formula::record.needs != published::Needs::composition ||
        Formula::record.quantity == published::Quantity::alpha)
      return;
    INFO(std::string(Formula::record.id));
    std::mt19937 generator(7);
    const auto w = random_steel(generator);
    WeightPercent<Pair> packed;
    for_each_element([&](Element e) {
      Pair p(w[e]);
      p.v[1] = NAN;
      packed[e] = p;
    });
    const Pair answer = published::evaluate<Formula>(packed, given_as<Pair>(usual_given()));
    REQUIRE(near(answer[0], published::evaluate<Formula>(w, usual_given()), 1e-13));
    REQUIRE(std::isnan(answer[1]));
  });
}

TEST_CASE("packet exp, log and sqrt agree with the standard library") {
  std::mt19937_64 generator(3);
  std::uniform_real_distribution<double> exponent(-740.0, 709.0);
  for (int trial = 0; trial < 100000; ++trial) {
    const double x = exponent(generator);
    REQUIRE(near(exp(Pair(x))[0], std::exp(x), 5e-16));
    const double y = std::exp(x);
    REQUIRE(near(log(Pair(y))[1], std::log(y), 5e-16));
    REQUIRE(sqrt(Pair(y))[0] == std::sqrt(y));
  }
  REQUIRE(exp(Pair(-1000.0))[0] == 0.0);
  REQUIRE(std::isinf(exp(Pair(1000.0))[0]));
  REQUIRE(std::isnan(exp(Pair(NAN))[0]));
  REQUIRE(std::isinf(log(Pair(0.0))[0]));
  REQUIRE(std::isnan(log(Pair(-1.0))[0]));
  REQUIRE(std::isnan(log(Pair(NAN))[0]));
  REQUIRE(near(log(Pair(5e-324))[0], std::log(5e-324), 1e-15));
}

TEST_CASE("the slope of a root at zero is given as zero, so that a band stays finite") {
  using Slope = Dual<double, 1>;
  const Slope root = sqrt(Slope(0.0, 0));
  REQUIRE(root.value == 0.0);
  REQUIRE(root.slope[0] == 0.0);
}

TEST_CASE("published formulas give the values in data/checks/published.csv") {
  std::size_t seen = 0;
  for (const auto& row : checks::read("checks/published.csv")) {
    const auto number = published::find(row.text("formula"));
    INFO(row.text("formula"));
    REQUIRE(number.has_value());
    Given<double> given;
    given.thickness_mm = row.number("thickness_mm");
    given.grain_um = row.number("grain_um");
    given.Ms = row.number("Ms");
    given.Bs = row.number("Bs");
    given.rate_per_K = row.number("alpha");
    const double value = published::evaluate(*number, row.composition().amount, given).value;
    REQUIRE(std::abs(value - row.number("expected")) <= row.number("tolerance"));
    ++seen;
  }
  REQUIRE(seen >= 2 * published::AllFormulas::size);
}
