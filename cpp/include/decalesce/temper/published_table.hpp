#pragma once
// A steelmaker's table of hardness against temper, read in the temper parameter (constant 20) so that another time than
// the table's can be asked for. Straight lines between the printed points; nothing beyond them.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string_view>
#include <vector>

#include "../ground/estimate.hpp"
#include "../tables/temper_model.hpp"
#include "parameter.hpp"

namespace decalesce::temper {

/// The tempers that are published as usual for a grade, degC; without them everything is usual.
struct UsualRange {
  double coolest_C = -std::numeric_limits<double>::infinity();
  double hottest_C = std::numeric_limits<double>::infinity();
};

/// Why a band ends where it does: the table's doubt is used up, hardness turns, the table ends, or the usual range
/// does.
enum class BandEnd : std::uint8_t { doubt, turning_point, table_end, usual_range };
inline constexpr std::array<std::string_view, 4> band_end_names{"doubt", "turning_point", "table_end", "usual_range"};

struct TableTemper {
  Estimate temperature_C;
  BandEnd cool_end = BandEnd::doubt;
  BandEnd hot_end = BandEnd::doubt;
};

class PublishedTable {
 public:
  /// Tempers (degC, s in all) and what they leave (HRC), from the coolest; all at one hardening temperature.
  PublishedTable(const std::vector<double>& temperatures_C, const std::vector<double>& times_s,
                 std::vector<double> hardness_HRC, Citation source)
      : HRC_(std::move(hardness_HRC)), source_(source) {
    for (std::size_t i = 0; i < temperatures_C.size(); ++i)
      P_.push_back(parameter_kK(temperatures_C[i], times_s[i], constant()));
  }

  /// Hardness after a temper; NaN with `no_model` beyond the printed tempers.
  Estimate after(double parameter) const {
    if (std::isnan(parameter)) return Estimate::missing(Unit::hrc, Flag::nan_input);
    if (parameter < P_.front() || parameter > P_.back()) return Estimate::missing(Unit::hrc, Flag::no_model);
    Parts parts{};
    parts[static_cast<std::size_t>(Part::table)] = half_width_HRC(parameter);
    return Estimate::banded(HRC_at(parameter), parts, Unit::hrc, {}, source_);
  }

  /// Every temper of a total time that leaves the target, coolest first; of a level stretch both ends. The band
  /// holds the tempers around it that stay within the table's own doubt, on the same side of every peak, inside the
  /// table and inside the range that is usual for the grade (where the temper itself is). A cut band is flagged
  /// `band_clipped`.
  std::vector<TableTemper> tempers_for(double target_HRC, double total_s, const UsualRange& usual = {}) const {
    std::vector<TableTemper> found;
    for (std::size_t i = 0; i < P_.size(); ++i) {
      const double here = HRC_[i] - target_HRC;
      const bool last = i + 1 == P_.size();
      const double next = last ? NAN : HRC_[i + 1] - target_HRC;
      const bool inside_level = i > 0 && HRC_[i - 1] == target_HRC && next == 0.0;
      if (here == 0.0 && !inside_level) found.push_back(around(P_[i], target_HRC, total_s, usual));
      if (here * next < 0.0)
        found.push_back(around(P_[i] + (P_[i + 1] - P_[i]) * here / (here - next), target_HRC, total_s, usual));
    }
    return found;
  }

  double hardest_HRC() const { return *std::max_element(HRC_.begin(), HRC_.end()); }
  double softest_HRC() const { return *std::min_element(HRC_.begin(), HRC_.end()); }
  Citation source() const { return source_; }

  static double constant() { return tables::temper_constant_practice.constant_hours; }

 private:
  double HRC_at(double parameter) const {
    const auto above = std::upper_bound(P_.begin() + 1, P_.end() - 1, parameter);
    const auto i = static_cast<std::size_t>(above - P_.begin());
    return HRC_[i - 1] + (parameter - P_[i - 1]) * ((HRC_[i] - HRC_[i - 1]) / (P_[i] - P_[i - 1]));
  }

  /// Two sheets of one grade differ by so much; by the temper of two hours with this parameter.
  static double half_width_HRC(double parameter) {
    const double two_hours_C =
        equivalent_temperature_C(parameter, tables::temper_model_table_time_assumed_s, constant());
    const double rms = two_hours_C <= tables::temper_model_table_switch_C ? tables::temper_model_table_rms_below_HRC
                                                                          : tables::temper_model_table_rms_above_HRC;
    return tables::temper_model_normal_90 * rms;
  }

  struct Edge {
    double parameter;
    BandEnd why;
  };

  /// Whether hardness rises with the temper at a place: only where it does on both sides, so that a peak and a valley
  /// count as ends of the falling stretch.
  bool rising_at(double parameter) const {
    bool rises = true;
    for (std::size_t i = 1; i < P_.size(); ++i)
      if (P_[i - 1] <= parameter && parameter <= P_[i]) rises = rises && HRC_[i] > HRC_[i - 1];
    return rises;
  }

  Edge edge(double parameter, double target_HRC, bool hotter) const {
    const double half = half_width_HRC(parameter);
    // towards hotter on a falling stretch, and towards cooler on a rising one, hardness falls
    const double sign = rising_at(parameter) == hotter ? 1.0 : -1.0;
    double at = parameter;
    double off = 0.0;
    for (std::size_t k = 0; k < P_.size(); ++k) {
      const std::size_t i = hotter ? k : P_.size() - 1 - k;
      if (hotter ? P_[i] <= parameter : P_[i] >= parameter) continue;
      const double next = HRC_[i] - target_HRC;
      if (sign * (next - off) < 0.0) return {at, BandEnd::turning_point};
      if (std::abs(next) > half) return {at + (P_[i] - at) * (sign * half - off) / (next - off), BandEnd::doubt};
      at = P_[i];
      off = next;
    }
    return {at, BandEnd::table_end};
  }

  TableTemper around(double parameter, double target_HRC, double total_s, const UsualRange& usual) const {
    const auto celsius = [&](double p) { return equivalent_temperature_C(p, total_s, constant()); };
    const Edge cool = edge(parameter, target_HRC, false);
    const Edge hot = edge(parameter, target_HRC, true);
    TableTemper t;
    Estimate& e = t.temperature_C;
    e = Estimate{celsius(parameter), celsius(cool.parameter), celsius(hot.parameter), Unit::celsius, {}, {}, source_};
    t.cool_end = cool.why;
    t.hot_end = hot.why;
    if (e.value >= usual.coolest_C && e.value <= usual.hottest_C) {
      if (e.low < usual.coolest_C) {
        e.low = usual.coolest_C;
        t.cool_end = BandEnd::usual_range;
      }
      if (e.high > usual.hottest_C) {
        e.high = usual.hottest_C;
        t.hot_end = BandEnd::usual_range;
      }
    }
    if (t.cool_end != BandEnd::doubt || t.hot_end != BandEnd::doubt) e.flags |= Flag::band_clipped;
    e.parts[static_cast<std::size_t>(Part::table)] = e.half_width();
    return t;
  }

  std::vector<double> P_;
  std::vector<double> HRC_;
  Citation source_;
};

}  // namespace decalesce::temper
