#include <pybind11/stl.h>

#include <cmath>
#include <sstream>

#include "decalesce/austenite.hpp"
#include "decalesce/ground/history.hpp"
#include "register.hpp"
#include "steel_state_types.hpp"

namespace bindings {

using namespace decalesce;

namespace {

using PyDissolved = OneOrMany<austenite::Dissolved>;
using PyWindow = OneOrMany<austenite::Window>;

constexpr int pickle_version = 1;

PyDissolved dissolved(const PyComposition& w, const austenite::Soak& soak) {
  return each_steel<austenite::Dissolved>(w, [&](const Composition& c) { return austenite::dissolve(c, soak); });
}

py::tuple ids(std::uint32_t reasons) {
  py::list out;
  for (std::size_t k = 0; k < austenite::reason_texts.size(); ++k)
    if ((reasons >> k) & 1U) out.append(py::str(std::string(austenite::reason_texts[k].id)));
  return py::tuple(out);
}

py::object reasons_of(const PyWindow& w) {
  if (w.is_one()) return ids(w.row(0).reasons);
  py::list rows;
  for (std::size_t i = 0; i < w.rows(); ++i) rows.append(ids(w.row(i).reasons));
  return py::tuple(rows);
}

PyEstimate coolest(const PyWindow& w) {
  return estimates_of(w, [](const austenite::Window& x) -> const Estimate& { return x.coolest; });
}
PyEstimate aim(const PyWindow& w) {
  return estimates_of(w, [](const austenite::Window& x) -> const Estimate& { return x.aim; });
}
PyEstimate hottest(const PyWindow& w) {
  return estimates_of(w, [](const austenite::Window& x) -> const Estimate& { return x.hottest; });
}

std::string print(const PyWindow& w) {
  std::ostringstream out;
  out.precision(4);
  if (!w.is_one()) {
    out << "Window(" << w.rows() << " steels)";
    return out.str();
  }
  const austenite::Window& one = w.row(0);
  out << "Window(" << one.coolest.value << " to " << one.hottest.value << " degC, aim " << one.aim.value;
  for (const auto& id : ids(one.reasons)) out << ", " << py::cast<std::string>(id);
  out << ")";
  return out.str();
}

PyWindow thaw(const py::tuple& state) {
  if (state.size() != 5 || py::cast<int>(state[0]) != pickle_version)
    throw py::value_error("Window: this pickle was written by another version; compute it again");
  const auto low = py::cast<PyEstimate>(state[1]);
  const auto middle = py::cast<PyEstimate>(state[2]);
  const auto high = py::cast<PyEstimate>(state[3]);
  const auto reasons = py::cast<std::vector<std::uint32_t>>(state[4]);
  if (low.is_one()) return PyWindow(austenite::Window{low.one, middle.one, high.one, reasons.at(0)});
  std::vector<austenite::Window> rows;
  rows.reserve(reasons.size());
  for (std::size_t i = 0; i < reasons.size(); ++i)
    rows.push_back({estimate_row(low, i), estimate_row(middle, i), estimate_row(high, i), reasons[i]});
  const py::array& values = low.columns->value;
  return PyWindow(Shape(values.shape(), values.shape() + values.ndim()), std::move(rows));
}

bool same(const PyWindow& a, const PyWindow& b) {
  const auto equal = [](const PyEstimate& x, const PyEstimate& y) { return py::cast(x).equal(py::cast(y)); };
  return a.is_one() == b.is_one() && a.shape() == b.shape() && equal(coolest(a), coolest(b)) && equal(aim(a), aim(b)) &&
         equal(hottest(a), hottest(b)) && reasons_of(a).equal(reasons_of(b));
}

void register_window(py::module_& module) {
  py::class_<PyWindow>(module, "Window", R"(Austenitizing temperatures of a steel: `coolest`, `aim` and `hottest`, degC.

Each is an Estimate; `reasons` are the ids of why the window lies there and `sentences` spells them out. Of a batch the
properties are arrays in its shape.)")
      .def_property_readonly("coolest", &coolest, "Recommended low end, degC.")
      .def_property_readonly("aim", &aim, "Temperature to set, degC.")
      .def_property_readonly("hottest", &hottest, "Recommended high end, degC.")
      .def_property_readonly("reasons", &reasons_of, "Ids of the reasons; of a batch one tuple a steel.")
      .def_property_readonly(
          "sentences",
          [](const PyWindow& w) {
            py::dict out;
            for (std::size_t i = 0; i < w.rows(); ++i)
              for (std::size_t k = 0; k < austenite::reason_texts.size(); ++k)
                if ((w.row(i).reasons >> k) & 1U)
                  out[py::str(std::string(austenite::reason_texts[k].id))] =
                      py::str(std::string(austenite::reason_texts[k].sentence));
            return out;
          },
          "Sentence of each reason, by id.")
      .def_property_readonly(
          "detail", [](const PyWindow&) { return "screen"; }, "How deep the answer was computed.")
      .def("__eq__",
           [](const PyWindow& a, const py::object& b) {
             return py::isinstance<PyWindow>(b) && same(a, py::cast<const PyWindow&>(b));
           })
      .def("__hash__",
           [](const PyWindow& w) {
             if (!w.is_one()) throw py::type_error("Window: a batch cannot be hashed");
             return py::hash(py::make_tuple(w.row(0).aim.value, w.row(0).reasons));
           })
      .def("__repr__", &print)
      .def(py::pickle(
          [](const PyWindow& w) {
            std::vector<std::uint32_t> reasons;
            for (std::size_t i = 0; i < w.rows(); ++i) reasons.push_back(w.row(i).reasons);
            return py::make_tuple(pickle_version, coolest(w), aim(w), hottest(w), reasons);
          },
          &thaw));
}

}  // namespace

void register_austenite(py::module_& module) {
  register_window(module);
  module.def(
      "austenite_dissolve",
      [](const PyComposition& w, const History& history) {
        return each_row<Austenite>(dissolved(w, austenite::soak_of(history)),
                                   [](const austenite::Dissolved& d) { return d.austenite; });
      },
      py::arg("w"), py::arg("history"), "What is in solution after a history.");
  module.def(
      "austenite_carbon",
      [](const PyComposition& w, double temperature_C, double soak_s) {
        return estimates_of(dissolved(w, austenite::soak_at(temperature_C, soak_s)),
                            [](const austenite::Dissolved& d) -> const Estimate& { return d.carbon; });
      },
      py::arg("w"), py::arg("temperature_C"), py::arg("soak_s"), "Carbon in solution, wt %.");
  module.def(
      "austenite_window",
      [](const PyComposition& w) {
        return each_steel<austenite::Window>(w, [](const Composition& c) { return austenite::window(c); });
      },
      py::arg("w"), "Austenitizing window.");
}

}  // namespace bindings
