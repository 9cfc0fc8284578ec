#include <string_view>

#include "composition_type.hpp"
#include "estimate_type.hpp"

PYBIND11_MODULE(empty_calls, module) {
  namespace py = pybind11;
  using bindings::PyComposition;
  module.def(
      "number_of_formula", [](std::string_view, const PyComposition&) { return py::object(py::float_(0.0)); },
      py::arg("formula"), py::arg("composition"));
  module.def(
      "estimate", [](const PyComposition&) { return bindings::PyEstimate(decalesce::Estimate{}); },
      py::arg("composition"));
}
