"""What goes into the furnace together: the windows of a rack, sorted, in the loads that they share."""

from typing import TYPE_CHECKING, Any

import numpy as np

from decalesce.plots import words

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from decalesce.inventory.evaluate import Evaluation

_MOST_BARS = 150
_REASON = 130
_LEVEL_MARKS = {"clean": "o", "note": "o", "caution": "^", "stop": "X"}


def rack(evaluation: "Evaluation", *, units: str = "metric") -> "Figure":
    """The rack sheet: one line a bar, its austenitizing window, grouped into furnace loads, coolest first.

    The dark part of a load is the range that suits all its bars. The mark on the aim is the level of the row: ring
    clean or note, triangle caution, cross stop. Bars without a window stand at the bottom with the reason.

    Args:
        evaluation: what `decalesce.inventory.evaluate` gives.
        units: ``"metric"`` or ``"shop"``.

    Returns:
        The figure, as tall as the rack needs.

    Raises:
        ValueError: an empty rack, one of more than 150 rows (evaluate a part of it), unknown ``units``.
        TypeError: something that is no evaluation.
    """
    words.checked_units(units)
    results = getattr(evaluation, "results", None)
    if results is None or not hasattr(evaluation, "harden"):
        raise TypeError(f"evaluation = {evaluation!r}; expected what decalesce.inventory.evaluate gives")
    if not 0 < len(results) <= _MOST_BARS:
        raise ValueError(
            f"evaluation holds {len(results)} rows; a sheet takes 1 to {_MOST_BARS}: evaluate a part of the rack"
        )
    return _draw(evaluation, units)


def _lines(evaluation: "Evaluation") -> list[tuple[int, int]]:
    """(load, row) in the order of the sheet; load -1 for bars without a window."""
    results = evaluation.results
    order: list[tuple[int, int]] = []
    for number, load in enumerate(evaluation.harden):
        rows = sorted(load.rows, key=lambda r: (results["austenitize_C"].iloc[r], r))
        order += [(number, row) for row in rows]
    placed = {row for _, row in order}
    return order + [(-1, row) for row in range(len(results)) if row not in placed]


def _draw(evaluation: "Evaluation", units: str) -> "Figure":
    from decalesce.plots import sheet

    lines = _lines(evaluation)
    results = evaluation.results
    gaps = len(evaluation.harden) + 1
    tall = 0.145 * (len(lines) + 1.6 * gaps) + 2.2
    with sheet.drawn():
        paper = sheet.new(
            9.6, tall, f"The rack: {len(lines)} rows, {len(evaluation.harden)} furnace loads",
            "Each line a bar: its hardening window. Dark: the range that suits the whole load. "
            "Quench and soak may still part them.",
        )  # fmt: skip
        axes = paper.add_axes(sheet.place(paper, 1.55, 0.95, 0.35, 1.1))
        _extent(axes, results, units)
        at, ticks, names, previous = 0.0, [], [], None
        tops: dict[int, list[float]] = {}
        for load, row in lines:
            if previous is not None and load != previous:
                at += 1.6
            previous = load
            tops.setdefault(load, []).append(at)
            ticks.append(at)
            names.append(_name(evaluation, row))
            _bar(axes, at, results.iloc[row], units)
            at += 1.0
        axes.set_ylim(at + 0.3, -1.0)
        axes.set_yticks(ticks, names, fontsize=6.5)
        axes.tick_params(axis="y", length=0, pad=2)
        axes.grid(False, axis="y")
        axes.spines["left"].set_visible(False)
        axes.set_xlabel(f"furnace temperature, {words.degree(units)}")
        sheet.other_temperature(axes, "top", units)
        _loads(axes, evaluation, tops, units)
        _key(paper, axes)
        return paper


def _name(evaluation: "Evaluation", row: int) -> str:
    piece = evaluation.rack.piece_id.at(row)
    return f"{piece or f'row {row + 1}'}  {evaluation.results['grade_found'].iloc[row]}"


