#include <pybind11/stl.h>
#include <pybind11/typing.h>

#include <sstream>

#include "composition_type.hpp"
#include "decalesce/ground/history.hpp"
#include "decalesce/ground/section.hpp"
#include "estimate_type.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;

namespace {

using Numbers = py::array_t<double, py::array::c_style | py::array::forcecast>;

constexpr int pickle_version = 1;

decalesce::Shape shape_named(const std::string& name) {
  for (std::size_t k = 0; k < shape_names.size(); ++k)
    if (shape_names[k] == name) return static_cast<decalesce::Shape>(k);
  throw py::value_error("Section: shape '" + name +
                        "'; expected plate, round, square, hexagon, rectangle, wedge or block");
}

std::string name_of(decalesce::Shape shape) { return std::string(shape_names[static_cast<std::size_t>(shape)]); }

constexpr double mm = 1e-3;

Section make_section(const std::string& shape, double thickness_mm, double width_mm, double length_mm, double edge_mm) {
  const Section s{shape_named(shape), thickness_mm * mm, width_mm * mm, length_mm * mm, edge_mm * mm};
  if (!s.valid()) {
    std::ostringstream what;
    what << "Section: " << shape << " of thickness_mm = " << thickness_mm << ", width_mm = " << width_mm
         << ", length_mm = " << length_mm << ", edge_mm = " << edge_mm
         << "; expected a thickness above zero, a width for rectangle, block and wedge, a length for block, and an "
            "edge no thicker than the spine";
    throw py::value_error(what.str());
  }
  return s;
}

/// A number in mm as it is; strings and quantities by the package's own unit edge.
double length_from(const char* argument, const py::object& given) {
  if (is_number(given)) return py::cast<double>(given);
  const py::object one = py::module_::import("decalesce.units").attr("length_mm")(given, argument);
  if (!is_number(one))
    throw py::type_error("Section: " + std::string(argument) + " = " + shown(given) +
                         R"(; expected one length, such as 4.8 (mm), "4.8mm" or "3/16in")");
  return py::cast<double>(one);
}

Section section_from(const py::object& shape, const py::object& thickness_mm, const py::object& width_mm,
                     const py::object& length_mm, const py::object& edge_mm, const py::Args<py::typing::NoReturn>& more,
                     const py::KWArgs<py::typing::NoReturn>& unknown) {
  constexpr const char* expected =
      "; expected shape, thickness_mm, width_mm, length_mm and edge_mm, such as Section('plate', 4)";
  if (!more.empty()) throw py::type_error("Section: one value too many, " + shown(more[0]) + expected);
  if (!unknown.empty())
    throw py::type_error("Section: unknown argument " + shown(*py::list(unknown).begin()) + expected);
  if (!py::isinstance<py::str>(shape))
    throw py::type_error("Section: shape = " + shown(shape) + "; expected a word such as 'plate' or 'round'");
  return make_section(py::cast<std::string>(shape), length_from("thickness_mm", thickness_mm),
                      length_from("width_mm", width_mm), length_from("length_mm", length_mm),
                      length_from("edge_mm", edge_mm));
}

std::string print(const Section& s) {
  std::ostringstream out;
  out << "Section(" << name_of(s.shape) << ", " << s.thickness / mm << " mm";
  if (s.width > 0.0) out << " x " << s.width / mm << " mm";
  if (s.length > 0.0) out << " x " << s.length / mm << " mm";
  if (s.shape == decalesce::Shape::wedge) out << ", edge " << s.edge / mm << " mm";
  out << ")";
  return out.str();
}

void register_section(py::module_& module) {
  py::class_<Section>(module, "Section",
                      R"(Shape of the piece that is heated and quenched.

`shape` is plate, round, square, hexagon, rectangle, wedge or block. Lengths are numbers in mm, strings such as "4.8mm"
and "3/16in", or pint quantities: the least thickness (diameter, across flats, spine), the width of a rectangle, block or
wedge, the length of a block, the edge of a wedge.

Raises ValueError for a shape or length that cannot be, TypeError for one that is no length, naming the argument.)")
      .def(py::init(&section_from), py::arg("shape"), py::arg("thickness_mm"), py::arg("width_mm") = 0.0,
           py::arg("length_mm") = 0.0, py::arg("edge_mm") = 0.0)
      .def_property_readonly("shape", [](const Section& s) { return name_of(s.shape); })
      .def_property_readonly(
          "thickness_mm", [](const Section& s) { return s.thickness / mm; }, "Least thickness, diameter or spine.")
      .def_property_readonly("width_mm", [](const Section& s) { return s.width / mm; })
      .def_property_readonly("length_mm", [](const Section& s) { return s.length / mm; })
      .def_property_readonly("edge_mm", [](const Section& s) { return s.edge / mm; })
      .def_property_readonly(
          "volume_to_surface_mm", [](const Section& s) { return s.volume_to_surface() / mm; },
          "Volume over surface: what governs heating by film.")
      .def("__eq__", [](const Section& a,
                        const py::object& b) { return py::isinstance<Section>(b) && a == py::cast<const Section&>(b); })
      .def("__hash__", [](const Section& s) { return py::hash(py::str(print(s))); })
      .def("__repr__", print)
      .def(py::pickle(
          [](const Section& s) {
            return py::make_tuple(pickle_version, name_of(s.shape), s.thickness / mm, s.width / mm, s.length / mm,
                                  s.edge / mm);
          },
          [](const py::tuple& t) {
            if (t.size() != 6 || py::cast<int>(t[0]) != pickle_version)
              throw py::value_error("Section: this pickle was written by another version");
            return make_section(py::cast<std::string>(t[1]), py::cast<double>(t[2]), py::cast<double>(t[3]),
                                py::cast<double>(t[4]), py::cast<double>(t[5]));
          }));
}

Doubles array_of(const std::vector<double>& values) {
  Doubles out(static_cast<py::ssize_t>(values.size()));
  std::copy(values.begin(), values.end(), out.mutable_data());
  return out;
}

std::vector<double> vector_of(const Numbers& values) { return {values.data(), values.data() + values.size()}; }

void register_history(py::module_& module) {
  py::class_<History>(
      module, "History",
      "True temperature (degC) against time (s), straight between points. Raises ValueError for times that do not "
      "increase, values that are not finite, or temperatures below absolute zero.")
      .def(py::init([](const Numbers& times_s, const Numbers& temperatures_C) {
             return History(vector_of(times_s), vector_of(temperatures_C));
           }),
           py::arg("times_s"), py::arg("temperatures_C"))
      .def_static("hold", &History::hold, py::arg("temperature_C"), py::arg("time_s"), "One temperature for a time.")
      .def_property_readonly("times_s", [](const History& h) { return array_of(h.times_s()); })
      .def_property_readonly("temperatures_C", [](const History& h) { return array_of(h.temperatures_C()); })
      .def_property_readonly("duration_s", &History::duration_s)
      .def_property_readonly("peak_C", &History::peak_C)
      .def_property_readonly("mean_C", &History::mean_C, "Mean over time.")
      .def("effective_temperature", &History::effective_temperature_C, py::arg("activation_energy_kJ"),
           "Steady temperature (degC) at which a process of this activation energy (kJ/mol) runs as far in the same "
           "time. Hotter than "
           "the mean of a swing, never hotter than its peak. Raises ValueError for an energy of zero or less. "
           "[Haynes1971]")
      .def("at", &History::at, py::arg("time_s"), "Temperature at a time; the end values hold outside.")
      .def("then", &History::then, py::arg("next"), "This history followed by another.")
      .def("__eq__", [](const History& a,
                        const py::object& b) { return py::isinstance<History>(b) && a == py::cast<const History&>(b); })
      .def("__hash__",
           [](const History& h) { return py::hash(py::make_tuple(h.size(), h.duration_s(), h.peak_C(), h.mean_C())); })
      .def("__repr__",
           [](const History& h) {
             std::ostringstream out;
             out << "History(" << h.size() << " points, " << h.duration_s() << " s, mean " << h.mean_C()
                 << " degC, peak " << h.peak_C() << " degC)";
             return out.str();
           })
      .def(py::pickle(
          [](const History& h) {
            return py::make_tuple(pickle_version, array_of(h.times_s()), array_of(h.temperatures_C()));
          },
          [](const py::tuple& t) {
            if (t.size() != 3 || py::cast<int>(t[0]) != pickle_version)
              throw py::value_error("History: this pickle was written by another version");
            return History(vector_of(py::cast<Numbers>(t[1])), vector_of(py::cast<Numbers>(t[2])));
          }));
}

}  // namespace

void register_ground(py::module_& module) {
  register_composition(module);
  register_estimate(module);
  register_section(module);
  register_history(module);
}

}  // namespace bindings
