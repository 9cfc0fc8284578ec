"""``decalesce austenitize``: the window, and what each temperature puts into solution."""

from dataclasses import dataclass
from math import isnan
from typing import TYPE_CHECKING, Annotated, Any

import typer

from decalesce.cli import arguments, options

if TYPE_CHECKING:
    from decalesce._core import Composition, Estimate
    from decalesce.cli.page import Page
    from decalesce.plan import Plan

_At = Annotated[
    list[float] | None,
    typer.Option(
        "--at", metavar="TEMP", parser=arguments.temperature, help="Also at this temperature; may be repeated."
    ),
]
_For = Annotated[
    float | None,
    typer.Option(
        "--for", metavar="TIME", parser=arguments.time, help=f"Time at temperature; {options.SOAK_TIME} if not given."
    ),
]


@dataclass(frozen=True, slots=True)
class After:
    """What one temperature does: ``name`` says which of the window it is, or that it was asked for."""

    name: str
    temperature_C: float
    time_s: float
    carbon_in_solution: "Estimate"
    carbide_left_wt: float
    as_quenched: "Estimate"
    retained_austenite: "Estimate"


def _after(w: "Composition", name: str, celsius: float, seconds: float) -> After:
    import decalesce as dc

    a = dc.austenite.dissolve(w, dc.hold(celsius, seconds))
    q = dc.AsQuenched.fully_hardened(a)
    return After(
        name,
        celsius,
        seconds,
        dc.austenite.carbon_in_solution(w, celsius, seconds),
        float(a.cementite_wt + a.alloy_carbide_wt),
        q.hardness_HRC,
        q.retained_austenite,
    )


def window_data(plan: "Plan") -> dict[str, Any]:
    """The window of a plan for a JSON document, degC."""
    return {
        "coolest": plan.coolest_C,
        "aim": plan.aim_C,
        "hottest": plan.hottest_C,
        "used": plan.window_used,
        "published": plan.published_window,
    }


@options.bundled
def command(
    steel: options.Steel,
    *,
    at: _At = None,
    for_: _For = None,
    output: options.Output,
) -> None:
    """Austenitizing window of a steel, and carbon in solution, hardness and retained austenite by temperature.

    \b
    Example:
      decalesce austenitize O1 --at 1475F --at 1525F --for 15min
    """
    import decalesce as dc
    from decalesce.cli import document, parts
    from decalesce.cli import steel as steels
    from decalesce.cli.page import sources_of

    seconds = float(dc.units.time_s(for_ or options.SOAK_TIME))
    given = steels.read(steel)
    plan = dc.plan.make(given.bar())
    named = [("coolest", plan.coolest_C.value), ("set", plan.aim_C.value), ("hottest", plan.hottest_C.value)]
    asked = [(name, celsius) for name, celsius in named if not isnan(celsius)] + [
        ("asked", celsius) for celsius in at or ()
    ]
    after = [_after(plan.composition, name, celsius, seconds) for name, celsius in asked]
    content = document.document(
        "austenitize",
        {
            "steel": given.as_data(plan.family),
            "window": window_data(plan),
            "after": after,
            "reasons": plan.reasons,
        },
        plan.cautions,
        levels=[doubt.level for doubt in given.doubts],
    )

    def show(page: "Page") -> None:
        page.steel(given, plan.family)
        parts.window(page, plan)
        if after:
            print_after(page, after, seconds)
        parts.reasons(page, plan)
        page.remarks()
        page.sources(
            sources_of([plan.aim_C], *([a.carbon_in_solution, a.as_quenched, a.retained_austenite] for a in after))
        )
        page.cautions(plan.cautions)

    output.give(content, show)


def print_after(page: "Page", after: list[After], seconds: float) -> None:
    """One line a temperature: what is in solution, and what that means for the quench."""
    from decalesce.cli.measures import NO_ANSWER

    page.heading(f"After {page.measures.time(seconds)} at temperature, quenched fully")
    rows = []
    unanswered: list[str] = []
    for line in sorted(after, key=lambda line: line.temperature_C):
        carbon = page.number("carbon in solution", line.carbon_in_solution)
        hard = page.number("as quenched", line.as_quenched)
        retained = page.number("retained austenite", line.retained_austenite)
        for what, told in (("", carbon), ("as quenched, ", hard), ("retained austenite, ", retained)):
            if told[1] == NO_ANSWER:
                unanswered.append(f"{page.measures.temperature(line.temperature_C)}: {what}{NO_ANSWER}. {told[3]}")
                break
        carbide = NO_ANSWER if isnan(line.carbide_left_wt) else f"{line.carbide_left_wt:.1f} wt %"
        rows.append(
            (
                page.measures.temperature(line.temperature_C),
                line.name,
                carbon[1],
                carbide,
                f"{hard[1].removesuffix(' HRC')} {hard[2]}".strip(),
                retained[1],
            )
        )
    page.table(("at", "", "C in solution", "carbide left", "as quenched, HRC", "retained"), rows)
    for sentence in unanswered:
        page.text(sentence)
    page.text("retained: austenite, of the whole steel")
