"""How a sheet says numbers and units; needs no matplotlib."""

import math
import textwrap
from collections.abc import Iterable
from typing import Any

from decalesce import _core, flags
from decalesce._core import Estimate

UNITS = ("metric", "shop")
_MM_PER_INCH = 25.4
_STATUS = {"memory": "from memory", "two-pages": "seen on two pages", "page": "seen on one page"}
_GRAVE = ("caution", "stop")


def checked_units(units: str) -> str:
    """``units`` when it is one of `UNITS`. Raises ValueError otherwise."""
    if units not in UNITS:
        raise ValueError(f"units = {units!r}; expected 'metric' (degC, mm) or 'shop' (degF, inch)")
    return units


def fahrenheit(celsius: Any) -> Any:
    """DegF of degC, a number or an array."""
    return celsius * 1.8 + 32.0


def celsius(fahrenheit_F: Any) -> Any:
    """DegC of degF, a number or an array."""
    return (fahrenheit_F - 32.0) / 1.8


def shown(celsius_C: Any, units: str) -> Any:
    """A temperature as the sheet draws it: degC or degF."""
    return celsius_C if units == "metric" else fahrenheit(celsius_C)


def degree(units: str) -> str:
    """The unit of the temperatures of a sheet."""
    return "°C" if units == "metric" else "°F"


def temperature(celsius_C: float, units: str) -> str:
    """A temperature in words, without its unit."""
    return f"{shown(celsius_C, units):.0f}"


def span(low_C: float, high_C: float, units: str) -> str:
    """A range of temperatures in words."""
    low, high = temperature(low_C, units), temperature(high_C, units)
    return low if low == high else f"{low} to {high}"


def thickness(length_mm: float, units: str) -> str:
    """A thickness in words; inches as a fraction where it is one of the usual ones to within 1 %."""
    if units == "metric":
        return f"{length_mm:.3g} mm"
    inches = length_mm / _MM_PER_INCH
    for parts in (1, 2, 4, 8, 16, 32):
        whole = round(inches * parts)
        if whole and abs(whole / parts / inches - 1.0) < 0.01:
            over, rest = divmod(whole, parts)
            fraction = f"{rest}/{parts}" if rest else ""
            return f"{' '.join(part for part in (str(over) if over else '', fraction) if part)} in"
    return f"{inches:.3f} in"


def duration(seconds: float) -> str:
    """A time as a smith says it."""
    if seconds >= 3600.0:
        return f"{seconds / 3600.0:.3g} h"
    return f"{seconds / 60.0:.3g} min"


def seen(status: str) -> str:
    """How a published figure was seen."""
    return _STATUS.get(status, status)


def wrap(text: str, width: int) -> str:
    """Break lines at a width."""
    return "\n".join(textwrap.wrap(text.replace("degC", "°C").replace("degF", "°F"), width))


def why_not(*estimates: Estimate) -> str:
    """Why there is no answer: the sentences of the gravest flags of some estimates, each once."""
    ids = dict.fromkeys(flag for estimate in estimates for flag in estimate.flags)
    sentences = _sentences(ids)
    level = "stop" if any(lv == "stop" for lv, _ in sentences.values()) else "caution"
    said = [sentence for lv, sentence in sentences.values() if lv == level]
    return " ".join(said) or "This steel has no answer here, and no reason was given."


def to_mind(ids: Iterable[str]) -> str:
    """What to mind when reading the sheet: sentences of cautions and stops, then the ids of the notes."""
    sentences = _sentences(dict.fromkeys(ids))
    grave = [text for level, text in sentences.values() if level in _GRAVE]
    notes = [name.replace("_", " ") for name, (level, _) in sentences.items() if level not in _GRAVE]
    return " ".join([*grave, *([f"Notes: {', '.join(notes)}."] if notes else [])])


def _sentences(ids: Iterable[str]) -> dict[str, tuple[str, str]]:
    return {
        name: (_core.flag_level(bit), _core.flag_sentences(bit)[name]) for name in ids for bit in (flags.bit(name),)
    }


def usable(value: float) -> bool:
    """Whether a number is an answer."""
    return not math.isnan(value)
