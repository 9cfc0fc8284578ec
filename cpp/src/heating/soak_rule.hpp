#pragma once
// A row of soak_rules.csv by its id.
#include <string_view>

#include "decalesce/tables/soak_rules.hpp"

namespace decalesce::heating {

constexpr const tables::SoakRule& rule_of(std::string_view id) {
  for (const auto& row : tables::soak_rules)
    if (row.id == id) return row;
  throw "no such rule in soak_rules.csv";
}

}  // namespace decalesce::heating
