#pragma once
// HRC, HV, HBW and tensile strength from the printed tables: straight lines between the printed points, nothing beyond
// them. Below 20 HRC there is no Rockwell C; the answer off a scale is NaN with `off_scale`.
//
// The two tables meet: from 238 HV up [ASTM_E140] joins HRC, HV and HBW; below it [ISO18265] joins HV and HBW, and at
// 238 HV both say 226 HBW. Tensile strength is [ISO18265] everywhere, by way of HV.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>

#include "ground/estimate.hpp"
#include "tables/astm_e140_hrc.hpp"
#include "tables/iso18265_a1.hpp"
#include "tables/scale_uncertainty.hpp"

namespace decalesce::scales {

enum class Scale : std::uint8_t { hrc, hv, hbw, tensile };
enum class Table : std::uint8_t { joined, astm_e140, iso18265 };

namespace scales_detail {

/// Two rising columns without blanks.
template <std::size_t Count>
struct Columns {
  std::array<double, Count> x{};
  std::array<double, Count> y{};
};

/// How many rows have both figures.
template <std::size_t Rows>
constexpr std::size_t filled(const std::array<double, Rows>& a, const std::array<double, Rows>& b) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < Rows; ++i)
    if (a[i] == a[i] && b[i] == b[i]) ++count;
  return count;
}

template <std::size_t Count, std::size_t Rows>
constexpr Columns<Count> columns(const std::array<double, Rows>& a, const std::array<double, Rows>& b) {
  Columns<Count> c;
  std::size_t k = 0;
  const bool falling = a.front() > a.back();
  for (std::size_t n = 0; n < Rows; ++n) {
    const std::size_t i = falling ? Rows - 1 - n : n;
    if (a[i] != a[i] || b[i] != b[i]) continue;
    c.x[k] = a[i];
    c.y[k] = b[i];
    ++k;
  }
  return c;
}

inline constexpr auto e140_hrc_hv =
    columns<tables::astm_e140_hrc_HRC.size()>(tables::astm_e140_hrc_HRC, tables::astm_e140_hrc_HV);
inline constexpr auto e140_hrc_hbw = columns<filled(tables::astm_e140_hrc_HRC, tables::astm_e140_hrc_HBW)>(
    tables::astm_e140_hrc_HRC, tables::astm_e140_hrc_HBW);
inline constexpr auto e140_hv_hbw = columns<filled(tables::astm_e140_hrc_HV, tables::astm_e140_hrc_HBW)>(
    tables::astm_e140_hrc_HV, tables::astm_e140_hrc_HBW);
inline constexpr auto iso_hv_hrc =
    columns<filled(tables::iso18265_a1_HV, tables::iso18265_a1_HRC)>(tables::iso18265_a1_HV, tables::iso18265_a1_HRC);
inline constexpr auto iso_hv_hbw =
    columns<filled(tables::iso18265_a1_HV, tables::iso18265_a1_HB)>(tables::iso18265_a1_HV, tables::iso18265_a1_HB);
inline constexpr auto iso_hv_mpa = columns<filled(tables::iso18265_a1_HV, tables::iso18265_a1_tensile_MPa)>(
    tables::iso18265_a1_HV, tables::iso18265_a1_tensile_MPa);

/// Straight line between the neighbours; exact at a printed point; NaN outside.
inline double between(std::span<const double> x, std::span<const double> y, double at) {
  if (!(at >= x.front() && at <= x.back())) return NAN;
  const auto above = std::upper_bound(x.begin(), x.end(), at);
  if (above == x.end()) return y.back();
  const auto i = static_cast<std::size_t>(above - x.begin()) - 1;
  return y[i] + (at - x[i]) * ((y[i + 1] - y[i]) / (x[i + 1] - x[i]));
}

template <std::size_t Count>
double forward(const Columns<Count>& c, double x) {
  return between(c.x, c.y, x);
}
template <std::size_t Count>
double backward(const Columns<Count>& c, double y) {
  return between(c.y, c.x, y);
}

inline double or_else(double first, double second) { return std::isnan(first) ? second : first; }

