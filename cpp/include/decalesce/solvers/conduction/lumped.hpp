#pragma once
// A piece so thin, or so slowly heated, that it has one temperature. `length` is volume over surface (m), half the
// thickness of a plate; `volumetric_heat` is density times specific heat (J/m3K). Temperatures in K.
// NaN for a property or a time that makes no sense, and for a temperature that is never reached.
// [Incropera_HeatTransfer] [CarslawJaeger1959]
#include <array>
#include <cstdint>
#include <string_view>

namespace decalesce::conduction::closed {

/// Bi = h L / k: the resistance inside over that of the film.
double biot_number(double film, double length, double conductivity);

/// With Bi = h (V/A) / k below this the piece may be taken as lumped. [Incropera_HeatTransfer]
inline constexpr double lumped_greatest_biot = 0.1;

/// What limits the heating: one resistance is ten times the other, or neither is.
enum class Limit : std::uint8_t { film, both, conduction, unknown };
inline constexpr std::array<std::string_view, 4> limit_names{"film", "both", "conduction", "unknown"};
Limit what_limits(double biot);
std::string_view limit_sentence(Limit limit);

/// theta = exp(-h t / (rho c V/A)), and the time to a theta between 0 and 1.
double lumped_theta(double time, double length, double film, double volumetric_heat);
double lumped_time(double theta, double length, double film, double volumetric_heat);

/// Film and grey radiation together; the gas and the walls may differ.
struct Surroundings {
  double film;        // W/m2K, convection alone: what radiates is not in it
  double gas;         // K
  double emissivity;  // 0 to 1
  double walls;       // K
};

/// Temperature at which film and radiation balance.
double steady_temperature(const Surroundings& around);
/// Time from `start` to `target`, which must lie between start and the steady temperature.
double lumped_radiation_time(double start, double target, double length, double volumetric_heat,
                             const Surroundings& around);
double lumped_radiation_temperature(double start, double time, double length, double volumetric_heat,
                                    const Surroundings& around);

/// Time from `start` to `target` by radiation alone, in closed form. [HeatTransferHandbook]
double radiation_only_time(double start, double target, double length, double volumetric_heat, double emissivity,
                           double walls);

}  // namespace decalesce::conduction::closed
