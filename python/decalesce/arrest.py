"""The arrest: where a thermocouple in the work stops rising because the steel itself takes up heat.

At Ac1 steel begins to turn into austenite and swallows heat (decalescence): the rise of its temperature slows or
stops, and goes on although the furnace has not changed. Ac1 follows from the composition, so an arrest in a logged
trace checks the sensor at the temperature that matters. On cooling the steel gives the heat back and may glow up again
(recalescence): that lies below Ac1 by an unknown amount, and checks nothing.

How to log one: put the thermocouple in a hole in the piece, or wired hard against it. Heat in a furnace that stands
still 50 to 150 K above Ac1, or rises steadily, and log every few seconds until 30 K beyond. A second thermocouple in
the furnace, beside the work, tells the steel from the controller. Hot work burns and a thermocouple wire may be live:
keep to the rules of the shop and of the furnace, and leave mains wiring to a licensed electrician.

>>> import decalesce as dc
>>> import numpy as np
>>> t = np.arange(0.0, 1200.0, 2.0)
>>> body = dc.conduction.body("round", 12)
>>> s = dc.thermal.steel(dc.Composition(C=0.84, Mn=0.75, Si=0.20))
>>> steel = dc.conduction.Material(s.temperature_C, s.enthalpy_J_kg, s.conductivity_W_mK, s.density_kg_m3)
>>> run = dc.conduction.heat(body, steel, dc.hold(850, 1200), film_W_m2K=10, emissivity=0.8, start_C=20)
>>> a = dc.arrest.find((t, run.centre_C(t)))
>>> a.found, bool(abs(a.start_C.value - s.Ac1_C) < 2)
(True, True)
"""

from dataclasses import dataclass, fields
from math import isfinite, isnan, nan
from typing import Any

import numpy as np
import numpy.typing as npt

from decalesce import _core, critical, flags, units
from decalesce._composition import composition_of
from decalesce._core import CriticalTemperatures, Estimate, History

__all__ = ["FINDINGS", "VERDICTS", "Arrest", "SensorCheck", "check_sensor", "find"]

FINDINGS: tuple[str, ...] = tuple(_core.arrest_findings)
"""What a trace may show: arrest, no_arrest, too_fast, too_noisy, not_reached, controller_hold."""

VERDICTS: tuple[str, ...] = tuple(_core.arrest_sensor_verdicts)
"""agrees (within the band), reads_high, reads_low, not_checked."""

_DIRECTIONS = ("heating", "cooling")
_Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Arrest:
    """What `find` saw. Temperatures are readings of the sensor, degC; NaN where there is nothing.

    ``start_C`` is where the branches of the trace meet, with its 90 % band; ``plateau_C`` where the rate is least,
    ``end_C`` where half the rate is back. ``rate_before_K_s`` is drawn on to the arrest; ``excess_K`` the heating that
    was swallowed. ``noise_K`` is the scatter of one reading. ``difference_start_K`` and ``difference_least_K`` are
    furnace less work at the start and where the rate is least. With ``controller_hold`` the figures are those of what
    was taken for a hold.
    """

    finding: str
    direction: str
    start_C: Estimate
    start_s: float
    plateau_C: float
    end_C: float
    duration_s: float
    rate_before_K_s: float
    rate_at_K_s: float
    rate_after_K_s: float
    excess_K: float
    noise_K: float
    spacing_s: float
    difference_start_K: float
    difference_least_K: float
    flags: tuple[str, ...]

    def _key(self) -> tuple[Any, ...]:
        # NaN stands for nothing here, and nothing equals nothing
        values = (getattr(self, field.name) for field in fields(self))
        return tuple(None if isinstance(v, float) and isnan(v) else v for v in values)

    def __eq__(self, other: object) -> bool:
        """Equal where everything is, NaN included."""
        return self._key() == other._key() if isinstance(other, Arrest) else NotImplemented

    def __hash__(self) -> int:
        """Of everything, NaN included."""
        return hash(self._key())

    @property
    def found(self) -> bool:
        """Whether the steel arrested."""
        return self.finding == "arrest"

    @property
    def sentence(self) -> str:
        """The finding in words."""
        if not self.found:
            return " ".join(flags.sentences(_bits(self.flags)).values())
        half = 0.5 * (self.start_C.high - self.start_C.low)
        text = f"Arrest at {self.start_C.value:.0f} degC (± {half:.0f} K) for {self.duration_s:.0f} s."
        if self.direction == "cooling":
            text += " Recalescence is undercooled by an unknown amount: it is no check of Ac1 or of the sensor."
        return text


