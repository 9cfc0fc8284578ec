"""Temperature histories: a hold, a ramp, a schedule of steps. Every model of the library takes one."""

from collections.abc import Iterable
from typing import Any

import numpy as np

from decalesce import units
from decalesce._core import History


def hold(temperature_C: Any, time_s: Any) -> History:
    """One temperature for a time: ``hold(200, "2 h")``, ``hold("400F", 7200)``.

    Raises ValueError for a time of zero or less, or a temperature below absolute zero.
    """
    return History.hold(units.temperature_C(temperature_C), units.time_s(time_s))


def ramp(start_C: Any, end_C: Any, time_s: Any) -> History:
    """A straight line from one temperature to another in a time."""
    first = units.temperature_C(start_C, "start_C")
    last = units.temperature_C(end_C, "end_C")
    return History(np.array([0.0, units.time_s(time_s)]), np.array([first, last]))


def schedule(steps: Iterable[tuple[Any, Any]], start_C: Any | None = None) -> History:
    """Straight pieces through (time for the piece, temperature at its end), from ``start_C``.

    Without ``start_C`` the first piece is a hold at its own temperature. Raises ValueError for an empty schedule.
    """
    times = [0.0]
    temperatures: list[float] = []
    if start_C is not None:
        temperatures.append(units.temperature_C(start_C, "start_C"))
    for number, (time, temperature) in enumerate(steps):
        end = units.temperature_C(temperature, f"steps[{number}] temperature")
        if not temperatures:
            temperatures.append(end)
        times.append(times[-1] + units.time_s(time, f"steps[{number}] time"))
        temperatures.append(end)
    if len(times) == 1:
        raise ValueError("steps is empty; expected pairs of (time, temperature)")
    return History(np.array(times), np.array(temperatures))
