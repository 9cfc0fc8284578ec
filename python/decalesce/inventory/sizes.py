"""Rules for sizes: ``3/16"``, ``.187``, ``4,8 x 40``, ``Ø 25``, ``25 rd``, ``SW 17``, ``1-1/2 in``, ``40x8x1000``.

``read_size`` gives the shape and its dimensions in mm; ``read_length`` one length. Neither raises: an unreadable
size is NaN with the finding ``unreadable_size``. Units go through pint and fractions through ``fractions``.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from decalesce.inventory.cell_words import is_date
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import Reading, bare_decimal_point, plain, read_number
from decalesce.inventory.rules import CAUTION, NOTE, STOP, number_of, rule
from decalesce.inventory.size_words import HEXAGON, RECTANGLE, ROUND, SQUARE, UNKNOWN_SHAPE, take_shape
from decalesce.inventory.words import ABSENT, UNSUPPORTED_SHAPES, fold

_UNIT_NAMES = {
    "mm": "mm", "cm": "cm", "m": "m", "dm": "dm", "in": "inch", "inch": "inch", "inches": "inch", "zoll": "inch",
    "pouce": "inch", "pouces": "inch", "po": "inch", '"': "inch", "''": "inch", "″": "inch", "”": "inch",
    "“": "inch", "’’": "inch", "ft": "ft", "'": "ft", "′": "ft", "millimeter": "mm", "millimetre": "mm",
    "millimetres": "mm",
}  # fmt: skip


@lru_cache(maxsize=16)
def _mm_per(unit: str) -> float:
    from decalesce.units import registry

    return round(float(registry().Quantity(1.0, unit).to("mm").magnitude), 9)


@dataclass
class _Part:
    """One number of a size: its value as written, its own unit ("" when none) and how it was written."""

    number: float
    unit: str
    fraction: bool
    decimals: int
    bare_point: bool


@dataclass
class _Scratch:
    text: str
    unit: str
    column_inch: bool
    shape: int
    parts: list[_Part] = field(default_factory=list)
    mm: list[float] = field(default_factory=list)
    hits: list[int] = field(default_factory=list)
    failed: bool = False
    done: bool = False

    def fail(self) -> bool:
        self.failed = self.done = True
        return True

    def take_back_bare_point(self) -> None:
        """``.187`` is how inches are written: the finding about inches says it all."""
        self.hits = [hit for hit in self.hits if hit != number_of(bare_decimal_point)]


@dataclass(frozen=True)
class SizeResult:
    """``shape`` an index into ``words.SHAPES``; lengths in mm, NaN when not given; ``hits`` the rules that applied.
    For round, square and hexagon ``thickness_mm`` is the diameter, the side and the size across flats."""

    shape: int
    thickness_mm: float
    width_mm: float
    length_mm: float
    hits: tuple[int, ...]


@rule(NOTE, "size", read="a dash or n/a for a size", assumed="not stated", do="measure the bar")
def size_not_stated(scratch: _Scratch) -> bool:
    """``-``."""
    text = re.sub(r"[\s.]", "", scratch.text).casefold()
    absent = not re.search("[0-9]", text) and (re.fullmatch(r"[-_/?*~]*", text) is not None or text in ABSENT)
    scratch.done = absent
    return absent


@rule(
    STOP, "size",
    read="a date where a size belongs",
    assumed="unusable: a spreadsheet turned the fraction into a date",
    do="type the size again in a cell formatted as text",
)  # fmt: skip
def size_became_date(scratch: _Scratch) -> bool:
    """3/16 became the 16th of March."""
    return is_date(scratch.text) and scratch.fail()


@rule(
    STOP, "size",
    read="a gauge number",
    assumed="unusable: gauges differ by country and metal",
    do="measure the bar",
)  # fmt: skip
def size_gauge(scratch: _Scratch) -> bool:
    """``16 ga``."""
    return re.search(r"[0-9] *(ga|gauge|swg|awg|bwg)\b", scratch.text.casefold()) is not None and scratch.fail()


@rule(
    STOP, "size",
    read="a tube, angle, channel or wire",
    assumed="unusable: only plates and solid bars are evaluated",
    do="give the section that heats last as a plate or a round",
)  # fmt: skip
def unsupported_shape(scratch: _Scratch) -> bool:
    """``tube 25 x 2``."""
    words = set(re.findall(r"[a-z]+", fold(scratch.text)))
    return bool(words & UNSUPPORTED_SHAPES) and scratch.fail()


@rule(
    STOP, "size",
    read="a point or comma before exactly three digits of millimetres",
    assumed="unusable: 1.050 mm may be one millimetre or a metre",
    do="write the size without separators",
)  # fmt: skip
def size_ambiguous_thousands(scratch: _Scratch) -> bool:
    """``1.050 mm``. In inches three decimals are usual and not in doubt."""
    metric = re.search(r"[0-9] *mm", scratch.text.casefold()) or (
        scratch.unit == "mm" and not re.search("[a-z\"']", scratch.text)
    )
    doubtful = re.search(r"(?<![0-9.,])[1-9][0-9]{0,2}[.,][0-9]{3}(?![0-9.,])", scratch.text)
    return metric is not None and metric is not False and doubtful is not None and scratch.fail()


@rule(
    STOP, "size",
    read="a size that cannot be read",
    assumed="unusable",
    do="write it as 4.8 x 40 mm, 3/16 in or Ø 25 mm",
)  # fmt: skip
def unreadable_size(scratch: _Scratch) -> bool:
    """Whatever the grammar of sizes does not hold; this rule does the reading."""
    scratch.text, scratch.shape = take_shape(scratch.text, scratch.shape)
    scratch.text = re.sub(
        r" *\b(thick|thk|wide|long|dick|stark|breit|lang|epais|large)\b", "", scratch.text, flags=re.IGNORECASE
    )
    text = re.sub(r"(?<=[0-9]) *(?:h|k|js)[0-9]{1,2} *$", "", scratch.text)
    pieces = [
        p.strip()
        for p in re.split(r"(?<=[0-9\"”″'mnth. ]) *(?:[x×*]|\bby\b) *(?=[0-9.,Ø⌀ø])", text, flags=re.IGNORECASE)
    ]
    for piece in pieces:
        part = _read_part(scratch, piece)
        if part is None:
            return scratch.fail()
        scratch.parts.append(part)
    round_bar = scratch.shape in (ROUND, SQUARE, HEXAGON)
    allowed = 3 if scratch.shape == SQUARE else 2 if round_bar else 3
    return (len(scratch.parts) > allowed or any(p.number <= 0 for p in scratch.parts)) and scratch.fail()


@rule(NOTE, "size", read="a size in inches", assumed="25.4 mm to the inch", do="nothing")
def size_in_inches(scratch: _Scratch) -> bool:
    """``3/16"``, ``1 1/2 in``: the cell itself says so, in a column that does not."""
    if scratch.unit == "inch" or not any(p.unit == "inch" for p in scratch.parts):
        return False
    scratch.take_back_bare_point()
    return True


