"""Rules for hardness and temperature cells.

Each ``read_…`` function takes one distinct text and never raises; what it cannot read is NaN with a finding.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.limits import limit
from decalesce.inventory.reading import Reading, apply, plain, read_number
from decalesce.inventory.rules import CAUTION, NOTE, STOP, rule
from decalesce.inventory.words import ABSENT, MAX_WORDS, MIN_WORDS, fold

SCALES = ("", "HRC", "HB", "HV")
_SCALE_PATTERN = re.compile(r"\b(hrc|hbw|hbs|hb|hv(?:10|30|1|5)?|rockwell ?c?|brinell|vickers)(?![a-z])", re.IGNORECASE)
_SCALE_OF = {"hrc": "HRC", "roc": "HRC", "hb": "HB", "bri": "HB", "hv": "HV", "vic": "HV"}


@dataclass(frozen=True)
class FieldResult:
    """``value`` NaN when not stated or unreadable; ``scale`` an index into ``SCALES`` (hardness only)."""

    value: float
    scale: int
    hits: tuple[int, ...]


def is_absent(text: str) -> bool:
    """True when the text says that nothing is stated."""
    return not re.search("[0-9]", text) and (
        re.fullmatch(r"[-_/.?*~ ]*", text) is not None or re.sub(r"[\s.]", "", text).casefold() in ABSENT
    )


@rule(NOTE, "field", read="a dash, n/a or the like", assumed="not stated", do="nothing")
def field_not_stated(reading: Reading) -> bool:
    """``-`` in a hardness, temperature or identifier cell."""
    reading.done = reading.text != "" and is_absent(reading.text)
    return reading.done


@rule(NOTE, "field", read="a range", assumed="its middle", do="nothing")
def field_range(reading: Reading) -> bool:
    """``60-62``, ``58/60``, ``62+2`` (62 to 64), ``60 ± 1``, ``790…820``."""
    match = re.fullmatch(r"([0-9.,]+) *(-|/|\.\.+|…|to|bis|à|±|\+/-|\+ */? *-?) *([0-9.,]+)", reading.text)
    if match is None:
        return False
    first, second = Reading(match.group(1)), Reading(match.group(3))
    if not (read_number(first) and read_number(second)):
        return False
    sign = match.group(2)
    if sign in ("±", "+/-", "+-"):
        low, high = first.number - second.number, first.number + second.number
    elif sign.startswith("+"):
        low, high = first.number, first.number + second.number
    else:
        low, high = first.number, second.number
    if high < low:
        return False
    reading.number = (low + high) / 2
    return True


@rule(CAUTION, "field", read="a limit (min, max, ≤, ≥)", assumed="the limit itself", do="give the measured value")
def field_limit(reading: Reading) -> bool:
    """``max 217 HB``, ``min. 60 HRC``."""
    match = re.fullmatch(r"(?:(<=|>=|<|>) *|([^\W\d]+)[. ]+)?([0-9.,]+) *([^\W\d]+)?\.?", reading.text)
    if match is None or not (match.group(1) or match.group(2) or match.group(4)):
        return False
    words = [fold(w) for w in (match.group(2), match.group(4)) if w]
    if any(w not in MIN_WORDS | MAX_WORDS for w in words):
        return False
    reading.text = match.group(3)
    return True


@rule(CAUTION, "field", read="no hardness", assumed="not stated", do="write it as 60 HRC, 217 HB or 700 HV")
def unreadable_hardness(reading: Reading) -> bool:
    """Whatever cannot be read as a hardness."""
    if not math.isnan(reading.number) or read_number(reading):
        return False
    reading.done = True
    return True


@rule(
    CAUTION, "field",
    read="a hardness without its scale",
    assumed="HRC up to 70, HB above",
    do="write the scale into the header",
)  # fmt: skip
def hardness_scale_assumed(reading: Reading) -> bool:
    """``217`` under a header that says only hardness."""
    if reading.unit:
        return False
    reading.unit = "HRC" if reading.number <= limit("rockwell_ceiling") else "HB"
    return True


@rule(
    CAUTION, "field",
    read="a number above 70 in a Rockwell C column",
    assumed="not stated: the HRC scale ends at 70, so it is a Brinell or Vickers number, as annealed bars have",
    do="write the scale beside the number; state the wanted hardness if it stood in that column",
)  # fmt: skip
def brinell_in_rockwell_column(reading: Reading) -> bool:
    """``217`` in an HRC column."""
    if reading.unit != "HRC" or reading.number <= limit("rockwell_ceiling"):
        return False
    reading.number, reading.done = math.nan, True
    return True


@rule(
    CAUTION, "field",
    read="a number below 70 in a Brinell or Vickers column",
    assumed="not stated: no steel is so soft, so it is a Rockwell number",
    do="write the scale beside the number",
)  # fmt: skip
def rockwell_in_brinell_column(reading: Reading) -> bool:
    """``60`` in an HB column."""
    if reading.unit not in ("HB", "HV") or reading.number >= limit("rockwell_ceiling"):
        return False
    reading.number, reading.done = math.nan, True
    return True


@rule(
    CAUTION, "field",
    read="a Rockwell C number below 20 or a Brinell number above 650",
    assumed="as written, outside the scale",
    do="measure with Vickers",
)  # fmt: skip
def outside_hardness_scale(reading: Reading) -> bool:
    """ISO 6508-1 and ISO 6506-1 end their scales there."""
    soft = reading.unit == "HRC" and reading.number < limit("rockwell_floor")
    return soft or (reading.unit == "HB" and reading.number > limit("brinell_ceiling"))


@rule(
    CAUTION, "field",
    read="a target in Brinell or Vickers",
    assumed="Rockwell C by the printed table (ASTM E140); nothing where the C scale does not reach",
    do="measure on the scale you want: a conversion is no reading",
)  # fmt: skip
def target_not_rockwell(scale: NDArray[np.uint8]) -> NDArray[np.bool_]:
    """Targets of edge tools are Rockwell C, and a conversion (``ParsedRack.target_HRC``) has its own error."""
    other: NDArray[np.bool_] = (scale == SCALES.index("HB")) | (scale == SCALES.index("HV"))
    return other


_HARDNESS_RULES = (
    field_not_stated,
    field_range,
    field_limit,
    unreadable_hardness,
    hardness_scale_assumed,
    brinell_in_rockwell_column,
    rockwell_in_brinell_column,
    outside_hardness_scale,
)


def read_hardness(text: str, scale: str = "") -> FieldResult:
    """Read a hardness. ``scale`` is the column's (HRC, HB, HV or ""); a scale in the cell wins."""
    reading = Reading(plain(text), unit=scale if scale in SCALES else "")
    if not reading.text:
        return FieldResult(math.nan, 0, ())
    found = _SCALE_PATTERN.search(reading.text)
    if found:
        word = found.group(1).casefold()
        reading.unit = _SCALE_OF.get(word[:3], _SCALE_OF.get(word[:2], ""))
        reading.text = _SCALE_PATTERN.sub(" ", reading.text).strip()
    apply(_HARDNESS_RULES, reading)
    hits = tuple(dict.fromkeys(reading.hits))
    stated = not math.isnan(reading.number)
    return FieldResult(reading.number, SCALES.index(reading.unit) if stated else 0, hits)


