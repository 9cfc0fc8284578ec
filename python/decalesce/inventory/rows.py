"""Rules for whole rows: rows of limits, swapped columns, grade against chemistry, missing carbon."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.fields import MAXIMUM_ROW, MINIMUM_ROW, PRODUCT_ROW
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import FILLED, MEASURED, NOT_STATED
from decalesce.inventory.rules import CAUTION, STOP, rule
from decalesce.inventory.slips import cell_slips, scale_slip
from decalesce.inventory.work import (
    CARBON,
    Bools,
    Floats,
    Work,
    repeatability,
    safe,
)


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


ROW_RULES = (limits_row, scale_slip, swapped_columns, cell_slips, carbon_above_steel)
GRADE_RULES = (outside_grade_limits, grade_chemistry_mismatch)
AFTER_FILL = (duplicate_piece_id, carbon_from_grade, wide_grade_range, carbon_missing, sum_over_100)
