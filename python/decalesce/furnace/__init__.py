"""A furnace with a load in it: how long after the door closed is the steel at temperature?

Opened and loaded with cold steel, a furnace falls below its set point and takes time to come back; the steel comes
later still, later the closer the pieces stand. So the soak is counted from when the *steel* is there. The chamber is
the hot face of the lining with the shelf and the elements, heat goes out through the lining, and power is what it takes
to hold the set point, as far as there is any.

- `Furnace`: its sizes, lining and power.
- `load`: what happens when pieces go in; a `Loaded` with the times, the heat and the words for the job card.
- `LININGS`: linings with known properties.
- `open_share`: how much of the furnace a face sees past its neighbour.

>>> import decalesce as dc
>>> box = dc.furnace.Furnace(inside_mm=(200, 150, 350), lining="insulating_firebrick", lining_mm=115, power_W="3kW")
>>> answer = dc.furnace.load(box, 820, dc.Section("rectangle", 6, 40), w="1084", length_mm=250, pieces=6, gap_mm=20)
>>> answer.steel_within_s > answer.alone_s
True
"""

from decalesce.furnace.box import KINDS, LININGS, Furnace
from decalesce.furnace.loading import load, open_share
from decalesce.furnace.result import Loaded

__all__ = ["KINDS", "LININGS", "Furnace", "Loaded", "load", "open_share"]
