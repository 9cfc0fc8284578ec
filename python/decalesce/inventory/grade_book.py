"""Joining a certificate to its grade: the certificate wins, gaps are closed from the middle of the grade's limits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.fields import MAXIMUM_ROW, MINIMUM_ROW
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import FILLED, NOT_STATED
from decalesce.inventory.rules import CAUTION, NOTE, rule
from decalesce.inventory.words import ELEMENTS
from decalesce.inventory.work import Bools, Floats, Work


class LimitsLike(Protocol):
    """Lower and upper limit of one element, wt %; None where the standard sets none."""

    @property
    def minimum(self) -> float | None: ...  # noqa: D102
    @property
    def maximum(self) -> float | None: ...  # noqa: D102


class MidRangeLike(Protocol):
    """Middle of an element's limits and its half-width, wt %."""

    @property
    def value(self) -> float: ...  # noqa: D102
    @property
    def half_width(self) -> float: ...  # noqa: D102


class GradeLike(Protocol):
    """What the reader needs of a grade (``decalesce.grade.Grade`` fits)."""

    @property
    def designation(self) -> str: ...  # noqa: D102
    @property
    def relation(self) -> str: ...  # noqa: D102
    @property
    def limits(self) -> Mapping[str, LimitsLike]: ...  # noqa: D102
    def mid_range(self) -> Mapping[str, MidRangeLike]: ...  # noqa: D102


class MatchLike(Protocol):
    """One answer of a grade look-up: the grade or None."""

    @property
    def grade(self) -> GradeLike | None: ...  # noqa: D102


class GradeFinder(Protocol):
    """Looks up many names at once and never raises for a bad one (``decalesce.grades.find_many`` fits)."""

    def __call__(self, designations: Iterable[object], /) -> Sequence[MatchLike]: ...  # noqa: D102


@dataclass(frozen=True)
class GradeTables:
    """The grades of a block, one a name met: limits and mid-ranges (g, 19), wt %, NaN where the standard sets none.

    ``same`` (g,) is the first index of the same designation: ``AISI 1084`` and ``1084`` are two names of one grade.
    """

    grades: tuple[GradeLike, ...]
    low: Floats
    high: Floats
    middle: Floats
    half_width: Floats
    nearest: Bools
    same: NDArray[np.int32]


def tables_of(grades: Sequence[GradeLike]) -> GradeTables:
    """Arrays of the limits and mid-ranges of some grades."""
    low, high, middle, half = (np.full((max(len(grades), 1), len(ELEMENTS)), np.nan) for _ in range(4))
    for i, grade in enumerate(grades):
        mid = grade.mid_range()
        for e, symbol in enumerate(ELEMENTS):
            limits = grade.limits.get(symbol)
            if limits is not None:
                low[i, e] = np.nan if limits.minimum is None else limits.minimum
                high[i, e] = np.nan if limits.maximum is None else limits.maximum
            if symbol in mid:
                middle[i, e], half[i, e] = mid[symbol].value, mid[symbol].half_width
    nearest = np.array([grade.relation == "nearest" for grade in grades] or [False], dtype=bool)
    first: dict[str, int] = {}
    same = [first.setdefault(grade.designation, i) for i, grade in enumerate(grades)]
    return GradeTables(tuple(grades), low, high, middle, half, nearest, np.array(same or [0], dtype=np.int32))


class GradeBook:
    """Looks up each distinct grade text once and remembers the answer from block to block."""

    def __init__(self, find_many: GradeFinder | None) -> None:
        """A book that has looked up nothing yet; without ``find_many`` it never finds a grade."""
        self._find_many = find_many
        self._index: dict[str, int] = {}
        self._grades: list[GradeLike] = []
        self._tables = tables_of([])

    def codes(self, texts: Sequence[str]) -> NDArray[np.int32]:
        """The index into ``tables.grades`` of each text, -1 when unknown."""
        new = [t for t in dict.fromkeys(texts) if t not in self._index]
        matches: Sequence[Any] = self._find_many(new) if self._find_many is not None and new else []
        for text, match in zip(new, matches, strict=bool(matches)):
            self._index[text] = -1
            if text and match.grade is not None:
                self._index[text] = len(self._grades)
                self._grades.append(match.grade)
        if len(self._grades) != len(self._tables.grades):
            self._tables = tables_of(self._grades)
        return np.array([self._index.get(t, -1) for t in texts], dtype=np.int32)

    @property
    def tables(self) -> GradeTables:
        """The tables of all grades met so far."""
        return self._tables


@rule(
    CAUTION, "row",
    read="a grade that is not in the grade table",
    assumed="no grade: nothing is filled and no limit is checked",
    do="write the standard's designation; `decalesce grades` lists them",
)  # fmt: skip
def grade_unknown(work: Work, stated: Bools) -> None:
    """A trade name or a slip."""
    bars = ~np.isin(work.role, (MINIMUM_ROW, MAXIMUM_ROW))
    work.strike(grade_unknown, work.columns.get("grade", -1), stated & bars & (work.grade_code < 0))


@rule(
    NOTE, "row",
    read="a grade that has only a near relative in the grade table",
    assumed="the relative's limits",
    do="compare the limits of the two standards where they matter",
)  # fmt: skip
def grade_nearest(work: Work, tables: GradeTables) -> None:
    """A national number whose limits differ a little."""
    rows = work.graded & tables.nearest[np.maximum(work.grade_code, 0)]
    work.strike(grade_nearest, work.columns.get("grade", -1), rows)


_ALWAYS_THERE = frozenset({"C", "Mn", "Si"})
_ADDITIONS = frozenset({"Cr", "Mo", "V", "W"})


def _residual(tables: GradeTables, element: int) -> Bools:
    """(g,) True where the grade sets only a maximum and the element is no addition: every steel holds carbon, manganese
    and silicon; Cr Mo V W count as added where their maximum is high (D2 allows 1.10 % V and sets no minimum)."""
    symbol = ELEMENTS[element]
    low, high = tables.low[:, element], tables.high[:, element]
    only_maximum = ~(low > 0)
    if symbol in _ALWAYS_THERE:
        only_maximum &= False
    elif symbol in _ADDITIONS:
        only_maximum &= high <= limit("residual_ceiling")
    residual: Bools = only_maximum
    return residual


@rule(
    NOTE, "row",
    read="contents that no certificate states and the grade calls for",
    assumed="the middle of the grade's limits, give or take half the range, marked filled",
    do="get the certificate if a narrower band is wanted",
)  # fmt: skip
def filled_from_grade(work: Work, tables: GradeTables) -> None:
    """Only elements *not stated*: an unreadable cell stays NaN, so that it is seen. A residual, which the grade only
    limits from above, stays not stated: half of its maximum is no estimate of it."""
    rows = np.flatnonzero(work.graded & ~np.isin(work.role, (MINIMUM_ROW, MAXIMUM_ROW)))
    codes = work.grade_code[rows]
    filled = np.zeros(work.n, dtype=bool)
    for element in range(len(ELEMENTS)):
        middle = np.where(_residual(tables, element)[codes], np.nan, tables.middle[codes, element])
        gap = (work.status[rows, element] == NOT_STATED) & ~np.isnan(middle)
        where = rows[gap]
        work.values[where, element], work.half_width[where, element] = (
            middle[gap],
            tables.half_width[codes[gap], element],
        )
        work.status[where, element] = FILLED
        filled[where] = True
    work.strike(filled_from_grade, work.columns.get("grade", -1), filled)
