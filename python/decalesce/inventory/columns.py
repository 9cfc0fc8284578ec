"""Rules for several columns about one element: ladle and product columns, two analyses, columns of limits."""

from __future__ import annotations

import numpy as np

from decalesce.inventory.limits import limit
from decalesce.inventory.reading import FILLED, MEASURED, NOT_STATED
from decalesce.inventory.rules import CAUTION, NOTE, STOP, rule
from decalesce.inventory.words import ELEMENTS
from decalesce.inventory.work import CARBON, Analysis, Bools, Floats, Work, repeatability_of


@rule(
    NOTE, "row",
    read="a ladle and a product analysis of one heat",
    assumed="the product analysis, which was taken from the bar; gaps are closed from the ladle analysis",
    do="nothing",
)  # fmt: skip
def ladle_and_product(work: Work) -> None:
    """Columns of both kinds (EN 10021 tells the cast analysis from the product analysis)."""
    for element, group in work.analyses.items():
        product = _first(group, "product")
        ladle = _first(group, "ladle") or _first(group, "")
        if product is None or ladle is None:
            continue
        both = product.stated & ladle.stated
        work.strike(ladle_and_product, product.column, both)
        _copy(work, element, ladle, ~product.stated & (product.status == NOT_STATED))


@rule(
    CAUTION, "row",
    read="a ladle and a product analysis of one heat that differ by more than sampling explains",
    assumed="the product analysis, with a half-width that covers both",
    do="ask the steelmaker, or have the bar analysed",
)  # fmt: skip
def ladle_product_differ(work: Work) -> None:
    """Beyond the permissible deviation of the product analysis (EN ISO 683-1, from memory)."""
    for element, group in work.analyses.items():
        product = _first(group, "product")
        ladle = _first(group, "ladle") or _first(group, "")
        if product is None or ladle is None:
            continue
        difference = np.abs(product.value - ladle.value)
        allowed = _allowed(element, product, ladle)
        apart = product.stated & ladle.stated & (difference > allowed)
        work.half_width[apart, element] = np.maximum(work.half_width[apart, element], difference[apart])
        work.strike(ladle_product_differ, product.column, apart)


@rule(
    NOTE, "row",
    read="two columns of one element that agree",
    assumed="the mean, with a half-width that covers both",
    do="nothing",
)  # fmt: skip
def two_columns_joined(work: Work) -> None:
    """Two analyses of one kind."""
    for element, first, second in _pairs(work):
        difference = np.abs(first.value - second.value)
        both = first.stated & second.stated & (difference <= _allowed(element, first, second))
        differ = both & (difference > 0)
        if _leads(work, element, first):
            work.values[both, element] = (first.value[both] + second.value[both]) / 2
            spread = np.maximum(difference / 2, np.maximum(first.half_width, second.half_width))
            work.half_width[both, element] = spread[both]
            _copy(work, element, second, (first.status == NOT_STATED) & second.stated)
        work.strike(two_columns_joined, second.column, differ)


@rule(
    CAUTION, "row",
    read="two columns of one element that contradict each other",
    assumed="the first, with a half-width that covers both",
    do="find out which analysis belongs to the bar",
)  # fmt: skip
def two_columns_conflict(work: Work) -> None:
    """Two analyses of one kind that differ by more than repeatability."""
    for element, first, second in _pairs(work):
        difference = np.abs(first.value - second.value)
        apart = first.stated & second.stated & (difference > _allowed(element, first, second))
        if _leads(work, element, first):
            work.half_width[apart, element] = np.maximum(work.half_width[apart, element], difference[apart])
        work.strike(two_columns_conflict, second.column, apart)


@rule(
    STOP, "row",
    read="two carbon contents of one bar that are those of two steels",
    assumed="the first, with a half-width that covers both, which is no content",
    do="find out which analysis belongs to the bar before heating: a hardened and broken coupon tells",
)  # fmt: skip
def two_columns_two_steels(work: Work) -> None:
    """``C 0.95`` beside ``C 0.20``."""
    for element, first, second in _pairs(work):
        if element == CARBON:
            difference = np.abs(first.value - second.value)
            apart = first.stated & second.stated & (difference > limit("mismatch_carbon"))
            work.strike(two_columns_two_steels, second.column, apart)


