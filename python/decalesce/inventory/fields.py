"""Rules for the cells that are no contents: hardness, temperatures, condition, identifiers, grade, kind of analysis.

Each ``read_…`` function takes one distinct text and never raises; what it cannot read is NaN (or an empty text) with a
finding.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from decalesce.inventory.headers import ColumnRole
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import Reading, apply, plain, read_number
from decalesce.inventory.rules import CAUTION, NOTE, STOP, number_of, rule
from decalesce.inventory.words import ABSENT, CONDITION_WORDS, CONDITIONS, LADLE, MAX_WORDS, MIN_WORDS, PRODUCT, fold

SCALES = ("", "HRC", "HB", "HV")
_SCALE_PATTERN = re.compile(r"\b(hrc|hbw|hbs|hb|hv(?:10|30|1|5)?|rockwell ?c?|brinell|vickers)(?![a-z])", re.IGNORECASE)
_SCALE_OF = {"hrc": "HRC", "roc": "HRC", "hb": "HB", "bri": "HB", "hv": "HV", "vic": "HV"}


@dataclass(frozen=True)
class FieldResult:
    """``value`` NaN when not stated or unreadable; ``scale`` an index into ``SCALES`` (hardness only)."""

    value: float
    scale: int
    hits: tuple[int, ...]


def _absent(text: str) -> bool:
    return not re.search("[0-9]", text) and (
        re.fullmatch(r"[-_/.?*~ ]*", text) is not None or re.sub(r"[\s.]", "", text).casefold() in ABSENT
    )


@rule(NOTE, "field", read="a dash, n/a or the like", assumed="not stated", do="nothing")
def field_not_stated(reading: Reading) -> bool:
    """``-`` in a hardness, temperature or identifier cell."""
    reading.done = reading.text != "" and _absent(reading.text)
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
    STOP, "field",
    read="a number above 70 in a Rockwell C column",
    assumed="unusable: the HRC scale ends at 70, so it is a Brinell or Vickers number",
    do="write the scale beside the number",
)  # fmt: skip
def brinell_in_rockwell_column(reading: Reading) -> bool:
    """``217`` in an HRC column."""
    if reading.unit != "HRC" or reading.number <= limit("rockwell_ceiling"):
        return False
    reading.number, reading.done = math.nan, True
    return True


@rule(
    STOP, "field",
    read="a number below 70 in a Brinell or Vickers column",
    assumed="unusable: no steel is so soft, so it is a Rockwell number",
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


# --- condition, identifiers, grade, kind of analysis ------------------------------------------------------------------


@rule(
    NOTE, "field",
    read="a condition that is not in the list",
    assumed="other",
    do="write hot rolled, cold drawn, ground, annealed, spheroidized, normalized or quenched and tempered",
)  # fmt: skip
def condition_unknown(text: str) -> bool:
    """True for a stated condition with no known word (marks +A, +AC, +N, +QT of EN 10083 and EN ISO 4957 are)."""
    return text != "" and not _absent(text) and _condition_code(text) == CONDITIONS.index("other")


def read_condition(text: str) -> tuple[int, tuple[int, ...]]:
    """The condition as an index into ``words.CONDITIONS``, and the rules that applied."""
    text = plain(text)
    if not text or _absent(text):
        return 0, ()
    return _condition_code(text), (number_of(condition_unknown),) if condition_unknown(text) else ()


def _condition_code(text: str) -> int:
    found = re.findall(r"\+?[a-z]+(?:\+[a-z]+)?", fold(text))
    words = {word for word in found if len(word) > 1 or len(found) == 1}
    return next(
        (CONDITIONS.index(name) for name, known in CONDITION_WORDS.items() if words & known), CONDITIONS.index("other")
    )


@rule(
    CAUTION, "field",
    read="an identifier in powers of ten",
    assumed="as it stands: a spreadsheet took the number for a quantity and its last digits are lost",
    do="type the number from the certificate, in a cell formatted as text",
)  # fmt: skip
def identifier_became_number(text: str) -> bool:
    """``1.23E+05`` for a heat number. ``1E5`` as typed by a person has no sign and no decimals, and is left alone."""
    return re.fullmatch(r"[0-9][.,][0-9]+[eE]\+?[0-9]+|[0-9]+[eE]\+[0-9]+", text) is not None


@rule(
    NOTE, "field",
    read="an identifier with .0 at its end",
    assumed="the whole number; zeros at its start may be lost",
    do="compare with the certificate",
)  # fmt: skip
def identifier_decimal(text: str) -> bool:
    """``12345.0``: a number column held an identifier."""
    return re.fullmatch(r"[0-9]{2,}[.,]0", text) is not None


@rule(
    NOTE, "header",
    read="identifiers kept as numbers",
    assumed="the numbers; zeros at the start are lost",
    do="format the column as text",
)  # fmt: skip
def identifier_from_numbers(roles: Sequence[ColumnRole], typed: Sequence[bool]) -> list[int]:
    """Heat 00123 became 123: the heat and piece id columns whose cells are numbers in the source."""
    return [i for i, role in enumerate(roles) if role.kind in ("heat_number", "piece_id") and typed[i]]


def read_identifier(text: str) -> tuple[str, tuple[int, ...]]:
    """A heat number or piece id as text, and the rules that applied."""
    if text.isascii() and text.isalnum() and not text.isalpha():
        return text, ()
    text = plain(text)
    if _absent(text):
        return "", ()
    if identifier_decimal(text):
        return text[:-2], (number_of(identifier_decimal),)
    return text, (number_of(identifier_became_number),) if identifier_became_number(text) else ()


@rule(
    CAUTION, "field",
    read="a material number with fewer than four digits after the point",
    assumed="a spreadsheet dropped the zeros at its end",
    do="compare with the certificate and format the column as text",
)  # fmt: skip
def grade_lost_zero(text: str) -> bool:
    """``1.251`` for 1.2510: material numbers of EN 10027-2 have four digits after the point."""
    return re.fullmatch(r"1\.[0-9]{2,3}", text) is not None


@rule(NOTE, "field", read="a material number with a comma", assumed="a point", do="nothing")
def grade_comma(text: str) -> bool:
    """``1,2510``."""
    return re.fullmatch(r"1,[0-9]{2,4}", text) is not None


def read_grade(text: str) -> tuple[str, tuple[int, ...]]:
    """A grade as text to look up, and the rules that applied."""
    text, hits = read_identifier(text)
    if grade_comma(text):
        text, hits = text.replace(",", "."), (*hits, number_of(grade_comma))
    if grade_lost_zero(text):
        text, hits = text.ljust(6, "0"), (*hits, number_of(grade_lost_zero))
    return text, hits


_HAS_DIGIT = re.compile("[0-9]")
BAR, LADLE_ROW, PRODUCT_ROW, MINIMUM_ROW, MAXIMUM_ROW = range(5)
_LIMIT_LABELS = frozenset(
    [
        "limit",
        "limits",
        "spec",
        "specification",
        "soll",
        "sollwert",
        "norm",
        "standard",
        "requirement",
        "vorgabe",
        "grenze",
        "grenzwert",
    ]
)


def row_role(text: str, strict: bool = False) -> int:
    """What a label says about its row: a bar (0), a ladle or product analysis, minimum or maximum limits.

    ``strict`` is for identifiers and grades, where only a plain minimum, maximum or limits label counts.
    """
    if strict and _HAS_DIGIT.search(text):
        return BAR
    words = [w for w in re.split(r"[^a-z]+", fold(plain(text))) if w]
    if strict and len(words) > 2:
        return BAR
    if any(w in MIN_WORDS for w in words):
        return MINIMUM_ROW
    if any(w in MAX_WORDS for w in words) or any(w in _LIMIT_LABELS for w in words):
        return MAXIMUM_ROW
    if strict:
        return BAR
    if any(w in PRODUCT for w in words):
        return PRODUCT_ROW
    return LADLE_ROW if any(w in LADLE for w in words) else BAR
