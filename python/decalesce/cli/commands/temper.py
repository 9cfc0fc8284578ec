"""``decalesce temper``: hardness after a temper, the temper for a hardness, or one temper as another."""

from dataclasses import dataclass
from math import isnan, nan
from typing import TYPE_CHECKING, Annotated, Any

import typer

from decalesce.cli import arguments, options

if TYPE_CHECKING:
    from decalesce._core import AsQuenched
    from decalesce.cli.page import Page
    from decalesce.cli.steel import GivenSteel
    from decalesce.temper import Note, TemperedHardness, TemperSetting

_At = Annotated[
    float | None,
    typer.Option(
        "--at", metavar="TEMP", parser=arguments.temperature, help="Hardness after a temper at this temperature."
    ),
]
_Target = Annotated[
    float | None,
    typer.Option(
        "--target", metavar="HARDNESS", parser=arguments.hardness, help="Temperature for this hardness: 60HRC or 60."
    ),
]
_For = Annotated[
    float | None,
    typer.Option(
        "--for", metavar="TIME", parser=arguments.time, help=f"Time of one temper; {options.TEMPER_TIME} if not given."
    ),
]
_Times = Annotated[int | None, typer.Option("--times", min=1, help="How often; what the trade does if not given.")]
_Convert = Annotated[
    tuple[str, str] | None,
    typer.Option("--convert", metavar="TEMP TIME", help="Convert this temper, such as 400F 2h; needs no steel."),
]
_To = Annotated[
    arguments.NewTemper | None,
    typer.Option(
        "--to", metavar="TIME|TEMP", parser=arguments.new_temper, help="The new time (1h) or temperature (420F)."
    ),
]
_Constant = Annotated[
    Any,
    typer.Option(
        "--constant",
        metavar="NUMBER|carbon",
        parser=arguments.constant,
        help="Constant of the temper parameter, the one for hours, 20 if not given; carbon: by the steel's carbon.",
    ),
]
_AsQuenched = Annotated[
    float | None,
    typer.Option(
        "--as-quenched", metavar="HARDNESS", parser=arguments.hardness, help="Hardness read after the quench: 64.5HRC."
    ),
]
_Hardened = Annotated[
    float | None,
    typer.Option(
        "--hardened",
        metavar="TEMP",
        parser=arguments.temperature,
        help="Hardened from here; the window's aim if not given.",
    ),
]
_Soaked = Annotated[
    float | None,
    typer.Option(
        "--soaked",
        metavar="TIME",
        parser=arguments.time,
        help=f"With --hardened: for this time; {options.SOAK_TIME} if not given.",
    ),
]
_Swing = Annotated[
    float | None,
    typer.Option(
        "--swing",
        metavar="DIFFERENCE",
        parser=arguments.difference,
        help="How far the oven may be off, a difference: 27F or 15K; widens the band of --at.",
    ),
]


@dataclass(frozen=True, slots=True)
class _Asked:
    """What the steel is tempered with, and how it was hardened."""

    at: float | None
    target: float | None
    time_s: float
    times: int
    swing_K: float
    measured: float | None
    hardened: float | None
    soaked: float


def command(
    steel: options.SteelOrNone = None,
    *,
    at: _At = None,
    target: _Target = None,
    for_: _For = None,
    times: _Times = None,
    convert: _Convert = None,
    to: _To = None,
    constant: _Constant = None,
    as_quenched: _AsQuenched = None,
    hardened: _Hardened = None,
    soaked: _Soaked = None,
    swing: _Swing = None,
    json: options.Json = False,
    units: options.PrintUnits = options.Units.metric,
    strict: options.Strict = False,
) -> None:
    """Hardness after a temper, the temper for a hardness, or one temper as another.

    \b
    Examples:
      decalesce temper 1095 --at 400F --for 2h
      decalesce temper O1 --target 60HRC
      decalesce temper --convert 400F 2h --to 1h
    """
    from decalesce.cli import steel as steels

    given = steels.read(steel) if steel else None
    chosen = [name for name, value in (("--at", at), ("--target", target), ("--convert", convert)) if value is not None]
    if len(chosen) != 1:
        what = "none of them" if not chosen else " and ".join(chosen)
        raise typer.BadParameter(
            f"{what} given; ask one thing: --at 400F (hardness), --target 60HRC (temperature) "
            "or --convert 400F 2h --to 1h"
        )
    if convert is not None:
        if swing is not None:
            raise typer.BadParameter("--swing widens the band of a hardness; use it with --at")
        _convert(
            given,
            convert,
            to,
            20.0 if constant is None else constant,
            times or 1,
            json=json,
            units=units,
            strict=strict,
        )
        return
    if to is not None:
        raise typer.BadParameter("--to belongs to --convert 400F 2h")
    if given is None:
        raise typer.BadParameter("a hardness depends on the steel; name it, such as decalesce temper 1095 --at 400F")
    if swing is not None and at is None:
        raise typer.BadParameter("--swing widens the band of a hardness; use it with --at")
    import decalesce as dc

    often = dc.temper.tempers_usual(given.grade) if times is None else times
    time_s = float(dc.units.time_s(for_ or options.TEMPER_TIME))
    soaked_s = float(dc.units.time_s(soaked or options.SOAK_TIME))
    asked = _Asked(at, target, time_s, often, swing or 0.0, as_quenched, hardened, soaked_s)
    _answer(given, asked, json=json, units=units, strict=strict)


