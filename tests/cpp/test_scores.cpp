// The core alone against measured and published rows of data/checks, whose sources stand in each row. pytest judges the
// same files through the Python face.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "catch.hpp"
#include "check_rows.hpp"
#include "decalesce/austenite.hpp"
#include "decalesce/laws/critical.hpp"
#include "decalesce/temper/parameter.hpp"

using namespace decalesce;

namespace {

struct Score {
  std::size_t covered = 0;
  double error = 0.0;
  std::size_t held = 0;

  void add(const Estimate& e, double reported) {
    if (std::isnan(e.value)) return;
    ++covered;
    error += std::abs(e.value - reported);
    held += e.low <= reported && reported <= e.high ? 1 : 0;
  }
  double mean_error() const { return error / static_cast<double>(covered); }
  double share_held() const { return static_cast<double>(held) / static_cast<double>(covered); }
};

}  // namespace

TEST_CASE("joined critical temperatures against reported ones") {
  std::map<std::string, Score> scores;
  std::size_t rows = 0;
  for (const auto& row : checks::read("checks/critical.csv")) {
    if (row.text("gate") != "share") continue;
    ++rows;
    const critical::Temperatures t = critical::temperatures(row.composition());
    const std::map<std::string, const Estimate*> answer{{"Ac1", &t.ac1}, {"Ac3", &t.ac3}, {"Ms", &t.ms}, {"Bs", &t.bs}};
    const auto found = answer.find(row.text("quantity"));
    REQUIRE(found != answer.end());
    scores[found->first].add(*found->second, row.number("expected"));
  }
  REQUIRE(rows >= 100);
  REQUIRE(scores["Bs"].covered >= 80);
  REQUIRE(scores["Bs"].mean_error() <= 18.0);
  REQUIRE(scores["Ac1"].covered >= 5);
  REQUIRE(scores["Ac1"].mean_error() <= 10.0);
  REQUIRE(scores["Ac3"].share_held() >= 0.8);
  REQUIRE(scores["Ms"].share_held() >= 0.8);
}

TEST_CASE("one curve of a steel predicts its other times") {
  struct Reading {
    double temper_C, time_s, hrc;
  };
  std::map<std::string, std::vector<Reading>> steels;
  std::size_t rows = 0;
  for (const auto& row : checks::read("checks/temper.csv")) {
    if (row.text("gate") != "share") continue;
    ++rows;
    if (row.text("laboratory").empty() || row.number("expected") < 20.0 || row.number("time_s") < 600.0) continue;
    steels[row.text("steel") + "/" + row.text("laboratory")].push_back(
        {row.number("temper_C"), row.number("time_s"), row.number("expected")});
  }
  REQUIRE(rows >= 500);
  double square = 0.0;
  std::size_t predictions = 0;
  for (const auto& [name, readings] : steels) {
    double one = temper::seconds_per_hour;
    const auto has = [&](double t) {
      return std::any_of(readings.begin(), readings.end(), [&](const Reading& r) { return r.time_s == t; });
    };
    if (!has(one))
      one = std::min_element(readings.begin(), readings.end(), [](const Reading& a, const Reading& b) {
              return a.time_s < b.time_s;
            })->time_s;
    std::map<double, std::vector<double>> curve;
    for (const Reading& r : readings)
      if (r.time_s == one) curve[r.temper_C].push_back(r.hrc);
    if (curve.size() < 3) continue;
    const auto mean = [](const std::vector<double>& v) {
      double sum = 0.0;
      for (double x : v) sum += x;
      return sum / static_cast<double>(v.size());
    };
    for (const Reading& r : readings) {
      if (r.time_s == one) continue;
      const double at = temper::equivalent_temperature_C(temper::parameter_kK(r.temper_C, r.time_s, 20.0), one, 20.0);
      const auto above = curve.lower_bound(at);
      if (above == curve.end() || (above == curve.begin() && at < above->first)) continue;
      const auto below = above == curve.begin() ? above : std::prev(above);
      const double part = above->first == below->first ? 0.0 : (at - below->first) / (above->first - below->first);
      const double predicted = mean(below->second) + part * (mean(above->second) - mean(below->second));
      square += (predicted - r.hrc) * (predicted - r.hrc);
      ++predictions;
    }
  }
  REQUIRE(predictions > 300);
  REQUIRE(std::sqrt(square / static_cast<double>(predictions)) <= 1.0);
}

TEST_CASE("windows from composition against published hardening temperatures") {
  std::map<std::string, Composition> middles;
  for (const auto& row : checks::read("grades.csv")) {
    Composition c;
    for_each_element([&](Element e) {
      const auto limit = [&](const char* end) {
        const auto found = row.cell.find(std::string(symbol(e)) + end);
        return found == row.cell.end() || found->second.empty() ? NAN : std::stod(found->second);
      };
      const double low = limit("_min");
      const double high = limit("_max");
      if (!std::isnan(high))
        c.set(e, 0.5 * ((std::isnan(low) ? 0.0 : low) + high), Stated::filled);
      else if (!std::isnan(low))
        c.set(e, low, Stated::filled);
    });
    middles[row.text("designation")] = c;
  }
  REQUIRE(middles.size() >= 120);
  std::size_t rows = 0;
  std::size_t judged = 0;
  std::size_t near = 0;
  for (const auto& row : checks::read("checks/grades.csv")) {
    if (row.text("gate") == "report") continue;
    ++rows;
    const std::string& quantity = row.text("quantity");
    if (quantity.rfind("austenitize_", 0) != 0 || !row.text("composition").empty()) continue;
    const austenite::Window w = austenite::window(middles.at(row.text("grade")));
    if (std::isnan(w.aim.value)) continue;
    ++judged;
    const double published = row.number("value");
    // each row's own tolerance, as for a range whose edges published sources disagree about
    near +=
        published >= w.coolest.value - row.number("tolerance") && published <= w.hottest.value + row.number("tolerance")
            ? 1
            : 0;
  }
  REQUIRE(rows >= 120);
  REQUIRE(judged >= 20);
  REQUIRE(static_cast<double>(near) >= 0.75 * static_cast<double>(judged));
}
