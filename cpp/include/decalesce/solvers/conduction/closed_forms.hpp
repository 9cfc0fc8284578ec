#pragma once
// Transient conduction with constant properties, answered by formulas instead of a solver. They are what the solver is
// checked against, and enough by themselves where properties hardly change: a temper, a salt bath, a first estimate.
#include "driven_face.hpp"
#include "half_space.hpp"
#include "lumped.hpp"
#include "piece.hpp"
#include "series.hpp"
