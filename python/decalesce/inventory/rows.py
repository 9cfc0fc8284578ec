"""Rules for whole rows: rows of limits, slips of scale, swapped columns, grade against chemistry, missing carbon."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.fields import MAXIMUM_ROW, MINIMUM_ROW, PRODUCT_ROW
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import FILLED, MEASURED, NOT_STATED
from decalesce.inventory.rules import CAUTION, STOP, rule
from decalesce.inventory.work import (
    CARBON,
    Analysis,
    Bools,
    Floats,
    Work,
    repeatability,
    repeatability_of,
    safe,
    set_measured,
)

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
    """``C 9.5`` for a steel of 0.90 to 1.03 % is 0.95 % printed in per mille. Only where the grade sets both limits;
    where at least three elements slipped alike and none fits as printed, the whole row did."""
    slipped = np.zeros(work.values.shape)
    fits_as_printed = np.zeros(work.n, dtype=bool)
    for element, column in enumerate(work.column_of):
        if column >= 0:
            fits_as_printed |= _divide_slipped(work, element, slipped)
    for slip in _SLIPS:
        rows = np.flatnonzero(((slipped == slip).sum(axis=1) >= 3) & ~fits_as_printed)
        if len(rows):
            _divide_rest(work, rows, slip, slipped)


def _printed(work: Work, element: int) -> Analysis:
    column = work.column_of[element]
    return next(a for a in work.analyses[element] if a.column == column)


def _divide_slipped(work: Work, element: int, slipped: Floats) -> Bools:
    """Divide the contents of one element that fit the grade only so; (n,) True where the content fits as printed."""
    printed = _printed(work, element)
    value, half = work.values[:, element], work.half_width[:, element]
    low, high = (np.where(work.graded, side[work.grade_code, element], np.nan) for side in work.grade_sides)
    margin = repeatability_of(element, high)
    measured = np.isnan(value) | (work.status[:, element] == MEASURED)
    two_sided = (low > 0) & ~np.isnan(high)
    as_printed: Bools = two_sided & measured & (value >= low - margin) & (value <= high + margin)
    rows = np.flatnonzero(two_sided & measured & (printed.number > 2 * high) & (np.isnan(value) | (value > 2 * high)))
    for slip in _SLIPS:
        content = printed.number[rows] / slip
        fits = (content >= low[rows] - margin[rows]) & (content <= high[rows] + margin[rows])
        width = np.where(np.isnan(half[rows]), 0.5 * content / 100, half[rows] / slip)
        set_measured(work, rows[fits], element, content[fits], width[fits])
        work.strike(scale_slip, printed.column, rows[fits])
        slipped[rows[fits], element] = slip
        rows = rows[~fits]
    return as_printed


def _divide_rest(work: Work, rows: NDArray[np.int64], slip: float, slipped: Floats) -> None:
    """Divide what is left of rows that slipped as a whole; a cell with a unit of its own is left alone."""
    for element, column in enumerate(work.column_of):
        if column < 0:
            continue
        value = work.values[rows, element]
        plain = (work.status[rows, element] == MEASURED) & (value > 0)
        plain &= value == _printed(work, element).number[rows]
        rest = rows[plain & (slipped[rows, element] == 0)]
        set_measured(work, rest, element, work.values[rest, element] / slip, work.half_width[rest, element] / slip)
        work.strike(scale_slip, column, rest)


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


def _grossly_off(work: Work, rows: NDArray[np.int64], values: Floats, off: Floats) -> Bools:
    low, high = work.limits_of(rows)
    broken = np.nan_to_num(np.where(values < low, low, high))
    gross: Bools = off > np.maximum(limit("mismatch_gross_floor"), limit("mismatch_gross_share") * broken)
    return np.asarray(gross.any(axis=1), dtype=np.bool_)


@rule(
    CAUTION, "row",
    read="two contents that fit the grade only when exchanged; every other content fits as it is",
    assumed="exchanged: two columns, or two cells of this row, are swapped",
    do="compare with the certificate before heating",
)  # fmt: skip
def swapped_columns(work: Work) -> None:
    """Chromium in the nickel column. Only one pair may do it, and at least three elements with both limits must then
    fit; otherwise the row stays as printed and the rules below judge it."""
    rows = np.flatnonzero(work.graded)
    values = np.where(work.is_stated()[rows], work.values[rows], np.nan)
    doubtful = np.flatnonzero((_off_limits(work, rows, values) > repeatability(values)).any(axis=1))
    rows, values = rows[doubtful], values[doubtful]
    wrong = ~np.isnan(values) & ~_inside(work, rows, values)
    found: list[tuple[int, int, NDArray[np.int64]]] = []
    for a, b in combinations(np.flatnonzero(wrong.any(axis=0)).tolist(), 2):
        both = np.flatnonzero(wrong[:, a] & wrong[:, b])
        if len(both):
            found.append((a, b, both[_fits_exchanged(work, rows[both], values[both], a, b)]))
    times = np.bincount(np.concatenate([at for _, _, at in found]), minlength=len(rows)) if found else np.zeros(0)
    for a, b, at in found:
        swapped = rows[at[times[at] == 1]]
        for array in (work.values, work.half_width, work.status):
            array[swapped, a], array[swapped, b] = array[swapped, b], array[swapped, a]
        for element in (a, b):
            work.strike(swapped_columns, work.column_of[element], swapped)


def _inside(work: Work, rows: NDArray[np.int64], values: Floats) -> Bools:
    """(len(rows), 19) True where a content is one that the grade allows; what it does not limit may be a residual."""
    low, high = work.limits_of(rows)
    unlimited = np.isnan(low) & np.isnan(high)
    ceiling = np.where(unlimited, limit("mismatch_floor"), np.where(np.isnan(high), np.inf, high))
    margin = repeatability(values)
    inside: Bools = (values >= np.nan_to_num(low) - margin) & (values <= ceiling + margin)
    return inside


def _fits_exchanged(work: Work, rows: NDArray[np.int64], values: Floats, a: int, b: int) -> Bools:
    exchanged = values.copy()
    exchanged[:, [a, b]] = values[:, [b, a]]
    inside = _inside(work, rows, exchanged)
    low, high = work.limits_of(rows)
    unlimited = np.isnan(low) & np.isnan(high)
    enough = (inside & (low > 0) & ~np.isnan(high)).sum(axis=1) >= 3
    fits: Bools = (inside | unlimited | np.isnan(exchanged)).all(axis=1) & inside[:, a] & inside[:, b] & enough
    return fits


@rule(
    CAUTION, "row",
    read="a content outside the limits of the stated grade",
    assumed="the content of the certificate",
    do="ask whether grade and certificate belong to this bar",
)  # fmt: skip
def outside_grade_limits(work: Work) -> None:
    """Beyond the permissible deviation of the product analysis (EN ISO 683-1, from memory)."""
    rows = np.flatnonzero(work.graded)
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
    """Carbon far outside the limits, or two other elements, or one by half of its limit: 0.5 % Cr in a 5 % Cr steel."""
    rows = np.flatnonzero(work.graded)
    values = np.where(work.is_stated()[rows] & (work.status[rows] == MEASURED), work.values[rows], np.nan)
    off = _off_limits(work, rows, values)
    far = _far(work, rows, off)
    other = far[:, CARBON] | (far.sum(axis=1) >= 2) | _grossly_off(work, rows, values, off)
    work.strike(grade_chemistry_mismatch, work.columns.get("grade", -1), rows[other])


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
    rows = (work.piece >= 0) & bars & (by_bars[safe(work.piece)] > 1)
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
    CAUTION, "row",
    read="a carbon content taken from a grade that allows more than 0.3 % between its limits",
    assumed="the middle of the limits with half their distance, which is hardly a content",
    do="get the certificate, or harden and break a coupon before the bar",
)  # fmt: skip
def wide_grade_range(work: Work) -> None:
    """W1 without its suffix runs from 0.70 to 1.50 % C (ASTM A686)."""
    wide = work.half_width[:, CARBON] > limit("wide_carbon_half_width")
    work.strike(
        wide_grade_range, work.columns.get("grade", -1), work.graded & (work.status[:, CARBON] == FILLED) & wide
    )


@rule(
    STOP, "row",
    read="no carbon, neither from a certificate nor from a known grade",
    assumed="not stated: hardening cannot be planned",
    do="find the carbon first: certificate or analysis; a grade tells the heat and the medium to try a coupon in",
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


ROW_RULES = (limits_row, scale_slip, carbon_above_steel, swapped_columns)
GRADE_RULES = (outside_grade_limits, grade_chemistry_mismatch)
AFTER_FILL = (duplicate_piece_id, carbon_from_grade, wide_grade_range, carbon_missing, sum_over_100)
