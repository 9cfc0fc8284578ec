"""``decalesce soak``: heat-up, equalize and hold, each apart, with the published rules beside."""

from math import isnan
from typing import TYPE_CHECKING, Annotated, Any

import typer

from decalesce.cli import arguments, options

if TYPE_CHECKING:
    from decalesce._core import History
    from decalesce.bar import Bar
    from decalesce.cli.page import Page
    from decalesce.heating import Check, InAir, Rule, Soak

_At = Annotated[
    float | None,
    typer.Option(
        "--at", metavar="TEMPERATURE", parser=arguments.temperature, help="Set point; the window's aim if not given."
    ),
]
_Ramp = Annotated[
    float | None,
    typer.Option(
        "--ramp",
        metavar="RATE",
        parser=arguments.rate,
        help="Loaded cold into a cold kiln that climbs to the set point: 300C/h, 540F/h or 5C/min.",
    ),
]
_Check = Annotated[
    float | None,
    typer.Option(
        "--check",
        metavar="TIME",
        parser=arguments.time,
        help="Judge a time from loading to quench, such as 20min or 2h.",
    ),
]

_HOUR_S = 3600.0
#: 1.8 degF to the kelvin, 25.4 mm to the inch.
_KELVIN_PER_MM_IN_SHOP = 1.8 * 25.4
_LIMITS = {"both": "film and conduction"}
#: Of the room, and so of a piece and a kiln that are cold, degC.
_ROOM_C = 20.0


@options.bundled
def command(
    steel: options.Steel,
    *,
    piece: options.Piece,
    furnace: options.FurnaceKind = options.Furnace.still_electric,
    at: _At = None,
    ramp: _Ramp = None,
    check: _Check = None,
    output: options.Output,
) -> None:
    """How long to soak: heat-up, then equalize, then hold; and the time there is in air before the quench.

    \b
    Examples:
      decalesce soak 1084 --size 3/16inx1-1/2in --check 20min
      decalesce soak O1 --size 25x60mm --at 1475F --ramp 300C/h --units shop
    """
    import decalesce as dc
    from decalesce.cli import document
    from decalesce.cli import steel as steels

    given = steels.read(steel)
    section = piece.section()
    if section is None:
        raise typer.BadParameter("a soak depends on the section; add --size 4x30mm or --thickness 3/16in")
    bar = given.bar(section)
    set_C, why = _set_point(bar, at)
    history = _kiln(set_C, ramp)
    due = dc.heating.soak(bar, furnace.value, set_C, history=history)
    air = _in_air(bar, set_C)
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
            "set_point_C": set_C,
            "ramp_K_h": None if ramp is None else ramp * _HOUR_S,
            "soak": soak_data(due),
            "heat_up": heat_up_data(due),
            "in_air": None if air is None else {"to_C": air.to_C, "first": air.first_s, "last": air.last_s},
            "rules": due.rules,
            "check": judged,
        },
        cautions,
        levels=[doubt.level for doubt in given.doubts] + _levels(judged),
    )

    def show(page: "Page") -> None:
        page.steel(given, family)
        loaded = "at temperature when loaded"
        if ramp is not None:
            loaded = f"loaded cold, climbing {page.measures.difference(ramp * _HOUR_S)}/h"
        page.text(f"{section_words(page, section)}, {furnace.value.replace('_', ' ')} furnace, {loaded}")
        page.rows([("set point", page.measures.temperature(set_C), why)])
        print_soak(page, due)
        print_heat_up(page, due, section.shape)
        print_in_air(page, air, section.shape)
        if judged is not None and check is not None:
            page.heading(f"{page.measures.time(check)} from loading to quench")
            page.text(judged.sentence)
        print_rules(page, due)
        page.remarks()
        page.cautions(cautions)

    output.give(content, show)


def _set_point(bar: "Bar", at: float | None) -> tuple[float, str]:
    """The set point, degC, and where it is from."""
    import decalesce as dc

    if at is not None:
        return at, "as asked"
    aim = dc.plan.make(bar).aim_C.value
    if isnan(aim):
        return dc.heating.REFERENCE_C, "no window is known for this steel; give yours with --at"
    return aim, "the aim of the window"


