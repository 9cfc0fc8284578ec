#include "decalesce/heating/heat_up.hpp"

#include <algorithm>
#include <cmath>

#include "soak_rule.hpp"
#include "warming.hpp"

namespace decalesce::heating {

namespace {

constexpr double mm = 1e-3;
constexpr double minute_s = 60.0;
/// Pieces one diameter apart take so many times longer than a free one.
constexpr double spaced = rule_of("load_spaced").high;
/// How often the hold behind a history is doubled before it is said that the steel does not get there.
constexpr int doublings = 12;

/// The shares of the band need less than the time itself.
constexpr double band_tolerance = 3.0;

/// What a heat-up is made of, to run it as often as the band needs.
struct Run {
  const thermal::Steel& steel;
  const conduction::Material& as_it_is;
  const History& furnace;
  double start_C;
  double within_K;
  double set_point_C;
  double tolerance_K;

  Times times(const conduction::Trace& trace) const {
    const double through = trace.time_within(set_point_C, within_K);
    const double edge = set_point_C - within_K;
    const auto surface = static_cast<std::size_t>(trace.mesh().surface);
    const bool there = trace.temperature_C(surface, trace.start_s()) >= edge;
    return {there ? trace.start_s() : std::min(trace.time_to(surface, edge), through), through};
  }

  /// A first guess of the time, generous: what a lumped piece and what conduction would take.
  double guess(const conduction::Mesh& mesh, const Conditions& c) const {
    const double length = mesh.total_volume() / mesh.total_area();
    const thermal::Point hot = steel.at(set_point_C);
    const double heat = (hot.enthalpy_J_kg - steel.at(start_C).enthalpy_J_kg) * steel.density_kg_m3 * c.enthalpy;
    const double rise = set_point_C - start_C;
    const double film = heat * length / (whole_film(c, set_point_C, set_point_C) * rise);
    const double inside = heat * length * length / (hot.conductivity_W_mK * c.conductivity * rise);
    return 8.0 * film + inside;
  }

