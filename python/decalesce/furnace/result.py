"""What happened when the load went in."""

from dataclasses import dataclass
from math import isnan

from decalesce._core import History, Trace

_J_PER_KWH = 3.6e6


@dataclass(frozen=True, slots=True, eq=False)
class Loaded:
    """A furnace with its load, from the door closing on. NaN for a time that never comes in ``chamber``'s length.

    Attributes:
        set_point_C: what the controller is set to.
        chamber: temperature of the chamber, degC against s after the door closed.
        steel: the piece in the middle of the row, or the block that touching pieces make, in that chamber.
        recovered_s: the chamber, and with it the controller, is back within ``recovered_within_K`` of the set point.
        steel_within_s: every point of the steel is within ``within_K`` of the set point: count the soak from here.
        alone_s: the same for one free piece in a furnace that never falls.
        drop_K: how far the chamber fell below the set point.
        energy_kWh: what the elements gave from the door closing to the end of the history; it went
            ``into_load_kWh``, was ``lost_kWh`` to the room, or is ``stored_kWh`` in lining and contents (negative: they
            gave). What went out while the door was open is not in it.
        resting_loss_W: loss of the furnace standing at set point.
        mass_kg: of the load. ``pieces``: as loaded.
        gap_mm: between pieces, None for free. ``open_share``: what a face that looks at its neighbour still sees
            of the furnace (of rounds: the whole round between two).
        arrangement: ``single``, ``free``, ``spaced`` or ``one_block``.
        units: how many of ``steel``'s mesh the load is; its ``heat_in_J`` times this went into the load.
        sentences: the answer in words. ``cautions``: what can hurt.
        flags, sources: as everywhere.
    """

    set_point_C: float
    chamber: History
    steel: Trace
    recovered_s: float
    steel_within_s: float
    alone_s: float
    drop_K: float
    within_K: float
    recovered_within_K: float
    energy_J: float
    into_load_J: float
    lost_J: float
    stored_J: float
    resting_loss_W: float
    mass_kg: float
    pieces: int
    gap_mm: float | None
    arrangement: str
    open_share: float
    units: float
    cautions: tuple[str, ...]
    flags: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def energy_kWh(self) -> float:
        """From the elements."""
        return self.energy_J / _J_PER_KWH

    @property
    def into_load_kWh(self) -> float:
        """Taken up by the load."""
        return self.into_load_J / _J_PER_KWH

    @property
    def lost_kWh(self) -> float:
        """Lost to the room through the lining."""
        return self.lost_J / _J_PER_KWH

    @property
    def stored_kWh(self) -> float:
        """Gained by lining and contents."""
        return self.stored_J / _J_PER_KWH

    @property
    def load_factor(self) -> float:
        """How many times longer than one free piece in a furnace that never falls."""
        return self.steel_within_s / self.alone_s

    @property
    def sentences(self) -> tuple[str, ...]:
        """The answer in words, one sentence each: when to count, when the controller is back, how the pieces stand."""
        return tuple(filter(None, (self._when(), self._beside(), self._pieces())))

    def _when(self) -> str:
        goal = f"within {self.within_K:g} K of {self.set_point_C:.0f} degC"
        if isnan(self.steel_within_s):
            return f"The steel is not {goal} {_minutes(self.chamber.duration_s)} after the door closed."
        return f"Count the soak from {_minutes(self.steel_within_s)} after the door closed: all the steel is {goal}."

    def _beside(self) -> str:
        if isnan(self.recovered_s):
            shows = "the controller does not come back to set point in that time"
        elif self.recovered_s == 0.0:
            shows = "the controller hardly leaves set point"
        else:
            shows = f"the controller shows set point again at {_minutes(self.recovered_s)}"
            if self.recovered_s < self.steel_within_s:
                shows += ", before the steel is there"
        alone = f"; one free piece in a furnace that never falls takes {_minutes(self.alone_s)}"
        return f"The chamber falls {self.drop_K:.0f} K and {shows}{'' if isnan(self.alone_s) else alone}."

    def _pieces(self) -> str:
        if self.arrangement == "one_block":
            return f"The {self.pieces} pieces touch and heat as one block: set them apart and they heat sooner."
        seen = f"{100.0 * self.open_share:.0f} % of the furnace"
        if self.gap_mm == 0.0:
            return f"The pieces touch along their sides: what looks at a neighbour sees {seen}."
        if self.arrangement == "spaced":
            return f"Past its neighbour {self.gap_mm:.3g} mm away a piece sees {seen}."
        return ""


def _minutes(seconds: float) -> str:
    minutes = seconds / 60.0
    return f"{minutes:.1f} min" if minutes < 99.5 else f"{minutes / 60.0:.1f} h"
