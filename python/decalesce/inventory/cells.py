"""Rules for one element cell of a certificate.

``read_cell`` turns the text of a cell into wt %, its half-width and its status. It never raises: what it cannot read is
NaN with the finding ``unreadable_cell``. The half-width of a measured content is half a unit of its last printed digit
(rounding only; the laboratory's own scatter is added by the physics).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from decalesce.inventory.cell_limits import (
    below_limit,
    below_unstated_limit,
    carbon_upper_limit,
    lower_limit_only,
    upper_limit,
    upper_limit_residual,
)
from decalesce.inventory.cell_words import (
    became_date,
    empty_cell,
    footnote_mark,
    foreign_digits,
    not_a_number_text,
    not_determined,
    set_below,
    set_not_stated,
    set_unusable,
    spreadsheet_error,
    trace,
)
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import (
    FILLED,
    MEASURED,
    Reading,
    RuleFunction,
    apply,
    plain,
    read_number,
    read_part,
)
from decalesce.inventory.rules import CAUTION, NOTE, STOP, number_of, rule
from decalesce.inventory.words import element_unit

FACTORS = {"": 1.0, "%": 1.0, "‰": 0.1, "ppm": 1e-4, "x10": 0.1, "x100": 1e-2, "x1000": 1e-3, "x10000": 1e-4}
NEVER_ZERO = frozenset({"C", "Mn", "Si", "P", "S"})
TRACE_ONLY = frozenset({"N", "B"})


@dataclass(frozen=True)
class CellResult:
    """``value`` and ``half_width`` in wt % (NaN: unusable), ``status`` 0 measured 1 below limit 2 filled 3 not stated,
    ``number`` the number as printed (NaN when none was read), ``hits`` register numbers of the rules that applied."""

    value: float
    half_width: float
    status: int
    number: float
    hits: tuple[int, ...]


@rule(
    CAUTION, "cell",
    read="about, ca. or ~ before the number",
    assumed="good to one unit of the last digit on each side",
    do="find the analysis if the element matters",
)  # fmt: skip
def approximate(reading: Reading) -> bool:
    """``ca. 0.95``."""
    match = re.match(r"(ca|circa|env|environ|about|approx|etwa|ungef|~|≈)\.? *(?=[0-9.,])", reading.text, re.IGNORECASE)
    if match is None:
        return False
    reading.text, reading.kind = reading.text[match.end() :], "about"
    return True


@rule(NOTE, "cell", read="a content with its tolerance", assumed="the tolerance is the half-width", do="nothing")
def plus_minus(reading: Reading) -> bool:
    """``0.95 ± 0.02``, ``0.95+/-0.02``."""
    match = re.fullmatch(r"(.*?[0-9]) *(?:±|\+/-|\+-|\+ / -) *([0-9.,].*)", reading.text)
    if match is None:
        return False
    unit = element_unit(_trailing(match.group(2)))
    part = read_part(reading, match.group(2)[: len(match.group(2)) - len(_trailing(match.group(2)))])
    if part is None or (unit is None and _trailing(match.group(2))):
        return False
    reading.text, reading.tolerance = match.group(1) + _trailing(match.group(2)), part.number
    return True


_RANGE = re.compile(r"([0-9.,]+) *(-|\.\.+|…|÷|/|to|bis|à|a|~) *([0-9.,]+)(.*)", re.IGNORECASE)


@rule(
    CAUTION, "cell",
    read="a range, which is a specification and no analysis",
    assumed="the middle, give or take half the range, marked filled",
    do="get the analysis of the heat",
)  # fmt: skip
def range_in_cell(reading: Reading) -> bool:
    """``0.90-1.03``, ``0,90 … 1,03``."""
    match = _RANGE.fullmatch(reading.text)
    if match is None:
        return False
    low_text, sign, high_text, tail = match.groups()
    unit = element_unit(tail.strip())
    if (tail.strip() and unit is None) or (sign == "/" and not re.search("[.,]", low_text)):
        return False
    reading.unit = unit or reading.unit
    low, high = read_part(reading, low_text), read_part(reading, high_text)
    if low is None or high is None or high.number < low.number:
        return False
    factor = FACTORS[reading.unit]
    if high.number * factor > limit("analysis_ceiling"):
        return False
    reading.number = (low.number + high.number) / 2
    reading.value, reading.half_width = reading.number * factor, (high.number - low.number) / 2 * factor
    reading.status, reading.done = FILLED, True
    return True


@rule(NOTE, "cell", read="a per cent sign in the cell", assumed="mass per cent", do="nothing")
def percent_in_cell(reading: Reading) -> bool:
    """``0,95 %``, ``0.95 wt.%``."""
    return _take_unit(reading, "%")


@rule(NOTE, "cell", read="ppm or mg/kg in the cell", assumed="10000 ppm are 1 %", do="nothing")
def ppm_in_cell(reading: Reading) -> bool:
    """``80 ppm`` is 0.0080 %."""
    return _take_unit(reading, "ppm")


@rule(NOTE, "cell", read="a per mille sign or g/kg in the cell", assumed="10 per mille are 1 %", do="nothing")
def per_mille_in_cell(reading: Reading) -> bool:
    """``9,5 ‰`` is 0.95 %."""
    return _take_unit(reading, "‰")


@rule(
    NOTE, "cell",
    read="a small negative content",
    assumed="zero drift of the instrument: below 0.01 %",
    do="nothing",
)  # fmt: skip
def negative_near_zero(reading: Reading) -> bool:
    """``-0.002`` for an element that is not there; never for carbon."""
    part = _negative(reading)
    if part is None or reading.element == "C" or part.number * FACTORS[reading.unit] > limit("zero_drift"):
        return False
    set_below(reading, limit("trace_limit"))
    return True


@rule(STOP, "cell", read="a negative content", assumed="unusable", do="compare with the certificate")
def negative_number(reading: Reading) -> bool:
    """``-0.95`` is no content; the dash may be a separator."""
    return _negative(reading) is not None and set_unusable(reading)


@rule(
    STOP, "cell",
    read="something that is no number",
    assumed="unusable",
    do="type the content from the certificate, or empty the cell",
)  # fmt: skip
def unreadable_cell(reading: Reading) -> bool:
    """Whatever no other rule could read."""
    if read_number(reading):
        return False
    return set_unusable(reading)


@rule(
    CAUTION, "cell",
    read="a whole number of 5 or more for nitrogen or boron, without a unit",
    assumed="ppm",
    do="write the unit into the header",
)  # fmt: skip
def ppm_assumed(reading: Reading) -> bool:
    """``N 85`` is 85 ppm: no steel holds 85 % nitrogen."""
    if reading.element not in TRACE_ONLY or reading.unit or reading.decimals:
        return False
    if reading.number < limit("ppm_from"):
        return False
    reading.unit = "ppm"
    return True


@rule(
    STOP, "cell",
    read="more than 60 %",
    assumed="unusable: no alloying element of a steel is so high",
    do="look for a lost decimal mark or a unit that is not per cent",
)  # fmt: skip
def over_60_percent(reading: Reading) -> bool:
    """``95`` for 0.95."""
    return reading.number * FACTORS[reading.unit] > limit("analysis_ceiling") and set_unusable(reading)


@rule(
    CAUTION, "cell",
    read="zero for an element that every steel holds",
    assumed="not stated",
    do="get the content; a program may have written 0 for an empty cell",
)  # fmt: skip
def impossible_zero(reading: Reading) -> bool:
    """``C 0``, ``Mn 0.00``: carbon, manganese, silicon, phosphorus and sulphur are never nil."""
    return reading.element in NEVER_ZERO and reading.number == 0.0 and not reading.kind and set_not_stated(reading)


@rule(
    NOTE, "cell",
    read="a bare 0",
    assumed="not stated: a laboratory prints 0.00 or < 0.01, a database writes 0 for an empty cell",
    do="nothing",
)  # fmt: skip
def bare_zero(reading: Reading) -> bool:
    """``0`` without decimals."""
    return reading.number == 0.0 and reading.decimals == 0 and not reading.kind and set_not_stated(reading)


@rule(
    CAUTION, "cell",
    read="carbon with one decimal",
    assumed="rounded: 0.05 % to each side, so the bands are wide",
    do="get carbon with two decimals; it decides the hardness",
)  # fmt: skip
def one_digit_carbon(reading: Reading) -> bool:
    """``0.9``: anything from 0.85 to 0.95 %. Numbers from a number column have no trailing zeros and are not judged."""
    stated = math.isfinite(reading.tolerance) or reading.kind not in ("", "about")
    per_cent = reading.unit in ("", "%") and reading.number <= limit("carbon_steel_ceiling")
    return reading.element == "C" and per_cent and reading.decimals <= 1 and not reading.typed and not stated


WHOLE_RULES: tuple[RuleFunction, ...] = (
    foreign_digits,
    empty_cell,
    not_determined,
    not_a_number_text,
    spreadsheet_error,
    became_date,
    trace,
    footnote_mark,
    approximate,
    plus_minus,
    below_unstated_limit,
    below_limit,
    upper_limit_residual,
    upper_limit,
    carbon_upper_limit,
    lower_limit_only,
    range_in_cell,
    percent_in_cell,
    ppm_in_cell,
    per_mille_in_cell,
    negative_near_zero,
    negative_number,
    unreadable_cell,
    ppm_assumed,
    over_60_percent,
    impossible_zero,
    bare_zero,
    one_digit_carbon,
)
_CLEAN = re.compile(r"[0-9]{1,2}\.[0-9]{2,5}")
_EMPTY = number_of(empty_cell)


def read_cell(text: str, element: str, unit: str = "", typed: bool = False, resolution: float = math.nan) -> CellResult:
    """Read one element cell.

    ``unit`` is the unit of the column ("" when the header states none: per cent is meant); ``typed`` says that the
    source held a number, ``resolution`` then gives the half-width in the printed unit. Returns a ``CellResult``;
    never raises.
    """
    if not typed and unit in ("", "%") and _CLEAN.fullmatch(text):
        number = float(text)
        if 0.0 < number <= limit("analysis_ceiling"):
            return CellResult(number, 0.5 * 10.0 ** -(len(text) - text.index(".") - 1), MEASURED, number, ())
    reading = Reading(plain(text), element, unit, typed, resolution, raw=text)
    apply(WHOLE_RULES, reading)
    if not reading.done:
        _conclude(reading)
    hits = tuple(dict.fromkeys(hit for hit in reading.hits if hit != _EMPTY))
    return CellResult(reading.value, reading.half_width, reading.status, reading.number, hits)


def _conclude(reading: Reading) -> None:
    factor = FACTORS[reading.unit]
    if reading.kind in ("below", "upper"):
        set_below(reading, reading.number * factor)
        return
    last_digit = 10.0**-reading.decimals * factor
    reading.value = reading.number * factor
    reading.half_width = last_digit if reading.kind == "about" else last_digit / 2
    if reading.typed and math.isfinite(reading.resolution):
        reading.half_width = reading.resolution * factor
    if math.isfinite(reading.tolerance):
        reading.half_width = reading.tolerance * factor


def _trailing(text: str) -> str:
    match = re.search(r"[^0-9.,]*$", text)
    return match.group() if match else ""


def _take_unit(reading: Reading, unit: str) -> bool:
    tail = _trailing(reading.text)
    if not tail or len(tail) == len(reading.text) or element_unit(tail.strip()) != unit:
        return False
    reading.text, reading.unit = reading.text[: -len(tail)].rstrip(), unit
    return True


def _negative(reading: Reading) -> Reading | None:
    if not reading.text.startswith("-"):
        return None
    part = Reading(reading.text[1:].strip(), reading.element, reading.unit)
    return part if read_number(part) else None
