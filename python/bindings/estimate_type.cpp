#include "estimate_type.hpp"

#include <pybind11/stl.h>

#include <cmath>
#include <iomanip>
#include <sstream>

#include "result_block.hpp"

namespace bindings {

using namespace decalesce;

namespace {

constexpr int pickle_version = 1;

py::tuple names(Flags flags) {
  py::list out;
  for (const FlagText& t : flag_texts)
    if (flags.has(t.flag)) out.append(py::str(std::string(t.id)));
  return py::tuple(out);
}

py::dict sentences(Flags flags) {
  py::dict out;
  for (const FlagText& t : flag_texts)
    if (flags.has(t.flag)) out[py::str(std::string(t.id))] = py::str(std::string(t.sentence));
  return out;
}

Flag flag_named(const std::string& id) {
  for (const FlagText& t : flag_texts)
    if (t.id == id) return t.flag;
  throw py::value_error("flag '" + id + "' is not one of this library's flags");
}

py::tuple keys(const Sources& sources) {
  py::list out;
  for (std::size_t k = 0; k < tables::citation_entries.size(); ++k)
    if (sources.has(static_cast<Citation>(k))) out.append(py::str(std::string(tables::citation_entries[k].key)));
  return py::tuple(out);
}

Sources sources_from(const py::iterable& wanted) {
  Sources s;
  for (const auto& key : wanted)
    for (std::size_t k = 0; k < tables::citation_entries.size(); ++k)
      if (tables::citation_entries[k].key == py::cast<std::string>(key)) s.add(static_cast<Citation>(k));
  return s;
}

Unit unit_named(const std::string& name) {
  for (std::size_t k = 0; k < unit_names.size(); ++k)
    if (unit_names[k] == name) return static_cast<Unit>(k);
  throw py::value_error("Estimate: unit '" + name + "' is not one of this library's units");
}

std::string print(const PyEstimate& e) {
  std::ostringstream out;
  const std::string unit(unit_names[static_cast<std::size_t>(e.one.unit)]);
  if (!e.is_one()) {
    out << "Estimate(" << e.columns->value.size() << " values, " << unit << ")";
    return out.str();
  }
  out << std::setprecision(4) << "Estimate(";
  // the sign of a NaN says nothing
  if (std::isnan(e.one.value))
    out << "nan";
  else
    out << e.one.value;
  out << (unit.empty() ? "" : " ") << unit;
  if (!std::isnan(e.one.value)) out << ", " << e.one.low << " to " << e.one.high;
  for (const FlagText& t : flag_texts)
    if (e.one.flags.has(t.flag)) out << ", " << t.id;
  out << ")";
  return out.str();
}

py::object part_of(const PyEstimate& e, std::size_t k) {
  if (e.is_one()) return py::float_(e.one.parts[k]);
  return e.columns->parts[k];
}

py::dict parts_of(const PyEstimate& e) {
  py::dict out;
  if (!e.is_one() && !e.columns->has_parts) return out;
  for (std::size_t k = 0; k < part_count; ++k) out[py::str(std::string(part_names[k]))] = part_of(e, k);
  return out;
}

void read_only(py::array& a) { a.attr("setflags")(py::arg("write") = false); }

template <class Array>
py::object column(Array a) {
  read_only(a);
  return a;
}

bool equal_numbers(double a, double b) { return a == b || (std::isnan(a) && std::isnan(b)); }

bool same(const PyEstimate& a, const PyEstimate& b) {
  if (a.is_one() != b.is_one() || a.one.unit != b.one.unit) return false;
  if (a.is_one())
    return equal_numbers(a.one.value, b.one.value) && equal_numbers(a.one.low, b.one.low) &&
           equal_numbers(a.one.high, b.one.high) && a.one.flags == b.one.flags;
  if (a.columns->value.size() != b.columns->value.size()) return false;
  a.columns->open_band();
  b.columns->open_band();
  for (py::ssize_t i = 0; i < a.columns->value.size(); ++i)
    if (!equal_numbers(a.columns->value.data()[i], b.columns->value.data()[i]) ||
        !equal_numbers(a.columns->low.data()[i], b.columns->low.data()[i]) ||
        !equal_numbers(a.columns->high.data()[i], b.columns->high.data()[i]) ||
        a.columns->flags.data()[i] != b.columns->flags.data()[i])
      return false;
  return true;
}

py::tuple freeze(const PyEstimate& e) {
  py::object value = py::float_(e.one.value);
  py::object low = py::float_(e.one.low);
  py::object high = py::float_(e.one.high);
  py::object flags = py::int_(e.one.flags.bits());
  if (!e.is_one()) {
    e.columns->open_band();
    value = e.columns->value;
    low = e.columns->low;
    high = e.columns->high;
    flags = e.columns->flags;
  }
  return py::make_tuple(pickle_version, value, low, high, flags,
                        std::string(unit_names[static_cast<std::size_t>(e.one.unit)]), keys(e.one.sources),
                        parts_of(e));
}

PyEstimate thaw(const py::tuple& state) {
  if (state.size() != 8 || py::cast<int>(state[0]) != pickle_version)
    throw py::value_error("Estimate: this pickle was written by another version; compute it again");
  PyEstimate e;
  e.one.unit = unit_named(py::cast<std::string>(state[5]));
  e.one.sources = sources_from(py::cast<py::tuple>(state[6]));
  const py::dict parts = state[7];
  if (py::isinstance<py::float_>(state[1])) {
    e.one.value = py::cast<double>(state[1]);
    e.one.low = py::cast<double>(state[2]);
    e.one.high = py::cast<double>(state[3]);
    e.one.flags = Flags::from_bits(py::cast<std::uint64_t>(state[4]));
    for (std::size_t k = 0; k < part_count; ++k)
      e.one.parts[k] = py::cast<double>(parts[py::str(std::string(part_names[k]))]);
    return e;
  }
  e.columns = std::make_shared<EstimateColumns>(Shape{0});
  e.columns->value = Doubles::ensure(state[1]);
  e.columns->low = Doubles::ensure(state[2]);
  e.columns->high = Doubles::ensure(state[3]);
  e.columns->flags = FlagBits::ensure(state[4]);
  e.columns->has_parts = parts.size() > 0;
  if (e.columns->has_parts)
    for (std::size_t k = 0; k < part_count; ++k)
      e.columns->parts[k] = Doubles::ensure(parts[py::str(std::string(part_names[k]))]);
  return e;
}

}  // namespace

py::object for_hash(double number) { return std::isnan(number) ? py::object(py::none()) : py::float_(number); }

EstimateColumns::EstimateColumns(const Shape& shape, bool with_parts)
    : value(shape), low(shape), high(shape), flags(shape), has_parts(with_parts) {
  if (with_parts)
    for (Doubles& p : parts) p = Doubles(shape);
}

EstimateColumns EstimateColumns::symmetric(const Shape& shape, bool with_parts) {
  EstimateColumns c;
  ResultBlock block(shape, 3);
  c.value = block.column<double>();
  c.half_width = block.column<double>();
  c.flags = block.column<std::uint64_t>();
  c.closed = true;
  c.has_parts = with_parts;
  if (with_parts)
    for (Doubles& p : c.parts) {
      p = Doubles(shape);
      std::fill_n(p.mutable_data(), p.size(), 0.0);
    }
  return c;
}

void EstimateColumns::open_band() {
  if (!closed) return;
  const Shape shape(value.shape(), value.shape() + value.ndim());
  low = Doubles(shape);
  high = Doubles(shape);
  const double* middle = value.data();
  const double* half = half_width.data();
  double* below = low.mutable_data();
  double* above = high.mutable_data();
  for (py::ssize_t i = 0; i < value.size(); ++i) {
    below[i] = middle[i] - half[i];
    above[i] = middle[i] + half[i];
  }
  closed = false;
}

PyEstimate symmetric_batch_of_estimates(const Shape& shape, Unit unit, const Sources& sources, bool with_parts) {
  PyEstimate e;
  e.one.unit = unit;
  e.one.sources = sources;
  e.columns = std::make_shared<EstimateColumns>(EstimateColumns::symmetric(shape, with_parts));
  return e;
}

PyEstimate batch_of_estimates(const Shape& shape, Unit unit, const Sources& sources, bool with_parts) {
  PyEstimate e;
  e.one.unit = unit;
  e.one.sources = sources;
  e.columns = std::make_shared<EstimateColumns>(shape, with_parts);
  return e;
}

void set_row(PyEstimate& batch, std::size_t i, const Estimate& e) {
  EstimateColumns& to = *batch.columns;
  to.value.mutable_data()[i] = e.value;
  to.low.mutable_data()[i] = e.low;
  to.high.mutable_data()[i] = e.high;
  to.flags.mutable_data()[i] = e.flags.bits();
  if (!to.has_parts) return;
  for (std::size_t k = 0; k < part_count; ++k) to.parts[k].mutable_data()[i] = e.parts[k];
}

void register_estimate(py::module_& module) {
  py::class_<PyEstimate>(module, "Estimate",
                         R"(A number with its band, or equal-shaped arrays of them.

`value`, `low`, `high` in `unit`; the band is a 90 % prediction band: it should hold nine of ten measurements on bars
described as this one is. `flags` says what the answer has to say about itself, `parts` where the half-width comes from,
`sources` which published sources it rests on (keys of the bibliography). There is no arithmetic on estimates: errors
between stages are correlated; only the plan joins them.)")
      .def_property_readonly(
          "value",
          [](const PyEstimate& e) -> py::object {
            return e.is_one() ? py::object(py::float_(e.one.value)) : column(e.columns->value);
          },
          "The value; NaN where there is none.")
      .def_property_readonly(
          "low",
          [](const PyEstimate& e) -> py::object {
            if (e.is_one()) return py::float_(e.one.low);
            e.columns->open_band();
            return column(e.columns->low);
          },
          "Lower end of the band.")
      .def_property_readonly(
          "high",
          [](const PyEstimate& e) -> py::object {
            if (e.is_one()) return py::float_(e.one.high);
            e.columns->open_band();
            return column(e.columns->high);
          },
          "Upper end of the band.")
      .def_property_readonly(
          "unit", [](const PyEstimate& e) { return std::string(unit_names[static_cast<std::size_t>(e.one.unit)]); },
          "Unit of value, low, high and parts.")
      .def_property_readonly(
          "flags",
          [](const PyEstimate& e) -> py::object {
            return e.is_one() ? py::object(names(e.one.flags)) : column(e.columns->flags);
          },
          "Flag ids of one answer; for a batch the bits, which `decalesce.flags.names` spells out.")
      .def_property_readonly(
          "level",
          [](const PyEstimate& e) {
            Flags all = e.one.flags;
            if (!e.is_one())
              for (py::ssize_t i = 0; i < e.columns->flags.size(); ++i)
                all |= Flags::from_bits(e.columns->flags.data()[i]);
            return std::string(level_names[static_cast<std::size_t>(all.level())]);
          },
          "The gravest level among the flags: note, caution or stop.")
      .def(
          "flagged",
          [](const PyEstimate& e, const std::string& id) -> py::object {
            const Flag f = flag_named(id);
            if (e.is_one()) return py::bool_(e.one.flags.has(f));
            py::array_t<bool> out(Shape(e.columns->flags.shape(), e.columns->flags.shape() + e.columns->flags.ndim()));
            for (py::ssize_t i = 0; i < out.size(); ++i)
              out.mutable_data()[i] = Flags::from_bits(e.columns->flags.data()[i]).has(f);
            return out;
          },
          py::arg("flag"), "Whether the answer (each answer of a batch) carries the flag.")
      .def_property_readonly(
          "parts", parts_of,
          "Half-widths from formula, composition, temperature, time and table; {} in a batch made without them.")
      .def_property_readonly(
          "sources", [](const PyEstimate& e) { return keys(e.one.sources); }, "Keys of the bibliography.")
      .def("__float__",
           [](const PyEstimate& e) {
             if (!e.is_one()) throw py::type_error("Estimate: a batch is not one number; use .value");
             return e.one.value;
           })
      .def("__eq__",
           [](const PyEstimate& a, const py::object& b) {
             return py::isinstance<PyEstimate>(b) && same(a, py::cast<const PyEstimate&>(b));
           })
      .def("__hash__",
           [](const PyEstimate& e) {
             if (!e.is_one()) throw py::type_error("Estimate: a batch cannot be hashed");
             return py::hash(
                 py::make_tuple(for_hash(e.one.value), for_hash(e.one.low), for_hash(e.one.high), e.one.flags.bits()));
           })
      .def("__repr__", print)
      .def(py::pickle(&freeze, &thaw));

  module.def(
      "flag_names", [](std::uint64_t bits) { return names(Flags::from_bits(bits)); }, py::arg("bits"),
      "Ids of the flags in a set of bits.");
  module.def(
      "flag_sentences", [](std::uint64_t bits) { return sentences(Flags::from_bits(bits)); }, py::arg("bits"),
      "Sentence of each flag in a set of bits.");
  module.def(
      "flag_level",
      [](std::uint64_t bits) {
        return std::string(level_names[static_cast<std::size_t>(Flags::from_bits(bits).level())]);
      },
      py::arg("bits"), "Gravest level in a set of bits.");
  module.def(
      "flag_bit", [](const std::string& id) { return Flags::bit(flag_named(id)); }, py::arg("flag"),
      "The bit of a flag.");
  module.def(
      "flag_table",
      [] {
        py::list rows;
        for (const FlagText& t : flag_texts)
          rows.append(py::make_tuple(std::string(t.id), std::string(level_names[static_cast<std::size_t>(t.level)]),
                                     std::string(t.sentence)));
        return rows;
      },
      "Every flag with its level and sentence.");
}

}  // namespace bindings
