#pragma once
// Batch loops over the published formulas, one text for every packet width.
#include "blocks.hpp"
#include "critical_kernel.hpp"
#include "decalesce/ground/slope_probe.hpp"
#include "decalesce/published/catalogue.hpp"

namespace decalesce::kernels {

/// Where a packet of one column is read: a column that is the same everywhere is read at the same place again and
/// again.
template <class Real>
struct Walk {
  const double* from[columns_composition + columns_given];
  std::size_t moves[columns_composition + columns_given];  // all bits where the column has a value a row
  double same[columns_composition + columns_given][Real::lanes];

  explicit Walk(const Inputs& in) {
    for (int k = 0; k < columns_composition; ++k) set(k, in.composition[k]);
    for (int k = 0; k < columns_given; ++k) set(columns_composition + k, in.given[k]);
  }
  void set(int k, const Column& column) {
    Real(column.same).store(same[k]);
    from[k] = column.data == nullptr ? same[k] : column.data;
    moves[k] = column.data == nullptr ? 0 : ~std::size_t{0};
  }
  Real at(std::size_t k, std::size_t row) const { return Real::load(from[k] + (row & moves[k])); }
  /// The last rows, fewer than a packet; lanes past the end repeat the last row.
  Real rest(std::size_t k, std::size_t row, std::size_t count) const {
    double lane[Real::lanes];
    for (std::size_t i = 0; i < Real::lanes; ++i)
      lane[i] = moves[k] == 0 ? same[k][0] : from[k][row + (i < count ? i : count - 1)];
    return Real::load(lane);
  }

  template <class Read>
  static WeightPercent<Real> amounts(Read&& read) {
    WeightPercent<Real> w;
    for_each_element([&](Element e) { w[e] = read(index(e)); });
    return w;
  }
  template <class Read>
  static Given<Real> needs(Read&& read) {
    constexpr std::size_t k = columns_composition;
    return {read(k), read(k + 1), read(k + 2), read(k + 3), read(k + 4)};
  }
};

/// Calls `work(row, amounts, given, count)` for each packet; `count` is less than a packet's lanes only at the end.
template <class Real, class Work>
inline void for_each_packet(const Inputs& in, Work&& work) {
  const Walk<Real> walk(in);
  constexpr std::size_t lanes = Real::lanes;
  const std::size_t full = in.rows / lanes * lanes;
  for (std::size_t row = 0; row < full; row += lanes) {
    const auto read = [&](std::size_t k) { return walk.at(k, row); };
    work(row, Walk<Real>::amounts(read), Walk<Real>::needs(read), lanes);
  }
  if (full == in.rows) return;
  const auto read = [&](std::size_t k) { return walk.rest(k, full, in.rows - full); };
  work(full, Walk<Real>::amounts(read), Walk<Real>::needs(read), in.rows - full);
}

template <class Real>
inline void put(const Real& value, double* out, std::size_t count) {
  if (count == Real::lanes)
    value.store(out);
  else
    for (std::size_t lane = 0; lane < count; ++lane) out[lane] = value[static_cast<int>(lane)];
}

template <class Real, class Formula>
[[gnu::flatten]] void evaluate_one(const Inputs& in, double* out) {
  for_each_packet<Real>(in, [&](std::size_t row, const WeightPercent<Real>& w, const Given<Real>& given,
                                std::size_t count) { put(published::evaluate<Formula>(w, given), out + row, count); });
}

template <class Real, class List>
struct Many;

template <class Real, class... Formulas>
struct Many<Real, published::FormulaList<Formulas...>> {
  static constexpr EvaluateOne one[] = {&evaluate_one<Real, Formulas>...};

  [[gnu::flatten]] static void evaluate(const Inputs& in, double* const* out) {
    for_each_packet<Real>(
        in, [&](std::size_t row, const WeightPercent<Real>& w, const Given<Real>& given, std::size_t count) {
          std::size_t column = 0;
          (put(published::evaluate<Formulas>(w, given), out[column++] + row, count), ...);
        });
  }
};

template <class Real>
constexpr Table table_for() {
  return {Many<Real, published::AllFormulas>::one, published::AllFormulas::size,
          &Many<Real, published::MsFormulas>::evaluate, &critical_temperatures<PacketPair<Real>>};
}

}  // namespace decalesce::kernels
