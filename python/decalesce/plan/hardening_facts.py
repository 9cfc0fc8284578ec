"""What is published for a grade about its hardening temperature."""

from dataclasses import dataclass
from functools import lru_cache
from math import nan

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
