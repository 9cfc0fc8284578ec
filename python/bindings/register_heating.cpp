#include <pybind11/stl.h>

#include <sstream>

#include "composition_type.hpp"
#include "decalesce/heating.hpp"
#include "decalesce/tables/soak_rules.hpp"
#include "estimate_type.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;

namespace {

heating::Furnace furnace_named(const std::string& name) {
  for (std::size_t k = 0; k < heating::furnace_names.size(); ++k)
    if (heating::furnace_names[k] == name) return static_cast<heating::Furnace>(k);
  throw py::value_error("furnace = '" + name +
                        "'; expected still_electric, forced_air, gas_fired, neutral_salt or fluidized_bed");
}

const Composition& one_steel(const PyComposition& w) {
  if (!w.is_one()) throw py::value_error("w holds a batch of steels; expected one steel, e.g. w[0]");
  return w.one;
}

py::object rule_id(std::size_t row) {
  if (row >= tables::soak_rules.size()) return py::none();
  return py::str(std::string(tables::soak_rules[row].id));
}

}  // namespace

void register_heating(py::module_& module) {
  module.def(
      "heating_through",
      [](const Section& section, const std::string& furnace, double set_point_C) {
        return PyEstimate(heating::heat_through(section, furnace_named(furnace), set_point_C));
      },
      py::arg("section"), py::arg("furnace"), py::arg("set_point_C"), "Heat-up time, s.");
  module.def(
      "heating_soak",
      [](const Section& section, const PyComposition& w, const std::string& furnace, double set_point_C) {
        const heating::Furnace kind = furnace_named(furnace);
        const Composition& steel = one_steel(w);
        const heating::Soak s = heating::soak(section, steel, kind, set_point_C);
        py::list beside;
        for (const heating::RuleBeside& r : heating::rules_beside(section, steel, kind))
          beside.append(py::make_tuple(rule_id(r.row), r.low_s, r.high_s, r.includes_heat_up));
        return py::make_tuple(PyEstimate(s.heat_up_s), PyEstimate(s.equalize_s), PyEstimate(s.hold_s),
                              rule_id(s.hold_rule), py::make_tuple(s.preheat_low_C, s.preheat_high_C), beside);
      },
      py::arg("section"), py::arg("w"), py::arg("furnace"), py::arg("set_point_C"),
      "(heat-up, equalize, hold, id of the hold's rule, preheat range, rules beside).");
  module.def(
      "heating_check",
      [](double time_s, const PyEstimate& heat_up, const PyEstimate& equalize, const PyEstimate& hold) {
        heating::Soak due;
        due.heat_up_s = heat_up.one;
        due.equalize_s = equalize.one;
        due.hold_s = hold.one;
        return std::string(heating::soak_check_names[static_cast<std::size_t>(heating::check_soak(time_s, due))]);
      },
      py::arg("time_s"), py::arg("heat_up"), py::arg("equalize"), py::arg("hold"), "A time against what is due.");
  py::list furnaces;
  for (const std::string_view name : heating::furnace_names) furnaces.append(py::str(std::string(name)));
  module.attr("furnace_kinds") = py::tuple(furnaces);
}

}  // namespace bindings
