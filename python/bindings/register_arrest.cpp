#include <pybind11/numpy.h>
#include <pybind11/stl.h>

#include "decalesce/heating/arrest.hpp"
#include "estimate_type.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;

namespace {

using Readings = py::array_t<double, py::array::c_style | py::array::forcecast>;

std::span<const double> span_of(const Readings& a) { return {a.data(), static_cast<std::size_t>(a.size())}; }

const Estimate& one_answer(const PyEstimate& e, const char* name) {
  if (!e.is_one()) throw py::value_error(std::string(name) + " holds a batch of answers; expected one");
  return e.one;
}

template <class Name, std::size_t n>
py::tuple texts(const std::array<Name, n>& names) {
  py::list out;
  for (const Name& name : names) out.append(py::str(std::string(name)));
  return py::tuple(out);
}

}  // namespace

void register_arrest(py::module_& module) {
  module.def(
      "arrest_find",
      [](const Readings& times_s, const Readings& work_C, const Readings& furnace_C, bool cooling, double low_C,
         double high_C) {
        const heating::Arrest a =
            heating::find_arrest({span_of(times_s), span_of(work_C), span_of(furnace_C)},
                                 cooling ? heating::Direction::cooling : heating::Direction::heating, {low_C, high_C});
        py::dict out;
        out["finding"] = std::string(heating::finding_names[static_cast<std::size_t>(a.finding)]);
        out["start_C"] = PyEstimate(a.start_C);
        out["start_s"] = a.start_s;
        out["plateau_C"] = a.plateau_C;
        out["end_C"] = a.end_C;
        out["duration_s"] = a.duration_s;
        out["rate_before_K_s"] = a.rate_before_K_s;
        out["rate_at_K_s"] = a.rate_at_K_s;
        out["rate_after_K_s"] = a.rate_after_K_s;
        out["excess_K"] = a.excess_K;
        out["noise_K"] = a.noise_K;
        out["spacing_s"] = a.spacing_s;
        out["difference_start_K"] = a.difference_start_K;
        out["difference_least_K"] = a.difference_least_K;
        out["flag_bits"] = a.flags.bits();
        return out;
      },
      py::arg("times_s"), py::arg("work_C"), py::arg("furnace_C"), py::arg("cooling"), py::arg("low_C"),
      py::arg("high_C"), "The arrest of a trace; an empty furnace trace stands for none, NaN for the usual range.");
  module.def(
      "arrest_check_sensor",
      [](bool found, bool cooling, const PyEstimate& start, std::uint64_t flag_bits, const PyEstimate& ac1) {
        heating::Arrest arrest;
        arrest.finding = found ? heating::Finding::arrest : heating::Finding::no_arrest;
        arrest.direction = cooling ? heating::Direction::cooling : heating::Direction::heating;
        arrest.start_C = one_answer(start, "start");
        arrest.flags = Flags::from_bits(flag_bits);
        const heating::SensorCheck c = heating::check_sensor(arrest, one_answer(ac1, "ac1"));
        return py::make_tuple(std::string(heating::sensor_verdict_names[static_cast<std::size_t>(c.verdict)]),
                              PyEstimate(c.bias_K));
      },
      py::arg("found"), py::arg("cooling"), py::arg("start"), py::arg("flag_bits"), py::arg("ac1"),
      "(verdict, bias K).");
  module.attr("arrest_findings") = texts(heating::finding_names);
  module.attr("arrest_sensor_verdicts") = texts(heating::sensor_verdict_names);
}

}  // namespace bindings
