#pragma once
// One registration function a room, each in its own file.
#include <pybind11/pybind11.h>

namespace bindings {

void register_ground(pybind11::module_& module);
void register_published(pybind11::module_& module);
void register_scales(pybind11::module_& module);
void register_temper(pybind11::module_& module);
void register_critical(pybind11::module_& module);
void register_plan(pybind11::module_& module);
void register_steel_state(pybind11::module_& module);
void register_martensite(pybind11::module_& module);
void register_conduction(pybind11::module_& module);
void register_conduction_closed(pybind11::module_& module);
void register_thermal(pybind11::module_& module);
void register_furnace(pybind11::module_& module);
void register_heating(pybind11::module_& module);
void register_heat_up(pybind11::module_& module);
void register_arrest(pybind11::module_& module);
void register_austenite(pybind11::module_& module);

}  // namespace bindings
