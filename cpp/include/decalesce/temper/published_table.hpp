#pragma once
// A steelmaker's table of hardness against temper, read in the temper parameter (constant 20) so that another time than
// the table's can be asked for. Straight lines between the printed points; nothing beyond them.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "../ground/estimate.hpp"
#include "../tables/temper_model.hpp"
#include "parameter.hpp"

namespace decalesce::temper {

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

  /// Every temper of a total time that leaves the target, coolest first; of a level stretch the hot end. The band holds
  /// the tempers around it that stay within the table's own doubt.
  std::vector<Estimate> tempers_for(double target_HRC, double total_s) const {
    std::vector<Estimate> found;
    for (std::size_t i = 0; i < P_.size(); ++i) {
      const double here = HRC_[i] - target_HRC;
      const bool last = i + 1 == P_.size();
      const double next = last ? NAN : HRC_[i + 1] - target_HRC;
      if (here == 0.0 && next != 0.0) found.push_back(around(P_[i], target_HRC, total_s));
      if (here * next < 0.0)
        found.push_back(around(P_[i] + (P_[i + 1] - P_[i]) * here / (here - next), target_HRC, total_s));
    }
    return found;
  }

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

  Estimate around(double parameter, double target_HRC, double total_s) const {
    const double half = half_width_HRC(parameter);
    const auto edge = [&](bool hotter) {
      double at = parameter;
      double off = 0.0;
      for (std::size_t k = 0; k < P_.size(); ++k) {
        const std::size_t i = hotter ? k : P_.size() - 1 - k;
        if (hotter ? P_[i] <= parameter : P_[i] >= parameter) continue;
        const double next = HRC_[i] - target_HRC;
        if (std::abs(next) > half) {
          const double bound = next > 0.0 ? half : -half;
          return at + (P_[i] - at) * (bound - off) / (next - off);
        }
        at = P_[i];
        off = next;
      }
      return at;
    };
    const auto celsius = [&](double p) { return equivalent_temperature_C(p, total_s, constant()); };
    Estimate e{celsius(parameter), celsius(edge(false)), celsius(edge(true)), Unit::celsius, {}, {}, source_};
    e.parts[static_cast<std::size_t>(Part::table)] = e.half_width();
    return e;
  }

  std::vector<double> P_;
  std::vector<double> HRC_;
  Citation source_;
};

}  // namespace decalesce::temper
