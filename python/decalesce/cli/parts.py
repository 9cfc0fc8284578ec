"""The parts of a plan on a page, in the order of the work: window, soak, quench, temper, then what would help."""

from math import isnan
from typing import TYPE_CHECKING, Any

from decalesce.cli import words
from decalesce.cli.page import Page

if TYPE_CHECKING:
    from decalesce.plan import Plan
    from decalesce.plan.hardening_facts import PublishedRange

#: Effects smaller than what is printed are not listed: 1 K, 0.1 HRC.
_LEAST_K = 0.5
_LEAST_HRC = 0.05
_MINUTE_S = 60.0
#: What gave the temper of a plan, in words.
_GIVEN_BY = {
    "model": "by the model",
    "table": "by the grade's published table",
    "published range": "by the grade's published temper range",
}


def window(page: Page, plan: "Plan") -> None:
    """The austenitizing window and the room on each side of the aim."""
    used = {"published": "the grade's published range", "computed": "from composition and family"}[plan.window_used]
    page.heading(f"Window ({used})")
    aim = plan.aim_C.value
    above, below = aim - plan.coolest_C.value, plan.hottest_C.value - aim
    room = ""
    if not isnan(above) and not isnan(below):
        room = (
            f"{page.measures.difference(above)} above the coolest, {page.measures.difference(below)} below the hottest"
        )
    rows = [
        page.number("coolest", plan.coolest_C, "hardens evenly from here", name="window"),
        page.number("set", plan.aim_C, room, name="window"),
        page.number("hottest", plan.hottest_C, name="window"),
    ]
    beside = plan.published_window
    if beside is not None and plan.window_used == "computed":
        at = page.measures.temperatures(beside.coolest_C, beside.hottest_C)
        rows.append(("published", at, "", f"beside: {beside.source}, {words.status(beside.status)}"))
    page.numbers(rows)
    if beside is not None and beside.conditions:
        page.text(f"The published range is for: {beside.conditions}.")


def soak(page: Page, plan: "Plan") -> None:
    """Heat-up, equalize and hold."""
    page.heading("Soak")
    from decalesce.plan.hardening_facts import published_hold, published_preheat

    rows: list[tuple[str, str, str, str]] = []
    grade = plan.bar.grade
    preheat = None if grade is None else published_preheat(grade)
    held = None if grade is None else published_hold(grade)
    if preheat is not None:
        rows.append(("preheat", page.measures.temperatures(preheat.low, preheat.high), "", _published(preheat)))
    elif not isnan(plan.preheat_C[0]):
        rows.append(("preheat", page.measures.temperatures(*plan.preheat_C), "", "until the section is even"))
    rows += [
        page.number("heat up", plan.heat_up_s, "from loading into a furnace at temperature"),
        page.number("equalize", plan.equalize_s, "for heat to cross half the thickness"),
        page.number("hold", plan.hold_s, "from when the steel, not the furnace, is at temperature"),
    ]
    if held is not None:
        minutes = page.measures.times(held.low * _MINUTE_S, held.high * _MINUTE_S)
        rows.append(("published", minutes, "", f"hold, {_published(held)}"))
    page.numbers(rows)


def _published(found: "PublishedRange") -> str:
    conditions = f"{found.conditions}; " if found.conditions else ""
    return f"{conditions}published for the grade: {found.source}, {words.status(found.status)}"


def quench(page: Page, plan: "Plan") -> None:
    """The published medium and what the quench can give."""
    page.heading("Quench")
    page.text(plan.quench.sentence)
    page.numbers(
        [
            page.number("carbon in solution", plan.carbon_in_solution),
            page.number("as quenched", plan.as_quenched_HRC, "if it hardens through"),
            page.number("retained austenite", plan.retained_austenite),
        ]
    )


def temper(page: Page, plan: "Plan") -> None:
    """The temper for the wanted hardness, with its margins."""
    page.heading("Temper")
    line = plan.temper
    if line is None:
        page.text("No hardness was asked for: add --target 60HRC for the temper.")
        return
    by = _GIVEN_BY[line.used]
    held = f"{page.measures.time(line.time_s)}, {words.times(line.tempers)}, for {plan.target_HRC:.3g} HRC, {by}"
    rows = [page.number("temper", line.temperature_C, held)]
    for beside in line.published_C if line.used == "model" else ():
        rows.append(page.number("published", beside, f"the grade's table beside: {', '.join(beside.sources)}"))
    page.rows(rows)
    margins(page, line.temperature_C.value, line.stays_from_C, line.stays_to_C)
    for note in line.notes:
        page.text(note)
    spare = plan.as_quenched_HRC.value - plan.target_HRC
    if not isnan(spare):
        side = "below" if spare >= 0.0 else "above"
        page.text(f"The wanted hardness lies {abs(spare):.1f} HRC {side} the as-quenched hardness.")


def margins(page: Page, at_C: float, from_C: float, to_C: float) -> None:
    """How far the oven may be off before the hardness moves by 1 HRC."""
    if isnan(at_C) or isnan(from_C) or isnan(to_C):
        return
    room = page.measures.difference(min(at_C - from_C, to_C - at_C))
    between = page.measures.temperatures(from_C, to_C)
    page.text(f"{between} keeps it within 1 HRC (if the middle is right): the oven may be off by {room}.")


def order_of_work(page: Page, plan: "Plan") -> None:
    """Every step from the forge to the finish grind."""
    page.heading("Order of work")
    rows = []
    for step in plan.steps:
        seen = f"{', '.join(step.sources)}; {words.status(step.status)}" if step.sources else ""
        text = page.measures.sentence(step.text)
        rows.append(
            (f"{step.number}", step.name if step.do else f"no {step.name}", f"{text} ({seen})" if seen else text)
        )
    page.rows(rows)


def reasons(page: Page, plan: "Plan") -> None:
    """Why the window lies there."""
    if plan.reasons:
        page.heading("Reasons")
        page.bullets(plan.reasons)


def _effects(page: Page, blame: Any) -> str:
    moved = [
        f"{what} {page.measures.difference(kelvin)}"
        for what, kelvin in (("Ac1", blame.ac1_K), ("the set temperature", blame.aim_K), ("the temper", blame.temper_K))
        if not isnan(kelvin) and abs(kelvin) >= _LEAST_K
    ]
    if not isnan(blame.hardness_HRC) and abs(blame.hardness_HRC) >= _LEAST_HRC:
        moved.append(f"the as-quenched hardness {abs(blame.hardness_HRC):.1f} HRC")
    return ", ".join(moved)


def narrowing(page: Page, plan: "Plan") -> None:
    """Which amount, measured better, would narrow the plan most."""
    said = [(blame, _effects(page, blame)) for blame in plan.narrowing]
    said = [(blame, effects) for blame, effects in said if effects]
    page.heading("What would narrow it most")
    if not said:
        page.text(
            "No amount of this steel, measured better, would move the plan; measure the furnace and test a coupon."
        )
        return
    page.bullets(
        f"{blame.element}, known to ±{blame.half_width_wt:.2g} wt %: moves {effects}" for blame, effects in said[:3]
    )
