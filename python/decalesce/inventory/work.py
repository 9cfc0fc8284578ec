"""The block while its rows are being judged: arrays that the row rules read and amend, and a way to strike rows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.findings import FindingsBuilder
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import BELOW_LIMIT, MEASURED, NOT_STATED
from decalesce.inventory.rules import number_of
from decalesce.inventory.words import ELEMENTS

CARBON = ELEMENTS.index("C")
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass
class Analysis:
    """The contents of one element column: ``value``, ``half_width``, ``status`` (n,), ``number`` as printed (n,)."""

    column: int
    kind: str
    value: Floats
    half_width: Floats
    status: NDArray[np.uint8]
    number: Floats

    @property
    def stated(self) -> Bools:
        """(n,) True where the column says something usable."""
        stated: Bools = (self.status != NOT_STATED) & ~np.isnan(self.value)
        return stated


@dataclass
class Work:
    """Everything the row rules may look at. ``column_of`` gives the table column of an element (-1: none)."""

    n: int
    strikes: FindingsBuilder
    values: Floats
    half_width: Floats
    status: NDArray[np.uint8]
    column_of: list[int]
    analyses: dict[int, list[Analysis]]
    bounds: dict[tuple[int, str], Analysis]
    role: NDArray[np.uint8]
    heat: NDArray[np.int32]
    heat_texts: tuple[str, ...]
    piece: NDArray[np.int32]
    piece_texts: tuple[str, ...]
    columns: dict[str, int]
    grade_code: NDArray[np.int32]
    grade_low: Floats
    grade_high: Floats
    grade_same: NDArray[np.int32]
    grades: tuple[Any, ...]
    unsure_heat: Bools
    from_certificate: Bools

    def strike(self, function: Callable[..., Any], column: int, rows: NDArray[np.int64] | Bools) -> None:
        """Note that the rule ``function`` struck these rows (indices or a mask) of a table column (-1: the row)."""
        where = np.flatnonzero(rows) if rows.dtype == bool else rows
        self.strikes.add(number_of(function), column, where.astype(np.int64))

    def withdraw(self, function: Callable[..., Any], column: int, rows: NDArray[np.int64]) -> None:
        """Take back that the rule struck these rows of a table column: a later rule explains them."""
        self.strikes.remove(number_of(function), column, rows)

    @property
    def grade_sides(self) -> tuple[Floats, Floats]:
        """Lower and upper limits (g, 19) of the block's grades."""
        return self.grade_low, self.grade_high

    @property
    def graded(self) -> Bools:
        """(n,) True where the grade is known."""
        return self.grade_code >= 0

    def limits_of(self, rows: NDArray[np.int64]) -> tuple[Floats, Floats]:
        """Lower and upper grade limits (len(rows), 19), NaN where the standard sets none. The rows must be graded."""
        return self.grade_low[self.grade_code[rows]], self.grade_high[self.grade_code[rows]]

    def is_stated(self) -> Bools:
        """(n, 19) True where the certificate gives a usable content."""
        return (self.status <= BELOW_LIMIT) & ~np.isnan(self.values)


def new_arrays(n: int) -> tuple[Floats, Floats, NDArray[np.uint8]]:
    """Values, half-widths and statuses of n rows about which nothing is stated."""
    shape = (n, len(ELEMENTS))
    return np.zeros(shape), np.zeros(shape), np.full(shape, NOT_STATED, dtype=np.uint8)


def repeatability(values: Floats) -> Floats:
    """Largest difference (wt %) by which two analyses of one heat still agree, for contents (..., 19)."""
    columns = [repeatability_of(element, values[..., element]) for element in range(len(ELEMENTS))]
    return np.stack(columns, axis=-1)


def repeatability_of(element: int, values: Floats) -> Floats:
    """The same for contents (...) of one element."""
    if element == CARBON:
        return np.full(np.shape(values), limit("repeat_carbon"))
    residual = ELEMENTS[element] in ("P", "S", "N", "B", "As", "Sn")
    floor = limit("repeat_floor_residual" if residual else "repeat_floor")
    out: Floats = np.maximum(floor, limit("repeat_relative") * np.nan_to_num(values))
    return out


def safe(codes: NDArray[np.int32]) -> NDArray[np.int32]:
    """Codes fit to index with: -1 (none) becomes 0, so the caller masks the result."""
    return np.maximum(codes, 0)


def set_measured(work: Work, rows: NDArray[np.int64], element: int, value: Floats, half_width: Floats) -> None:
    """Write measured contents into some rows of one element."""
    work.values[rows, element], work.half_width[rows, element] = value, half_width
    work.status[rows, element] = MEASURED
