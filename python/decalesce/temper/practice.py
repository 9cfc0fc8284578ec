"""What the trade does when it tempers: how often, when to start, and which tempers to stay out of."""

import csv
from dataclasses import dataclass
from functools import lru_cache
from math import isnan
from typing import Any, NamedTuple

from decalesce import data_files, grades
from decalesce.grade import Grade

#: Rules that hold for every steel, in the order of the work.
_ALWAYS = ("temper_at_once", "soak_at_temper", "double_temper", "second_temper_lower", "colour_runs_on")
#: Rules that belong to one grade.
_OF_GRADE = {
    "O1": ("delay_o1", "o1_service_range"),
    "L6": ("l6_no_embrittlement",),
    "A2": ("secondary_hardening_flat",),
    "D2": ("secondary_hardening_flat",),
    "440C": ("stainless_440c_avoid",),
}
_OF_FAMILY = {
    "martensitic_stainless": ("stainless_knife_window",),
    "high_speed": ("secondary_hardening_flat",),
}
#: Ranges that matter only to a temper inside them.
_RANGES = ("tempered_martensite_embrittlement", "reversible_temper_embrittlement")

#: Families of Mn, Ni and Cr steel that embrittle on slow cooling from the temper and recover when heated again.
_EMBRITTLES_BACK = frozenset({"low_alloy", "spring"})

#: Families whose tempers are chosen by other ranges than that of tempered martensite.
_NO_MARTENSITE_RANGE = frozenset({"martensitic_stainless", "high_speed", "hot_work"})


@dataclass(frozen=True, slots=True)
class Note:
    """One rule of the trade: id, sentence, temperatures it speaks of (degC, or None), how it was seen, its source."""

    id: str
    sentence: str
    low_C: float | None
    high_C: float | None
    status: str
    source: str


class _Practice(NamedTuple):
    tempers: int
    side: str


def _number(text: str) -> float | None:
    return float(text) if text else None


def _sentence(row: dict[str, str]) -> str:
    low, high = row["low_C"], row["high_C"]
    here = "" if not low else f" ({low} degC)" if low == high else f" ({low} to {high} degC)"
    return f"{row['rule'][:1].upper()}{row['rule'][1:]}{here}: {row['action']}."


@lru_cache(maxsize=1)
def _rules() -> dict[str, Note]:
    with data_files.path("tables/temper_rules.csv").open(encoding="utf-8", newline="") as stream:
        return {
            row["id"]: Note(
                row["id"],
                _sentence(row),
                _number(row["low_C"]),
                _number(row["high_C"]),
                row["status"],
                row["source"],
            )
            for row in csv.DictReader(stream)
        }


@lru_cache(maxsize=1)
def _practices() -> dict[tuple[str, str], _Practice]:
    with data_files.path("tables/temper_practice.csv").open(encoding="utf-8", newline="") as stream:
        return {
            (row["scope"], row["name"]): _Practice(int(row["tempers"]), row["side"]) for row in csv.DictReader(stream)
        }


def grade_of(grade: Any) -> Grade | None:
    """Read a grade or its name; None stays None. Raises LookupError for an unknown name, TypeError otherwise."""
    if grade is None or isinstance(grade, Grade):
        return grade
    return grades.find(grade)


def usual(grade: Grade) -> _Practice:
    """How often a grade is tempered, and on which side of a hardness peak."""
    table = _practices()
    return table.get(("grade", grade.designation)) or table["family", grade.family]


def tempers_usual(grade: Any, family: str = "") -> int:
    """How often the trade tempers a grade, or without one a family of `decalesce.critical`: once or twice."""
    found = grade_of(grade)
    if found is not None:
        return usual(found).tempers
    row = _practices().get(("critical_family", family))
    return 1 if row is None else row.tempers


def embrittles_back(grade: Grade | None) -> bool:
    """Whether a grade is structural or spring steel with Mn, Ni or Cr, which embrittles on slow cooling."""
    return grade is not None and grade.family in _EMBRITTLES_BACK


def embrittlements(grade: Grade, coolest_C: float, hottest_C: float) -> tuple[str, ...]:
    """Flags of the ranges that embrittle a grade and that tempers from coolest to hottest, degC, reach into.

    Martensite embrittles in every steel here but the stainless, high-speed and hot-work ones, whose rules are other
    ranges; structural and spring steel also on slow cooling. None for a temper that is NaN.
    """
    if isnan(coolest_C) or isnan(hottest_C):
        return ()
    ranges = []
    if grade.family not in _NO_MARTENSITE_RANGE:
        ranges.append(("embrittlement_range", _rules()["embrittlement_flagged"]))
    if embrittles_back(grade):
        ranges.append(("reversible_embrittlement", _rules()["reversible_temper_embrittlement"]))
    return tuple(
        flag
        for flag, rule in ranges
        if rule.low_C is not None and rule.high_C is not None and coolest_C <= rule.high_C and hottest_C >= rule.low_C
    )


def practice(grade: Any = None, temperature_C: float | None = None) -> tuple[Note, ...]:
    """Rules of the trade for tempering a grade, in the order of the work.

    Args:
        grade: a Grade or its name; None gives the rules that hold for every steel.
        temperature_C: the temper, degC; adds the embrittlement ranges it lies in. Without it both ranges are given.
            The reversible one belongs to structural and spring steel and is never given for another grade.

    Raises:
        LookupError: a name that is no grade.

    Each note has its status (``two-pages``, ``page`` or ``memory``) and its source.
    """
    found = grade_of(grade)
    wanted = list(_ALWAYS)
    if found is not None:
        wanted += _OF_GRADE.get(found.designation, ()) + _OF_FAMILY.get(found.family, ())
    rules = _rules()
    for name in _RANGES:
        if name == "reversible_temper_embrittlement" and found is not None and not embrittles_back(found):
            continue
        low, high = rules[name].low_C, rules[name].high_C
        if temperature_C is None or (low is not None and high is not None and low <= temperature_C <= high):
            wanted.append(name)
    return tuple(rules[name] for name in wanted)
