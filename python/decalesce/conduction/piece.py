"""A piece with its sizes: temperatures, times and heat by the series and their products."""

from typing import Any

import numpy as np

from decalesce import _core, units
from decalesce.conduction import _numbers as args
from decalesce.conduction._numbers import Value


class Piece:
    """A piece of constant properties that meets surroundings at one temperature through one film on all faces.

    Make one by `plate`, `round`, `sphere`, `bar`, `block`, `short_cylinder`, `semi_infinite_plate` or
    `semi_infinite_round`. ``film`` is W/m2K (``math.inf``: the surface is at the temperature of the surroundings at
    once), ``conductivity`` W/mK, ``diffusivity`` m2/s. Sizes are whole thicknesses and diameters, mm.

    Places are given as ``at_mm``: one distance for each direction, from the centre, in the order of the sizes; along a
    semi-infinite direction, which comes last, from the end. Nothing given is the centre.

    A bar is the product of two plates, a block of three, a short cylinder of a round and a plate (Incropera, Cengel);
    this holds only with the same film on all faces.
    """

    def __init__(
        self,
        directions: list[tuple[str, Any, str]],
        *,
        semi_infinite: bool,
        film: Any,
        conductivity: Any,
        diffusivity: Any,
    ) -> None:
        """Use one of the class methods; ``directions`` are (body, half size in m, name of the size)."""
        numbers = {
            "film": args.above_zero("film", film, "a film coefficient in W/m2K"),
            "conductivity": args.above_zero("conductivity", conductivity, "a conductivity in W/mK"),
            "diffusivity": args.above_zero("diffusivity", diffusivity, "a diffusivity in m2/s"),
        }
        numbers |= {name: half for _, half, name in directions}
        for argument, value in numbers.items():
            if not isinstance(value, float) or np.isnan(value):
                raise TypeError(f"{argument} = {value!r}; expected one number for one piece")
        self._halves = tuple(half for _, half, _ in directions)
        self._semi_infinite = semi_infinite
        self._core = _core.ConductionPiece(
            [(body, half) for body, half, _ in directions],
            semi_infinite,
            numbers["film"],
            numbers["conductivity"],
            numbers["diffusivity"],
        )

    @classmethod
    def plate(
        cls, thickness_mm: Any, *, film: Any, conductivity: Any, diffusivity: Any, one_sided: bool = False
    ) -> "Piece":
        """A plate heated on both faces; ``one_sided`` where one is insulated, and places count from that face."""
        half = args.length_m("thickness_mm", thickness_mm) * (1.0 if one_sided else 0.5)
        return cls._of([("plate", half, "thickness_mm")], film, conductivity, diffusivity)

    @classmethod
    def round(cls, diameter_mm: Any, *, film: Any, conductivity: Any, diffusivity: Any) -> "Piece":
        """A round bar, long against its diameter."""
        return cls._of([_half("cylinder", "diameter_mm", diameter_mm)], film, conductivity, diffusivity)

    @classmethod
    def sphere(cls, diameter_mm: Any, *, film: Any, conductivity: Any, diffusivity: Any) -> "Piece":
        """A sphere."""
        return cls._of([_half("sphere", "diameter_mm", diameter_mm)], film, conductivity, diffusivity)

    @classmethod
    def bar(cls, thickness_mm: Any, width_mm: Any, *, film: Any, conductivity: Any, diffusivity: Any) -> "Piece":
        """A rectangular bar, long against its section; places are (along the thickness, along the width)."""
        sides = [_half("plate", "thickness_mm", thickness_mm), _half("plate", "width_mm", width_mm)]
        return cls._of(sides, film, conductivity, diffusivity)

    @classmethod
    def block(
        cls, thickness_mm: Any, width_mm: Any, length_mm: Any, *, film: Any, conductivity: Any, diffusivity: Any
    ) -> "Piece":
        """A block; places are (along the thickness, the width, the length)."""
        sides = {"thickness_mm": thickness_mm, "width_mm": width_mm, "length_mm": length_mm}
        return cls._of([_half("plate", name, size) for name, size in sides.items()], film, conductivity, diffusivity)

    @classmethod
    def short_cylinder(
        cls, diameter_mm: Any, length_mm: Any, *, film: Any, conductivity: Any, diffusivity: Any
    ) -> "Piece":
        """A short cylinder; places are (radius, distance from the middle of the length)."""
        sides = [_half("cylinder", "diameter_mm", diameter_mm), _half("plate", "length_mm", length_mm)]
        return cls._of(sides, film, conductivity, diffusivity)

    @classmethod
    def semi_infinite_plate(cls, thickness_mm: Any, *, film: Any, conductivity: Any, diffusivity: Any) -> "Piece":
        """A plate with one end in sight; places are (from the middle of the thickness, from the end)."""
        side = _half("plate", "thickness_mm", thickness_mm)
        return cls._of([side], film, conductivity, diffusivity, semi_infinite=True)

    @classmethod
    def semi_infinite_round(cls, diameter_mm: Any, *, film: Any, conductivity: Any, diffusivity: Any) -> "Piece":
        """A round bar with one end in sight; places are (radius, from the end)."""
        side = _half("cylinder", "diameter_mm", diameter_mm)
        return cls._of([side], film, conductivity, diffusivity, semi_infinite=True)

    @classmethod
    def _of(
        cls,
        directions: list[tuple[str, Any, str]],
        film: Any,
        conductivity: Any,
        diffusivity: Any,
        *,
        semi_infinite: bool = False,
    ) -> "Piece":
        return cls(
            directions, semi_infinite=semi_infinite, film=film, conductivity=conductivity, diffusivity=diffusivity
        )

    @property
    def biot(self) -> float:
        """Biot number on the least half thickness or radius."""
        thinnest = min(range(len(self._halves)), key=self._halves.__getitem__)
        return self._core.biot(thinnest)

    def theta(self, time_s: Any, at_mm: Any = ()) -> Value:
        """What is left of the difference, (T - surroundings) / (start - surroundings), at a time and a place.

        Raises ValueError for a negative time or a place outside the piece; in an array NaN.
        """
        return self._core.theta(args.time_s("time_s", time_s), *self._place(at_mm))

    def temperature_C(self, time_s: Any, *, start_C: Any, surroundings_C: Any, at_mm: Any = ()) -> Value:
        """Temperature (degC) at a time and a place of a piece that starts even. Raises as `theta`."""
        start, around = _temperatures(start_C, surroundings_C)
        return around + (start - around) * self.theta(time_s, at_mm)

    def mean_C(self, time_s: Any, *, start_C: Any, surroundings_C: Any) -> Value:
        """Mean temperature (degC) over the volume. Raises as `theta`; ValueError for a semi-infinite piece."""
        start, around = _temperatures(start_C, surroundings_C)
        return around + (start - around) * (1.0 - self.heat_fraction(time_s))

    def heat_fraction(self, time_s: Any) -> Value:
        """Share of all the heat that will be exchanged, so far. Raises as `mean_C`."""
        self._finite("heat_fraction")
        return 1.0 - self._core.mean(args.time_s("time_s", time_s))

    def time_s(self, temperature_C: Any, *, start_C: Any, surroundings_C: Any, at_mm: Any = ()) -> Value:
        """Time (s) at which a place reaches a temperature.

        Raises ValueError for a temperature that does not lie between start and surroundings; in an array NaN.
        """
        left = self._left(temperature_C, start_C, surroundings_C)
        return self._core.time_to(left, *self._place(at_mm))

    def time_to_mean_s(self, temperature_C: Any, *, start_C: Any, surroundings_C: Any) -> Value:
        """Time (s) at which the mean over the volume reaches a temperature. Raises as `time_s` and `mean_C`."""
        self._finite("time_to_mean_s")
        return self._core.time_to_mean(self._left(temperature_C, start_C, surroundings_C))

    def _left(self, temperature_C: Any, start_C: Any, surroundings_C: Any) -> Value:
        start, around = _temperatures(start_C, surroundings_C)
        target = units.temperature_C(temperature_C)
        return 1.0 - args.share_of_way(target, start, around, ("temperature_C", "start_C", "surroundings_C"))

    def _finite(self, what: str) -> None:
        if self._semi_infinite:
            raise ValueError(f"{what}: a semi-infinite piece has no mean; expected a piece with all its sizes")

    def _place(self, at_mm: Any) -> tuple[Value, Value, Value]:
        """Three distances in m, 0 where none is given."""
        given = tuple(at_mm) if isinstance(at_mm, tuple | list) else (at_mm,)
        expected = len(self._halves) + int(self._semi_infinite)
        if len(given) > expected:
            raise ValueError(f"at_mm = {at_mm!r}; expected up to {expected} distances, as the piece has directions")
        place: list[Value] = [0.0, 0.0, 0.0]
        for k, distance in enumerate(given):
            from_end = k == len(self._halves)
            value = units.length_mm(distance, f"at_mm[{k}]") * 1e-3
            most = np.inf if from_end else self._halves[k]
            # A place on the surface stays on it: mm to m may round it out by a hair.
            hair = 4.0 * np.finfo(float).eps * self._halves[min(k, len(self._halves) - 1)]
            if isinstance(value, float) and (abs(value) > most + hair or (from_end and value < 0.0)):
                limit = "0 or more" if from_end else f"at most {most * 1e3:g} mm from the centre"
                raise ValueError(f"at_mm[{k}] = {distance!r}; expected {limit}")
            on_surface = np.abs(np.abs(value) - most) <= hair
            place[k] = np.where(on_surface, np.copysign(most, value), value) if np.any(on_surface) else value
        return place[0], place[1], place[2]


def _half(body: str, name: str, size_mm: Any) -> tuple[str, Any, str]:
    return body, args.length_m(name, size_mm) * 0.5, name


def _temperatures(start_C: Any, surroundings_C: Any) -> tuple[Value, Value]:
    return units.temperature_C(start_C, "start_C"), units.temperature_C(surroundings_C, "surroundings_C")
