"""The half space: stock so thick that its far side does not matter yet.

Good while diffusivity times time over the square of the half thickness is below 0.2. Depths are mm below the
surface, ``diffusivity`` m2/s, ``conductivity`` W/mK. All functions broadcast, and raise ValueError or TypeError naming
a single bad argument; in an array it gives NaN. Sources: Incropera, Carslaw and Jaeger; the pulse Holman
(data/bibliography.bib).
"""

from typing import Any, NamedTuple

from decalesce import _core, units
from decalesce.conduction import _numbers as args
from decalesce.conduction._numbers import Value

__all__ = [
    "Wave",
    "film_C",
    "film_time_s",
    "flux_C",
    "flux_time_s",
    "pulse_C",
    "pulse_time_s",
    "step_C",
    "step_depth_mm",
    "step_time_s",
    "wave",
    "wave_depth_mm",
]


class Wave(NamedTuple):
    """A swing below the surface: its amplitude (K) and how long it comes after the surface (s)."""

    amplitude_K: Value
    lag_s: Value


def _depth(value: Any) -> Value:
    return args.length_m("depth_mm", value, zero=True)


def _time(value: Any) -> Value:
    return args.time_s("time_s", value)


def _diffusivity(value: Any) -> Value:
    return args.above_zero("diffusivity", value, "a diffusivity in m2/s")


def _conductivity(value: Any) -> Value:
    return args.above_zero("conductivity", value, "a conductivity in W/mK")


def _film(value: Any) -> Value:
    return args.above_zero("film", value, "a film coefficient in W/m2K")


def _heat(value: Any) -> Value:
    return args.above_zero("volumetric_heat", value, "density times specific heat in J/m3K")


def step_C(depth_mm: Any, time_s: Any, *, start_C: Any, surface_C: Any, diffusivity: Any) -> Value:
    """Temperature (degC) at a depth after the surface was set to another temperature."""
    start, surface = units.temperature_C(start_C, "start_C"), units.temperature_C(surface_C, "surface_C")
    felt = _core.half_space_step(_depth(depth_mm), _time(time_s), _diffusivity(diffusivity))
    return start + (surface - start) * felt


def step_time_s(temperature_C: Any, depth_mm: Any, *, start_C: Any, surface_C: Any, diffusivity: Any) -> Value:
    """Time (s) at which a depth reaches a temperature after a step of the surface."""
    felt = _felt(temperature_C, start_C, "surface_C", surface_C)
    return _core.half_space_step_time(felt, _depth(depth_mm), _diffusivity(diffusivity))


def step_depth_mm(temperature_C: Any, time_s: Any, *, start_C: Any, surface_C: Any, diffusivity: Any) -> Value:
    """Depth (mm) that has just reached a temperature by a time after a step of the surface."""
    felt = _felt(temperature_C, start_C, "surface_C", surface_C)
    return _core.half_space_step_depth(felt, _time(time_s), _diffusivity(diffusivity)) * 1e3


def film_C(
    depth_mm: Any,
    time_s: Any,
    *,
    start_C: Any,
    surroundings_C: Any,
    film: Any,
    conductivity: Any,
    diffusivity: Any,
) -> Value:
    """Temperature (degC) at a depth behind a film (W/m2K) to surroundings at another temperature."""
    start, around = units.temperature_C(start_C, "start_C"), units.temperature_C(surroundings_C, "surroundings_C")
    felt = _core.half_space_film(
        _depth(depth_mm), _time(time_s), _film(film), _conductivity(conductivity), _diffusivity(diffusivity)
    )
    return start + (around - start) * felt


def film_time_s(
    temperature_C: Any,
    depth_mm: Any,
    *,
    start_C: Any,
    surroundings_C: Any,
    film: Any,
    conductivity: Any,
    diffusivity: Any,
) -> Value:
    """Time (s) at which a depth reaches a temperature behind a film."""
    felt = _felt(temperature_C, start_C, "surroundings_C", surroundings_C)
    return _core.half_space_film_time(
        felt, _depth(depth_mm), _film(film), _conductivity(conductivity), _diffusivity(diffusivity)
    )


def flux_C(depth_mm: Any, time_s: Any, *, start_C: Any, flux: Any, conductivity: Any, diffusivity: Any) -> Value:
    """Temperature (degC) at a depth under a constant flux (W/m2, into the surface)."""
    rise = _core.half_space_flux(
        _depth(depth_mm),
        _time(time_s),
        args.number("flux", flux, "a flux in W/m2"),
        _conductivity(conductivity),
        _diffusivity(diffusivity),
    )
    return units.temperature_C(start_C, "start_C") + rise


def flux_time_s(
    temperature_C: Any, depth_mm: Any, *, start_C: Any, flux: Any, conductivity: Any, diffusivity: Any
) -> Value:
    """Time (s) at which a depth reaches a temperature under a constant flux (W/m2); NaN where it moves away."""
    rise = units.temperature_C(temperature_C) - units.temperature_C(start_C, "start_C")
    return _core.half_space_flux_time(
        rise,
        _depth(depth_mm),
        args.number("flux", flux, "a flux in W/m2"),
        _conductivity(conductivity),
        _diffusivity(diffusivity),
    )


def pulse_C(depth_mm: Any, time_s: Any, *, start_C: Any, energy: Any, volumetric_heat: Any, diffusivity: Any) -> Value:
    """Temperature (degC) at a depth after a pulse of energy (J/m2) at time 0; NaN on the surface at time 0."""
    rise = _core.half_space_pulse(
        _depth(depth_mm),
        _time(time_s),
        args.number("energy", energy, "an energy in J/m2"),
        _heat(volumetric_heat),
        _diffusivity(diffusivity),
    )
    return units.temperature_C(start_C, "start_C") + rise


def pulse_time_s(
    temperature_C: Any, depth_mm: Any, *, start_C: Any, energy: Any, volumetric_heat: Any, diffusivity: Any
) -> Value:
    """Time (s) at which a depth has fallen back to a temperature after a pulse; NaN where it never got so hot."""
    rise = units.temperature_C(temperature_C) - units.temperature_C(start_C, "start_C")
    return _core.half_space_pulse_time(
        rise,
        _depth(depth_mm),
        args.number("energy", energy, "an energy in J/m2"),
        _heat(volumetric_heat),
        _diffusivity(diffusivity),
    )


def wave(depth_mm: Any, *, amplitude_K: Any, period_s: Any, diffusivity: Any) -> Wave:
    """What a depth feels of a surface that has swung as a sine for a long time: amplitude (K) and lag (s)."""
    at = _depth(depth_mm), args.time_s("period_s", period_s, zero=False), _diffusivity(diffusivity)
    swing = units.difference_K(amplitude_K, "amplitude_K")
    return Wave(swing * _core.half_space_wave_amplitude(*at), _core.half_space_wave_lag(*at))


def wave_depth_mm(share: Any, *, period_s: Any, diffusivity: Any) -> Value:
    """Depth (mm) at which this share of the amplitude at the surface is left."""
    left = args.share("share", share, "a share of the amplitude")
    period = args.time_s("period_s", period_s, zero=False)
    return _core.half_space_wave_depth(left, period, _diffusivity(diffusivity)) * 1e3


def _felt(temperature_C: Any, start_C: Any, end_name: str, end_C: Any) -> Value:
    target = units.temperature_C(temperature_C)
    start, end = units.temperature_C(start_C, "start_C"), units.temperature_C(end_C, end_name)
    return args.share_of_way(target, start, end, ("temperature_C", "start_C", end_name))
