"""Rules for rows of one heat: a heat is one melt, so its bars share one chemistry (EN 10021)."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.columns import ladle_and_product
from decalesce.inventory.fields import MAXIMUM_ROW, MINIMUM_ROW, PRODUCT_ROW
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import MEASURED, NOT_STATED
from decalesce.inventory.rules import CAUTION, NOTE, rule
from decalesce.inventory.work import Bools, Floats, Work, repeatability_of, safe, set_measured


@rule(
    CAUTION, "row",
    read="one heat number under two grades",
    assumed="two different steels: nothing is joined",
    do="correct the heat number or the grade",
)  # fmt: skip
def heat_two_grades(work: Work) -> None:
    """A heat is one melt and has one grade."""
    work.strike(
        heat_two_grades, work.columns.get("heat_number", -1), _mixed_heats(work)[safe(work.heat)] & (work.heat >= 0)
    )


def _mixed_heats(work: Work) -> Bools:
    """(heats,) True where rows of one heat carry different known grades."""
    size = max(len(work.heat_texts), 1)
    low, high = np.full(size, np.iinfo(np.int32).max), np.full(size, -1)
    known = (work.heat >= 0) & work.graded
    same = work.grade_same[work.grade_code[known]]
    np.minimum.at(low, work.heat[known], same)
    np.maximum.at(high, work.heat[known], same)
    mixed: Bools = (high >= 0) & (low != high)
    return mixed


@rule(
    CAUTION, "row",
    read="two analyses of one heat that contradict each other",
    assumed="the row's own analysis, with a half-width that covers both; nothing of this heat is joined",
    do="find out which analysis belongs to the bar",
)  # fmt: skip
def heat_analyses_conflict(work: Work) -> None:
    """They differ by more than sampling explains."""
    for element, rows in _heat_differences(work, agree=False):
        low, high, _ = _spread(work, element, _mask(work, rows))
        heats = work.heat[rows]
        work.half_width[rows, element] = np.maximum(work.half_width[rows, element], (high - low)[heats])
        work.unsure_heat[heats] = True
        work.strike(heat_analyses_conflict, work.column_of[element], rows)


@rule(
    NOTE, "row",
    read="two analyses of one heat that agree",
    assumed="the middle, with a half-width that covers both",
    do="nothing",
)  # fmt: skip
def heat_analyses_joined(work: Work) -> None:
    """Rows with one heat number are one melt and get one chemistry. Where one of them is a product analysis it wins,
    and the finding is ``ladle_and_product``."""
    for element, rows in _heat_differences(work, agree=True):
        stated = _mask(work, rows)
        low, high, _ = _spread(work, element, stated)
        p_low, p_high, has_product = _spread(work, element, stated & (work.role == PRODUCT_ROW))
        heats = work.heat[rows]
        middle = np.where(has_product, (p_low + p_high) / 2, (low + high) / 2)[heats]
        reach = np.maximum(middle - low[heats], high[heats] - middle)
        set_measured(work, rows, element, middle, np.maximum(work.half_width[rows, element], reach))
        work.strike(ladle_and_product, work.column_of[element], rows[has_product[heats]])
        work.strike(heat_analyses_joined, work.column_of[element], rows[~has_product[heats]])


@rule(
    NOTE, "row",
    read="no content here, but another row of the same heat has one",
    assumed="the content of that row",
    do="nothing",
)  # fmt: skip
def filled_from_heat(work: Work) -> None:
    """A second bar of a heat whose certificate was typed only once."""
    usable = _joinable(work)
    stated = work.is_stated() & usable[:, None]
    for element, column in enumerate(work.column_of):
        if column < 0:
            continue
        stated[:, element] &= ~_coarse(work, element, stated[:, element])
        low, high, seen = _spread(work, element, stated[:, element])
        gap = usable & (work.status[:, element] == NOT_STATED) & seen[safe(work.heat)]
        middle, half = (low + high) / 2, (high - low) / 2
        rows = np.flatnonzero(gap)
        if len(rows):
            width = np.zeros(len(low))
            np.maximum.at(width, work.heat[stated[:, element]], work.half_width[stated[:, element], element])
            heats = work.heat[rows]
            set_measured(work, rows, element, middle[heats], np.maximum(half, width)[heats])
            work.strike(filled_from_heat, column, rows)


def _joinable(work: Work) -> Bools:
    if not len(work.heat_texts):
        return np.zeros(work.n, dtype=bool)
    bars = ~np.isin(work.role, (MINIMUM_ROW, MAXIMUM_ROW))
    return (work.heat >= 0) & bars & ~(_mixed_heats(work) | work.unsure_heat)[safe(work.heat)]


def _spread(work: Work, element: int, stated: Bools) -> tuple[Floats, Floats, Bools]:
    """Lowest and highest stated content of each heat, and whether any is stated."""
    size = max(len(work.heat_texts), 1)
    low, high = np.full(size, np.inf), np.full(size, -np.inf)
    np.minimum.at(low, work.heat[stated], work.values[stated, element])
    np.maximum.at(high, work.heat[stated], work.values[stated, element])
    seen = high >= low
    return np.where(seen, low, 0.0), np.where(seen, high, 0.0), seen


def _heat_differences(work: Work, agree: bool) -> list[tuple[int, NDArray[np.int64]]]:
    """Per element, the rows whose heat has analyses that differ within (or beyond) repeatability. What came from a
    certificate was compared with the rows there."""
    stated = work.is_stated() & _joinable(work)[:, None] & (work.status == MEASURED) & ~work.from_certificate
    out = []
    for element, column in enumerate(work.column_of):
        if column < 0:
            continue
        stated[:, element] &= ~_coarse(work, element, stated[:, element])
        low, high, _ = _spread(work, element, stated[:, element])
        near = high - low <= repeatability_of(element, high) + 1e-9
        differ = (high > low) & (near if agree else ~near)
        if differ.any():
            out.append((element, np.flatnonzero(differ[safe(work.heat)] & stated[:, element])))
    return out


def _coarse(work: Work, element: int, stated: Bools) -> Bools:
    """(n,) True for a rounded copy: ``0.8`` beside ``0.81``. It keeps its value and its band and moves no finer one."""
    finest = np.full(max(len(work.heat_texts), 1), np.inf)
    np.minimum.at(finest, work.heat[stated], work.half_width[stated, element])
    heats, half = safe(work.heat), work.half_width[:, element]
    coarse = stated & (half >= limit("coarse_ratio") * finest[heats])
    low, high, _ = _spread(work, element, stated & ~coarse)
    value = work.values[:, element]
    held: Bools = coarse & (np.abs(value - low[heats]) <= half + 1e-9) & (np.abs(value - high[heats]) <= half + 1e-9)
    return held


def _mask(work: Work, rows: NDArray[np.int64]) -> Bools:
    mask = np.zeros(work.n, dtype=bool)
    mask[rows] = True
    return mask


HEAT_RULES = (heat_two_grades, heat_analyses_conflict, filled_from_heat, heat_analyses_joined)
