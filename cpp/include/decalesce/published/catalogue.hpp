#pragma once
// Every formula of the library, in one list: the registry, the batch loops and the printed catalogue are made from it.
// To add a formula: an entry in data/bibliography.bib, a struct in the header of its quantity, its name in that
// header's list, and check rows in data/checks/published.csv.
#include <array>
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

/// The number of a formula by its id.
constexpr std::optional<std::size_t> find(std::string_view id) {
  for (std::size_t k = 0; k < catalogue.size(); ++k)
    if (catalogue[k].id == id) return k;
  return std::nullopt;
}

/// Answer in degC (1/K for a rate) with what has to be said about it: out of range, range unpublished, from memory.
struct Answer {
  double value;
  Flags flags;
};
Answer evaluate(std::size_t number, const WeightPercent<double>& w, const Given<double>& given = {});

}  // namespace decalesce::published
