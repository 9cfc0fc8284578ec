#include <string>

#include "catch.hpp"
#include "check_rows.hpp"
#include "decalesce/scales.hpp"

namespace {

using namespace decalesce;
using scales::Scale;
using scales::Table;

Scale scale_named(const std::string& name) {
  if (name == "HRC") return Scale::hrc;
  if (name == "HV") return Scale::hv;
  if (name == "HB" || name == "HBW") return Scale::hbw;
  REQUIRE(name == "tensile_MPa");
  return Scale::tensile;
}

}  // namespace

// ASTM E140 and ISO 18265 table A.1, each printed point.
TEST_CASE("printed points of the hardness tables are met", "[scales]") {
  const auto rows = checks::read("checks/scales.csv");
  REQUIRE(rows.size() >= 49);
  for (const checks::Row& row : rows) {
    INFO(row.text("case_id"));
    const Table table = row.text("table") == "astm_e140_hrc" ? Table::astm_e140 : Table::iso18265;
    const double got = scales::convert(row.number("from_value"), scale_named(row.text("from_scale")),
                                       scale_named(row.text("to_scale")), table);
    CHECK(std::abs(got - row.number("expected")) <= row.number("tolerance"));
  }
}

TEST_CASE("off a scale there is no number", "[scales]") {
  for (const Estimate& e :
       {scales::estimate(19.99, Scale::hrc, Scale::hv), scales::estimate(68.01, Scale::hrc, Scale::hv),
        scales::estimate(237.0, Scale::hv, Scale::hrc), scales::estimate(700.0, Scale::hv, Scale::tensile),
        scales::estimate(66.0, Scale::hrc, Scale::hbw), scales::estimate(-5.0, Scale::hv, Scale::hbw)}) {
    CHECK(std::isnan(e.value));
    CHECK(e.flags == Flags(Flag::off_scale));
  }
  const Estimate missing = scales::estimate(NAN, Scale::hrc, Scale::hv);
  CHECK(std::isnan(missing.value));
  CHECK(missing.flags == Flags(Flag::nan_input));
}

TEST_CASE("a conversion and its way back agree", "[scales]") {
  for (double hv = 80.0; hv <= 940.0; hv += 0.37)
    for (Scale other : {Scale::hrc, Scale::hbw, Scale::tensile}) {
      const double there = scales::convert(hv, Scale::hv, other);
      if (std::isnan(there)) continue;
      CHECK(scales::convert(there, other, Scale::hv) == Approx(hv).margin(1e-8));
    }
}
