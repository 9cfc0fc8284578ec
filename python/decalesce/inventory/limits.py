"""The rules of thumb of the reader, read from ``reader_limits.csv`` (each row has a status and a reason)."""

from __future__ import annotations

import csv
from functools import lru_cache
from importlib import resources


@lru_cache(maxsize=1)
def limits() -> dict[str, float]:
    """Every number the reader judges by, by name; units stand in the table's ``unit`` column."""
    text = resources.files("decalesce.inventory").joinpath("reader_limits.csv").read_text(encoding="utf-8")
    return {row["name"]: float(row["value"]) for row in csv.DictReader(text.splitlines())}


def limit(name: str) -> float:
    """One number of the table. Raises ``KeyError`` when the name is unknown."""
    return limits()[name]
