"""What a parser remembers of earlier blocks: one number a piece id and two a heat, in sorted arrays.

Sixteen bytes a row at most, so that a million bars stream through. Texts are hashed with ``blake2b``, whose result does
not change from run to run.
"""

from __future__ import annotations

from hashlib import blake2b

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.rules import CAUTION, rule
from decalesce.inventory.work import Work

_Keys = NDArray[np.uint64]


@rule(
    CAUTION, "row",
    read="a piece id that stood on a row of an earlier block",
    assumed="several bars",
    do="number the bars apart, or delete the repeated row",
)  # fmt: skip
def piece_id_seen_before(work: Work, seen: NDArray[np.bool_]) -> None:
    """The earlier row is already on its way: only the later one can be flagged."""
    work.strike(piece_id_seen_before, work.columns.get("piece_id", -1), seen)


@rule(
    CAUTION, "row",
    read="a heat number that stood on a row of an earlier block",
    assumed="this row's own analysis: it was not compared with the earlier one",
    do="sort the rack by heat number, or read it in one block",
)  # fmt: skip
def heat_seen_before(work: Work, seen: NDArray[np.bool_]) -> None:
    """Struck only when the row's contents differ from the last ones seen of that heat."""
    work.strike(heat_seen_before, work.columns.get("heat_number", -1), seen)


class BlockMemory:
    """Ids and heats of the blocks already parsed."""

    def __init__(self) -> None:
        """A memory without any block."""
        self._pieces: _Keys = np.empty(0, np.uint64)
        self._heats: _Keys = np.empty(0, np.uint64)
        self._first_block = True

    def judge(self, work: Work) -> None:
        """Strike the rows whose id or heat came in an earlier block, then remember this block."""
        pieces = _hashes(work.piece_texts)
        chemistry = _chemistry(work)
        heat_keys = _hashes(work.heat_texts)
        heat_rows = heat_keys[np.maximum(work.heat, 0)] if len(heat_keys) else np.zeros(work.n, np.uint64)
        pairs = heat_rows ^ chemistry
        if not self._first_block:
            known = np.isin(pieces, self._pieces) if len(pieces) else np.zeros(1, dtype=bool)
            piece_id_seen_before(work, known[np.maximum(work.piece, 0)] & (work.piece >= 0))
            again = np.isin(heat_rows, self._heats) & (work.heat >= 0) & ~np.isin(pairs, self._heats)
            heat_seen_before(work, again)
        self._pieces = np.union1d(self._pieces, pieces)
        stated = work.heat >= 0
        self._heats = np.union1d(self._heats, np.concatenate([heat_rows[stated], pairs[stated]]))
        self._first_block = False


def _hashes(texts: tuple[str, ...]) -> _Keys:
    digests = (blake2b(t.encode("utf-8", "surrogatepass"), digest_size=8).digest() for t in texts)
    return np.frombuffer(b"".join(digests), dtype=np.uint64)


def _chemistry(work: Work) -> _Keys:
    """A number a row that is the same for the same contents (to 0.0001 %)."""
    rounded = np.round(np.nan_to_num(work.values, nan=-1.0) * 1e4).astype(np.int64).astype(np.uint64)
    weights = (np.arange(1, rounded.shape[1] + 1, dtype=np.uint64) * np.uint64(0x9E3779B97F4A7C15)) | np.uint64(1)
    with np.errstate(over="ignore"):
        mixed: _Keys = (rounded * weights).sum(axis=1, dtype=np.uint64)
        mixed ^= mixed >> np.uint64(31)
        return mixed * np.uint64(0xD6E8FEB86659FD93)
