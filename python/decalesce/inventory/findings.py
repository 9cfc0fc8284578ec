"""The store of findings: which rule struck which row and column.

A finding costs eight bytes while it is rare. Once a rule strikes more than about one row in a hundred of a column, the
rows are kept as one bit each, so that a rack in which *every* cell has a decimal comma costs no more than n/8 bytes a
column. The raw text is not copied: it is read back from the block the rack was parsed from.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.rules import CAUTION, LEVELS, Rule, rule_by_id, rule_by_number
from decalesce.inventory.table import FileNote, Table

_BYTES_A_FINDING = 8
_ROWS_A_PART = 5000


@dataclass(frozen=True)
class Finding:
    """One finding: ``row`` (-1: the file), the rule, the header of the column ("" when the row as a whole is meant) and
    the raw text of the cell."""

    row: int
    rule: Rule
    column: str
    raw: str

    @property
    def message(self) -> str:
        """The finding as sentences: where, what was read, what was assumed, what to do."""
        where = f"{self.column}: " if self.column else ""
        cell = f'"{self.raw}": ' if self.raw else ""
        return f"{self.rule.level_name}: {where}{cell}{self.rule.reason}"


@dataclass(frozen=True)
class _Dense:
    rule: int
    column: int
    bits: NDArray[np.uint8]
    count: int


@dataclass(frozen=True)
class Findings:
    """All findings of a block of n rows. Rows are block rows, starting at 0; ``file`` holds those about the file."""

    n_rows: int
    row: NDArray[np.int32]
    rule: NDArray[np.int16]
    column: NDArray[np.int16]
    dense: tuple[_Dense, ...]
    file: tuple[Finding, ...]
    table: Table

    def __len__(self) -> int:
        """How many findings there are, those about the file included."""
        return len(self.row) + sum(d.count for d in self.dense) + len(self.file)

    @property
    def nbytes(self) -> int:
        """Bytes the store takes beyond the block itself."""
        return int(self.row.nbytes + self.rule.nbytes + self.column.nbytes + sum(d.bits.nbytes for d in self.dense))

    def _make(self, row: int, rule: int, column: int) -> Finding:
        header = self.table.columns[column] if column >= 0 else ""
        raw = self.table.cells[column].at(row) if column >= 0 else ""
        return Finding(row, rule_by_number(rule), header, raw)

    def of_row(self, row: int) -> tuple[Finding, ...]:
        """The findings of one row, gravest first. Raises ``IndexError`` when there is no such row."""
        if not 0 <= row < self.n_rows:
            raise IndexError(f"row {row} is not in this block of {self.n_rows} rows")
        start, stop = np.searchsorted(self.row, [row, row + 1])
        found = [self._make(row, int(self.rule[i]), int(self.column[i])) for i in range(start, stop)]
        byte, bit = divmod(row, 8)
        found += [self._make(row, d.rule, d.column) for d in self.dense if d.bits[byte] >> (7 - bit) & 1]
        return tuple(sorted(found, key=lambda f: -f.rule.level))

    def messages(self, row: int) -> tuple[str, ...]:
        """The findings of one row as sentences, gravest first."""
        return tuple(f.message for f in self.of_row(row))

    def message_column(self) -> list[str]:
        """One text a row: its findings as sentences, gravest first, "" where nothing was found."""
        return [text for part in self.message_parts([""] * self.n_rows) for text in part]

    def message_parts(self, more: Sequence[str]) -> Iterator[list[str]]:
        """The same, with what ``more`` says of each row behind, some thousand rows at a time: the texts of a long rack
        take more room than all else. A sentence is written once for each distinct cell text."""
        rows: list[NDArray[np.int64]] = [np.empty(0, np.int64)]
        texts: list[NDArray[np.object_]] = [np.empty(0, object)]
        levels: list[NDArray[np.int64]] = [np.empty(0, np.int64)]
        for rule, column, struck in self._groups():
            level = rule_by_number(rule).level
            if column < 0:
                said = np.full(len(struck), Finding(0, rule_by_number(rule), "", "").message, dtype=object)
            else:
                cell = self.table.cells[column]
                kinds, at = np.unique(cell.codes[struck], return_inverse=True)
                header = self.table.columns[column]
                sentences = [Finding(0, rule_by_number(rule), header, cell.texts[k]).message for k in kinds]
                said = np.array(sentences, dtype=object)[at]
            rows.append(struck)
            texts.append(said)
            levels.append(np.full(len(struck), -level))
        row = np.concatenate(rows)
        order = np.lexsort((np.concatenate(levels), row))
        text = np.concatenate(texts)[order].tolist()
        ends = np.searchsorted(row[order], np.arange(self.n_rows), side="right").tolist()
        start = 0
        for first in range(0, self.n_rows, _ROWS_A_PART):
            part = []
            for i in range(first, min(first + _ROWS_A_PART, self.n_rows)):
                own = text[start : ends[i]]
                part.append(" | ".join([*own, more[i]] if more[i] else own))
                start = ends[i]
            yield part

    def _groups(self) -> Iterator[tuple[int, int, NDArray[np.int64]]]:
        """Rule, column and the rows struck."""
        pair = self.rule.astype(np.int64) * (len(self.table.columns) + 1) + self.column + 1
        for key in np.unique(pair):
            rule, column = divmod(int(key), len(self.table.columns) + 1)
            yield rule, column - 1, self.row[pair == key].astype(np.int64)
        for d in self.dense:
            yield d.rule, d.column, np.flatnonzero(np.unpackbits(d.bits, count=self.n_rows))

    def __iter__(self) -> Iterator[Finding]:
        """All findings: those about the file, then the rare ones by row, then the frequent ones by rule."""
        yield from self.file
        for i in range(len(self.row)):
            yield self._make(int(self.row[i]), int(self.rule[i]), int(self.column[i]))
        for d in self.dense:
            for row in np.flatnonzero(np.unpackbits(d.bits, count=self.n_rows)):
                yield self._make(int(row), d.rule, d.column)

    def count(self) -> dict[str, int]:
        """How often each rule struck, most frequent first."""
        total: Counter[str] = Counter(f.rule.id for f in self.file)
        numbers, counts = np.unique(self.rule, return_counts=True)
        for number, n in zip(numbers, counts, strict=True):
            total[rule_by_number(int(number)).id] += int(n)
        for d in self.dense:
            total[rule_by_number(d.rule).id] += d.count
        return dict(total.most_common())

    def mask(self, rule_id: str, column: str | int | None = None) -> NDArray[np.bool_]:
        """(n,) True where the rule struck (in that column: a header text or a column number)."""
        number = rule_by_id(rule_id).number
        wanted = range(-1, len(self.table.columns))
        if isinstance(column, int):
            wanted = range(column, column + 1)
        chosen = {c for c in wanted if not isinstance(column, str) or (c >= 0 and self.table.columns[c] == column)}
        out = np.zeros(self.n_rows, dtype=bool)
        hit = (self.rule == number) & np.isin(self.column, list(chosen))
        out[self.row[hit]] = True
        for d in self.dense:
            if d.rule == number and d.column in chosen:
                out |= np.unpackbits(d.bits, count=self.n_rows).astype(bool)
        return out

    def struck(self, column: int) -> NDArray[np.bool_]:
        """(n,) True where any rule struck the column."""
        out = np.zeros(self.n_rows, dtype=bool)
        out[self.row[self.column == column]] = True
        for d in self.dense:
            if d.column == column:
                out |= np.unpackbits(d.bits, count=self.n_rows).astype(bool)
        return out

    def worst_level(self) -> NDArray[np.uint8]:
        """(n,) gravest level a row: 0 nothing, 1 note, 2 caution, 3 stop."""
        out = np.zeros(self.n_rows, dtype=np.uint8)
        levels = np.array([rule_by_number(i).level for i in range(int(self.rule.max()) + 1)] if len(self.rule) else [0])
        if len(self.rule):
            np.maximum.at(out, self.row, levels[self.rule].astype(np.uint8))
        for d in self.dense:
            level = rule_by_number(d.rule).level
            hit = np.unpackbits(d.bits, count=self.n_rows).astype(bool)
            out[hit] = np.maximum(out[hit], level)
        return out

    def needs_attention(self) -> bool:
        """True when any finding is a caution or a stop."""
        return bool((self.worst_level() >= CAUTION).any()) or any(f.rule.level >= CAUTION for f in self.file)

    def summary(self) -> tuple[str, ...]:
        """One line a rule: level, id, how often."""
        return tuple(f"{LEVELS[rule_by_id(i).level]} {i}: {n}" for i, n in self.count().items())


class FindingsBuilder:
    """Gathers findings of a block of n rows and packs them."""

    def __init__(self, n_rows: int) -> None:
        """A builder for a block of that many rows."""
        self.n_rows = n_rows
        self._rows: dict[tuple[int, int], list[NDArray[np.int64]]] = {}
        self._file: list[FileNote] = []

    def add(self, rule: int, column: int, rows: NDArray[np.int64]) -> None:
        """The rule struck these rows of this column (-1: the row as a whole)."""
        if len(rows):
            self._rows.setdefault((rule, column), []).append(rows)

    def remove(self, rule: int, column: int, rows: NDArray[np.int64]) -> None:
        """The rule did not strike these rows of this column after all."""
        parts = self._rows.pop((rule, column), [])
        for part in parts:
            self.add(rule, column, np.setdiff1d(part, rows))

    def add_file(self, rule_id: str, seen: str = "") -> None:
        """The rule struck the file as a whole."""
        self._file.append(FileNote(rule_id, seen))

    def build(self, table: Table) -> Findings:
        """The packed store."""
        sparse: list[tuple[int, int, NDArray[np.int64]]] = []
        dense: list[_Dense] = []
        for (number, column), parts in self._rows.items():
            rows = np.unique(np.concatenate(parts))
            if len(rows) * _BYTES_A_FINDING > self.n_rows / 8:
                mask = np.zeros(self.n_rows, dtype=bool)
                mask[rows] = True
                dense.append(_Dense(number, column, np.packbits(mask), len(rows)))
            else:
                sparse.append((number, column, rows))
        row = np.concatenate([r for _, _, r in sparse]).astype(np.int32) if sparse else np.empty(0, np.int32)
        lengths = [len(r) for _, _, r in sparse]
        rule = np.repeat(np.array([n for n, _, _ in sparse], dtype=np.int16), lengths)
        col = np.repeat(np.array([c for _, c, _ in sparse], dtype=np.int16), lengths)
        order = np.argsort(row, kind="stable")
        file = tuple(Finding(-1, rule_by_id(n.rule_id), "", n.seen) for n in self._file)
        return Findings(self.n_rows, row[order], rule[order], col[order], tuple(dense), file, table)
