// The kernels for any processor.
#include "formula_kernels.hpp"

namespace decalesce::kernels {

const Table& portable() {
  static constexpr Table table = table_for<Packet<2>>();
  return table;
}

}  // namespace decalesce::kernels
