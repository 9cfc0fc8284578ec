// The kernels for processors with AVX2; CMake gives this file alone the compiler option for it.
#include "formula_kernels.hpp"

namespace decalesce::kernels {

extern const Table wide_table;
constexpr Table wide_table = table_for<Packet<4>>();

}  // namespace decalesce::kernels
