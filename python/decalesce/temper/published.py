"""Tempered hardness that a steelmaker prints for a grade, as a table in the temper parameter."""

import csv
from collections import defaultdict
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from decalesce import _core, data_files
from decalesce._core import Estimate
from decalesce.grade import Fact, Grade
from decalesce.temper.tempers import Tempers

USES = ("beside", "prefer", "ignore")
_SECONDS_PER_HOUR = 3600.0
#: The tables are read with the constant of practice, the custom for tool steel.
_CONSTANT = "practice"


@lru_cache(maxsize=1)
def _assumed_s() -> float:
    """Time read into a table that gives none."""
    with data_files.path("tables/temper_model.csv").open(encoding="utf-8", newline="") as stream:
        return next(float(row["value"]) for row in csv.DictReader(stream) if row["id"] == "table_time_assumed_s")


_BAND_ENDS = {
    "turning_point": "the {side} end of the band, {at:.0f} degC, is where hardness turns.",
    "table_end": "the {side} end of the band, {at:.0f} degC, is where the table ends.",
    "usual_range": "the {side} end of the band, {at:.0f} degC, is where the grade's published temper range ends.",
}


@dataclass(frozen=True, slots=True)
class TableTemper:
    """A temper read from a table, and why its band ends where it does: ``doubt``, ``turning_point``, ``table_end`` or
    ``usual_range``."""

    temperature_C: Estimate
    cool_end: str
    hot_end: str


@lru_cache(maxsize=256)
def _ranges(designation: str) -> tuple[tuple[float, float, Fact], ...]:
    """Published temper ranges of a grade, degC, in the order of its facts."""
    from decalesce.grade_facts import facts_of

    facts = facts_of(designation)
    hot = {(f.source, f.source_note, f.conditions): float(f.value) for f in facts if f.quantity == "temper_max_C"}
    return tuple(
        (float(f.value), hot[key], f)
        for f in facts
        if f.quantity == "temper_min_C" and (key := (f.source, f.source_note, f.conditions)) in hot
    )


def usual_range(designation: str) -> tuple[float, float] | None:
    """The tempers that any source publishes as usual for a grade, degC; None where none does."""
    ranges = _ranges(designation)
    return (min(r[0] for r in ranges), max(r[1] for r in ranges)) if ranges else None


def _outside(designation: str, temper_C: float) -> str:
    usual = usual_range(designation)
    if usual is None or np.isnan(temper_C) or usual[0] <= temper_C <= usual[1]:
        return ""
    return f"This temper lies outside the range published for {designation}, {usual[0]:.0f} to {usual[1]:.0f} degC."


def outside_usual(grade: Grade | None, temper_C: float) -> str:
    """A sentence where a temper, degC, lies outside every range published for a grade; else an empty one."""
    return "" if grade is None else _outside(grade.designation, temper_C)


def _hardness_left(designation: str, source_note: str) -> tuple[float, float] | None:
    """What the ends of a temper range leave by the same source, softest and hardest HRC; None where it does not say."""
    from decalesce.grade_facts import facts_of

    printed = {f.quantity: float(f.value) for f in facts_of(designation) if f.source_note == source_note and f.unit}
    softest, hardest = printed.get("tempered_range_HRC_min"), printed.get("tempered_range_HRC_max")
    return None if softest is None or hardest is None or softest >= hardest else (softest, hardest)


@dataclass(frozen=True, slots=True)
class RangeTemper:
    """A temper read from a published range, the tempers within 1 HRC of it as far as the range says, and its note."""

    temperature_C: Estimate
    stays_from_C: float
    stays_to_C: float
    note: str


def range_temper(designation: str, target_HRC: float, side: str) -> RangeTemper | None:
    """The first published temper range as an answer for a steel that neither model nor table knows; None without one.

    Where the source prints which hardness the range leaves, the target is read between its ends on a straight line, the
    hardest at the cool end; a target beyond is NaN with ``target_above_reach`` or ``target_below_reach``. Without that
    the answer is the end the trade begins at: the hot one for ``side`` ``"hot"``, else the cool one. The ends of the
    range are the band either way, flagged ``published_temper_range``, and the note says what the number is.
    """
    ranges = _ranges(designation)
    if not ranges:
        return None
    cool, hot, fact = next((r for r in ranges if _hardness_left(designation, r[2].source_note)), ranges[0])
    printed = f"Published temper range of {designation}, {cool:.0f} to {hot:.0f} degC ({fact.source_note})"
    left = _hardness_left(designation, fact.source_note)
    if left is None:
        at = hot if side == "hot" else cool
        stays = at, at
        said = f"{printed}. The number is its {side} end: which hardness it leaves is not known."
    else:
        softest, hardest = left
        printed += f", which leaves {hardest:g} to {softest:g} HRC"
        if not softest <= target_HRC <= hardest:
            flag = "target_above_reach" if target_HRC > hardest else "target_below_reach"
            return RangeTemper(_core.no_temper(flag), np.nan, np.nan, f"{printed}: {target_HRC:g} HRC lies outside.")
        a_point = (hot - cool) / (hardest - softest)
        at = cool + a_point * (hardest - target_HRC)
        stays = max(at - a_point, cool), min(at + a_point, hot)
        said = f"{printed}. The number is read between its ends on a straight line; hardness falls less evenly."
    temper = _core.published_estimate(at, cool, hot, "degC", "published_temper_range", fact.source)
    return RangeTemper(temper, *stays, said)


