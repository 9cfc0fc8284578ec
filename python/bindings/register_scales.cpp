#include "decalesce/scales.hpp"

#include "estimate_type.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;

namespace {

constexpr std::array<std::string_view, 4> scale_names{"HRC", "HV", "HBW", "tensile_MPa"};
constexpr std::array<std::string_view, 3> table_names{"joined", "astm_e140", "iso18265"};

template <class Chosen, std::size_t Count>
Chosen named(const std::array<std::string_view, Count>& names, const std::string& name, const char* what) {
  for (std::size_t k = 0; k < Count; ++k)
    if (names[k] == name) return static_cast<Chosen>(k);
  throw py::value_error(std::string(what) + " '" + name + "' is not known");
}

PyEstimate convert(const Doubles& value, const std::string& from_name, const std::string& to_name,
                   const std::string& table_name) {
  const auto from = named<scales::Scale>(scale_names, from_name, "scale");
  const auto to = named<scales::Scale>(scale_names, to_name, "scale");
  const auto table = named<scales::Table>(table_names, table_name, "table");
  if (value.ndim() == 0) return scales::estimate(value.data()[0], from, to, table);
  const Unit unit = scales::scale_units[static_cast<std::size_t>(to)];
  PyEstimate out = batch_of_estimates(Shape(value.shape(), value.shape() + value.ndim()), unit,
                                      from == to ? Sources() : scales::sources(from, to, table), true);
  for (py::ssize_t i = 0; i < value.size(); ++i)
    set_row(out, static_cast<std::size_t>(i), scales::estimate(value.data()[i], from, to, table));
  return out;
}

}  // namespace

void register_scales(py::module_& module) {
  module.def("convert_hardness", &convert, py::arg("value"), py::arg("from_scale"), py::arg("to_scale"),
             py::arg("table"), "One hardness scale to another.");
}

}  // namespace bindings