def _quenched(given: "GivenSteel", asked: _Asked) -> "tuple[AsQuenched, float, str]":
    """The quenched steel, the hardening temperature (degC, NaN if unknown) and the family."""
    import decalesce as dc

    plan = dc.plan.make(given.bar())
    aim = plan.aim_C.value if asked.hardened is None else asked.hardened
    if asked.hardened is not None:
        austenite = dc.austenite.dissolve(plan.composition, dc.hold(asked.hardened, asked.soaked))
    else:
        austenite = plan.quenched.austenite
    if asked.measured is not None:
        return dc.AsQuenched.measured(asked.measured, austenite), aim, plan.family
    return (plan.quenched if asked.hardened is None else dc.AsQuenched.fully_hardened(austenite)), aim, plan.family


def _answer(given: "GivenSteel", asked: _Asked, *, json: bool, units: options.Units, strict: bool) -> None:
    import decalesce as dc
    from decalesce.cli import answer, document

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
    cautions = dc.plan.cautions()
    content = document.document(
        "temper",
        {
            "steel": given.as_data(family),
            "question": "temperature" if asked.at is None else "hardness",
            "temper": {
                "temperature_C": asked.at,
                "target_HRC": asked.target,
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

    def show(page: "Page") -> None:
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

    answer.give(content, show, json=json, units=units, strict=strict)


def _answer_data(result: Any) -> dict[str, Any]:
    from decalesce.temper import TemperedHardness

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


def _print_hardness(page: "Page", asked: _Asked, result: Any) -> None:
    from decalesce.cli import words

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


def _print_setting(page: "Page", asked: _Asked, result: Any) -> None:
    from decalesce.cli import parts, words

    assert asked.target is not None
    page.heading(f"Temper for {asked.target:.3g} HRC, {page.measures.time(asked.time_s)}, {words.times(asked.times)}")
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


def print_practice(page: "Page", practice: "tuple[Note, ...]") -> None:
    """What the trade does."""
    from decalesce.cli import words

    page.heading("What the trade does")
    page.bullets(f"{note.sentence} ({words.status(note.status)})" for note in practice)


def _convert(
    given: "GivenSteel | None",
    typed: tuple[str, str],
    to: arguments.NewTemper | None,
    constant: float | str,
    times: int,
    *,
    json: bool,
    units: options.Units,
    strict: bool,
) -> None:
    import decalesce as dc
    from decalesce.cli import answer, conversion, document, words

    try:
        celsius, seconds = arguments.temperature(typed[0]), arguments.time(typed[1])
    except typer.BadParameter as problem:
        raise typer.BadParameter(problem.message, param_hint="'--convert'") from problem
    w = None if given is None else given.bar().composition
    carbon = w.C if w is not None and "C" in w.amounts else nan
    if constant == "carbon_dependent" and isnan(carbon):
        raise typer.BadParameter("--constant carbon needs the carbon of the steel; add C=0.95 or a grade")
    found = conversion.convert(celsius, seconds, times, to=to, constant=constant, carbon_wt=carbon)
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
            "conversion": conversion.data(found),
            "practice": (),
        },
        dc.plan.cautions(),
        levels=[document.flag_level(flag) for flag in flags] + [d.level for d in (given.doubts if given else ())],
        cite=conversion.sources(found),
    )

    def show(page: "Page") -> None:
        page.title(f"{page.measures.temperature(celsius)} for {page.measures.time(seconds)}, {words.times(times)}")
        conversion.print_conversion(page, found)
        page.text("Holds below Ac1, where one thing happens: not for steel that hardens again on tempering.")
        page.sources(conversion.sources(found))

    answer.give(content, show, json=json, units=units, strict=strict)