def _kiln(set_C: float, rate_K_s: float | None) -> "History | None":
    import decalesce as dc

    if rate_K_s is None or set_C <= _ROOM_C:
        return None
    return dc.ramp(_ROOM_C, set_C, (set_C - _ROOM_C) / rate_K_s)


def _in_air(bar: "Bar", set_C: float) -> "InAir | None":
    """Time between furnace and tank; None where the piece was never above Ac1."""
    import decalesce as dc

    ac1 = dc.thermal.steel(bar).Ac1_C
    return None if isnan(ac1) or set_C <= ac1 else dc.heating.time_in_air(bar, set_C)


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


def heat_up_data(due: "Soak") -> dict[str, Any] | None:
    """The heat-up behind a soak for a JSON document, s, K and K/mm."""
    found = due.computed
    if found is None:
        return None
    return {
        "through": found.through_s,
        "causes_s": found.causes,
        "largest_difference_K": found.difference_K,
        "largest_difference_at_s": found.difference_s,
        "largest_difference_K_mm": found.difference_K_mm,
        "what_limits": found.limits,
        "Ac1_C": found.Ac1_C,
        "rate_at_Ac1_K_min": found.rate_K_min,
        "reasons": due.reasons,
    }


def print_soak(page: "Page", due: "Soak") -> None:
    """The soak in its parts, each with its reason, and the total from loading to quench."""
    page.heading("Soak")
    rows = []
    why = {
        part: page.measures.sentence(getattr(due.reasons, part)) for part in ("preheat", "heat_up", "equalize", "hold")
    }
    if due.preheat_C is not None:
        rows.append(("preheat", page.measures.temperatures(*due.preheat_C), "", why["preheat"]))
    rows += [
        page.number("heat up", due.heat_up_s, why["heat_up"]),
        page.number("equalize", due.equalize_s, why["equalize"]),
        page.number("hold", due.hold_s, why["hold"]),
    ]
    parts = (due.heat_up_s, due.equalize_s, due.hold_s)
    if not any(isnan(part.value) for part in parts):
        rows.append(("in all", page.measures.time(sum(part.value for part in parts)), "", "from loading to quench"))
    page.numbers(rows)
    if due.preheat_C is None and due.reasons.preheat:
        page.text(f"Preheat: {due.reasons.preheat}")
    if due.reasons.band:
        page.text(due.reasons.band)


def _ends(shape: str) -> tuple[str, str]:
    from decalesce.heating.due import surface_and_middle

    return surface_and_middle(shape)


def print_heat_up(page: "Page", due: "Soak", shape: str) -> None:
    """How uneven the piece is on the way, and how fast it goes through Ac1."""
    found = due.computed
    if found is None or found.trace is None:
        return
    measures = page.measures
    surface, middle = _ends(shape)
    page.heading("On the way")
    per_length = (
        f"{found.difference_K_mm * _KELVIN_PER_MM_IN_SHOP:.0f} °F/in"
        if measures.shop
        else f"{found.difference_K_mm:.2g} °C/mm"
    )
    after = measures.time(found.difference_s)
    rows = [
        ("limits", _LIMITS.get(found.limits.limit, found.limits.limit), f"Biot number {found.limits.biot:.2g}"),
        ("uneven", measures.difference(found.difference_K), f"{surface} over {middle}, {per_length}, after {after}"),
    ]
    if not isnan(found.rate_K_min):
        rate = f"{measures.difference(found.rate_K_min)}/min"
        rows.append(("at Ac1", rate, f"the {surface} just below {measures.temperature(found.Ac1_C)}"))
    page.rows(rows)


def print_in_air(page: "Page", air: "InAir | None", shape: str) -> None:
    """How long there is between furnace and tank."""
    if air is None:
        return
    surface, middle = _ends(shape)
    down = f"from {page.measures.temperature(air.from_C)} to {page.measures.temperature(air.to_C)} (Ac1) in still air"
    page.heading("Between furnace and tank")
    page.numbers(
        [
            page.number(surface, air.first_s, down, name="in air"),
            page.number(middle, air.last_s, "the same", name="in air"),
        ]
    )


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
