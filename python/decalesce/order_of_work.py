"""The trade's own order of work: forge, normalize (or do not), anneal, stress relieve, harden, temper.

Temperatures come from the published facts of the grade; where there are none, from the rules of the trade
(data/tables/trade_rules.csv). Each step says which. A rule of the trade is not a computed answer: the hardening
window and the temper of a plan come from their own rooms.

>>> import decalesce as dc
>>> steps = dc.order_of_work.steps("air_hardening", facts=dc.grades.find("D2").published())
>>> [step.name for step in steps if not step.do]
['normalize', 'grain cycles']
"""

import csv
import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeGuard

from decalesce import data_files, quench
from decalesce.grade import Fact, Grade
from decalesce.temper.practice import tempers_usual

__all__ = ["Step", "steps", "trade_family", "trade_family_of"]

Range = tuple[float, float]
_RANGE = re.compile(r"(-?[\d.]+)(?:-([\d.]+))?")


@dataclass(frozen=True, slots=True)
class Step:
    """One step. ``do`` is False where the trade says not to; ``temperature_C`` is a range, or None where none is known.

    ``text`` is what to do in plain words, ``reasons`` the rules behind it, ``sources`` their citation keys and
    ``status`` how they were seen. ``published`` tells the grade's own figures from a rule of the trade.
    """

    number: int
    name: str
    do: bool
    text: str
    temperature_C: Range | None = None
    reasons: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    status: str = ""
    published: bool = False


@dataclass(frozen=True, slots=True)
class _Rule:
    id: str
    topic: str
    rule: str
    value: str
    unit: str
    applies_to: str
    source: str
    status: str

    def range(self) -> Range:
        found = _RANGE.fullmatch(self.value)
        if found is None:
            raise ValueError(f"trade_rules.csv: {self.id} holds no number but {self.value!r}")
        return float(found[1]), float(found[2] or found[1])


@lru_cache(maxsize=1)
def _rules() -> dict[str, _Rule]:
    with data_files.path("tables/trade_rules.csv").open(encoding="utf-8", newline="") as stream:
        return {row["id"]: _Rule(**{name: row[name] for name in _Rule.__slots__}) for row in csv.DictReader(stream)}


# What the families of the library are called in the rules of the trade.
_TRADE_FAMILIES = {
    "plain_hypo": "plain_carbon",
    "plain_hyper": "plain_carbon",
    "plain_carbon": "plain_carbon",
    "low_alloy": "low_alloy",
    "hyper_low_alloy": "low_alloy",
    "silicon_spring": "spring",
    "spring": "spring",
    "bearing": "bearing",
    "tool_3_5_cr": "air_hardening",
    "tool_11_13_cr": "air_hardening",
    "hot_work": "air_hardening",
    "air_hardening": "air_hardening",
    "shock": "alloy_tool_steel",
    "cold_work_tool": "alloy_tool_steel",
    "alloy_tool_steel": "alloy_tool_steel",
    "martensitic_stainless": "martensitic_stainless",
    "high_speed": "high_speed",
    "austenitic_other": "not_hardened",
}
_HARDEN_IN_AIR = frozenset({"air_hardening", "martensitic_stainless", "high_speed"})
_FORGED_AS_PLAIN = frozenset({"plain_carbon", "low_alloy", "spring", "bearing"})


def _known(value: float | None) -> TypeGuard[float]:
    return value is not None and not math.isnan(value)


def trade_family(family: str) -> str:
    """The family of the library or of a grade, in the words of the trade. Raises ValueError for an unknown one."""
    try:
        return _TRADE_FAMILIES[family]
    except KeyError:
        known = ", ".join(sorted(_TRADE_FAMILIES))
        raise ValueError(f"family = {family!r}; expected one of {known}") from None


def trade_family_of(family: str, grade: Grade | None) -> str:
    """As `trade_family`; a tool steel that must not be normalized, as published for its grade, hardens in air."""
    trade = trade_family(family)
    forbidden = grade is not None and any(fact.value == "do not" for fact in grade.published("normalize"))
    return "air_hardening" if trade == "alloy_tool_steel" and forbidden else trade


