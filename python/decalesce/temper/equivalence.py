"""One temper as another: the temper parameter, the equivalent temperature and the equivalent time."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

import numpy as np

from decalesce import _core, flags, units
from decalesce._values import Comparable
from decalesce.temper.tempers import Tempers, tempers_of

_PUBLISHED = ("practice", "grange_baughman", "carbon_dependent")


@dataclass(frozen=True, slots=True)
class Constant:
    """The constant of the parameter, always the one for hours: its value, its name, its flag bits, its source."""

    hours: float
    name: str
    bits: int = 0
    source: str = ""

    def __str__(self) -> str:
        """Say it as the answers do."""
        return f"constant {self.hours:.4g} (hours)"


def constant_of(constant: Any, carbon_wt: float) -> Constant:
    """Read the ``constant`` argument. Raises ValueError and TypeError that say what was expected."""
    if isinstance(constant, str):
        found = _core.temper_constant(constant, carbon_wt)
        if np.isnan(found["hours"]):
            raise ValueError(f"constant = {constant!r} depends on carbon; give carbon_wt, e.g. carbon_wt=0.95")
        return Constant(found["hours"], constant, found["flags"], found["source"])
    if isinstance(constant, bool) or not isinstance(constant, (int, float)):
        raise TypeError(f"constant = {constant!r}; expected a number for hours such as 20, or one of {_PUBLISHED}")
    if not 5.0 < constant < 40.0:
        raise ValueError(f"constant = {constant!r}; expected the constant for hours, near 20")
    for name in ("practice", "grange_baughman"):
        found = _core.temper_constant(name, carbon_wt)
        if found["hours"] == constant:
            return Constant(float(constant), name, found["flags"], found["source"])
    return Constant(float(constant), "own")


def _beside(carbon_wt: float) -> dict[str, Constant]:
    """The published constants that can be shown beside: the third only where carbon is given."""
    names = _PUBLISHED if not np.isnan(carbon_wt) else _PUBLISHED[:2]
    return {name: constant_of(name, carbon_wt) for name in names}


def _row_flags(value: Any, inputs: tuple[Any, ...], bits: int) -> Any:
    """Flag ids of one answer; for arrays the bits of each place."""
    unusable = np.zeros(np.shape(value), bool)
    for item in inputs:
        unusable = unusable | np.isnan(item)
    impossible = np.isnan(value) & ~unusable
    row = np.full(np.shape(value), bits, np.uint64)
    row |= np.where(unusable, np.uint64(flags.bit("nan_input")), np.uint64(0))
    row |= np.where(impossible, np.uint64(flags.bit("impossible_input")), np.uint64(0))
    return row if row.ndim else flags.names(int(row))


def _say(value: Any, digits: int = 5) -> str:
    return f"{value:.{digits}g}" if np.ndim(value) == 0 else f"{np.size(value)} values"


@dataclass(frozen=True, slots=True, eq=False)
class Equivalent(Comparable):
    """An equivalent temperature (degC) or time (s): a float, or an array in the shape of what was asked.

    ``by_constant`` holds the same answer with the published constants, and so shows how much the constant matters;
    ``flags`` are ids (for an array the bits of each place).
    """

    value: Any
    unit: str
    constant: Constant
    by_constant: Mapping[str, Any] = field(repr=False)
    flags: Any = ()

    def __float__(self) -> float:
        """Return the value of one answer."""
        return float(self.value)

    def __str__(self) -> str:
        """Say the answer and its constant, and what the other constants say."""
        beside = ", ".join(f"{name} {_say(value)}" for name, value in self.by_constant.items())
        return f"{_say(self.value)} {self.unit}, {self.constant} (beside: {beside})"

    def __reduce__(self) -> Any:
        """Pickle with a plain mapping."""
        return _restore, (1, type(self), (self.value, self.unit, self.constant), dict(self.by_constant), self.flags)


@dataclass(frozen=True, slots=True, eq=False)
class TemperParameter(Comparable):
    """The temper parameter in thousand kelvin, and the temper said in other words.

    ``equivalent_temperature_C`` is the hold of the same total time; ``time_at_peak_s`` and ``time_at_mean_s`` the hold
    at the peak or mean temperature that does the same. ``by_constant`` holds the equivalent temperature with the
    published constants: parameters of different constants cannot be compared, temperatures can.
    """

    value: Any
    constant: Constant
    total_s: Any
    peak_C: Any
    mean_C: Any
    equivalent_temperature_C: Any
    time_at_peak_s: Any
    time_at_mean_s: Any
    by_constant: Mapping[str, Any] = field(repr=False)
    flags: Any = ()

    def __float__(self) -> float:
        """Return the parameter of one temper."""
        return float(self.value)

    def __str__(self) -> str:
        """Say the parameter with its constant, and the hold it stands for."""
        return (
            f"temper parameter {_say(self.value)} thousand K, {self.constant}; "
            f"as {_say(self.equivalent_temperature_C)} degC for {_say(self.total_s)} s"
        )

    def __reduce__(self) -> Any:
        """Pickle with a plain mapping."""
        numbers = (self.value, self.constant, self.total_s, self.peak_C, self.mean_C)
        equivalents = (self.equivalent_temperature_C, self.time_at_peak_s, self.time_at_mean_s)
        return _restore, (1, type(self), numbers + equivalents, dict(self.by_constant), self.flags)


def _restore(version: int, kind: Any, members: tuple[Any, ...], by_constant: dict[str, Any], flag: Any) -> Any:
    if version != 1:
        raise ValueError("temper: this pickle was written by another version; compute it again")
    return kind(*members, MappingProxyType(by_constant), flag)


def parameter(hold: Any, constant: Any = 20, *, carbon_wt: float = np.nan, tempers: int = 1) -> TemperParameter:
    """Temper parameter ``T (C + log10 t) / 1000``, T in K, t in hours: two tempers with the same one soften alike.

    Args:
        hold: a History, a pair (temperature, time), or a list of those for several tempers. A pair may hold arrays.
            A history is followed by carrying the equivalent time as state, so that ramps, swings and interruptions
            need no special case and finer steps change nothing.
        constant: always the one for hours. 20 (``"practice"``), 18 (``"grange_baughman"``, 0.2 to 0.8 %C),
            ``"carbon_dependent"`` (21.3 - 5.8 %C, 0.31 to 1.15 %C; needs ``carbon_wt``), or your own.
        carbon_wt: carbon of the martensite in wt %, for the third constant and the ranges.
        tempers: how often the temper is done.

    Returns:
        A TemperParameter. Validity: below Ac1, one mechanism. Accuracy: one curve of a steel predicts its other times
        to 0.8 HRC rms (open rows of two laboratories, 10 min to 32 h, 20 HRC and harder). Source: HollomonJaffe1945.
        In arrays NaN gives NaN with ``nan_input``, and a time of zero or less NaN with ``impossible_input``.

    Raises:
        ValueError: a time of zero or less, a temperature below absolute zero, an unknown constant.
        TypeError: something that is no temper.

    >>> import decalesce as dc
    >>> print(dc.temper.parameter((200, "1h")))
    temper parameter 9.463 thousand K, constant 20 (hours); as 200 degC for 3600 s
    """
    held = tempers_of(hold, tempers)
    chosen = constant_of(constant, carbon_wt)
    value, total_s, peak_C, mean_C = held.carried(chosen.hours)
    beside = {}
    for name, other in _beside(carbon_wt).items():
        there = held.carried(other.hours)[0]
        beside[name] = _core.temper_equivalent_temperature(there, total_s, other.hours)
    return TemperParameter(
        value,
        chosen,
        total_s,
        peak_C,
        mean_C,
        _core.temper_equivalent_temperature(value, total_s, chosen.hours),
        _core.temper_equivalent_time(value, peak_C, chosen.hours),
        _core.temper_equivalent_time(value, mean_C, chosen.hours),
        MappingProxyType(beside),
        _row_flags(value, (peak_C, total_s), chosen.bits),
    )


_EQUIVALENTS = {"degC": _core.temper_equivalent_temperature, "s": _core.temper_equivalent_time}


def _equivalent(held: Tempers, constant: Any, carbon_wt: float, unit: str, given: Any) -> Equivalent:
    chosen = constant_of(constant, carbon_wt)

    def answer(hours: float) -> Any:
        return _EQUIVALENTS[unit](held.carried(hours)[0], given, hours)

    value = answer(chosen.hours)
    beside = {name: answer(other.hours) for name, other in _beside(carbon_wt).items()}
    _, total_s, peak_C, _ = held.carried(chosen.hours)
    return Equivalent(
        value, unit, chosen, MappingProxyType(beside), _row_flags(value, (peak_C, total_s, given), chosen.bits)
    )


def equivalent_temperature(
    hold: Any, new_time: Any, *, constant: Any = 20, carbon_wt: float = np.nan, tempers: int = 1
) -> Equivalent:
    """Temperature (degC) that softens as much as ``hold`` in another time.

    ``new_time`` in s, or a string such as ``"45min"``; arrays broadcast with those of ``hold``. The other arguments,
    the range, the accuracy and the source are those of `parameter`; raises as it does.

    >>> import decalesce as dc
    >>> round(dc.temper.equivalent_temperature((200, "1h"), "2h").value, 1)
    193.0
    """
    time = units.time_s(new_time, "new_time")
    if np.ndim(time) == 0 and time <= 0:
        raise ValueError(f"new_time = {new_time!r}; expected a time above zero, such as '2h' or 7200 (s)")
    held = tempers_of(hold, tempers)
    return _equivalent(held, constant, carbon_wt, "degC", time)


def equivalent_time(
    hold: Any, new_temperature: Any, *, constant: Any = 20, carbon_wt: float = np.nan, tempers: int = 1
) -> Equivalent:
    """Time (s) at another temperature that softens as much as ``hold``.

    ``new_temperature`` in degC, or a string such as ``"400F"``; arrays broadcast with those of ``hold``. The other
    arguments, the range, the accuracy and the source are those of `parameter`; raises as it does.
    """
    celsius = units.temperature_C(new_temperature, "new_temperature")
    held = tempers_of(hold, tempers)
    return _equivalent(held, constant, carbon_wt, "s", celsius)
