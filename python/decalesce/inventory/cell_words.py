"""Rules for element cells that hold words or marks: empty, n.d., trace, error marks, dates, footnotes."""

from __future__ import annotations

import math
import re

from decalesce.inventory.limits import limit
from decalesce.inventory.reading import BELOW_LIMIT, MEASURED, NOT_STATED, Reading
from decalesce.inventory.rules import NOTE, STOP, rule
from decalesce.inventory.words import ABSENT, SPREADSHEET_ERRORS, TRACE


def set_not_stated(reading: Reading) -> bool:
    """Conclude: nothing is stated. Always True."""
    reading.value, reading.half_width, reading.status, reading.done = 0.0, 0.0, NOT_STATED, True
    return True


def set_unusable(reading: Reading) -> bool:
    """Conclude: the cell is unusable. Always True."""
    reading.value, reading.half_width, reading.status, reading.done = math.nan, math.nan, MEASURED, True
    return True


def set_below(reading: Reading, content: float) -> None:
    """Conclude: below a limit, so half of it, give or take half of it."""
    reading.value = reading.half_width = content / 2
    reading.status, reading.done = BELOW_LIMIT, True


def _is_error(text: str) -> bool:
    return set(text) == {"#"} or text.casefold() in SPREADSHEET_ERRORS


@rule(NOTE, "cell", read="digits of another script", assumed="the same digits", do="nothing")
def foreign_digits(reading: Reading) -> bool:
    """Full-width or Arabic-Indic digits, as some mills print them."""
    return not reading.raw.isascii() and any(c.isdecimal() and not c.isascii() for c in reading.raw)


@rule(NOTE, "cell", read="an empty cell", assumed="not stated (neither zero nor measured)", do="nothing", stored=False)
def empty_cell(reading: Reading) -> bool:
    """Empty is missing, not zero."""
    return reading.text == "" and set_not_stated(reading)


@rule(
    NOTE, "cell",
    read="a dash, n.d., n/a or the like",
    assumed="not stated; it may also mean not detected",
    do="nothing, or ask the laboratory for the element if it matters",
)  # fmt: skip
def not_determined(reading: Reading) -> bool:
    """``-``, ``n.d.``, ``k.A.``: the laboratory reports no content."""
    text = reading.text
    absent = not re.search("[0-9]", text) and (
        re.fullmatch(r"[-_/.?*~ ]+", text) is not None or re.sub(r"[\s.]", "", text).casefold() in ABSENT
    )
    return absent and set_not_stated(reading)


@rule(STOP, "cell", read="the word nan or inf", assumed="unusable", do="give the content, or leave the cell empty")
def not_a_number_text(reading: Reading) -> bool:
    """A program wrote a number it did not have."""
    return re.fullmatch(
        r"[+-]?(nan|inf|infinity|∞|1\.#(inf|qnan|ind))", reading.text.casefold()
    ) is not None and set_unusable(reading)


@rule(
    STOP, "cell",
    read="a spreadsheet's error mark",
    assumed="unusable",
    do="repair the formula in the spreadsheet or type the content",
)  # fmt: skip
def spreadsheet_error(reading: Reading) -> bool:
    """``#DIV/0!``, ``#WERT!``, ``#N/A`` or a row of #."""
    return reading.text.startswith("#") and _is_error(reading.text) and set_unusable(reading)


_DATES = (
    r"[0-9]{4}-[0-9]{2}-[0-9]{2}([ T][0-9:.]+)?",
    r"[0-9]{1,2}[./][0-9]{1,2}[./]([0-9]{4}|[0-9]{2})",
    r"[0-9]{1,2}[-. ]+(jan|feb|m[aä]r|apr|ma[iy]|jun|jul|aug|sep|o[ck]t|nov|de[cz])[a-z]*[-. ]*[0-9]*",
    r"(jan|feb|m[aä]r|apr|ma[iy]|jun|jul|aug|sep|o[ck]t|nov|de[cz])[a-z]*[-. ]+[0-9]+",
)


def is_date(text: str) -> bool:
    """True when the text is a date as a spreadsheet writes it."""
    return any(re.fullmatch(pattern, text, re.IGNORECASE) for pattern in _DATES)


@rule(
    STOP, "cell",
    read="a date where a content belongs",
    assumed="unusable: a spreadsheet turned the number into a date",
    do="type the content from the certificate, in a cell formatted as text",
)  # fmt: skip
def became_date(reading: Reading) -> bool:
    """A spreadsheet set to points reads 1.05 as the first of May."""
    return is_date(reading.text) and set_unusable(reading)


@rule(NOTE, "cell", read="trace", assumed="below 0.01 %, so 0.005 ± 0.005", do="nothing")
def trace(reading: Reading) -> bool:
    """``tr.``, ``traces``, ``Spuren``."""
    if re.sub(r"[\s.]", "", reading.text).casefold() not in TRACE:
        return False
    set_below(reading, limit("trace_limit"))
    return True


@rule(
    NOTE, "cell",
    read="a footnote mark, brackets or quotation marks round the number",
    assumed="the number inside",
    do="read the footnote",
)  # fmt: skip
def footnote_mark(reading: Reading) -> bool:
    """``0.95*``, ``(0.95)``, ``0.95 ¹``, ``'0.95``, ``="0.95"``."""
    text = re.sub(r'^="?|^[\'"`´’“‘„(\[*†]+', "", reading.text)
    text = re.sub(r'[\'"`´’”“)\]*†‡§¹²³⁴⁵⁶⁷⁸⁹;]+$', "", text).strip()
    text = re.sub(r"(?<=[0-9]) *\b[a-d]$", "", text)
    if text == reading.text or not re.search("[0-9]", text):
        return False
    reading.text = text
    return True
