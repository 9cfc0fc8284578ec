#include <pybind11/numpy.h>
#include <pybind11/stl.h>

#include <sstream>

#include "composition_type.hpp"
#include "decalesce/laws/critical.hpp"
#include "decalesce/thermal/film.hpp"
#include "decalesce/thermal/steel.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;
using thermal::Point;
using thermal::Steel;

namespace {

py::array array_of(const std::vector<double>& values) {
  Doubles out(static_cast<py::ssize_t>(values.size()), values.data());
  out.attr("setflags")(py::arg("write") = false);
  return out;
}

/// One property at temperatures, shape in, shape out.
template <double Point::*member>
Doubles at(const Steel& steel, const Doubles& temperature_C) {
  Doubles out(Shape(temperature_C.shape(), temperature_C.shape() + temperature_C.ndim()));
  for (py::ssize_t i = 0; i < temperature_C.size(); ++i)
    out.mutable_data()[i] = steel.at(temperature_C.data()[i]).*member;
  return out;
}

py::tuple flag_ids(Flags flags) {
  py::list out;
  for (const FlagText& t : flag_texts)
    if (flags.has(t.flag)) out.append(py::str(std::string(t.id)));
  return py::tuple(out);
}

py::tuple source_keys(const Sources& sources) {
  py::list out;
  for (std::size_t k = 0; k < tables::citation_entries.size(); ++k)
    if (sources.has(static_cast<Citation>(k))) out.append(py::str(std::string(tables::citation_entries[k].key)));
  return py::tuple(out);
}

py::tuple three(const thermal::Range& r) { return py::make_tuple(r.low, r.value, r.high); }

/// The laws know the family, Ac1 and Ac3 or Acm of a composition; a temperature that is given counts before them.
struct Known {
  std::string family;
  thermal::Transformation where;
  double Ms_C = NAN;
};
Known known_of(const PyComposition& w, double Ac1_C, double end_C) {
  if (!w.is_one()) throw py::value_error("w holds a batch of steels; expected one steel, e.g. w[0]");
  const critical::Temperatures t = critical::temperatures(w.one);
  Known known;
  known.family = critical::family_names[static_cast<std::size_t>(t.family)];
  const double end = std::isnan(t.ac3.value) ? t.acm.value : t.ac3.value;
  known.where = {std::isnan(Ac1_C) ? t.ac1.value : Ac1_C, std::isnan(end_C) ? end : end_C, w.one.amount.C,
                 critical::eutectoid_carbon(w.one.amount)};
  known.Ms_C = t.ms.value;
  return known;
}

Steel of_composition(const PyComposition& w, const std::string& direction, double Ac1_C, double end_C) {
  const Known known = known_of(w, Ac1_C, end_C);
  return direction == "cooling" ? thermal::cooling(known.family, known.Ms_C)
                                : thermal::heating(known.family, known.where);
}

Steel of_name(const std::string& name, const std::string& direction, double Ac1_C, double end_C, double carbon_wt_pct,
              double eutectoid_wt_pct) {
  if (name == "en1993_carbon") return thermal::en1993_heating();
  if (name == "en1993_stainless") return thermal::en1993_stainless_heating();
  if (direction == "cooling") return thermal::cooling(name, NAN);
  return thermal::heating(name, {Ac1_C, end_C, carbon_wt_pct, eutectoid_wt_pct});
}

}  // namespace

void register_thermal(py::module_& module) {
  py::class_<Steel>(module, "ThermalSteel", "Thermal properties of one steel against temperature.")
      .def_property_readonly("temperature_C", [](const Steel& s) { return array_of(s.temperature_C); })
      .def_property_readonly("enthalpy_J_kg", [](const Steel& s) { return array_of(s.enthalpy_J_kg); })
      .def_property_readonly("conductivity_W_mK", [](const Steel& s) { return array_of(s.conductivity_W_mK); })
      .def_readonly("density_kg_m3", &Steel::density_kg_m3)
      .def_readonly("conductivity_half_width", &Steel::conductivity_half_width)
      .def_readonly("enthalpy_half_width", &Steel::enthalpy_half_width)
      .def_readonly("density_half_width", &Steel::density_half_width)
      .def_readonly("transformation_J_kg", &Steel::transformation_J_kg)
      .def_readonly("Ac1_C", &Steel::Ac1_C)
      .def_readonly("end_C", &Steel::end_C)
      .def_readonly("low_C", &Steel::low_C)
      .def_readonly("high_C", &Steel::high_C)
      .def_property_readonly("family", [](const Steel& s) { return std::string(s.family); })
      .def_property_readonly("flags", [](const Steel& s) { return flag_ids(s.flags); })
      .def_property_readonly("sources", [](const Steel& s) { return source_keys(s.sources); })
      .def("conductivity_at", &at<&Point::conductivity_W_mK>, py::arg("temperature_C"), "W/mK; shape in, shape out.")
      .def("heat_capacity_at", &at<&Point::heat_capacity_J_kgK>, py::arg("temperature_C"),
           "J/kgK; shape in, shape out.")
      .def("enthalpy_at", &at<&Point::enthalpy_J_kg>, py::arg("temperature_C"),
           "J/kg from cold steel of 20 degC; shape in, shape out.")
      .def("__repr__", [](const Steel& s) {
        std::ostringstream out;
        out << "ThermalSteel(" << s.family << ", " << s.density_kg_m3 << " kg/m3";
        if (!std::isnan(s.Ac1_C)) out << ", transforms from " << s.Ac1_C << " to " << s.end_C << " degC";
        out << ")";
        return out.str();
      });
  module.def("thermal_steel", &of_composition, py::arg("w"), py::arg("direction"), py::arg("Ac1_C"), py::arg("end_C"),
             "Of a composition.");
  module.def("thermal_family", &of_name, py::arg("name"), py::arg("direction"), py::arg("Ac1_C"), py::arg("end_C"),
             py::arg("carbon_wt_pct") = NAN, py::arg("eutectoid_wt_pct") = NAN, "Of a family or a reference case.");
  module.def("thermal_constant", &thermal::constant, py::arg("conductivity_W_mK"), py::arg("heat_capacity_J_kgK"),
             py::arg("density_kg_m3"), "Constant properties.");
  module.def(
      "thermal_film",
      [](const std::string& name) {
        const thermal::Film f = thermal::furnace_film(name);
        return py::make_tuple(std::string(f.name), three(f.convection_W_m2K), f.radiates, three(f.emissivity),
                              flag_ids(f.flags), source_keys(f.sources));
      },
      py::arg("furnace"), "(name, film low/value/high, radiates, emissivity low/value/high, flags, sources).");
  py::list names;
  for (std::size_t k = 0; k < thermal::surroundings_count; ++k)
    names.append(py::str(std::string(thermal::furnace_film(static_cast<thermal::Surroundings>(k)).name)));
  module.attr("thermal_surroundings") = py::tuple(names);
  py::list families;
  for (const std::string_view family : critical::family_names) families.append(py::str(std::string(family)));
  module.attr("thermal_families") = py::tuple(families);
}

}  // namespace bindings
