"""``ParsedRack``: the rack as numbers, with everything that was doubtful beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from decalesce import scales
from decalesce.inventory.findings import Findings
from decalesce.inventory.measures import SCALES
from decalesce.inventory.table import Table, TextColumn
from decalesce.inventory.words import CONDITIONS, ELEMENTS, SHAPES


@dataclass(frozen=True, eq=False)
class ParsedRack:
    """A block of n rows, in the order of the source; no row is dropped or added.

    ``values``, ``half_width`` (n, 19) wt % in the order of ``words.ELEMENTS``: NaN is an unusable cell, 0 with
    status 3 an element nobody states. ``status`` (n, 19) 0 measured, 1 below limit, 2 filled, 3 not stated.
    ``role`` (n,) 0 bar, 1 ladle, 2 product analysis, 3 and 4 rows of limits. ``shape`` (n,) indexes ``SHAPES``,
    ``condition`` ``CONDITIONS``, ``hardness_scale`` and ``target_scale`` ``measures.SCALES``. Lengths mm,
    temperatures °C, NaN when not stated. ``grade_index`` (n,) indexes ``grades`` (-1: no grade found). ``table`` is
    the block as read, all columns.
    """

    table: Table
    values: NDArray[np.float64]
    half_width: NDArray[np.float64]
    status: NDArray[np.uint8]
    role: NDArray[np.uint8]
    piece_id: TextColumn
    grade_text: TextColumn
    heat_number: TextColumn
    shape: NDArray[np.uint8]
    thickness_mm: NDArray[np.float64]
    width_mm: NDArray[np.float64]
    length_mm: NDArray[np.float64]
    condition: NDArray[np.uint8]
    hardness: NDArray[np.float64]
    hardness_scale: NDArray[np.uint8]
    target: NDArray[np.float64]
    target_scale: NDArray[np.uint8]
    temperatures_C: dict[str, NDArray[np.float64]]
    grade_index: NDArray[np.int32]
    grades: tuple[Any, ...]
    findings: Findings

    def __len__(self) -> int:
        """The number of rows, that of the source."""
        return self.table.n_rows

    @property
    def elements(self) -> tuple[str, ...]:
        """The element order of the arrays."""
        return ELEMENTS

    @property
    def target_HRC(self) -> NDArray[np.float64]:
        """(n,) the wanted hardness in Rockwell C; Brinell and Vickers by the printed table, NaN off the C scale."""
        out = np.where(self.target_scale == SCALES.index("HRC"), self.target, np.nan)
        for scale in ("HB", "HV"):
            rows = self.target_scale == SCALES.index(scale)
            if rows.any():
                out[rows] = scales.convert(self.target[rows], scale, "HRC").value
        return out

    def content(self, element: str) -> NDArray[np.float64]:
        """(n,) wt % of one element. Raises ``KeyError`` for an element outside the list."""
        if element not in ELEMENTS:
            raise KeyError(f"{element!r} is no element of this table; expected one of {', '.join(ELEMENTS)}")
        return self.values[:, ELEMENTS.index(element)]

    def shape_names(self) -> list[str]:
        """The shape of each row in words."""
        return [SHAPES[code] for code in self.shape]

    def condition_names(self) -> list[str]:
        """The condition of each row in words."""
        return [CONDITIONS[code] for code in self.condition]

    def messages(self, row: int) -> tuple[str, ...]:
        """What was found in a row, as sentences, gravest first."""
        return self.findings.messages(row)

    def message_column(self) -> list[str]:
        """One text a row: its messages joined, "" where nothing was found."""
        return self.findings.message_column()
