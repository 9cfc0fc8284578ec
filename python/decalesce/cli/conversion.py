"""One temper as another, on a page and in a document: parameter, equivalents, and how much the constant matters."""

from math import isnan, nan
from typing import Any

import typer

import decalesce as dc
from decalesce import temper
from decalesce.cli import arguments, document, words
from decalesce.cli.arguments import NewTemper
from decalesce.cli.options import Output
from decalesce.cli.page import Page
from decalesce.cli.steel import GivenSteel
from decalesce.temper import Equivalent, TemperParameter

_NAMES = {
    "practice": "20, the custom for tool steel",
    "grange_baughman": "18, carbon and low-alloy steel",
    "carbon_dependent": "by carbon",
    "own": "your own",
}


def convert(
    celsius: float, seconds: float, times: int, *, to: NewTemper | None, constant: Any, carbon_wt: float
) -> dict[str, Any]:
    """The temper parameter, and the equivalent temperature or time; degC and s."""
    given = {"constant": constant, "carbon_wt": carbon_wt, "tempers": times}
    hold = (celsius, seconds)
    found = temper.parameter(hold, constant, carbon_wt=carbon_wt, tempers=times)
    answer = None
    if to is not None:
        ask = temper.equivalent_temperature if to.kind == "time" else temper.equivalent_time
        answer = ask(hold, to.value, **given)
    return {"parameter": found, "to": to, "answer": answer, "by_constant": _by_constant(hold, times, carbon_wt)}


def _by_constant(hold: tuple[float, float], times: int, carbon_wt: float) -> dict[str, float]:
    """The parameter with each published constant; parameters of different constants cannot be compared."""
    names = ["practice", "grange_baughman", *(["carbon_dependent"] if not isnan(carbon_wt) else [])]
    return {name: float(temper.parameter(hold, name, carbon_wt=carbon_wt, tempers=times).value) for name in names}


def data(found: dict[str, Any]) -> dict[str, Any]:
    """A conversion for a JSON document."""
    parameter: TemperParameter = found["parameter"]
    answer: Equivalent | None = found["answer"]
    return {
        "constant": {
            "hours": parameter.constant.hours,
            "name": parameter.constant.name,
            "source": parameter.constant.source,
        },
        "parameter_thousand_K": parameter.value,
        "parameter_by_constant": found["by_constant"],
        "to": found["to"],
        "equivalent": None
        if answer is None
        else {
            "value": answer.value,
            "unit": answer.unit,
            "flags": answer.flags,
            "by_constant": dict(answer.by_constant),
        },
    }


def sources(found: dict[str, Any]) -> list[str]:
    """Bibliography keys of a conversion."""
    constant = found["parameter"].constant
    return ["HollomonJaffe1945", *([constant.source] if constant.source else [])]


def print_conversion(page: Page, found: dict[str, Any]) -> None:
    """The conversion, and what the other constants say."""
    parameter: TemperParameter = found["parameter"]
    answer: Equivalent | None = found["answer"]
    measures = page.measures
    page.heading("Conversion")
    rows = [("temper parameter", f"{parameter.value:.2f} thousand K, {parameter.constant}")]
    if answer is None:
        page.rows(rows)
        page.text(
            "Add --to 1h or --to 420F for the temper that does the same in another time or at another temperature."
        )
    else:
        kind, value = found["to"].kind, found["to"].value
        say = measures.temperature if kind == "time" else measures.time
        asked = f"in {measures.time(value)}" if kind == "time" else f"at {measures.temperature(value)}"
        page.rows([*rows, ("does the same", f"{say(answer.value)} {asked}")])
        page.heading("How much the constant matters")
        page.rows(
            (f"constant {_NAMES[name]}", say(other), _apart(page, kind, other, answer.value))
            for name, other in answer.by_constant.items()
        )
        if kind == "time":
            spread = max(answer.by_constant.values()) - min(answer.by_constant.values())
            page.text(f"The constants differ by {measures.difference(spread)} here.")
    if parameter.flags:
        page.heading("What to know")
        from decalesce.cli import document

        page.bullets(f"{document.flag_level(flag)}: {document.flag_sentence(flag)}" for flag in parameter.flags)


def _apart(page: Page, kind: str, other: float, value: float) -> str:
    if isnan(other) or isnan(value):
        return ""
    if kind == "time":
        apart = abs(other - value)
        side = "cooler" if other < value else "hotter"
        return f"{page.measures.difference(apart)} {side}" if apart >= 0.5 else "the same"
    ratio = other / value
    return "the same" if abs(ratio - 1.0) < 0.005 else f"{ratio:.2g} times as long"


def answer(
    given: GivenSteel | None,
    typed: tuple[str, str],
    output: Output,
    *,
    to: NewTemper | None,
    constant: float | str,
    times: int,
) -> None:
    """Answer ``--convert TEMP TIME``, on a page or as a document; the steel, if any, gives its carbon."""
    try:
        celsius, seconds = arguments.temperature(typed[0]), arguments.time(typed[1])
    except typer.BadParameter as problem:
        raise typer.BadParameter(problem.message, param_hint="'--convert'") from problem
    w = None if given is None else given.bar().composition
    carbon = w.C if w is not None and "C" in w.amounts else nan
    if constant == "carbon_dependent" and isnan(carbon):
        raise typer.BadParameter("--constant carbon needs the carbon of the steel; add C=0.95 or a grade")
    found = convert(celsius, seconds, times, to=to, constant=constant, carbon_wt=carbon)
    family = "" if w is None else dc.critical.temperatures(w).family
    assert isinstance(family, str)
    flags = {*found["parameter"].flags, *(() if found["answer"] is None else found["answer"].flags)}
    content = document.document(
        "temper",
        {
            "steel": None if given is None else given.as_data(family),
            "question": "conversion",
            "temper": {"temperature_C": celsius, "target_HRC": None, "time_s": seconds, "times": times},
            "quenched": None,
            "answer": None,
            "conversion": data(found),
            "practice": (),
        },
        dc.plan.cautions(question="temper"),
        levels=[document.flag_level(flag) for flag in flags] + [d.level for d in (given.doubts if given else ())],
        cite=sources(found),
    )

    def show(page: Page) -> None:
        page.title(f"{page.measures.temperature(celsius)} for {page.measures.time(seconds)}, {words.times(times)}")
        print_conversion(page, found)
        page.text("Holds below Ac1, where one thing happens: not for steel that hardens again on tempering.")
        page.sources(sources(found))

    output.give(content, show)
