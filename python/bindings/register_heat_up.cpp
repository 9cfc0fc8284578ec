#include <pybind11/stl.h>

#include "composition_type.hpp"
#include "decalesce/heating/heat_up.hpp"
#include "decalesce/tables/soak_model.hpp"
#include "estimate_type.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;

namespace {

/// Low, value and high of the convection and of the emissivity, where they are not the furnace's own.
using Ranges = std::array<double, 6>;

thermal::Film film_of(const std::string& name, const std::optional<Ranges>& ranges) {
  if (!ranges) return thermal::furnace_film(name);
  const Ranges& r = *ranges;
  thermal::Film film{};
  film.convection_W_m2K = {r[0], r[1], r[2]};
  film.emissivity = {r[3], r[4], r[5]};
  film.radiates = r[5] > 0.0;
  return film;
}

const Composition& one_steel(const PyComposition& w) {
  if (!w.is_one()) throw py::value_error("w holds a batch of steels; expected one steel, e.g. w[0]");
  return w.one;
}

conduction::Exposure exposure_of(const std::array<double, 4>& e) { return {e[0], e[1], e[2], e[3]}; }

py::dict causes_of(const heating::Causes& c) {
  py::dict out;
  const auto put = [&](const char* name, const heating::Spread& s) { out[name] = py::make_tuple(s.less_s, s.more_s); };
  put("film", c.film);
  put("emissivity", c.emissivity);
  put("enthalpy", c.enthalpy);
  put("conductivity", c.conductivity);
  put("load", c.load);
  return out;
}

py::tuple flag_ids(Flags flags) {
  py::list out;
  for (const FlagText& t : flag_texts)
    if (flags.has(t.flag)) out.append(py::str(std::string(t.id)));
  return py::tuple(out);
}

heating::HeatUp computed(const Section& section, const PyComposition& w, const std::string& furnace,
                         const std::optional<Ranges>& ranges, const History& history, double set_point_C,
                         double start_C, double within_K, const std::array<double, 4>& exposure, double tolerance_K,
                         int cells) {
  heating::HeatUpOptions options;
  options.set_point_C = set_point_C;
  options.start_C = start_C;
  options.within_K = within_K;
  options.exposure = exposure_of(exposure);
  options.tolerance_K = tolerance_K;
  options.cells = cells;
  return heating::heat_up(section, one_steel(w), film_of(furnace, ranges), history, options);
}

}  // namespace

void register_heat_up(py::module_& module) {
  py::class_<heating::HeatUp>(module, "HeatUpResult", "A computed heat-up.")
      .def_property_readonly("through_s", [](const heating::HeatUp& h) { return PyEstimate(h.through_s); })
      .def_property_readonly("surface_s", [](const heating::HeatUp& h) { return PyEstimate(h.surface_s); })
      .def_property_readonly("equalize_s", [](const heating::HeatUp& h) { return PyEstimate(h.equalize_s); })
      .def_property_readonly("causes", [](const heating::HeatUp& h) { return causes_of(h.causes); })
      .def_readonly("set_point_C", &heating::HeatUp::set_point_C)
      .def_readonly("difference_K", &heating::HeatUp::difference_K)
      .def_readonly("difference_s", &heating::HeatUp::difference_s)
      .def_readonly("difference_K_mm", &heating::HeatUp::difference_K_mm)
      .def_readonly("biot", &heating::HeatUp::biot)
      .def_readonly("Ac1_C", &heating::HeatUp::Ac1_C)
      .def_readonly("rate_K_min", &heating::HeatUp::rate_K_min)
      .def_readonly("trace", &heating::HeatUp::trace)
      .def_property_readonly("flags", [](const heating::HeatUp& h) { return flag_ids(h.flags); });
  module.def("heating_heat_up", &computed, py::arg("section"), py::arg("w"), py::arg("furnace"), py::arg("ranges"),
             py::arg("history"), py::arg("set_point_C"), py::arg("start_C"), py::arg("within_K"), py::arg("exposure"),
             py::arg("tolerance_K"), py::arg("cells"), "A heat-up along a history of the furnace.");
  module.def(
      "heating_full_soak",
      [](const Section& section, const PyComposition& w, std::size_t furnace, const heating::HeatUp& heat_up) {
        const heating::Soak s = heating::soak(section, one_steel(w), static_cast<heating::Furnace>(furnace), heat_up);
        return py::make_tuple(PyEstimate(s.heat_up_s), PyEstimate(s.equalize_s), PyEstimate(s.hold_s));
      },
      py::arg("section"), py::arg("w"), py::arg("furnace"), py::arg("heat_up"), "(heat-up, equalize, hold), s.");
  module.def(
      "heating_in_air",
      [](const Section& section, const PyComposition& w, double from_C, double to_C, double room_C,
         const std::optional<Ranges>& ranges, const std::array<double, 4>& exposure) {
        heating::InAirOptions options;
        options.to_C = to_C;
        options.room_C = room_C;
        options.exposure = exposure_of(exposure);
        const heating::InAir a =
            heating::cool_in_air(section, one_steel(w), from_C, options, film_of("still_air", ranges));
        return py::make_tuple(PyEstimate(a.first_s), PyEstimate(a.last_s), causes_of(a.causes), a.to_C,
                              a.trace ? py::cast(*a.trace) : py::none(), flag_ids(a.flags));
      },
      py::arg("section"), py::arg("w"), py::arg("from_C"), py::arg("to_C"), py::arg("room_C"), py::arg("ranges"),
      py::arg("exposure"), "(first there, last there, causes, to_C, trace, flags).");
  module.attr("heating_reference_C") = tables::soak_model::reference_C;
}

}  // namespace bindings
