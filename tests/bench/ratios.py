"""Ratios of times in one run: ours against the twin doing the same work, result arrays included, one thread."""

import timeit
from collections.abc import Callable

from decalesce import _core

KERNELS = tuple(_core.kernels())
ROUNDS = 3


def best(work: Callable[[], object], repeats: int) -> float:
    """Shortest of some runs, s: what the machine can do when nothing else runs."""
    return min(timeit.repeat(work, number=1, repeat=repeats))


def ratio(name: str, ours: Callable[[], object], twin: Callable[[], object], least: float, repeats: int = 9) -> None:
    """Print both times and fail when ours is not ``least`` times faster in any of a few rounds.

    A round times ours, the twin and ours again; a neighbour on the machine may spoil one round.
    """
    for _ in range(ROUNDS):
        first = best(ours, repeats)
        theirs = best(twin, 3)
        mine = min(first, best(ours, repeats))
        print(f"{name}: {mine * 1e3:.1f} ms, NumPy {theirs * 1e3:.1f} ms, {theirs / mine:.1f} x (at least {least:g} x)")
        if theirs / mine >= least:
            return
    raise AssertionError(f"{name}: {theirs / mine:.1f} x NumPy, expected at least {least:g} x")
