#pragma once
// What a body is made of, as the solver wants it: temperature T and the Kirchhoff integral of conductivity, both
// against enthalpy per volume. With enthalpy as the unknown a peak in the heat capacity is only a flat stretch of T, so
// it costs no accuracy, and what flows between two points is a difference of the Kirchhoff integral.
#include <cstddef>
#include <span>
#include <vector>

namespace decalesce::conduction {

class Material {
 public:
  /// One cubic a bin for T (degC) and one for the Kirchhoff integral (W/m), in the fraction of the bin.
  struct alignas(64) Bin {  // a cache line
    double temperature[4];
    double kirchhoff[4];
  };
  static constexpr std::size_t default_bins = 512;

  /// From a table against temperature: increasing degC, enthalpy (J/kg, increasing), conductivity (W/mK, above zero),
  /// and one density (kg/m3). Beyond the ends of the table the end slopes go on.
  /// Throws std::invalid_argument naming what is wrong.
  Material(std::span<const double> temperature_C, std::span<const double> enthalpy_J_kg,
           std::span<const double> conductivity_W_mK, double density_kg_m3, std::size_t bins = default_bins);

  /// Constant properties.
  static Material constant(double conductivity_W_mK, double heat_capacity_J_kgK, double density_kg_m3);

  double temperature_C(double enthalpy_J_m3) const;
  double enthalpy_J_m3(double temperature_C) const;
  double conductivity_W_mK(double temperature_C) const;
  double heat_capacity_J_m3K(double temperature_C) const;
  double density_kg_m3() const { return density_; }
  double coolest_C() const { return coolest_; }
  double hottest_C() const { return hottest_; }

  /// The bins, with a straight one put before and after; bin 1 starts at `low()`.
  std::span<const Bin> bins() const { return bins_; }
  double low_J_m3() const { return low_; }
  double width_J_m3() const { return width_; }

 private:
  double fraction(double enthalpy_J_m3, std::size_t& bin) const;

  std::vector<Bin> bins_;
  double low_ = 0.0;
  double width_ = 1.0;
  double density_ = 0.0;
  double coolest_ = 0.0;
  double hottest_ = 0.0;
};

}  // namespace decalesce::conduction
