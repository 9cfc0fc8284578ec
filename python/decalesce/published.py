"""Formulas as printed: each with its citation, its range, its error and how it was seen.

A formula always answers. Outside its range the answer carries ``outside_range``; where the range was never seen it
carries ``range_unpublished``; a formula written down from memory carries ``from_memory``, and one that was seen in
print while its range is remembered carries ``range_from_memory``.
"""

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from decalesce import _core, flags
from decalesce._composition import composition_of
from decalesce._values import Comparable


@dataclass(frozen=True, slots=True)
class Formula:
    """What is known about a formula besides its text."""

    id: str
    quantity: str
    citation: str
    lineage: str
    unit: str
    status: str
    needs: str
    standard_error_K: float
    range_known: bool
    range_from_memory: bool
    ranges: dict[str, tuple[float, float]]
    note: str


@dataclass(frozen=True, slots=True, eq=False)
class Answer(Comparable):
    """A formula's answer: degC (1/K for a rate), a float or an array, with flag ids (bits a row for arrays)."""

    value: Any
    flags: Any

    def flagged(self, flag: str) -> Any:
        """Whether the answer (each answer of a batch) carries the flag."""
        if isinstance(self.flags, tuple):
            return flag in self.flags
        return (self.flags & np.uint64(flags.bit(flag))) != 0


@cache
def formulas() -> tuple[Formula, ...]:
    """Every formula of the library, in the order of the catalogue."""
    return tuple(Formula(**record) for record in _core.formulas())


def formula(formula_id: str) -> Formula:
    """The record of one formula. Raises KeyError for an unknown id."""
    for record in formulas():
        if record.id == formula_id:
            return record
    raise KeyError(f"published: no formula {formula_id!r}; published.formulas() lists them")


def evaluate(
    formula_id: str,
    w: Any,
    *,
    thickness_mm: float = np.nan,
    grain_um: float = np.nan,
    Ms: float = np.nan,
    Bs: float = np.nan,
    rate_per_K: float = np.nan,
) -> Answer:
    """One formula for a composition, grade or bar: shape in, shape out; an unusable amount that it reads gives NaN.

    ``Ms`` and ``Bs`` are degC, ``thickness_mm`` the plate thickness, ``grain_um`` the prior austenite grain size:
    only the
    formulas whose record says so need them, and without them the answer is NaN with ``input_not_given``.
    Raises KeyError for an unknown id, TypeError for something that is no composition.
    """
    composition = composition_of(w)
    given = (thickness_mm, grain_um, Ms, Bs, rate_per_K)
    value = _core.formula_values(formula_id, composition, *given)
    bits = _core.formula_flags(formula_id, composition, *given)
    return Answer(value, flags.names(bits) if isinstance(bits, int) else bits)
