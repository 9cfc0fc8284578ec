"""Rules that put the section of a bar together from a size text, separate columns and a shape column."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.findings import FindingsBuilder
from decalesce.inventory.headers import ColumnRole
from decalesce.inventory.rules import CAUTION, number_of, rule
from decalesce.inventory.size_words import PLATE, RECTANGLE, ROUND, UNKNOWN_SHAPE, shape_code
from decalesce.inventory.sizes import (
    SizeResult,
    read_length,
    read_size,
    size_mm_assumed,
    states_inches,
    states_metric,
)
from decalesce.inventory.table import Table, TextColumn

_Lengths = tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]


@rule(
    CAUTION, "size",
    read="a size text and a column of its own that contradict each other",
    assumed="the column",
    do="measure the bar",
)  # fmt: skip
def size_conflict(first: NDArray[np.float64], second: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Both stated and more than 2 % apart."""
    both = ~np.isnan(first) & ~np.isnan(second)
    return both & (np.abs(first - second) > 0.02 * np.maximum(first, second))


def read_section(
    table: Table, roles: Sequence[ColumnRole], strikes: FindingsBuilder
) -> tuple[NDArray[np.uint8], _Lengths]:
    """Shape (n,) and thickness, width, length (n,) in mm of every row; NaN where nothing usable is stated."""
    n = table.n_rows
    shape = np.zeros(n, dtype=np.uint8)
    lengths: _Lengths = (np.full(n, np.nan), np.full(n, np.nan), np.full(n, np.nan))
    named = next((i for i, role in enumerate(roles) if role.kind == "shape"), None)
    if named is not None:
        cells = table.cells[named]
        shape = np.array([shape_code(t) for t in cells.texts] or [0], dtype=np.uint8)[cells.codes]
    size = next((i for i, role in enumerate(roles) if role.kind == "size"), None)
    if size is not None:
        shape, lengths = _read_sizes(table, size, roles[size].unit, shape, strikes)
    for kind, place in (("thickness", 0), ("diameter", 0), ("width", 1), ("length", 2)):
        index = next((i for i, role in enumerate(roles) if role.kind == kind), None)
        if index is None:
            continue
        own = _read_lengths(table, index, roles[index].unit, strikes)
        strikes.add(number_of(size_conflict), index, np.flatnonzero(size_conflict(lengths[place], own)))
        stated = ~np.isnan(own)
        lengths[place][stated] = own[stated]
        if kind == "diameter":
            shape = np.where(stated & (shape == UNKNOWN_SHAPE), ROUND, shape).astype(np.uint8)
    return _settle(shape, lengths), lengths


def _settle(shape: NDArray[np.uint8], lengths: _Lengths) -> NDArray[np.uint8]:
    thickness, width, _ = lengths
    swapped = (shape == UNKNOWN_SHAPE) & (width < thickness)
    thickness[swapped], width[swapped] = width[swapped], thickness[swapped]
    both = ~np.isnan(thickness) & ~np.isnan(width)
    shape = np.where((shape == UNKNOWN_SHAPE) & both, RECTANGLE, shape)
    return np.where((shape == UNKNOWN_SHAPE) & ~np.isnan(thickness), PLATE, shape).astype(np.uint8)


def _column_inch(cells: TextColumn) -> bool:
    """True when more rows of the column are written in inches than in millimetres."""
    if not len(cells.texts):
        return False
    counts = np.bincount(cells.codes, minlength=len(cells.texts))
    inch = np.array([states_inches(t) for t in cells.texts], dtype=bool)
    metric = np.array([states_metric(t) for t in cells.texts], dtype=bool)
    return bool(counts[inch & ~metric].sum() > max(counts[metric].sum(), 0.5 * counts.sum()))


def _read_sizes(
    table: Table, index: int, unit: str, shape: NDArray[np.uint8], strikes: FindingsBuilder
) -> tuple[NDArray[np.uint8], _Lengths]:
    """Each distinct pair of size text and shape word is read once."""
    cells = table.cells[index]
    column_inch, width = _column_inch(cells), max(len(cells.texts), 1)
    pairs, codes = np.unique(shape.astype(np.int64) * width + cells.codes, return_inverse=True)
    results = [read_size(cells.texts[pair % width], unit, column_inch, int(pair // width)) for pair in pairs]
    _strike(strikes, table, index, codes, results)
    rows = np.array([(r.shape, r.thickness_mm, r.width_mm, r.length_mm) for r in results] or np.empty((0, 4)))[codes]
    return rows[:, 0].astype(np.uint8), (rows[:, 1].copy(), rows[:, 2].copy(), rows[:, 3].copy())


def _read_lengths(table: Table, index: int, unit: str, strikes: FindingsBuilder) -> NDArray[np.float64]:
    cells = table.cells[index]
    column_inch = _column_inch(cells)
    results = [read_length(t, unit, column_inch) for t in cells.texts]
    _strike(strikes, table, index, cells.codes, results)
    return np.array([r.thickness_mm for r in results] or [np.nan], dtype=np.float64)[cells.codes]


def _strike(
    strikes: FindingsBuilder,
    table: Table,
    index: int,
    codes: NDArray[np.int64] | NDArray[np.int32],
    results: Sequence[SizeResult],
) -> None:
    by_rule: dict[int, list[int]] = {}
    for code, r in enumerate(results):
        for hit in r.hits:
            by_rule.setdefault(hit, []).append(code)
    for number, struck in by_rule.items():
        rows = np.flatnonzero(np.isin(codes, struck))
        if number == number_of(size_mm_assumed):
            if len(rows):
                strikes.add_file(size_mm_assumed.__name__, table.columns[index])
            continue
        strikes.add(number, index, rows)