class _Facts:
    """The published facts of one grade, by quantity."""

    def __init__(self, facts: Iterable[Fact]) -> None:
        self._by: dict[str, list[Fact]] = {}
        for fact in facts:
            self._by.setdefault(fact.quantity, []).append(fact)

    def of(self, *quantities: str) -> list[Fact]:
        return [fact for quantity in quantities for fact in self._by.get(quantity, [])]

    def numbers(self, *quantities: str) -> list[float]:
        return [fact.value for fact in self.of(*quantities) if isinstance(fact.value, float)]

    def span(self, name: str) -> Range | None:
        """Lowest to highest published: ranges and single figures together."""
        values = self.numbers(f"{name}_min_C", f"{name}_C", f"{name}_max_C")
        return (min(values), max(values)) if values else None


def _published(number: int, name: str, text: str, temperature_C: Range | None, facts: list[Fact]) -> Step:
    conditions = dict.fromkeys(fact.conditions for fact in facts if fact.conditions)
    statuses = {fact.status for fact in facts}
    return Step(
        number=number,
        name=name,
        do=True,
        text=text,
        temperature_C=temperature_C,
        reasons=tuple(conditions),
        sources=tuple(dict.fromkeys(fact.source for fact in facts)),
        status="memory" if "memory" in statuses else "page" if "page" in statuses else "two-pages",
        published=True,
    )


def _by_rule(
    number: int, name: str, text: str, rules: list[_Rule], temperature_C: Range | None, *, do: bool = True
) -> Step:
    weakest = ("common practice", "memory", "computed", "page", "two-pages")
    seen = [rule.status for rule in rules]
    return Step(
        number=number,
        name=name,
        do=do,
        text=text,
        temperature_C=temperature_C,
        reasons=tuple(rule.rule for rule in rules),
        sources=tuple(dict.fromkeys(rule.source for rule in rules)),
        status=next((status for status in weakest if status in seen), ""),
    )


def _ceiling(carbon_wt: float) -> tuple[float, _Rule, _Rule]:
    """Forging ceiling of plain steel by carbon, between the two rules it lies between."""
    points = sorted(
        (float(rule.applies_to.removeprefix("C=")), rule.range()[0], rule)
        for rule in _rules().values()
        if rule.topic == "forge ceiling" and rule.applies_to.startswith("C=")
    )
    carbon = min(max(carbon_wt, points[0][0]), points[-1][0])
    above = next(k for k in range(1, len(points)) if carbon <= points[k][0])
    (low_c, low_t, low), (high_c, high_t, high) = points[above - 1], points[above]
    return low_t + (high_t - low_t) * (carbon - low_c) / (high_c - low_c), low, high


def _forge(family: str, facts: _Facts, carbon_wt: float | None, ac1_C: float | None) -> Step:
    rules = _rules()
    ceilings, floors = facts.numbers("forge_max_C"), facts.numbers("forge_min_C")
    cautions = "Stop before the floor; steel that throws sparks of itself is burnt and must be cut off."
    if ceilings and floors:
        # Sheets of one grade differ by up to 110 K at the top: the lower is taken.
        text = f"Forge between {max(floors):.0f} and {min(ceilings):.0f} °C. {cautions}"
        return _published(1, "forge", text, (max(floors), min(ceilings)), facts.of("forge_max_C", "forge_min_C"))
    used: list[_Rule] = []
    top = bottom = None
    if family in _FORGED_AS_PLAIN and carbon_wt is not None:
        top, *between = _ceiling(carbon_wt)
        used += between
    if family in _FORGED_AS_PLAIN and _known(ac1_C):
        bottom = ac1_C + rules["forge_floor_plain"].range()[1]
        used.append(rules["forge_floor_plain"])
    if family in _HARDEN_IN_AIR:
        bottom = rules["forge_floor_air_hardening"].range()[0]
        used.append(rules["forge_floor_air_hardening"])
    parts = []
    if top is not None:
        parts.append(f"no hotter than about {top:.0f} °C")
    if bottom is not None:
        parts.append(f"stop at {bottom:.0f} °C")
    text = "Forge: " + (", ".join(parts) or "no published range; ask the steelmaker") + f". {cautions}"
    whole = (bottom, top) if top is not None and bottom is not None else None
    return _by_rule(1, "forge", text, [*used, rules["burnt_is_lost"]], whole)


