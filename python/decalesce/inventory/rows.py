"""Rules for whole rows: rows of limits, swapped columns, slips of scale, analyses of one heat, missing carbon."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.fields import MAXIMUM_ROW, MINIMUM_ROW, PRODUCT_ROW
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import FILLED, MEASURED, NOT_STATED
from decalesce.inventory.rules import CAUTION, NOTE, STOP, rule
from decalesce.inventory.words import ELEMENTS
from decalesce.inventory.work import CARBON, Bools, Floats, Work, repeatability, set_measured

_SLIPS = (10.0, 100.0, 1000.0, 10000.0)


def discard_shifted(work: Work, rows: NDArray[np.int64] | None) -> None:
    """Contents of a row with too many cells are unusable: nobody knows which cell belongs to which column."""
    if rows is not None:
        present = [element for element, column in enumerate(work.column_of) if column >= 0]
        where = np.ix_(rows, np.array(present, dtype=np.int64))
        work.values[where] = work.half_width[where] = np.nan
        work.status[where] = MEASURED
        for element in present:
            for analysis in work.analyses[element]:
                analysis.value[rows] = analysis.number[rows] = np.nan


@rule(
    STOP, "row",
    read="a row that states limits (min, max) and no analysis",
    assumed="no bar: its contents are not used",
    do="delete the row, or move its numbers to min and max columns",
)  # fmt: skip
def limits_row(work: Work) -> None:
    """A certificate prints the standard's limits above or below the analysis."""
    rows = np.isin(work.role, (MINIMUM_ROW, MAXIMUM_ROW))
    stated = rows[:, None] & (work.status != NOT_STATED)
    work.values[stated] = np.nan
    work.half_width[stated] = np.nan
    work.status[stated] = MEASURED
    work.strike(limits_row, -1, rows)


@rule(
    CAUTION, "row",
    read="a content that fits the grade once it is divided by 10, 100, 1000 or 10000",
    assumed="a slip of the decimal mark or of the unit (per mille, ppm): the divided content",
    do="compare with the certificate",
)  # fmt: skip
def scale_slip(work: Work) -> None:
    """``C 9.5`` for a steel of 0.90 to 1.03 % is 0.95 % printed in per mille. Only where the grade sets both limits."""
    for element, column in enumerate(work.column_of):
        if column < 0:
            continue
        printed = next(a for a in work.analyses[element] if a.column == column)
        suspect = work.graded & (np.isnan(work.values[:, element]) | (work.status[:, element] == MEASURED))
        rows = np.flatnonzero(suspect & (printed.number > 0))
        low, high = (side[work.grade_code[rows], element] for side in (work.grade_low, work.grade_high))
        keep = (
            (low > 0)
            & ~np.isnan(high)
            & (printed.number[rows] > 2 * high)
            & (printed.number[rows] == printed.number[rows])
        )
        over = np.isnan(work.values[rows, element]) | (work.values[rows, element] > 2 * high)
        rows, low, high = rows[keep & over], low[keep & over], high[keep & over]
        if not len(rows):
            continue
        margin = repeatability(np.repeat(high[:, None], len(ELEMENTS), axis=1))[:, element]
        for slip in _SLIPS:
            content = printed.number[rows] / slip
            fits = (content >= low - margin) & (content <= high + margin)
            half = np.where(
                np.isnan(work.half_width[rows, element]), 0.5 * content / 100, work.half_width[rows, element] / slip
            )
            set_measured(work, rows[fits], element, content[fits], half[fits])
            work.strike(scale_slip, column, rows[fits])
            rows, low, high, margin = rows[~fits], low[~fits], high[~fits], margin[~fits]


@rule(
    STOP, "row",
    read="more carbon than any steel holds",
    assumed="unusable",
    do="look for a lost decimal mark, per mille, or another element's column",
)  # fmt: skip
def carbon_above_steel(work: Work) -> None:
    """Above 2.6 % the metal is a cast iron."""
    rows = np.flatnonzero(work.values[:, CARBON] > limit("carbon_steel_ceiling"))
    work.values[rows, CARBON] = work.half_width[rows, CARBON] = np.nan
    work.status[rows, CARBON] = MEASURED
    work.strike(carbon_above_steel, work.column_of[CARBON], rows)


def _off_limits(work: Work, rows: NDArray[np.int64], values: Floats) -> Floats:
    """How far contents (len(rows), 19) lie outside the grade's limits, wt %; 0 inside or where no limit is set."""
    low, high = work.limits_of(rows)
    return np.nan_to_num(np.fmax(np.fmax(low - values, values - high), 0.0))


def _far(work: Work, rows: NDArray[np.int64], off: Floats) -> Bools:
    low, high = work.limits_of(rows)
    bound = np.nan_to_num(np.fmax(low, high))
    far = off > np.maximum(limit("mismatch_floor"), limit("mismatch_share") * bound)
    far[:, CARBON] = off[:, CARBON] > limit("mismatch_carbon")
    return far


