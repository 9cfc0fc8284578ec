"""Arguments of the closed forms: numbers or arrays, checked one way. A single bad number raises; a bad row does not."""

from typing import Any

import numpy as np

from decalesce import units

Value = Any
"""A float, or an array of floats."""


def number(argument: str, value: Any, expected: str) -> Value:
    """A float or an array of floats. TypeError for anything else, strings and booleans too."""
    array = np.asarray(value)
    if isinstance(value, bool) or array.dtype.kind not in "fiu":
        raise TypeError(f"{argument} = {value!r}; expected {expected}")
    return float(array) if array.ndim == 0 else array.astype(float)


def _checked(argument: str, value: Value, shown: Any, expected: str, *, good: Any) -> Value:
    if isinstance(value, float) and not np.isnan(value) and not good(value):
        raise ValueError(f"{argument} = {shown!r}; expected {expected}")
    return value


def above_zero(argument: str, value: Any, what: str) -> Value:
    """A number above 0; ``what`` says what it is and its unit."""
    expected = f"{what}, above 0"
    return _checked(argument, number(argument, value, expected), value, expected, good=lambda x: x > 0.0)


def zero_or_more(argument: str, value: Any, what: str) -> Value:
    """A number of 0 or more."""
    expected = f"{what}, 0 or more"
    return _checked(argument, number(argument, value, expected), value, expected, good=lambda x: x >= 0.0)


def share(argument: str, value: Any, what: str) -> Value:
    """A number above 0 and up to 1."""
    expected = f"{what}, above 0 and up to 1"
    return _checked(argument, number(argument, value, expected), value, expected, good=lambda x: 0.0 < x <= 1.0)


def length_m(argument: str, value: Any, *, zero: bool = False) -> Value:
    """A length in m from mm, a string or a pint quantity."""
    least = "0 or more" if zero else "above 0"
    metres = units.length_mm(value, argument) * 1e-3
    expected = f'a length in mm, {least}, such as 25, "25mm" or "1in"'
    return _checked(argument, metres, value, expected, good=lambda x: x >= 0.0 if zero else x > 0.0)


def time_s(argument: str, value: Any, *, zero: bool = True) -> Value:
    """A time in s from a number, a string or a pint quantity."""
    least = "0 or more" if zero else "above 0"
    expected = f'a time in s, {least}, such as 600, "10min" or "2h"'
    good = (lambda x: x >= 0.0) if zero else (lambda x: x > 0.0)
    return _checked(argument, units.time_s(value, argument), value, expected, good=good)


def share_of_way(target_C: Value, start_C: Value, end_C: Value, names: tuple[str, str, str]) -> Value:
    """How far a temperature lies on the way from ``start`` to ``end``: 0 at the start, 1 at the end.

    A single target that does not lie on the way raises ValueError; in an array it is left for the formula to refuse.
    """
    if all(isinstance(x, float) for x in (target_C, start_C, end_C)):
        low, high = min(start_C, end_C), max(start_C, end_C)
        if target_C != start_C and (target_C < low or target_C > high or target_C == end_C):
            target, start, end = names
            raise ValueError(
                f"{target} = {target_C:g}; expected between {start} = {start_C:g} and {end} = {end_C:g}, which is "
                "never quite reached"
            )
        return (target_C - start_C) / (end_C - start_C) if end_C != start_C else float("nan")
    with np.errstate(divide="ignore", invalid="ignore"):
        return (np.asarray(target_C) - start_C) / (np.asarray(end_C) - start_C)
