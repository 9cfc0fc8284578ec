"""The temper of a steel that the model does not know: from the grade's printed table, else its published range."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from decalesce import _core
from decalesce._core import Estimate
from decalesce.grade import Grade
from decalesce.temper import published
from decalesce.temper.practice import embrittlements, usual


@dataclass(frozen=True, slots=True)
class Fallback:
    """A temper (or NaN with the flag that says why not), ``used`` ``"table"`` or ``"published range"``, and notes."""

    temperature_C: Estimate
    used: str
    notes: tuple[str, ...]


def _warned(temper: Estimate, grade: Grade, coolest_C: float, hottest_C: float) -> Estimate:
    """The temper with the flags of the embrittlement ranges that it, or the tempers from coolest to hottest, reach."""
    for flag in embrittlements(grade, np.fmin(temper.value, coolest_C), np.fmax(temper.value, hottest_C)):
        temper = _core.flagged(temper, flag)
    return temper


@lru_cache(maxsize=65536)
def fallback(grade: Grade, target_HRC: float, total_s: float, austenitize_C: float) -> Fallback | None:
    """The published temper for a hardness (HRC) and a total time (s); None where nothing is published.

    Of several tempers in the table that on the side the trade uses: the hot side of the peak for high-speed and
    hot-work steel, else the cool one; of a published range likewise. A target beyond the table, or beyond the hardness
    printed beside the range, is ``target_above_reach`` or ``target_below_reach``. A temper in a range that embrittles
    the grade, or one whose neighbours within 1 HRC reach into it, is flagged. ``austenitize_C`` chooses among
    tables; NaN where not known.
    """
    side = usual(grade).side
    table = published.choose(grade, "beside", None if np.isnan(austenitize_C) else austenitize_C)
    if table is None:
        found = published.range_temper(grade.designation, target_HRC, side)
        if found is None:
            return None
        temper = _warned(found.temperature_C, grade, found.stays_from_C, found.stays_to_C)
        return Fallback(temper, "published range", (found.note,))
    tempers = table.found_for(target_HRC, total_s)
    if not tempers:
        flag, sentence = table.beyond(target_HRC)
        return Fallback(_core.no_temper(flag), "table", (*table.notes(), sentence))
    chosen = tempers[-1 if side == "hot" else 0]
    stays = table.stays(target_HRC, total_s, chosen.temperature_C.value)
    return Fallback(_warned(chosen.temperature_C, grade, *stays), "table", table.notes() + table.said_of(chosen))
