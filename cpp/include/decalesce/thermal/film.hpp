#pragma once
// How heat reaches the surface: a film coefficient and, where the furnace radiates, an emissivity. A film coefficient
// here is convection alone; it never contains the radiation that is added to it.
#include <array>
#include <cstdint>
#include <string_view>

#include "../ground/estimate.hpp"
#include "../ground/flags.hpp"

namespace decalesce::thermal {

/// The first five are the furnaces of a shop, in the words and the order of `heating::Furnace`. `foil_wrapped` is a
/// declared scenario: work in a steel foil envelope in a still electric furnace. `still_air` is for cooling.
enum class Surroundings : std::uint8_t {
  still_electric,
  forced_air,
  gas_fired,
  neutral_salt,
  fluidized_bed,
  foil_wrapped,
  still_air
};
inline constexpr std::size_t surroundings_count = 7;

struct Range {
  double low;
  double value;
  double high;
};

struct Film {
  std::string_view name;
  Range convection_W_m2K;
  bool radiates;
  Range emissivity;  // of the exchange between walls and work; 0 where nothing is added
  Flags flags;
  Sources sources;
};

Film furnace_film(Surroundings surroundings);

/// By name; throws std::invalid_argument with the known names.
Film furnace_film(std::string_view name);

}  // namespace decalesce::thermal
