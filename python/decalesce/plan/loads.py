"""Which bars can share a furnace load: their windows overlap, and their tempers do."""

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import nan
from typing import Any

import numpy as np
from numpy.typing import NDArray

from decalesce import data_files
from decalesce._values import Comparable


@dataclass(frozen=True, slots=True, eq=False)
class Load(Comparable):
    """Rows that go together, the range of temperatures (degC) that suits all, and of times (s) where it was asked."""

    rows: tuple[int, ...]
    coolest_C: float
    hottest_C: float
    shortest_s: float = nan
    longest_s: float = nan


@cache
def _least_overlap_K() -> float:
    with data_files.path("tables/plan_rules.csv").open(encoding="utf-8", newline="") as stream:
        return next(float(row["value"]) for row in csv.DictReader(stream) if row["name"] == "share_load_K")


def _stab(
    rows: NDArray[np.intp], low: NDArray[np.float64], high: NDArray[np.float64], least: float
) -> list[tuple[list[int], float, float]]:
    """The fewest groups whose ranges all overlap by ``least``: greedy by upper end."""
    groups: list[tuple[list[int], float, float]] = []
    for row in rows[np.argsort(high[rows], kind="stable")]:
        if groups:
            members, bottom, top = groups[-1]
            if low[row] <= top - min(least, top - bottom):
                members.append(int(row))
                groups[-1] = (members, max(bottom, float(low[row])), top)
                continue
        groups.append(([int(row)], float(low[row]), float(high[row])))
    return groups


def share_loads(coolest_C: Any, hottest_C: Any, shortest_s: Any = None, longest_s: Any = None) -> list[Load]:
    """Group ranges into as few loads as their overlaps allow, coolest load first.

    Args:
        coolest_C: lower ends (n,), degC: of the windows, or of the tempers that keep the hardness within 1 HRC.
        hottest_C: upper ends (n,). Rows with NaN go into no load.
        shortest_s: shortest times (n,), s, from loading to quench (heat-up and hold); with ``longest_s`` a load is
            split where its members have no time in common.
        longest_s: longest times (n,), s.

    Returns:
        Loads whose members all overlap by at least the least overlap of data/tables/plan_rules.csv; every usable row is
        in one.

    The greedy choice by upper end gives the fewest loads there can be (interval stabbing); with times each load of
    temperatures is split into the fewest of times. Raises ValueError for one end of the times without the other.
    """
    low: NDArray[np.float64] = np.asarray(coolest_C, dtype=float)
    high: NDArray[np.float64] = np.asarray(hottest_C, dtype=float)
    if (shortest_s is None) != (longest_s is None):
        raise ValueError("shortest_s and longest_s belong together; expected both or neither")
    usable = ~np.isnan(low) & ~np.isnan(high)
    loads: list[Load] = []
    if shortest_s is None:
        groups = _stab(np.flatnonzero(usable), low, high, _least_overlap_K())
        return [Load(tuple(sorted(rows)), bottom, top) for rows, bottom, top in groups]
    short: NDArray[np.float64] = np.asarray(shortest_s, dtype=float)
    long: NDArray[np.float64] = np.asarray(longest_s, dtype=float)
    usable &= ~np.isnan(short) & ~np.isnan(long)
    for members, _, _ in _stab(np.flatnonzero(usable), low, high, _least_overlap_K()):
        for rows, shortest, longest in _stab(np.array(members), short, long, 0.0):
            loads.append(Load(tuple(sorted(rows)), float(low[rows].max()), float(high[rows].min()), shortest, longest))
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
