#pragma once
// Walks a batch in short blocks whose columns are contiguous, so that the inner loop only ever loads full packets.
// Everything here is a template over the packet: nothing is shared between the builds of the kernels.
#include <cstring>

#include "decalesce/ground/packet.hpp"
#include "decalesce/ground/weight_percent.hpp"
#include "kernel_api.hpp"

namespace decalesce::kernels {

template <class Real>
struct Block {
  static constexpr std::size_t rows = 64;
  const double* composition[columns_composition];
  const double* given[columns_given];
  double store[columns_composition + columns_given][rows];

  void point(const double*& column, double* buffer, const Column& from, std::size_t first, std::size_t count) {
    if (from.data != nullptr && from.stride == 1 && count == rows) {
      column = from.data + first;
      return;
    }
    column = buffer;
    if (from.data == nullptr || from.stride == 0) {
      if (first != 0) return;  // already filled with the one value
      const double same = from.data == nullptr ? from.absent : *from.data;
      for (std::size_t i = 0; i < rows; ++i) buffer[i] = same;
      return;
    }
    for (std::size_t i = 0; i < count; ++i) buffer[i] = from.data[static_cast<std::ptrdiff_t>(first + i) * from.stride];
    for (std::size_t i = count; i < rows; ++i) buffer[i] = buffer[count - 1];
  }

  void take(const Inputs& in, std::size_t first, std::size_t count) {
    for (int k = 0; k < columns_composition; ++k) point(composition[k], store[k], in.composition[k], first, count);
    for (int k = 0; k < columns_given; ++k) point(given[k], store[columns_composition + k], in.given[k], first, count);
  }

  WeightPercent<Real> amounts(std::size_t i) const {
    return {Real::load(composition[0] + i),  Real::load(composition[1] + i),  Real::load(composition[2] + i),
            Real::load(composition[3] + i),  Real::load(composition[4] + i),  Real::load(composition[5] + i),
            Real::load(composition[6] + i),  Real::load(composition[7] + i),  Real::load(composition[8] + i),
            Real::load(composition[9] + i),  Real::load(composition[10] + i), Real::load(composition[11] + i),
            Real::load(composition[12] + i), Real::load(composition[13] + i), Real::load(composition[14] + i),
            Real::load(composition[15] + i), Real::load(composition[16] + i), Real::load(composition[17] + i),
            Real::load(composition[18] + i)};
  }
  Given<Real> needs(std::size_t i) const {
    return {Real::load(given[0] + i), Real::load(given[1] + i), Real::load(given[2] + i), Real::load(given[3] + i),
            Real::load(given[4] + i)};
  }
};

/// Calls `work(block, first, count)` along the batch; `count` is a full block except at the end.
template <class Real, class Work>
void for_each_block(const Inputs& in, Work&& work) {
  Block<Real> block;
  for (std::size_t first = 0; first < in.rows; first += Block<Real>::rows) {
    const std::size_t left = in.rows - first;
    const std::size_t count = left < Block<Real>::rows ? left : Block<Real>::rows;
    block.take(in, first, count);
    work(block, first, count);
  }
}

/// Writes a packet at row `i` of a block of `count` rows, cutting off what lies past the end.
template <class Real>
void put(const Real& value, double* out, std::size_t i, std::size_t count) {
  if (i + Real::lanes <= count) {
    value.store(out + i);
    return;
  }
  for (std::size_t lane = 0; lane < Real::lanes && i + lane < count; ++lane)
    out[i + lane] = value[static_cast<int>(lane)];
}

}  // namespace decalesce::kernels
