"""The furnace itself: a chamber, a lining, power."""

import csv
from dataclasses import dataclass
from functools import cache
from math import isfinite
from typing import Any

from decalesce import _core, data_files, flags, thermal, units

LININGS: tuple[str, ...] = tuple(_core.furnace_linings)
"""Linings of ``data/tables/linings.csv``: insulating firebrick and fibre blanket, the latter by density."""

KINDS: tuple[str, ...] = tuple(name for name in thermal.SURROUNDINGS if name != "still_air")
"""Kinds of furnace, as `thermal.film` knows them."""

_WITH_ELEMENTS = ("still_electric", "forced_air", "foil_wrapped")
_WITH_BATH = ("neutral_salt", "fluidized_bed")


@cache
def _lining_rows() -> dict[str, dict[str, str]]:
    with data_files.path("tables/linings.csv").open(encoding="utf-8", newline="") as stream:
        return {row["name"]: row for row in csv.DictReader(stream)}


def _above_zero(argument: str, value: float, what: str) -> float:
    if not (isfinite(value) and value > 0.0):
        raise ValueError(f"{argument} = {value!r}; expected {what} above zero")
    return value


@dataclass(frozen=True, slots=True)
class Furnace:
    """A box furnace, a muffle or a pot.

    Attributes:
        inside_mm: width, height and depth of the chamber; the door is width by height.
        lining: one of `LININGS`. Its conductivity is taken at the mean temperature it has at rest at the set point.
        lining_mm: its thickness, the same all round, door included.
        power_W: heat into the chamber at full power: W, or a string such as ``"3kW"``. Of a burner it is what stays in
            the chamber, not what the fuel holds.
        contents_J_K: heat capacity of what is hot with the chamber, J/K: shelf, elements, muffle. If not given, a kiln
            shelf over the whole floor and, in an electric furnace, its elements (common practice, no source). A bath
            has no usual one: give mass times heat capacity of the salt or the grains.
        kind: one of `KINDS`: film coefficient and emissivity, see `thermal.film`.
        room_C: temperature of the room, degC.

    Lengths are mm or strings such as ``"6in"``. Raises ValueError for what is not above zero, an unknown lining or
    kind, or a bath without ``contents_J_K``; TypeError for what is no quantity.

    Accuracy: conductivities were each seen once and differ by up to 25 % between sources; heat capacities are from
    memory. A door that does not seal, bricks that are cut for elements and steel that crosses the lining lose more.
    Find the real loss from how much of the time the elements are on.
    """

    inside_mm: tuple[float, float, float]
    lining: str = "insulating_firebrick"
    lining_mm: float = 115.0
    power_W: float = 3000.0
    contents_J_K: float | None = None
    kind: str = "still_electric"
    room_C: float = 20.0

    def __post_init__(self) -> None:
        """Bring quantities to numbers and refuse what cannot be."""
        sides: Any = self.inside_mm
        if isinstance(sides, str) or not hasattr(sides, "__len__") or len(sides) != 3:
            raise ValueError(f"inside_mm = {sides!r}; expected width, height and depth of the chamber, mm")
        named = zip(sides, ("width", "height", "depth"), strict=True)
        inside = tuple(
            _above_zero(f"inside_mm, {name}", float(units.length_mm(side, f"inside_mm, {name}")), "a length, mm,")
            for side, name in named
        )
        if self.lining not in LININGS:
            raise ValueError(f"lining = {self.lining!r}; expected one of {', '.join(LININGS)}")
        if self.kind not in KINDS:
            raise ValueError(f"kind = {self.kind!r}; expected one of {', '.join(KINDS)}")
        lining_mm = _above_zero("lining_mm", float(units.length_mm(self.lining_mm, "lining_mm")), "a length, mm,")
        power_W = _above_zero("power_W", float(units.power_W(self.power_W)), "a power, W,")
        room_C = float(units.temperature_C(self.room_C, "room_C"))
        contents = self.contents_J_K
        if contents is None:
            if self.kind in _WITH_BATH:
                raise ValueError("contents_J_K is not given; expected mass times heat capacity of what is in it, J/K")
            contents = _core.furnace_contents(inside, power_W, self.kind in _WITH_ELEMENTS)
        elif not (isfinite(contents) and contents >= 0.0):
            raise ValueError(f"contents_J_K = {contents!r}; expected zero or more, J/K")
        checked = {
            "inside_mm": inside, "lining_mm": lining_mm, "power_W": power_W, "room_C": room_C,
            "contents_J_K": float(contents),
        }  # fmt: skip
        for name, value in checked.items():
            object.__setattr__(self, name, value)

    def loss_W(self, chamber_C: Any) -> float:
        """Heat (W) that goes through the lining when the chamber has stood at this temperature (degC) for long."""
        return self._rest(chamber_C)[0]

    def flags_at(self, chamber_C: Any) -> tuple[str, ...]:
        """``outside_table`` where the lining's mean temperature lies beyond its data, whose nearest point counts."""
        return flags.names(self._rest(chamber_C)[1])

    def _rest(self, chamber_C: Any) -> tuple[float, int]:
        chamber = float(units.temperature_C(chamber_C, "chamber_C"))
        loss, bits = _core.furnace_loss(self.inside_mm, self.lining, self.lining_mm, self.room_C, chamber)
        return float(loss), int(bits)

    @property
    def service_limit_C(self) -> float | None:
        """The lining's printed limit, degC, or None where none was seen; a handbook advises 90 % of it."""
        cell = _lining_rows()[self.lining]["service_limit_C"]
        return float(cell) if cell else None

    @property
    def sources(self) -> tuple[str, ...]:
        """Of the lining's properties, and of the outer film and the contents."""
        return tuple(dict.fromkeys((_lining_rows()[self.lining]["source"], "CommonPractice")))
