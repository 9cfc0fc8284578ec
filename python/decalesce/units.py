"""The unit edge: numbers are in the unit the argument names; strings and pint quantities say their own.

A string without a unit is refused with the fix shown, since nobody can tell whether "204" was meant in degC or degF.

A temperature (``_C``) and a difference of temperature (``_K``) are converted by different functions and never mixed:
27 degF of swing is 15 K, while 27 degF on a thermometer is -2.8 degC.
"""

import re
from functools import cache
from typing import Any

import numpy as np

# Spellings the trade uses that pint reads otherwise or not at all.
_spelling = {
    "c": "degC",
    "°c": "degC",
    "deg c": "degC",
    "celsius": "degC",
    "f": "degF",
    "°f": "degF",
    "deg f": "degF",
    "fahrenheit": "degF",
    "k": "kelvin",
    '"': "inch",
    "″": "inch",
    "in.": "inch",
    "m": "metre",
}
_time_spelling = {"m": "minute", "h": "hour", "hr": "hour", "hrs": "hour", "min.": "minute"}
_difference = {"degC": "delta_degC", "degF": "delta_degF"}
#: By unit of the answer: the unit as it is written after a number, and as the library names it.
_written = {
    "degC": ("C", "degC"),
    "kelvin": ("K", "K"),
    "second": ("s", "s"),
    "millimetre": ("mm", "mm"),
    "watt": ("W", "W"),
}
_number = re.compile(
    r"\s*(?P<sign>[-+±]?)\s*(?:(?P<whole>\d+)[\s-]+)?(?:(?P<top>\d+)\s*/\s*(?P<bottom>\d+)|"
    r"(?P<decimal>\d+(?:[.,]\d*)?|[.,]\d+))\s*(?P<unit>\D.*)?\s*$"
)


@cache
def registry() -> Any:
    """The one pint registry of the package; quantities of the application registry are taken as well."""
    import pint

    application: Any = pint.application_registry
    return application.get()


def _split(argument: str, text: str, expected: str) -> tuple[float, str]:
    match = _number.match(text)
    if match is None or (match["whole"] and not match["top"]):
        raise ValueError(f"{argument} = {text!r}: not a number with a unit; expected {expected}")
    if match["top"]:
        if int(match["bottom"]) == 0:
            raise ValueError(f"{argument} = {text!r}: a fraction over zero; expected {expected}")
        number = int(match["whole"] or 0) + int(match["top"]) / int(match["bottom"])
    else:
        number = float(match["decimal"].replace(",", "."))
    return (-number if match["sign"] == "-" else number), (match["unit"] or "").strip()


def _convert(argument: str, value: Any, unit: str, expected: str, spelling: dict[str, str]) -> Any:
    import pint

    if isinstance(value, str):
        number, name = _split(argument, value, expected)
        if not name:
            written, named = _written[unit]
            raise ValueError(
                f"{argument} = {value!r} has no unit; write {value.strip() + written!r} or give the number {number:g} "
                f"({named}); expected {expected}"
            )
        name = spelling.get(name.lower(), name)
        try:
            quantity = registry().Quantity(number, name)
        except Exception as problem:
            raise ValueError(f"{argument} = {value!r}: unknown unit {name!r}; expected {expected}") from problem
    else:
        quantity = value
    try:
        return quantity.to(unit).magnitude
    except pint.DimensionalityError as problem:
        raise ValueError(f"{argument} = {value!r} is not in a fitting unit; expected {expected}") from problem


def _is_quantity(value: Any) -> bool:
    return hasattr(value, "magnitude") and hasattr(value, "to")


def _plain(argument: str, value: Any, expected: str) -> Any:
    if isinstance(value, bool) or value is None:
        raise TypeError(f"{argument} = {value!r}; expected {expected}")
    if isinstance(value, int | float):
        return float(value)
    array = np.asarray(value)
    if array.dtype.kind not in "fiu":
        raise TypeError(f"{argument} = {value!r}; expected {expected}")
    array = array.astype(float)
    return float(array) if array.ndim == 0 else array


def temperature_C(value: Any, argument: str = "temperature_C") -> Any:
    """A temperature in degC from a number or array (degC), a string such as ``"1475F"``, or a pint quantity.

    Raises ValueError (a string without a unit, an unknown or unfitting unit, below absolute zero) and TypeError, naming
    the argument, the value and what was expected.
    """
    expected = 'a temperature such as 800 (degC), "800C", "1475F" or "1073K"'
    if isinstance(value, str) or _is_quantity(value):
        celsius = _convert(argument, value, "degC", expected, _spelling)
    else:
        celsius = _plain(argument, value, expected)
    if np.any(np.asarray(celsius) < -273.15):
        raise ValueError(f"{argument} = {value!r} is below absolute zero; expected {expected}")
    return celsius


def difference_K(value: Any, argument: str = "difference_K") -> Any:
    """A difference of temperature in K from a number (K), a string such as ``"27F"`` or ``"15K"``, or a pint quantity.

    A pint quantity must be a difference (``delta_degF`` or K); a string is always read as one. Raises as
    `temperature_C`.
    """
    expected = 'a difference of temperature such as 15 (K), "15K", "15C" or "27F"'
    if isinstance(value, str):
        words = {key: _difference.get(unit, unit) for key, unit in _spelling.items()} | _difference
        return _convert(argument, value, "kelvin", expected, words)
    if _is_quantity(value):
        if str(value.units) in ("degree_Celsius", "degree_Fahrenheit"):
            raise ValueError(f"{argument} = {value} is a temperature, not a difference; expected {expected}")
        return _convert(argument, value, "kelvin", expected, _spelling)
    return _plain(argument, value, expected)


def time_s(value: Any, argument: str = "time_s") -> Any:
    """A time in s from a number (s), a string such as ``"2h"``, ``"90 min"``, or by pint. Raises as `temperature_C`."""
    expected = 'a time such as 7200 (s), "2h", "90min" or "45s"'
    if isinstance(value, str) or _is_quantity(value):
        return _convert(argument, value, "second", expected, _time_spelling)
    return _plain(argument, value, expected)


def length_mm(value: Any, argument: str = "length_mm") -> Any:
    """A length in mm from a number (mm), a string such as ``"3/16in"``, ``"1-1/2 in"`` or ``"4,8 mm"``, or by pint.

    Raises as `temperature_C`.
    """
    expected = 'a length such as 4.8 (mm), "4.8mm", "3/16in" or "0.187in"'
    if isinstance(value, str) or _is_quantity(value):
        return _convert(argument, value, "millimetre", expected, _spelling)
    return _plain(argument, value, expected)


def power_W(value: Any, argument: str = "power_W") -> Any:
    """A power in W from a number (W), a string such as ``"3kW"``, or by pint. Raises as `temperature_C`."""
    expected = 'a power such as 3000 (W), "3kW" or "2500W"'
    if isinstance(value, str) or _is_quantity(value):
        return _convert(argument, value, "watt", expected, {})
    return _plain(argument, value, expected)
