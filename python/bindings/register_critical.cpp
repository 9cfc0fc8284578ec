#include <pybind11/stl.h>

#include <algorithm>
#include <sstream>

#include "composition_type.hpp"
#include "decalesce/laws/critical.hpp"
#include "estimate_type.hpp"
#include "kernel_choice.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;

namespace {

constexpr int pickle_version = 1;
constexpr std::array<const char*, 6> quantity_names{"ac1", "ac3", "acm", "ms", "mf", "bs"};

/// Six answers and the family of a batch.
struct PyCritical {
  std::array<PyEstimate, 6> answer;
  Bytes family;
  const PyEstimate& estimate(std::size_t k) const { return answer[k]; }
};

/// One steel's answers are kept as computed and turned into Python estimates when asked for.
struct OneCritical {
  critical::Temperatures t;
  const Estimate& answer(std::size_t k) const {
    const Estimate* all[] = {&t.ac1, &t.ac3, &t.acm, &t.ms, &t.mf, &t.bs};
    return *all[k];
  }
  PyEstimate estimate(std::size_t k) const { return answer(k); }
};

std::string family_name(critical::Family f) { return std::string(critical::family_names[static_cast<std::size_t>(f)]); }

critical::Family family_named(const std::string& name) {
  for (std::size_t k = 0; k < critical::family_names.size(); ++k)
    if (critical::family_names[k] == name) return static_cast<critical::Family>(k);
  throw py::value_error("CriticalTemperatures: family '" + name + "' is not one of this library's families");
}

template <class Critical>
py::tuple estimates_of(const Critical& c) {
  py::list all;
  for (std::size_t k = 0; k < quantity_names.size(); ++k) all.append(c.estimate(k));
  return py::tuple(all);
}

/// State of a pickle: version, the six estimates, the family.
template <class Critical>
py::tuple freeze(const Critical& c, const py::object& family) {
  return py::make_tuple(pickle_version, estimates_of(c), family);
}

py::tuple thawed_estimates(const py::tuple& state) {
  if (state.size() != 3 || py::cast<int>(state[0]) != pickle_version)
    throw py::value_error("CriticalTemperatures: this pickle was written by another version; compute it again");
  return state[1];
}

OneCritical thaw_one(const py::tuple& state) {
  const py::tuple estimates = thawed_estimates(state);
  OneCritical c;
  Estimate* to[] = {&c.t.ac1, &c.t.ac3, &c.t.acm, &c.t.ms, &c.t.mf, &c.t.bs};
  for (std::size_t k = 0; k < quantity_names.size(); ++k) *to[k] = py::cast<const PyEstimate&>(estimates[k]).one;
  c.t.family = family_named(py::cast<std::string>(state[2]));
  return c;
}

PyCritical thaw_many(const py::tuple& state) {
  const py::tuple estimates = thawed_estimates(state);
  PyCritical c;
  for (std::size_t k = 0; k < quantity_names.size(); ++k) c.answer[k] = py::cast<const PyEstimate&>(estimates[k]);
  c.family = Bytes::ensure(state[2]);
  return c;
}

bool same_family(const Bytes& a, const Bytes& b) {
  return a.ndim() == b.ndim() && std::equal(a.shape(), a.shape() + a.ndim(), b.shape()) &&
         std::equal(a.data(), a.data() + a.size(), b.data());
}

/// Bits of a family column are shared with Python: nobody may write to them.
py::object read_only(const Bytes& column) {
  column.attr("setflags")(py::arg("write") = false);
  return column;
}

std::string print(const OneCritical& c) {
  std::ostringstream text;
  text << "CriticalTemperatures(" << family_name(c.t.family);
  for (std::size_t k = 0; k < quantity_names.size(); ++k) {
    const Estimate& e = c.answer(k);
    if (std::isnan(e.value)) continue;
    text << ", " << quantity_names[k] << ' ' << std::lround(e.value) << " (" << std::lround(e.low) << " to "
         << std::lround(e.high) << ')';
  }
  text << ')';
  return text.str();
}

/// How many steels, and how many of them each quantity answers.
std::string print(const PyCritical& c) {
  std::ostringstream text;
  text << "CriticalTemperaturesBatch(" << c.family.size() << (c.family.size() == 1 ? " steel" : " steels");
  const char* lead = "; answered: ";
  for (std::size_t k = 0; k < quantity_names.size(); ++k) {
    const Doubles& value = c.answer[k].columns->value;
    const auto answered = std::count_if(value.data(), value.data() + value.size(), [](double v) { return v == v; });
    text << lead << quantity_names[k] << ' ' << answered;
    lead = ", ";
  }
  text << ')';
  return text.str();
}

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
  result.family = std::move(family);
  return result;
}

}  // namespace

void register_critical(py::module_& module) {
  py::class_<OneCritical> one(module, "CriticalTemperatures",
                              "Critical temperatures of one steel, degC, with 90 % prediction bands.");
  py::class_<PyCritical> many(module, "CriticalTemperaturesBatch",
                              "Critical temperatures of a batch of steels, degC, with 90 % prediction bands.");
  for (std::size_t k = 0; k < quantity_names.size(); ++k) {
    one.def_property_readonly(quantity_names[k], [k](const OneCritical& c) { return c.estimate(k); });
    many.def_property_readonly(quantity_names[k], [k](const PyCritical& c) { return c.answer[k]; });
  }
  one.def_property_readonly(
         "family", [](const OneCritical& c) { return family_name(c.t.family); },
         "Family of the steel, from its composition.")
      .def("__eq__",
           [](const OneCritical& a, const py::object& b) {
             if (!py::isinstance<OneCritical>(b)) return false;
             const OneCritical& other = py::cast<const OneCritical&>(b);
             return a.t.family == other.t.family && estimates_of(a).equal(estimates_of(other));
           })
      .def("__hash__", [](const OneCritical& c) { return py::hash(estimates_of(c)); })
      .def("__repr__", [](const OneCritical& c) { return print(c); })
      .def(py::pickle([](const OneCritical& c) { return freeze(c, py::str(family_name(c.t.family))); }, &thaw_one));
  many.def_property_readonly(
          "family", [](const PyCritical& c) { return read_only(c.family); },
          "Number of the family of each steel; family_names spells it out.")
      .def("__eq__",
           [](const PyCritical& a, const py::object& b) {
             if (!py::isinstance<PyCritical>(b)) return false;
             const PyCritical& other = py::cast<const PyCritical&>(b);
             return same_family(a.family, other.family) && estimates_of(a).equal(estimates_of(other));
           })
      .def("__hash__",
           [](const PyCritical&) -> py::ssize_t {
             throw py::type_error("CriticalTemperaturesBatch: a batch cannot be hashed");
           })
      .def("__repr__", [](const PyCritical& c) { return print(c); })
      .def(py::pickle([](const PyCritical& c) { return freeze(c, c.family); }, &thaw_many));
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
