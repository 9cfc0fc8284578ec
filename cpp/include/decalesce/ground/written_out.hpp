#pragma once
// A loop whose counter is known when compiling, so that nothing of the loop is left in the program.
#include <cstddef>
#include <utility>

namespace decalesce {

/// Calls `step.template operator()<K>()` for K = 0 .. Count - 1.
template <std::size_t Count, class Step>
constexpr void written_out(Step&& step) {
  [&]<std::size_t... K>(std::index_sequence<K...>) {
    (step.template operator()<K>(), ...);
  }(std::make_index_sequence<Count>{});
}

}  // namespace decalesce
