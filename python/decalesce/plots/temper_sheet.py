"""Which temper: hardness against temper temperature, the printed points beside, and the tempers that keep a target."""

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from decalesce import temper, units
from decalesce._core import AsQuenched, Estimate
from decalesce.grade import Fact, Grade
from decalesce.plots import words
from decalesce.temper.practice import grade_of
from decalesce.temper.tempered import quenched

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_COOLEST_C, _HOTTEST_C, _STEP_K = 100.0, 700.0, 5.0
_SCALE_HRC = (20.0, 70.0)
_RANGES = ("tempered_martensite_embrittlement", "reversible_temper_embrittlement")
_SECONDS_PER_HOUR = 3600.0
_MARKS = ("o", "s", "^", "D", "v", "P")
_MARK_LOOK: dict[str, Any] = {"ms": 5.5, "mfc": "white", "mec": "#1a1a1a", "mew": 1.1}
_MOST_TABLES = 4
_USUAL_C = 200.0


@dataclass(frozen=True, slots=True)
class _Printed:
    """Printed points of one sheet of a grade, moved to the time that was asked."""

    temperature_C: list[float]
    hardness_HRC: list[float]
    heading: str
    said: str


def temper_curve(
    q: AsQuenched,
    time: Any = "2h",
    *,
    grade: Any = None,
    target: float | None = None,
    tempers: int = 1,
    units: str = "metric",
) -> "Figure":
    """The temper sheet of one quenched steel: hardness (HRC) against temper temperature.

    The model with its 90 % band; the points printed for the grade, each moved along the temper parameter (constant 20
    for hours) from its own time to the time asked; the target with the tempers that stay within 1 HRC of it; the two
    embrittlement ranges of plain and low-alloy steel hatched (only where the model answers).

    Args:
        q: the quenched steel (one), from `decalesce.AsQuenched`; a composition is refused.
        time: time of one temper, s or ``"2h"``.
        grade: a Grade or its name, for its printed points.
        target: wanted hardness, HRC.
        tempers: how often; the time counts so many times.
        units: ``"metric"`` or ``"shop"``.

    Returns:
        The figure. Where the model has no answer (steels that harden again) the printed points stand alone and the
        sheet says so; with neither it holds the reason. Accuracy as `decalesce.temper.hardness`.

    Raises:
        TypeError: ``q`` is no AsQuenched. ValueError: a batch, a time of zero or less, unknown ``units``.
        LookupError: an unknown grade.
    """
    words.checked_units(units)
    if quenched(q).shape:
        raise ValueError(f"q holds a batch of shape {q.shape}; expected one quenched steel")
    steps = np.arange(_COOLEST_C, _HOTTEST_C + _STEP_K, _STEP_K)
    model = temper.hardness(q, (steps, time), tempers=tempers, tables="ignore")
    found = grade_of(grade)
    total_s = _seconds(time) * tempers
    setting = None if target is None else temper.temperature_for(q, target, time, tempers=tempers, grade=found)
    return _draw(q, (steps, model), _printed(found, total_s, units), setting, (found, target, time, tempers, units))


def _seconds(time: Any) -> float:
    return float(units.time_s(time, "time"))


def _printed(grade: Grade | None, total_s: float, units: str) -> list[_Printed]:
    if grade is None:
        return []
    sheets: defaultdict[tuple[float | None, str], list[Fact]] = defaultdict(list)
    for fact in grade.published("tempered_HRC"):
        if fact.temper_C is not None and fact.unit:
            sheets[fact.austenitize_C, fact.conditions].append(fact)
    longest = sorted(sheets.values(), key=len, reverse=True)[:_MOST_TABLES]
    return [_moved(sorted(facts, key=lambda f: f.temper_C or 0.0), total_s, units) for facts in longest]


