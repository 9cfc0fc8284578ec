"""The steel as it was typed: a grade, amounts, or both. Amounts are read as a certificate's cells are."""

import re
from dataclasses import dataclass
from math import isnan
from typing import Any

import typer

from decalesce import grades
from decalesce._core import Composition, Section
from decalesce.bar import Bar
from decalesce.cli import words
from decalesce.cli.arguments import Size
from decalesce.grade import Grade

_AMOUNT = re.compile(r"(?P<element>[A-Za-z]+)\s*[=:]\s*(?P<amount>.*)")


#: Statuses of a cell that state an amount; an element that is not stated is left out.
_NOT_STATED = 3
_STATUSES = {0: "measured", 1: "below_limit", 2: "filled"}


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something read with doubt: level and sentence."""

    level: str
    sentence: str


@dataclass(frozen=True, slots=True)
class GivenSteel:
    """Grade, amounts, and what was read with doubt on the way."""

    grade: Grade | None
    certificate: Composition | None
    doubts: tuple[Doubt, ...]

    def bar(self, section: Section | None = None) -> Bar:
        """The bar of this steel."""
        return Bar(grade=self.grade, certificate=self.certificate, section=section)

    @property
    def name(self) -> str:
        """What the steel is called in a heading."""
        if self.grade is None:
            return "Steel of the given analysis"
        system = "" if self.grade.system in self.grade.designation else f"{self.grade.system} "
        return f"{system}{self.grade.designation}" + (
            ", with the given analysis" if self.certificate is not None else ""
        )

    def family(self, from_composition: str) -> str:
        """The family from the composition; where a stainless grade gives one limit of carbon only, the grade's own.

        410 (no least carbon) and 420 (no highest) would else be told that they do not harden.
        """
        stainless = self.grade is not None and self.grade.family == "martensitic_stainless"
        unsure = self.certificate is None and from_composition == "austenitic_other"
        return "martensitic_stainless" if stainless and unsure else from_composition

    def as_data(self, family: str) -> dict[str, Any]:
        """The steel for a JSON document."""
        return {
            "grade": None
            if self.grade is None
            else {
                "designation": self.grade.designation,
                "system": self.grade.system,
                "matched_as": self.grade.matched_as,
                "relation": self.grade.relation,
                "status": self.grade.status,
                "source": self.grade.source,
                "note": self.grade.note,
            },
            "amounts": {
                element: {"value": amount, "half_width": half_width, "unit": "wt %", "status": status}
                for element, amount, half_width, status in amounts(self.bar().composition)
            },
            "family": self.family(family),
            "doubts": self.doubts,
        }


def amounts(w: Composition) -> list[tuple[str, float, float, str]]:
    """Element, amount, half-width (wt %) and status of what is stated."""
    return [
        (element, float(amount), float(w.half_width.get(element, 0.0)), str(w.status[element]))
        for element, amount in w.amounts.items()
    ]


def _element(text: str, whole: str) -> str:
    from decalesce.inventory import ELEMENTS

    element = text.capitalize()
    if element not in ELEMENTS:
        raise typer.BadParameter(
            f"{whole!r}: {text!r} is no element of this library; expected one of {', '.join(ELEMENTS)}"
        )
    return element


def _composition(typed: list[re.Match[str]]) -> tuple[Composition | None, list[Doubt]]:
    if not typed:
        return None, []
    from decalesce.inventory.cells import read_cell
    from decalesce.inventory.rules import rule_by_number

    seen: set[str] = set()
    contents: dict[str, Any] = {}
    half_widths: dict[str, float] = {}
    statuses: dict[str, str] = {}
    doubts: list[Doubt] = []
    for match in typed:
        element = _element(match["element"], match[0])
        if element in seen:
            raise typer.BadParameter(f"{match[0]!r}: {element} is given twice; expected each element once")
        seen.add(element)
        if not match["amount"]:
            raise typer.BadParameter(f"{match[0]!r} holds no amount; expected wt %, such as {element}=0.40")
        cell = read_cell(match["amount"], element)
        struck = [rule_by_number(number) for number in cell.hits]
        doubts += [Doubt(rule.level_name, f"{match[0]}: {rule.reason}") for rule in struck]
        if cell.status == _NOT_STATED:
            continue
        if isnan(cell.value):
            why = "".join(f" {rule.reason}" for rule in struck)
            expected = f"expected wt %, such as {element}=0.40 or {element}=62ppm"
            raise typer.BadParameter(f"{match[0]!r} holds no usable amount; {expected}.{why}")
        contents[element] = cell.value
        half_widths[element] = cell.half_width
        statuses[element] = _STATUSES[cell.status]
    if not contents:
        return None, doubts
    return Composition(**contents, half_width=half_widths, status=statuses), doubts


def _joined(typed: list[str]) -> list[str]:
    """The words, with those that blanks round an equals sign have parted put together: ``Mn = 0.4`` is ``Mn=0.4``."""
    joined: list[str] = []
    for word in typed:
        if joined and (joined[-1].endswith("=") or word.startswith("=")):
            joined[-1] += word.strip()
        else:
            joined.append(word.strip())
    return joined


def read(typed: list[str]) -> GivenSteel:
    """Read the words of the STEEL argument.

    Words of the form ``C=0.95`` are amounts (decimal commas, ``62ppm``, ``<0.01``, ``0.95±0.02`` and blanks round the
    equals sign are read); the others together name the grade. Raises BadParameter for an unusable amount and
    LookupError for an unknown grade.
    """
    words_typed = _joined(typed)
    matches = [_AMOUNT.fullmatch(word) for word in words_typed]
    certificate, doubts = _composition([match for match in matches if match])
    name = " ".join(word for word, match in zip(words_typed, matches, strict=True) if not match)
    if "=" in name:
        raise typer.BadParameter(f"{name!r} is no amount; expected an element and wt %, such as Mn=0.40")
    grade = grades.find(name) if name else None
    if grade is None and certificate is None:
        raise typer.BadParameter("no steel was given; expected a grade such as 1095, or amounts such as C=0.95 Mn=0.40")
    if grade is not None and grade.relation == "nearest":
        sentence = (
            f"{grade.matched_as!r} is read as {grade.designation}: {words.RELATIONS['nearest']}. Compare the limits."
        )
        doubts.append(Doubt("caution", sentence))
    return GivenSteel(grade, certificate, tuple(doubts))


def read_section(
    *,
    size: Size | None,
    thickness: float | None,
    width: float | None,
    length: float | None,
    edge: float | None,
    shape: str | None,
) -> Section | None:
    """The section that was typed, mm; None where no size was. Raises BadParameter for sizes that contradict."""
    if size is not None:
        if thickness is not None or width is not None or length is not None:
            raise typer.BadParameter("--size and --thickness, --width or --length say the same thing; give one of them")
        thickness, width, length = (*size.lengths_mm, None, None)[:3]
    if thickness is None:
        if width is not None or length is not None or edge is not None or shape is not None:
            raise typer.BadParameter("a section needs its thickness; add --thickness 4mm, or --size 4x30mm")
        return None
    if shape is None:
        shape = "wedge" if edge is not None else "plate" if width is None else "rectangle"
    if width is not None and width < thickness and shape in ("plate", "rectangle"):
        thickness, width = width, thickness
    return Section(shape, thickness, width or 0.0, length or 0.0, edge or 0.0)