@rule(
    STOP, "row",
    read="two contents that fit the grade only when exchanged",
    assumed="as printed",
    do="look whether the two columns, or two cells of this row, are swapped",
)  # fmt: skip
def swapped_columns(work: Work) -> None:
    """Chromium in the nickel column."""
    work.swapped = np.zeros(work.n, dtype=bool)
    rows = np.flatnonzero(work.graded)
    if not len(rows):
        return
    stated = work.is_stated()[rows]
    values = np.where(stated, work.values[rows], np.nan)
    off = _off_limits(work, rows, values)
    doubtful = np.flatnonzero((off > repeatability(values)).any(axis=1))
    rows, values, off = rows[doubtful], values[doubtful], off[doubtful]
    present = [e for e, column in enumerate(work.column_of) if column >= 0]
    unlisted = limit("mismatch_floor")
    for a, b in combinations(present, 2):
        exchanged = values.copy()
        exchanged[:, [a, b]] = values[:, [b, a]]
        low, high = work.limits_of(rows)
        ceiling = np.where(np.isnan(high) & np.isnan(low), unlisted, np.where(np.isnan(high), np.inf, high))
        floor = np.nan_to_num(low)
        margin = repeatability(values)

        def fits(v: Floats, e: int, floor: Floats = floor, ceiling: Floats = ceiling, margin: Floats = margin) -> Bools:
            inside: Bools = (v[:, e] >= floor[:, e] - margin[:, e]) & (v[:, e] <= ceiling[:, e] + margin[:, e])
            return inside

        bound_by_both = ~(np.isnan(low[:, a]) & np.isnan(high[:, a]) & np.isnan(low[:, b]) & np.isnan(high[:, b]))
        swap = ~fits(values, a) & ~fits(values, b) & fits(exchanged, a) & fits(exchanged, b) & bound_by_both
        for element in (a, b):
            work.strike(swapped_columns, work.column_of[element], rows[swap])
        work.swapped[rows[swap]] = True


@rule(
    CAUTION, "row",
    read="a content outside the limits of the stated grade",
    assumed="the content of the certificate",
    do="ask whether grade and certificate belong to this bar",
)  # fmt: skip
def outside_grade_limits(work: Work) -> None:
    """Beyond the permissible deviation of the product analysis (EN ISO 683-1, from memory)."""
    rows = np.flatnonzero(work.graded & ~work.swapped)
    values = np.where(work.is_stated()[rows] & (work.status[rows] == MEASURED), work.values[rows], np.nan)
    off = _off_limits(work, rows, values)
    outside = off > repeatability(values)
    for element in np.flatnonzero(outside.any(axis=0)):
        work.strike(outside_grade_limits, work.column_of[element], rows[outside[:, element]])


@rule(
    STOP, "row",
    read="an analysis of another steel than the stated grade",
    assumed="the content of the certificate",
    do="find out which of the two is true before heating: a spark test and a hardened coupon tell",
)  # fmt: skip
def grade_chemistry_mismatch(work: Work) -> None:
    """Carbon far outside the limits, or two other elements."""
    rows = np.flatnonzero(work.graded & ~work.swapped)
    values = np.where(work.is_stated()[rows] & (work.status[rows] == MEASURED), work.values[rows], np.nan)
    far = _far(work, rows, _off_limits(work, rows, values))
    work.strike(grade_chemistry_mismatch, work.columns.get("grade", -1), rows[far[:, CARBON] | (far.sum(axis=1) >= 2)])


@rule(
    CAUTION, "row",
    read="one heat number under two grades",
    assumed="two different steels: nothing is joined",
    do="correct the heat number or the grade",
)  # fmt: skip
def heat_two_grades(work: Work) -> None:
    """A heat is one melt and has one grade."""
    work.strike(
        heat_two_grades, work.columns.get("heat_number", -1), _mixed_heats(work)[_safe(work.heat)] & (work.heat >= 0)
    )


def _safe(codes: NDArray[np.int32]) -> NDArray[np.int32]:
    return np.maximum(codes, 0)


def _mixed_heats(work: Work) -> Bools:
    """(heats,) True where rows of one heat carry different known grades."""
    size = max(len(work.heat_texts), 1)
    low, high = np.full(size, np.iinfo(np.int32).max), np.full(size, -1)
    known = (work.heat >= 0) & work.graded
    np.minimum.at(low, work.heat[known], work.grade_code[known])
    np.maximum.at(high, work.heat[known], work.grade_code[known])
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
    assumed="the product analysis where there is one, else the middle, with a half-width that covers both",
    do="nothing",
)  # fmt: skip
def heat_analyses_joined(work: Work) -> None:
    """Rows with one heat number are one melt and get one chemistry."""
    for element, rows in _heat_differences(work, agree=True):
        stated = _mask(work, rows)
        low, high, _ = _spread(work, element, stated)
        p_low, p_high, has_product = _spread(work, element, stated & (work.role == PRODUCT_ROW))
        heats = work.heat[rows]
        middle = np.where(has_product, (p_low + p_high) / 2, (low + high) / 2)[heats]
        reach = np.maximum(middle - low[heats], high[heats] - middle)
        set_measured(work, rows, element, middle, np.maximum(work.half_width[rows, element], reach))
        work.strike(heat_analyses_joined, work.column_of[element], rows)


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
        low, high, seen = _spread(work, element, stated[:, element])
        gap = usable & (work.status[:, element] == NOT_STATED) & seen[_safe(work.heat)]
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
    return (work.heat >= 0) & bars & ~(_mixed_heats(work) | work.unsure_heat)[_safe(work.heat)]


