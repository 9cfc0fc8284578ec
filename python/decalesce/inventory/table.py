"""What the file readers hand on: a table of texts, one column factorized into its distinct texts.

Nothing is converted to a number here, so nothing is lost: a heat number ``00123`` or ``1E5`` keeps its characters.
A rack repeats itself (grades, heats, sections), so each column is kept as its distinct texts and one code a row; the
parsing that follows looks at each distinct text once.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray


class TableError(ValueError):
    """The source cannot be read as a table at all (a PDF, a broken workbook, a wrong type)."""


@dataclass(frozen=True)
class TextColumn:
    """One column: ``texts`` (distinct), ``typed`` (same length: True where the source held a number, not text) and
    ``codes`` (n,) into them. The empty cell is the text ``""``."""

    texts: tuple[str, ...]
    typed: NDArray[np.bool_]
    codes: NDArray[np.int32]

    def __len__(self) -> int:
        """The number of rows."""
        return len(self.codes)

    def at(self, row: int) -> str:
        """The text of one row."""
        return self.texts[int(self.codes[row])]

    def to_list(self) -> list[str]:
        """All rows as texts."""
        return [self.texts[code] for code in self.codes]

    def to_arrow(self) -> Any:
        """All rows as a pyarrow dictionary array."""
        return pa.DictionaryArray.from_arrays(pa.array(self.codes), pa.array(list(self.texts), pa.string()))


@dataclass(frozen=True)
class FileNote:
    """A finding about the file as a whole: the rule's id, and what was seen."""

    rule_id: str
    seen: str


@dataclass(frozen=True)
class Table:
    """A block of rows as texts. ``columns`` keeps the headers as printed, duplicates too.

    ``units`` holds a unit for a column when a unit row stood below the header. ``row_notes`` maps a rule id to the
    rows it struck; ``first_row`` is the number of rows of the source that came before this block.
    """

    columns: tuple[str, ...]
    cells: tuple[TextColumn, ...]
    n_rows: int
    name: str = "table"
    first_row: int = 0
    units: tuple[str, ...] = ()
    notes: tuple[FileNote, ...] = ()
    row_notes: dict[str, NDArray[np.int64]] = field(default_factory=dict)

    @property
    def own_names(self) -> tuple[str, ...]:
        """The headers, each once: a repeated one gets a number behind it, a repeated empty one its place."""
        taken = set(self.columns)
        names: list[str] = []
        for i, header in enumerate(self.columns):
            name, number = header, 2
            while name in names or (number > 2 and name in taken):
                name = f"{header} ({number})" if header else f"column {i + number - 1}"
                number += 1
            names.append(name)
        return tuple(names)

    def row(self, row: int) -> dict[str, str]:
        """One row as header: text (a repeated header keeps its last column)."""
        return {name: column.at(row) for name, column in zip(self.columns, self.cells, strict=True)}


def column_from_arrow(array: Any) -> TextColumn:
    """A text column from a pyarrow array of any simple type. Nulls become the empty text."""
    if isinstance(array, pa.ChunkedArray):
        array = array.combine_chunks()
        if isinstance(array, pa.ChunkedArray):
            array = array.chunk(0) if array.num_chunks else pa.array([], pa.string())
    kind = array.type
    if pa.types.is_dictionary(kind):
        array = array.dictionary_decode()
        kind = array.type
    number = pa.types.is_integer(kind) or pa.types.is_floating(kind) or pa.types.is_decimal(kind)
    simple = number or pa.types.is_string(kind) or pa.types.is_large_string(kind) or pa.types.is_null(kind)
    if not simple:
        return column_from_objects(array.to_pylist())
    text = array if pa.types.is_string(kind) else pc.cast(array, pa.string())
    encoded = pc.dictionary_encode(pc.fill_null(text, ""))
    texts = tuple(str(t) for t in encoded.dictionary.to_pylist())
    codes = np.asarray(encoded.indices.to_numpy(zero_copy_only=False), dtype=np.int32)
    typed = np.full(len(texts), number)
    if number:
        typed &= np.array([t != "" for t in texts], dtype=bool)
    return TextColumn(texts, typed, codes)


def column_from_objects(values: Iterable[Any]) -> TextColumn:
    """A text column from Python objects of mixed type (a workbook's cells, an object column)."""
    seen: dict[tuple[str, bool], int] = {}
    codes = [seen.setdefault(_as_text(value), len(seen)) for value in values]
    texts = tuple(text for text, _ in seen)
    typed = np.array([is_typed for _, is_typed in seen], dtype=bool)
    return TextColumn(texts, typed, np.array(codes, dtype=np.int32))


def _as_text(value: Any) -> tuple[str, bool]:
    """The text of one object and whether it was a number."""
    if value is None:
        return "", False
    if isinstance(value, str):
        return value, False
    if isinstance(value, (bool, np.bool_)):
        return str(bool(value)), False
    if isinstance(value, (int, np.integer)):
        return str(int(value)), True
    if isinstance(value, (float, np.floating)):
        number = float(value)
        if math.isnan(number):
            return "", False
        return repr(number), True
    if isinstance(value, bytes):
        return value.decode("utf-8", errors="backslashreplace"), False
    text = str(value)
    return ("", False) if text in ("NaT", "<NA>") else (text, False)


def take_rows(column: TextColumn, start: int, stop: int) -> TextColumn:
    """The rows ``start:stop`` of a column; the distinct texts are shared."""
    return TextColumn(column.texts, column.typed, column.codes[start:stop])
