"""The look of every sheet: sober, black on white, one light shade for the place to be. Loads matplotlib."""

from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import Any, Literal

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from decalesce.plots import words

INK = "#1a1a1a"
SOFT = "#5f5f5f"
PALE = "#c4c4c4"
BAND = "#d9dee6"
BLUE = "#1f3f6e"
PLACE = "#f3e3c2"
SMALL = 7.5
_DOTS_PER_INCH = 120
_LOOK: Any = {
    "font.size": 9.0,
    "text.color": INK,
    "axes.edgecolor": SOFT,
    "axes.labelcolor": INK,
    "axes.linewidth": 0.7,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.titlesize": 9.5,
    "axes.titlelocation": "left",
    "axes.titleweight": "bold",
    "axes.grid": True,
    "axes.axisbelow": True,
    "grid.color": "#ececec",
    "grid.linewidth": 0.6,
    "xtick.color": SOFT,
    "ytick.color": SOFT,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "lines.linewidth": 1.6,
    "lines.solid_capstyle": "butt",
    "hatch.linewidth": 0.4,
}


class Sheet(Figure):
    """A figure that shows itself in a notebook, whatever the backend."""

    def _repr_png_(self) -> bytes:
        picture = BytesIO()
        self.savefig(picture, format="png", dpi=_DOTS_PER_INCH)
        return picture.getvalue()


@contextmanager
def drawn() -> Iterator[None]:
    """Draw in the look of the sheets and leave the user's own settings alone."""
    with mpl.rc_context(_LOOK):
        yield


def new(width_in: float, height_in: float, title: str, below: str = "") -> Sheet:
    """An empty sheet with its heading: what it is about, and in small what was assumed."""
    sheet = Sheet(figsize=(width_in, height_in), facecolor="white")
    inch = 1.0 / height_in
    sheet.text(0.35 / width_in, 1.0 - 0.16 * inch, title, fontsize=13, fontweight="bold", va="top")
    sheet.text(0.35 / width_in, 1.0 - 0.46 * inch, below, fontsize=8.5, color=SOFT, va="top")
    return sheet


def place(sheet: Sheet, left: float, bottom: float, right: float, top: float) -> tuple[float, float, float, float]:
    """A rectangle for axes from distances in inches to the four edges of the sheet."""
    width, height = sheet.get_size_inches()
    return left / width, bottom / height, 1.0 - (left + right) / width, 1.0 - (bottom + top) / height


def foot(sheet: Sheet, text: str) -> None:
    """Small print at the bottom of a sheet."""
    width, height = sheet.get_size_inches()
    wide = int((width - 0.7) * 17.5)
    sheet.text(0.35 / width, 0.12 / height, words.wrap(text, wide), fontsize=SMALL, color=SOFT, va="bottom")


def beside(axes: Axes, y: float, text: str, **look: Any) -> None:
    """Words in the margin right of the axes, at a height in data units."""
    settings: dict[str, Any] = {"fontsize": 8.5, "va": "center"} | look
    axes.text(1.015, y, text, transform=axes.get_yaxis_transform(), clip_on=False, **settings)


def margin_note(axes: Axes, text: str) -> None:
    """Words in the margin right of the axes, from its top down."""
    axes.text(1.015, 1.0, text, transform=axes.transAxes, fontsize=8.5, va="top", linespacing=1.45)


def message(axes: Axes, text: str, *, alone: bool = False) -> None:
    """Words instead of a curve that does not exist; ``alone`` takes the axes away too."""
    axes.set_yticks([])
    axes.grid(False)
    if alone:
        axes.set_axis_off()
    axes.text(
        0.5, 0.5, words.wrap(text, 70), transform=axes.transAxes, ha="center", va="center", color=INK, fontsize=9,
        bbox={"facecolor": "white", "edgecolor": PALE, "boxstyle": "square,pad=0.6"},
    )  # fmt: skip


def other_temperature(axes: Axes, side: Literal["top", "right"], units: str, most: int = 9) -> None:
    """The other unit of temperature on the far side of the axes: ``"top"`` or ``"right"``."""
    there, back = (words.fahrenheit, words.celsius) if units == "metric" else (words.celsius, words.fahrenheit)
    name = words.degree("shop" if units == "metric" else "metric")
    ticks = MaxNLocator(most, steps=[1, 2, 2.5, 5, 10])
    if side == "top":
        far = axes.secondary_xaxis(side, functions=(there, back))
        far.set_xlabel(name, color=SOFT)
        far.xaxis.set_major_locator(ticks)
    else:
        far = axes.secondary_yaxis(side, functions=(there, back))
        far.set_ylabel(name, color=SOFT)
        far.yaxis.set_major_locator(ticks)
    far.tick_params(labelsize=8)
