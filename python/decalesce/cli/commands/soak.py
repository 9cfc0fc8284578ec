"""``decalesce soak``: heat-up, equalize and hold, each apart, with the published rules beside."""

from math import isnan
from typing import TYPE_CHECKING, Annotated, Any

import typer

from decalesce.cli import arguments, options

if TYPE_CHECKING:
    from decalesce.cli.page import Page
    from decalesce.heating import Check, Rule, Soak

_Check = Annotated[
    float | None,
    typer.Option(
        "--check",
        metavar="TIME",
        parser=arguments.time,
        help="Judge a time from loading to quench, such as 20min or 2h.",
    ),
]


@options.bundled
def command(
    steel: options.Steel,
    *,
    piece: options.Piece,
    furnace: options.FurnaceKind = options.Furnace.still_electric,
    check: _Check = None,
    output: options.Output,
) -> None:
    """How long to soak: heat-up, then equalize, then hold.

    \b
    Example:
      decalesce soak 1084 --size 3/16inx1-1/2in --check 20min
    """
    import decalesce as dc
    from decalesce.cli import document
    from decalesce.cli import steel as steels

    given = steels.read(steel)
    section = piece.section()
    if section is None:
        raise typer.BadParameter("a soak depends on the section; add --size 4x30mm or --thickness 3/16in")
    bar = given.bar(section)
    due = dc.heating.soak(bar, furnace.value)
    judged = None if check is None else dc.heating.check_soak(check, due)
    family = dc.critical.temperatures(bar).family
    assert isinstance(family, str)
    cautions = dc.plan.cautions(*works(furnace.value), question="heat")
    content = document.document(
        "soak",
        {
            "steel": given.as_data(family),
            "section": section_data(section),
            "furnace": furnace.value,
            "soak": soak_data(due),
            "rules": due.rules,
            "check": judged,
        },
        cautions,
        levels=[doubt.level for doubt in given.doubts] + _levels(judged),
    )

    def show(page: "Page") -> None:
        page.steel(given, family)
        page.text(
            f"{section_words(page, section)}, {furnace.value.replace('_', ' ')} furnace at temperature when loaded"
        )
        print_soak(page, due)
        if judged is not None and check is not None:
            page.heading(f"{page.measures.time(check)} from loading to quench")
            page.text(judged.sentence)
        print_rules(page, due)
        page.remarks()
        page.cautions(cautions)

    output.give(content, show)


def _levels(judged: "Check | None") -> list[str]:
    from decalesce.cli import document

    return [] if judged is None else [document.flag_level(flag) for flag in judged.flags]


def works(furnace: str) -> tuple[str, ...]:
    """Works of a furnace that have cautions of their own."""
    from decalesce.plan.cautions import furnace_works

    return furnace_works(furnace)


def section_data(section: Any) -> dict[str, Any] | None:
    """A section for a JSON document, mm."""
    if section is None:
        return None
    names = ("shape", "thickness_mm", "width_mm", "length_mm", "edge_mm")
    return {name: getattr(section, name) or None for name in names}


def section_words(page: "Page", section: Any) -> str:
    """A section in words."""
    lengths = [section.thickness_mm, section.width_mm, section.length_mm]
    said = " x ".join(page.measures.length(length) for length in lengths if length)
    edge = f", edge {page.measures.length(section.edge_mm)}" if section.edge_mm else ""
    return f"{section.shape.capitalize()} {said}{edge}"


def soak_data(due: "Soak") -> dict[str, Any]:
    """A soak for a JSON document, s and degC."""
    return {
        "heat_up": due.heat_up_s,
        "equalize": due.equalize_s,
        "hold": due.hold_s,
        "hold_rule": due.hold_rule,
        "preheat_C": due.preheat_C,
        "detail": due.detail,
    }


def print_soak(page: "Page", due: "Soak") -> None:
    """The soak in its parts, and the total from loading to quench."""
    page.heading("Soak")
    rows = []
    if due.preheat_C is not None:
        rows.append(
            ("preheat", page.measures.temperatures(*due.preheat_C), "", "until the section is even, before the heat")
        )
    rows += [
        page.number("heat up", due.heat_up_s, "from loading until the piece is within a few degrees of the furnace"),
        page.number("equalize", due.equalize_s, "for heat to cross half the thickness"),
        page.number("hold", due.hold_s, "counted from when the steel, not the furnace, is at temperature"),
    ]
    parts = (due.heat_up_s, due.equalize_s, due.hold_s)
    if not any(isnan(part.value) for part in parts):
        rows.append(("in all", page.measures.time(sum(part.value for part in parts)), "", "from loading to quench"))
    page.rows(rows)


def _counted(rule: "Rule") -> str:
    if rule.phase == "heat_up":
        return "the heat-up alone"
    return "counts from loading" if rule.includes_heat_up else "counts from when the steel is hot"


def print_rules(page: "Page", due: "Soak") -> None:
    """The published rules beside; they decide nothing."""
    from decalesce.cli import words

    if not due.rules:
        return
    page.heading("Rules beside (they decide nothing here)")
    rows = []
    for rule in due.rules:
        low, high = (60.0 * minutes for minutes in rule.minutes)
        said = f"{rule.text}; {_counted(rule)} ({words.status(rule.status)}, {rule.source})"
        rows.append((page.measures.times(low, high), page.measures.sentence(said)))
    page.rows(rows)
