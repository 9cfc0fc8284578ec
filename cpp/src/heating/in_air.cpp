#include <algorithm>
#include <stdexcept>
#include <string>

#include "decalesce/heating/heat_up.hpp"
#include "warming.hpp"

namespace decalesce::heating {

namespace {

/// How often a guess that was too short is doubled.
constexpr int doublings = 20;

void require(bool holds, const char* name, double value, const std::string& expected) {
  if (!holds) throw std::invalid_argument(std::string(name) + " = " + std::to_string(value) + "; expected " + expected);
}

Times times_to(const conduction::Trace& trace, double to_C) {
  return {trace.time_to(static_cast<std::size_t>(trace.mesh().surface), to_C),
          trace.time_to(static_cast<std::size_t>(trace.mesh().centre), to_C)};
}

}  // namespace

InAir cool_in_air(const Section& section, const Composition& composition, double from_C, const InAirOptions& options,
                  const thermal::Film& film) {
  InAir a;
  a.from_C = from_C;
  a.to_C = options.to_C;
  const auto refused = [&](Flags why) {
    a.flags = why;
    a.first_s = a.last_s = Estimate::missing(Unit::second, why);
    return a;
  };
  if (const Flags why = unusable(section) | refusal(composition); !why.empty()) return refused(why);
  const Placed placed = place(composition);
  const thermal::Steel steel = thermal::cooling(placed.family, placed.Ms_C);
  if (std::isnan(a.to_C)) a.to_C = thermal::heating(placed.family, placed.where).Ac1_C;
  if (std::isnan(a.to_C)) return refused(Flag::not_applicable);
  require(a.to_C > options.room_C, "to_C", a.to_C, "a temperature above the room, degC");
  require(from_C > a.to_C, "from_C", from_C, "a temperature above " + std::to_string(a.to_C) + " degC");
  a.flags = steel.flags | film.flags;
  if (from_C > steel.high_C || a.to_C < steel.low_C) a.flags |= Flag::outside_range;
  const conduction::Mesh mesh =
      conduction::mesh_of(section, options.cells > 0 ? options.cells : enough_cells(section), options.exposure);
  if (!(mesh.total_area() > 0.0)) return refused(Flag::impossible_input);

  const auto run = [&](const conduction::Mesh& body, const Conditions& c) {
    const conduction::Material made = material(steel, c);
    // lumped, and as slow all the way as at the end of it
    const double heat = (made.enthalpy_J_m3(from_C) - made.enthalpy_J_m3(a.to_C)) * body.total_volume();
    double time_s = heat / (body.total_area() * whole_film(c, a.to_C, options.room_C) * (a.to_C - options.room_C));
    for (int turn = 0;; ++turn, time_s *= 2.0) {
      conduction::Trace trace = conduction::heat(
          made, body, from_C, {History::hold(options.room_C, time_s), c.film_W_m2K, c.emissivity}, options.tolerance_K);
      if (turn == doublings || !std::isnan(times_to(trace, a.to_C).last_s)) return trace;
    }
  };
  a.trace = run(mesh, middle(film));
  const Times times = times_to(*a.trace, a.to_C);
  const conduction::Mesh other = body_of_the_band(mesh);
  const Varied varied = vary(film, steel, 1.0, [&](const Conditions& c) { return times_to(run(other, c), a.to_C); });
  Sources sources = steel.sources;
  sources |= film.sources;
  const auto first = [](const Times& t) { return t.first_s; };
  const auto last = [](const Times& t) { return t.last_s; };
  a.causes = causes_of(times.first_s, varied, first);
  a.first_s = banded(times.first_s, a.causes, a.flags, sources);
  a.last_s = banded(times.last_s, causes_of(times.last_s, varied, last), a.flags, sources);
  return a;
}

}  // namespace decalesce::heating