def _spread(work: Work, element: int, stated: Bools) -> tuple[Floats, Floats, Bools]:
    """Lowest and highest stated content of each heat, and whether any is stated."""
    size = max(len(work.heat_texts), 1)
    low, high = np.full(size, np.inf), np.full(size, -np.inf)
    np.minimum.at(low, work.heat[stated], work.values[stated, element])
    np.maximum.at(high, work.heat[stated], work.values[stated, element])
    seen = high >= low
    return np.where(seen, low, 0.0), np.where(seen, high, 0.0), seen


def _heat_differences(work: Work, agree: bool) -> list[tuple[int, NDArray[np.int64]]]:
    """Per element, the rows whose heat has analyses that differ within (or beyond) repeatability."""
    stated = work.is_stated() & _joinable(work)[:, None] & (work.status == MEASURED)
    out = []
    for element, column in enumerate(work.column_of):
        if column < 0:
            continue
        low, high, _ = _spread(work, element, stated[:, element])
        table = np.zeros((len(high), len(ELEMENTS)))
        table[:, element] = high
        near = high - low <= repeatability(table)[:, element] + 1e-9
        differ = (high > low) & (near if agree else ~near)
        if differ.any():
            out.append((element, np.flatnonzero(differ[_safe(work.heat)] & stated[:, element])))
    return out


def _mask(work: Work, rows: NDArray[np.int64]) -> Bools:
    mask = np.zeros(work.n, dtype=bool)
    mask[rows] = True
    return mask


@rule(
    CAUTION, "row",
    read="one piece id on several rows",
    assumed="several bars",
    do="number the bars apart, or delete the repeated row",
)  # fmt: skip
def duplicate_piece_id(work: Work) -> None:
    """Ids must tell bars apart, else a heat-treat card goes to the wrong bar. Ladle and product rows of one bar may
    share."""
    bars = ~np.isin(work.role, (MINIMUM_ROW, MAXIMUM_ROW, PRODUCT_ROW))
    by_bars = np.bincount(work.piece[(work.piece >= 0) & bars], minlength=max(len(work.piece_texts), 1))
    rows = (work.piece >= 0) & bars & (by_bars[_safe(work.piece)] > 1)
    work.strike(duplicate_piece_id, work.columns.get("piece_id", -1), rows)


@rule(
    CAUTION, "row",
    read="an analysis without carbon, as an X-ray analyser prints it",
    assumed="the carbon of the stated grade",
    do="confirm carbon: it decides window and hardness and an X-ray analyser cannot see it",
)  # fmt: skip
def carbon_from_grade(work: Work) -> None:
    """An analyser printout joined to a grade."""
    analysed = (work.status == MEASURED).sum(axis=1) >= 2
    rows = analysed & (work.status[:, CARBON] == FILLED) & work.graded
    limits_known = np.zeros(work.n, dtype=bool)
    if (CARBON, "max") in work.bounds:
        limits_known = work.bounds[CARBON, "max"].stated
    work.strike(carbon_from_grade, work.column_of[CARBON], rows & ~limits_known)


@rule(
    STOP, "row",
    read="no carbon, neither from a certificate nor from a known grade",
    assumed="not stated: hardening cannot be planned",
    do="find grade or certificate, or harden a coupon at 800 °C in water and measure it: that tells the carbon",
)  # fmt: skip
def carbon_missing(work: Work) -> None:
    """Without carbon there is no window, no hardness and no Ms."""
    bars = ~np.isin(work.role, (MINIMUM_ROW, MAXIMUM_ROW))
    work.strike(carbon_missing, work.column_of[CARBON], bars & (work.status[:, CARBON] == NOT_STATED))


@rule(
    STOP, "row",
    read="contents that sum to more than 100 %",
    assumed="as printed, though it cannot be",
    do="look for a wrong unit or a shifted row",
)  # fmt: skip
def sum_over_100(work: Work) -> None:
    """The whole cannot be less than its parts."""
    work.strike(sum_over_100, -1, np.nan_to_num(work.values).sum(axis=1) > limit("sum_ceiling"))


BEFORE_FILL = (
    limits_row,
    scale_slip,
    carbon_above_steel,
    swapped_columns,
    heat_two_grades,
    heat_analyses_conflict,
    filled_from_heat,
    heat_analyses_joined,
    outside_grade_limits,
    grade_chemistry_mismatch,
)
AFTER_FILL = (duplicate_piece_id, carbon_from_grade, carbon_missing, sum_over_100)
