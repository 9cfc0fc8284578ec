"""The question the other way round: which temper for a wanted hardness."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from decalesce import _core, scales, units
from decalesce._core import AsQuenched, Estimate
from decalesce._values import Comparable
from decalesce.temper import published
from decalesce.temper.practice import Note, embrittlements, embrittles_back, grade_of, practice, usual
from decalesce.temper.tempered import places, quenched


@dataclass(frozen=True, slots=True, eq=False)
class TemperSetting(Comparable):
    """The temper for a wanted hardness.

    ``temperature_C`` is the answer (its band: the tempers between which the target lies inside the hardness band),
    ``used`` says where it comes from: ``"model"`` or ``"table"``. ``stays_from_C`` to ``stays_to_C`` leave the target
    within 1 HRC by the same curve; ``hardness_HRC`` is what that curve gives at the answer. ``coolest_C`` to
    ``hottest_C`` is what the model covers for this time, from ``hardest_HRC`` to ``softest_HRC``. ``published_C`` holds
    every temper that the grade's table gives for the target, coolest first, both ends of a level stretch. Floats for
    one target, arrays for many.
    """

    temperature_C: Estimate
    used: str
    hardness_HRC: Any
    stays_from_C: Any
    stays_to_C: Any
    coolest_C: Any
    hardest_HRC: Any
    hottest_C: Any
    softest_HRC: Any
    model_C: Estimate
    published_C: tuple[Estimate, ...]
    notes: tuple[str, ...]
    practice: tuple[Note, ...]

    @property
    def value(self) -> Any:
        """The temper in degC; NaN where no temper does it."""
        return self.temperature_C.value

    @property
    def low(self) -> Any:
        """Coolest temper of the band, degC."""
        return self.temperature_C.low

    @property
    def high(self) -> Any:
        """Hottest temper of the band, degC."""
        return self.temperature_C.high

    @property
    def flags(self) -> Any:
        """Flag ids; for arrays the bits of each place."""
        return self.temperature_C.flags

    @property
    def level(self) -> str:
        """The gravest level among the flags."""
        return self.temperature_C.level

    @property
    def sources(self) -> tuple[str, ...]:
        """Keys of the bibliography."""
        return self.temperature_C.sources

    def flagged(self, flag: str) -> Any:
        """Whether the answer (each answer of a batch) carries the flag."""
        return self.temperature_C.flagged(flag)

    def __float__(self) -> float:
        """Return the temper of one answer."""
        return float(self.temperature_C)


def _wanted(target_HRC: Any) -> tuple[Any, tuple[str, ...]]:
    """The target as numbers, and a sentence where one was given on another scale. An off row of an array is flagged."""
    if np.ndim(target_HRC) == 0:
        one = scales.wanted(target_HRC)
        return np.asarray(one.HRC), ((one.sentence,) if one.sentence else ())
    many = np.asarray(target_HRC)
    if many.dtype.kind not in "fiu":
        raise TypeError(f"target_HRC = {target_HRC!r}; expected a hardness in HRC such as 60, or an array of numbers")
    return many, ()


def temperature_for(
    q: AsQuenched,
    target_HRC: Any,
    time: Any,
    *,
    tempers: int = 1,
    grade: Any = None,
    tables: str = "beside",
    austenitize_C: float | None = None,
) -> TemperSetting:
    """Temper temperature (degC) that leaves a wanted hardness.

    Args:
        q: the quenched steel, one or a batch; a composition is refused.
        target_HRC: wanted hardness, 20 to 68 HRC: a number or an array, or one as written, ``"62HRC"`` or ``"700HV"``
            (`decalesce.scales.wanted`; ``notes`` say how another scale was read).
        time: time of one temper, s or ``"2h"``; a number or an array.
        tempers: how often; the time counts so many times.
        grade: a Grade or its name: its published table and the rules of the trade for it.
        tables: ``"beside"``, ``"prefer"`` or ``"ignore"`` as in `decalesce.temper.hardness`. Of several tempers that a
            table gives, the one on the side that the trade uses is preferred (the hot side for high-speed and hot-work
            steel).
        austenitize_C: hardening temperature, to choose among a grade's tables.

    Returns:
        A TemperSetting in the broadcast shape. ``embrittlement_range`` and, for structural and spring grades,
        ``reversible_embrittlement`` where the tempers within 1 HRC of the target reach into those ranges. Where
        a stretch of tempers leaves the same hardness by the model its hot end is given. NaN with ``target_above_reach``
        above the hardness that the coolest temper leaves, with ``target_below_reach`` below that of the hottest (below
        Ac1, not under 20 HRC), in an array with ``off_scale``
        outside 20 to 68 HRC. Range, accuracy and sources as `decalesce.temper.hardness`.

    Raises:
        TypeError: ``q`` is no AsQuenched, a target that is no number. ValueError: a time of zero or less, one target
        off the Rockwell C scale, an unknown ``tables``. LookupError: an unknown grade.
    """
    steel = quenched(q)
    seconds = units.time_s(time, "time")
    if np.ndim(seconds) == 0 and seconds <= 0:
        raise ValueError(f"time = {time!r}; expected a time above zero, such as '2h' or 7200 (s)")
    if isinstance(tempers, bool) or not isinstance(tempers, int) or tempers < 1:
        raise ValueError(f"tempers = {tempers!r}; expected how often to temper: 1, 2, 3 ...")
    wanted, read = _wanted(target_HRC)
    found = grade_of(grade)
    table = published.choose(found, tables, austenitize_C)
    rows, targets, totals = places(steel.shape, wanted, np.multiply(seconds, tempers))
    answer = _core.temper_temperature_for(steel, rows, targets, totals, embrittles_back(found))
    model: Estimate = answer.pop("temperature_C")
    temperature, used = model, "model"
    beside: tuple[Estimate, ...] = ()
    notes: tuple[str, ...] = ()
    if table is not None and targets.ndim == 0:
        printed = table.found_for(float(targets), float(totals))
        beside = tuple(temper.temperature_C for temper in printed)
        notes = table.notes() if beside else (*table.notes(), table.beyond(float(targets))[1])
        if tables == "prefer" and printed and found is not None:
            chosen = printed[-1 if usual(found).side == "hot" else 0]
            temperature, used = chosen.temperature_C, "table"
            at_C = temperature.value
            notes += table.said_of(chosen)
            answer["hardness_HRC"] = float(targets)
            from_C, to_C = table.stays(float(targets), float(totals), at_C)
            answer["stays_from_C"], answer["stays_to_C"] = from_C, to_C
            for flag in embrittlements(found, np.fmin(at_C, from_C), np.fmax(at_C, to_C)):
                temperature = _core.flagged(temperature, flag)
        elif tables == "prefer":
            notes += ("The table does not reach this hardness; the model answers.",)
    elif table is not None:
        notes = ("Published tables are read for one target at a time; the model answers.",)
    at = temperature.value
    rules = practice(found, float(at) if np.ndim(at) == 0 and not np.isnan(at) else None)
    return TemperSetting(
        temperature, used, **answer, model_C=model, published_C=beside, notes=read + notes, practice=rules
    )