@dataclass(frozen=True, slots=True)
class SensorCheck:
    """A sensor against the computed Ac1: ``bias_K`` is the arrest less Ac1, positive where the sensor reads high."""

    verdict: str
    bias_K: Estimate
    arrest: Arrest
    Ac1_C: Estimate
    sentence: str
    flags: tuple[str, ...]


def _bits(ids: tuple[str, ...]) -> int:
    """A set of flags from their ids."""
    bits = 0
    for name in ids:
        bits |= flags.bit(name)
    return bits


def _numbers(values: Any, argument: str) -> _Floats:
    try:
        array = np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError) as error:
        raise TypeError(f"{argument} = {values!r}: expected an array of numbers") from error
    if array.ndim != 1:
        raise ValueError(f"{argument} has {array.ndim} dimensions; expected one row of readings")
    return array


def _columns(table: Any) -> tuple[_Floats, _Floats, _Floats | None]:
    import narwhals as nw

    frame = nw.from_native(table, eager_only=True)
    if len(frame.columns) not in (2, 3):
        raise ValueError(
            f"trace has columns {', '.join(frame.columns)}; expected time (s), work (degC) and perhaps furnace (degC)"
        )
    time, work, *furnace = (_numbers(frame[name].to_numpy(), f"trace[{name!r}]") for name in frame.columns)
    return time, work, furnace[0] if furnace else None


def _read(trace: Any) -> tuple[_Floats, _Floats, _Floats | None]:
    if isinstance(trace, History):
        return np.asarray(trace.times_s), np.asarray(trace.temperatures_C), None
    if hasattr(trace, "columns"):
        return _columns(trace)
    if isinstance(trace, (tuple, list)) and len(trace) in (2, 3):
        furnace = None if len(trace) == 2 else _numbers(trace[2], "trace[2]")
        return _numbers(trace[0], "trace[0]"), _numbers(trace[1], "trace[1]"), furnace
    raise TypeError(
        f"trace is a {type(trace).__name__}; expected a History, (times, temperatures) or a dataframe of two columns"
    )


def _beside(furnace: Any, times: _Floats) -> _Floats:
    if isinstance(furnace, History):
        return np.interp(times, furnace.times_s, furnace.temperatures_C)
    return _numbers(furnace, "furnace_C")


