"""The same temper in another time, and how much the constant of the temper parameter matters."""

from typing import TYPE_CHECKING, Any

import numpy as np

from decalesce import flags, temper
from decalesce.plots import words
from decalesce.temper.equivalence import Constant, constant_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_MINUTES = (15, 30, 60, 120, 240, 480, 960)
_NUMBERED = (30, 60, 120, 240, 480)
_LOOKS = ("-", (0, (6, 2)), (0, (1.5, 1.5)))
_MINUTE_S = 60.0


def temper_equivalents(
    hold: Any, *, carbon_wt: float = float("nan"), tempers: int = 1, units: str = "metric"
) -> "Figure":
    """Tempers that soften as much as ``hold``: temperature against time, 15 min to 16 h.

    On top with the constant 20 (hours), the temperatures of usual times written on the curve; below how many degrees
    the constant 18 (and, with ``carbon_wt``, the one that depends on carbon) is away from it. All meet at ``hold``.

    Args:
        hold: a History, a pair (temperature, time), or a list of those for several tempers; scalars only.
        carbon_wt: carbon of the martensite, wt %.
        tempers: how often the temper is done.
        units: ``"metric"`` or ``"shop"``.

    Raises:
        ValueError: a pair of arrays, a time of zero or less, unknown ``units``. TypeError: something that is no temper.

    Range, accuracy and source as `decalesce.temper.parameter`.
    """
    words.checked_units(units)
    here = temper.parameter(hold, tempers=tempers, carbon_wt=carbon_wt)
    if np.ndim(here.value):
        raise ValueError(f"hold = {hold!r} holds arrays; expected one temper, such as (200, '2h')")
    from decalesce.plots import sheet

    names = ["practice", "grange_baughman"] + (["carbon_dependent"] if words.usable(carbon_wt) else [])
    constants = [constant_of(name, carbon_wt) for name in names]
    times = np.geomspace(_MINUTES[0], _MINUTES[-1], 121) * _MINUTE_S
    curves = [_curve(hold, times, c, carbon_wt, tempers) for c in constants]
    at_hold = here.equivalent_temperature_C
    with sheet.drawn():
        total = words.duration(here.total_s)
        here_said = f"{words.temperature(at_hold, units)} {words.degree(units)}, {total}"
        paper = sheet.new(
            8.6, 7.2, f"The same temper in another time: {here_said}",
            f"Along the line the steel softens alike. Temper parameter {here.value:.2f} thousand K, {here.constant}.",
        )  # fmt: skip
        top = paper.add_axes(sheet.place(paper, 0.8, 3.2, 1.6, 0.95))
        low = paper.add_axes(sheet.place(paper, 0.8, 1.15, 1.6, 4.55), sharex=top)
        _lines(top, times, curves, constants, units)
        _numbers(top, hold, here.total_s, tempers, units)
        top.plot(here.total_s, words.shown(at_hold, units), "o", ms=8, color=sheet.INK, zorder=5)
        _differences(low, times, curves, constants, units)
        _times(top, low)
        top.set_ylabel(f"temper, {words.degree(units)}")
        sheet.other_temperature(top, "right", units)
        sheet.foot(paper, " ".join([_LAST, *(said for c in constants for said in _doubts(c, carbon_wt))]))
        return paper


_LAST = (
    "Holds below Ac1, and only while one mechanism softens the steel: not for steels that harden again. "
    "Time counts from when the steel is at temperature."
)


def _doubts(constant: Constant, carbon_wt: float) -> list[str]:
    ids = flags.names(constant.bits)
    doubts = [f"at {carbon_wt:.2f} %C outside the range it was found for"] if "outside_range" in ids else []
    doubts += ["from memory"] if "from_memory" in ids else []
    return [f"Constant {constant.hours:.3g}: {', '.join(doubts)}."] if doubts else []


def _curve(hold: Any, times: Any, constant: Constant, carbon_wt: float, tempers: int) -> Any:
    return temper.equivalent_temperature(
        hold, times, constant=constant.hours, carbon_wt=carbon_wt, tempers=tempers
    ).value


def _said(constant: Constant) -> str:
    more = {"carbon_dependent": ", by carbon", "grange_baughman": "", "practice": ""}
    return f"constant {constant.hours:.3g}{more[constant.name]}"


def _lines(axes: "Axes", times: Any, curves: list[Any], constants: list[Constant], units: str) -> None:
    from decalesce.plots import sheet

    for curve, look in zip(curves[::-1], _LOOKS[: len(curves)][::-1], strict=True):
        axes.plot(times, words.shown(curve, units), ls=look, color=sheet.BLUE if look == "-" else sheet.SOFT,
                  lw=2 if look == "-" else 1.1)  # fmt: skip


def _numbers(axes: "Axes", hold: Any, total_s: float, tempers: int, units: str) -> None:
    from decalesce.plots import sheet

    for minutes in _NUMBERED:
        at = minutes * _MINUTE_S
        t = words.shown(temper.equivalent_temperature(hold, at, tempers=tempers).value, units)
        axes.plot(at, t, "o", ms=4, color=sheet.BLUE, zorder=4)
        # the other constants lie above the line for shorter times and below it for longer ones
        where = {"xytext": (-5, -6), "ha": "right", "va": "top"} if at < total_s else {"xytext": (5, 5)}
        axes.annotate(f"{t:.0f}", (at, t), textcoords="offset points", fontsize=10, fontweight="bold", **where)


def _differences(axes: "Axes", times: Any, curves: list[Any], constants: list[Constant], units: str) -> None:
    from decalesce.plots import sheet

    per_kelvin = 1.0 if units == "metric" else 1.8
    axes.set_title("Away from the line above, by another constant")
    ends = []
    for curve, constant, look in zip(curves, constants, _LOOKS, strict=False):
        away = (curve - curves[0]) * per_kelvin
        axes.plot(times, away, ls=look, color=sheet.BLUE if look == "-" else sheet.SOFT)
        ends.append((float(away[-1]), _said(constant)))
    for (_, said), y in zip(ends, _apart([end for end, _ in ends], axes), strict=True):
        sheet.beside(axes, y, said, fontsize=8)
    axes.set_ylabel("K" if units == "metric" else "°F more or less")


def _apart(ends: list[float], axes: "Axes") -> list[float]:
    """Heights for labels that would touch, pushed apart downwards from the highest."""
    low, high = axes.get_ylim()
    least = 0.13 * (high - low)
    heights = dict.fromkeys(range(len(ends)), 0.0)
    last = float("inf")
    for number in sorted(heights, key=lambda i: -ends[i]):
        last = heights[number] = min(ends[number], last - least)
    return [heights[i] for i in range(len(ends))]


def _times(top: "Axes", low: "Axes") -> None:
    from matplotlib.ticker import FixedLocator, NullLocator

    top.set_xscale("log")
    top.set_xlim(_MINUTES[0] * _MINUTE_S, _MINUTES[-1] * _MINUTE_S)
    for axes in (top, low):
        axes.xaxis.set_major_locator(FixedLocator([m * _MINUTE_S for m in _MINUTES]))
        axes.xaxis.set_minor_locator(NullLocator())
    low.set_xticks([m * _MINUTE_S for m in _MINUTES], [words.duration(m * _MINUTE_S) for m in _MINUTES])
    top.tick_params(axis="x", labelbottom=False)
    low.set_xlabel("time at temperature, all tempers together")
