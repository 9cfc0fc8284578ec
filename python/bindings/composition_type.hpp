#pragma once
// The Python composition: one steel, or a batch of steels held as equal-shaped columns.
#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>

#include <array>
#include <memory>
#include <string>
#include <vector>

#include "decalesce/ground/composition.hpp"
#include "kernels/kernel_api.hpp"

namespace bindings {

namespace py = pybind11;
using Doubles = py::array_t<double, py::array::c_style>;
using Bytes = py::array_t<std::uint8_t, py::array::c_style>;
using Shape = std::vector<py::ssize_t>;

/// Columns of a batch. An element without an array holds the one value of `PyComposition::one` in every row.
struct CompositionColumns {
  Shape shape;
  std::size_t rows = 0;
  std::array<std::shared_ptr<const std::vector<double>>, decalesce::element_count> amount{};
  std::array<std::shared_ptr<const std::vector<std::uint8_t>>, decalesce::element_count> stated{};
  std::array<std::shared_ptr<const std::vector<double>>, decalesce::element_count> half_width{};
};

class PyComposition {
 public:
  decalesce::Composition one;                         // the steel, or what is the same in every row
  std::shared_ptr<const CompositionColumns> columns;  // null for one steel

  bool is_one() const { return columns == nullptr; }
  std::size_t rows() const { return is_one() ? 1 : columns->rows; }
  decalesce::Composition row(std::size_t i) const;

  /// Pointers for the batch kernels; valid as long as this composition lives.
  void fill(decalesce::kernels::Inputs& in) const;
  void fill(decalesce::kernels::Doubt& doubt) const;
};

inline std::string name_of(std::size_t element) { return std::string(decalesce::element_symbols[element]); }

/// A value as Python writes it, for a message.
inline std::string shown(const py::handle& value) { return py::cast<std::string>(py::repr(value)); }

/// A float or an integer, but no bool.
bool is_number(const py::handle& value);

/// From keyword arguments named after the elements: numbers, arrays or None (not stated).
PyComposition composition_from(const py::kwargs& amounts, const py::object& half_width, const py::object& status);

void register_composition(py::module_& module);

}  // namespace bindings