def _extent(axes: "Axes", results: Any, units: str) -> None:
    from matplotlib.ticker import MaxNLocator

    low, high = results["austenitize_coolest_C"].min(), results["austenitize_hottest_C"].max()
    if np.isnan(low):
        low, high = 700.0, 1000.0
    axes.set_xlim(words.shown(low - 15.0, units), words.shown(high + 15.0, units))
    axes.xaxis.set_major_locator(MaxNLocator(12))


def _bar(axes: "Axes", at: float, line: Any, units: str) -> None:
    from decalesce.plots import sheet

    ends = [words.shown(line[f"austenitize_{end}_C"], units) for end in ("coolest", "hottest")]
    mark = _LEVEL_MARKS[line["level"]]
    aim = words.shown(line["austenitize_C"], units)
    if np.isnan(aim):
        axes.plot(0.012, at, mark, ms=4, color=sheet.INK, transform=axes.get_yaxis_transform())
        axes.text(0.03, at, _reason(line), transform=axes.get_yaxis_transform(), fontsize=6.5, va="center")
        return
    axes.plot(ends, [at, at], color=sheet.PALE, lw=3.2, zorder=2)
    near, side = (ends[1], (4, "left")) if aim < sum(axes.get_xlim()) / 2 else (ends[0], (-4, "right"))
    said = " · ".join(f"{t:.0f}" for t in (ends[0], aim, ends[1]))
    axes.annotate(
        said,
        (near, at),
        (side[0], 0),
        textcoords="offset points",
        ha=side[1],
        va="center",
        fontsize=6.3,
        color=sheet.SOFT,
    )
    axes.plot(aim, at, mark, ms=4, mfc="white" if mark == "o" else sheet.INK, mec=sheet.INK, mew=0.8, zorder=4)


def _reason(line: Any) -> str:
    first = str(line["message"]).split(" | ", maxsplit=1)[0]
    return first if len(first) <= _REASON else f"{first[: _REASON - 3]}..."


def _loads(axes: "Axes", evaluation: "Evaluation", tops: dict[int, list[float]], units: str) -> None:
    from matplotlib.patches import Rectangle

    from decalesce.plots import sheet

    for number, load in enumerate(evaluation.harden):
        first, last = min(tops[number]) - 0.5, max(tops[number]) + 0.5
        low, high = words.shown(load.coolest_C, units), words.shown(load.hottest_C, units)
        axes.add_patch(
            Rectangle((low, first), high - low, last - first, fc=sheet.BLUE, alpha=0.3, lw=0, zorder=3, gid="load")
        )
        said = f"load {number + 1}: {words.span(load.coolest_C, load.hottest_C, units)} {words.degree(units)}"
        count = f"{len(load.rows)} bars" if len(load.rows) > 1 else "alone"
        widest = [evaluation.results[f"austenitize_{end}_C"].iloc[list(load.rows)] for end in ("coolest", "hottest")]
        left, right = words.shown(widest[0].min(), units), words.shown(widest[1].max(), units)
        near, away, side = (
            (right, 78, "left") if (left + right) / 2 < sum(axes.get_xlim()) / 2 else (left, -78, "right")
        )
        axes.annotate(
            f"{said}\n{count}", (near, first + 0.1), (away, 0), textcoords="offset points", ha=side, va="top",
            fontsize=9, fontweight="bold", linespacing=1.2,
        )  # fmt: skip
    if -1 in tops:
        axes.text(
            0.0, min(tops[-1]) - 0.8, f"no window: {len(tops[-1])} rows", transform=axes.get_yaxis_transform(),
            fontsize=9, fontweight="bold",
        )  # fmt: skip


def _key(paper: Any, axes: "Axes") -> None:
    from decalesce.plots import sheet

    tall = paper.get_size_inches()[1]
    words_at = (
        ("o", "clean or note"),
        ("^", "caution: check before heating"),
        ("X", "stop: a person must answer first"),
    )
    for number, (mark, said) in enumerate(words_at):
        x, y = (0.16, 0.36, 0.62)[number], 0.2 / tall
        look: dict[str, Any] = {"mfc": "white" if mark == "o" else sheet.INK, "mec": sheet.INK, "mew": 0.8, "ms": 5}
        axes.plot(x, y, mark, transform=paper.transFigure, clip_on=False, **look)
        paper.text(x + 0.012, y, said, va="center", fontsize=8)
