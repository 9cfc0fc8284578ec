#pragma once
// When is the steel at temperature all the way through? Heat-up computed along the history of the furnace, with the
// steel's own properties and transformation heat; and how long a hot piece has in air between furnace and tank.
//
// The band of a time holds the film, the emissivity, the heat and the conductivity of the steel, each at its low and
// high end and joined in quadrature, and on the long side pieces standing a diameter apart. It does not hold pieces
// that touch, a furnace that falls when it is loaded (shop/furnace.hpp computes that), nor a furnace that is not where
// its controller says.
#include <cmath>
#include <optional>

#include "../ground/composition.hpp"
#include "../ground/estimate.hpp"
#include "../ground/history.hpp"
#include "../ground/section.hpp"
#include "../heating.hpp"
#include "../solvers/conduction/lumped.hpp"
#include "../solvers/conduction/run.hpp"
#include "../thermal/film.hpp"
#include "../thermal/steel.hpp"

namespace decalesce::heating {

/// What the band of a time is made of, s to the short and to the long side, each cause alone.
struct Spread {
  double less_s = 0.0;
  double more_s = 0.0;
};
struct Causes {
  Spread film, emissivity, enthalpy, conductivity, load;
};

struct HeatUpOptions {
  double start_C = 20.0;
  double within_K = 10.0;    // of the set point counts as there
  double set_point_C = NAN;  // NaN: the last temperature of the history
  conduction::Exposure exposure{};
  double tolerance_K = conduction::default_tolerance_K;
  int cells = 0;  // along half the least thickness; 0: as many as leave less than 0.2 % in the time
};

struct HeatUp {
  Estimate through_s;   // from loading until all of it is within `within_K` of the set point
  Estimate surface_s;   // until the surface is (the edge of a wedge, the corner of a bar)
  Estimate equalize_s;  // from then until all is
  Causes causes;        // of `through_s`
  double set_point_C = NAN;
  double difference_K = NAN;  // surface less centre, the largest on the way
  double difference_s = NAN;  // when
  double difference_K_mm = NAN;
  /// h L / k at the set point, radiation counted in, where it is greatest. L: half the thickness, or volume over the
  /// surface that is exposed where that is more.
  double biot = NAN;
  conduction::closed::Limit limit = conduction::closed::Limit::unknown;
  double Ac1_C = NAN;                      // where the transformation was put
  double rate_K_min = NAN;                 // of the surface, over the last `within_K` below Ac1
  std::optional<conduction::Trace> trace;  // none where there is no answer
  Flags flags;
};

/// Along a history of the furnace, true temperature; after its end the last temperature holds. Flags: `not_heating`
/// where the furnace is not hotter than the work, `not_at_temperature` where the set point is never reached,
/// `outside_range` where properties are read on (above 1200 degC), `size_impossible`. Throws std::invalid_argument for
/// an option or a film that cannot be.
HeatUp heat_up(const Section& section, const Composition& steel, const thermal::Film& film, const History& furnace,
               const HeatUpOptions& options = {});

/// In a furnace that stands at its set point when loaded, degC, and does not fall.
HeatUp heat_up(const Section& section, const Composition& steel, const thermal::Film& film, double set_point_C,
               const HeatUpOptions& options = {});

/// The soak with a computed heat-up: until the surface is there, until all is, and the hold of the family.
Soak soak(const Section& section, const Composition& steel, Furnace furnace, const HeatUp& computed);

struct InAir {
  Estimate first_s;  // until the first of it (surface, edge, corner) has fallen to `to_C`
  Estimate last_s;   // until its middle has
  Causes causes;     // of `first_s`; no load
  double from_C = NAN;
  double to_C = NAN;
  std::optional<conduction::Trace> trace;
  Flags flags;
};

struct InAirOptions {
  double to_C = NAN;  // NaN: Ac1, above which no austenite is lost however slowly it cools
  double room_C = 20.0;
  conduction::Exposure exposure{};
  double tolerance_K = conduction::default_tolerance_K;
  int cells = 0;
};

/// Out of the furnace, hot through, as austenite that does not transform. `outside_range` below Ms. Throws
/// std::invalid_argument unless the piece starts hotter than `to_C` and that is above the room.
InAir cool_in_air(const Section& section, const Composition& steel, double from_C, const InAirOptions& options = {},
                  const thermal::Film& film = thermal::furnace_film(thermal::Surroundings::still_air));

}  // namespace decalesce::heating
