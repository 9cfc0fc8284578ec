#pragma once
// Memory for the columns of one large result. A fresh array costs as much time to be handed out page by page as a
// kernel takes to fill it; one block in huge pages costs a small part of that.
#include "composition_type.hpp"

namespace bindings {

/// Equal-shaped arrays of eight-byte values. Large ones share one block, which lives as long as any of them.
class ResultBlock {
 public:
  ResultBlock(const Shape& shape, std::size_t columns);

  /// The next column; not more often than there are columns.
  template <class Value>
  py::array_t<Value, py::array::c_style> column() {
    static_assert(sizeof(Value) == 8);
    if (base_ == nullptr) return py::array_t<Value, py::array::c_style>(shape_);
    char* at = base_ + stride_ * taken_++;
    return py::array_t<Value, py::array::c_style>(shape_, reinterpret_cast<Value*>(at), owner_);
  }

 private:
  Shape shape_;
  std::size_t stride_ = 0;
  std::size_t taken_ = 0;
  char* base_ = nullptr;  // null where each column is an array of its own
  py::object owner_;
};

}  // namespace bindings
