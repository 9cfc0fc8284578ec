#pragma once
// A body so thick that the far side does not matter yet: the first moments of a thick piece, a hearth, a lining.
// Good while Fo = alpha t / L^2 < 0.2 for a real body with half thickness L. All lengths m, times s; NaN for a negative
// depth or time and for a property that is not above zero. [Incropera_HeatTransfer] [CarslawJaeger1959]

namespace decalesce::conduction::closed {

/// Share of a step of the surface temperature felt at a depth: erfc(x / (2 sqrt(alpha t))).
double half_space_step(double depth, double time, double diffusivity);
double half_space_step_time(double share, double depth, double diffusivity);
/// Depth that has felt this share by then.
double half_space_step_depth(double share, double time, double diffusivity);

/// Share of a step of the surroundings' temperature felt behind a film (W/m2K; infinity: a step of the surface).
/// Written with the scaled complementary error function, so that no argument overflows.
double half_space_film(double depth, double time, double film, double conductivity, double diffusivity);
double half_space_film_time(double share, double depth, double film, double conductivity, double diffusivity);

/// Rise (K) under a constant flux (W/m2) through the surface.
double half_space_flux(double depth, double time, double flux, double conductivity, double diffusivity);
double half_space_flux_time(double rise, double depth, double flux, double conductivity, double diffusivity);

/// Rise (K) after a pulse of energy (J/m2) at time 0; `volumetric_heat` is density times specific heat, J/m3K. NaN at
/// the surface at time 0. [Holman_HeatTransfer]
double half_space_pulse(double depth, double time, double energy, double volumetric_heat, double diffusivity);
/// When a depth has fallen back to this rise, after its hottest moment at x^2 / (2 alpha). NaN if it never got there.
double half_space_pulse_time(double rise, double depth, double energy, double volumetric_heat, double diffusivity);

/// What is left of a surface temperature that swings for ever, and how long it comes after.
struct Wave {
  double amplitude;  // share of the amplitude at the surface: exp(-x / d), d = sqrt(2 alpha / omega)
  double lag;        // s: x / (d omega)
};
Wave half_space_wave(double depth, double period, double diffusivity);
/// Depth at which this share of the amplitude is left.
double half_space_wave_depth(double share, double period, double diffusivity);

}  // namespace decalesce::conduction::closed