/// Any scale to HV. `table` chooses one table; joined prefers E140.
inline double to_hv(double value, Scale from, Table table) {
  const bool e140 = table != Table::iso18265;
  const bool iso = table != Table::astm_e140;
  switch (from) {
    case Scale::hrc: return e140 ? forward(e140_hrc_hv, value) : backward(iso_hv_hrc, value);
    case Scale::hv: {
      const bool listed = (e140 && value >= e140_hrc_hv.y.front() && value <= e140_hrc_hv.y.back()) ||
                          (iso && value >= iso_hv_hbw.x.front() && value <= iso_hv_hrc.x.back());
      return listed ? value : NAN;
    }
    case Scale::hbw: return or_else(e140 ? backward(e140_hv_hbw, value) : NAN, iso ? backward(iso_hv_hbw, value) : NAN);
    case Scale::tensile: return iso ? backward(iso_hv_mpa, value) : NAN;
  }
  return NAN;
}

inline double from_hv(double hv, Scale to, Table table) {
  const bool e140 = table != Table::iso18265;
  const bool iso = table != Table::astm_e140;
  switch (to) {
    case Scale::hrc: return e140 ? backward(e140_hrc_hv, hv) : forward(iso_hv_hrc, hv);
    case Scale::hv: return hv;
    case Scale::hbw: return or_else(e140 ? forward(e140_hv_hbw, hv) : NAN, iso ? forward(iso_hv_hbw, hv) : NAN);
    case Scale::tensile: return iso ? forward(iso_hv_mpa, hv) : NAN;
  }
  return NAN;
}

}  // namespace scales_detail

/// HV of a Rockwell C hardness, 20 to 68 HRC; NaN off the scale. [ASTM_E140]
inline double hv_from_hrc(double hrc) { return scales_detail::forward(scales_detail::e140_hrc_hv, hrc); }

/// Rockwell C of a Vickers hardness, 238 to 940 HV; NaN off the scale. [ASTM_E140]
inline double hrc_from_hv(double hv) { return scales_detail::backward(scales_detail::e140_hrc_hv, hv); }

/// One value from one scale to another; NaN where a table does not reach.
inline double convert(double value, Scale from, Scale to, Table table = Table::joined) {
  using namespace scales_detail;
  if (from == Scale::hrc && to == Scale::hbw && table != Table::iso18265) return forward(e140_hrc_hbw, value);
  if (from == Scale::hbw && to == Scale::hrc && table != Table::iso18265) return backward(e140_hrc_hbw, value);
  return from_hv(to_hv(value, from, table), to, table);
}

inline constexpr std::array<Unit, 4> scale_units{Unit::hrc, Unit::hv, Unit::hbw, Unit::mpa};

/// Half-width of one conversion. [ISO18265] (from memory)
inline double uncertainty(double value, Scale to) {
  switch (to) {
    case Scale::hrc: return tables::uncertainty_HRC_absolute;
    case Scale::hv: return tables::uncertainty_HV_relative * value;
    case Scale::hbw: return tables::uncertainty_HBW_relative * value;
    case Scale::tensile: return tables::uncertainty_tensile_MPa_relative * value;
  }
  return NAN;
}

/// The tables a conversion reads.
inline Sources sources(Scale from, Scale to, Table table) {
  if (table == Table::astm_e140) return Citation::ASTM_E140;
  if (table == Table::iso18265) return Citation::ISO18265;
  const bool strength = from == Scale::tensile || to == Scale::tensile;
  const bool rockwell = from == Scale::hrc || to == Scale::hrc;
  Sources s = strength ? Sources(Citation::ISO18265) : Sources(Citation::ASTM_E140);
  if (strength && rockwell) s.add(Citation::ASTM_E140);
  if (!strength && !rockwell) s.add(Citation::ISO18265);
  return s;
}

/// Conversion with its band: what the tables themselves leave open, not the reading's own error.
inline Estimate estimate(double value, Scale from, Scale to, Table table = Table::joined) {
  const Unit unit = scale_units[static_cast<std::size_t>(to)];
  if (std::isnan(value)) return Estimate::missing(unit, Flag::nan_input);
  const double converted = convert(value, from, to, table);
  if (std::isnan(converted)) return Estimate::missing(unit, Flag::off_scale);
  Flags flags;
  if ((to == Scale::hbw && converted > tables::brinell_normal_range_HBW) ||
      (from == Scale::hbw && value > tables::brinell_normal_range_HBW))
    flags |= Flag::beyond_brinell;
  Parts parts{};
  if (from != to) parts[static_cast<std::size_t>(Part::table)] = uncertainty(converted, to);
  return Estimate::banded(converted, parts, unit, flags, from == to ? Sources() : sources(from, to, table));
}

}  // namespace decalesce::scales