@rule(NOTE, "size", read="a fraction without a unit", assumed="inches", do="nothing; write the unit if it is not so")
def size_fraction_inch(scratch: _Scratch) -> bool:
    """``3/16``: millimetre sizes are never written as fractions."""
    if any(p.unit for p in scratch.parts) or not any(p.fraction for p in scratch.parts):
        return False
    scratch.unit = "inch"
    return True


@rule(
    CAUTION, "size",
    read="a bare number that only makes sense in inches",
    assumed="inches",
    do="write the unit",
)  # fmt: skip
def size_inch_assumed(scratch: _Scratch) -> bool:
    """``.187``: no whole part, or three decimals of a number below a half; or most of the column is in inches."""
    if any(p.unit or p.fraction for p in scratch.parts):
        return False
    small = any(p.bare_point or (p.decimals >= 3 and p.number < limit("inch_below")) for p in scratch.parts)
    foil = any(p.number < limit("size_floor_mm") for p in scratch.parts)
    if scratch.unit == "inch" or not (
        (small and (not scratch.unit or foil)) or (scratch.column_inch and not scratch.unit)
    ):
        return False
    scratch.unit = "inch"
    scratch.take_back_bare_point()
    return True


@rule(
    NOTE, "header",
    read="sizes as bare numbers",
    assumed="millimetres, as on drawings (ISO 129-1)",
    do="write the unit into the header if it is not so",
)  # fmt: skip
def size_mm_assumed(scratch: _Scratch) -> bool:
    """``25``; the unit is then settled and the lengths converted. Said once for the column, not on every bar."""
    bare = not scratch.unit and not any(p.unit for p in scratch.parts)
    last = next((p.unit for p in reversed(scratch.parts) if p.unit), scratch.unit or "mm")
    for part in reversed(scratch.parts):
        last = part.unit or last
        scratch.mm.insert(0, round(part.number * _mm_per(last), 9))
    return bare


