#pragma once
// How martensite softens, screen model: the hardness of tempered plain carbon steel by carbon and temper parameter, and
// so many HV for each per cent of alloy in the martensite [RaiipaTempering2024] [GrangeBaughman1956].
//
// Manganese and silicon count above 0.75 and 0.20 %, the amounts of the plain steels; a steel with less is softer than
// the grid (the fit was made so). Molybdenum counts half beside chromium. Above an element's fitted range, and for more
// than about 1 % manganese, the figures of 1956 replace the fitted ones where they exist (P18 20 to 30). Tungsten,
// cobalt, aluminium and boron have no figure. Carbon outside 0.35 to 1.00 % holds the edge of the grid.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "../ground/composition.hpp"
#include "../tables/temper_alloy_increments.hpp"
#include "../tables/temper_base_hv.hpp"
#include "../tables/temper_model.hpp"
#include "../tables/usual_residuals.hpp"

namespace decalesce::temper {

namespace softening_detail {

inline constexpr std::size_t alloys = 6;
inline constexpr std::array<Element, alloys> alloy_elements{Element::Mn, Element::Si, Element::Ni,
                                                            Element::Cr, Element::Mo, Element::V};

constexpr bool same_elements() {
  for (std::size_t e = 0; e < alloys; ++e)
    if (symbol(alloy_elements[e]) != tables::increment_elements[e]) return false;
  return true;
}
static_assert(same_elements(), "the increments come in this order");

inline constexpr std::size_t chart_count = tables::grange_baughman_1956_P18.size();
inline constexpr std::size_t fit_count = tables::fit_open_rows_P18.size();
inline constexpr std::size_t base_count = tables::temper_base_P18.size();

template <std::size_t Count>
constexpr double line(const std::array<double, Count>& x, const std::array<double, Count>& y, double at) {
  if (at <= x.front()) return y.front();
  for (std::size_t i = 1; i < Count; ++i)
    if (at <= x[i]) return y[i - 1] + (at - x[i - 1]) * ((y[i] - y[i - 1]) / (x[i] - x[i - 1]));
  return y.back();
}

template <std::size_t Count>
constexpr bool holds(const std::array<double, Count>& x, double at) {
  for (double value : x)
    if (value == at) return true;
  return false;
}

constexpr std::size_t count_nodes() {
  std::size_t extra = 0;
  for (double p : tables::fit_open_rows_P18)
    if (!holds(tables::temper_base_P18, p)) ++extra;
  return base_count + extra;
}
inline constexpr std::size_t node_count = count_nodes();

/// Parameters at which the grid or an increment bends, rising.
constexpr std::array<double, node_count> joined_nodes() {
  std::array<double, node_count> nodes{};
  std::size_t k = 0;
  for (double p : tables::temper_base_P18) nodes[k++] = p;
  for (double p : tables::fit_open_rows_P18)
    if (!holds(tables::temper_base_P18, p)) nodes[k++] = p;
  std::sort(nodes.begin(), nodes.end());
  return nodes;
}
inline constexpr std::array<double, node_count> nodes = joined_nodes();

using Row = std::array<double, node_count>;

constexpr auto base_at_nodes() {
  std::array<Row, tables::temper_base_carbon_wt_pct.size()> rows{};
  for (std::size_t c = 0; c < rows.size(); ++c)
    for (std::size_t n = 0; n < node_count; ++n)
      rows[c][n] = line(tables::temper_base_P18, tables::temper_base_HV[c], nodes[n]);
  return rows;
}
inline constexpr auto base = base_at_nodes();

/// The fitted figures at every node.
constexpr std::array<Row, alloys> fitted_at_nodes() {
  std::array<Row, alloys> rows{};
  for (std::size_t e = 0; e < alloys; ++e)
    for (std::size_t n = 0; n < node_count; ++n)
      rows[e][n] = line(tables::fit_open_rows_P18, tables::fit_open_rows_HV_per_wt_pct[e], nodes[n]);
  return rows;
}
inline constexpr std::array<Row, alloys> fitted = fitted_at_nodes();

/// The chart's figure where the chart has one, less the fitted one.
constexpr std::array<Row, alloys> chart_less_fitted() {
  std::array<Row, alloys> rows{};
  for (std::size_t e = 0; e < alloys; ++e)
    for (std::size_t n = 0; n < node_count; ++n)
      for (std::size_t k = 0; k < chart_count; ++k)
        if (tables::grange_baughman_1956_P18[k] == nodes[n])
          rows[e][n] = tables::grange_baughman_1956_HV_per_wt_pct[e][k] - fitted[e][n];
  return rows;
}
inline constexpr std::array<Row, alloys> chart_excess = chart_less_fitted();

/// 0 below `start`, 1 above `end`, straight between.
constexpr double ramp_share(double x, double start, double end) {
  return x <= start ? 0.0 : x >= end ? 1.0 : (x - start) / (end - start);
}

}  // namespace softening_detail

/// What the model says at one parameter, all in HV.
struct Softened {
  double HV = NAN;
  double composition_half_width = 0.0;  // from what the analysis leaves open
  double unstated_half_width = 0.0;     // the part of it that is due to elements not stated
};

/// The softening of one steel: hardness against the parameter P18, never rising.
class SofteningCurve {
 public:
  static constexpr double least_P18 = softening_detail::nodes.front();
  static constexpr double most_P18 = softening_detail::nodes.back();

