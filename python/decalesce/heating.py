"""Soak: heat-up, then equalize, then hold, each apart; and what the published rules say beside.

When is the steel at temperature all the way through, and how long must it then stay? The rules everybody has heard
contradict one another because some count from loading the furnace and some from when the steel is hot. Here the three
parts stand apart, and each rule beside says whether it includes the heat-up. At this depth (``screen``) nothing is
computed along a history.

>>> import decalesce as dc
>>> w = dc.Composition(C=0.84, Mn=0.75, Si=0.20)
>>> s = dc.heating.soak(dc.Section("plate", 4), "still_electric", w=w)
>>> round(s.heat_up_s.value), round(s.hold_s.value)
(280, 450)
"""

import csv
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from decalesce import _core, data_files, units
from decalesce._composition import composition_of
from decalesce._core import Estimate, Section

__all__ = ["FURNACES", "Check", "Rule", "Soak", "check_soak", "heat_through", "soak"]

FURNACES: tuple[str, ...] = tuple(_core.furnace_kinds)
"""Kinds of furnace: still_electric, forced_air, gas_fired, neutral_salt, fluidized_bed."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A published or common rule for this piece: its text, what it comes to in minutes, and what it counts."""

    id: str
    phase: str
    text: str
    minutes: tuple[float, float]
    includes_heat_up: bool
    source: str
    status: str
    note: str


@dataclass(frozen=True, slots=True)
class Soak:
    """A soak in its parts, s. ``preheat_C`` is a range in degC or None; ``rules`` stand beside and decide nothing.

    ``flags`` joins those of the parts; ``detail`` says how deep the answer was computed.
    """

    heat_up_s: Estimate
    equalize_s: Estimate
    hold_s: Estimate
    hold_rule: Rule | None
    preheat_C: tuple[float, float] | None
    rules: tuple[Rule, ...]
    detail: str = "screen"

    @property
    def flags(self) -> tuple[str, ...]:
        """Flag ids of the three parts, each once."""
        ids = (*self.heat_up_s.flags, *self.equalize_s.flags, *self.hold_s.flags)
        return tuple(dict.fromkeys(ids))


@dataclass(frozen=True, slots=True)
class Check:
    """A soak somebody wants to use, against the soak that is due; ``flags`` holds ``soak_too_long`` when it is called
    out."""

    verdict: str
    sentence: str
    flags: tuple[str, ...]


@lru_cache(maxsize=1)
def _rule_rows() -> dict[str, dict[str, str]]:
    with data_files.path("tables/soak_rules.csv").open(encoding="utf-8", newline="") as stream:
        return {row["id"]: row for row in csv.DictReader(stream)}


def _rule(rule_id: str, low_s: float, high_s: float, includes_heat_up: bool) -> Rule:
    row = _rule_rows()[rule_id]
    return Rule(
        id=rule_id,
        phase=row["phase"],
        text=row["rule"],
        minutes=(low_s / 60.0, high_s / 60.0),
        includes_heat_up=includes_heat_up,
        source=row["source"],
        status=row["status"],
        note=row["note"],
    )


def _section_of(piece: Any) -> Section:
    section = piece if isinstance(piece, Section) else getattr(piece, "section", None)
    if not isinstance(section, Section):
        raise TypeError(f"piece = {piece!r}; expected a Section or a Bar, e.g. decalesce.Section('plate', 4)")
    return section


def heat_through(piece: Any, furnace: str = "still_electric") -> Estimate:
    """Time (s) from loading a cold piece until all of it is within 10 K of a furnace that is at temperature when
    loaded.

    ``piece`` is a Section or a Bar; ``furnace`` one of `FURNACES`. Read between computed cases (850 degC, emissivity
    0.8) by volume over surface, times a factor for the furnace; the band holds real loads, which take up to twice as
    long. Made for up to 25 mm plate and 50 mm round; ``thick_section`` beyond. Raises ValueError for an unknown
    furnace.
    """
    return _core.heating_through(_section_of(piece), furnace)


def soak(piece: Any, furnace: str = "still_electric", temperature_C: Any = None, *, w: Any = None) -> Soak:
    """Heat-up, equalize and hold (s) of a bar, or of a Section of the steel ``w``, with the published rules beside.

    Heat-up as `heat_through`; equalize is the time heat takes across half the thickness; hold is the rule of practice
    for the steel's family and section, NaN with ``no_model`` where there is none. ``temperature_C`` (degC) is checked
    and moves nothing at this depth: the heat-up was computed for 850 degC. Raises TypeError for a piece without
    composition, ValueError for an unknown furnace or a batch of steels.
    """
    if temperature_C is not None:
        units.temperature_C(temperature_C)
    section = _section_of(piece)
    composition = composition_of(piece if w is None else w)
    heat_up, equalize, hold, rule, preheat, beside = _core.heating_soak(section, composition, furnace)
    rules = tuple(_rule(*found) for found in beside)
    return Soak(
        heat_up_s=heat_up,
        equalize_s=equalize,
        hold_s=hold,
        hold_rule=None if rule is None else _rule(rule, hold.low, hold.high, False),
        preheat_C=None if preheat[0] != preheat[0] else preheat,
        rules=rules,
    )


_sentences = {
    "too_short": "Shorter than heat-up and hold need: the middle may be cold. Count the hold from when the steel, "
    "not the furnace, is at temperature.",
    "fits": "Fits the soak that is due.",
    "long": "Longer than is due. It does little harm to plain steel in a closed furnace; watch grain and skin.",
    "far_too_long": "Far longer than is due: grain grows and the skin loses carbon. Minutes are due here, not hours.",
    "not_known": "The soak that is due is not known for this steel, so this one cannot be judged.",
}


def check_soak(time: Any, due: Soak) -> Check:
    """Judge a time from loading to quench (s, or ``"2 h"``) against the soak that is due.

    Verdicts: ``too_short``, ``fits``, ``long``, ``far_too_long`` (flag ``soak_too_long``), ``not_known``.
    """
    verdict = _core.heating_check(float(units.time_s(time)), due.heat_up_s, due.equalize_s, due.hold_s)
    flags = {"far_too_long": ("soak_too_long",), "not_known": ("no_model",)}.get(verdict, ())
    return Check(verdict, _sentences[verdict], flags)