# --- temperatures -----------------------------------------------------------------------------------------------------


@rule(CAUTION, "field", read="no temperature", assumed="not stated", do="write it as 800 °C or 1475 °F")
def unreadable_temperature(reading: Reading) -> bool:
    """Whatever cannot be read as a temperature."""
    if not math.isnan(reading.number) or read_number(reading):
        return False
    reading.done = True
    return True


def _ceiling(purpose: str) -> float:
    names = {
        "harden": "harden_ceiling",
        "temper": "temper_ceiling",
        "forge": "forge_ceiling",
        "anneal": "anneal_ceiling",
    }
    return limit(names.get(purpose, "any_ceiling"))


@rule(CAUTION, "field", read="a temperature without a unit", assumed="°C", do="write the unit into the header")
def temperature_unit_assumed(reading: Reading) -> bool:
    """``800`` under a header without a unit."""
    if reading.unit:
        return False
    reading.unit = "°C"
    return True


@rule(
    CAUTION, "field",
    read="a temperature in a °C column that no steel stands at this step",
    assumed="°F",
    do="correct the cell or the header",
)  # fmt: skip
def fahrenheit_in_celsius_column(reading: Reading) -> bool:
    """``1475`` in a hardening column marked °C is 1475 °F = 802 °C."""
    if reading.unit != "°C" or reading.number <= _ceiling(reading.kind):
        return False
    reading.unit = "°F"
    return True


@rule(
    CAUTION, "field",
    read="a hardening temperature in a °F column that is too cool to harden any steel",
    assumed="°C",
    do="correct the cell or the header",
)  # fmt: skip
def celsius_in_fahrenheit_column(reading: Reading) -> bool:
    """``800`` in a hardening column marked °F: 800 °F would be 427 °C."""
    if reading.unit != "°F" or reading.kind != "harden" or "°F" in reading.raw:
        return False
    if not limit("harden_floor") <= reading.number or _celsius(reading.number) >= limit("harden_floor"):
        return False
    reading.unit = "°C"
    return True


@rule(
    STOP, "field",
    read="a temperature beyond any heat treatment of steel",
    assumed="unusable",
    do="correct the cell",
)  # fmt: skip
def temperature_implausible(reading: Reading) -> bool:
    """``9000``."""
    celsius = _celsius(reading.number) if reading.unit == "°F" else reading.number
    if celsius <= _ceiling(reading.kind):
        return False
    reading.number, reading.done = math.nan, True
    return True


_TEMPERATURE_RULES = (
    field_not_stated,
    field_range,
    unreadable_temperature,
    temperature_unit_assumed,
    fahrenheit_in_celsius_column,
    celsius_in_fahrenheit_column,
    temperature_implausible,
)


def read_temperature(text: str, unit: str = "", purpose: str = "other") -> FieldResult:
    """Read a temperature into °C. ``unit`` is the column's (°C, °F or ""); a unit in the cell wins."""
    reading = Reading(plain(text), unit=unit if unit in ("°C", "°F") else "", kind=purpose)
    if not reading.text:
        return FieldResult(math.nan, 0, ())
    stated = re.search(r"(?<=[0-9]) *(°|deg\.? ?|º|˚)? ?([cCfF])$", reading.text)
    if stated:
        reading.unit = f"°{stated.group(2).upper()}"
        reading.raw = reading.unit
        reading.text = reading.text[: stated.start()].strip()
    else:
        reading.text = re.sub(r" *[°º˚]$", "", reading.text)
    apply(_TEMPERATURE_RULES, reading)
    value = _celsius(reading.number) if reading.unit == "°F" else reading.number
    return FieldResult(value, 0, tuple(dict.fromkeys(reading.hits)))


@lru_cache(maxsize=4096)
def _celsius(fahrenheit: float) -> float:
    if math.isnan(fahrenheit):
        return math.nan
    from decalesce.units import registry

    return float(registry().Quantity(fahrenheit, "degF").to("degC").magnitude)
