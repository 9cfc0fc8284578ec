#pragma once
// Every formula of the library, in one list: the registry, the batch loops and the printed catalogue are made from it.
// To add a formula: an entry in data/bibliography.bib, a struct in the header of its quantity, its name in that
// header's list, and check rows in data/checks/published.csv.
#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

#include "../ground/flags.hpp"
#include "ac1.hpp"
#include "ac3.hpp"
#include "ar3.hpp"
#include "bs.hpp"
#include "mf.hpp"
#include "ms.hpp"
#include "rate.hpp"

namespace decalesce::published {

namespace catalogue_detail {
template <class... Lists>
struct Joined;
template <class... A>
struct Joined<FormulaList<A...>> {
  using type = FormulaList<A...>;
};
template <class... A, class... B, class... Rest>
struct Joined<FormulaList<A...>, FormulaList<B...>, Rest...> {
  using type = typename Joined<FormulaList<A..., B...>, Rest...>::type;
};

template <class... Formulas>
constexpr std::array<FormulaRecord, sizeof...(Formulas)> records_of(FormulaList<Formulas...>) {
  return {Formulas::record...};
}
}  // namespace catalogue_detail

using AllFormulas = typename catalogue_detail::Joined<Ac1Formulas, Ac3Formulas, Ar3Formulas, MsFormulas, MfFormulas,
                                                      BsFormulas, RateFormulas>::type;

/// The records in the order of `AllFormulas`; a formula's place in it is its number in the batch calls.
inline constexpr std::array<FormulaRecord, AllFormulas::size> catalogue = catalogue_detail::records_of(AllFormulas{});

namespace catalogue_detail {

inline constexpr std::size_t shortest_id = 4;

/// A few letters of an id, mixed: the first ones, which name the quantity, and some spread over the rest. Different for
/// every id of the catalogue, or the search below does not end and the file does not compile.
constexpr std::uint32_t letters(std::string_view id) {
  constexpr std::size_t places = 8;
  auto mixed = static_cast<std::uint32_t>(id.size());
  for (std::size_t k = 0; k < shortest_id; ++k) mixed = mixed * 33 + static_cast<unsigned char>(id[k]);
  for (std::size_t k = 1; k < places; ++k)
    mixed = mixed * 33 + static_cast<unsigned char>(id[(id.size() - 1) * k / (places - 1)]);
  return mixed;
}

/// Where each id stands in the catalogue, found in one step: `seed` is searched until no two ids share a slot.
struct IdTable {
  static constexpr std::size_t slots = 1024;
  static constexpr std::uint8_t none = 255;
  std::uint32_t seed = 0;
  std::array<std::uint8_t, slots> number{};

  constexpr std::size_t slot(std::string_view id) const { return (letters(id) * seed) >> 22; }

  constexpr bool try_seed(std::uint32_t wanted) {
    seed = wanted;
    number.fill(none);
    for (std::size_t k = 0; k < catalogue.size(); ++k) {
      std::uint8_t& at = number[slot(catalogue[k].id)];
      if (at != none) return false;
      at = static_cast<std::uint8_t>(k);
    }
    return true;
  }
};

consteval IdTable find_id_table() {
  static_assert(catalogue.size() < IdTable::none);
  IdTable table;
  for (std::uint32_t seed = 0x9E3779B1u; !table.try_seed(seed); seed += 2) {
  }
  return table;
}
inline constexpr IdTable id_table = find_id_table();

}  // namespace catalogue_detail

/// The number of a formula by its id.
constexpr std::optional<std::size_t> find(std::string_view id) {
  if (id.size() < catalogue_detail::shortest_id) return std::nullopt;
  const std::uint8_t number = catalogue_detail::id_table.number[catalogue_detail::id_table.slot(id)];
  if (number == catalogue_detail::IdTable::none || catalogue[number].id != id) return std::nullopt;
  return number;
}

/// Answer in degC (1/K for a rate) with what has to be said about it: out of range, range unpublished, from memory.
struct Answer {
  double value;
  Flags flags;
};
/// The value alone.
double value(std::size_t number, const WeightPercent<double>& w, const Given<double>& given = {});
Answer evaluate(std::size_t number, const WeightPercent<double>& w, const Given<double>& given = {});

}  // namespace decalesce::published
