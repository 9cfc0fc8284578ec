"""One temper as another, on a page and in a document: parameter, equivalents, and how much the constant matters."""

from typing import TYPE_CHECKING, Any

import numpy as np

from decalesce import temper
from decalesce.cli.arguments import NewTemper

if TYPE_CHECKING:
    from decalesce.cli.page import Page
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
    names = ["practice", "grange_baughman", *(["carbon_dependent"] if not np.isnan(carbon_wt) else [])]
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


def print_conversion(page: "Page", found: dict[str, Any]) -> None:
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


def _apart(page: "Page", kind: str, other: float, value: float) -> str:
    if np.isnan(other) or np.isnan(value):
        return ""
    if kind == "time":
        apart = abs(other - value)
        side = "cooler" if other < value else "hotter"
        return f"{page.measures.difference(apart)} {side}" if apart >= 0.5 else "the same"
    ratio = other / value
    return "the same" if abs(ratio - 1.0) < 0.005 else f"{ratio:.2g} times as long"
