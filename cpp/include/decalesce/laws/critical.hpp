#pragma once
// Critical temperatures of a steel: the published formulas that cover it, joined with one vote a lineage, with a band.
#include "../ground/composition.hpp"
#include "../ground/estimate.hpp"
#include "family.hpp"

namespace decalesce::critical {

/// degC, with 90 % prediction bands. Ar3 has no joined value: its one formula has no published range.
/// Ac3 belongs to hypoeutectoid steel and Acm to hypereutectoid; Ms, Mf and Bs hold for all carbon in solution.
struct Temperatures {
  Estimate ac1;
  Estimate ac3;
  Estimate acm;
  Estimate ms;
  Estimate mf;
  Estimate bs;
  Family family = Family::plain_hypo;
};

Temperatures temperatures(const Composition& steel);

/// Ms alone, for callers that ask for nothing else; the same number as in `temperatures`.
Estimate martensite_start(const Composition& steel);

/// How strongly each amount moves Ac1, K per wt %, without sign, from the dual numbers of the band; zero where it does
/// not.
std::array<double, element_count> ac1_slopes(const Composition& steel);

/// What each quantity rests on.
struct SourcesOfQuantities {
  Sources ac1, ac3, acm, ms, mf, bs;
};
const SourcesOfQuantities& sources();

}  // namespace decalesce::critical
