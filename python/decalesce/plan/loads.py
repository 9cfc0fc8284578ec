"""Which bars can share a furnace load: their windows overlap, and their tempers do."""

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from decalesce import data_files


@dataclass(frozen=True, slots=True)
class Load:
    """Rows that go together, and the range of temperatures (degC) that suits all of them."""

    rows: tuple[int, ...]
    coolest_C: float
    hottest_C: float


@cache
def _least_overlap_K() -> float:
    with data_files.path("tables/plan_rules.csv").open(encoding="utf-8", newline="") as stream:
        return next(float(row["value"]) for row in csv.DictReader(stream) if row["name"] == "share_load_K")


def share_loads(coolest_C: Any, hottest_C: Any) -> list[Load]:
    """Group ranges into as few loads as their overlaps allow, coolest load first.

    Args:
        coolest_C: lower ends (n,), degC: of the windows, or of the tempers that keep the hardness within 1 HRC.
        hottest_C: upper ends (n,). Rows with NaN go into no load.

    Returns:
        Loads whose members all overlap by at least the least overlap of data/tables/plan_rules.csv; every usable row is
        in one.

    The greedy choice by upper end gives the fewest loads there can be (interval stabbing).
    """
    low: NDArray[np.float64] = np.asarray(coolest_C, dtype=float)
    high: NDArray[np.float64] = np.asarray(hottest_C, dtype=float)
    least = _least_overlap_K()
    usable = np.flatnonzero(~np.isnan(low) & ~np.isnan(high))
    loads: list[Load] = []
    members: list[int] = []
    top = bottom = np.nan
    for row in usable[np.argsort(high[usable], kind="stable")]:
        if members and low[row] <= top - min(least, top - bottom):
            members.append(int(row))
            bottom = max(bottom, low[row])
            continue
        if members:
            loads.append(Load(tuple(sorted(members)), float(bottom), float(top)))
        members, bottom, top = [int(row)], low[row], high[row]
    if members:
        loads.append(Load(tuple(sorted(members)), float(bottom), float(top)))
    return loads


def shared_by_both(harden: Sequence[Load], temper: Sequence[Load]) -> list[tuple[int, ...]]:
    """Rows that share both a hardening and a tempering load, largest group first."""
    of_temper = {row: number for number, load in enumerate(temper) for row in load.rows}
    groups: dict[tuple[int, int], list[int]] = {}
    for number, load in enumerate(harden):
        for row in load.rows:
            if row in of_temper:
                groups.setdefault((number, of_temper[row]), []).append(row)
    return sorted((tuple(rows) for rows in groups.values() if len(rows) > 1), key=lambda rows: (-len(rows), rows))
