"""What limits the heating, in a word and a sentence."""

from dataclasses import dataclass
from typing import Any

from decalesce import _core
from decalesce.conduction import _numbers as args


@dataclass(frozen=True, slots=True)
class WhatLimits:
    """``limit`` is ``film``, ``both``, ``conduction`` or ``unknown``; ``sentence`` says what follows at the furnace."""

    biot: float
    limit: str
    sentence: str


def what_limits(biot: Any) -> WhatLimits:
    """Judge one Biot number (h L / k): below 0.1 the film limits, above 10 conduction, between them both.

    0.1 is the textbooks' limit for lumped answers (Incropera); 10 is the same ratio the other way round. NaN gives
    ``unknown``. Raises ValueError for a negative number, TypeError for an array.
    """
    value = args.zero_or_more("biot", biot, "one Biot number")
    if not isinstance(value, float):
        raise TypeError(f"biot = {biot!r}; expected one Biot number")
    return WhatLimits(value, *_core.what_limits(value))
