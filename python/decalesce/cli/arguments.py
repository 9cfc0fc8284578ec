"""What is typed, read into degC, K, s, mm and HRC. A bare number is refused, with the fix shown.

Every function is a parser of one option: it takes the text and returns a number, or raises the error that the command
line prints beside the option's name.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

import typer

if TYPE_CHECKING:
    from decalesce.scales import Hardness

_BARE = re.compile(r"[-+]?[\d.,/\s-]*\d[\d.,/\s-]*")
_TIMES = re.compile(r"\s*[x×]\s*", re.IGNORECASE)
_NUMBER = re.compile(r"\s*(\d+([.,]\d*)?|[.,]\d+)\s*")
#: How the library says what is wrong with a hardness.
_NO_HARDNESS = ("lies off the Rockwell C scale", "is on no known scale")


_SIZES = "expected a size such as 4x30mm, 3/16inx1-1/2in or 20mm"


@dataclass(frozen=True, slots=True)
class Size:
    """One to three lengths, mm, as typed: thickness, width, length."""

    lengths_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class NewTemper:
    """What a temper is converted to: a time (s) or a temperature (degC)."""

    kind: Literal["time", "temperature"]
    value: float


def _refuse(text: str, problem: str) -> typer.BadParameter:
    return typer.BadParameter(f"{text!r} {problem}")


def _read(convert: Callable[..., Any], text: str, what: str, fix: str, examples: str) -> float:
    if _BARE.fullmatch(text):
        raise _refuse(text, f"has no unit; {fix.format(text.strip())}")
    try:
        return float(convert(text))
    except ValueError as problem:
        why = "is below absolute zero" if "below absolute zero" in str(problem) else f"is no {what}"
        raise _refuse(text, f"{why}; expected {examples}") from problem


def temperature(text: str) -> float:
    """``1475F``, ``800C`` or ``1073K`` in degC."""
    from decalesce import units

    fix = "write {0}F if it is Fahrenheit, {0}C if it is Celsius (such as 1475F or 800C)"
    return _read(units.temperature_C, text, "temperature", fix, "one such as 1475F, 800C or 1073K")


def difference(text: str) -> float:
    """A difference of temperature in K: ``27F`` of swing are 15 K."""
    from decalesce import units

    fix = "write {0}F, {0}C or {0}K; it is a difference, so 27F are 15K"
    kelvin = _read(units.difference_K, text, "difference of temperature", fix, "one such as 27F or 15K")
    if kelvin < 0.0:
        raise _refuse(text, "is negative; expected a difference such as 27F or 15K")
    return kelvin


def time(text: str) -> float:
    """``2h``, ``45min`` or ``90s`` in s."""
    from decalesce import units

    seconds = _read(units.time_s, text, "time", "write {0}min or {0}h (such as 45min or 2h)", "one such as 45min or 2h")
    if seconds <= 0.0:
        raise _refuse(text, "is no time above zero; expected one such as 45min or 2h")
    return seconds


def rate(text: str) -> float:
    """A rate of heating in K/s: ``300C/h``, ``540F/h`` or ``5C/min``."""
    from decalesce import units

    kelvin, slash, per = text.partition("/")
    if not slash or not per.strip():
        raise _refuse(text, "is no rate; write it as 300C/h, 540F/h or 5C/min")
    try:
        seconds = float(units.time_s(f"1{per.strip()}"))
    except ValueError as problem:
        raise _refuse(text, "is no rate; expected one such as 300C/h, 540F/h or 5C/min") from problem
    found = difference(kelvin) / seconds
    if found <= 0.0:
        raise _refuse(text, "is no rate above zero; expected one such as 300C/h or 540F/h")
    return found


def length(text: str) -> float:
    """``4.8mm`` or ``3/16in`` in mm."""
    from decalesce import units

    fix = "write {0}mm or {0}in (such as 4.8mm or 3/16in)"
    millimetres = _read(units.length_mm, text, "length", fix, "one such as 4.8mm or 3/16in")
    if millimetres <= 0.0:
        raise _refuse(text, "is no length above zero; expected one such as 4.8mm or 3/16in")
    return millimetres


def size(text: str) -> Size:
    """``4x30mm``, ``3/16in x 1-1/2in`` or ``20mm`` in mm; a number without a unit takes that of the next one."""
    pieces = _TIMES.split(text.strip())
    if len(pieces) > 3:
        raise _refuse(text, f"has more than three lengths; {_SIZES}")
    if not all(pieces):
        raise _refuse(text, f"lacks a length beside an x; {_SIZES}")
    lengths: list[float] = []
    unit = ""
    for piece in reversed(pieces):
        if _BARE.fullmatch(piece):
            if not unit:
                raise _refuse(text, f"has no unit; write {text.strip()}mm or {text.strip()}in")
            lengths.append(length(piece.strip() + unit))
        else:
            unit = re.sub(r"^[-+\d.,/\s]*", "", piece)
            lengths.append(length(piece))
    return Size(tuple(reversed(lengths)))


def wanted(text: str) -> "Hardness":
    """``62``, ``62HRC``, ``746HV`` or ``600HBW``, in HRC by the printed tables of the scales."""
    from decalesce import scales

    try:
        return scales.wanted(float(text.replace(",", ".")) if _NUMBER.fullmatch(text) else text)
    except ValueError as problem:
        why = next((words for words in _NO_HARDNESS if words in str(problem)), "is no hardness")
        expected = "20 to 68 HRC" if "lies off" in why else "one such as 62HRC or 746HV"
        raise _refuse(text, f"{why}; expected {expected}") from problem


def hardness(text: str) -> float:
    """The same as a number, HRC."""
    return float(wanted(text))


def constant(text: str) -> float | str:
    """``20``, ``18``, the user's own, always for hours; or ``carbon`` for the one that depends on carbon."""
    if text.strip().lower() == "carbon":
        return "carbon_dependent"
    try:
        return float(text)
    except ValueError as problem:
        raise _refuse(
            text, "is no constant; expected the one for hours, such as 20 or 18, or the word carbon"
        ) from problem


def new_temper(text: str) -> NewTemper:
    """``1h`` or ``420F``: a time or a temperature, told apart by the unit."""
    if _BARE.fullmatch(text):
        raise _refuse(text, f"has no unit; write {text}h or {text}min for a time, {text}F or {text}C for a temperature")
    try:
        return NewTemper("time", time(text))
    except typer.BadParameter:
        pass
    try:
        return NewTemper("temperature", temperature(text))
    except typer.BadParameter as problem:
        expected = "one such as 1h, 45min, 420F or 215C"
        raise _refuse(text, f"is neither a time nor a temperature; expected {expected}") from problem
