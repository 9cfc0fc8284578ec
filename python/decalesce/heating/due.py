"""The soak that is due, in its parts, each with its reason; and a soak somebody wants to use against it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from math import isnan, nan
from typing import Any

from decalesce import _core, units
from decalesce._composition import composition_of
from decalesce._core import Composition, Estimate, History, Section
from decalesce.heating.rules import Rule, rule
from decalesce.heating.warming import (
    FOIL,
    FURNACES,
    REFERENCE_C,
    HeatUp,
    computed,
    heat_up,
    section_of,
    set_point_of,
    told,
)

#: As `heat_up` has them.
_WITHIN_K = 10.0
_TOLERANCE_K = 0.1
_COLD_C = 20.0
_SURFACE = {"wedge": "edge", "square": "corner", "hexagon": "corner", "rectangle": "corner", "block": "corner"}


@dataclass(frozen=True, slots=True)
class Reasons:
    """A sentence for each part of a soak, and what its band does not hold."""

    preheat: str = ""
    heat_up: str = ""
    equalize: str = ""
    hold: str = ""
    band: str = ""


@dataclass(frozen=True, slots=True)
class Soak:
    """A soak in its parts, s. ``preheat_C`` is a range in degC or None; ``rules`` stand beside and decide nothing.

    ``"full"``: ``heat_up_s`` is from loading until the surface is there, ``equalize_s`` from then until all is, and
    ``computed`` the whole heat-up. ``"screen"``: ``heat_up_s`` is until all is within 10 K, ``equalize_s`` the time
    heat takes across half the thickness. ``flags`` joins those of the parts.
    """

    heat_up_s: Estimate
    equalize_s: Estimate
    hold_s: Estimate
    hold_rule: Rule | None
    preheat_C: tuple[float, float] | None
    rules: tuple[Rule, ...]
    detail: str = "screen"
    set_point_C: float = nan
    reasons: Reasons = Reasons()
    computed: HeatUp | None = field(default=None, compare=False)

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


def soak(
    piece: Any,
    furnace: str = "still_electric",
    temperature_C: Any = None,
    *,
    w: Any = None,
    detail: str = "full",
    history: History | None = None,
    start_C: Any = 20.0,
    exposure: Mapping[str, float] | None = None,
) -> Soak:
    """Heat-up, equalize and hold (s) of a bar, or of a Section of the steel ``w``, with the published rules beside.

    ``"full"`` solves the heat-up as `heat_up` does (its arguments and bands); ``"screen"`` reads it between stored
    cases, with a factor for the set point. Hold is the rule of practice for the
    steel's family and section, NaN with ``no_model`` where there is none. Preheat is the published row of the family,
    with the computed difference between surface and middle with and without it.

    Raises TypeError for a piece without composition or an argument that moves nothing in the screen, ValueError for an
    unknown furnace or ``detail``, or a batch of steels.
    """
    section = section_of(piece)
    steel = composition_of(piece if w is None else w)
    if detail == "full":
        found = computed(
            section, furnace, temperature_C, steel, history=history, start_C=start_C, within_K=_WITHIN_K,
            exposure=exposure, tolerance_K=_TOLERANCE_K, cells=None,
        )  # fmt: skip
        return _full(section, steel, furnace, found, exposure=exposure, start_C=float(units.temperature_C(start_C)))
    if detail != "screen":
        raise ValueError(f"detail = {detail!r}; expected 'full' or 'screen'")
    moved = {"history": history is not None, "start_C": start_C != _COLD_C, "exposure": exposure is not None}
    for argument, is_given in moved.items():
        if is_given:
            raise TypeError(f"{argument} moves nothing in the screen; use detail='full'")
    return _screen(section, steel, furnace, set_point_of(temperature_C))


def _screen(section: Section, steel: Composition, furnace: str, set_point_C: float) -> Soak:
    heat, equalize, hold, hold_rule, preheat, beside = _core.heating_soak(section, steel, furnace, set_point_C)
    due = None if hold_rule is None else rule(hold_rule, hold.low, hold.high, False)
    return Soak(
        heat_up_s=heat,
        equalize_s=equalize,
        hold_s=hold,
        hold_rule=due,
        preheat_C=None if isnan(preheat[0]) else preheat,
        rules=tuple(rule(*found) for found in beside),
        set_point_C=REFERENCE_C if isnan(set_point_C) else set_point_C,
        reasons=Reasons(
            preheat="" if isnan(preheat[0]) else "Until the section is even, before the heat.",
            heat_up="From loading until the piece is within 10 K of the furnace, read between stored cases.",
            equalize="For heat to cross half the thickness.",
            hold=_why_hold(due),
            band="The band holds loads that take up to twice as long as one free piece.",
        ),
    )


def _full(
    section: Section,
    steel: Composition,
    furnace: str,
    found: Any,
    *,
    exposure: Mapping[str, float] | None,
    start_C: float,
) -> Soak:
    heating = told(found, furnace)
    kind = "still_electric" if furnace == FOIL else furnace
    screen = _screen(section, steel, kind, heating.set_point_C)
    heat, equalize, hold = _core.heating_full_soak(section, steel, FURNACES.index(kind), found)
    surface, middle = surface_and_middle(section.shape)
    ahead = f"{surface} runs at most {heating.difference_K:.0f} K ahead of the {middle}"

    def from_preheat_K(preheat_C: float) -> float:
        if not start_C < preheat_C < heating.set_point_C:
            return nan
        return heat_up(
            section, furnace, heating.set_point_C, w=steel, start_C=preheat_C, exposure=exposure
        ).difference_K

    reasons = Reasons(
        preheat=_why_preheat(screen.preheat_C, heating, ahead, from_preheat_K),
        heat_up=f"From loading until the {surface} is within 10 K of {heating.set_point_C:.0f} degC. "
        f"{_what_limits(section, heating)}",
        equalize=f"From then until the {middle} is there too; on the way the {ahead}, "
        f"{_after(heating.difference_s)} after loading.",
        hold=_why_hold(screen.hold_rule),
        band="The bands hold film, emissivity and properties, and pieces a diameter apart; not pieces that touch, nor "
        "a furnace that falls when it is loaded.",
    )
    if heating.trace is None or isnan(heat.value):
        reasons = Reasons(hold=reasons.hold)
    return Soak(
        heat_up_s=heat,
        equalize_s=equalize,
        hold_s=hold,
        hold_rule=screen.hold_rule,
        preheat_C=screen.preheat_C,
        rules=screen.rules,
        detail="full",
        set_point_C=heating.set_point_C,
        reasons=reasons,
        computed=heating,
    )


def _after(time_s: float) -> str:
    if time_s < 60.0:
        return f"{time_s:.0f} s"
    return f"{time_s / 60.0:.1f} min" if time_s < 600.0 else f"{time_s / 60.0:.0f} min"


def surface_and_middle(shape: str) -> tuple[str, str]:
    """What is there first and what last is called in a section of this shape."""
    return _SURFACE.get(shape, "surface"), "spine" if shape == "wedge" else "middle"


def _what_limits(section: Section, heating: HeatUp) -> str:
    if section.shape == "wedge" and heating.limits.limit == "film":
        return (
            "The film limits the heating: through its thickness the blade is nearly even, and the edge is early "
            "because it holds less heat."
        )
    return heating.limits.sentence


def _why_hold(due: Rule | None) -> str:
    counted = "Counted from when the steel, not the furnace, is at temperature"
    return "No rule of practice speaks for this steel." if due is None else f"{counted}: rule for {due.text}."


def _why_preheat(
    published: tuple[float, float] | None,
    heating: HeatUp,
    ahead: str,
    from_preheat_K: Callable[[float], float],
) -> str:
    if published is None:
        if abs(heating.difference_K) <= _WITHIN_K:
            return f"None is published for this family, and none is needed to keep this section even: the {ahead}."
        stop = "" if isnan(heating.Ac1_C) else f" A stop just below Ac1 ({heating.Ac1_C:.0f} degC) lets it catch up."
        return f"None is published for this family. The {ahead}.{stop}"
    after = from_preheat_K(0.5 * (published[0] + published[1]))
    if isnan(after):
        return "Until the section is even, before the heat."
    return f"Until the section is even. Straight from cold the {ahead}, from the preheat {after:.0f} K."


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
