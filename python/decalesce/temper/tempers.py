"""What a user may write for a temper, read into one form."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from decalesce import _core, units
from decalesce._core import History

_EXPECTED = "a History, a pair (temperature, time) such as (200, '2h'), or a list of those for several tempers"


@dataclass(frozen=True, slots=True)
class Tempers:
    """Holds in arrays of one shape (degC, s), or histories one after the other."""

    temperature_C: Any = None
    time_s: Any = None
    histories: tuple[History, ...] = ()

    def carried(self, constant: float) -> tuple[Any, Any, Any, Any]:
        """Parameter (thousand kelvin), total time (s), peak and mean (degC) with a constant for hours."""
        if self.histories:
            return _core.temper_carried(list(self.histories), constant)
        value = _core.temper_parameter(self.temperature_C, self.time_s, constant)
        return value, self.time_s, self.temperature_C, self.temperature_C


def _pair(argument: str, temperature: Any, time: Any) -> tuple[Any, Any]:
    celsius = units.temperature_C(temperature, f"{argument} temperature")
    seconds = units.time_s(time, f"{argument} time")
    if np.ndim(seconds) == 0 and seconds <= 0:
        raise ValueError(f"{argument} time = {time!r}; expected a time above zero, such as '2h' or 7200 (s)")
    return celsius, seconds


def _one(argument: str, item: Any) -> History:
    if isinstance(item, History):
        return item
    if isinstance(item, tuple) and len(item) == 2:
        celsius, seconds = _pair(argument, *item)
        if np.ndim(celsius) or np.ndim(seconds):
            raise ValueError(f"{argument} = {item!r} holds arrays; expected one temper in a list of several")
        return History.hold(celsius, seconds)
    raise TypeError(f"{argument} = {item!r}; expected {_EXPECTED}")


def tempers_of(hold: Any, times: int = 1) -> Tempers:
    """Read ``hold``; ``times`` repeats it. Raises TypeError and ValueError that say what was expected."""
    if isinstance(times, bool) or not isinstance(times, int) or times < 1:
        raise ValueError(f"tempers = {times!r}; expected how often to temper: 1, 2, 3 ...")
    if isinstance(hold, History):
        return Tempers(histories=(hold,) * times)
    if isinstance(hold, tuple) and len(hold) == 2 and not any(isinstance(item, (History, tuple)) for item in hold):
        celsius, seconds = _pair("hold", *hold)
        celsius, seconds = np.broadcast_arrays(celsius, np.multiply(seconds, times))
        if celsius.ndim == 0:
            return Tempers(float(celsius), float(seconds))
        return Tempers(np.ascontiguousarray(celsius, float), np.ascontiguousarray(seconds, float))
    if isinstance(hold, Sequence) and not isinstance(hold, str) and len(hold) > 0:
        return Tempers(histories=tuple(_one(f"hold[{i}]", item) for i, item in enumerate(hold)) * times)
    raise TypeError(f"hold = {hold!r}; expected {_EXPECTED}")