def find(
    trace: Any, *, furnace_C: Any = None, direction: str = "heating", between_C: tuple[Any, Any] | None = None
) -> Arrest:
    """The arrest of a logged trace of a thermocouple in the work.

    Args:
        trace: a History, ``(times_s, work_C)`` or ``(times_s, work_C, furnace_C)``, or a dataframe of two or three such
            columns. Times increase and need not be even; a missing reading is NaN.
        furnace_C: readings of the furnace at the same times, or a History of it. With it a hold by the controller is
            told from the steel; without it, what a controller could have made is called ``controller_hold``.
        direction: ``"heating"`` (Ac1) or ``"cooling"`` (Ar1, recalescence).
        between_C: readings between which to look; 600 to 950 degC, on cooling 450 to 950 degC, if not given. A wrong
            type of thermocouple may read hundreds of kelvin off.

    Nothing is raised where there is no arrest: ``finding`` and ``flags`` say why. Method and limits: a straight line of
    rate against temperature, from the heating before, is drawn on; what falls short of it, and comes back, is an arrest
    (data/tables/arrest_rules.csv, status derived).

    Accuracy, on traces of the conduction solver (3 to 50 mm, five furnaces, 0.45 to 1.0 %C, scatter 0.2 to 2 K, 1 to
    10 s between readings, half of them shown in whole kelvins) whose arrest lasts twelve readings: with a furnace trace
    96 % found within 5 K, and an arrest claimed in 1 % of traces of steel that has none; without one 90 % found (95 %
    where the furnace keeps on rising, or stands still, through the arrest) and 3 % claimed. The band of ``start_C``
    held the truth in 93 %. Steel with 0.15 %C arrests too weakly to show in a quarter of the cases, in half of them
    without a furnace trace. Real steel may turn less sharply than the model's 6 K.

    Raises TypeError for something that is no trace; ValueError for times that do not increase, lengths that differ,
    fewer than twelve readings, an unknown direction or an empty range.
    """
    if direction not in _DIRECTIONS:
        raise ValueError(f"direction = {direction!r}; expected heating or cooling")
    times, work, furnace = _read(trace)
    if furnace_C is not None:
        furnace = _beside(furnace_C, times)
    low, high = (nan, nan)
    if between_C is not None:
        low, high = (units.temperature_C(edge, "between_C") for edge in between_C)
    beside = np.empty(0) if furnace is None else furnace
    out = _core.arrest_find(times, work, beside, direction == "cooling", low, high)
    return Arrest(direction=direction, flags=flags.names(out.pop("flag_bits")), **out)


def check_sensor(trace: Any, w: Any, **how: Any) -> SensorCheck:
    """The sensor of a trace against the computed Ac1 of the steel it sat in.

    Args:
        trace: an `Arrest`, or whatever `find` takes, with its keywords (``furnace_C`` ...).
        w: a Composition, a Grade, a Bar or a grade's name; or an Estimate of Ac1 in degC from elsewhere.

    The bias is the start of the arrest less Ac1, K; its band joins both in quadrature. Ac1 is rarely known to better
    than 10 to 20 K, so a smaller bias cannot be shown: ``agrees`` means no more than that. Fast heating raises the
    arrest by some kelvin (common practice, no source; not corrected): a reading a little high may be the steel.
    ``not_checked`` where there is no arrest, on cooling (recalescence is undercooled), or without an Ac1; the flags say
    which. Raises what `find` and `decalesce.critical.temperatures` raise, and ValueError for a batch of steels.
    """
    arrest = trace if isinstance(trace, Arrest) else find(trace, **how)
    ac1 = w if isinstance(w, Estimate) else _ac1(w)
    verdict, bias = _core.arrest_check_sensor(
        arrest.found, arrest.direction == "cooling", arrest.start_C, _bits(arrest.flags), ac1
    )
    return SensorCheck(verdict, bias, arrest, ac1, _say(verdict, bias, arrest, ac1), bias.flags)


def _ac1(w: Any) -> Estimate:
    found = critical.temperatures(composition_of(w))
    if not isinstance(found, CriticalTemperatures):
        raise ValueError("w holds a batch of steels; expected one steel, e.g. w[0]")
    return found.ac1


def _say(verdict: str, bias: Estimate, arrest: Arrest, ac1: Estimate) -> str:
    if verdict == "not_checked":
        if arrest.found and not isfinite(float(ac1.value)):
            return "Not checked: no Ac1 is known for this steel."
        return f"Not checked. {arrest.sentence}"
    value, low, high = float(bias.value), float(bias.low), float(bias.high)
    band = f"{low:+.0f} to {high:+.0f} K"
    if verdict == "agrees":
        widest = max(value - low, high - value)
        return (
            f"The sensor agrees with Ac1 within the band: it reads {value:+.0f} K ({band}). "
            f"A bias under {widest:.0f} K cannot be shown this way."
        )
    word = "high" if verdict == "reads_high" else "low"
    text = f"The sensor reads {word} by {abs(value):.0f} K ({band})."
    if verdict == "reads_high":
        text += " Fast heating raises the arrest by some kelvin: repeat it slowly before you correct the sensor."
    return text