  conduction::Trace run(const conduction::Mesh& mesh, const Conditions& c) const {
    const bool changed = c.enthalpy != 1.0 || c.conductivity != 1.0;
    const conduction::Material made = changed ? material(steel, c) : as_it_is;
    const double last = furnace.temperatures_C().back();
    const bool holds_there = std::abs(last - set_point_C) < within_K;
    double hold_s = guess(mesh, c);
    for (int turn = 0;; ++turn, hold_s *= 2.0) {
      const History longer = holds_there ? furnace.then(History::hold(last, hold_s)) : furnace;
      conduction::Trace trace =
          conduction::heat(made, mesh, start_C, {longer, c.film_W_m2K, c.emissivity}, tolerance_K);
      if (!holds_there || turn == doublings || !std::isnan(trace.time_within(set_point_C, within_K))) return trace;
    }
  }
};

double between(const conduction::Mesh& mesh, int a, int b) {
  double square = 0.0;
  const auto directions = static_cast<std::size_t>(mesh.directions);
  const std::size_t from = static_cast<std::size_t>(a) * directions;
  const std::size_t to = static_cast<std::size_t>(b) * directions;
  for (std::size_t d = 0; d < directions; ++d) {
    const double step = mesh.position[from + d] - mesh.position[to + d];
    square += step * step;
  }
  return std::sqrt(square);
}

HeatUp refused(HeatUp h, Flags why) {
  h.flags |= why;
  h.through_s = h.surface_s = h.equalize_s = Estimate::missing(Unit::second, h.flags);
  return h;
}

/// How fast the surface went through the last kelvin below Ac1.
double rate_at_Ac1(const conduction::Trace& trace, double Ac1_C, double within_K) {
  const auto surface = static_cast<std::size_t>(trace.mesh().surface);
  const double before = trace.time_to(surface, Ac1_C - within_K);
  const double after = trace.time_to(surface, Ac1_C);
  return after > before ? within_K / (after - before) * minute_s : NAN;
}

void describe(HeatUp& h, const conduction::Trace& trace, const thermal::Steel& steel, const Conditions& c,
              double within_K) {
  const conduction::Mesh& mesh = trace.mesh();
  const auto largest = trace.largest_difference();
  h.difference_K = largest.kelvin;
  h.difference_s = largest.time_s;
  h.difference_K_mm = largest.kelvin / (between(mesh, mesh.surface, mesh.centre) / mm);
  const double length = std::max(mesh.half_thickness, mesh.total_volume() / mesh.total_area());
  h.biot = conduction::closed::biot_number(whole_film(c, h.set_point_C, h.set_point_C), length,
                                           steel.at(h.set_point_C).conductivity_W_mK);
  h.limit = conduction::closed::what_limits(h.biot);
  h.rate_K_min = rate_at_Ac1(trace, steel.Ac1_C, within_K);
}

}  // namespace

HeatUp heat_up(const Section& section, const Composition& composition, const thermal::Film& film,
               const History& furnace, const HeatUpOptions& options) {
  HeatUp h;
  h.set_point_C = std::isnan(options.set_point_C) ? furnace.temperatures_C().back() : options.set_point_C;
  if (const Flags why = unusable(section) | refusal(composition); !why.empty()) return refused(h, why);
  const Placed placed = place(composition);
  const thermal::Steel steel = thermal::heating(placed.family, placed.where);
  h.Ac1_C = steel.Ac1_C;
  h.flags = steel.flags | film.flags;
  if (furnace.peak_C() > steel.high_C || options.start_C < steel.low_C) h.flags |= Flag::outside_range;
  if (h.set_point_C <= options.start_C || furnace.peak_C() <= options.start_C) return refused(h, Flag::not_heating);
  const conduction::Mesh mesh =
      conduction::mesh_of(section, options.cells > 0 ? options.cells : enough_cells(section), options.exposure);
  if (!(mesh.total_area() > 0.0)) return refused(h, Flag::impossible_input);

  const Conditions base = middle(film);
  const conduction::Material as_it_is = material(steel, base);
  const Run run{steel, as_it_is, furnace, options.start_C, options.within_K, h.set_point_C, options.tolerance_K};
  h.trace = run.run(mesh, base);
  describe(h, *h.trace, steel, base, options.within_K);
  const Times times = run.times(*h.trace);
  if (std::isnan(times.last_s)) return refused(h, Flag::not_at_temperature);

  const conduction::Mesh other = body_of_the_band(mesh);
  Run rough = run;
  rough.tolerance_K *= band_tolerance;
  const Varied varied =
      vary(film, steel, spaced, [&](const Conditions& c) { return rough.times(rough.run(other, c)); });
  Sources sources = steel.sources;
  sources |= film.sources;
  const auto last = [](const Times& t) { return t.last_s; };
  const auto first = [](const Times& t) { return t.first_s; };
  const auto rest = [](const Times& t) { return t.last_s - t.first_s; };
  // in a body of more directions the corners run ahead, which the plate that stands for it does not know
  const bool itself = mesh.directions == 1;
  const double equalize = times.last_s - times.first_s;
  h.causes = causes_of(times.last_s, varied, last);
  h.through_s = banded(times.last_s, h.causes, h.flags, sources);
  h.surface_s = banded(times.first_s, causes_of(times.first_s, varied, itself ? +first : +last), h.flags, sources);
  h.equalize_s = banded(equalize, causes_of(equalize, varied, itself ? +rest : +last), h.flags, sources);
  return h;
}

HeatUp heat_up(const Section& section, const Composition& steel, const thermal::Film& film, double set_point_C,
               const HeatUpOptions& options) {
  return heat_up(section, steel, film, History::hold(set_point_C, 1.0), options);
}

Soak soak(const Section& section, const Composition& steel, Furnace furnace, const HeatUp& computed) {
  Soak s = soak(section, steel, furnace);
  s.heat_up_s = computed.surface_s;
  s.equalize_s = computed.equalize_s;
  s.hold_s.flags = Flags::from_bits(s.hold_s.flags.bits() & ~Flags::bit(Flag::screen_detail));
  return s;
}

}  // namespace decalesce::heating
