"""Lines to records: which delimiter, which quotes, where the header stands.

A clean block goes through pyarrow's CSV reader. A block with quotes or ragged lines is split line by line with the csv
module, because a rack holds ``3/16"``: a quote that is an inch mark must not swallow the lines below it.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice

import numpy as np
import pyarrow as pa
import pyarrow.csv as pa_csv
from numpy.typing import NDArray

from decalesce.inventory.data_row import evidence, is_data, is_number
from decalesce.inventory.headers import recognised
from decalesce.inventory.rules import CAUTION, STOP, rule
from decalesce.inventory.table import TextColumn, column_from_arrow
from decalesce.inventory.words import element_unit

DELIMITERS = (",", ";", "\t", "|", "^", "~", ":")
_LOOK = 60
_LOOK_CLOSE = 5
_QUOTED_LINES = 6


@rule(
    CAUTION, "row",
    read="a row with fewer cells than the header",
    assumed="the missing cells are at its end and not stated",
    do="look whether a delimiter was lost in this row",
)  # fmt: skip
def row_too_short(n_cells: int, n_columns: int) -> bool:
    """Trailing empty cells are often left out."""
    return n_cells < n_columns


@rule(
    STOP, "row",
    read="a row with more cells than the header",
    assumed="no content is used: the cells may have shifted",
    do="look for an unquoted decimal comma or a delimiter inside a cell",
)  # fmt: skip
def row_too_long(cells: Sequence[str], n_columns: int) -> bool:
    """``0,95`` in a comma-separated file makes two cells. Empty cells too many do no harm."""
    return any(cell.strip() for cell in cells[n_columns:])


@rule(
    CAUTION, "row",
    read="quotation marks that do not close",
    assumed="ordinary characters",
    do="look at the row",
)  # fmt: skip
def broken_quotes(cells: Sequence[str]) -> bool:
    """A lost quote must not swallow the rows below. A quote after a number is an inch mark and no damage."""
    return any(cell.lstrip(" ").startswith('"') for cell in cells)


@rule(CAUTION, "row", read="an empty row", assumed="a bar about which nothing is stated", do="fill it in or delete it")
def empty_row(cells: Sequence[TextColumn], n_rows: int) -> NDArray[np.int64]:
    """``;;;;``: the rows in which no column says anything."""
    empty = np.full(n_rows, bool(cells))
    for column in cells:
        if not empty.any():
            break
        empty &= np.array([not text.strip() for text in column.texts] or [True], dtype=bool)[column.codes]
    return np.flatnonzero(empty)


@dataclass(frozen=True)
class Layout:
    """How the lines of a file are laid out. ``header`` is the line that holds the headers (-1: none), ``first`` the
    first line of data, ``skipped`` lines of text above the header, ``units`` a unit row's cells."""

    delimiter: str
    columns: tuple[str, ...]
    header: int
    first: int
    skipped: int = 0
    units: tuple[str, ...] = ()
    doubtful: bool = False


def layout_of(lines: Sequence[str]) -> Layout | None:
    """The layout by vote over the first lines: the delimiter under which most headers are understood; then the one that
    cuts most lines into the same number of pieces. None for a file without any text."""
    head = list(lines[:_LOOK])
    if not any(line.strip() for line in head):
        return None
    declared = re.fullmatch(r'"?sep=(.)"?', head[0].strip(" "))
    candidates = (declared.group(1),) if declared else DELIMITERS
    start = 1 if declared else 0
    found = [_layout(head, delimiter, start) for delimiter in candidates]
    best = max(range(len(found)), key=lambda i: (*_vote(found[i], head), -i))
    score = _vote(found[best], head)
    doubtful = sum(_vote(layout, head) == score for layout in found) > 1 and len(found[best].columns) > 1
    chosen = found[best]
    return Layout(chosen.delimiter, chosen.columns, chosen.header, chosen.first, chosen.skipped, chosen.units, doubtful)


def _vote(layout: Layout, head: Sequence[str]) -> tuple[int, float, int, int]:
    """Headers understood, the share of lines as wide as the header; without a header then the cells that are numbers or
    grades, which a decimal comma taken for a delimiter destroys, and the width."""
    data = [line for line in head[layout.first :] if line.strip()]
    width = len(layout.columns)
    same = sum(len(split_line(line, layout.delimiter)) == width for line in data)
    share = (same / len(data) if data else 0.0) if width > 1 else 0.0
    if layout.header >= 0:
        return recognised(layout.columns), share, 0, 0
    sound = sum(evidence([cell.strip() for cell in split_line(line, layout.delimiter)]) for line in data[:_LOOK_CLOSE])
    return 0, share, sound, width


