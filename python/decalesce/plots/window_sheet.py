"""How hot: what is in solution, what carbide stays and what austenite is retained, against furnace temperature."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from decalesce import austenite, martensite, plan, units
from decalesce._core import Austenite, Composition, Estimate, History
from decalesce.plots import words

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_WIDE, _TALL = 10.2, 8.4
_LEFT, _RIGHT, _TOP = 1.05, 2.55, 1.15
_POINTS = 161
_MARGIN_K = 40.0
_ROOM_C = 20.0
_LEAST_TOP = (0.0, 2.0, 10.0)
_CRITICAL = ("ac1", "ac3", "acm")


@dataclass(frozen=True, slots=True)
class _Curve:
    """A quantity over the temperatures: value and band, and why there is none."""

    value: NDArray[np.float64]
    low: NDArray[np.float64]
    high: NDArray[np.float64]
    why_not: str

    @property
    def empty(self) -> bool:
        """Whether nothing can be drawn."""
        return bool(np.all(np.isnan(self.value)))


def _curve(estimates: list[Estimate], asked: int) -> _Curve:
    """``asked`` is the place whose reason counts where there is no curve."""
    numbers = np.array([(e.value, e.low, e.high) for e in estimates], dtype=float).T
    return _Curve(numbers[0], numbers[1], numbers[2], words.why_not(estimates[asked]))


def window(bar: Any, *, soak_time: Any = "10 min", units: str = "metric") -> "Figure":
    """The austenitizing sheet of one steel.

    On top the window (coolest, aim, hottest), the published one beside, and Ac1, Ac3 or Acm with their 90 % bands.
    Below, against furnace temperature: carbon in solution (wt %), carbide left (wt %) and retained austenite (vol %,
    quenched to 20 degC), with bands, and at the right the numbers of the three temperatures. Below the
    middle of Ac1, or of Ac3 where there is one, the curves are dotted: the steel may not yet be all austenite.

    Args:
        bar: a Bar, a Grade, a grade's name or a Composition (one steel).
        soak_time: time at temperature, s or ``"10 min"``.
        units: ``"metric"`` or ``"shop"``.

    Returns:
        The figure. A quantity without an answer has the reason in its place; with no temperature at all the sheet holds
        only the message. Accuracy and sources are those of `decalesce.austenite` and `decalesce.critical`.

    Raises:
        TypeError: something that is no bar. ValueError: a batch, a time of zero or less, unknown ``units``.
    """
    words.checked_units(units)
    answer = plan.make(bar)
    seconds = _seconds(soak_time)
    name = answer.bar.grade.designation if answer.bar.grade is not None else _spelled(answer.composition)
    return _draw(answer, name, seconds, units)


def _seconds(soak_time: Any) -> float:
    seconds = float(units.time_s(soak_time, "soak_time"))
    if not seconds > 0.0:
        raise ValueError(f"soak_time = {soak_time!r}; expected a time above zero, such as 600 (s) or '10 min'")
    return seconds


def _spelled(w: Composition) -> str:
    return " ".join(f"{element} {amount:.3g}" for element, amount in w.amounts.items() if amount >= 0.05)


def _extent(answer: plan.Plan) -> tuple[float, float] | None:
    """Temperatures worth drawing: from below the critical temperature to above the window."""
    ends = [e.value for e in (answer.coolest_C, answer.hottest_C)]
    bands = [end for key in _CRITICAL for end in (answer.critical[key].low, answer.critical[key].high)]
    published = answer.published_window
    printed = [] if published is None else [published.coolest_C, published.hottest_C]
    known = [end for end in (*ends, *bands, *printed) if words.usable(end)]
    return (min(known) - _MARGIN_K, max(known) + _MARGIN_K) if known else None


def _draw(answer: plan.Plan, name: str, seconds: float, units: str) -> "Figure":
    from decalesce.plots import sheet

    with sheet.drawn():
        room = f"{words.temperature(_ROOM_C, units)} {words.degree(units)}"
        paper = sheet.new(
            _WIDE, _TALL, f"How hot: {name}", f"{words.duration(seconds)} at temperature, quenched fully to {room}. "
            "Shaded: the window. Light bands: nine of ten measurements should lie inside.",
        )  # fmt: skip
        extent = _extent(answer)
        if extent is None:
            sheet.message(
                paper.add_axes((0.1, 0.3, 0.8, 0.4)), words.why_not(answer.aim_C, answer.critical["ac1"]), alone=True
            )
            return paper
        rows = _rows(answer, units)
        high = 0.27 * len(rows) + 0.1
        strip = paper.add_axes(sheet.place(paper, _LEFT, _TALL - _TOP - high, _RIGHT, _TOP))
        left, bottom, width, height = sheet.place(paper, _LEFT, 1.05, _RIGHT, _TOP + high + 0.35)
        grid = paper.add_gridspec(
            3, 1, left=left, right=left + width, bottom=bottom, top=bottom + height, hspace=0.3,
            height_ratios=[1.25, 0.8, 1.0],
        )  # fmt: skip
        panels = [paper.add_subplot(grid[i], sharex=strip) for i in range(3)]
        strip.set_xlim(*(words.shown(end, units) for end in extent))
        _strip(strip, rows, units)
        _panels(panels, answer, np.linspace(*extent, _POINTS), seconds, units)
        for axes in (strip, *panels):
            _mark(axes, answer, units)
        sheet.other_temperature(strip, "top", units)
        for axes in (strip, *panels[:2]):
            axes.tick_params(axis="x", labelbottom=False)
        panels[2].set_xlabel(f"furnace temperature, {words.degree(units)}")
        used = [answer.aim_C, answer.carbon_in_solution, answer.retained_austenite]
        sheet.foot(paper, _printed(answer) + words.to_mind(flag for e in used for flag in e.flags) + f" {_LAST}")
        return paper


def _printed(answer: plan.Plan) -> str:
    found = answer.published_window
    if found is None:
        return ""
    used = " It is the one used." if answer.window_used == "published" else ""
    return f"Published window: {found.source}.{used} "


_LAST = "A first setting: prove it on a coupon. Temperatures are those of the steel, not of the controller."


@dataclass(frozen=True, slots=True)
class _Row:
    """One line of the strip: a range with a middle, and what it is."""

    name: str
    low: float
    middle: float
    high: float
    said: str
    strong: bool = False


def _rows(answer: plan.Plan, units: str) -> list[_Row]:
    nan = float("nan")
    rows = []
    low, aim, high = (e.value for e in (answer.coolest_C, answer.aim_C, answer.hottest_C))
    if words.usable(aim):
        ends = " · ".join(words.temperature(t, units) for t in (low, aim, high))
        rows.append(_Row("window", low, aim, high, f"{ends} {words.degree(units)}", strong=True))
    else:
        rows.append(_Row("window", nan, nan, nan, "no rule from composition is safe"))
    if answer.published_window is not None:
        found = answer.published_window
        said = f"{words.span(found.coolest_C, found.hottest_C, units)}, {words.seen(found.status)}"
        rows.append(_Row("published", found.coolest_C, nan, found.hottest_C, said))
    if all("no_formula_safe" in answer.critical[key].flags for key in _CRITICAL):
        return [*rows, _Row("Ac1 Ac3 Acm", nan, nan, nan, _short(answer.critical["ac1"]))]
    for key in _CRITICAL:
        e = answer.critical[key]
        if words.usable(e.value):
            said = f"{words.temperature(e.value, units)}  ({words.span(e.low, e.high, units)})"
            rows.append(_Row(key.capitalize(), e.low, e.value, e.high, said))
        elif "not_applicable" not in e.flags:
            rows.append(_Row(key.capitalize(), nan, nan, nan, _short(e)))
    return rows


def _short(e: Estimate) -> str:
    if "no_formula_safe" in e.flags:
        return "no published formula is safe"
    if "outside_range" in e.flags:
        return "outside the formulas' range"
    return ", ".join(flag.replace("_", " ") for flag in e.flags)


def _strip(axes: "Axes", rows: list[_Row], units: str) -> None:
    from decalesce.plots import sheet

    for number, row in enumerate(rows):
        ends = [words.shown(t, units) for t in (row.low, row.high)]
        axes.plot(ends, [number, number], color=sheet.INK if row.strong else sheet.SOFT, lw=6 if row.strong else 2.5)
        axes.plot(
            words.shown(row.middle, units), number, "|" if row.strong else "o", ms=11 if row.strong else 4.5,
            color="white" if row.strong else sheet.INK, mew=2,
        )  # fmt: skip
        sheet.beside(axes, number, row.said, fontweight="bold" if row.strong else "normal")
    axes.set_yticks(range(len(rows)), [row.name for row in rows])
    axes.set_ylim(len(rows) - 0.4, -0.6)
    axes.tick_params(axis="y", length=0)
    axes.grid(False, axis="y")
    axes.spines["left"].set_visible(False)


def _mark(axes: "Axes", answer: plan.Plan, units: str) -> None:
    """The window as a shade behind, the critical temperatures as lines with their bands."""
    from decalesce.plots import sheet

    low, aim, high = (words.shown(e.value, units) for e in (answer.coolest_C, answer.aim_C, answer.hottest_C))
    if words.usable(aim):
        axes.axvspan(low, high, color=sheet.PLACE, lw=0, zorder=0)
        axes.axvline(aim, color=sheet.INK, lw=0.8, zorder=1)
    for key, dash in (("ac1", (0, (5, 2))), ("ac3", (0, (1, 1.2))), ("acm", (0, (1, 1.2)))):
        e = answer.critical[key]
        if words.usable(e.value):
            axes.axvline(words.shown(e.value, units), color=sheet.SOFT, lw=0.9, ls=dash, zorder=1)


def _panels(
    panels: list["Axes"], answer: plan.Plan, temperatures: NDArray[np.float64], seconds: float, units: str
) -> None:
    from decalesce.plots import sheet

    w = answer.composition
    three = np.array([e.value for e in (answer.coolest_C, answer.aim_C, answer.hottest_C)])
    at_three = [_at(w, t, seconds) for t in three]
    curves = _curves(w, temperatures, seconds, answer.aim_C.value)
    # below the middle of Ac1, or of Ac3 where there is one, the steel may not yet be all austenite
    austenite_from = np.nanmax([temperatures[0], answer.critical["ac1"].value, answer.critical["ac3"].value])
    titles = ("Carbon in solution, wt %", "Carbide left, wt %", "Retained austenite, vol %")
    for number, (axes, title, curve) in enumerate(zip(panels, titles, curves, strict=True)):
        axes.set_title(title)
        if curve.empty:
            sheet.message(axes, curve.why_not)
            continue
        x = words.shown(temperatures, units)
        early = temperatures < austenite_from
        axes.fill_between(x, curve.low, curve.high, where=~early, color=sheet.BAND, lw=0)
        axes.plot(x, np.where(early, np.nan, curve.value), color=sheet.BLUE)
        axes.plot(x, np.where(early, curve.value, np.nan), color=sheet.BLUE, ls=":")
        axes.set_ylim(0.0, max(axes.get_ylim()[1], _LEAST_TOP[number]))
        digits = (2, 1, 0)[number]
        lines = [_line(numbers[number], digits) for numbers in at_three]
        sheet.margin_note(axes, "\n".join(f"{word}  {line}" for word, line in zip(_THREE, lines, strict=True)))
    if not curves[0].empty:
        _carbon_of_bar(panels[0], curves[0], w)
        hardest = " · ".join(_line(numbers[3], 0) for numbers in at_three)
        panels[2].text(
            1.015, 0.0, f"fully quenched\n{hardest} HRC", transform=panels[2].transAxes, fontsize=8.5, va="bottom",
            linespacing=1.45,
        )  # fmt: skip


_THREE = ("coolest", "aim", "hottest")


def _line(number: float, digits: int) -> str:
    return f"{number:.{digits}f}" if words.usable(number) else "no answer"


def _carbon_of_bar(axes: "Axes", curve: _Curve, w: Composition) -> None:
    from decalesce.plots import sheet

    axes.axhline(w.C, color=sheet.SOFT, lw=0.8, ls=(0, (6, 3)))
    lowest, highest = float(np.nanmin(curve.low)), max(w.C, float(np.nanmax(curve.high)))
    axes.set_ylim(max(lowest - 0.5 * (highest - lowest), 0.0), highest + 0.3 * (highest - lowest))
    axes.text(0.01, w.C, f"all of the bar: {w.C:.2f}", transform=axes.get_yaxis_transform(), va="bottom", fontsize=8)


def _at(w: Composition, temperature_C: float, seconds: float) -> tuple[float, float, float, float]:
    """Carbon, carbide, retained austenite (vol %) and hardness at one temperature; NaN without one."""
    if not words.usable(temperature_C):
        return (float("nan"),) * 4
    c = austenite.curves(w, [temperature_C], seconds)
    columns = (c.carbon_in_solution_wt, c.carbide_left_wt, 100.0 * c.retained_austenite, c.as_quenched_HRC)
    carbon, carbide, retained, hardness = (float(column[0]) for column in columns)
    return carbon, carbide, retained, hardness


def _curves(w: Composition, temperatures: NDArray[np.float64], seconds: float, aim: float) -> tuple[_Curve, ...]:
    states: list[Austenite] = [austenite.dissolve(w, History.hold(float(t), seconds)) for t in temperatures]
    asked = int(np.argmin(np.abs(temperatures - (aim if words.usable(aim) else temperatures[-1]))))
    carbon = _curve([austenite.carbon_in_solution(w, float(t), seconds) for t in temperatures], asked)
    left = np.array([a.cementite_wt + a.alloy_carbide_wt for a in states], dtype=float)
    retained = _curve([martensite.retained_austenite(a) for a in states], asked)
    return (
        carbon,
        _Curve(left, left, left, carbon.why_not),
        _Curve(100.0 * retained.value, 100.0 * retained.low, 100.0 * retained.high, retained.why_not),
    )