def _with_rules(step: Step, rules: list[_Rule]) -> Step:
    """The step with these rules said in its text, named among its reasons and with the weakest status of them all."""
    if not rules:
        return step
    weakest = _by_rule(step.number, step.name, "", rules, None).status
    order = ("common practice", "memory", "computed", "page", "two-pages")
    return replace(
        step,
        text=" ".join((step.text, *(rule.rule for rule in rules))),
        reasons=(*step.reasons, *(rule.rule for rule in rules)),
        sources=tuple(dict.fromkeys((*step.sources, *(rule.source for rule in rules)))),
        status=min((status for status in (weakest, step.status) if status), key=order.index),
    )


def _normalize(family: str, designation: str, facts: _Facts, hardening_C: float | None, forged: bool) -> Step:
    rules = _rules()
    words = facts.of("normalize")
    forbidden = any(fact.value == "do not" for fact in words)
    if family in _HARDEN_IN_AIR or forbidden:
        text = "Do not normalize: anneal instead."
        if words:
            step = _published(2, "normalize", text, None, words)
            return Step(2, "normalize", False, text, None, step.reasons, step.sources, step.status, True)
        return _by_rule(2, "normalize", text, [rules["normalize_not_air_hardening"]], None, do=False)
    if not forged:
        return _by_rule(
            2,
            "normalize",
            "Not needed on annealed bar that is not forged.",
            [rules["normalize_not_needed"]],
            None,
            do=False,
        )
    span = facts.span("normalize")
    if span is not None:
        found = facts.of("normalize_min_C", "normalize_C", "normalize_max_C")
        step = _published(2, "normalize", f"Normalize at {_spoken(span)}, then still air.", span, found)
        caveats = [rules[name] for name in ("normalize_o1_l6", "normalize_part_hardens")]
        return _with_rules(step, [rule for rule in caveats if designation in rule.applies_to.split()])
    if family == "plain_carbon":
        rule = rules["normalize_10xx"]
        return _by_rule(
            2, "normalize", f"Normalize at {_spoken(rule.range())}.", [rule, rules["normalize_hold"]], rule.range()
        )
    above = rules["normalize_above_hardening"]
    if _known(hardening_C) and family in _FORGED_AS_PLAIN:
        at = hardening_C + above.range()[0]
        return _by_rule(2, "normalize", f"Normalize at about {at:.0f} °C.", [above, rules["normalize_hold"]], (at, at))
    return _by_rule(2, "normalize", "No published normalizing heat: anneal instead.", [], None, do=False)


def _spoken(span: Range) -> str:
    low, high = span
    return f"{low:.0f} °C" if low == high else f"{low:.0f} to {high:.0f} °C"


def _grain_cycles(family: str, forged: bool) -> Step:
    rules = _rules()
    if family not in _FORGED_AS_PLAIN:
        return Step(3, "grain cycles", False, "Not for tool steel: normalize or anneal as published.")
    if not forged:
        return Step(3, "grain cycles", False, "Not needed: the bar was not forged.")
    if family == "plain_carbon":
        near = rules["grain_cycles_near_hardening"]
        text = f"Only if forging left coarse grain: three heats at {_spoken(near.range())}, each cooled to black."
        used = [near, rules["grain_cycles_count"], rules["grain_cycles_cool_to"]]
        return _by_rule(3, "grain cycles", text, used, near.range())
    used = [rules["grain_cycles_descending"], rules["grain_cycles_cool_to"]]
    low, high = rules["grain_cycles_descending"].range()
    text = (
        f"Only if forging left coarse grain: three to five heats, each {low:.0f} to {high:.0f} K lower, without a hold."
    )
    return _by_rule(3, "grain cycles", text, used, None)


