"""Equality of plain values in which "no answer" is NaN: two values that say the same are equal, NaN included."""

from collections.abc import Mapping
from dataclasses import fields
from math import isnan
from typing import Any

import numpy as np


def same(a: Any, b: Any) -> bool:
    """Whether two members say the same; NaN is equal to NaN in the same place, also inside tuples, maps and arrays."""
    if isinstance(a, np.ndarray) or isinstance(b, np.ndarray):
        x, y = np.asarray(a), np.asarray(b)
        return np.array_equal(x, y, equal_nan=x.dtype.kind == "f" and y.dtype.kind == "f")
    if isinstance(a, float) and isinstance(b, float):
        return a == b or (isnan(a) and isnan(b))
    if isinstance(a, tuple) and isinstance(b, tuple):
        return len(a) == len(b) and all(map(same, a, b))
    if isinstance(a, Mapping) and isinstance(b, Mapping):
        return a.keys() == b.keys() and all(same(value, b[key]) for key, value in a.items())
    return bool(a == b)


def _for_hash(value: Any) -> Any:
    if isinstance(value, float) and isnan(value):
        return None
    if isinstance(value, tuple):
        return tuple(map(_for_hash, value))
    if isinstance(value, Mapping):
        return frozenset((key, _for_hash(item)) for key, item in value.items())
    return value


class Comparable:
    """Base of a frozen dataclass (declared with ``eq=False``) that is compared member by member by `same`.

    Its hash fits; one that holds arrays cannot be hashed and raises TypeError.
    """

    __slots__ = ()

    def _members(self) -> tuple[Any, ...]:
        # a value's members are those of a dataclass, which this base is not: its heirs are
        return tuple(getattr(self, field.name) for field in fields(self) if field.compare)  # type: ignore[arg-type]

    def __eq__(self, other: object) -> bool:
        """Compare the members of two values of one type."""
        return type(other) is type(self) and same(self._members(), other._members())

    def __hash__(self) -> int:
        """Hash the members."""
        return hash(_for_hash(self._members()))
