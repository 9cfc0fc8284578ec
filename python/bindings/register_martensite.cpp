#include "decalesce/laws/hardness.hpp"
#include "decalesce/laws/martensite.hpp"
#include "register.hpp"
#include "steel_state_types.hpp"

namespace bindings {

using namespace decalesce;

namespace {

/// `answer(carbon, half_width)` for a number or an array of carbon, wt %.
template <class Answer>
PyEstimate by_carbon(const py::object& carbon, double half_width, Answer&& answer) {
  if (!(half_width >= 0.0)) throw py::value_error("half_width: expected 0 wt % or more");
  if (PyFloat_Check(carbon.ptr()) || (PyLong_Check(carbon.ptr()) && !PyBool_Check(carbon.ptr())))
    return PyEstimate(answer(py::cast<double>(carbon), half_width));
  const auto column = py::array_t<double, py::array::c_style | py::array::forcecast>::ensure(carbon);
  if (!column || py::isinstance<py::str>(carbon) || PyBool_Check(carbon.ptr())) {
    PyErr_Clear();
    throw py::type_error("carbon_wt = " + py::cast<std::string>(py::repr(carbon)) +
                         "; expected carbon in solution, wt %, a number or an array");
  }
  std::vector<Estimate> rows;
  rows.reserve(static_cast<std::size_t>(column.size()));
  for (py::ssize_t i = 0; i < column.size(); ++i) rows.push_back(answer(column.data()[i], half_width));
  if (column.ndim() == 0) return PyEstimate(rows.front());
  const OneOrMany<Estimate> many(Shape(column.shape(), column.shape() + column.ndim()), std::move(rows));
  return estimates_of(many, [](const Estimate& e) -> const Estimate& { return e; });
}

}  // namespace

void register_martensite(py::module_& module) {
  module.def(
      "martensite_retained",
      [](const py::object& a, double cooled_to_C) {
        const auto rows =
            each_row<Estimate>(austenite_from(a, "martensite.retained_austenite"),
                               [&](const Austenite& x) { return martensite::retained_austenite(x, cooled_to_C); });
        return estimates_of(rows, [](const Estimate& e) -> const Estimate& { return e; });
      },
      py::arg("a"), py::arg("cooled_to_C"), "Retained austenite, fraction of the whole.");
  module.def(
      "martensite_start",
      [](const py::object& a) {
        const auto rows = each_row<Estimate>(austenite_from(a, "martensite.start"),
                                             [](const Austenite& x) { return martensite::start(x); });
        return estimates_of(rows, [](const Estimate& e) -> const Estimate& { return e; });
      },
      py::arg("a"), "Martensite start, degC.");
  module.def(
      "martensite_hardness",
      [](const py::object& carbon, double half_width) {
        return by_carbon(carbon, half_width, [](double c, double h) { return hardness::full_martensite(c, h); });
      },
      py::arg("carbon_wt"), py::arg("half_width"), "Hardness of full martensite, HRC.");
  module.def(
      "half_martensite_hardness",
      [](const py::object& carbon, double half_width) {
        return by_carbon(carbon, half_width, [](double c, double h) { return hardness::half_martensite(c, h); });
      },
      py::arg("carbon_wt"), py::arg("half_width"), "Hardness of 50 % martensite, HRC.");
  module.attr("cooled_to_C") = py::dict(
      py::arg("room") = martensite::rule::room_temperature, py::arg("freezer") = martensite::rule::freezer,
      py::arg("dry_ice") = martensite::rule::dry_ice, py::arg("liquid_nitrogen") = martensite::rule::liquid_nitrogen);
}

}  // namespace bindings
