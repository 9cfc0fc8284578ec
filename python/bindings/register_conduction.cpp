#include <pybind11/numpy.h>
#include <pybind11/stl.h>

#include <sstream>

#include "decalesce/solvers/conduction/run.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;
namespace py = pybind11;
namespace solver = decalesce::conduction;

namespace {

using Numbers = py::array_t<double, py::array::c_style | py::array::forcecast>;

constexpr double mm = 1e-3;

std::span<const double> span_of(const Numbers& a) { return {a.data(), static_cast<std::size_t>(a.size())}; }

solver::Mesh make_mesh(const std::string& shape, double thickness_mm, double width_mm, double length_mm, double edge_mm,
                       int cells, const solver::Exposure& exposure) {
  const double thickness = thickness_mm * mm;
  const double width = width_mm * mm;
  const double length = length_mm * mm;
  if (shape == "lumped") return solver::lumped(thickness);
  if (shape == "plate") return solver::plate(thickness, cells, exposure);
  if (shape == "round") return solver::round(thickness, cells);
  if (shape == "sphere") return solver::sphere(thickness, cells);
  if (shape == "square") return solver::rectangle(thickness, thickness, cells, exposure);
  if (shape == "rectangle") return solver::rectangle(thickness, width, cells, exposure);
  if (shape == "hexagon") return solver::hexagon(thickness, cells);
  if (shape == "short_cylinder") return solver::short_cylinder(thickness, length, cells, exposure.ends);
  if (shape == "block") return solver::block(thickness, width, length, cells, exposure);
  if (shape == "wedge") return solver::wedge(thickness, edge_mm * mm, width, cells, exposure);
  throw py::value_error(
      "shape = '" + shape +
      "'; expected lumped, plate, round, sphere, square, rectangle, hexagon, short_cylinder, block or "
      "wedge");
}

/// A function of time, shape in, shape out.
template <class Function>
py::object along(const py::object& times, Function&& f) {
  const Numbers t = Numbers::ensure(times);
  if (!t) throw py::type_error("time_s: expected a number or an array of numbers, s");
  if (t.ndim() == 0) return py::float_(f(*t.data()));
  Numbers out(std::vector<py::ssize_t>(t.shape(), t.shape() + t.ndim()));
  for (py::ssize_t i = 0; i < t.size(); ++i) out.mutable_data()[i] = f(t.data()[i]);
  return out;
}

Numbers array_of(const std::vector<double>& values) {
  return Numbers(static_cast<py::ssize_t>(values.size()), values.data());
}

std::size_t point_in(const solver::Trace& trace, py::ssize_t point) {
  if (point < 0 || point >= trace.mesh().points())
    throw py::index_error("point = " + std::to_string(point) + "; expected 0 to " +
                          std::to_string(trace.mesh().points() - 1));
  return static_cast<std::size_t>(point);
}

void register_material(py::module_& module) {
  py::class_<solver::Material>(module, "Material", "Thermal properties as the solver takes them.")
      .def(py::init([](const Numbers& temperature_C, const Numbers& enthalpy_J_kg, const Numbers& conductivity_W_mK,
                       double density_kg_m3) {
             return solver::Material(span_of(temperature_C), span_of(enthalpy_J_kg), span_of(conductivity_W_mK),
                                     density_kg_m3);
           }),
           py::arg("temperature_C"), py::arg("enthalpy_J_kg"), py::arg("conductivity_W_mK"), py::arg("density_kg_m3"),
           "From tables against increasing temperature; beyond their ends the end slopes go on.")
      .def_static("constant", &solver::Material::constant, py::arg("conductivity_W_mK"), py::arg("heat_capacity_J_kgK"),
                  py::arg("density_kg_m3"), "Constant properties.")
      .def_property_readonly("density_kg_m3", &solver::Material::density_kg_m3)
      .def_property_readonly("coolest_C", &solver::Material::coolest_C)
      .def_property_readonly("hottest_C", &solver::Material::hottest_C)
      .def(
          "conductivity_W_mK",
          [](const solver::Material& m, const py::object& t) {
            return along(t, [&](double c) { return m.conductivity_W_mK(c); });
          },
          py::arg("temperature_C"))
      .def(
          "enthalpy_J_kg",
          [](const solver::Material& m, const py::object& t) {
            return along(t, [&](double c) { return m.enthalpy_J_m3(c) / m.density_kg_m3(); });
          },
          py::arg("temperature_C"))
      .def("__repr__", [](const solver::Material& m) {
        std::ostringstream out;
        out << "Material(" << m.coolest_C() << " to " << m.hottest_C() << " degC, " << m.density_kg_m3() << " kg/m3)";
        return out.str();
      });
}

void register_mesh(py::module_& module) {
  py::class_<solver::Mesh>(module, "Mesh", "A body cut into control volumes.")
      .def(py::init([](const std::string& shape, double thickness_mm, double width_mm, double length_mm, double edge_mm,
                       int cells, double above, double below, double sides, double ends) {
             return make_mesh(shape, thickness_mm, width_mm, length_mm, edge_mm, cells, {above, below, sides, ends});
           }),
           py::arg("shape"), py::arg("thickness_mm"), py::arg("width_mm") = 0.0, py::arg("length_mm") = 0.0,
           py::arg("edge_mm") = 0.0, py::arg("cells") = 40, py::kw_only(), py::arg("above") = 1.0,
           py::arg("below") = 1.0, py::arg("sides") = 1.0, py::arg("ends") = 1.0)
      .def_static(
          "of",
          [](const Section& section, int cells, double above, double below, double sides, double ends) {
            return solver::mesh_of(section, cells > 0 ? cells : solver::usual_cells(section),
                                   {above, below, sides, ends});
          },
          py::arg("section"), py::arg("cells") = 0, py::kw_only(), py::arg("above") = 1.0, py::arg("below") = 1.0,
          py::arg("sides") = 1.0, py::arg("ends") = 1.0)
      .def_property_readonly("points", &solver::Mesh::points)
      .def_property_readonly("centre", [](const solver::Mesh& m) { return m.centre; })
      .def_property_readonly("surface", [](const solver::Mesh& m) { return m.surface; })
      .def_property_readonly("half_thickness_mm", [](const solver::Mesh& m) { return m.half_thickness / mm; })
      .def_property_readonly("volume_to_surface_mm",
                             [](const solver::Mesh& m) { return m.total_volume() / m.total_area() / mm; })
      .def_property_readonly("position_mm",
                             [](const solver::Mesh& m) {
                               Numbers out({m.points(), m.directions});
                               for (std::size_t i = 0; i < m.position.size(); ++i)
                                 out.mutable_data()[i] = m.position[i] / mm;
                               return out;
                             })
      .def("__repr__", [](const solver::Mesh& m) {
        std::ostringstream out;
        out << "Mesh(" << m.points() << " points, " << m.directions << " directions)";
        return out.str();
      });
}

void register_trace(py::module_& module) {
  py::class_<solver::Trace>(module, "Trace", "Temperatures of a body along time.")
      .def_property_readonly("times_s", [](const solver::Trace& t) { return array_of(t.times_s()); })
      .def_property_readonly("end_s", &solver::Trace::end_s)
      .def_property_readonly("mesh", &solver::Trace::mesh)
      .def_property_readonly("material", &solver::Trace::material)
      .def_property_readonly("steps", &solver::Trace::steps)
      .def_property_readonly("rejected", &solver::Trace::rejected)
      .def(
          "temperature_C",
          [](const solver::Trace& t, const py::object& time, py::ssize_t point) {
            const std::size_t at = point_in(t, point);
            return along(time, [&](double s) { return t.temperature_C(at, s); });
          },
          py::arg("time_s"), py::arg("point"))
      .def(
          "centre_C",
          [](const solver::Trace& t, const py::object& time) {
            return along(time, [&](double s) { return t.centre_C(s); });
          },
          py::arg("time_s"))
      .def(
          "surface_C",
          [](const solver::Trace& t, const py::object& time) {
            return along(time, [&](double s) { return t.surface_C(s); });
          },
          py::arg("time_s"))
      .def(
          "mean_C",
          [](const solver::Trace& t, const py::object& time) {
            return along(time, [&](double s) { return t.mean_C(s); });
          },
          py::arg("time_s"))
      .def(
          "coolest_C",
          [](const solver::Trace& t, const py::object& time) {
            return along(time, [&](double s) { return t.coolest_C(s); });
          },
          py::arg("time_s"))
      .def(
          "hottest_C",
          [](const solver::Trace& t, const py::object& time) {
            return along(time, [&](double s) { return t.hottest_C(s); });
          },
          py::arg("time_s"))
      .def(
          "field_C",
          [](const solver::Trace& t, double time_s) {
            Numbers out(t.mesh().points());
            for (py::ssize_t i = 0; i < t.mesh().points(); ++i)
              out.mutable_data()[i] = t.temperature_C(static_cast<std::size_t>(i), time_s);
            return out;
          },
          py::arg("time_s"))
      .def(
          "time_to_s",
          [](const solver::Trace& t, double temperature_C, py::ssize_t point) {
            return t.time_to(point_in(t, point), temperature_C);
          },
          py::arg("temperature_C"), py::arg("point"))
      .def("time_within_s", &solver::Trace::time_within, py::arg("temperature_C"), py::arg("within_K"))
      .def("largest_difference",
           [](const solver::Trace& t) {
             const auto d = t.largest_difference();
             return py::make_tuple(d.kelvin, d.time_s);
           })
      .def_property_readonly("heat_in_J", &solver::Trace::heat_in_J)
      .def_property_readonly("enthalpy_gained_J", &solver::Trace::enthalpy_gained_J)
      .def("__repr__", [](const solver::Trace& t) {
        std::ostringstream out;
        out << "Trace(" << t.mesh().points() << " points, " << t.steps() << " steps to " << t.end_s() << " s)";
        return out.str();
      });
}

}  // namespace

