#include "heating_arrest_fit.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace decalesce::heating::arrest_fit {

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double normal_mad = 1.4826;  // standard deviation over median deviation of normal scatter

double median(std::vector<double> v) {
  if (v.empty()) return nan;
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

/// Each reading against the straight line through its neighbours, in units of the scatter of one reading.
std::vector<double> departures(const std::vector<double>& t, const std::vector<double>& y) {
  std::vector<double> d(y.size(), 0.0);
  for (std::size_t i = 1; i + 1 < y.size(); ++i) {
    const double w = (t[i] - t[i - 1]) / (t[i + 1] - t[i - 1]);
    d[i] = (y[i] - (1.0 - w) * y[i - 1] - w * y[i + 1]) / std::sqrt(1.0 + w * w + (1.0 - w) * (1.0 - w));
  }
  return d;
}

double scatter(const std::vector<double>& d) {
  std::vector<double> size;
  size.reserve(d.size());
  for (std::size_t i = 1; i + 1 < d.size(); ++i) size.push_back(std::abs(d[i]));
  return size.empty() ? 0.0 : normal_mad * median(std::move(size));
}

/// The step of a display that shows whole kelvins or tenths; 0 where the changes are no multiples of one step.
double display_step(const std::vector<double>& y) {
  double least = HUGE_VAL;
  for (std::size_t i = 1; i < y.size(); ++i) {
    const double change = std::abs(y[i] - y[i - 1]);
    if (change > 1e-9 * (1.0 + std::abs(y[i]))) least = std::min(least, change);
  }
  if (!std::isfinite(least)) return 0.0;
  for (std::size_t i = 1; i < y.size(); ++i) {
    const double steps = (y[i] - y[i - 1]) / least;
    if (std::abs(steps - std::round(steps)) > 1e-3) return 0.0;
  }
  return least;
}

}  // namespace

Readings readable(std::span<const double> t, std::span<const double> y, double sign) {
  Readings r;
  for (std::size_t i = 0; i < t.size(); ++i)
    if (std::isfinite(t[i]) && std::isfinite(y[i])) {
      r.t.push_back(t[i]);
      r.y.push_back(sign * y[i]);
    }
  r.step = display_step(r.y);
  const double rounding = r.step / std::sqrt(12.0);
  // a spike stands alone, against both of its neighbours; ten standard deviations leave every corner of a trace alone
  const std::vector<double> d = departures(r.t, r.y);
  const double spike = 10.0 * std::max(scatter(d), rounding);
  std::size_t kept = 0;
  for (std::size_t i = 0; i < r.y.size(); ++i) {
    const bool alone = i > 0 && i + 1 < r.y.size() && spike > 0.0 && std::abs(d[i]) > spike && d[i] * d[i - 1] < 0.0 &&
                       d[i] * d[i + 1] < 0.0;
    if (alone) continue;
    r.t[kept] = r.t[i];
    r.y[kept++] = r.y[i];
  }
  r.t.resize(kept);
  r.y.resize(kept);
  r.noise = std::max(scatter(departures(r.t, r.y)), rounding);
  std::vector<double> spacing;
  for (std::size_t i = 1; i < r.t.size(); ++i) spacing.push_back(r.t[i] - r.t[i - 1]);
  r.spacing = median(std::move(spacing));
  return r;
}

