#include <pybind11/stl.h>

#include "composition_type.hpp"
#include "decalesce/laws/critical.hpp"
#include "estimate_type.hpp"
#include "kernel_choice.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;

namespace {

constexpr std::array<const char*, 6> quantity_names{"ac1", "ac3", "acm", "ms", "mf", "bs"};

/// Six answers and the family; arrays for a batch.
struct PyCritical {
  std::array<PyEstimate, 6> answer;
  py::object family;
};

/// One steel's answers are kept as computed and turned into Python estimates when asked for.
struct OneCritical {
  critical::Temperatures t;
  const Estimate& answer(std::size_t k) const {
    const Estimate* all[] = {&t.ac1, &t.ac3, &t.acm, &t.ms, &t.mf, &t.bs};
    return *all[k];
  }
};

std::string family_name(critical::Family f) { return std::string(critical::family_names[static_cast<std::size_t>(f)]); }

PyCritical batch(const PyComposition& w, bool with_parts, const std::string& kernel) {
  const critical::SourcesOfQuantities& from = critical::sources();
  const Sources sources[] = {from.ac1, from.ac3, from.acm, from.ms, from.mf, from.bs};
  PyCritical result;
  kernels::CriticalColumns to{};
  for (std::size_t q = 0; q < 6; ++q) {
    result.answer[q] = symmetric_batch_of_estimates(w.columns->shape, Unit::celsius, sources[q], with_parts);
    EstimateColumns& c = *result.answer[q].columns;
    to.value[q] = c.value.mutable_data();
    to.half_width[q] = c.half_width.mutable_data();
    to.flags[q] = c.flags.mutable_data();
    if (!with_parts) continue;
    to.formula_part[q] = c.parts[static_cast<std::size_t>(Part::formula)].mutable_data();
    to.composition_part[q] = c.parts[static_cast<std::size_t>(Part::composition)].mutable_data();
  }
  Bytes family(w.columns->shape);
  to.family = family.mutable_data();
  kernels::Inputs in{};
  kernels::Doubt doubt{};
  w.fill(in);
  w.fill(doubt);
  const kernels::Table& table = kernel_named(kernel);
  {
    const py::gil_scoped_release free;
    table.critical(in, doubt, to);
  }
  result.family = family;
  return result;
}

}  // namespace

void register_critical(py::module_& module) {
  py::class_<OneCritical> one(module, "CriticalTemperatures",
                              "Critical temperatures of one steel, degC, with 90 % prediction bands.");
  py::class_<PyCritical> many(module, "CriticalTemperaturesBatch",
                              "Critical temperatures of a batch of steels, degC, with 90 % prediction bands.");
  for (std::size_t k = 0; k < quantity_names.size(); ++k) {
    one.def_property_readonly(quantity_names[k], [k](const OneCritical& c) { return PyEstimate(c.answer(k)); });
    many.def_property_readonly(quantity_names[k], [k](const PyCritical& c) { return c.answer[k]; });
  }
  one.def_property_readonly(
      "family", [](const OneCritical& c) { return family_name(c.t.family); },
      "Family of the steel, from its composition.");
  one.def("__repr__", [](const OneCritical& c) {
    std::string text = "CriticalTemperatures(" + family_name(c.t.family);
    for (std::size_t k = 0; k < quantity_names.size(); ++k) {
      const Estimate& e = c.answer(k);
      if (std::isnan(e.value)) continue;
      text += std::string(", ") + quantity_names[k] + " " + std::to_string(static_cast<int>(std::lround(e.value))) +
              " (" + std::to_string(static_cast<int>(std::lround(e.low))) + " to " +
              std::to_string(static_cast<int>(std::lround(e.high))) + ")";
    }
    return text + ")";
  });
  many.def_property_readonly(
      "family", [](const PyCritical& c) { return c.family; },
      "Number of the family of each steel; family_names spells it out.");
  module.attr("family_names") =
      py::tuple(py::cast(std::vector<std::string>(critical::family_names.begin(), critical::family_names.end())));

  module.def(
      "critical_temperatures", [](const PyComposition& w) { return OneCritical{critical::temperatures(w.one)}; },
      py::arg("composition"), "Critical temperatures of one steel.");
  module.def("critical_batch", &batch, py::arg("composition"), py::arg("with_parts") = false,
             py::arg("kernel") = "fastest", "Critical temperatures of a batch of steels.");
  module.def(
      "critical_ms", [](const PyComposition& w) { return PyEstimate(critical::martensite_start(w.one)); },
      py::arg("composition"), "Joined Ms of one steel.");
}

}  // namespace bindings
