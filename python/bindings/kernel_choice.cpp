#include "kernel_choice.hpp"

#include <pybind11/pybind11.h>

#include <string>

namespace bindings {

using namespace decalesce;

const kernels::Table& kernel_named(std::string_view kernel) {
  if (kernel == "fastest") return kernels::fastest();
  if (kernel == "portable") return kernels::portable();
  if (kernel == "avx2") {
    const kernels::Table* wide = kernels::avx2();
    if (wide == nullptr)
      throw pybind11::value_error("kernel = 'avx2': this processor does not have it; expected 'fastest' or 'portable'");
    return *wide;
  }
  throw pybind11::value_error("kernel = '" + std::string(kernel) + "'; expected 'fastest', 'portable' or 'avx2'");
}

}  // namespace bindings
