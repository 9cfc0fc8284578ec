"""Sheets a smith pins to the wall: every function takes our values and gives back one matplotlib figure.

`window` (how hot), `soak` (how long), `furnace` (when to start the clock), `temper_curve` (which temper),
`temper_equivalents` (the same temper in another time) and `rack` (what goes into the furnace together). Print-friendly
and readable in grey; ``units="metric"`` is degC and mm, ``"shop"`` degF and inch, and the other temperature stands on
the far side of the axis. Where there is no answer the sheet says why. Nothing here computes: the rooms do. matplotlib
is loaded when the first sheet is drawn.

>>> import decalesce as dc
>>> sheet = dc.plots.window(dc.grades.find("1095"))
>>> sheet.axes[-1].get_xlabel()
'furnace temperature, °C'

A sheet shows itself in a notebook; elsewhere write it with ``sheet.savefig("window.pdf")``.
"""

from decalesce.plots.equivalents_sheet import temper_equivalents
from decalesce.plots.furnace_sheet import furnace
from decalesce.plots.rack_sheet import rack
from decalesce.plots.soak_sheet import soak
from decalesce.plots.temper_sheet import temper_curve
from decalesce.plots.window_sheet import window

__all__ = ["furnace", "rack", "soak", "temper_curve", "temper_equivalents", "window"]
