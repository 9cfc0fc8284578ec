#include "warming.hpp"

#include <algorithm>
#include <cmath>

#include "decalesce/laws/critical.hpp"

namespace decalesce::heating {

namespace {

Spread spread(double value_s, double middle, const std::array<double, 2>& ends) {
  double less = 0.0;
  double more = 0.0;
  for (const double end : ends) {
    const double change = end / middle - 1.0;  // NaN where it is never there
    if (change < -less) less = -change;
    if (change > more) more = change;
  }
  return {less * value_s, more * value_s};
}

/// Where the thermal room can put a transformation.
double placeable(double temperature_C) {
  return temperature_C > thermal::en1993_low_C + 10.0 && temperature_C < thermal::en1993_high_C ? temperature_C : NAN;
}

}  // namespace

Conditions middle(const thermal::Film& film) { return {film.convection_W_m2K.value, film.emissivity.value}; }

double whole_film(const Conditions& c, double piece_C, double surroundings_C) {
  const double a = kelvin_from_celsius(piece_C);
  const double b = kelvin_from_celsius(surroundings_C);
  return c.film_W_m2K + c.emissivity * stefan_boltzmann * (a * a + b * b) * (a + b);
}

conduction::Material material(const thermal::Steel& steel, const Conditions& conditions) {
  std::vector<double> enthalpy = steel.enthalpy_J_kg;
  std::vector<double> conductivity = steel.conductivity_W_mK;
  for (double& h : enthalpy) h *= conditions.enthalpy;
  for (double& k : conductivity) k *= conditions.conductivity;
  return {steel.temperature_C, enthalpy, conductivity, steel.density_kg_m3};
}

int enough_cells(const Section& section) {
  switch (section.shape) {
    case Shape::plate:
    case Shape::round: return conduction::usual_cells(section) / 2;
    case Shape::wedge: return 2;  // the width has many times more
    case Shape::block: return 3;
    default: return 4;
  }
}

conduction::Mesh body_of_the_band(const conduction::Mesh& mesh) {
  if (mesh.directions == 1) return mesh;
  return conduction::plate(2.0 * mesh.total_volume() / mesh.total_area(), enough_cells({}));
}

Placed place(const Composition& steel) {
  const critical::Temperatures t = critical::temperatures(steel);
  Placed placed;
  placed.family = critical::family_names[static_cast<std::size_t>(t.family)];
  placed.where = {placeable(t.ac1.value), placeable(std::isnan(t.ac3.value) ? t.acm.value : t.ac3.value),
                  steel.amount.C, critical::eutectoid_carbon(steel.amount)};
  placed.Ms_C = t.ms.value;
  return placed;
}

Flags refusal(const Composition& steel) { return std::isnan(steel.total()) ? Flags(Flag::nan_input) : Flags(); }

Varied vary(const thermal::Film& film, const thermal::Steel& steel, double load_factor,
            const std::function<Times(const Conditions&)>& at) {
  const Conditions base = middle(film);
  const Times times = at(base);
  const auto ends = [&](double Conditions::*what, double low, double high) {
    std::array<Times, 2> found{times, times};
    for (std::size_t k = 0; k < found.size(); ++k) {
      Conditions changed = base;
      changed.*what = k == 0 ? low : high;
      if (changed.*what != base.*what) found[k] = at(changed);
    }
    return found;
  };
  const Conditions loaded{base.film_W_m2K / load_factor, base.emissivity / load_factor};
  const double heat = std::hypot(steel.enthalpy_half_width, steel.density_half_width);
  const double flow = steel.conductivity_half_width;
  return {times,
          ends(&Conditions::film_W_m2K, film.convection_W_m2K.low, film.convection_W_m2K.high),
          ends(&Conditions::emissivity, film.emissivity.low, film.emissivity.high),
          ends(&Conditions::enthalpy, 1.0 - heat, 1.0 + heat),
          ends(&Conditions::conductivity, 1.0 - flow, 1.0 + flow),
          load_factor == 1.0 ? times : at(loaded)};
}

Causes causes_of(double value_s, const Varied& varied, double (*of)(const Times&)) {
  const auto alone = [&](const Times& a, const Times& b) { return spread(value_s, of(varied.middle), {of(a), of(b)}); };
  const auto ends = [&](const std::array<Times, 2>& both) { return alone(both[0], both[1]); };
  return {ends(varied.film), ends(varied.emissivity), ends(varied.enthalpy), ends(varied.conductivity),
          alone(varied.middle, varied.load)};
}

Estimate banded(double value_s, const Causes& causes, Flags flags, const Sources& sources) {
  const auto joined = [](double Spread::*side, std::initializer_list<const Spread*> parts) {
    double square = 0.0;
    for (const Spread* p : parts) square += p->*side * (p->*side);
    return std::sqrt(square);
  };
  const auto around = {&causes.film, &causes.emissivity, &causes.load};
  const auto inside = {&causes.enthalpy, &causes.conductivity};
  const double around_less = joined(&Spread::less_s, around);
  const double around_more = joined(&Spread::more_s, around);
  const double inside_less = joined(&Spread::less_s, inside);
  const double inside_more = joined(&Spread::more_s, inside);
  Estimate e;
  e.value = value_s;
  e.low = std::max(0.0, value_s - std::hypot(around_less, inside_less));
  e.high = value_s + std::hypot(around_more, inside_more);
  e.unit = Unit::second;
  e.flags = flags;
  e.parts[static_cast<std::size_t>(Part::table)] = 0.5 * (around_less + around_more);
  e.parts[static_cast<std::size_t>(Part::formula)] = 0.5 * (inside_less + inside_more);
  e.sources = sources;
  return e;
}

}  // namespace decalesce::heating
