"""A temper of a steel, on a page and in a document: the hardness after it, or the temperature for a hardness."""

from dataclasses import dataclass
from math import isnan
from typing import Any

import decalesce as dc
from decalesce._core import AsQuenched
from decalesce.cli import document, parts, words
from decalesce.cli.options import Output
from decalesce.cli.page import Page
from decalesce.cli.steel import GivenSteel
from decalesce.scales import Hardness
from decalesce.temper import Note, TemperedHardness, TemperSetting


@dataclass(frozen=True, slots=True)
class Asked:
    """What the steel is tempered with, and how it was hardened."""

    at: float | None
    target: Hardness | None
    time_s: float
    times: int
    swing_K: float
    measured: float | None
    hardened: float | None
    soaked: float


def _quenched(given: GivenSteel, asked: Asked) -> tuple[AsQuenched, float, str]:
    """The quenched steel, the hardening temperature (degC, NaN if unknown) and the family."""
    plan = dc.plan.make(given.bar())
    aim = plan.aim_C.value if asked.hardened is None else asked.hardened
    if asked.hardened is not None:
        austenite = dc.austenite.dissolve(plan.composition, dc.hold(asked.hardened, asked.soaked))
    else:
        austenite = plan.quenched.austenite
    if asked.measured is not None:
        return dc.AsQuenched.measured(asked.measured, austenite), aim, plan.family
    return (plan.quenched if asked.hardened is None else dc.AsQuenched.fully_hardened(austenite)), aim, plan.family


def answer(given: GivenSteel, asked: Asked, output: Output) -> None:
    """Answer the question, on a page or as a document."""
    q, hardened_C, family = _quenched(given, asked)
    from_C = None if isnan(hardened_C) else hardened_C
    result: TemperedHardness | TemperSetting
    if asked.at is not None:
        result = dc.temper.hardness(
            q,
            (asked.at, asked.time_s),
            tempers=asked.times,
            grade=given.grade,
            austenitize_C=from_C,
            temperature_half_width_K=asked.swing_K,
        )
    else:
        assert asked.target is not None
        result = dc.temper.temperature_for(
            q, asked.target, asked.time_s, tempers=asked.times, grade=given.grade, austenitize_C=from_C
        )
    cautions = dc.plan.cautions(question="temper")
    content = document.document(
        "temper",
        {
            "steel": given.as_data(family),
            "question": "temperature" if asked.at is None else "hardness",
            "temper": {
                "temperature_C": asked.at,
                "target_HRC": None if asked.target is None else asked.target.HRC,
                "time_s": asked.time_s,
                "times": asked.times,
            },
            "quenched": {
                "hardened_from_C": from_C,
                "measured": q.is_measured,
                "hardness": q.hardness_HRC,
                "retained_austenite": q.retained_austenite,
            },
            "answer": _answer_data(result),
            "conversion": None,
            "practice": result.practice,
        },
        cautions,
        levels=[doubt.level for doubt in given.doubts],
    )

    def show(page: Page) -> None:
        page.steel(given, family)
        page.heading("Quenched steel it starts from")
        how = "as read" if q.is_measured else "if it hardened through"
        at = f", hardened from {page.measures.temperature(hardened_C)}" if from_C is not None else ""
        page.rows(
            [
                page.number("as quenched", q.hardness_HRC, f"{how}{at}"),
                page.number("retained austenite", q.retained_austenite),
            ]
        )
        if asked.at is not None:
            _print_hardness(page, asked, result)
        else:
            _print_setting(page, asked, result)
        print_practice(page, result.practice)
        page.remarks()
        page.sources({*result.sources, *q.hardness_HRC.sources})
        page.cautions(cautions)

    output.give(content, show)


def _answer_data(result: Any) -> dict[str, Any]:
    if isinstance(result, TemperedHardness):
        return {
            "hardness": result.estimate,
            "used": result.used,
            "model": result.model,
            "published": result.published,
            "notes": result.notes,
        }
    return {
        "temperature": result.temperature_C,
        "used": result.used,
        "model": result.model_C,
        "published": result.published_C,
        "notes": result.notes,
        **{
            name: getattr(result, name)
            for name in ("stays_from_C", "stays_to_C", "coolest_C", "hottest_C", "hardest_HRC", "softest_HRC")
        },
    }


def _print_hardness(page: Page, asked: Asked, result: Any) -> None:
    assert asked.at is not None
    at = page.measures.temperature(asked.at)
    page.heading(f"After {at} for {page.measures.time(asked.time_s)}, {words.times(asked.times)}")
    rows = [page.number("hardness", result.estimate, f"by the {result.used}")]
    if result.published is not None:
        rows.append(page.number("published", result.published, "the grade's table beside"))
    page.rows(rows)
    if asked.swing_K:
        page.text(f"The band holds an oven that is off by {page.measures.difference(asked.swing_K)} either way.")
    for note in result.notes:
        page.text(note)


def _print_setting(page: Page, asked: Asked, result: Any) -> None:
    assert asked.target is not None
    page.heading(
        f"Temper for {asked.target.HRC:.3g} HRC, {page.measures.time(asked.time_s)}, {words.times(asked.times)}"
    )
    rows = [page.number("temper", result.temperature_C, f"by the {result.used}")]
    rows += [page.number("published", beside, "the grade's table beside") for beside in result.published_C]
    page.rows(rows)
    parts.margins(page, result.value, result.stays_from_C, result.stays_to_C)
    ends = (result.coolest_C, result.hottest_C, result.hardest_HRC, result.softest_HRC)
    if not any(isnan(end) for end in ends):
        reach = page.measures.temperatures(ends[0], ends[1])
        page.text(f"In this time the model reaches from {ends[2]:.1f} to {ends[3]:.1f} HRC, tempering at {reach}.")
    for note in result.notes:
        page.text(note)


def print_practice(page: Page, practice: tuple[Note, ...]) -> None:
    """What the trade does."""
    page.heading("What the trade does")
    page.bullets(f"{note.sentence} ({words.status(note.status)})" for note in practice)