Place place(const Readings& of, double at, double half_width, double least_readings) {
  const auto first = std::lower_bound(of.t.begin(), of.t.end(), at - half_width) - of.t.begin();
  const auto last = std::upper_bound(of.t.begin(), of.t.end(), at + half_width) - of.t.begin();
  Eigen::Matrix3d m = Eigen::Matrix3d::Zero();
  Eigen::Vector3d b = Eigen::Vector3d::Zero();
  double before = 0.0;
  for (auto i = static_cast<std::size_t>(first); i < static_cast<std::size_t>(last); ++i) {
    const double x = (of.t[i] - at) / half_width;
    const Eigen::Vector3d row(1.0, x, x * x);
    m.noalias() += row * row.transpose();
    b.noalias() += row * of.y[i];
    if (x < 0.0) before += 1.0;
  }
  const double readings = m(0, 0);
  const double side = least_readings / 3.0;  // on either side, so that nothing is read beyond the readings
  if (readings < least_readings || before < side || readings - before < side) return {nan, nan, nan};
  if (!(m.determinant() > 1e-9 * std::pow(readings, 3))) return {nan, nan, nan};
  const Eigen::Matrix3d inverse = m.inverse();
  const Eigen::Vector3d c = inverse * b;
  // the stairs of a display are no white noise: they tilt a line by up to half a step from end to end
  const double error = std::hypot(of.noise * std::sqrt(inverse(1, 1)), 0.25 * of.step) / half_width;
  return {c[0], c[1] / half_width, error};
}

Rates rates(const Readings& of, double half_width, double least_readings) {
  Rates out;
  out.half_width = half_width;
  const double every = half_width / static_cast<double>(places_per_half_width);
  double at = of.t.front();
  while (at <= of.t.back()) {
    const Place p = place(of, at, half_width, least_readings);
    out.t.push_back(at);
    out.y.push_back(p.y);
    out.rate.push_back(p.rate);
    out.error.push_back(p.error);
    at += every;
  }
  return out;
}

Corner corner(const Readings& of, double from, double to) {
  const auto first = static_cast<std::size_t>(std::lower_bound(of.t.begin(), of.t.end(), from) - of.t.begin());
  const auto last = static_cast<std::size_t>(std::upper_bound(of.t.begin(), of.t.end(), to) - of.t.begin());
  const std::size_t n = last - first;
  Corner best{nan, nan, nan};
  if (n < 6) return best;
  struct Try {
    double t, y, error, squares;
  };
  std::vector<Try> tries;
  double least = HUGE_VAL;
  // enough places for a corner to be found between readings, and no more than a long log can bear
  const std::size_t places = std::min<std::size_t>(4 * n, 200);
  const double start = of.t[first + 2];
  const double end = of.t[last - 3];
  const double scale = to - from;
  for (std::size_t k = 0; k <= places; ++k) {
    const double at = start + (end - start) * static_cast<double>(k) / static_cast<double>(places);
    Eigen::Matrix4d m = Eigen::Matrix4d::Zero();
    Eigen::Vector4d b = Eigen::Vector4d::Zero();
    double yy = 0.0;
    const double base = of.y[first];
    for (std::size_t i = first; i < last; ++i) {
      const double x = (of.t[i] - at) / scale;
      const Eigen::Vector4d row = x < 0.0 ? Eigen::Vector4d(1.0, x, x * x, 0.0) : Eigen::Vector4d(1.0, 0.0, 0.0, x);
      m.noalias() += row * row.transpose();
      b.noalias() += row * (of.y[i] - base);
      yy += (of.y[i] - base) * (of.y[i] - base);
    }
    const Eigen::LDLT<Eigen::Matrix4d> solved(m);
    const Eigen::Vector4d c = solved.solve(b);
    if (!c.allFinite()) continue;
    const double squares = std::max(0.0, yy - b.dot(c));
    const double error = of.noise * std::sqrt(std::max(0.0, solved.solve(Eigen::Vector4d::UnitX())[0]));
    tries.push_back({at, base + c[0], error, squares});
    least = std::min(least, squares);
  }
  double lowest = HUGE_VAL;
  double highest = -HUGE_VAL;
  const double scale_squares = std::max(of.noise * of.noise, least / static_cast<double>(n > 5 ? n - 5 : 1));
  for (const Try& x : tries)
    if (x.squares <= least + scale_squares) {  // one standard deviation of where the corner lies
      lowest = std::min(lowest, x.y);
      highest = std::max(highest, x.y);
    }
  for (const Try& x : tries)
    if (x.squares == least) best = {x.t, x.y, std::hypot(x.error, 0.5 * (highest - lowest))};
  return best;
}

}  // namespace decalesce::heating::arrest_fit
