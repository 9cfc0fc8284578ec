#pragma once
// True temperature against time, straight between points. A hold is the simplest one; a ramp, a swing and a logger file
// are others.
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "units.hpp"

namespace decalesce {

class History {
 public:
  /// Times in s, increasing; temperatures in degC, above absolute zero.
  History(std::vector<double> times_s, std::vector<double> temperatures_C)
      : times_(std::move(times_s)), temperatures_(std::move(temperatures_C)) {
    if (times_.size() != temperatures_.size())
      throw std::invalid_argument("History: times_s has " + std::to_string(times_.size()) +
                                  " points and temperatures_C " + std::to_string(temperatures_.size()) +
                                  "; expected as many of each");
    if (times_.size() < 2) throw std::invalid_argument("History: expected at least two points");
    for (std::size_t i = 0; i < times_.size(); ++i) {
      if (!std::isfinite(times_[i]) || !std::isfinite(temperatures_[i]))
        throw std::invalid_argument("History: point " + std::to_string(i) +
                                    " is not a finite number; split the log at the gap");
      if (i > 0 && !(times_[i] > times_[i - 1]))
        throw std::invalid_argument("History: times_s must increase; point " + std::to_string(i) + " is at " +
                                    std::to_string(times_[i]) + " s after " + std::to_string(times_[i - 1]) + " s");
      if (temperatures_[i] <= -zero_celsius_K)
        throw std::invalid_argument("History: temperatures_C[" + std::to_string(i) +
                                    "] = " + std::to_string(temperatures_[i]) + " is below absolute zero");
    }
  }

  static History hold(double temperature_C, double time_s) {
    if (!(time_s > 0.0))
      throw std::invalid_argument("hold: time_s = " + std::to_string(time_s) + "; expected a time above zero");
    return History({0.0, time_s}, {temperature_C, temperature_C});
  }

  const std::vector<double>& times_s() const { return times_; }
  const std::vector<double>& temperatures_C() const { return temperatures_; }
  std::size_t size() const { return times_.size(); }
  double duration_s() const { return times_.back() - times_.front(); }

  double peak_C() const {
    double peak = temperatures_.front();
    for (double t : temperatures_) peak = t > peak ? t : peak;
    return peak;
  }

  double mean_C() const {
    double area = 0.0;
    for (std::size_t i = 1; i < times_.size(); ++i)
      area += 0.5 * (temperatures_[i] + temperatures_[i - 1]) * (times_[i] - times_[i - 1]);
    return area / duration_s();
  }

  /// The steady temperature at which a process of this activation energy runs as far in the same time, degC:
  /// T = (Q/R) / -ln <exp(-Q/(R T))>, the mean over time. Hotter than the mean of a swing, never hotter than its peak.
  /// Exact for a first-order process; for a parabolic one it gives the equivalent D t. [Haynes1971]
  double effective_temperature_C(double activation_energy_kJ) const {
    if (!(activation_energy_kJ > 0.0))
      throw std::invalid_argument("effective_temperature: activation_energy_kJ = " +
                                  std::to_string(activation_energy_kJ) + "; expected a value above zero, kJ/mol");
    const double q_over_r = activation_energy_kJ * 1000.0 / gas_constant;
    const double peak_K = kelvin_from_celsius(peak_C());
    // relative to the rate at the peak, so that nothing underflows
    const auto rate = [&](double t_C) { return std::exp(q_over_r / peak_K - q_over_r / kelvin_from_celsius(t_C)); };
    double area = 0.0;
    for (std::size_t i = 1; i < times_.size(); ++i) {
      const double from = temperatures_[i - 1];
      const double change = temperatures_[i] - from;
      // Simpson's rule on steps of at most a kelvin: the rate is then straight to a part in 10^8
      const auto steps = static_cast<std::size_t>(std::ceil(std::abs(change))) + 1;
      double sum = 0.0;
      for (std::size_t k = 0; k < steps; ++k) {
        const double width = 1.0 / static_cast<double>(steps);
        const double left = from + change * width * static_cast<double>(k);
        const double right = from + change * width * static_cast<double>(k + 1);
        sum += width * (rate(left) + 4.0 * rate(0.5 * (left + right)) + rate(right)) / 6.0;
      }
      area += sum * (times_[i] - times_[i - 1]);
    }
    return celsius_from_kelvin(q_over_r / (q_over_r / peak_K - std::log(area / duration_s())));
  }

  /// Temperature at a time; the end values hold outside.
  double at(double time_s) const {
    if (time_s <= times_.front()) return temperatures_.front();
    for (std::size_t i = 1; i < times_.size(); ++i)
      if (time_s <= times_[i]) {
        const double fraction = (time_s - times_[i - 1]) / (times_[i] - times_[i - 1]);
        return temperatures_[i - 1] + fraction * (temperatures_[i] - temperatures_[i - 1]);
      }
    return temperatures_.back();
  }

  /// This history, then another: the second starts when the first ends (a step if their temperatures differ).
  History then(const History& next) const {
    std::vector<double> t = times_;
    std::vector<double> T = temperatures_;
    const double offset = times_.back() - next.times_.front();
    const bool joined = next.temperatures_.front() == temperatures_.back();
    for (std::size_t i = 0; i < next.times_.size(); ++i) {
      if (i == 0) {
        if (joined) continue;
        t.push_back(std::nextafter(times_.back(), HUGE_VAL));
      } else {
        t.push_back(offset + next.times_[i]);
      }
      T.push_back(next.temperatures_[i]);
    }
    return History(std::move(t), std::move(T));
  }

  friend bool operator==(const History&, const History&) = default;

 private:
  std::vector<double> times_;
  std::vector<double> temperatures_;
};

}  // namespace decalesce