@rule(
    NOTE, "size",
    read="three numbers that do not stand in the order thickness, width, length",
    assumed="the smallest is the thickness, the largest the length",
    do="nothing; rearrange the size if it is not so",
)  # fmt: skip
def size_order_assumed(scratch: _Scratch) -> bool:
    """``40x8x1000``. Of two numbers the smaller is the thickness whichever way a mill writes its flats: no finding."""
    if scratch.shape in (ROUND, HEXAGON) or len(scratch.mm) < 2:
        return False
    before = list(scratch.mm)
    scratch.mm.sort()
    return len(before) > 2 and before != scratch.mm


@rule(
    CAUTION, "size",
    read="one number without a shape, too large for a thickness",
    assumed="the length; the thickness is not stated",
    do="measure the thickness: soak and quench depend on it",
)  # fmt: skip
def size_length_only(scratch: _Scratch) -> bool:
    """``1 050 mm``."""
    lone = len(scratch.mm) == 1 and scratch.shape == UNKNOWN_SHAPE
    scratch.done = lone and scratch.mm[0] > limit("size_ceiling_mm")
    return scratch.done


@rule(
    NOTE, "size",
    read="one number without a shape",
    assumed="the thickness of a flat bar or plate",
    do="write Ø, SQ or SW before it if it is not so",
)  # fmt: skip
def size_thickness_only(scratch: _Scratch) -> bool:
    """``6 mm``."""
    return len(scratch.mm) == 1 and scratch.shape == UNKNOWN_SHAPE


@rule(
    CAUTION, "size",
    read="a thickness below 0.3 mm or above 600 mm",
    assumed="as written",
    do="look for a lost decimal mark or a wrong unit",
)  # fmt: skip
def size_implausible(scratch: _Scratch) -> bool:
    """``0.02 mm``, ``2500 mm`` thick."""
    return bool(scratch.mm) and not limit("size_floor_mm") <= scratch.mm[0] <= limit("size_ceiling_mm")


_SIZE_RULES: tuple[Callable[[_Scratch], bool], ...] = (
    size_not_stated,
    size_became_date,
    size_gauge,
    unsupported_shape,
    size_ambiguous_thousands,
    unreadable_size,
    size_in_inches,
    size_fraction_inch,
    size_inch_assumed,
    size_mm_assumed,
    size_order_assumed,
    size_length_only,
    size_thickness_only,
    size_implausible,
)


