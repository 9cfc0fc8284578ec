"""Telling a bar from a header: a row that holds a known grade or a decimal number is no row of headers."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from decalesce import grades
from decalesce.inventory.headers import recognised
from decalesce.inventory.reading import plain
from decalesce.inventory.rules import STOP, rule

_NUMBER = re.compile(r"[-<>+]?[0-9.,]+( ?%| ?ppm)?")
_DECIMAL = re.compile(r"[<>]?[0-9]*[.,][0-9]+( ?%)?")
_LONGEST_GRADE = 30


def is_number(cell: str) -> bool:
    """True for a cell that is a number, with or without a unit of content."""
    return _NUMBER.fullmatch(plain(cell)) is not None


@lru_cache(maxsize=4096)
def _is_grade(cell: str) -> bool:
    """True for the name of a known grade. Every designation holds a digit; no word of a header is one."""
    if len(cell) > _LONGEST_GRADE or not re.search("[0-9]", cell):
        return False
    return grades.find_many([cell])[0].grade is not None


def evidence(cells: Sequence[str]) -> int:
    """How many cells are numbers or known grades."""
    return sum(is_number(cell) or _is_grade(cell) for cell in cells if cell)


def is_data(cells: Sequence[str]) -> bool:
    """True when a row is a bar and no header: it holds a known grade or a decimal number, and no fewer cells that are
    grades or numbers than cells that are understood as headers. A whole number alone (a year) may head a column."""
    filled = [cell for cell in cells if cell]
    graded = [cell for cell in filled if _is_grade(cell)]
    rest = [cell for cell in filled if cell not in graded]
    numbers = [cell for cell in rest if is_number(cell)]
    strong = len(graded) + sum(_DECIMAL.fullmatch(plain(cell)) is not None for cell in numbers)
    words = [cell for cell in rest if not is_number(cell)]
    return strong > 0 and len(graded) + len(numbers) >= recognised(words)


@rule(
    STOP, "file",
    read="column names that look like a bar: they hold a known grade or a content",
    assumed="names; the bar that stands in them is not evaluated",
    do="read the file again without a header row, and name the columns: piece id, grade, heat, C, Mn …",
)  # fmt: skip
def names_are_data(columns: Sequence[str]) -> bool:
    """A dataframe whose reader took the first bar of a file without headers for the headers."""
    return is_data(columns)


def numbered(columns: Sequence[str]) -> bool:
    """True for a dataframe without names: its columns are counted from 0."""
    return len(columns) > 0 and list(columns) == [str(i) for i in range(len(columns))]
