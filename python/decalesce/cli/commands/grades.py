"""``decalesce grades``: which grades there are, and what is published of one."""

from typing import TYPE_CHECKING, Annotated, Any

import typer

from decalesce.cli import options

if TYPE_CHECKING:
    from decalesce.cli.page import Page
    from decalesce.grade import Fact, Grade, Limits

_Name = Annotated[
    list[str] | None, typer.Argument(metavar="NAME", help="One grade by any of its names: 1095, AISI 1084, 1.3505.")
]
_HARDNESS_AFTER_TEMPER = "tempered_HRC"
#: Words of a quantity's id that its value says: units and ends of a range.
_NOT_SAID = frozenset({"C", "HRC", "HB", "mm", "minutes", "min", "max"})


@options.bundled
def command(
    name: _Name = None,
    *,
    output: options.Output,
) -> None:
    """All grades, or one: limits, published heat treatment with its source, and how it was seen.

    \b
    Example:
      decalesce grades 1.3505
    """
    import decalesce as dc
    from decalesce.cli import document, words

    asked = " ".join(name or ())
    found = [dc.grades.find(asked)] if asked else [dc.grades.find(str(d)) for d in dc.grades.table()["designation"]]
    match = (
        {"asked": found[0].matched_as, "grade": found[0].designation, "relation": found[0].relation} if asked else None
    )
    nearest = match is not None and match["relation"] == "nearest"
    content = document.document(
        "grades",
        {"grades": [_data(grade) for grade in found], "match": match},
        dc.plan.cautions(),
        levels=["caution"] if nearest else [],
        cite=sorted({grade.source for grade in found} | {fact.source for grade in found for fact in grade.published()}),
    )

    def show(page: "Page") -> None:
        if not asked:
            _print_table(page, found)
            return
        grade = found[0]
        page.title(f"{grade.designation} ({grade.system}): {words.family(grade.family)}")
        if grade.relation != "own":
            page.text(f"{grade.matched_as!r} is {words.RELATIONS[grade.relation]}.")
        numbers = [f"UNS {grade.uns}" if grade.uns else "", f"W.Nr {grade.wnr}" if grade.wnr else ""]
        if any(numbers):
            page.text(", ".join(number for number in numbers if number))
        if grade.note:
            page.text(grade.note)
        _print_one(page, grade)

    output.give(content, show)


def _data(grade: "Grade") -> dict[str, Any]:
    return {
        "designation": grade.designation,
        "system": grade.system,
        "uns": grade.uns,
        "wnr": grade.wnr,
        "family": grade.family,
        "limits": {
            element: {"minimum": limit.minimum, "maximum": limit.maximum, "unit": "wt %"}
            for element, limit in grade.element_limits
        },
        "published": grade.published(),
        "source": grade.source,
        "status": grade.status,
        "memory_fields": grade.memory_fields,
        "note": grade.note,
    }


def _limit(limit: "Limits | None") -> str:
    if limit is None or (limit.minimum is None and limit.maximum is None):
        return ""
    if limit.maximum is None:
        return f"{limit.minimum:g} or more"
    if limit.minimum is None:
        return f"{limit.maximum:g} or less"
    return f"{limit.minimum:g} to {limit.maximum:g}"


def _print_table(page: "Page", found: "list[Grade]") -> None:
    from decalesce.cli import words

    page.title(f"{len(found)} grades")
    page.blank()
    rows = [
        (
            grade.designation,
            grade.wnr,
            words.family(grade.family),
            _limit(grade.limits.get("C")),
            words.SHORT_STATUSES.get(grade.status, grade.status),
        )
        for grade in found
    ]
    page.table(("grade", "W.Nr", "family", "C, wt %", "limits seen in"), rows)
    page.text(
        "decalesce grades NAME shows one: limits and heat treatment. A W.Nr beside an American grade is its nearest."
    )


def _print_one(page: "Page", grade: "Grade") -> None:
    from decalesce.cli import words

    page.heading(f"Limits, wt % ({grade.source_note or grade.source}; {words.status(grade.status)})")
    page.rows((element, _limit(limit)) for element, limit in grade.element_limits)
    if grade.memory_fields:
        page.text(f"Remembered, not seen: {', '.join(grade.memory_fields)}.")
    facts = grade.published()
    page.heading("Published heat treatment")
    if not facts:
        page.text("Nothing is published here for this grade.")
        return
    plain = [fact for fact in facts if fact.quantity != _HARDNESS_AFTER_TEMPER]
    page.rows(_joined(page, plain))
    tempered = [fact for fact in facts if fact.quantity == _HARDNESS_AFTER_TEMPER]
    if tempered:
        page.heading("Published hardness after temper")
        page.table(("hardened from", "temper", "for", "hardness", "seen"), (_tempered(page, fact) for fact in tempered))
    page.sources({fact.source for fact in facts} | {grade.source})


def _quantity(fact: "Fact") -> str:
    """What the fact is, without its unit and without which end of a range it is."""
    return " ".join(word for word in fact.quantity.split("_") if word not in _NOT_SAID)


def _joined(page: "Page", facts: "list[Fact]") -> list[tuple[str, str, str]]:
    """One row a fact, both ends of a range in one row."""
    rows: dict[tuple[str, str], list[str]] = {}
    for fact in sorted(facts, key=lambda fact: "_max" in fact.quantity):
        value = _value(page, fact)
        if "_max" in fact.quantity and (_quantity(fact), _seen(fact)) not in rows:
            value = f"up to {value}"
        rows.setdefault((_quantity(fact), _seen(fact)), []).append(value)
    order = {key: place for place, key in enumerate(dict.fromkeys((_quantity(fact), _seen(fact)) for fact in facts))}
    return [
        (quantity, _range(values), seen)
        for (quantity, seen), values in sorted(rows.items(), key=lambda row: order[row[0]])
    ]


def _range(values: list[str]) -> str:
    """``790 °C`` and ``810 °C`` as ``790 to 810 °C``."""
    if len(values) == 2 and values[0].split(" ")[1:] == values[1].split(" ")[1:]:
        return f"{values[0].split(' ')[0]} to {values[1]}"
    return ", ".join(values)


def _value(page: "Page", fact: "Fact") -> str:
    if isinstance(fact.value, str):
        return fact.value
    return page.measures.temperature(fact.value) if fact.unit == "C" else f"{fact.value:g} {fact.unit}"


def _seen(fact: "Fact") -> str:
    from decalesce.cli import words

    return ", ".join(part for part in (fact.conditions, fact.source, words.status(fact.status)) if part)


def _tempered(page: "Page", fact: "Fact") -> tuple[str, ...]:
    from decalesce.cli import words

    from_ = "not stated" if fact.austenitize_C is None else page.measures.temperature(fact.austenitize_C)
    at = "not stated" if fact.temper_C is None else page.measures.temperature(fact.temper_C)
    hours = "not stated" if fact.temper_h is None else f"{fact.temper_h:g} h"
    return from_, at, hours, f"{fact.value} HRC", f"{fact.source}, {words.status(fact.status)}"