def _layout(head: Sequence[str], delimiter: str, start: int) -> Layout:
    rows = [[cell.strip() for cell in split_line(line, delimiter)] for line in head]
    at = header_row(rows[start:]) + start
    if at < start:
        width = max((len(row) for row in rows[start:] if any(row)), default=1)
        return Layout(delimiter, tuple(f"column {i + 1}" for i in range(width)), -1, start)
    columns = tuple(clean_header(cell) for cell in rows[at])
    while (
        len(columns) > 1
        and columns[-1] == ""
        and all(len(r) < len(columns) or r[len(columns) - 1] == "" for r in rows[at:])
    ):
        columns = columns[:-1]
    below = next((i for i in range(at + 1, len(rows)) if any(rows[i])), len(rows))
    units = unit_row(rows[below], len(columns)) if below < len(rows) else ()
    skipped = sum(any(row) for row in rows[start:at])
    return Layout(delimiter, columns, at, below + 1 if units else at + 1, skipped, units)


def clean_header(text: str) -> str:
    """A header on one line, without the quotes a damaged file leaves."""
    return " ".join(text.replace("\ufeff", "").split()).strip('"')


def header_row(rows: Sequence[Sequence[str]]) -> int:
    """The row with most understood headers among those that hold more words than numbers and are no bar; -1 when there
    is none. A row hardly understood is no header either when a bar stands above it."""
    best, best_score = -1, (0, 0)
    for i, row in enumerate(rows[:30]):
        filled = [cell for cell in row if cell]
        numbers = sum(is_number(cell) for cell in filled)
        if not filled or numbers * 2 > len(filled):
            continue
        score = (recognised(filled), -i)
        if score[0] > 0 and score > best_score and not is_data(row) and not _below_a_bar(rows[:i], filled, score[0]):
            best, best_score = i, score
    if best < 0 and rows:
        first = next((i for i, row in enumerate(rows) if any(row)), -1)
        texts = [cell for cell in rows[first] if cell] if first >= 0 else []
        if len(texts) > 1 and not any(re.search("[0-9]", cell) for cell in texts):
            return first
    return best


def _below_a_bar(above: Sequence[Sequence[str]], filled: Sequence[str], understood: int) -> bool:
    """True when fewer than half of the cells are understood and a row above, no narrower, is a bar."""
    wide = (row for row in above if sum(map(bool, row)) >= len(filled))
    return understood * 2 < len(filled) and any(is_data(row) for row in wide)


def unit_row(row: Sequence[str], width: int) -> tuple[str, ...]:
    """The cells of a row that holds units and nothing else, padded to the table's width; () when it is no such row."""
    filled = [cell for cell in row if cell]
    units = {"mm", "inch", "in", '"', "°c", "°f", "hrc", "hb", "hv", "-"}
    known = [element_unit(cell) is not None or cell.casefold().strip("[]()") in units for cell in filled]
    if not filled or not all(known) or all(cell == "-" for cell in filled):
        return ()
    return tuple((list(row) + [""] * width)[:width])


def split_line(line: str, delimiter: str) -> list[str]:
    """One line into its cells; a quote that does not close is an ordinary character."""
    if '"' not in line:
        return line.split(delimiter)
    try:
        return next(csv.reader([line], delimiter=delimiter, strict=True), [""])
    except csv.Error:
        return line.split(delimiter)


@dataclass
class Block:
    """A block of records as columns; row numbers of lines that were too short, too long or badly quoted."""

    cells: tuple[TextColumn, ...]
    n_rows: int
    short: list[int] = field(default_factory=list)
    long: list[int] = field(default_factory=list)
    broken: list[int] = field(default_factory=list)
    blank: int = 0