def _anneal(facts: _Facts) -> Step:
    span = facts.span("anneal")
    if span is None:
        return Step(
            4, "anneal", True, "Anneal before drilling and rough grinding if the bar is hard; no heat is published."
        )
    text = f"Anneal at {_spoken(span)} and cool slowly, if the bar is hard."
    return _published(4, "anneal", text, span, facts.of("anneal_min_C", "anneal_C", "anneal_max_C"))


def _stress_relief(ac1_low_C: float | None) -> Step:
    rules = _rules()
    rule, hold = rules["stress_relief_temperature"], rules["stress_relief_hold"]
    low, high = rule.range()
    margin = rules["iso4957_temperature_tolerance"].range()[0]
    top = min(high, ac1_low_C - margin) if _known(ac1_low_C) else high
    text = (
        f"After heavy machining, before hardening: {_spoken((min(low, top), top))} for {hold.range()[0]:.0f} h, "
        "below Ac1, and cool slowly."
    )
    return _by_rule(5, "stress relieve", text, [rule, hold], (min(low, top), top))


def _harden(family: str, facts: _Facts, hardening_C: float | None, carbon_wt: float | None) -> Step:
    low_carbon = _rules()["low_carbon_case_hardens"]
    soft = family not in _HARDEN_IN_AIR and _known(carbon_wt) and carbon_wt < low_carbon.range()[0]
    return _with_rules(_heat_and_quench(facts, hardening_C), [low_carbon] if soft else [])


def _heat_and_quench(facts: _Facts, hardening_C: float | None) -> Step:
    span = facts.span("austenitize")
    said = f"Computed aim {hardening_C:.0f} °C. " if _known(hardening_C) else ""
    media = [medium.words for medium in quench.media_of(tuple(facts.of("quench_medium")))]
    medium = f" Quench: {', '.join(media)} (published)." if media else " Quench: no medium published."
    if span is None:
        text = (said or "No hardening heat known. ") + "Austenitize and quench." + medium
        return Step(6, "harden", True, text, (hardening_C, hardening_C) if _known(hardening_C) else None)
    heats = facts.of("austenitize_min_C", "austenitize_C", "austenitize_max_C")
    conditions = "; ".join(dict.fromkeys(fact.conditions for fact in heats if fact.conditions))
    heat = f"Published hardening heat {_spoken(span)}" + (f" ({conditions})." if conditions else ".")
    return _published(6, "harden", f"{said}{heat}{medium}", span, [*heats, *facts.of("quench_medium")])


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def _usual(family: str, designation: str) -> int:
    """How often the trade tempers: by the grade where one is named, else by the rules for the family."""
    if designation:
        return tempers_usual(designation)
    return 2 if family in _rules()["temper_double"].applies_to.split() or family in _HARDEN_IN_AIR else 1


def _how_often(count: int, usual: int) -> str:
    said = f"{_times(count)}" + (", cooling to room temperature between" if count > 1 else "")
    if count < usual:
        return f"{said}; the trade tempers this steel {_times(usual)}."
    if count > usual:
        return f"{said}; {_times(usual)} is enough, the rest is insurance."
    return f"{said}." if count > 1 else "once is enough."


def _temper(number: int, family: str, designation: str, facts: _Facts, tempers: int | None) -> Step:
    rules = _rules()
    used = [rules["temper_at_once"], rules["temper_hold_minimum"]]
    begin = "Temper at once"
    if family == "martensitic_stainless":
        used = [rules["temper_stainless"], rules["temper_stainless_window"]]
        within = rules["temper_stainless"].range()[0]
        begin = f"Once at room temperature temper within {within:.0f} h, or straight after the cold treatment:"
    usual = _usual(family, designation)
    used.append(rules["temper_double"] if usual > 1 else rules["temper_single"])
    often = _how_often(usual if tempers is None else tempers, usual)
    text = f"{begin}{'' if begin.endswith(':') else ','} {often}"
    span = facts.span("temper")
    step = _by_rule(number, "temper", text, used, span)
    if span is None:
        return step
    found = facts.of("temper_min_C", "temper_C", "temper_max_C")
    beside = _published(number, "temper", "", span, found)
    sources = tuple(dict.fromkeys((*beside.sources, *step.sources)))
    reasons = (*beside.reasons, *step.reasons)
    said = f"{text} Published range {_spoken(span)}."
    return Step(number, "temper", True, said, span, reasons, sources, beside.status, True)


