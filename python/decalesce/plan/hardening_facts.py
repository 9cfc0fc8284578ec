"""What is published for a grade about hardening: the range of temperatures, the medium, the hardness it gives."""

import csv
from dataclasses import dataclass
from functools import cache, lru_cache
from math import isnan, nan

from decalesce import _core, data_files
from decalesce._core import Estimate
from decalesce.grade import Fact, Grade


@dataclass(frozen=True, slots=True)
class PublishedWindow:
    """Published hardening range, degC; both ends are the same where one temperature is printed."""

    coolest_C: float
    hottest_C: float
    source: str
    status: str
    conditions: str = ""


@dataclass(frozen=True, slots=True)
class PublishedRange:
    """A range published for a grade: of preheat (degC) or of hold (min), with its conditions."""

    low: float
    high: float
    conditions: str
    source: str
    status: str


def _first(facts: tuple[Fact, ...]) -> Fact | None:
    return facts[0] if facts else None


@lru_cache(maxsize=4096)
def published_window(grade: Grade) -> PublishedWindow | None:
    """The range the product's tables print for a grade, or None."""
    low, high, point = (_first(grade.published(q)) for q in ("austenitize_min_C", "austenitize_max_C", "austenitize_C"))
    if low is not None and high is not None:
        return PublishedWindow(float(low.value), float(high.value), low.source, low.status, low.conditions)
    if point is not None:
        return PublishedWindow(float(point.value), float(point.value), point.source, point.status, point.conditions)
    return None


def _published_range(grade: Grade, lowest: str, highest: str, single: str) -> PublishedRange | None:
    low, high = _first(grade.published(lowest)), _first(grade.published(highest))
    if low is None or high is None:
        low = high = _first(grade.published(single))
    if low is None or high is None:
        return None
    return PublishedRange(float(low.value), float(high.value), low.conditions, low.source, low.status)


def published_preheat(grade: Grade) -> PublishedRange | None:
    """The preheat published for a grade, degC, or None."""
    return _published_range(grade, "preheat_min_C", "preheat_max_C", "preheat_C")


def published_hold(grade: Grade) -> PublishedRange | None:
    """The hold published for a grade, min, or None."""
    return _published_range(grade, "hold_min_minutes", "hold_max_minutes", "hold_minutes")


def window_ends(grade: Grade | None) -> tuple[float, float]:
    """Both ends of the published range; NaN where there is none."""
    window = None if grade is None else published_window(grade)
    return (nan, nan) if window is None else (window.coolest_C, window.hottest_C)


@lru_cache(maxsize=4096)
def air_hardening(grade: Grade | None) -> bool:
    """Whether the grade's facts say that it hardens in air: air is the only medium and it is not to be normalized."""
    if grade is None:
        return False
    media = {str(fact.value) for fact in grade.published("quench_medium")}
    return media == {"air"} and any(fact.value == "do not" for fact in grade.published("normalize"))


@cache
def _half_width_HRC() -> float:
    with data_files.path("tables/plan_rules.csv").open(encoding="utf-8", newline="") as stream:
        return next(
            float(row["value"]) for row in csv.DictReader(stream) if row["name"] == "published_as_quenched_half_HRC"
        )


@lru_cache(maxsize=65536)
def published_as_quenched(grade: Grade | None, aim_C: float) -> Estimate | None:
    """The grade's published as-quenched hardness, HRC, of the hardening temperature nearest the aim; None without one.

    Flagged ``published_value``; the band is 2 HRC either way, or the printed range.
    """
    if grade is None:
        return None
    facts = grade.published("as_quenched_HRC")
    if facts:
        near = min(
            facts, key=lambda f: 0.0 if f.austenitize_C is None or isnan(aim_C) else abs(f.austenitize_C - aim_C)
        )
        value, half = float(near.value), _half_width_HRC()
        return _core.published_estimate(value, value - half, value + half, "HRC", "published_value", near.source)
    low, high = (_first(grade.published(f"as_quenched_HRC_{end}")) for end in ("min", "max"))
    if low is None or high is None:
        return None
    ends = float(low.value), float(high.value)
    return _core.published_estimate(sum(ends) / 2.0, *ends, "HRC", "published_value", low.source)
