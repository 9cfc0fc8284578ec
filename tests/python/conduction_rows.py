"""What each row of data/checks/conduction.csv asks, put to the closed forms."""

import math
from collections.abc import Callable
from typing import Any

from decalesce.conduction import Piece, half_space, lumped, series, sine_face_C

Row = Any
PER_UNIT = {"s": 1.0, "min": 60.0, "h": 3600.0}


def piece(row: Row) -> Piece:
    properties = {"film": row.film, "conductivity": row.conductivity, "diffusivity": row.diffusivity}
    if row.form == "plate_one_sided":
        return Piece.plate(row.size_1_mm, one_sided=True, **properties)
    sizes = [size for size in (row.size_1_mm, row.size_2_mm) if not math.isnan(size)]
    return getattr(Piece, row.form)(*sizes, **properties)


def of_piece(row: Row) -> float:
    ends = {"start_C": row.start_C, "surroundings_C": row.surroundings_C}
    if row.form == "bar" and not math.isnan(row.biot):
        return square_bar(row)
    place = tuple(x for x in (row.at_1_mm, row.at_2_mm) if not math.isnan(x))
    if row.quantity == "temperature":
        return piece(row).temperature_C(row.time_s, **ends, at_mm=place)
    if row.quantity == "time":
        return piece(row).time_s(row.target_C, **ends, at_mm=place)
    assert row.quantity == "heat"
    length = 1.0 if math.isnan(row.size_2_mm) else row.size_2_mm * 1e-3
    volume = math.pi / 4.0 * (row.size_1_mm * 1e-3) ** 2 * length
    content = row.volumetric_heat * volume * (row.start_C - row.surroundings_C)
    return piece(row).heat_fraction(row.time_s) * content * 1e-3


def square_bar(row: Row) -> float:
    """Stated as Bi and Fo on the half width."""
    half = row.size_1_mm / 2.0
    if row.quantity == "mean":
        left = series.mean("plate", row.biot, row.fourier) ** 2
    else:
        left = series.theta("plate", row.biot, row.fourier, row.at_1_mm / half)
        left *= series.theta("plate", row.biot, row.fourier, row.at_2_mm / half)
    return row.surroundings_C + left * (row.start_C - row.surroundings_C)


def of_lumped(row: Row) -> float:
    time = lumped.time_s(
        row.target_C,
        start_C=row.start_C,
        surroundings_C=row.surroundings_C,
        volume_to_surface_mm=row.volume_to_surface_mm,
        film=row.film,
        volumetric_heat=row.volumetric_heat,
    )
    return row.path_mm / 10.0 / time if row.quantity == "speed" else time


def of_lumped_radiation(row: Row) -> float:
    body = {"volume_to_surface_mm": row.volume_to_surface_mm, "volumetric_heat": row.volumetric_heat}
    around = {"film": row.film, "gas_C": row.gas_C, "emissivity": row.emissivity, "walls_C": row.walls_C}
    if row.quantity == "time":
        target = lumped.steady_C(**around) - row.target_K_from_steady
        return lumped.with_radiation_time_s(target, start_C=row.start_C, **body, **around)
    first = lumped.with_radiation_time_s(row.target_C, start_C=row.start_C, **body, **around) + row.hold_s
    hottest = lumped.with_radiation_C(first, start_C=row.start_C, **body, **around)
    around |= {"film": row.second_film, "gas_C": row.second_surroundings_C, "walls_C": row.second_surroundings_C}
    return first + lumped.with_radiation_time_s(row.second_target_C, start_C=hottest, **body, **around)


def of_radiation_only(row: Row) -> float:
    return lumped.radiation_only_time_s(
        row.target_C,
        start_C=row.start_C,
        walls_C=row.walls_C,
        volume_to_surface_mm=row.volume_to_surface_mm,
        volumetric_heat=row.volumetric_heat,
        emissivity=row.emissivity,
    )


def of_step(row: Row) -> float:
    ends = {"start_C": row.start_C, "surface_C": row.surroundings_C, "diffusivity": row.diffusivity}
    if row.quantity == "depth":
        return half_space.step_depth_mm(row.target_C, row.time_s, **ends) * 1e-3
    if row.quantity == "time":
        return half_space.step_time_s(row.target_C, row.at_1_mm, **ends)
    return half_space.step_C(row.at_1_mm, row.time_s, **ends)


def of_film(row: Row) -> float:
    properties = {"film": row.film, "conductivity": row.conductivity, "diffusivity": row.diffusivity}
    ends = {"start_C": row.start_C, "surroundings_C": row.surroundings_C, **properties}
    if row.quantity == "time":
        return half_space.film_time_s(row.target_C, row.at_1_mm, **ends)
    return half_space.film_C(row.at_1_mm, row.time_s, **ends)


def of_flux(row: Row) -> float:
    return half_space.flux_C(
        row.at_1_mm,
        row.time_s,
        start_C=row.start_C,
        flux=row.flux,
        conductivity=row.conductivity,
        diffusivity=row.diffusivity,
    )


def of_pulse(row: Row) -> float:
    return half_space.pulse_C(
        row.at_1_mm,
        row.time_s,
        start_C=row.start_C,
        energy=row.energy,
        volumetric_heat=row.volumetric_heat,
        diffusivity=row.diffusivity,
    )


def of_wave(row: Row) -> float:
    wave = half_space.wave(row.at_1_mm, amplitude_K=row.amplitude_K, period_s=row.period_s, diffusivity=row.diffusivity)
    return wave.lag_s if row.quantity == "lag" else wave.amplitude_K


def of_sine_face(row: Row) -> float:
    return sine_face_C(
        row.at_1_mm,
        row.time_s,
        thickness_mm=row.size_1_mm,
        start_C=row.start_C,
        amplitude_K=row.amplitude_K,
        period_s=row.period_s,
        diffusivity=row.diffusivity,
    )


FORMS: dict[str, Callable[[Row], float]] = {
    "lumped": of_lumped,
    "lumped_radiation": of_lumped_radiation,
    "radiation_only": of_radiation_only,
    "half_space_step": of_step,
    "half_space_film": of_film,
    "half_space_flux": of_flux,
    "half_space_pulse": of_pulse,
    "half_space_wave": of_wave,
    "sine_face": of_sine_face,
}


def answer(row: Row) -> float:
    """The closed form's answer in the unit of the row."""
    found = FORMS.get(row.form, of_piece)(row)
    if row.unit == "degF":
        return found * 1.8 + 32.0
    return found / PER_UNIT.get(row.unit, 1.0)
