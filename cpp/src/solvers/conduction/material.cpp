#include "decalesce/solvers/conduction/material.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

namespace decalesce::conduction {

namespace {

[[noreturn]] void refuse(const std::string& what) { throw std::invalid_argument("Material: " + what); }

/// The slope at each point of a table, from the parabola through it and its neighbours, at most three times that of the
/// flatter side, so that the cubic between two points never turns back.
std::vector<double> slopes(std::span<const double> x, std::span<const double> y) {
  const std::size_t n = x.size();
  std::vector<double> chord(n - 1);
  for (std::size_t i = 0; i + 1 < n; ++i) chord[i] = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
  std::vector<double> slope(n);
  slope.front() = chord.front();
  slope.back() = chord.back();
  for (std::size_t i = 1; i + 1 < n; ++i) {
    const double before = x[i] - x[i - 1];
    const double after = x[i + 1] - x[i];
    const double parabola = (chord[i - 1] * after + chord[i] * before) / (before + after);
    slope[i] = std::min(parabola, 3.0 * std::min(chord[i - 1], chord[i]));
  }
  return slope;
}

/// The cubic of a bin from values and slopes (per bin) at its ends.
void hermite(double (&cubic)[4], double y0, double y1, double d0, double d1) {
  cubic[0] = y0;
  cubic[1] = d0;
  cubic[2] = 3.0 * (y1 - y0) - 2.0 * d0 - d1;
  cubic[3] = 2.0 * (y0 - y1) + d0 + d1;
}

double value(const double (&cubic)[4], double s) { return cubic[0] + s * (cubic[1] + s * (cubic[2] + s * cubic[3])); }
double slope_of(const double (&cubic)[4], double s) { return cubic[1] + s * (2.0 * cubic[2] + s * 3.0 * cubic[3]); }

}  // namespace

Material::Material(std::span<const double> temperature_C, std::span<const double> enthalpy_J_kg,
                   std::span<const double> conductivity_W_mK, double density_kg_m3, std::size_t bins)
    : density_(density_kg_m3) {
  const std::size_t n = temperature_C.size();
  if (n < 2 || enthalpy_J_kg.size() != n || conductivity_W_mK.size() != n)
    refuse("temperature_C, enthalpy_J_kg and conductivity_W_mK need two or more points, as many of each");
  if (!(density_kg_m3 > 0.0) || !std::isfinite(density_kg_m3))
    refuse("density_kg_m3 = " + std::to_string(density_kg_m3) + "; expected a number above zero");
  if (bins == 0) refuse("bins = 0; expected at least one");
  for (std::size_t i = 0; i < n; ++i) {
    if (!std::isfinite(temperature_C[i]) || !std::isfinite(enthalpy_J_kg[i]))
      refuse("point " + std::to_string(i) + " is not a finite number");
    if (!(conductivity_W_mK[i] > 0.0) || !std::isfinite(conductivity_W_mK[i]))
      refuse("conductivity_W_mK[" + std::to_string(i) + "] = " + std::to_string(conductivity_W_mK[i]) +
             "; expected a number above zero");
    if (i > 0 && !(temperature_C[i] > temperature_C[i - 1] && enthalpy_J_kg[i] > enthalpy_J_kg[i - 1]))
      refuse("temperature_C and enthalpy_J_kg must increase; they do not at point " + std::to_string(i));
  }
  coolest_ = temperature_C.front();
  hottest_ = temperature_C.back();
  low_ = enthalpy_J_kg.front() * density_;
  width_ = (enthalpy_J_kg.back() - enthalpy_J_kg.front()) * density_ / static_cast<double>(bins);

  const std::vector<double> capacity = slopes(temperature_C, enthalpy_J_kg);
  std::vector<double> kirchhoff(n, 0.0);  // exact for a conductivity that is straight between points
  for (std::size_t i = 1; i < n; ++i)
    kirchhoff[i] = kirchhoff[i - 1] +
                   0.5 * (conductivity_W_mK[i] + conductivity_W_mK[i - 1]) * (temperature_C[i] - temperature_C[i - 1]);

  struct Edge {
    double temperature, temperature_slope, kirchhoff, kirchhoff_slope;
  };
  std::vector<Edge> edges(bins + 1);
  std::size_t i = 0;
  for (std::size_t b = 0; b <= bins; ++b) {
    const double wanted = b == bins ? enthalpy_J_kg.back() : (low_ + width_ * static_cast<double>(b)) / density_;
    while (i + 2 < n && enthalpy_J_kg[i + 1] <= wanted) ++i;
    const double step = temperature_C[i + 1] - temperature_C[i];
    double cubic[4];
    hermite(cubic, enthalpy_J_kg[i], enthalpy_J_kg[i + 1], capacity[i] * step, capacity[i + 1] * step);
    double lower = 0.0;
    double upper = 1.0;
    double s = std::clamp((wanted - enthalpy_J_kg[i]) / (enthalpy_J_kg[i + 1] - enthalpy_J_kg[i]), 0.0, 1.0);
    for (int turn = 0; turn < 60; ++turn) {  // Newton, kept inside a bracket that shrinks
      const double miss = value(cubic, s) - wanted;
      (miss > 0.0 ? upper : lower) = s;
      double next = s - miss / slope_of(cubic, s);
      if (!(next > lower && next < upper)) next = 0.5 * (lower + upper);
      if (std::abs(next - s) < 1e-15) break;
      s = next;
    }
    const double k = conductivity_W_mK[i] + s * (conductivity_W_mK[i + 1] - conductivity_W_mK[i]);
    const double per_bin = width_ * step / (slope_of(cubic, s) * density_);  // kelvin a bin
    edges[b] = {temperature_C[i] + s * step, per_bin, kirchhoff[i] + 0.5 * (conductivity_W_mK[i] + k) * s * step,
                k * per_bin};
  }
  bins_.resize(bins + 2);
  for (std::size_t b = 0; b < bins; ++b) {
    const Edge& a = edges[b];
    const Edge& z = edges[b + 1];
    hermite(bins_[b + 1].temperature, a.temperature, z.temperature, a.temperature_slope, z.temperature_slope);
    hermite(bins_[b + 1].kirchhoff, a.kirchhoff, z.kirchhoff, a.kirchhoff_slope, z.kirchhoff_slope);
  }
  const Edge& first = edges.front();
  const Edge& last = edges.back();
  bins_.front() = {{first.temperature - first.temperature_slope, first.temperature_slope, 0.0, 0.0},
                   {first.kirchhoff - first.kirchhoff_slope, first.kirchhoff_slope, 0.0, 0.0}};
  bins_.back() = {{last.temperature, last.temperature_slope, 0.0, 0.0},
                  {last.kirchhoff, last.kirchhoff_slope, 0.0, 0.0}};
}

Material Material::constant(double conductivity_W_mK, double heat_capacity_J_kgK, double density_kg_m3) {
  if (!(heat_capacity_J_kgK > 0.0) || !std::isfinite(heat_capacity_J_kgK))
    refuse("heat_capacity_J_kgK = " + std::to_string(heat_capacity_J_kgK) + "; expected a number above zero");
  // any two points will do: beyond them the slopes go on
  const double temperature[] = {0.0, 1000.0};
  const double enthalpy[] = {0.0, 1000.0 * heat_capacity_J_kgK};
  const double conductivity[] = {conductivity_W_mK, conductivity_W_mK};
  return Material(temperature, enthalpy, conductivity, density_kg_m3, 1);
}

double Material::fraction(double enthalpy_J_m3, std::size_t& bin) const {
  const double x = (enthalpy_J_m3 - low_) / width_ + 1.0;
  bin = static_cast<std::size_t>(std::clamp(x, 0.0, static_cast<double>(bins_.size() - 1)));
  return x - static_cast<double>(bin);
}

double Material::temperature_C(double enthalpy_J_m3) const {
  if (std::isnan(enthalpy_J_m3)) return enthalpy_J_m3;
  std::size_t bin = 0;
  const double s = fraction(enthalpy_J_m3, bin);
  return value(bins_[bin].temperature, s);
}

double Material::enthalpy_J_m3(double temperature_C) const {
  if (std::isnan(temperature_C)) return temperature_C;
  std::size_t bin = 0;  // the last bin that starts no hotter
  std::size_t above = bins_.size();
  while (above - bin > 1) {
    const std::size_t middle = (bin + above) / 2;
    (bins_[middle].temperature[0] <= temperature_C ? bin : above) = middle;
  }
  const auto& cubic = bins_[bin].temperature;
  const bool straight = bin == 0 || bin + 1 == bins_.size();
  double s = (temperature_C - cubic[0]) / (straight ? cubic[1] : cubic[1] + cubic[2] + cubic[3]);
  for (int turn = 0; turn < 20 && !straight; ++turn) {
    const double change = (value(cubic, s) - temperature_C) / slope_of(cubic, s);
    s = std::clamp(s - change, 0.0, 1.0);
    if (std::abs(change) < 1e-15) break;
  }
  return low_ + width_ * (static_cast<double>(bin) - 1.0 + s);
}

double Material::conductivity_W_mK(double temperature_C) const {
  std::size_t bin = 0;
  const double s = fraction(enthalpy_J_m3(temperature_C), bin);
  return slope_of(bins_[bin].kirchhoff, s) / slope_of(bins_[bin].temperature, s);
}

double Material::heat_capacity_J_m3K(double temperature_C) const {
  std::size_t bin = 0;
  const double s = fraction(enthalpy_J_m3(temperature_C), bin);
  return width_ / slope_of(bins_[bin].temperature, s);
}

}  // namespace decalesce::conduction
