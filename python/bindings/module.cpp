// The compiled module: only calls the registration of each room.
#include <pybind11/pybind11.h>

#include "register.hpp"

PYBIND11_MODULE(_core, module) {
  module.doc() =
      "Compiled core of decalesce. Private: use the functions of the package, which carry the documentation.";
  module.attr("version") = DECALESCE_VERSION;
  bindings::register_ground(module);
  bindings::register_published(module);
  bindings::register_critical(module);
  bindings::register_steel_state(module);
  bindings::register_martensite(module);
  bindings::register_conduction(module);
  bindings::register_conduction_closed(module);
  bindings::register_thermal(module);
  bindings::register_furnace(module);
  bindings::register_heating(module);
  bindings::register_heat_up(module);
  bindings::register_arrest(module);
  bindings::register_austenite(module);
  bindings::register_scales(module);
  bindings::register_temper(module);
  bindings::register_plan(module);
}
