"""How long: heat-up, equalize and hold of some sections, and the published rules beside with what they count."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from decalesce import heating
from decalesce._composition import composition_of
from decalesce._core import Section
from decalesce.bar import Bar
from decalesce.grade import Grade
from decalesce.grades import find
from decalesce.plots import words

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_MINUTE_S = 60.0
_MOST_SECTIONS = 8
_PHASES = {"heat_up": "heat-up only", "hold": "hold only", "soak": "from loading, all in"}
_HEIGHTS = {"own": 0.62, "rule": 0.34}
_RULE_STEP = 0.62


def soak(
    sections: Any,
    w: Any = None,
    furnace: str = "still_electric",
    temperature_C: Any = None,
    *,
    units: str = "metric",
) -> "Figure":
    """The soak sheet of one steel in one furnace: minutes from loading, for one section or several.

    Each section has its own stacked bar (heat-up, equalize, hold; the thin line is the 90 % band of the end) and, under
    it, the published rules. A rule drawn from zero counts from loading; a rule for the hold alone starts where the
    steel is hot. Beside each stands what it counts and how it was seen. What runs off the sheet ends in an arrow.

    Args:
        sections: a Section, a Bar or a list of those (at most eight); a number or text such as ``"1/4in"`` is a plate.
        w: a Composition, a Grade or its name; a Bar brings its own.
        furnace: one of `decalesce.heating.FURNACES`.
        temperature_C: its set point, degC; None: 850 degC.
        units: ``"metric"`` or ``"shop"``.

    Returns:
        The figure. A steel without a rule for the hold shows the heat-up and says so.

    Raises:
        TypeError: no composition. ValueError: an unknown furnace or ``units``, no section or too many.
    """
    words.checked_units(units)
    given = list(sections) if isinstance(sections, Sequence) and not isinstance(sections, str) else [sections]
    if not 0 < len(given) <= _MOST_SECTIONS:
        raise ValueError(f"sections holds {len(given)}; expected 1 to {_MOST_SECTIONS}")
    steel = find(w) if isinstance(w, str) else w
    pieces = [piece if isinstance(piece, Section | Bar) else _plate(piece) for piece in given]
    soaks = [heating.soak(piece, furnace, temperature_C, w=steel) for piece in pieces]
    named = [_name(piece, units) for piece in pieces]
    set_point = words.temperature(soaks[0].set_point_C, units)
    steel_name = _steel_name(pieces[0] if steel is None else steel)
    return _draw(
        named,
        soaks,
        f"How long: {steel_name}, {furnace.replace('_', ' ')}, at {set_point} {words.degree(units)} when loaded",
    )


def _plate(given: Any) -> Section:
    from decalesce import units

    return Section("plate", units.length_mm(given, "sections"))


def _name(piece: Section | Bar, units: str) -> str:
    section = piece.section if isinstance(piece, Bar) else piece
    assert section is not None
    return f"{words.thickness(section.thickness_mm, units)}\n{section.shape}"


def _steel_name(steel: Any) -> str:
    if isinstance(steel, Grade):
        return steel.designation
    grade = getattr(steel, "grade", None)
    return grade.designation if isinstance(grade, Grade) else f"steel with {composition_of(steel).C:.2f} %C"


def _shown_rules(s: heating.Soak) -> list[heating.Rule]:
    """What others say: not the figures computed here, nor the rule that the hold already is."""
    own = "" if s.hold_rule is None else s.hold_rule.id
    kept = [rule for rule in s.rules if rule.id != own and rule.status != "computed" and rule.phase in _PHASES]
    return sorted(kept, key=lambda rule: (list(_PHASES).index(rule.phase), rule.minutes))


def _minutes(s: heating.Soak) -> tuple[float, float, float]:
    heat_up, equalize, hold = (e.value / _MINUTE_S for e in (s.heat_up_s, s.equalize_s, s.hold_s))
    return heat_up, equalize, hold


def _last_minute(s: heating.Soak) -> float:
    """Upper end of the band of the whole soak; of the heat-up where the hold is not known."""
    known = [float(e.high) for e in (s.heat_up_s, s.equalize_s, s.hold_s) if words.usable(e.high)]
    return sum(known) / _MINUTE_S


def _draw(names: list[str], soaks: list[heating.Soak], title: str) -> "Figure":
    from decalesce.plots import sheet

    rules = [_shown_rules(s) for s in soaks]
    slots = sum(1.0 + _RULE_STEP * len(r) + 0.7 for r in rules)
    tall = max(0.42 * slots, 1.6) + 2.3
    with sheet.drawn():
        paper = sheet.new(
            11.2, tall, title,
            "Minutes from loading one cold, free-standing piece. Thick bars: this library. Thin bars: what others say, "
            "and what they count.",
        )  # fmt: skip
        axes = paper.add_axes(sheet.place(paper, 0.95, 1.35, 4.9, 0.95))
        if not any(words.usable(s.heat_up_s.value) for s in soaks):
            sheet.message(axes, words.why_not(soaks[0].heat_up_s), alone=True)
            return paper
        edge = 1.12 * max(_last_minute(s) for s in soaks)
        axes.set_xlim(0.0, edge)
        at, ticks = 0.0, []
        for s, beside in zip(soaks, rules, strict=True):
            ticks.append(at)
            _own(axes, at, s)
            for number, rule in enumerate(beside):
                _rule(axes, at + 0.85 + _RULE_STEP * number, rule, s, edge)
            at += 1.0 + _RULE_STEP * len(beside) + 0.7
            axes.axhline(at - 0.75, color=sheet.PALE, lw=0.6)
        axes.set_ylim(at - 0.75, -0.95)
        axes.set_yticks(ticks, names, fontweight="bold")
        axes.tick_params(axis="y", length=0)
        axes.grid(False, axis="y")
        axes.set_xlabel("minutes from loading")
        _key(axes)
        sheet.foot(paper, f"{words.to_mind(flag for s in soaks for flag in s.flags)} {_LAST}")
        return paper


_LAST = (
    "Pieces that touch, a cold furnace or a full one take longer: put a thermocouple in the work. "
    "Hold is counted from when the steel is hot through."
)


def _own(axes: "Axes", at: float, s: heating.Soak) -> None:
    from decalesce.plots import sheet

    left = 0.0
    for minutes, colour, word in zip(_minutes(s), _colours(), ("heat-up", "equalize", "hold"), strict=True):
        if not words.usable(minutes):
            continue
        axes.barh(at, minutes, left=left, height=_HEIGHTS["own"], color=colour, edgecolor=sheet.INK, lw=0.6, gid=word)
        left += minutes
    low = sum(e.low for e in (s.heat_up_s, s.equalize_s, s.hold_s) if words.usable(e.low)) / _MINUTE_S
    axes.plot([low, _last_minute(s)], [at, at], color=sheet.INK, lw=1.0, marker="|", ms=7, zorder=4)
    heat_up, equalize, hold = _minutes(s)
    through = f"{_round(heat_up + equalize)} min to heat through"
    whole = (
        f"{through} + {_round(hold)} hold = {_round(left)} min"
        if words.usable(hold)
        else f"{through}; no rule for the hold"
    )
    source = (
        ""
        if s.hold_rule is None
        else f"\nhold: {_round_range(s.hold_rule.minutes)} min, {words.seen(s.hold_rule.status)}"
    )
    sheet.beside(axes, at, f"{whole}{source}", fontweight="bold", fontsize=8)


def _key(axes: "Axes") -> None:
    from matplotlib.patches import Patch

    from decalesce.plots import sheet

    heat_up, _, hold = _colours()
    kinds: tuple[tuple[str, dict[str, Any]], ...] = (
        ("heat-up", {"fc": heat_up}),
        ("hold", {"fc": hold}),
        ("both, from loading", {"fc": "white", "hatch": "////"}),
    )
    patches = [Patch(ec=sheet.SOFT, lw=0.6, label=said, **look) for said, look in kinds]
    axes.legend(handles=patches, loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=3, frameon=False, fontsize=8.5)


def _colours() -> tuple[str, str, str]:
    from decalesce.plots import sheet

    return sheet.BAND, sheet.SOFT, sheet.BLUE


def _round(minutes: float) -> str:
    return f"{minutes:.1f}" if minutes < 9.95 else f"{minutes:.0f}"


def _round_range(minutes: tuple[float, float]) -> str:
    low, high = (_round(m).removesuffix(".0") for m in minutes)
    return low if low == high else f"{low} to {high}"


def _rule(axes: "Axes", at: float, rule: heating.Rule, s: heating.Soak, edge: float) -> None:
    from decalesce.plots import sheet

    heat_up, equalize, _ = _minutes(s)
    start = heat_up + equalize if rule.phase == "hold" else 0.0
    looks: dict[str, dict[str, Any]] = {
        "heat_up": {"color": sheet.BAND},
        "hold": {"color": sheet.BLUE, "alpha": 0.55},
        "soak": {"facecolor": "white", "hatch": "////"},
    }
    look = looks[rule.phase]
    low, high = rule.minutes
    end = min(start + high, edge)
    axes.barh(at, end - start, left=start, height=_HEIGHTS["rule"], edgecolor=sheet.SOFT, lw=0.5, gid=rule.id, **look)
    if high > low:
        axes.plot([start + low, end], [at, at], color=sheet.INK, lw=0.8, marker="|", ms=4, zorder=4)
    off = ""
    if start + high > edge:
        axes.annotate(
            "", (edge, at), (0.93 * edge, at), arrowprops={"arrowstyle": "-|>", "color": sheet.INK, "lw": 1.2}
        )
        off = "→ "
    said = f"{off}{_round_range(rule.minutes)} min {_PHASES[rule.phase]}: {rule.text} ({words.seen(rule.status)})"
    sheet.beside(axes, at, words.wrap(said, 82), fontsize=7, linespacing=1.0)
