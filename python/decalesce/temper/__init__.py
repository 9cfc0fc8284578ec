"""The temper: how temperature and time soften the quenched steel.

Two questions that need no steel: `parameter`, `equivalent_temperature` and `equivalent_time` turn one temper into
another that does the same. Two that need the quenched steel (`decalesce.AsQuenched`, never the bar's composition):
`hardness` after a temper, and `temperature_for` a wanted hardness. `practice` says what the trade does with a grade.

A temper is a `decalesce.History`, a pair (temperature, time), or a list of those: several tempers one after the other.
"""

from decalesce.temper.equivalence import (
    Equivalent,
    TemperParameter,
    equivalent_temperature,
    equivalent_time,
    parameter,
)
from decalesce.temper.practice import Note, embrittles_back, practice, tempers_usual
from decalesce.temper.setting import TemperSetting, temperature_for
from decalesce.temper.tempered import TemperedHardness, hardness, hardness_rows

__all__ = [
    "Equivalent",
    "Note",
    "TemperParameter",
    "TemperSetting",
    "TemperedHardness",
    "embrittles_back",
    "equivalent_temperature",
    "equivalent_time",
    "hardness",
    "hardness_rows",
    "parameter",
    "practice",
    "temperature_for",
    "tempers_usual",
]