def _moved(facts: list[Fact], total_s: float, units: str) -> _Printed:
    first = facts[0]
    times = 2 if "twice" in first.conditions else 1
    moved = []
    for fact in facts:
        own = total_s if fact.temper_h is None else fact.temper_h * _SECONDS_PER_HOUR * times
        moved.append(float(temper.equivalent_temperature((fact.temper_C, own), total_s)))
    heading = "printed"
    if first.austenitize_C is not None:
        heading += f", hardened from {words.temperature(first.austenitize_C, units)} {words.degree(units)}"
    if first.temper_h is None:
        own_time, moved_to = "time not printed", ""
    else:
        own_time = f"{times} × {first.temper_h:g} h" if times > 1 else f"{first.temper_h:g} h"
        same = first.temper_h * _SECONDS_PER_HOUR * times == total_s
        moved_to = "" if same else ", moved to the time asked"
    worst = "from memory" if any(f.status == "memory" for f in facts) else words.seen(first.status)
    said = f"{first.source_note}; {own_time}{moved_to}; {worst}"
    return _Printed(moved, [float(f.value) for f in facts], heading, said)


def _draw(
    q: AsQuenched,
    curve: tuple[Any, temper.TemperedHardness],
    printed: list[_Printed],
    setting: temper.TemperSetting | None,
    asked: tuple[Grade | None, float | None, Any, int, str],
) -> "Figure":
    from matplotlib.ticker import MultipleLocator

    from decalesce.plots import sheet

    grade, target, time, tempers, units = asked
    steps, model = curve
    hours = words.duration(_seconds(time))
    often = hours if tempers == 1 else f"{tempers} × {hours}"
    with sheet.drawn():
        name = "" if grade is None else f"{grade.designation}, "
        paper = sheet.new(11.2, 6.2, f"Which temper: {name}{often}", _of_steel(q))
        axes = paper.add_axes(sheet.place(paper, 0.75, 1.3, 3.05, 1.15))
        shown = ~np.isnan(model.value) & (model.value >= _SCALE_HRC[0])
        if not shown.any() and not printed:
            sheet.message(axes, words.why_not(q.hardness_HRC, _one(q, time, tempers)), alone=True)
            return paper
        axes.set_xlim(*(words.shown(t, units) for t in (_COOLEST_C, _HOTTEST_C)))
        axes.set_ylim(*_SCALE_HRC)
        axes.set_xlabel(f"temper, {words.degree(units)}")
        axes.set_ylabel("hardness, HRC")
        axes.xaxis.set_major_locator(MultipleLocator(50 if units == "metric" else 100))
        margin = _Margin(axes)
        if setting is not None and target is not None:
            _target(axes, setting, target, units, margin)
        if shown.any():
            _embrittlement(axes, units)
            _model(axes, steps, model, shown, units)
        elif setting is None:
            margin.say("No curve", words.why_not(_one(q, time, tempers)))
        _points(axes, printed, units, margin)
        sheet.other_temperature(axes, "top", units, most=14)
        ids = [*q.hardness_HRC.flags, *(() if setting is None else setting.flags)]
        sheet.foot(paper, f"{words.to_mind(ids)} {_LAST}")
        return paper


_LAST = (
    "The temper is the temperature of the steel. Try a coupon, read it, and go up in steps: "
    "a temper cannot be taken back."
)


@dataclass(slots=True)
class _Margin:
    """Words right of the axes, one paragraph under the other."""

    axes: "Axes"
    y: float = 1.0

    def say(self, heading: str, text: str, mark: str = "") -> None:
        """A bold heading, with the mark it explains, and a paragraph."""
        from decalesce.plots import sheet

        if mark:
            self.axes.plot(1.03, self.y - 0.015, mark, transform=self.axes.transAxes, clip_on=False, **_MARK_LOOK)
        across = 1.05 if mark else 1.02
        paragraph = words.wrap(text, 38 if mark else 40)
        put: dict[str, Any] = {"transform": self.axes.transAxes, "va": "top", "linespacing": 1.3}
        self.axes.text(across, self.y, heading, fontweight="bold", fontsize=9, **put)
        self.axes.text(across, self.y - 0.045, paragraph, fontsize=8.5, color=sheet.INK, **put)
        self.y -= 0.075 + (0.042 * (paragraph.count("\n") + 1) if paragraph else 0.0)


def _one(q: AsQuenched, time: Any, tempers: int) -> Estimate:
    """The model's answer at one usual temper, which carries the reasons in words."""
    return temper.hardness(q, (_USUAL_C, time), tempers=tempers, tables="ignore").estimate