@dataclass(frozen=True, slots=True)
class PublishedTable:
    """One printed table: hardness against temper after one hardening temperature."""

    grade: str
    austenitize_C: float | None
    conditions: str
    source: str
    time_assumed: bool
    core: _core.TemperTable

    def after(self, held: Tempers) -> Estimate:
        """Hardness after a temper, HRC; NaN with ``no_model`` beyond the printed tempers."""
        constant = _core.temper_constant(_CONSTANT, np.nan)["hours"]
        return self.core.after(held.carried(constant)[0])

    def tempers_for(self, target_HRC: float, total_s: float) -> list[Estimate]:
        """Tempers of a total time that leave a hardness, coolest first.

        A band stays on its side of a hardness peak, inside the table and inside the grade's published temper range;
        where it is cut it is flagged ``band_clipped`` and `said_of` says why.
        """
        return [found.temperature_C for found in self.found_for(target_HRC, total_s)]

    def found_for(self, target_HRC: float, total_s: float) -> list["TableTemper"]:
        """The same with the reason for each end of the band."""
        usual = usual_range(self.grade)
        coolest, hottest = (-np.inf, np.inf) if usual is None else usual
        return [TableTemper(*found) for found in self.core.tempers_for(target_HRC, total_s, coolest, hottest)]

    def said_of(self, found: "TableTemper") -> tuple[str, ...]:
        """Why the band of a temper ends where it does, and whether the temper is a usual one, in plain sentences."""
        e = found.temperature_C
        said = [
            f"The table is flat here: {_BAND_ENDS[why].format(side=side, at=at)}"
            for side, why, at in (("cool", found.cool_end, e.low), ("hot", found.hot_end, e.high))
            if why != "doubt"
        ]
        outside = _outside(self.grade, e.value)
        return (*said, outside) if outside else tuple(said)

    def stays(self, target_HRC: float, total_s: float, near_C: float) -> tuple[float, float]:
        """Tempers around ``near_C`` that leave the target within 1 HRC; NaN where the table ends first."""
        edges = [e.value for step in (1.0, -1.0) for e in self.tempers_for(target_HRC + step, total_s)]
        cooler = [edge for edge in edges if edge < near_C]
        hotter = [edge for edge in edges if edge > near_C]
        return max(cooler, default=np.nan), min(hotter, default=np.nan)

    def beyond(self, target_HRC: float) -> tuple[str, str]:
        """Flag and sentence for a target that no printed temper leaves."""
        if target_HRC > self.core.hardest_HRC:
            end, flag = f"hardest value is {self.core.hardest_HRC:g}", "target_above_reach"
        else:
            end, flag = f"softest value is {self.core.softest_HRC:g}", "target_below_reach"
        return flag, f"The table of {self.grade} does not reach {target_HRC:g} HRC: its {end} HRC."

    def notes(self) -> tuple[str, ...]:
        """What a reader of the table must know, in plain sentences."""
        at = "" if self.austenitize_C is None else f", hardened from {self.austenitize_C:.0f} degC"
        said = [f"Published table of {self.grade}{at} ({self.conditions or 'no conditions given'})."]
        if self.time_assumed:
            said.append(f"The table gives no time; {_assumed_s() / _SECONDS_PER_HOUR:g} h is assumed.")
        return tuple(said)


def _times(fact: Fact) -> float:
    """Seconds at temper in all: a table of double tempers holds twice."""
    one = _assumed_s() if fact.temper_h is None else fact.temper_h * _SECONDS_PER_HOUR
    return one * (2.0 if "tempered twice" in fact.conditions else 1.0)


def _build(designation: str, facts: list[Fact]) -> PublishedTable:
    ordered = sorted({fact.temper_C: fact for fact in facts}.values(), key=lambda fact: fact.temper_C or 0.0)
    first = ordered[0]
    core = _core.TemperTable(
        [fact.temper_C for fact in ordered if fact.temper_C is not None],
        [_times(fact) for fact in ordered],
        [float(fact.value) for fact in ordered],
        first.source,
    )
    assumed = any(fact.temper_h is None for fact in ordered)
    return PublishedTable(designation, first.austenitize_C, first.conditions, first.source, assumed, core)


@lru_cache(maxsize=256)
def tables_of(designation: str) -> tuple[PublishedTable, ...]:
    """Every printed table of a grade, the longest first; a single printed point is no table."""
    from decalesce.grade_facts import facts_of

    sheets: defaultdict[tuple[float | None, str], list[Fact]] = defaultdict(list)
    for fact in facts_of(designation):
        if fact.quantity == "tempered_HRC" and fact.temper_C is not None and fact.unit:
            sheets[fact.austenitize_C, fact.conditions].append(fact)
    long = sorted((facts for facts in sheets.values() if len(facts) > 1), key=len, reverse=True)
    return tuple(_build(designation, facts) for facts in long)


def choose(grade: Grade | None, use: str, austenitize_C: float | None) -> PublishedTable | None:
    """Pick the table nearest the hardening temperature, or the longest; None where there is none or none is wanted."""
    if use not in USES:
        raise ValueError(f"tables = {use!r}; expected one of {', '.join(map(repr, USES))}")
    if use == "ignore" or grade is None:
        return None
    tables = tables_of(grade.designation)
    if not tables or austenitize_C is None:
        return tables[0] if tables else None
    return min(tables, key=lambda table: abs((table.austenitize_C or austenitize_C) - austenitize_C))
