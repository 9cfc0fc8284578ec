// Reads a composition from Python arguments; every refusal names the argument, the value and what was expected.
#include <pybind11/stl.h>

#include <cmath>
#include <sstream>

#include "composition_type.hpp"

namespace bindings {

using namespace decalesce;

bool is_number(const py::handle& value) {
  return PyFloat_Check(value.ptr()) || (PyLong_Check(value.ptr()) && !PyBool_Check(value.ptr()));
}

namespace {

[[noreturn]] void refuse(std::string_view what, std::string_view expected) {
  throw py::value_error("Composition: " + std::string(what) + "; expected " + std::string(expected));
}

std::size_t element_number(const std::string& symbol_text, const char* argument) {
  for (std::size_t k = 0; k < element_count; ++k)
    if (element_symbols[k] == symbol_text) return k;
  throw py::type_error(
      "Composition: " + std::string(argument) + " '" + symbol_text +
      "' is not an element this library reads; expected one of C Mn Si Cr Ni Mo V W Cu Co Al Nb Ti N B P S As Sn");
}

/// A dict by element, or nothing.
template <class Visit>
void for_each_entry(const char* argument, const py::object& given, Visit&& visit) {
  if (given.is_none()) return;
  if (!py::isinstance<py::dict>(given))
    throw py::type_error("Composition: " + std::string(argument) + " = " + shown(given) +
                         "; expected a dict by element, such as {'C': ...}");
  for (const auto& [key, value] : py::reinterpret_borrow<py::dict>(given)) {
    const auto symbol = py::isinstance<py::str>(key) ? py::cast<std::string>(key) : shown(key);
    visit(element_number(symbol, argument), value);
  }
}

Stated stated_from(const py::handle& text) {
  const auto name = py::cast<std::string>(text);
  for (std::size_t k = 0; k < stated_names.size(); ++k)
    if (stated_names[k] == name) return static_cast<Stated>(k);
  refuse("status '" + name + "'", "measured, below_limit, filled or not_stated");
}

/// A float array of the values, or an error that names the argument.
Doubles as_doubles(const std::string& argument, const py::handle& value) {
  if (py::isinstance<py::str>(value) || PyBool_Check(value.ptr()))
    throw py::type_error("Composition: " + argument + " = " + shown(value) +
                         "; expected a number in wt %, an array of them, or None for not stated");
  py::array any = py::array::ensure(value);
  if (!any || (any.dtype().kind() != 'f' && any.dtype().kind() != 'i' && any.dtype().kind() != 'u')) {
    PyErr_Clear();
    throw py::type_error("Composition: " + argument + " = " + shown(value) +
                         "; expected a number in wt %, an array of them, or None for not stated");
  }
  return Doubles::ensure(any);
}

/// An integer array of status codes, or an error that names the argument.
py::array as_codes(const std::string& argument, const py::handle& value) {
  const py::array any = py::array::ensure(value);
  if (!any || (any.dtype().kind() != 'i' && any.dtype().kind() != 'u')) {
    PyErr_Clear();
    throw py::type_error("Composition: " + argument + " = " + shown(value) +
                         "; expected measured, below_limit, filled, not_stated or an array of their codes 0 to 3");
  }
  const auto codes = py::array_t<std::int64_t, py::array::c_style | py::array::forcecast>::ensure(any);
  for (py::ssize_t i = 0; i < codes.size(); ++i)
    if (codes.data()[i] < 0 || codes.data()[i] > 3)
      refuse(argument + " holds the code " + std::to_string(codes.data()[i]), "codes 0 to 3");
  return any;
}

Shape shape_of(const py::array& a) { return Shape(a.shape(), a.shape() + a.ndim()); }

void check_amount(std::size_t k, double wt) {
  if (wt < 0.0 || wt > 100.0) {
    std::ostringstream what;
    what << name_of(k) << " = " << wt;
    refuse(what.str(), "0 to 100 wt %, or NaN for unusable");
  }
}

/// Grows `common` so that it also holds `other`, by the usual broadcasting rules.
void widen(Shape& common, const Shape& other, const std::string& argument) {
  if (other.size() > common.size()) common.insert(common.begin(), other.size() - common.size(), 1);
  for (std::size_t i = 0; i < other.size(); ++i) {
    auto& side = common[common.size() - 1 - i];
    const auto wanted = other[other.size() - 1 - i];
    if (side == 1)
      side = wanted;
    else if (wanted != 1 && wanted != side)
      refuse(argument + " has a shape that does not fit the others", "arrays of equal shape, or single numbers");
  }
}

template <class T>
std::shared_ptr<const std::vector<T>> spread(const py::array& from, const Shape& shape, std::size_t rows) {
  const py::object broadcast = py::module_::import("numpy").attr("broadcast_to");
  const auto full =
      py::array_t<T, py::array::c_style | py::array::forcecast>::ensure(broadcast(from, py::tuple(py::cast(shape))));
  return std::make_shared<const std::vector<T>>(full.data(), full.data() + rows);
}

/// A row that no steel can have is made unusable here, so that it is flagged and stops nothing.
void spoil_impossible_rows(CompositionColumns& columns, const Composition& one) {
  std::vector<double> total(columns.rows, 0.0);
  std::vector<bool> bad(columns.rows, false);
  for (std::size_t k = 0; k < element_count; ++k)
    for (std::size_t i = 0; i < columns.rows; ++i) {
      const double wt = columns.amount[k] ? (*columns.amount[k])[i] : one.amount[static_cast<Element>(k)];
      if (wt < 0.0 || wt > 100.0) bad[i] = true;
      if (!std::isnan(wt)) total[i] += wt;
    }
  for (std::size_t i = 0; i < columns.rows; ++i) bad[i] = bad[i] || total[i] > 100.0;
  bool any = false;
  for (bool b : bad) any = any || b;
  if (!any) return;
  auto carbon = columns.amount[0] ? *columns.amount[0] : std::vector<double>(columns.rows, one.amount.C);
  for (std::size_t i = 0; i < columns.rows; ++i)
    if (bad[i]) carbon[i] = NAN;
  columns.amount[0] = std::make_shared<const std::vector<double>>(std::move(carbon));
}

}  // namespace

PyComposition composition_from(const py::kwargs& amounts, const py::object& half_width, const py::object& status) {
  PyComposition made;
  std::array<py::array, element_count> arrays;
  std::array<bool, element_count> varies{};
  Shape shape;
  bool batch = false;
  for (const auto& [key, value] : amounts) {
    const std::size_t k = element_number(py::cast<std::string>(key), "keyword");
    if (value.is_none()) continue;
    const auto e = static_cast<Element>(k);
    if (is_number(value)) {
      const double wt = py::cast<double>(value);
      check_amount(k, wt);
      made.one.set(e, wt);
      continue;
    }
    const Doubles column = as_doubles(name_of(k), value);
    made.one.stated[k] = Stated::measured;
    if (column.ndim() == 0) {
      check_amount(k, *column.data());
      made.one.set(e, *column.data());
      continue;
    }
    arrays[k] = column;
    varies[k] = true;
    widen(shape, shape_of(column), name_of(k));
    batch = true;
  }
  std::array<py::array, element_count> half_arrays;
  std::array<bool, element_count> half_varies{};
  for_each_entry("half_width", half_width, [&](std::size_t k, const py::handle& value) {
    const std::string argument = "half_width['" + name_of(k) + "']";
    const Doubles column = as_doubles(argument, value);
    for (py::ssize_t i = 0; i < column.size(); ++i)
      if (column.data()[i] < 0.0) refuse(argument + " = " + shown(value) + " is negative", "zero or more, wt %");
    if (column.ndim() == 0) {
      made.one.half_width[k] = *column.data();
      return;
    }
    half_arrays[k] = column;
    half_varies[k] = true;
    widen(shape, shape_of(column), argument);
    batch = true;
  });
  std::array<py::array, element_count> status_arrays;
  std::array<bool, element_count> status_varies{};
  for_each_entry("status", status, [&](std::size_t k, const py::handle& value) {
    if (py::isinstance<py::str>(value)) {
      made.one.stated[k] = stated_from(value);
      return;
    }
    const std::string argument = "status['" + name_of(k) + "']";
    const py::array codes = as_codes(argument, value);
    status_arrays[k] = codes;
    status_varies[k] = true;
    widen(shape, shape_of(codes), argument);
    batch = true;
  });
  if (!batch) {
    if (made.one.total() > 100.0)
      refuse("the amounts add up to " + std::to_string(made.one.total()) + " wt %", "100 or less; iron is the balance");
    return made;
  }
  auto columns = std::make_shared<CompositionColumns>();
  columns->shape = shape;
  columns->rows = 1;
  for (py::ssize_t side : shape) columns->rows *= static_cast<std::size_t>(side);
  for (std::size_t k = 0; k < element_count; ++k) {
    if (varies[k]) columns->amount[k] = spread<double>(arrays[k], shape, columns->rows);
    if (half_varies[k]) columns->half_width[k] = spread<double>(half_arrays[k], shape, columns->rows);
    if (status_varies[k]) columns->stated[k] = spread<std::uint8_t>(status_arrays[k], shape, columns->rows);
  }
  spoil_impossible_rows(*columns, made.one);
  made.columns = columns;
  return made;
}

}  // namespace bindings
