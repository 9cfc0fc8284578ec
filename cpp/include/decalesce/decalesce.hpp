#pragma once
// Everything the library offers, room by room.
#include "ground/as_quenched.hpp"
#include "ground/austenite.hpp"
#include "ground/composition.hpp"
#include "ground/dual.hpp"
#include "ground/estimate.hpp"
#include "ground/flags.hpp"
#include "ground/history.hpp"
#include "ground/scalar.hpp"
#include "ground/section.hpp"
#include "ground/units.hpp"
#include "published/catalogue.hpp"