def _cold_treat(number: int, family: str) -> Step:
    """Stainless straight from the quench, before its temper; other steel between two tempers."""
    rules = _rules()
    if family in ("plain_carbon", "low_alloy", "spring", "bearing"):
        text = "Little to gain; a large gain says the steel was overheated."
        return _by_rule(number, "cold treat", text, [rules["cold_little_gain"]], None, do=False)
    if family == "martensitic_stainless":
        rule, delay = rules["cold_stainless"], rules["cold_delay"]
        text = (
            f"Only where it pays: {_spoken(rule.range())}, straight from the quench, within {delay.range()[0]:.0f} h, "
            "and before the temper. Sharp corners: temper once first, it is safer and gains less."
        )
        return _by_rule(number, "cold treat", text, [rule, delay], rule.range())
    rule, after = rules["cold_treatment"], rules["cold_after_temper"]
    text = f"Only where it pays: {_spoken(rule.range())}, after the first temper, then temper again."
    return _by_rule(number, "cold treat", text, [rule, after], rule.range())


def _temper_and_cold(family: str, designation: str, facts: _Facts, tempers: int | None) -> tuple[Step, Step]:
    """Steps 7 and 8 in the order of the family."""
    if family == "martensitic_stainless":
        return _cold_treat(7, family), _temper(8, family, designation, facts, tempers)
    return _temper(7, family, designation, facts, tempers), _cold_treat(8, family)


def steps(
    family: str,
    *,
    facts: Iterable[Fact] = (),
    designation: str = "",
    carbon_wt: float | None = None,
    ac1_C: float | None = None,
    ac1_low_C: float | None = None,
    hardening_C: float | None = None,
    forged: bool = True,
    tempers: int | None = None,
) -> tuple[Step, ...]:
    """The nine steps in the order of the trade, each with its temperatures and where they come from.

    Stainless is cold treated before its temper (steps 7 and 8), other steel between two tempers.

    Args:
        family: a family of the library (``plain_hyper``, ``tool_11_13_cr`` …) or of a grade (``plain_carbon``,
            ``spring`` …).
        facts: the published facts of the grade, ``grade.published()``; empty where there is no grade.
        designation: the grade, for rules that name grades.
        carbon_wt: carbon of the bar, wt %, for the forging ceiling of plain and low-alloy steel and to tell steel that
            is made to be carburized.
        ac1_C: Ac1, degC, for the forging floor.
        ac1_low_C: low end of the band of Ac1, degC, which the stress relief must stay below; Ac1 if not given.
        hardening_C: computed aim of the hardening window, degC.
        forged: whether the piece is forged; bar as bought needs no normalizing.
        tempers: how often the plan tempers; what the trade does if not given.

    Raises:
        ValueError: an unknown family.
    """
    trade = trade_family(family)
    known = _Facts(facts)
    if trade == "alloy_tool_steel" and any(fact.value == "do not" for fact in known.of("normalize")):
        trade = "air_hardening"
    finish = _rules()["order_9"]
    quenched: tuple[Step, ...] = (
        _harden(trade, known, hardening_C, carbon_wt),
        *_temper_and_cold(trade, designation, known, tempers),
    )
    if trade == "not_hardened":
        text = "Not for this steel: by its composition it is not known to harden by quenching."
        quenched = tuple(Step(step.number, step.name, False, text) for step in quenched)
    return (
        _forge(trade, known, carbon_wt, ac1_C),
        _normalize(trade, designation, known, hardening_C, forged),
        _grain_cycles(trade, forged),
        _anneal(known),
        _stress_relief(ac1_C if ac1_low_C is None else ac1_low_C),
        *quenched,
        _by_rule(9, "finish grind", f"{finish.rule.partition(': ')[2].capitalize()}.", [finish], None),
    )