def _of_steel(q: AsQuenched) -> str:
    h, a = q.hardness_HRC, q.austenite
    how = "read" if q.is_measured else "computed, fully hardened"
    retained = q.retained_austenite.value
    kept = f", {100.0 * retained:.0f} % retained austenite" if words.usable(retained) else ""
    if not words.usable(h.value):
        return "As-quenched hardness not known"
    band = f"{h.low:.1f} to {h.high:.1f}"
    return f"As quenched {h.value:.1f} HRC ({how}; {band}), {a.in_solution.C:.2f} %C in solution{kept}"


def _model(axes: "Axes", steps: Any, model: temper.TemperedHardness, shown: Any, units: str) -> None:
    from decalesce.plots import sheet

    x = words.shown(steps, units)
    axes.fill_between(x, model.low, model.high, where=shown, color=sheet.BAND, lw=0, zorder=1.2)
    axes.plot(x, np.where(shown, model.value, np.nan), color=sheet.BLUE, lw=2, zorder=3, gid="model")
    at = int(np.flatnonzero(shown)[6 * int(shown.sum()) // 10])
    axes.annotate(
        "model, with the band\nthat holds nine of ten", (x[at], model.high[at]), (8, 4), va="bottom", ha="left",
        textcoords="offset points", fontsize=8.5, color=sheet.BLUE, zorder=5,
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0},
    )  # fmt: skip


def _points(axes: "Axes", printed: list[_Printed], units: str, margin: _Margin) -> None:
    for number, table in enumerate(printed):
        mark = _MARKS[number % len(_MARKS)]
        x = words.shown(np.array(table.temperature_C), units)
        axes.plot(x, table.hardness_HRC, mark, zorder=4, gid="printed", **_MARK_LOOK)
        margin.say(table.heading, "" if number and table.said == printed[number - 1].said else table.said, mark)


def _embrittlement(axes: "Axes", units: str) -> None:
    from decalesce.plots import sheet

    names = {
        "tempered_martensite_embrittlement": "embrittles martensite",
        "reversible_temper_embrittlement": "embrittles on slow cooling (Mn, Cr, Ni steel)",
    }
    rules = {note.id: note for note in temper.practice()}
    for number, key in enumerate(_RANGES):
        rule = rules[key]
        if rule.low_C is None or rule.high_C is None:
            continue
        ends = [words.shown(t, units) for t in (rule.low_C, rule.high_C)]
        axes.axvspan(*ends, facecolor="none", edgecolor="#cfcfcf", hatch=("///", "\\\\\\")[number], lw=0, zorder=0.5)
        axes.text(
            sum(ends) / 2, 20.6, f"{names[key]}\n{words.span(rule.low_C, rule.high_C, units)} {words.degree(units)}",
            ha="center", va="bottom", fontsize=7.5, color=sheet.SOFT, zorder=5,
            bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.5},
        )  # fmt: skip


def _target(axes: "Axes", setting: temper.TemperSetting, target: float, units: str, margin: _Margin) -> None:
    from decalesce.plots import sheet

    unit = words.degree(units)
    axes.axhline(target, color=sheet.INK, lw=0.9, ls=(0, (4, 2)), zorder=2)
    if words.usable(setting.value):
        at = words.shown(setting.value, units)
        lines = [f"Nine times of ten the right one lies in {words.span(setting.low, setting.high, units)} {unit}."]
        low, high = setting.stays_from_C, setting.stays_to_C
        if words.usable(low) and words.usable(high):
            axes.axvspan(*(words.shown(t, units) for t in (low, high)), color=sheet.PLACE, lw=0, zorder=0.8)
            lines.append(f"{words.span(low, high, units)} {unit} stays within 1 HRC by this curve (shaded).")
        axes.plot([at, at], [_SCALE_HRC[0], target], color=sheet.INK, lw=0.9, zorder=2)
        axes.plot(at, target, "o", ms=7, color=sheet.INK, zorder=5)
        heading = f"{target:g} HRC: temper {words.temperature(setting.value, units)} {unit}"
    else:
        heading, lines = f"{target:g} HRC: no temper by the model", [words.why_not(setting.model_C)]
    if setting.published_C:
        tempers = " or ".join(words.temperature(e.value, units) for e in setting.published_C)
        lines.append(f"By the printed table: {tempers} {unit}.")
    margin.say(heading, " ".join(lines))
