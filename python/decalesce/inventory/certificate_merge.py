"""From the analyses of all certificate files to one chemistry a heat.

Product analysis before ladle analysis (EN 10021); two analyses of one kind give their middle with a half-width that
covers both; where they contradict each other the middle is marked as doubtful. A measured content wins over a limit.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.columns import ladle_and_product, ladle_product_differ
from decalesce.inventory.fields import PRODUCT_ROW
from decalesce.inventory.heats import heat_analyses_joined
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import BELOW_LIMIT, MEASURED, NOT_STATED
from decalesce.inventory.rules import CAUTION, rule
from decalesce.inventory.words import ELEMENTS
from decalesce.inventory.work import Bools, Floats, new_arrays, repeatability_of


@dataclass(frozen=True)
class Analyses:
    """The analysis rows of all files, one below the other: contents (n, 19), ``role`` and ``heat`` (n,)."""

    values: Floats
    half_width: Floats
    status: NDArray[np.uint8]
    role: NDArray[np.uint8]
    heat: NDArray[np.int64]
    n_heats: int


@dataclass(frozen=True)
class Chemistry:
    """One row a heat: contents, half-widths, statuses (h, 19) and where its analyses contradict each other."""

    values: Floats
    half_width: Floats
    status: NDArray[np.uint8]
    doubtful: Bools


@rule(
    CAUTION, "certificate",
    read="two analyses of one heat that contradict each other",
    assumed="their middle, with a half-width that covers both; bars of the heat that state nothing themselves get it",
    do="find out which analysis belongs to the heat",
)  # fmt: skip
def certificate_analyses_conflict(apart: Bools, product: Bools) -> Bools:
    """Two laboratories, one heat, 0.09 % carbon apart; a product analysis beside a ladle analysis is used instead."""
    return apart & ~product


Strike = Callable[[Callable[..., Any], str, NDArray[np.int64]], None]


def merge(analyses: Analyses, strike: Strike) -> Chemistry:
    """One chemistry a heat. ``strike(rule, element, rows)`` is told which rows a rule struck."""
    values, half_width, status = new_arrays(analyses.n_heats)
    out = Chemistry(values, half_width, status, np.zeros(values.shape, dtype=bool))
    for element in range(len(ELEMENTS)):
        _below(analyses, element, out)
        _measured(analyses, element, out, strike)
    return out


def _below(analyses: Analyses, element: int, out: Chemistry) -> None:
    """The lowest limit anybody reported."""
    rows = np.flatnonzero(analyses.status[:, element] == BELOW_LIMIT)
    lowest = _least(analyses, rows, analyses.values[rows, element])
    stated = np.isfinite(lowest)
    out.values[stated, element] = out.half_width[stated, element] = lowest[stated]
    out.status[stated, element] = BELOW_LIMIT


def _measured(analyses: Analyses, element: int, out: Chemistry, strike: Strike) -> None:
    measured = (analyses.status[:, element] == MEASURED) & ~np.isnan(analyses.values[:, element])
    rows = _without_rounded_copies(analyses, element, np.flatnonzero(measured))
    value, half, heats = analyses.values[rows, element], analyses.half_width[rows, element], analyses.heat[rows]
    product = analyses.role[rows] == PRODUCT_ROW
    low, high = _least(analyses, rows, value), -_least(analyses, rows, -value)
    best = [_least(analyses, rows[product], value[product]), -_least(analyses, rows[product], -value[product])]
    has_product, has_other = np.isfinite(best[0]), np.isfinite(_least(analyses, rows[~product], value[~product]))
    stated = np.isfinite(low)
    with np.errstate(invalid="ignore"):
        middle = np.where(has_product, (best[0] + best[1]) / 2, (low + high) / 2)
        reach = np.maximum(middle - low, high - middle)
        differ = stated & (high > low)
        apart = differ & (high - low > repeatability_of(element, np.where(stated, high, 0.0)) + 1e-9)
    widest = -_least(analyses, rows, -half)
    out.values[stated, element] = middle[stated]
    out.half_width[stated, element] = np.maximum(widest, reach)[stated]
    out.status[stated, element] = MEASURED
    out.doubtful[:, element] = apart
    both = has_product & has_other
    for function, heats_struck in (
        (ladle_and_product, differ & ~apart & both),
        (ladle_product_differ, apart & both),
        (heat_analyses_joined, differ & ~apart & ~both),
        (certificate_analyses_conflict, certificate_analyses_conflict(apart, both)),
    ):
        strike(function, ELEMENTS[element], rows[heats_struck[heats]])


def _without_rounded_copies(analyses: Analyses, element: int, rows: NDArray[np.int64]) -> NDArray[np.int64]:
    """``0.8`` beside ``0.81`` is the same figure rounded and moves nothing."""
    half, heats = analyses.half_width[rows, element], analyses.heat[rows]
    coarse = half >= limit("coarse_ratio") * _least(analyses, rows, half)[heats]
    fine = rows[~coarse]
    value = analyses.values[:, element]
    low, high = _least(analyses, fine, value[fine]), -_least(analyses, fine, -value[fine])
    held = (np.abs(value[rows] - low[heats]) <= half + 1e-9) & (np.abs(value[rows] - high[heats]) <= half + 1e-9)
    kept: NDArray[np.int64] = rows[~(coarse & held)]
    return kept


def _least(analyses: Analyses, rows: NDArray[np.int64], value: Floats) -> Floats:
    """The smallest of some rows' values for each heat, inf where a heat has none."""
    out = np.full(analyses.n_heats, np.inf)
    np.minimum.at(out, analyses.heat[rows], value)
    return out


def says_nothing(status: NDArray[np.uint8], values: Floats) -> Bools:
    """(n,) True for rows without one usable analysis."""
    stated = np.isin(status, (MEASURED, BELOW_LIMIT)) & ~np.isnan(values)
    nothing: Bools = ~stated.any(axis=1) | (status == NOT_STATED).all(axis=1)
    return nothing


def stack(parts: Sequence[NDArray[Any]], width: int = 0) -> NDArray[Any]:
    """Arrays of several files one below the other; without any file an empty array."""
    if parts:
        return np.concatenate(parts)
    return np.empty((0, width) if width else 0)
