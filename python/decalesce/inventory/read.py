"""Reading a rack or a certificate into a table of texts: CSV and its kin, XLSX, Parquet, any dataframe.

``read_table`` reads a source whole, ``read_blocks`` streams CSV and Parquet. Nothing becomes a number here. An
empty file or a file of headers only gives a table without rows and a finding; what cannot be a table at all raises
``TableError``.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain, islice
from pathlib import Path
from typing import Any, BinaryIO

import narwhals as nw
import numpy as np
import pyarrow as pa

from decalesce.inventory.data_row import names_are_data, numbered
from decalesce.inventory.file_kind import PARQUET, TEXT, WORKBOOK, kind_of
from decalesce.inventory.headers import recognised
from decalesce.inventory.records import (
    Block,
    Layout,
    RecordReader,
    broken_quotes,
    clean_header,
    empty_row,
    header_row,
    layout_of,
    row_array,
    row_too_long,
    row_too_short,
    unit_row,
)
from decalesce.inventory.rules import CAUTION, NOTE, STOP, rule
from decalesce.inventory.table import (
    FileNote,
    Table,
    TableError,
    TextColumn,
    column_from_arrow,
    column_from_objects,
    take_rows,
)
from decalesce.inventory.text_lines import detect_encoding, lines_of, open_source

BLOCK_ROWS = 100_000


# --- rules about the file: each says from what was seen whether it applies -------------------------------------


@rule(STOP, "file", read="an empty file", assumed="a rack without bars", do="give a file with a header and rows")
def empty_file(columns: Sequence[str]) -> bool:
    """No text at all."""
    return not columns


@rule(CAUTION, "file", read="headers and no row", assumed="a rack without bars", do="fill in the bars")
def no_rows(columns: Sequence[str], n_rows: int) -> bool:
    """A header only."""
    return bool(columns) and n_rows == 0


@rule(
    STOP, "file",
    read="a table whose first row is data and no header",
    assumed="a bar in each row, columns of unknown meaning",
    do="put a header row above it: piece id, grade, heat, C, Mn …",
)  # fmt: skip
def no_header(header_line: int) -> bool:
    """The first row stays a row."""
    return header_line < 0


@rule(NOTE, "file", read="lines of text above the header", assumed="no bars", do="nothing")
def lines_above_header(skipped: int) -> bool:
    """A letterhead."""
    return skipped > 0


@rule(NOTE, "file", read="a row of units below the header", assumed="the units of the columns", do="nothing")
def unit_row_below_header(units: Sequence[str]) -> bool:
    """``%``, ``%``, ``ppm``."""
    return any(units)


@rule(NOTE, "file", read="blank lines", assumed="no bars", do="nothing")
def blank_lines(count: int) -> bool:
    """Lines without any character, or blank rows below the last bar of a workbook."""
    return count > 0


@rule(
    NOTE, "file",
    read="a file that does not say its encoding",
    assumed="the encoding named here",
    do="look at the headers and words with accents; save the file as UTF-8 if they are wrong",
)  # fmt: skip
def encoding_guessed(guessed: bool) -> bool:
    """Neither a byte-order mark nor valid UTF-8."""
    return guessed


@rule(
    CAUTION, "file",
    read="a file that two delimiters cut equally well",
    assumed="the delimiter named here",
    do="look whether the columns are right",
)  # fmt: skip
def delimiter_doubtful(doubtful: bool) -> bool:
    """The vote was a draw."""
    return doubtful


@rule(
    NOTE, "file",
    read="a workbook with several sheets",
    assumed="the sheet named here, which has most headers that are understood",
    do="save another sheet by itself if it was meant",
)  # fmt: skip
def other_sheets(count: int) -> bool:
    """Only one sheet is read."""
    return count > 1


# --- the readers ------------------------------------------------------------------------------------------------------


def read_table(source: Any) -> Table:
    """Read a source whole.

    ``source`` is a path, bytes, a binary stream, or a dataframe (pandas, polars, pyarrow or any that narwhals
    takes). Raises ``OSError`` when a path cannot be opened, ``TableError`` when the source is no table, and
    ``TypeError`` naming the type when it is none of these.
    """
    if not isinstance(source, (str, Path, bytes)) and not hasattr(source, "read"):
        return _from_frame(source, "table")
    stream, name = open_source(source)
    with stream:
        kind = kind_of(stream, name)
        if kind == WORKBOOK:
            return _from_workbook(stream, name)
        if kind == PARQUET:
            return _from_arrow(_parquet(stream, name).read(), name)
        blocks = list(_text_blocks(stream, name, None))
        return blocks[0]


def read_blocks(source: Any, block_rows: int = BLOCK_ROWS) -> Iterator[Table]:
    """Read a source in blocks of about ``block_rows`` rows; at least one table comes. XLSX and dataframes are held
    whole and cut. Raises as ``read_table`` does, and ``ValueError`` when ``block_rows`` is below 1."""
    if block_rows < 1:
        raise ValueError(f"block_rows = {block_rows}: expected a whole number of at least 1")
    if isinstance(source, (str, Path, bytes)) or hasattr(source, "read"):
        stream, name = open_source(source)
        with stream:
            kind = kind_of(stream, name)
            if kind == PARQUET:
                yield from _parquet_blocks(stream, name, block_rows)
                return
            if kind == TEXT:
                yield from _text_blocks(stream, name, block_rows)
                return
            table = _from_workbook(stream, name)
    else:
        table = _from_frame(source, "table")
    for start in range(0, max(table.n_rows, 1), block_rows):
        yield _slice(table, start, min(start + block_rows, table.n_rows))


def _text_blocks(stream: BinaryIO, name: str, block_rows: int | None) -> Iterator[Table]:
    encoding = detect_encoding(stream)
    lines = lines_of(stream, encoding)
    head = list(islice(lines, 200))
    layout = layout_of(head)
    if layout is None:
        yield Table((), (), 0, name, notes=_note(empty_file, (), seen=name))
        return
    notes = (
        *_note(encoding_guessed, encoding.guessed, seen=encoding.name),
        *_note(no_header, layout.header),
        *_note(delimiter_doubtful, layout.doubtful, seen=layout.delimiter),
        *_note(lines_above_header, layout.skipped, seen=str(layout.skipped)),
        *_note(unit_row_below_header, layout.units, seen=" ".join(u for u in layout.units if u)),
    )
    reader = RecordReader(chain(head[layout.first :], lines), layout)
    first_row = 0
    for block in reader.blocks(block_rows or 1 << 62):
        notes = (*notes, *_note(blank_lines, block.blank, seen=str(block.blank)))
        if block.n_rows:
            yield _block_table(block, layout, name, first_row, notes)
            notes = ()
        first_row += block.n_rows
    if first_row == 0:
        empty = tuple(TextColumn((), np.zeros(0, bool), np.zeros(0, np.int32)) for _ in layout.columns)
        notes = (*notes, *_note(no_rows, layout.columns, 0, seen=name))
        yield Table(layout.columns, empty, 0, name, notes=notes, units=layout.units)


def _block_table(block: Block, layout: Layout, name: str, first_row: int, notes: tuple[FileNote, ...]) -> Table:
    row_notes = {
        row_too_short.__name__: row_array(block.short),
        row_too_long.__name__: row_array(block.long),
        broken_quotes.__name__: row_array(block.broken),
        empty_row.__name__: empty_row(block.cells, block.n_rows),
    }
    row_notes = {key: rows for key, rows in row_notes.items() if len(rows)}
    return Table(layout.columns, block.cells, block.n_rows, name, first_row, layout.units, notes, row_notes)


def _note(function: Callable[..., bool], *arguments: Any, seen: str = "") -> tuple[FileNote, ...]:
    """The finding of a file rule, when it applies."""
    return (FileNote(function.__name__, seen),) if function(*arguments) else ()


def _parquet(stream: BinaryIO, name: str) -> Any:
    import pyarrow.parquet as pq

    try:
        return pq.ParquetFile(stream)
    except (pa.ArrowException, OSError) as problem:
        raise TableError(f"{name} looks like Parquet but cannot be read: {problem}") from problem


def _parquet_blocks(stream: BinaryIO, name: str, block_rows: int) -> Iterator[Table]:
    first_row = 0
    waiting: list[Any] = []
    for batch in _parquet(stream, name).iter_batches(batch_size=block_rows):
        waiting.append(batch)
        held = pa.Table.from_batches(waiting)
        if held.num_rows >= block_rows:
            yield _from_arrow(held.slice(0, block_rows), name, first_row)
            first_row += block_rows
            waiting = held.slice(block_rows).to_batches()
    if waiting:
        yield _from_arrow(pa.Table.from_batches(waiting), name, first_row)
    elif first_row == 0:
        yield _from_arrow(_parquet(stream, name).read(), name)


def _from_arrow(table: Any, name: str, first_row: int = 0) -> Table:
    cells = tuple(column_from_arrow(column) for column in table.columns)
    return _frame_table(tuple(clean_header(str(c)) for c in table.column_names), cells, table.num_rows, name, first_row)


def _frame_table(
    columns: tuple[str, ...], cells: tuple[TextColumn, ...], n_rows: int, name: str, first_row: int = 0
) -> Table:
    notes = (*_note(empty_file, columns), *_note(no_rows, columns, n_rows))
    notes += _note(no_header, -1 if numbered(columns) else 0) + _note(names_are_data, columns, seen=", ".join(columns))
    empty = empty_row(cells, n_rows)
    row_notes = {empty_row.__name__: empty} if len(empty) else {}
    return Table(columns, cells, n_rows, name, first_row, notes=notes if not first_row else (), row_notes=row_notes)


def _from_frame(frame: Any, name: str) -> Table:
    if isinstance(frame, (pa.Table, pa.RecordBatch)):
        return _from_arrow(frame if isinstance(frame, pa.Table) else pa.Table.from_batches([frame]), name)
    import pandas as pd

    headers: list[str] | None = None
    if isinstance(frame, pd.DataFrame):
        labels: Iterable[object] = frame.columns
        headers = [" ".join(map(str, c)) if isinstance(c, tuple) else str(c) for c in labels]
        frame = frame.set_axis([str(i) for i in range(len(headers))], axis=1)
    try:
        native = nw.from_native(frame)
    except TypeError as problem:
        raise TypeError(
            f"source is a {type(frame).__name__}; expected a path, bytes, a binary stream or a dataframe "
            "(pandas, polars, pyarrow)"
        ) from problem
    eager = native.collect() if isinstance(native, nw.LazyFrame) else native
    cells = tuple(_frame_column(eager[column]) for column in eager.columns)
    columns = tuple(clean_header(h) for h in (headers or eager.columns))
    return _frame_table(columns, cells, eager.shape[0], name)


def _frame_column(series: Any) -> TextColumn:
    if series.dtype == nw.Object:
        return column_from_objects(series.to_list())
    return column_from_arrow(pa.chunked_array([series.to_arrow()]))


def _from_workbook(stream: BinaryIO, name: str) -> Table:
    import zipfile

    import pandas as pd

    try:
        book = pd.read_excel(
            io.BytesIO(stream.read()), sheet_name=None, header=None, dtype=object, na_filter=False, engine="openpyxl"
        )
    except (ValueError, KeyError, OSError, zipfile.BadZipFile) as problem:
        raise TableError(f"{name} looks like a workbook but cannot be read: {problem}") from problem
    heads = {sheet: _sheet_head(frame) for sheet, frame in book.items()}
    chosen = max(heads, key=lambda sheet: (max((recognised(row) for row in heads[sheet]), default=0), len(book[sheet])))
    notes = _note(other_sheets, len(book), seen=str(chosen))
    return _from_sheet(book[chosen], heads[chosen], name, notes)


def _sheet_head(frame: Any) -> list[list[str]]:
    return [
        [clean_header("" if cell is None else str(cell)) for cell in row] for row in frame.head(30).to_numpy().tolist()
    ]


def _from_sheet(frame: Any, head: list[list[str]], name: str, notes: tuple[FileNote, ...]) -> Table:
    if not any(any(row) for row in head):
        return Table((), (), 0, name, notes=(*notes, *_note(empty_file, (), seen=name)))
    at = header_row(head)
    columns = tuple(head[at]) if at >= 0 else tuple(f"column {i + 1}" for i in range(frame.shape[1]))
    units = unit_row(head[at + 1], len(columns)) if 0 <= at < len(head) - 1 else ()
    body = frame.iloc[at + 1 + bool(units) :]
    cells = [column_from_objects(body.iloc[:, i].tolist()) for i in range(body.shape[1])]
    blank = empty_row(cells, len(body))
    n_rows = len(body)
    while len(blank) and blank[-1] == n_rows - 1:
        n_rows, blank = n_rows - 1, blank[:-1]
    kept = [i for i, column in enumerate(columns) if column or any(text.strip() for text in cells[i].texts)]
    notes += _note(no_header, at) + _note(lines_above_header, at, seen=str(at))
    notes += _note(unit_row_below_header, units, seen=" ".join(u for u in units if u))
    notes += _note(blank_lines, len(body) - n_rows, seen=str(len(body) - n_rows)) + _note(no_rows, columns, n_rows)
    return Table(
        tuple(columns[i] for i in kept),
        tuple(take_rows(cells[i], 0, n_rows) for i in kept),
        n_rows,
        name,
        units=tuple(units[i] for i in kept) if units else (),
        notes=notes,
        row_notes={empty_row.__name__: blank} if len(blank) else {},
    )


def _slice(table: Table, start: int, stop: int) -> Table:
    row_notes = {key: rows[(rows >= start) & (rows < stop)] - start for key, rows in table.row_notes.items()}
    return Table(
        table.columns,
        tuple(take_rows(column, start, stop) for column in table.cells),
        stop - start,
        table.name,
        start,
        table.units,
        table.notes if start == 0 else (),
        {key: rows for key, rows in row_notes.items() if len(rows)},
    )
