// The arrest in C++: a lumped body in constant surroundings, in closed form, and what must be refused.
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

#include "catch.hpp"
#include "decalesce/heating/arrest.hpp"

using namespace decalesce;

namespace {

constexpr double furnace_C = 850.0;
constexpr double lag_s = 200.0;
constexpr double arrest_C = 725.0;
constexpr double waits_s = 90.0;

/// T = Tf - (Tf - T0) exp(-t / lag), and a stop of `waits_s` at the arrest: what heat put in at one temperature does.
double lumped_C(double t, bool arrests) {
  const double reached_s = lag_s * std::log((furnace_C - 20.0) / (furnace_C - arrest_C));
  if (arrests && t > reached_s) t = std::max(reached_s, t - waits_s);
  return furnace_C - (furnace_C - 20.0) * std::exp(-t / lag_s);
}

struct Made {
  std::vector<double> t;
  std::vector<double> work;
};

Made made(bool arrests) {
  Made m;
  for (double t = 0.0; t < 1200.0; t += 2.0) {
    m.t.push_back(t);
    m.work.push_back(std::round(lumped_C(t, arrests)));
  }
  return m;
}

}  // namespace

TEST_CASE("a stop of a lumped body is found where and as long as it is") {
  const Made m = made(true);
  const heating::Arrest a = heating::find_arrest({m.t, m.work});
  REQUIRE(a.found());
  CHECK(a.start_C.value == Approx(arrest_C).margin(1.5));
  CHECK(a.duration_s == Approx(waits_s).margin(8.0));
  CHECK(a.rate_before_K_s == Approx((furnace_C - arrest_C) / lag_s).epsilon(0.05));
  CHECK(a.excess_K == Approx(waits_s * (furnace_C - arrest_C) / lag_s).epsilon(0.1));
  CHECK_FALSE(heating::find_arrest({made(false).t, made(false).work}).found());
}

TEST_CASE("a sensor is judged by the band of both") {
  const Made m = made(true);
  const heating::Arrest a = heating::find_arrest({m.t, m.work});
  const auto ac1 = [](double value) {
    Estimate e;
    e.value = value;
    e.low = value - 10.0;
    e.high = value + 10.0;
    return e;
  };
  CHECK(heating::check_sensor(a, ac1(arrest_C + 5.0)).verdict == heating::SensorVerdict::agrees);
  CHECK(heating::check_sensor(a, ac1(arrest_C - 30.0)).verdict == heating::SensorVerdict::reads_high);
  CHECK(heating::check_sensor(a, ac1(arrest_C + 30.0)).verdict == heating::SensorVerdict::reads_low);
  CHECK(heating::check_sensor(a, Estimate{}).verdict == heating::SensorVerdict::not_checked);
}

TEST_CASE("a trace that is none is refused") {
  const Made m = made(true);
  std::vector<double> back = m.t;
  back[7] = back[5];
  const std::vector<double> missing(m.t.size(), std::numeric_limits<double>::quiet_NaN());
  CHECK_THROWS_AS(heating::find_arrest({back, m.work}), std::invalid_argument);
  CHECK_THROWS_AS(heating::find_arrest({m.t, missing}), std::invalid_argument);
  CHECK_THROWS_AS(heating::find_arrest({m.t, m.work}, heating::Direction::heating, {900.0, 600.0}),
                  std::invalid_argument);
}
