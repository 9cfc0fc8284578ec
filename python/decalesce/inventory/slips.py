"""Slips of scale: a row in per mille or ppm, and a single cell whose decimal mark slipped; judged by the grade."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.cells import over_60_percent
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import BELOW_LIMIT, MEASURED
from decalesce.inventory.rules import CAUTION, STOP, rule
from decalesce.inventory.work import Analysis, Bools, Floats, Work, repeatability_of

_SLIPS = (10.0, 100.0, 1000.0, 10000.0)


@rule(
    CAUTION, "row",
    read="a content that fits the grade once it is divided by 10, 100, 1000 or 10000",
    assumed="a slip of the decimal mark or of the unit (per mille, ppm): the divided content",
    do="compare with the certificate",
)  # fmt: skip
def scale_slip(work: Work) -> None:
    """``C 9.5`` for a steel of 0.90 to 1.03 % is 0.95 % printed in per mille. A certificate is printed in one unit:
    where at least two elements with both limits slipped alike and none fits as printed, the whole row is divided."""
    slipped, fits_as_printed = _slipped(work)
    several = (slipped > 0).sum(axis=1) >= 2
    largest = slipped.max(axis=1)
    alike = ((slipped == 0) | (slipped == largest[:, None])).all(axis=1)
    whole = several & alike & ~fits_as_printed
    for slip in _SLIPS:
        rows = np.flatnonzero(whole & (largest == slip))
        if len(rows):
            _divide_row(work, rows, slip)
    mixed_units(work, several & ~whole)


@rule(
    STOP, "row",
    read="several contents that fit the grade only when divided, beside some that fit as printed or by another factor",
    assumed="as printed: one row has one unit, and this one cannot have",
    do="type the row again from the certificate",
)  # fmt: skip
def mixed_units(work: Work, rows: Bools) -> None:
    """Carbon and manganese in per mille and chromium in per cent: nobody knows what the others are in."""
    work.strike(mixed_units, -1, rows)


def cell_slips(work: Work) -> None:
    """Divide the one content of a row that fits the grade only so; the finding is ``scale_slip``. Comes after the
    exchange of two columns, which explains two wrong contents and not one."""
    slipped, _ = _slipped(work)
    slipped[(slipped > 0).sum(axis=1) != 1] = 0.0
    for element in np.flatnonzero(slipped.any(axis=0)).tolist():
        rows = np.flatnonzero(slipped[:, element])
        _divide(work, rows, element, slipped[rows, element])


def _slipped(work: Work) -> tuple[Floats, Bools]:
    """(n, 19) the factor by which a content must be divided to fit its grade, 0 where it need not or does not; and (n,)
    True where a content fits as printed. Only where the grade sets both limits."""
    slipped = np.zeros(work.values.shape)
    fits_as_printed = np.zeros(work.n, dtype=bool)
    for element, column in enumerate(work.column_of):
        if column < 0:
            continue
        number, value = _printed(work, element).number, work.values[:, element]
        low, high = (np.where(work.graded, side[work.grade_code, element], np.nan) for side in work.grade_sides)
        margin = repeatability_of(element, high)
        judged = (low > 0) & ~np.isnan(high) & (np.isnan(value) | (work.status[:, element] == MEASURED))
        fits_as_printed |= judged & (value >= low - margin) & (value <= high + margin)
        too_much = judged & (number > 2 * high) & (np.isnan(value) | (value > 2 * high))
        for slip in _SLIPS:
            fits = (number / slip >= low - margin) & (number / slip <= high + margin)
            slipped[too_much & fits & (slipped[:, element] == 0), element] = slip
    return slipped, fits_as_printed


def _printed(work: Work, element: int) -> Analysis:
    column = work.column_of[element]
    return next(a for a in work.analyses[element] if a.column == column)


def _divide_row(work: Work, rows: NDArray[np.int64], slip: float) -> None:
    """Divide every content of rows that slipped as a whole; a cell with a unit of its own is left alone."""
    for element, column in enumerate(work.column_of):
        if column < 0:
            continue
        number, value, status = (
            _printed(work, element).number[rows],
            work.values[rows, element],
            work.status[rows, element],
        )
        content = (status == MEASURED) & (value > 0) & (value == number)
        below = (status == BELOW_LIMIT) & (value == number / 2)
        impossible = (
            np.isnan(value) & (number > limit("analysis_ceiling")) & (number / slip <= limit("analysis_ceiling"))
        )
        _divide(work, rows[content | below | impossible], element, slip)


def _divide(work: Work, rows: NDArray[np.int64], element: int, slip: Floats | float) -> None:
    """What was more than 60 % before is none now, so that finding is taken back."""
    printed = _printed(work, element)
    value, half = work.values[rows, element], work.half_width[rows, element]
    content = np.where(np.isnan(value), printed.number[rows], value) / slip
    work.half_width[rows, element] = np.where(np.isnan(half), 0.5 * content / 100, half / slip)
    work.values[rows, element] = content
    work.withdraw(over_60_percent, printed.column, rows)
    work.strike(scale_slip, printed.column, rows)
