#pragma once
// Any temper as one equivalent hold. The state that is carried is the equivalent time: the time that would have done as
// much at the temperature of the moment. When the temperature changes the state is converted (same parameter); when
// time passes it grows by that time. Holds are exact. Adding up steps converted one by one to a reference temperature
// is another rule, and diverges as the steps shrink: it is not offered.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "../ground/history.hpp"
#include "parameter.hpp"

namespace decalesce::temper {

/// Equivalent time carried along a temper, or along several in the order they were given. A step that has no parameter
/// (NaN, a time of zero or less or without end, a temperature not above absolute zero) leaves NaN for good: parameter,
/// peak and mean; the total adds up the times as they were given.
class TemperState {
 public:
  explicit TemperState(double constant_hours) : constant_(constant_hours * std::numbers::ln10) {}

  /// A hold: exact.
  void hold(double temperature_C, double time_s) {
    if (!usable(temperature_C, temperature_C, time_s)) return lose(time_s);
    move_to(kelvin_from_celsius(temperature_C));
    log_te_ = grown(log_te_, std::log(time_s / seconds_per_hour));
    count(temperature_C, temperature_C, time_s);
  }

  /// A straight line from one temperature to another.
  void ramp(double start_C, double end_C, double time_s) {
    if (start_C == end_C) return hold(start_C, time_s);
    if (!usable(start_C, end_C, time_s)) return lose(time_s);
    const double from = kelvin_from_celsius(start_C);
    const double to = kelvin_from_celsius(end_C);
    move_to(from);
    int pieces = most_pieces;
    log_te_ = along(from, to, time_s / seconds_per_hour, log_te_, deepest_halving, pieces);
    kelvin_ = to;
    count(start_C, end_C, time_s);
  }

  void follow(const History& history) {
    for (std::size_t i = 1; i < history.size(); ++i)
      ramp(history.temperatures_C()[i - 1], history.temperatures_C()[i],
           history.times_s()[i] - history.times_s()[i - 1]);
  }

  /// NaN before anything was followed.
  double parameter() const {
    const double bracket = (constant_ + log_te_) / std::numbers::ln10;
    return bracket > 0.0 ? kelvin_ * bracket / 1000.0 : NAN;
  }
  double total_s() const { return total_s_; }
  double peak_C() const { return peak_C_; }
  double mean_C() const { return area_ / total_s_; }

 private:
  static constexpr double relative_tolerance = 1e-10;
  static constexpr int deepest_halving = 48;
  static constexpr int most_pieces = 100'000;

  static bool usable(double start_C, double end_C, double time_s) {
    return std::isfinite(start_C) && std::isfinite(end_C) && std::isfinite(time_s) && time_s > 0.0 &&
           kelvin_from_celsius(start_C) > 0.0 && kelvin_from_celsius(end_C) > 0.0;
  }

  static double converted(double log_te, double constant, double from_K, double to_K) {
    return from_K / to_K * (constant + log_te) - constant;
  }

  /// The logarithm after `log_dt` more at one temperature; from nothing it is that time itself.
  static double grown(double log_te, double log_dt) {
    const double larger = std::max(log_te, log_dt);
    const double smaller = std::min(log_te, log_dt);
    return larger + std::log1p(std::exp(smaller - larger));
  }

  /// `steps` equal steps: half the change of temperature, the time, the other half. Second order, even error series.
  double stepped(double from_K, double to_K, double dt_h, double log_te, int steps) const {
    const double slope = (to_K - from_K) / steps;
    const double log_dt = std::log(dt_h / steps);
    for (int k = 0; k < steps; ++k) {
      const double start = from_K + slope * k;
      const double middle = start + 0.5 * slope;
      log_te = grown(converted(log_te, constant_, start, middle), log_dt);
      log_te = converted(log_te, constant_, middle, start + slope);
    }
    return log_te;
  }

  /// One, two and four steps extrapolated; where they disagree the piece is halved, so that the start from nothing and
  /// steep pieces get the short steps they need. Where they can never agree, because rounding
  /// alone is larger (a constant far above any that is published), the pieces run out: NaN.
  double along(double from_K, double to_K, double dt_h, double log_te, int halvings, int& pieces) const {
    const double one = stepped(from_K, to_K, dt_h, log_te, 1);
    const double two = stepped(from_K, to_K, dt_h, log_te, 2);
    const double four = stepped(from_K, to_K, dt_h, log_te, 4);
    const double second = two + (two - one) / 3.0;
    const double third = four + (four - two) / 3.0;
    const double best = third + (third - second) / 15.0;
    if (std::abs(best - third) <= relative_tolerance || halvings == 0) return best;
    if (!std::isfinite(best) || --pieces < 0) return NAN;
    const double middle_K = 0.5 * (from_K + to_K);
    const double half = along(from_K, middle_K, 0.5 * dt_h, log_te, halvings - 1, pieces);
    return along(middle_K, to_K, 0.5 * dt_h, half, halvings - 1, pieces);
  }

  void move_to(double kelvin) {
    log_te_ = converted(log_te_, constant_, kelvin_, kelvin);
    kelvin_ = kelvin;
  }

  void lose(double time_s) {
    log_te_ = peak_C_ = area_ = NAN;
    total_s_ += time_s;
  }

  void count(double start_C, double end_C, double time_s) {
    total_s_ += time_s;
    area_ += 0.5 * (start_C + end_C) * time_s;
    peak_C_ = std::max({peak_C_, start_C, end_C});
  }

  double constant_;  // times ln 10: the state is a natural logarithm
  double kelvin_ = zero_celsius_K;
  double log_te_ = -std::numeric_limits<double>::infinity();  // of the equivalent time in hours
  double total_s_ = 0.0;
  double area_ = 0.0;
  double peak_C_ = -zero_celsius_K;
};

}  // namespace decalesce::temper
