"""The quench line of a plan, as far as the screen goes: the grade's published media, or nothing.

Whether a section hardens through in a tank is not evaluated here; the hardness a full quench reaches is
``decalesce.AsQuenched.fully_hardened(austenite)``.

>>> import decalesce as dc
>>> dc.quench.line("O1").media
('oil',)
>>> dc.quench.line("S7").published[0].words
'air (up to 63 mm)'
"""

import csv
import re
from dataclasses import dataclass
from functools import cache

from decalesce import data_files, grades
from decalesce._core import Section
from decalesce._values import Comparable
from decalesce.bar import Bar
from decalesce.grade import Fact, Grade

__all__ = ["Medium", "QuenchLine", "line", "media_of"]

_THICKEST = re.compile(r"(?:up to|below) (\d+(?:\.\d+)?) mm")
_SHALLOW = ("shallow_steels", "canola_section")
#: What is said of plain carbon steel that is published for both water and oil, before the first rule above.
_BETWEEN = "water_or_slow_oil"


@dataclass(frozen=True, slots=True, eq=False)
class Medium(Comparable):
    """One published medium with the conditions its sources set for it; ``thickest_mm`` is NaN where none is stated."""

    name: str
    conditions: tuple[str, ...]
    sources: tuple[str, ...]
    thickest_mm: float

    @property
    def words(self) -> str:
        """The medium, its conditions in brackets."""
        return f"{self.name} ({'; '.join(self.conditions)})" if self.conditions else self.name


@dataclass(frozen=True, slots=True)
class QuenchLine:
    """What a plan can say of the quench: published media, any of which is named, with the facts they come from.

    ``published`` holds each medium with its own conditions and sources; ``too_thick`` the media whose stated section
    is exceeded; ``rules`` what the trade says of shallow-hardening steel. ``evaluated`` is False: no tank or cooling
    was looked at. ``sentence`` says it all in words.
    """

    media: tuple[str, ...]
    sentence: str
    facts: tuple[Fact, ...]
    evaluated: bool = False
    published: tuple[Medium, ...] = ()
    too_thick: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()


_not_evaluated = "Whether this section hardens through is not evaluated here: test a piece and read its hardness."


@cache
def _trade_rules() -> dict[str, dict[str, str]]:
    with data_files.path("tables/trade_rules.csv").open(encoding="utf-8", newline="") as stream:
        return {row["id"]: row for row in csv.DictReader(stream)}


@cache
def _shallow() -> tuple[tuple[str, frozenset[str]], ...]:
    """The trade's rules for shallow-hardening steel, and the steels they were said of."""
    rows = [_trade_rules()[name] for name in _SHALLOW]
    return tuple((_with_limit(row), frozenset(row["applies_to"].split())) for row in rows)


def _with_limit(row: dict[str, str]) -> str:
    """The rule in words, its thickness put in where it says "this section"."""
    return row["rule"].replace("this section", f"{row['value']} {row['unit']} of section")


def media_of(facts: tuple[Fact, ...]) -> tuple[Medium, ...]:
    """The media of ``quench_medium`` facts, each once, with the conditions stated for it."""
    said: dict[str, list[Fact]] = {}
    for fact in facts:
        for part in str(fact.value).split(";"):
            said.setdefault(part.strip(), []).append(fact)
    media = []
    for name, of_it in said.items():
        conditions = tuple(dict.fromkeys(fact.conditions for fact in of_it if fact.conditions))
        limits = [float(found[1]) for words in conditions for found in _THICKEST.finditer(words)]
        sources = tuple(dict.fromkeys(fact.source for fact in of_it))
        media.append(Medium(name, conditions, sources, min(limits, default=float("nan"))))
    return tuple(media)


def _rules_of(grade: Grade, media: tuple[str, ...]) -> tuple[str, ...]:
    """Rules for a shallow-hardening steel: those named in a rule, and plain carbon steel with water and oil."""
    stem = grade.designation.partition("-")[0]
    both = grade.family == "plain_carbon" and {"water", "oil"} <= set(media)
    found = tuple(rule for rule, steels in _shallow() if stem in steels)
    if found or not both:
        return found
    rule, steels = _shallow()[0]
    between = _trade_rules()[_BETWEEN]
    return (
        f"{between['rule'].removesuffix('.')} ({between['source_note']}).",
        f"Said of {', '.join(sorted(steels))}: {rule}",
    )


def _mm(millimetres: float) -> str:
    """Three digits, and no power of ten however thick it is."""
    return f"{millimetres:.3g}" if millimetres < 1000.0 else f"{millimetres:.0f}"


def line(grade: Grade | Bar | str | None, section: Section | None = None) -> QuenchLine:
    """The published quench media of a grade; without a grade, or where nothing is published, no medium at all.

    ``grade`` is a Grade, its name, or a Bar, whose own section counts where no other is given. Several sources are
    joined; each medium is named once, the best-seen source first, with the conditions stated for it and no other. With
    a ``section`` thicker than a stated condition the sentence says so. Raises LookupError for an unknown name and
    TypeError for anything else.
    """
    if isinstance(grade, Bar):
        section = grade.section if section is None else section
        grade = grade.grade
    if isinstance(grade, str):
        grade = grades.find(grade)
    if grade is None:
        return QuenchLine((), f"No grade, so no published medium. {_not_evaluated}", ())
    if not isinstance(grade, Grade):
        raise TypeError(f"grade = {grade!r}; expected a Grade, its name such as 'O1', a Bar, or None")
    facts = grade.published("quench_medium")
    published = media_of(facts)
    media = tuple(medium.name for medium in published)
    if not media:
        return QuenchLine((), f"No medium is published for {grade.designation}. {_not_evaluated}", ())
    said = [f"Published for {grade.designation}: {', '.join(medium.words for medium in published)}."]
    too_thick = () if section is None else tuple(m for m in published if section.thickness_mm > m.thickest_mm)
    for medium in too_thick:
        assert section is not None
        said.append(
            f"This section, {_mm(section.thickness_mm)} mm, is thicker than the {_mm(medium.thickest_mm)} mm published "
            f"for {medium.name}."
        )
    rules = _rules_of(grade, media)
    sentence = " ".join((*said, *rules, _not_evaluated))
    return QuenchLine(
        media, sentence, facts, published=published, too_thick=tuple(m.name for m in too_thick), rules=rules
    )