def read_size(text: str, unit: str = "", column_inch: bool = False, shape: int = UNKNOWN_SHAPE) -> SizeResult:
    """Read a size. ``unit`` is the header's unit ("" when it states none), ``column_inch`` says that most of the
    column is in inches, ``shape`` what the column's meaning already tells. Never raises; unreadable lengths are NaN
    with a finding."""
    scratch = _Scratch(plain(text), unit if unit in _UNIT_NAMES.values() else "", column_inch, shape)
    if not scratch.text:
        return SizeResult(shape, math.nan, math.nan, math.nan, ())
    for function in _SIZE_RULES:
        if function(scratch):
            scratch.hits.append(number_of(function))
        if scratch.done:
            break
    hits = tuple(dict.fromkeys(scratch.hits))
    if scratch.failed or not scratch.mm:
        return SizeResult(scratch.shape, math.nan, math.nan, math.nan, hits)
    return _place(scratch, hits)


def read_length(text: str, unit: str = "", column_inch: bool = False) -> SizeResult:
    """Read a cell of a column that holds one length (thickness, width, diameter, length)."""
    result = read_size(text, unit, column_inch, ROUND)
    hits = tuple(h for h in result.hits if h != number_of(size_implausible))
    if not math.isnan(result.length_mm):
        return SizeResult(UNKNOWN_SHAPE, math.nan, math.nan, math.nan, (*hits, number_of(unreadable_size)))
    return SizeResult(UNKNOWN_SHAPE, result.thickness_mm, math.nan, math.nan, hits)


def states_inches(text: str) -> bool:
    """True when the size is written in inches (the column's vote)."""
    return re.search(r"[\"″”]|''|\b(in|inch|zoll|pouce)|[0-9]/[0-9]|[0-9] *in\b", text.casefold()) is not None


def states_metric(text: str) -> bool:
    """True when the size is written in millimetres, centimetres or metres."""
    return re.search(r"[0-9] *(mm|cm|m)\b", text.casefold()) is not None


def _place(scratch: _Scratch, hits: tuple[int, ...]) -> SizeResult:
    mm, shape = scratch.mm, scratch.shape
    if number_of(size_length_only) in hits:
        return SizeResult(shape, math.nan, math.nan, mm[0], hits)
    if shape in (ROUND, HEXAGON):
        return SizeResult(shape, mm[0], math.nan, mm[1] if len(mm) > 1 else math.nan, hits)
    if shape == SQUARE or (len(mm) >= 2 and shape == UNKNOWN_SHAPE and mm[0] == mm[1]):
        rest = [x for x in mm[1:] if x != mm[0]]
        return SizeResult(SQUARE, mm[0], math.nan, rest[-1] if rest else math.nan, hits)
    if len(mm) > 1 and shape == UNKNOWN_SHAPE:
        shape = RECTANGLE
    return SizeResult(shape, mm[0], mm[1] if len(mm) > 1 else math.nan, mm[2] if len(mm) > 2 else math.nan, hits)


_VULGAR = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
    "⁄": "/",
}
_FRACTION = re.compile(r"(?:([0-9]+)(?: *- *| +))?([0-9]+) */ *([0-9]+)")


def _read_part(scratch: _Scratch, piece: str) -> _Part | None:
    for sign, ascii_form in _VULGAR.items():
        piece = re.sub(rf"(?<=[0-9]) *{sign}", f" {ascii_form}" if sign != "⁄" else "/", piece).replace(
            sign, ascii_form
        )
    match = re.fullmatch(r"([0-9OolI|.,/ -]*[0-9OolI|]) *-? *([^0-9.,/ ]*)\.?", piece.strip())
    if match is None:
        return None
    number_text, unit_text = match.group(1).strip(), match.group(2).casefold()
    unit = _UNIT_NAMES.get(unit_text, "")
    if unit_text and not unit:
        return None
    fraction = _FRACTION.fullmatch(number_text)
    if fraction is not None:
        whole, top, bottom = (int(g or 0) for g in fraction.groups())
        return _Part(float(whole + Fraction(top, bottom)), unit, True, 0, False) if bottom else None
    reading = Reading(number_text)
    if not read_number(reading):
        return None
    bare = number_text[0] in ".,"
    scratch.hits += [hit for hit in reading.hits if hit not in scratch.hits]
    return _Part(reading.number, unit, False, reading.decimals, bare)
