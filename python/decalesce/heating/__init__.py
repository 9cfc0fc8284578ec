"""Soak: heat-up, then equalize, then hold, each apart; and what the published rules say beside.

When is the steel at temperature all the way through, and how long must it then stay? The rules everybody has heard
contradict one another because some count from loading the furnace and some from when the steel is hot. Here the three
parts stand apart, and each rule beside says whether it includes the heat-up.

- `soak`: all three with their reasons. ``detail="screen"`` reads stored cases instead, for a whole rack.
- `heat_up`: the heat-up alone, along any history: cold kiln, programmed segments, swing; with the trace.
- `time_in_air`: how long there is between furnace and tank.
- `check_soak`: a time somebody wants to use.

>>> import decalesce as dc
>>> w = dc.Composition(C=0.84, Mn=0.75, Si=0.20)
>>> s = dc.heating.soak(dc.Section("plate", 4), "still_electric", 800, w=w)
>>> s.detail, s.computed.limits.limit
('full', 'film')
>>> round(s.hold_s.value)
450
>>> 220 < s.heat_up_s.value < 320
True
"""

from decalesce.heating.due import Check, Reasons, Soak, check_soak, soak
from decalesce.heating.rules import Rule
from decalesce.heating.warming import (
    FOIL,
    FURNACES,
    REFERENCE_C,
    HeatUp,
    InAir,
    heat_through,
    heat_up,
    time_in_air,
)

__all__ = [
    "FOIL",
    "FURNACES",
    "REFERENCE_C",
    "Check",
    "HeatUp",
    "InAir",
    "Reasons",
    "Rule",
    "Soak",
    "check_soak",
    "heat_through",
    "heat_up",
    "soak",
    "time_in_air",
]
