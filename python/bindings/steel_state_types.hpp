#pragma once
// The Python Austenite and AsQuenched: one steel, or a batch of them in the shape of its compositions.
#include <memory>
#include <vector>

#include "composition_type.hpp"
#include "decalesce/ground/as_quenched.hpp"
#include "decalesce/ground/austenite.hpp"
#include "estimate_type.hpp"

namespace bindings {

/// One value, or a batch of values in a shape. Immutable once made.
template <class Value>
class OneOrMany {
 public:
  OneOrMany() = default;
  OneOrMany(Value v) : one_(std::move(v)) {}  // implicit on purpose: functions return plain values
  OneOrMany(Shape shape, std::vector<Value> values)
      : shape_(std::move(shape)), many_(std::make_shared<const std::vector<Value>>(std::move(values))) {}

  bool is_one() const { return many_ == nullptr; }
  std::size_t rows() const { return is_one() ? 1 : many_->size(); }
  const Value& row(std::size_t i) const { return is_one() ? one_ : (*many_)[i]; }
  const Shape& shape() const { return shape_; }

 private:
  Value one_{};
  Shape shape_;
  std::shared_ptr<const std::vector<Value>> many_;
};

using PyAustenite = OneOrMany<decalesce::Austenite>;
using PyAsQuenched = OneOrMany<decalesce::AsQuenched>;

/// `make(value)` for each row, in the same shape.
template <class To, class From, class Make>
OneOrMany<To> each_row(const OneOrMany<From>& from, Make&& make) {
  if (from.is_one()) return OneOrMany<To>(make(from.row(0)));
  std::vector<To> made;
  made.reserve(from.rows());
  for (std::size_t i = 0; i < from.rows(); ++i) made.push_back(make(from.row(i)));
  return OneOrMany<To>(from.shape(), std::move(made));
}

/// `make(composition)` for each steel, in the same shape.
template <class To, class Make>
OneOrMany<To> each_steel(const PyComposition& w, Make&& make) {
  if (w.is_one()) return OneOrMany<To>(make(w.one));
  std::vector<To> made;
  made.reserve(w.rows());
  for (std::size_t i = 0; i < w.rows(); ++i) made.push_back(make(w.row(i)));
  return OneOrMany<To>(w.columns->shape, std::move(made));
}

/// A float for one, an array of the shape for many.
template <class Value, class Get>
py::object numbers_of(const OneOrMany<Value>& from, Get&& get) {
  if (from.is_one()) return py::float_(get(from.row(0)));
  Doubles out(from.shape());
  for (std::size_t i = 0; i < from.rows(); ++i) out.mutable_data()[i] = get(from.row(i));
  out.attr("setflags")(py::arg("write") = false);
  return out;
}

/// The estimate `get(value)` of each row as one Estimate object; of a batch, unit and all sources are common.
template <class Value, class Get>
PyEstimate estimates_of(const OneOrMany<Value>& from, Get&& get) {
  if (from.is_one()) return PyEstimate(get(from.row(0)));
  if (from.rows() == 0) return batch_of_estimates(from.shape(), decalesce::Unit::none, {}, true);
  decalesce::Sources sources;
  for (std::size_t i = 0; i < from.rows(); ++i) sources |= get(from.row(i)).sources;
  PyEstimate all = batch_of_estimates(from.shape(), get(from.row(0)).unit, sources, true);
  for (std::size_t i = 0; i < from.rows(); ++i) {
    const decalesce::Estimate& e = get(from.row(i));
    all.columns->value.mutable_data()[i] = e.value;
    all.columns->low.mutable_data()[i] = e.low;
    all.columns->high.mutable_data()[i] = e.high;
    all.columns->flags.mutable_data()[i] = e.flags.bits();
    for (std::size_t k = 0; k < decalesce::part_count; ++k) all.columns->parts[k].mutable_data()[i] = e.parts[k];
  }
  return all;
}

/// Compositions row by row as one Composition object.
PyComposition compositions_of(const Shape& shape, const std::vector<decalesce::Composition>& rows);

/// The Austenite that was given, or a TypeError that shows how to make one. `asked_by` names the function.
PyAustenite austenite_from(const py::handle& given, const std::string& asked_by);

/// The estimate of row `i`.
decalesce::Estimate estimate_row(const PyEstimate& e, std::size_t i);

}  // namespace bindings