@rule(
    CAUTION, "row",
    read="limits (min and max columns) and no analysis",
    assumed="the middle of the limits, marked filled; with a maximum only, half of it",
    do="get the analysis of the heat",
)  # fmt: skip
def limit_columns(work: Work) -> None:
    """``C min`` and ``C max`` beside no ``C``."""
    for element in range(len(ELEMENTS)):
        low, high = work.bounds.get((element, "min")), work.bounds.get((element, "max"))
        if high is None:
            continue
        gap = (work.status[:, element] == NOT_STATED) & high.stated
        lower = np.where(low.stated, low.value, 0.0) if low is not None else np.zeros(work.n)
        if element == CARBON:
            gap &= low.stated if low is not None else False
        gap &= lower <= high.value
        work.values[gap, element] = (lower[gap] + high.value[gap]) / 2
        work.half_width[gap, element] = (high.value[gap] - lower[gap]) / 2
        work.status[gap, element] = FILLED
        work.strike(limit_columns, high.column, gap)


@rule(
    CAUTION, "row",
    read="a minimum above the maximum",
    assumed="neither limit is used",
    do="look whether the two columns are swapped",
)  # fmt: skip
def limits_reversed(work: Work) -> None:
    """``C min 1.03, C max 0.90``."""
    for element in range(len(ELEMENTS)):
        low, high = work.bounds.get((element, "min")), work.bounds.get((element, "max"))
        if low is not None and high is not None:
            work.strike(limits_reversed, high.column, low.stated & high.stated & (low.value > high.value))


@rule(
    CAUTION, "row",
    read="a content outside the limits printed beside it",
    assumed="the content",
    do="compare with the certificate",
)  # fmt: skip
def outside_own_limits(work: Work) -> None:
    """The certificate's own min and max columns contradict its analysis."""
    for (element, side), bound in work.bounds.items():
        value = work.values[:, element]
        stated = (work.status[:, element] == MEASURED) & bound.stated & (bound.value > 0)
        over = value > bound.value + 1e-9 if side == "max" else value < bound.value - 1e-9
        work.strike(outside_own_limits, bound.column, stated & over)


COLUMN_RULES = (
    ladle_and_product,
    two_columns_joined,
    ladle_product_differ,
    two_columns_conflict,
    two_columns_two_steels,
    limit_columns,
    limits_reversed,
    outside_own_limits,
)


def place_first(work: Work) -> None:
    """Write the leading column of each element into the arrays: product, else the plain column, else ladle."""
    for element, group in work.analyses.items():
        lead = _first(group, "product") or _first(group, "") or _first(group, "ladle")
        if lead is not None:
            work.column_of[element] = lead.column
            _copy(work, element, lead, np.ones(work.n, dtype=bool))


def _first(group: list[Analysis], kind: str) -> Analysis | None:
    return next((a for a in group if a.kind == kind), None)


def _leads(work: Work, element: int, analysis: Analysis) -> bool:
    return work.column_of[element] == analysis.column


def _pairs(work: Work) -> list[tuple[int, Analysis, Analysis]]:
    out = []
    for element, group in work.analyses.items():
        for kind in ("product", "", "ladle"):
            same = [a for a in group if a.kind == kind]
            out += [(element, same[0], other) for other in same[1:]]
    return out


def _copy(work: Work, element: int, analysis: Analysis, rows: Bools) -> None:
    work.values[rows, element] = analysis.value[rows]
    work.half_width[rows, element] = analysis.half_width[rows]
    work.status[rows, element] = analysis.status[rows]


def _allowed(element: int, first: Analysis, second: Analysis) -> Floats:
    return repeatability_of(element, np.fmax(first.value, second.value)) + 1e-9
