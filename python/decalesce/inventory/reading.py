"""Reading one text as a number: the scratch value and the rules every kind of cell shares.

A ``Reading`` starts as the text of a cell. Rules look at it in order; each may rewrite what is left of the text or
conclude, and says so by returning True, which puts its number on ``hits``.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from decalesce.inventory.rules import CAUTION, NOTE, number_of, rule

MEASURED, BELOW_LIMIT, FILLED, NOT_STATED = 0, 1, 2, 3


@dataclass
class Reading:
    """What is known so far about one text. ``decimals`` are the digits printed after the decimal mark."""

    text: str
    element: str = ""
    unit: str = ""
    typed: bool = False
    resolution: float = math.nan
    kind: str = ""
    number: float = math.nan
    tolerance: float = math.nan
    decimals: int = 0
    value: float = math.nan
    half_width: float = math.nan
    status: int = MEASURED
    done: bool = False
    raw: str = ""
    hits: list[int] = field(default_factory=list)


RuleFunction = Callable[[Reading], bool]


def apply(functions: Iterable[RuleFunction], reading: Reading) -> None:
    """Try the rules in order until one concludes; note each that applied."""
    for function in functions:
        if function(reading):
            reading.hits.append(number_of(function))
        if reading.done:
            return


_SPACES = {
    ord(c): " "
    for c in "\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000\t\n\r\v\f"
}
_DASHES = {ord(c): "-" for c in "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe58\ufe63\uff0d"}
_NOTHING = dict.fromkeys([0x200B, 0x200C, 0x200D, 0x2060, 0xFEFF, 0x00AD])
_MARKS = {0x066B: ",", 0x066C: " ", 0xFF0C: ",", 0xFF0E: ".", 0xFF05: "%", 0xFF1C: "<", 0x2264: "<=", 0x2265: ">="}
_COMMON = {**_SPACES, **_DASHES, **_NOTHING, **_MARKS}


def plain(text: str) -> str:
    """The text with typographic spaces, dashes, relation signs and foreign digits written in ASCII, ends trimmed."""
    if text.isascii():
        return text.strip(" \t\r\n\v\f") if "\t" not in text and "\n" not in text else text.translate(_SPACES).strip()
    text = text.translate(_COMMON)
    digits = (str(unicodedata.decimal(c)) if c.isdecimal() else c for c in text)
    return "".join(digits).strip()


PLAIN_NUMBER = re.compile(r"[0-9]+\.?[0-9]*")
_SCIENTIFIC = re.compile(r"([0-9]+)(?:[.,]([0-9]*))?[eE]([+-]?[0-9]{1,2})")
_NUMBER_WITH_LETTERS = re.compile(r"(?=.*[0-9])[0-9OolI|]*[.,]?[0-9OolI|]+")
_SPLIT_AT_MARK = re.compile(r"([0-9]*) *([.,]) *([0-9]+)")
_GROUPED = (
    re.compile(r"[0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]+)?"),
    re.compile(r"[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+"),
    re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+\.[0-9]+"),
    re.compile(r"[0-9]{1,3}(?:[.,][0-9]{3}){2,}"),
    re.compile(r"[0-9]{1,3}(?:'[0-9]{3})+(?:[.,][0-9]+)?"),
)


@rule(
    CAUTION, "cell",
    read="letters O, l or I where digits belong",
    assumed="O is 0, l and I are 1",
    do="compare with the certificate",
)  # fmt: skip
def letters_for_digits(reading: Reading) -> bool:
    """``O.95`` is 0.95, ``l.2`` is 1.2: a scan or a typist. Only with at least one true digit in the text."""
    text = reading.text
    if not any(c in "OolI|" for c in text) or not _NUMBER_WITH_LETTERS.fullmatch(text):
        return False
    reading.text = text.translate(str.maketrans("OolI|", "00111"))
    return True


@rule(
    NOTE, "cell",
    read="a space inside the number, beside its decimal mark",
    assumed="the space means nothing",
    do="nothing",
)  # fmt: skip
def stray_space(reading: Reading) -> bool:
    """``0. 95`` and ``0 ,95``."""
    match = _SPLIT_AT_MARK.fullmatch(reading.text)
    if " " not in reading.text or match is None:
        return False
    reading.text = "".join(match.groups())
    return True


@rule(
    NOTE, "cell",
    read="a number with separators between groups of three digits",
    assumed="the separators mean nothing",
    do="nothing; write the number without them if it is not so",
)  # fmt: skip
def thousands_separator(reading: Reading) -> bool:
    """``1 050``, ``1.050,5``, ``9,500`` ppm. One separator alone is a decimal mark, but for ppm, where thousandths of a
    part in a million are never reported."""
    text = reading.text
    grouped = any(pattern.fullmatch(text) for pattern in _GROUPED)
    if not grouped and reading.unit == "ppm":
        grouped = re.fullmatch(r"[1-9][0-9]{0,2}[.,][0-9]{3}", text) is not None
        if grouped:
            reading.text = re.sub("[.,]", "", text)
            return True
    if not grouped:
        return False
    text = text.replace(" ", "").replace("'", "")
    last = max(text.rfind("."), text.rfind(","))
    both = "." in text and "," in text
    if both or (last >= 0 and text.count(text[last]) == 1 and text != reading.text):
        reading.text = re.sub("[.,]", "", text[:last]) + "." + text[last + 1 :]
    else:
        reading.text = re.sub("[.,]", "", text)
    return True


@rule(NOTE, "cell", read="a decimal comma", assumed="the comma is the decimal mark", do="nothing")
def decimal_comma(reading: Reading) -> bool:
    """``0,95`` is 0.95 (ISO 80000-1 allows both marks)."""
    if not re.fullmatch(r"[0-9]*,[0-9]+", reading.text):
        return False
    reading.text = reading.text.replace(",", ".")
    return True


@rule(NOTE, "cell", read="a raised decimal point", assumed="the point is the decimal mark", do="nothing")
def raised_point(reading: Reading) -> bool:
    """``0·95``, as older British certificates print it."""
    if not re.fullmatch("[0-9]*[\u00b7\u2219\u22c5][0-9]+", reading.text):
        return False
    reading.text = re.sub("[\u00b7\u2219\u22c5]", ".", reading.text)
    return True


@rule(
    NOTE, "cell",
    read="a decimal mark with no digit before it",
    assumed="the whole part is 0",
    do="look for a lost first digit",
)  # fmt: skip
def bare_decimal_point(reading: Reading) -> bool:
    """``.42`` is 0.42."""
    if not re.fullmatch(r"\.[0-9]+", reading.text):
        return False
    reading.text = "0" + reading.text
    return True


@rule(NOTE, "cell", read="a number in powers of ten", assumed="E-2 is a hundredth", do="nothing")
def scientific_notation(reading: Reading) -> bool:
    """``9.5E-1`` is 0.95; a spreadsheet writes small numbers so."""
    match = _SCIENTIFIC.fullmatch(reading.text)
    if match is None:
        return False
    whole, part, exponent = match.group(1), match.group(2) or "", int(match.group(3))
    reading.number = float(f"{whole}.{part or '0'}e{exponent}")
    reading.decimals = max(len(part) - exponent, 0)
    return True


NUMBER_RULES: tuple[RuleFunction, ...] = (
    letters_for_digits,
    stray_space,
    thousands_separator,
    decimal_comma,
    raised_point,
    bare_decimal_point,
    scientific_notation,
)


def read_number(reading: Reading) -> bool:
    """Read ``reading.text`` as one number without sign. True and ``number``, ``decimals`` set when it is one; otherwise
    False, ``number`` NaN and the hits of this attempt taken back."""
    before = len(reading.hits)
    reading.number = math.nan
    if reading.typed and _SCIENTIFIC.fullmatch(reading.text):
        reading.text = f"{float(reading.text):.10f}".rstrip("0")
    if not PLAIN_NUMBER.fullmatch(reading.text):
        apply(NUMBER_RULES, reading)
    if PLAIN_NUMBER.fullmatch(reading.text):
        _, _, part = reading.text.partition(".")
        reading.number = float(reading.text)
        reading.decimals = len(part)
    if not math.isfinite(reading.number):
        reading.number = math.nan
        del reading.hits[before:]
        return False
    return True


def read_part(reading: Reading, text: str) -> Reading | None:
    """Read a part of a cell as a number, with the cell's context; its hits pass to the cell. None when it is no
    number."""
    part = Reading(text.strip(), reading.element, reading.unit)
    if not read_number(part):
        return None
    reading.hits += [hit for hit in part.hits if hit not in reading.hits]
    return part
