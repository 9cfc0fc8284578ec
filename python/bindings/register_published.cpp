#include <pybind11/stl.h>

#include "composition_type.hpp"
#include "decalesce/published/catalogue.hpp"
#include "estimate_type.hpp"
#include "kernel_choice.hpp"
#include "register.hpp"
#include "result_block.hpp"

namespace bindings {

using namespace decalesce;

namespace {

constexpr std::array<const char*, 6> needs_names{"composition", "thickness_mm", "grain_um",
                                                 "Ms",          "Bs",           "Ms and rate_per_K"};

std::size_t number_of(std::string_view id) {
  const auto number = published::find(id);
  if (!number) throw py::key_error("published: no formula '" + std::string(id) + "'; published.formulas() lists them");
  return *number;
}

py::dict describe(const published::FormulaRecord& r) {
  py::dict d;
  d["id"] = std::string(r.id);
  d["quantity"] = std::string(published::quantity_names[static_cast<std::size_t>(r.quantity)]);
  d["citation"] = std::string(tables::citation_key(r.citation));
  d["lineage"] = std::string(published::lineage_names[static_cast<std::size_t>(r.lineage)]);
  d["unit"] = std::string(unit_names[static_cast<std::size_t>(r.unit)]);
  d["status"] = std::string(published::status_names[static_cast<std::size_t>(r.status)]);
  d["needs"] = needs_names[static_cast<std::size_t>(r.needs)];
  d["standard_error_K"] = r.standard_error_K;
  d["range_known"] = r.ranges.known;
  d["range_from_memory"] = r.ranges.from_memory;
  py::dict ranges;
  for (std::size_t k = 0; k < r.ranges.count; ++k)
    ranges[py::str(std::string(symbol(r.ranges.range[k].element)))] =
        py::make_tuple(r.ranges.range[k].minimum, r.ranges.range[k].maximum);
  d["ranges"] = ranges;
  d["note"] = std::string(r.note);
  return d;
}

Given<double> given_from(double thickness_mm, double grain_um, double Ms, double Bs, double rate_per_K) {
  return {thickness_mm, grain_um, Ms, Bs, rate_per_K};
}

void fill_given(kernels::Inputs& in, const Given<double>& g) {
  const double values[] = {g.thickness_mm, g.grain_um, g.Ms, g.Bs, g.rate_per_K};
  for (int k = 0; k < kernels::columns_given; ++k) in.given[k] = {nullptr, values[k]};
}

py::object values(std::string_view id, const PyComposition& w, const Given<double>& given, std::string_view kernel) {
  const std::size_t number = number_of(id);
  if (w.is_one()) return py::float_(published::value(number, w.one.amount, given));
  Doubles out = ResultBlock(w.columns->shape, 1).column<double>();
  kernels::Inputs in{};
  w.fill(in);
  fill_given(in, given);
  const kernels::Table& table = kernel_named(kernel);
  double* to = out.mutable_data();
  {
    const py::gil_scoped_release free;
    table.evaluate_one[number](in, to);
  }
  return out;
}

py::object flags(std::string_view id, const PyComposition& w, const Given<double>& given) {
  const std::size_t number = number_of(id);
  if (w.is_one()) return py::int_(published::evaluate(number, w.one.amount, given).flags.bits());
  FlagBits out(w.columns->shape);
  for (std::size_t i = 0; i < w.rows(); ++i)
    out.mutable_data()[i] = published::evaluate(number, w.row(i).amount, given).flags.bits();
  return out;
}

py::dict ms_columns(const PyComposition& w, double grain_um, const std::string& kernel) {
  constexpr std::size_t count = published::MsFormulas::size;
  std::array<Doubles, count> out;
  std::array<double*, count> to{};
  const Shape shape = w.is_one() ? Shape{1} : w.columns->shape;
  ResultBlock block(shape, count);
  for (std::size_t k = 0; k < count; ++k) {
    out[k] = block.column<double>();
    to[k] = out[k].mutable_data();
  }
  kernels::Inputs in{};
  w.fill(in);
  fill_given(in, given_from(NAN, grain_um, NAN, NAN, NAN));
  const kernels::Table& table = kernel_named(kernel);
  {
    const py::gil_scoped_release free;
    table.evaluate_ms(in, to.data());
  }
  py::dict result;
  std::size_t k = 0;
  published::MsFormulas::for_each(
      [&]<class Formula>() { result[py::str(std::string(Formula::record.id))] = out[k++]; });
  return result;
}

}  // namespace

void register_published(py::module_& module) {
  module.def(
      "formulas",
      [] {
        py::list all;
        for (const auto& r : published::catalogue) all.append(describe(r));
        return all;
      },
      "Record of every formula, in the order of the catalogue.");
  // The short form first: a scalar call need not convert arguments that nobody gave.
  module.def(
      "formula_values", [](std::string_view id, const PyComposition& w) { return values(id, w, {}, "fastest"); },
      py::arg("formula"), py::arg("composition"), "Answer of one formula, degC (1/K for a rate).");
  module.def(
      "formula_values",
      [](std::string_view id, const PyComposition& w, double thickness_mm, double grain_um, double Ms, double Bs,
         double rate_per_K, std::string_view kernel) {
        return values(id, w, given_from(thickness_mm, grain_um, Ms, Bs, rate_per_K), kernel);
      },
      py::arg("formula"), py::arg("composition"), py::arg("thickness_mm") = NAN, py::arg("grain_um") = NAN,
      py::arg("Ms") = NAN, py::arg("Bs") = NAN, py::arg("rate_per_K") = NAN, py::arg("kernel") = "fastest",
      "Answer of one formula, degC (1/K for a rate).");
  module.def(
      "formula_flags",
      [](std::string_view id, const PyComposition& w, double thickness_mm, double grain_um, double Ms, double Bs,
         double rate_per_K) { return flags(id, w, given_from(thickness_mm, grain_um, Ms, Bs, rate_per_K)); },
      py::arg("formula"), py::arg("composition"), py::arg("thickness_mm") = NAN, py::arg("grain_um") = NAN,
      py::arg("Ms") = NAN, py::arg("Bs") = NAN, py::arg("rate_per_K") = NAN, "Flag bits of the same answer.");
  module.def("ms_columns", &ms_columns, py::arg("composition"), py::arg("grain_um") = NAN,
             py::arg("kernel") = "fastest", "Every Ms formula, a column each.");
  module.def(
      "kernels",
      [] {
        py::list names;
        names.append("portable");
        if (kernels::avx2() != nullptr) names.append("avx2");
        return names;
      },
      "The batch kernels this processor can run.");
}

}  // namespace bindings
