"""Whether an analysis is the grade it is sold as: inside its limits, a little outside, or another steel."""

import csv
from collections.abc import Sequence
from functools import cache, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from decalesce import data_files
from decalesce._core import Composition
from decalesce.grade import Grade

#: Codes of the compiled core, in its order.
INSIDE, OUTSIDE, NOT_THIS_GRADE = 0, 1, 2
#: The elements that make a grade. Residuals, deoxidants and impurities make none.
ELEMENTS = ("C", "Mn", "Si", "Cr", "Ni", "Mo", "V", "W", "Co")
_MEASURED = 0
#: Every steel holds these: a grade that sets them no limit says nothing about them.
_ALWAYS_THERE = frozenset({"C", "Mn", "Si"})


@cache
def _rules() -> dict[str, float]:
    with data_files.path("tables/plan_rules.csv").open(encoding="utf-8", newline="") as stream:
        return {row["name"]: float(row["value"]) for row in csv.DictReader(stream)}


@lru_cache(maxsize=4096)
def _limits(grade: Grade) -> tuple[tuple[float, float], ...]:
    """Lower and upper limit of each element. An addition that the standard does not name is not in the grade."""
    limits = grade.limits
    ends = []
    for element in ELEMENTS:
        if element in limits:
            low, high = limits[element].minimum, limits[element].maximum
            ends.append((-np.inf if low is None else low, np.inf if high is None else high))
        else:
            ends.append((-np.inf, np.inf if element in _ALWAYS_THERE else 0.0))
    return tuple(ends)


def _measured(w: Composition, element: str, rows: int) -> NDArray[np.float64]:
    """The amounts (rows,) that an analysis found; NaN where it says nothing."""
    amounts = np.broadcast_to(np.asarray(w.amounts.get(element, np.nan), dtype=float), (rows,))
    status: Any = w.status.get(element, "not_stated")
    if isinstance(status, str):
        seen: Any = status == "measured"
    else:
        codes = np.asarray(status)
        seen = codes == ("measured" if codes.dtype.kind in "OU" else _MEASURED)
    return np.where(seen, amounts, np.nan)


def standings(w: Composition, grades: Sequence[Grade], index: NDArray[np.integer[Any]]) -> NDArray[np.uint8]:
    """How each analysis stands to its grade, (n,): `INSIDE`, `OUTSIDE` or `NOT_THIS_GRADE`.

    Args:
        w: compositions of shape (n,), or one. Only what is measured counts: what was filled from the grade, is below a
            limit of detection or is not stated says nothing.
        grades: the grades that occur.
        index: (n,) into ``grades``; -1, no grade, is inside.

    Outside is more than the permissible deviation of a product analysis beyond a limit. Another steel is shown by
    carbon far outside, by one alloying element that is wrong by half of its limit, or by two that are wrong by a
    quarter (data/tables/plan_rules.csv, common practice).
    """
    rows = len(index)
    rules = _rules()
    ends = np.array([_limits(grade) for grade in grades] + [((-np.inf, np.inf),) * len(ELEMENTS)])
    outside, alone = np.zeros(rows, dtype=bool), np.zeros(rows, dtype=bool)
    far = np.zeros(rows, dtype=np.intp)
    for k, element in enumerate(ELEMENTS):
        low, high = ends[index, k, 0], ends[index, k, 1]
        amount = _measured(w, element, rows)
        short = amount < low
        off = np.nan_to_num(np.where(short, low - amount, amount - high), nan=0.0, neginf=0.0)
        limit = np.where(short, low, np.where(np.isinf(high), 0.0, high))
        much = off > rules[f"not_this_grade_{element}_wt"]
        beyond = off > np.maximum(rules["product_analysis_least_wt"], rules["product_analysis_share"] * limit)
        outside |= np.where(limit > 0.0, beyond, much)  # of what the grade does not name a residual is allowed
        if element == "C":
            alone |= much
        else:
            alone |= much & (off > rules["not_this_grade_alone_share"] * limit)
            far += much & (off > rules["not_this_grade_two_share"] * limit)
    other = alone | (far > 1)
    return np.where(other, NOT_THIS_GRADE, np.where(outside, OUTSIDE, INSIDE)).astype(np.uint8)


def standing(w: Composition, grade: Grade | None) -> int:
    """The same of one analysis; without a grade it is inside."""
    if grade is None:
        return INSIDE
    return int(standings(w, (grade,), np.zeros(1, dtype=np.intp))[0])
