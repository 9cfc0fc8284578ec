#pragma once
// Walks a batch in short blocks of contiguous columns, so that the inner loops only ever handle full packets: what lies
// past the end of the batch repeats its last row and is cut off when a block is written back.
// Everything here is a template over the packet: nothing is shared between the builds of the kernels.
#include <cstring>

#include "decalesce/ground/packet.hpp"
#include "kernel_api.hpp"

namespace decalesce::kernels {

/// Rows of a block; a multiple of every packet width. A block of all columns stays in the first cache.
inline constexpr std::size_t block_rows = 64;
inline constexpr std::size_t cache_line = 64 / sizeof(double);

/// Copies rows `first` to `first + count` of a column; a column that is the same everywhere is written once.
template <class Real>
inline void take(double (&to)[block_rows], const Column& from, std::size_t first, std::size_t count) {
  if (from.data == nullptr) {
    if (first == 0)
      for (std::size_t i = 0; i < block_rows; i += Real::lanes) Real(from.same).store(to + i);
    return;
  }
  const double* data = from.data + first;
  if (count == block_rows) {
    // a block is short and the work on it long: the processor does not guess by itself which rows come next
    for (std::size_t i = 0; i < block_rows; i += cache_line) __builtin_prefetch(data + block_rows + i);
    for (std::size_t i = 0; i < block_rows; i += Real::lanes) Real::load(data + i).store(to + i);
    return;
  }
  for (std::size_t i = 0; i < block_rows; ++i) to[i] = data[i < count ? i : count - 1];
}

/// Calls `work(first, count)` along the batch; `count` is a full block except at the end.
template <class Real, class Work>
inline void for_each_block(std::size_t rows, Work&& work) {
  for (std::size_t first = 0; first < rows; first += block_rows) {
    const std::size_t left = rows - first;
    work(first, left < block_rows ? left : block_rows);
  }
}

}  // namespace decalesce::kernels
