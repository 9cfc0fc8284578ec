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


def _first(facts: tuple[Fact, ...]) -> Fact | None:
    return facts[0] if facts else None


@lru_cache(maxsize=4096)
def published_window(grade: Grade) -> PublishedWindow | None:
    """The range the product's tables print for a grade, or None."""
    low, high, point = (_first(grade.published(q)) for q in ("austenitize_min_C", "austenitize_max_C", "austenitize_C"))
    if low is not None and high is not None:
        return PublishedWindow(float(low.value), float(high.value), low.source, low.status)
    if point is not None:
        return PublishedWindow(float(point.value), float(point.value), point.source, point.status)
    return None


def window_ends(grade: Grade | None) -> tuple[float, float]:
    """Both ends of the published range; NaN where there is none."""
    window = None if grade is None else published_window(grade)
    return (nan, nan) if window is None else (window.coolest_C, window.hottest_C)
