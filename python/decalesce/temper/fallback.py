"""The temper of a steel that the model does not know: from the grade's printed table, else its published range."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from decalesce import _core
from decalesce._core import Estimate
from decalesce.grade import Grade
from decalesce.temper import published
from decalesce.temper.practice import usual


@dataclass(frozen=True, slots=True)
class Fallback:
    """A temper (or NaN with the flag that says why not), ``used`` ``"table"`` or ``"published range"``, and notes."""

    temperature_C: Estimate
    used: str
    notes: tuple[str, ...]


@lru_cache(maxsize=65536)
def fallback(grade: Grade, target_HRC: float, total_s: float, austenitize_C: float) -> Fallback | None:
    """The published temper for a hardness (HRC) and a total time (s); None where nothing is published.

    Of several tempers in the table that on the side the trade uses: the hot side of the peak for high-speed and
    hot-work steel, else the cool one. A target beyond the table is ``target_above_reach`` or ``target_below_reach``.
    ``austenitize_C`` chooses among tables; NaN where not known.
    """
    table = published.choose(grade, "beside", None if np.isnan(austenitize_C) else austenitize_C)
    if table is None:
        found = published.range_temper(grade.designation)
        return None if found is None else Fallback(found[0], "published range", found[1])
    tempers = table.found_for(target_HRC, total_s)
    if not tempers:
        flag, sentence = table.beyond(target_HRC)
        return Fallback(_core.no_temper(flag), "table", (*table.notes(), sentence))
    chosen = tempers[-1 if usual(grade).side == "hot" else 0]
    return Fallback(chosen.temperature_C, "table", table.notes() + table.said_of(chosen))
