"""Rules for condition, identifiers, grade and kind of analysis.

Each ``read_…`` function takes one distinct text and never raises; what it cannot read is an empty text or ``other``,
with a finding.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from decalesce.inventory.headers import ColumnRole
from decalesce.inventory.measures import is_absent
from decalesce.inventory.reading import plain
from decalesce.inventory.rules import CAUTION, NOTE, number_of, rule
from decalesce.inventory.words import CONDITION_WORDS, CONDITIONS, LADLE, MAX_WORDS, MIN_WORDS, PRODUCT, fold


@rule(
    NOTE, "field",
    read="a condition that is not in the list",
    assumed="other",
    do="write hot rolled, cold drawn, ground, annealed, spheroidized, normalized or quenched and tempered",
)  # fmt: skip
def condition_unknown(text: str) -> bool:
    """True for a stated condition with no known word (marks +A, +AC, +N, +QT of EN 10083 and EN ISO 4957 are)."""
    return text != "" and not is_absent(text) and _condition_code(text) == CONDITIONS.index("other")


def read_condition(text: str) -> tuple[int, tuple[int, ...]]:
    """The condition as an index into ``words.CONDITIONS``, and the rules that applied."""
    text = plain(text)
    if not text or is_absent(text):
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
    if is_absent(text):
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


@rule(
    CAUTION, "field",
    read="a zero where a grade of the oil-hardening series has the letter O",
    assumed="the letter: O1, O2, O6 or O7",
    do="format the column as text and type the letter",
)  # fmt: skip
def grade_zero_for_letter(text: str) -> bool:
    """``01`` for O1 (ASTM A681 has O1, O2, O6 and O7; no grade begins with a zero)."""
    return re.fullmatch(r"0[- ]?[1267]", text) is not None


def read_grade(text: str) -> tuple[str, tuple[int, ...]]:
    """A grade as text to look up, and the rules that applied."""
    text, hits = read_identifier(text)
    if grade_zero_for_letter(text):
        text, hits = "O" + text[-1], (*hits, number_of(grade_zero_for_letter))
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
