#pragma once
// The batch kernels by the name a benchmark or a test asks for.
#include <string_view>

#include "kernels/kernel_api.hpp"

namespace bindings {

/// "fastest", "portable" or "avx2"; raises ValueError for another name, or where the processor lacks it.
const decalesce::kernels::Table& kernel_named(std::string_view kernel);

}  // namespace bindings
