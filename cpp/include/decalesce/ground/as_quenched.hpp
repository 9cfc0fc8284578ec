#pragma once
// The steel as it comes out of the quench, at one position of the section.
#include "austenite.hpp"
#include "estimate.hpp"

namespace decalesce {

struct AsQuenched {
  Austenite austenite;
  Estimate hardness_HRC;
  Estimate martensite;          // fraction
  Estimate retained_austenite;  // fraction
  bool measured = false;        // hardness read by the user, not computed
};

}  // namespace decalesce
