#include "decalesce/thermal/film.hpp"

#include <stdexcept>
#include <string>

#include "decalesce/tables/thermal.hpp"

namespace decalesce::thermal {

namespace t = tables::thermal;

static_assert(t::films.size() == surroundings_count, "one row of thermal_films.csv for each of the surroundings");

Film furnace_film(Surroundings surroundings) {
  const t::FilmRow& row = t::films[static_cast<std::size_t>(surroundings)];
  Sources sources(row.source);
  sources.add(row.emissivity_source);
  return {row.name,          {row.convection_low, row.convection, row.convection_high},
          row.radiates,      {row.emissivity_low, row.emissivity, row.emissivity_high},
          Flag::from_memory, sources};
}

Film furnace_film(std::string_view name) {
  std::string known;
  for (std::size_t k = 0; k < surroundings_count; ++k) {
    if (t::films[k].name == name) return furnace_film(static_cast<Surroundings>(k));
    known += (k == 0 ? "" : ", ") + std::string(t::films[k].name);
  }
  throw std::invalid_argument("furnace = '" + std::string(name) + "'; expected one of " + known);
}

}  // namespace decalesce::thermal
