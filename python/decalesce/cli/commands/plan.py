"""``decalesce plan``: what to do with one bar, in the order of the work."""

from typing import TYPE_CHECKING, Annotated, Any

import typer

from decalesce.cli import options
from decalesce.cli.commands.austenitize import window_data
from decalesce.cli.commands.soak import section_data, section_words, works

if TYPE_CHECKING:
    from decalesce.cli.page import Page
    from decalesce.plan import Plan

_Tempers = Annotated[
    int | None, typer.Option("--tempers", min=1, help="How often to temper; what the trade does if not given.")
]


@options.bundled
def command(
    steel: options.SteelOrNone = None,
    *,
    piece: options.Piece,
    target: options.Target = None,
    furnace: options.FurnaceKind = options.Furnace.still_electric,
    temper_time: options.TemperTime = None,
    tempers: _Tempers = None,
    output: options.Output,
) -> None:
    """The plan of one bar: window, soak, quench, temper, order of work, and the reasons.

    \b
    Example:
      decalesce plan O1 --size 4x30mm --target 62HRC
    """
    import decalesce as dc
    from decalesce.cli import document
    from decalesce.cli import steel as steels

    section = piece.section()
    if not steel:
        _unknown(section, furnace.value, output)
        return
    given = steels.read(steel)
    plan = dc.plan.make(
        given.bar(section), furnace.value, target, temper_time=temper_time or options.TEMPER_TIME, tempers=tempers
    )
    content = document.document(
        "plan",
        {"steel": given.as_data(plan.family), "furnace": furnace.value, **plan_data(plan), "unknown": ()},
        plan.cautions,
        levels=[doubt.level for doubt in given.doubts],
        cite=plan.sources,
    )
    # a plan is judged by the lines a smith works by, as the library and the inventory judge it
    from decalesce.cli import words

    content["level"] = words.gravest([plan.level, *(doubt.level for doubt in given.doubts)])

    def show(page: "Page") -> None:
        page.steel(given, plan.family)
        if section is not None:
            page.text(section_words(page, section))
        print_plan(page, plan)

    output.give(content, show)


def plan_data(plan: "Plan") -> dict[str, Any]:
    """A plan for a JSON document; degC, K, s, mm."""
    line = plan.temper
    return {
        "section": section_data(plan.bar.section),
        "detail": plan.detail,
        "critical": plan.critical,
        "window": window_data(plan),
        "soak": {
            "heat_up": plan.heat_up_s,
            "equalize": plan.equalize_s,
            "hold": plan.hold_s,
            "hold_rule": plan.hold_rule or None,
            "preheat_C": plan.preheat_C,
        },
        "quench": {
            "media": plan.quench.media,
            "published": plan.quench.published,
            "sentence": plan.quench.sentence,
            "evaluated": plan.quench.evaluated,
            "carbon_in_solution": plan.carbon_in_solution,
            "as_quenched": plan.as_quenched_HRC,
            "retained_austenite": plan.retained_austenite,
        },
        "temper": None
        if line is None
        else {
            "target_HRC": plan.target_HRC,
            "temperature": line.temperature_C,
            "used": line.used,
            "time_s": line.time_s,
            "tempers": line.tempers,
            "stays_from_C": line.stays_from_C,
            "stays_to_C": line.stays_to_C,
            "hardest_HRC": line.hardest_HRC,
            "softest_HRC": line.softest_HRC,
            "published": line.published_C,
            "notes": line.notes,
        },
        "steps": plan.steps,
        "reasons": plan.reasons,
        "narrowing": plan.narrowing,
    }


def print_plan(page: "Page", plan: "Plan") -> None:
    """A plan on a page, in the order of the work, then the reasons."""
    from decalesce.cli import parts, words

    parts.window(page, plan)
    parts.soak(page, plan)
    parts.quench(page, plan)
    parts.temper(page, plan)
    parts.order_of_work(page, plan)
    parts.reasons(page, plan)
    page.heading("Critical temperatures")
    page.numbers(
        page.number(label, plan.critical[name], meaning)
        for name, (label, meaning) in words.CRITICAL.items()
        if "not_applicable" not in plan.critical[name].flags
    )
    parts.narrowing(page, plan)
    page.remarks()
    page.sources(plan.sources)
    page.cautions(plan.cautions)


def _unknown(section: Any, furnace: str, output: options.Output) -> None:
    """A bar with neither grade nor analysis: what can be said, and which cheap test would tell."""
    import decalesce as dc
    from decalesce.cli import document, keys

    sentences = dc.plan.without_grade_or_certificate()
    cautions = dc.plan.cautions(*works(furnace))
    empty: dict[str, Any] = dict.fromkeys(keys.KEYS["plan"])
    known = {"section": section_data(section), "furnace": furnace, "unknown": sentences}
    content = document.document("plan", empty | known, cautions, levels=["stop"])

    def show(page: "Page") -> None:
        page.title("A bar without grade and without analysis")
        page.bullets(sentences)
        page.text("Name the steel when you know it: decalesce plan 1095, or decalesce plan C=0.95 Mn=0.40.")
        page.cautions(cautions)

    output.give(content, show)