class RecordReader:
    """Cuts the lines of a file into blocks of records. ``block_rows`` is the number of lines a block starts from."""

    def __init__(self, lines: Iterator[str], layout: Layout) -> None:
        """A reader of the lines that follow the header."""
        self._lines = lines
        self._layout = layout
        self._waiting: list[str] = []

    def blocks(self, block_rows: int) -> Iterator[Block]:
        """The blocks, in order. A file without data gives none."""
        while lines := self._take(block_rows):
            kept = self._without_blank(lines)
            block = self._clean(kept) if kept else None
            if block is None:
                block = self._careful(kept)
            block.blank = len(lines) - len(kept)
            if block.n_rows or block.blank:
                yield block

    def _take(self, count: int) -> list[str]:
        taken = self._waiting[:count]
        self._waiting = self._waiting[count:]
        return taken + list(islice(self._lines, count - len(taken)))

    def _without_blank(self, lines: list[str]) -> list[str]:
        if len(self._layout.columns) > 1:
            return [line for line in lines if line.strip(" ")]
        while lines and not lines[-1].strip():
            lines = lines[:-1]
        return lines

    def _clean(self, lines: list[str]) -> Block | None:
        """The block through pyarrow; None when a line is ragged or a quote opens a cell (an inch mark inside one is
        fine)."""
        names = [str(i) for i in range(len(self._layout.columns))]
        joined = "\n".join(lines)
        if '"' in joined and re.search(rf'(?:^|{re.escape(self._layout.delimiter)}) *"', joined, re.MULTILINE):
            return None
        text = joined.encode("utf-8", "replace") + b"\n"
        try:
            table = pa_csv.read_csv(
                io.BytesIO(text),
                read_options=pa_csv.ReadOptions(column_names=names, use_threads=False, block_size=max(len(text), 1)),
                parse_options=pa_csv.ParseOptions(
                    delimiter=self._layout.delimiter, quote_char=False, ignore_empty_lines=False
                ),
                convert_options=pa_csv.ConvertOptions(
                    column_types=dict.fromkeys(names, pa.string()), strings_can_be_null=False
                ),
            )
        except pa.ArrowInvalid:
            return None
        if table.num_rows != len(lines):
            return None
        return Block(tuple(column_from_arrow(column) for column in table.columns), table.num_rows)

    def _careful(self, lines: list[str]) -> Block:
        width = len(self._layout.columns)
        rows: list[list[str]] = []
        block = Block((), 0)
        position = 0
        while position < len(lines):
            if width > 1 and not lines[position].strip(" "):
                position += 1
                continue
            cells, used, broken = self._record(lines, position)
            position += used
            if broken:
                block.broken.append(len(rows))
            if row_too_short(len(cells), width):
                block.short.append(len(rows))
                cells = cells + [""] * (width - len(cells))
            if row_too_long(cells, width):
                block.long.append(len(rows))
            rows.append(cells[:width])
        block.n_rows = len(rows)
        by_column = list(zip(*rows, strict=True)) if rows else [()] * width
        block.cells = tuple(column_from_arrow(pa.array(_encodable(column), pa.string())) for column in by_column)
        return block

    def _record(self, lines: list[str], position: int) -> tuple[list[str], int, bool]:
        """The cells of the record that starts at a line, how many lines it took and whether its quotes are damaged."""
        line, delimiter = lines[position], self._layout.delimiter
        if '"' not in line:
            return line.split(delimiter), 1, False
        width = len(self._layout.columns)
        literal = line.split(delimiter)
        try:
            cells = next(csv.reader([line], delimiter=delimiter, strict=True), [""])
        except csv.Error:
            joined = self._joined(lines, position) if len(literal) < width else None
            return joined or (literal, 1, broken_quotes(literal))
        if len(cells) != width and len(literal) == width:
            return literal, 1, True
        return cells, 1, False

    def _joined(self, lines: list[str], position: int) -> tuple[list[str], int, bool] | None:
        """A quoted cell with line breaks and no delimiter inside, when the record then has the right number of cells.

        Two damaged rows must not be taken for one: their lines together hold more cells than one record.
        """
        width = len(self._layout.columns)
        while len(lines) < position + _QUOTED_LINES and (more := self._take(1)):
            lines.extend(more)
        for used in range(2, min(_QUOTED_LINES, len(lines) - position) + 1):
            pieces = lines[position : position + used]
            if sum(piece.count(self._layout.delimiter) for piece in pieces) != width - 1:
                continue
            text = "\n".join(pieces)
            try:
                cells = next(
                    csv.reader(io.StringIO(text, newline=""), delimiter=self._layout.delimiter, strict=True), []
                )
            except csv.Error:
                continue
            if len(cells) == width:
                return cells, used, False
        return None


def _encodable(texts: Sequence[str]) -> Sequence[str]:
    """The texts without lone surrogates, which no file format can hold."""
    try:
        "".join(texts).encode("utf-8")
    except UnicodeEncodeError:
        return [text.encode("utf-8", "replace").decode("utf-8") for text in texts]
    return texts


def row_array(rows: Sequence[int]) -> NDArray[np.int64]:
    """Row numbers as an array."""
    return np.array(rows, dtype=np.int64)
