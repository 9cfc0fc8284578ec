"""When to start the clock: a furnace that falls when it is loaded, comes back, and steel that comes later."""

from math import isnan
from typing import TYPE_CHECKING, Any

import numpy as np

from decalesce.furnace import Loaded
from decalesce.plots import words

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_MINUTE_S = 60.0
_POINTS = 400
_ABOVE_SET_POINT_K = 12.0
_LEAST_VIEW_K = 40.0


def furnace(loaded: Loaded, title: str = "", *, units: str = "metric") -> "Figure":
    """The sheet of one load: chamber, surface and centre against minutes after the door closed.

    Above, the last kelvins below set point, where the chamber falls and comes back; below, the whole way of the steel.
    Two lines stand through both: the controller is back, and the soak clock starts.

    Args:
        loaded: what `decalesce.furnace.load` answered.
        title: what was loaded; if not given, pieces and mass.
        units: ``"metric"`` or ``"shop"``.

    Raises:
        TypeError: no `Loaded`. ValueError: unknown ``units``.
    """
    words.checked_units(units)
    if not isinstance(loaded, Loaded):
        raise TypeError(f"loaded = {loaded!r}; expected a decalesce.furnace.Loaded")
    from decalesce.plots import sheet

    with sheet.drawn():
        heading = title or f"{loaded.pieces} piece{'s' if loaded.pieces > 1 else ''}, {loaded.mass_kg:.2g} kg"
        goal = f"{words.temperature(loaded.set_point_C, units)} {words.degree(units)}"
        paper = sheet.new(
            9.6, 7.4, f"When to start the clock: {heading} at {goal}",
            "Minutes after the door closed. A controller that is back says nothing of the steel.",
        )  # fmt: skip
        near = paper.add_axes(sheet.place(paper, 0.95, 4.05, 2.6, 0.95))
        whole = paper.add_axes(sheet.place(paper, 0.95, 1.25, 2.6, 3.75))
        for axes in (near, whole):
            _lines(axes, loaded, units)
        deepest = max(1.35 * loaded.drop_K, 3.0 * loaded.within_K, _LEAST_VIEW_K)
        near.set_ylim(
            words.shown(loaded.set_point_C - deepest, units),
            words.shown(loaded.set_point_C + _ABOVE_SET_POINT_K, units),
        )
        near.tick_params(labelbottom=False)
        near.set_title(f"near the set point (the pale strip is ± {_difference(loaded.within_K, units)})")
        whole.set_title("the whole way")
        whole.set_xlabel("minutes after the door closed")
        whole.legend(loc="upper left", bbox_to_anchor=(1.01, 1.0), frameon=False, fontsize=8.5)
        for axes in (near, whole):
            axes.set_ylabel(words.degree(units))
        _drop(near, loaded, units)
        said = "\n\n".join(words.wrap(sentence, 34) for sentence in _said(loaded, units))
        sheet.margin_note(near, said)
        sheet.foot(paper, f"{words.to_mind(loaded.flags)} {_LAST}")
        return paper


_LAST = (
    "Computed for the piece in the middle of the row. Put a thermocouple in the work once and set the loss and the "
    "power by what you see. Hot work and mains: see the cautions of the answer."
)


def _lines(axes: "Axes", loaded: Loaded, units: str) -> None:
    from decalesce.plots import sheet

    end = loaded.chamber.duration_s
    times = np.linspace(0.0, end, _POINTS)
    minutes = times / _MINUTE_S
    low, high = (words.shown(loaded.set_point_C + side * loaded.within_K, units) for side in (-1.0, 1.0))
    axes.axhspan(low, high, color=sheet.PLACE, lw=0, zorder=0)
    axes.plot(
        np.asarray(loaded.chamber.times_s) / _MINUTE_S, words.shown(np.asarray(loaded.chamber.temperatures_C), units),
        color=sheet.INK, lw=1.2, label="chamber", gid="chamber",
    )  # fmt: skip
    curves: tuple[tuple[Any, str, str], ...] = (
        (loaded.steel.surface_C, "surface of the steel", "-"),
        (loaded.steel.centre_C, "centre of the steel", "--"),
    )
    for curve, name, dashes in curves:
        axes.plot(
            minutes, words.shown(curve(times), units), color=sheet.BLUE, ls=dashes, label=name, gid=name.split()[0]
        )
    for moment, look in ((loaded.recovered_s, ":"), (loaded.steel_within_s, "-")):
        if words.usable(moment):
            axes.axvline(moment / _MINUTE_S, color=sheet.SOFT, ls=look, lw=1.0)
    if words.usable(loaded.steel_within_s):
        axes.axvspan(loaded.steel_within_s / _MINUTE_S, end / _MINUTE_S, color=sheet.BAND, lw=0, zorder=-1, gid="soak")
    axes.set_xlim(0.0, end / _MINUTE_S)


def _drop(axes: "Axes", loaded: Loaded, units: str) -> None:
    from decalesce.plots import sheet

    temperatures = np.asarray(loaded.chamber.temperatures_C)
    lowest = int(np.argmin(temperatures))
    at = float(np.asarray(loaded.chamber.times_s)[lowest]) / _MINUTE_S
    bottom, top = (float(words.shown(t, units)) for t in (temperatures[lowest], loaded.set_point_C))
    axes.annotate("", (at, bottom), (at, top), arrowprops={"arrowstyle": "<->", "color": sheet.SOFT, "lw": 0.9})
    right = at < 0.5 * axes.get_xlim()[1]
    axes.annotate(
        f"falls {_difference(loaded.drop_K, units)}", (at, bottom), (6 if right else -6, -2),
        textcoords="offset points", ha="left" if right else "right", va="top", fontsize=8,
    )  # fmt: skip


def _difference(kelvin: float, units: str) -> str:
    return f"{kelvin:.0f} K" if units == "metric" else f"{1.8 * kelvin:.0f} °F"


def _minutes(seconds: float) -> str:
    return f"{seconds / _MINUTE_S:.1f} min"


def _said(loaded: Loaded, units: str) -> list[str]:
    """The key of the lines, in the units of the sheet."""
    back = "not in this time" if isnan(loaded.recovered_s) else f"at {_minutes(loaded.recovered_s)}"
    there = "not in this time" if isnan(loaded.steel_within_s) else f"at {_minutes(loaded.steel_within_s)}"
    said = [
        f"Controller back (dotted): {back}.",
        f"Steel there, soak clock starts (solid line, shaded from there): {there}.",
    ]
    if words.usable(loaded.alone_s):
        said.append(f"One free piece in a furnace that never falls: {_minutes(loaded.alone_s)}.")
    if loaded.arrangement == "one_block":
        said.append("The pieces touch and heat as one block.")
    elif loaded.arrangement == "spaced" and loaded.gap_mm is not None:
        gap = f"{words.thickness(loaded.gap_mm, units)} between pieces" if loaded.gap_mm > 0.0 else "Pieces touch"
        said.append(f"{gap}: one sees {100.0 * loaded.open_share:.0f} % of the furnace past its like.")
    said.append(f"From the elements in this time: {loaded.energy_kWh:.2f} kWh.")
    return said
