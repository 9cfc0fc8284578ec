#pragma once
// The Python estimate: one answer with its band, or equal-shaped arrays of them.
#include <memory>
#include <vector>

#include "composition_type.hpp"
#include "decalesce/ground/estimate.hpp"

namespace bindings {

using FlagBits = py::array_t<std::uint64_t, py::array::c_style>;

/// Columns of a batch of estimates; `parts` may be left empty when nobody asked for them. A band that is symmetric
/// about the value may be held as its half-width: `low` and `high` are then empty until `open_band` makes them.
struct EstimateColumns {
  Doubles value;
  Doubles low;
  Doubles high;
  FlagBits flags;
  std::array<Doubles, decalesce::part_count> parts;
  bool has_parts = false;
  Doubles half_width;
  bool closed = false;  // the band is held as half_width only

  explicit EstimateColumns(const Shape& shape, bool with_parts = false);
  /// Value, half-width and flags, with room for a large batch; parts are zero.
  static EstimateColumns symmetric(const Shape& shape, bool with_parts);

  void open_band();

 private:
  EstimateColumns() = default;
};

class PyEstimate {
 public:
  decalesce::Estimate one;                   // the answer; of a batch only unit and sources
  std::shared_ptr<EstimateColumns> columns;  // null for one answer

  PyEstimate() = default;
  PyEstimate(const decalesce::Estimate& e) : one(e) {}  // implicit on purpose: functions return estimates
  bool is_one() const { return columns == nullptr; }
};

/// An empty batch of estimates in the shape of a composition.
PyEstimate batch_of_estimates(const Shape& shape, decalesce::Unit unit, const decalesce::Sources& sources,
                              bool with_parts = false);

/// The same with symmetric bands: value, half_width and flags are to be filled.
PyEstimate symmetric_batch_of_estimates(const Shape& shape, decalesce::Unit unit, const decalesce::Sources& sources,
                                        bool with_parts = false);

/// Put one estimate into a place of a batch; unit and sources are the batch's.
void set_row(PyEstimate& batch, std::size_t i, const decalesce::Estimate& e);

/// A number as a member of a hash: values with NaN in the same place are equal, and Python hashes each NaN by itself.
py::object for_hash(double number);

void register_estimate(py::module_& module);

}  // namespace bindings