void register_conduction(py::module_& module) {
  register_material(module);
  register_mesh(module);
  register_trace(module);
  module.def(
      "conduction_heat",
      [](const solver::Material& material, const solver::Mesh& mesh, const History& temperature, double film_W_m2K,
         double emissivity, double start_C, double tolerance_K) {
        return solver::heat(material, mesh, start_C, {temperature, film_W_m2K, emissivity}, tolerance_K);
      },
      py::arg("material"), py::arg("mesh"), py::arg("temperature"), py::arg("film_W_m2K"), py::arg("emissivity"),
      py::arg("start_C"), py::arg("tolerance_K"), py::call_guard<py::gil_scoped_release>());
  module.def(
      "conduction_go_on",
      [](const solver::Trace& before, const solver::Material& material, const History& temperature, double film_W_m2K,
         double emissivity, double tolerance_K) {
        // the enthalpy of one material is not that of another: the temperature is what goes on
        std::vector<double> start = before.last_enthalpy_J_m3();
        for (double& h : start) h = material.enthalpy_J_m3(before.material().temperature_C(h));
        return solver::heat(material, before.mesh(), start, {temperature, film_W_m2K, emissivity}, tolerance_K);
      },
      py::arg("before"), py::arg("material"), py::arg("temperature"), py::arg("film_W_m2K"), py::arg("emissivity"),
      py::arg("tolerance_K"), py::call_guard<py::gil_scoped_release>());
  module.def(
      "conduction_heat_batch",
      [](const std::vector<const solver::Material*>& materials, const std::vector<const solver::Mesh*>& meshes,
         const std::vector<const History*>& temperatures, const Numbers& film_W_m2K, const Numbers& emissivity,
         const Numbers& start_C, double within_K, double tolerance_K, bool stop_within) {
        const std::size_t rows = meshes.size();
        std::vector<solver::Surroundings> surroundings;
        surroundings.reserve(rows);
        std::vector<solver::Body> bodies(rows);
        const History none({0.0, 1.0}, {0.0, 0.0});  // stands where there is no history
        for (std::size_t i = 0; i < rows; ++i) {
          surroundings.push_back(
              {temperatures[i] == nullptr ? none : *temperatures[i], film_W_m2K.data()[i], emissivity.data()[i]});
          bodies[i] = {materials[i], meshes[i], temperatures[i] == nullptr ? nullptr : &surroundings[i],
                       start_C.data()[i]};
        }
        std::vector<solver::Summary> found;
        {
          const py::gil_scoped_release others_may_run;
          found = solver::heat_batch(bodies, within_K, tolerance_K, stop_within);
        }
        const auto column = [&](double solver::Summary::*member) {
          Numbers out(static_cast<py::ssize_t>(rows));
          for (std::size_t i = 0; i < rows; ++i) out.mutable_data()[i] = found[i].*member;
          return out;
        };
        py::dict out;
        out["time_within_s"] = column(&solver::Summary::time_within_s);
        out["largest_difference_K"] = column(&solver::Summary::largest_difference_K);
        out["difference_time_s"] = column(&solver::Summary::difference_time_s);
        out["surface_C"] = column(&solver::Summary::surface_C);
        out["centre_C"] = column(&solver::Summary::centre_C);
        out["heat_in_J"] = column(&solver::Summary::heat_in_J);
        py::array_t<std::uint64_t> flags(static_cast<py::ssize_t>(rows));
        for (std::size_t i = 0; i < rows; ++i) flags.mutable_data()[i] = found[i].flags.bits();
        out["flags"] = flags;
        return out;
      },
      py::arg("materials"), py::arg("meshes"), py::arg("temperatures"), py::arg("film_W_m2K"), py::arg("emissivity"),
      py::arg("start_C"), py::arg("within_K"), py::arg("tolerance_K"), py::arg("stop_within"));
}

}  // namespace bindings