  /// From the composition in the martensite, not the bar's. `carbon_half_width` in wt %.
  explicit SofteningCurve(const Composition& in_solution, double carbon_half_width = 0.0) {
    using namespace softening_detail;
    const WeightPercent<double>& w = in_solution.amount;
    const std::array<double, alloys> share = chart_shares(w);
    std::array<double, alloys> above{};
    for (std::size_t e = 0; e < alloys; ++e) {
      const Element element = alloy_elements[e];
      const double offset = tables::fit_open_rows_offset_wt_pct[e];
      const bool stated = in_solution.stated[index(element)] != Stated::not_stated;
      const double usual = tables::usual_residual_wt_pct[index(element)];
      // Every steel holds manganese and silicon: not stated is read as the plain steels' own, not as none.
      above[e] = stated || offset == 0.0 ? w[element] - offset : 0.0;
      open_[e] =
          stated ? in_solution.half_width[index(element)] : (offset > 0.0 ? offset : (usual > 0.0 ? usual : 0.0));
      stated_[e] = stated;
      uses_chart_ = uses_chart_ || share[e] > 0.0;
    }
    const double mo =
        1.0 - (1.0 - tables::temper_model_halving_factor) *
                  ramp_share(w.Cr, tables::temper_model_halving_starts_Cr, tables::temper_model_halving_ends_Cr);
    constexpr std::size_t mo_index = 4;
    static_assert(alloy_elements[mo_index] == Element::Mo);
    above[mo_index] *= mo;
    open_[mo_index] *= mo;

    const auto& carbons = tables::temper_base_carbon_wt_pct;
    const double carbon = std::clamp(w.C, carbons.front(), carbons.back());
    std::size_t c = 1;
    while (c + 1 < carbons.size() && carbon > carbons[c]) ++c;
    const double step = carbons[c] - carbons[c - 1];
    const double weight = (carbon - carbons[c - 1]) / step;
    carbon_open_ = std::max(carbon_half_width, in_solution.half_width[index(Element::C)]);
    for (std::size_t n = 0; n < node_count; ++n) {
      const double rise = base[c][n] - base[c - 1][n];
      double hv = base[c - 1][n] + weight * rise;
      for (std::size_t e = 0; e < alloys; ++e) hv += above[e] * (fitted[e][n] + share[e] * chart_excess[e][n]);
      HV_[n] = n > 0 && HV_[n - 1] < hv ? HV_[n - 1] : hv;
      carbon_slope_[n] = rise / step;
    }
    share_ = share;
  }

  bool uses_chart() const { return uses_chart_; }

  /// Hardness at a parameter; the edges of the grid hold outside.
  double HV(double P18) const {
    const auto [n, weight] = place(P18);
    return HV_[n] + weight * (HV_[n + 1] - HV_[n]);
  }

  Softened at(double P18) const {
    using namespace softening_detail;
    const auto found = place(P18);
    const auto n = found.node;
    const double weight = found.weight;
    Softened s;
    s.HV = HV_[n] + weight * (HV_[n + 1] - HV_[n]);
    const auto between = [&](const Row& row) { return row[n] + weight * (row[n + 1] - row[n]); };
    const double carbon = between(carbon_slope_) * carbon_open_;
    double stated = carbon * carbon;
    double unstated = 0.0;
    for (std::size_t e = 0; e < alloys; ++e) {
      if (open_[e] == 0.0) continue;
      const double width = open_[e] * (between(fitted[e]) + share_[e] * between(chart_excess[e]));
      (stated_[e] ? stated : unstated) += width * width;
    }
    s.unstated_half_width = std::sqrt(unstated);
    s.composition_half_width = std::sqrt(stated + unstated);
    return s;
  }

 private:
  struct Place {
    std::size_t node;
    double weight;
  };

  static Place place(double P18) {
    using softening_detail::nodes;
    const double p = std::clamp(P18, least_P18, most_P18);
    std::size_t n = 0;
    while (n + 2 < nodes.size() && p > nodes[n + 1]) ++n;
    return {n, (p - nodes[n]) / (nodes[n + 1] - nodes[n])};
  }

  static std::array<double, softening_detail::alloys> chart_shares(const WeightPercent<double>& w) {
    using namespace softening_detail;
    std::array<double, alloys> share{};
    for (std::size_t e = 0; e < alloys; ++e)
      share[e] = w[alloy_elements[e]] > tables::fit_open_rows_max_wt_pct[e] ? 1.0 : 0.0;
    share[0] = ramp_share(w.Mn, tables::temper_model_chart_starts_Mn, tables::temper_model_chart_ends_Mn);
    return share;
  }

  softening_detail::Row HV_{};
  softening_detail::Row carbon_slope_{};
  std::array<double, softening_detail::alloys> share_{};
  std::array<double, softening_detail::alloys> open_{};
  std::array<bool, softening_detail::alloys> stated_{};
  double carbon_open_ = 0.0;
  bool uses_chart_ = false;
};

}  // namespace decalesce::temper
