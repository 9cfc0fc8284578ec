"""Thin or slowly heated stock: the whole piece at one temperature.

Good while the Biot number on volume over surface, ``film * volume_to_surface / conductivity``, is below 0.1
(`GREATEST_BIOT`, Incropera). ``volume_to_surface_mm`` is half the thickness of a plate, a quarter of the diameter of a
round, a sixth of that of a sphere; ``volumetric_heat`` is density times specific heat, J/m3K. All functions broadcast
and raise ValueError or TypeError naming a single bad argument; in an array it gives NaN.
"""

from typing import Any

import numpy as np

from decalesce import _core, units
from decalesce.conduction import _numbers as args
from decalesce.conduction._numbers import Value

__all__ = [
    "GREATEST_BIOT",
    "biot_number",
    "diffusivity",
    "radiation_only_time_s",
    "steady_C",
    "temperature_C",
    "time_s",
    "with_radiation_C",
    "with_radiation_time_s",
]

GREATEST_BIOT: float = _core.lumped_greatest_biot
"""Above this Biot number (0.1) the piece is no longer at one temperature."""


def biot_number(*, film: Any, length_mm: Any, conductivity: Any) -> Value:
    """Biot number h L / k: resistance inside over that of the film. ``film`` W/m2K, ``conductivity`` W/mK.

    ``length_mm`` is half the thickness or the radius for the series, volume over surface for lumped answers.
    """
    return _core.biot_number(
        args.zero_or_more("film", film, "a film coefficient in W/m2K"),
        args.length_m("length_mm", length_mm),
        args.above_zero("conductivity", conductivity, "a conductivity in W/mK"),
    )


def diffusivity(*, conductivity: Any, density: Any, specific_heat: Any) -> Value:
    """Diffusivity (m2/s) from conductivity (W/mK), density (kg/m3) and specific heat (J/kgK)."""
    per_volume = args.above_zero("density", density, "a density in kg/m3") * args.above_zero(
        "specific_heat", specific_heat, "a specific heat in J/kgK"
    )
    return args.above_zero("conductivity", conductivity, "a conductivity in W/mK") / per_volume


def _length(value: Any) -> Value:
    return args.length_m("volume_to_surface_mm", value)


def _heat(value: Any) -> Value:
    return args.above_zero("volumetric_heat", value, "density times specific heat in J/m3K")


def _kelvin(argument: str, value: Any) -> Value:
    return units.temperature_C(value, argument) + 273.15


def _around(film: Any, gas_C: Any, emissivity: Any, walls_C: Any) -> tuple[Value, Value, Value, Value]:
    grey = args.zero_or_more("emissivity", emissivity, "an emissivity up to 1")
    if isinstance(grey, float) and grey > 1.0:
        raise ValueError(f"emissivity = {emissivity!r}; expected an emissivity up to 1, 0 or more")
    h = args.zero_or_more("film", film, "a film coefficient in W/m2K")
    if isinstance(grey, float) and isinstance(h, float) and grey == 0.0 and h == 0.0:
        raise ValueError("film = 0 and emissivity = 0; expected one of them above 0, or nothing heats the piece")
    return h, _kelvin("gas_C", gas_C), grey, _kelvin("walls_C", walls_C)


def temperature_C(
    time_s: Any, *, start_C: Any, surroundings_C: Any, volume_to_surface_mm: Any, film: Any, volumetric_heat: Any
) -> Value:
    """Temperature (degC) after a time through a film (W/m2K)."""
    start, around = units.temperature_C(start_C, "start_C"), units.temperature_C(surroundings_C, "surroundings_C")
    left = _core.lumped_theta(
        args.time_s("time_s", time_s),
        _length(volume_to_surface_mm),
        args.above_zero("film", film, "a film coefficient in W/m2K"),
        _heat(volumetric_heat),
    )
    return around + (start - around) * left


def time_s(
    temperature_C: Any,
    *,
    start_C: Any,
    surroundings_C: Any,
    volume_to_surface_mm: Any,
    film: Any,
    volumetric_heat: Any,
) -> Value:
    """Time (s) to a temperature through a film (W/m2K)."""
    start, around = units.temperature_C(start_C, "start_C"), units.temperature_C(surroundings_C, "surroundings_C")
    target = units.temperature_C(temperature_C)
    left = 1.0 - args.share_of_way(target, start, around, ("temperature_C", "start_C", "surroundings_C"))
    return _core.lumped_time(
        left,
        _length(volume_to_surface_mm),
        args.above_zero("film", film, "a film coefficient in W/m2K"),
        _heat(volumetric_heat),
    )


def steady_C(*, film: Any, gas_C: Any, emissivity: Any, walls_C: Any) -> Value:
    """Temperature (degC) at which film (to the gas) and grey radiation (to the walls) balance."""
    return _core.steady_temperature(*_around(film, gas_C, emissivity, walls_C)) - 273.15


def with_radiation_time_s(
    temperature_C: Any,
    *,
    start_C: Any,
    volume_to_surface_mm: Any,
    volumetric_heat: Any,
    film: Any,
    gas_C: Any,
    emissivity: Any,
    walls_C: Any,
) -> Value:
    """Time (s) to a temperature by film and grey radiation together; ``film`` is convection alone.

    The integral of the energy balance, to 1e-12. NaN, or ValueError for single numbers, where the temperature does not
    lie between start and `steady_C`.
    """
    start, target = _kelvin("start_C", start_C), _kelvin("temperature_C", temperature_C)
    around = _around(film, gas_C, emissivity, walls_C)
    answer = _core.lumped_radiation_time(start, target, _length(volume_to_surface_mm), _heat(volumetric_heat), *around)
    if isinstance(answer, float) and np.isnan(answer) and not np.isnan([start, target, *around]).any():
        steady = _core.steady_temperature(*around) - 273.15
        raise ValueError(
            f"temperature_C = {temperature_C!r}; expected between start_C = {start_C!r} and the steady temperature, "
            f"{steady:g} degC"
        )
    return answer


def with_radiation_C(
    time_s: Any,
    *,
    start_C: Any,
    volume_to_surface_mm: Any,
    volumetric_heat: Any,
    film: Any,
    gas_C: Any,
    emissivity: Any,
    walls_C: Any,
) -> Value:
    """Temperature (degC) after a time by film and grey radiation together; ``film`` is convection alone."""
    kelvin = _core.lumped_radiation_temperature(
        _kelvin("start_C", start_C),
        args.time_s("time_s", time_s),
        _length(volume_to_surface_mm),
        _heat(volumetric_heat),
        *_around(film, gas_C, emissivity, walls_C),
    )
    return kelvin - 273.15


def radiation_only_time_s(
    temperature_C: Any,
    *,
    start_C: Any,
    walls_C: Any,
    volume_to_surface_mm: Any,
    volumetric_heat: Any,
    emissivity: Any,
) -> Value:
    """Time (s) to a temperature by radiation alone, in closed form (Heat Transfer Handbook, Eq. 3.283)."""
    start, target, walls = (
        units.temperature_C(start_C, "start_C"),
        units.temperature_C(temperature_C),
        units.temperature_C(walls_C, "walls_C"),
    )
    args.share_of_way(target, start, walls, ("temperature_C", "start_C", "walls_C"))
    return _core.radiation_only_time(
        start + 273.15,
        target + 273.15,
        _length(volume_to_surface_mm),
        _heat(volumetric_heat),
        args.share("emissivity", emissivity, "an emissivity"),
        walls + 273.15,
    )
