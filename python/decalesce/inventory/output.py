"""Writing an evaluated rack: CSV and Parquet block by block, XLSX whole; and refusing what must not be written to."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pandas as pd

from decalesce._visible import visible

Writer = Callable[[Iterator[pd.DataFrame]], None]


def writer_to(output: str | Path, *inputs: Any) -> Writer:
    """What writes blocks to ``output``; nothing is opened before the first block comes.

    ``inputs`` are what is read: sources as `evaluate` takes them, lists of them, folders.

    Raises:
        ValueError: a name that ends in none of .csv, .parquet and .xlsx, or an output that is one of the inputs.
        OSError: the output is a folder, its folder does not exist, or it may not be written.
    """
    path = Path(output)
    write = {".csv": _to_csv, ".parquet": _to_parquet, ".xlsx": _to_workbook}.get(path.suffix.lower())
    if write is None:
        raise ValueError(f"output = {str(output)!r}; expected a name that ends in .csv, .parquet or .xlsx")
    for file in _files(inputs):
        if path.exists() and file.exists() and os.path.samefile(path, file):
            raise ValueError(f"output = {str(output)!r} is a file that is read, and would be lost; give another name")
    if path.is_dir():
        raise IsADirectoryError(f"output = {str(output)!r} is a folder; expected the name of a file")
    if not path.parent.is_dir():
        raise FileNotFoundError(f"output = {str(output)!r}: No such file or directory: {str(path.parent)!r}")
    if not os.access(path if path.exists() else path.parent, os.W_OK):
        raise PermissionError(f"output = {str(output)!r} may not be written; choose another folder or name")
    return lambda blocks: write(blocks, path)


def _files(source: Any) -> Iterator[Path]:
    """Every file among some sources."""
    if isinstance(source, (list, tuple)):
        for item in source:
            yield from _files(item)
    elif isinstance(source, (str, Path)):
        path = Path(source)
        yield from path.iterdir() if path.is_dir() else [path]


def _to_csv(blocks: Iterator[pd.DataFrame], path: Path) -> None:
    import pyarrow.csv

    _write(blocks, lambda schema: pyarrow.csv.CSVWriter(path, schema))


def _to_parquet(blocks: Iterator[pd.DataFrame], path: Path) -> None:
    import pyarrow.parquet

    _write(blocks, lambda schema: pyarrow.parquet.ParquetWriter(path, schema))


def _write(blocks: Iterator[pd.DataFrame], open_writer: Callable[[Any], Any]) -> None:
    """Writes blocks one after the other in the schema of the first."""
    import pyarrow

    writer = None
    try:
        for block in blocks:
            table = pyarrow.Table.from_pandas(block, preserve_index=False)
            if writer is None:
                writer = open_writer(table.schema)
                schema = table.schema
            writer.write_table(table.cast(schema))
    finally:
        if writer is not None:
            writer.close()


def _to_workbook(blocks: Iterator[pd.DataFrame], path: Path) -> None:
    """A workbook cannot hold control characters: they are written out."""
    whole = pd.concat(list(blocks))
    whole.map(_for_cell).rename(columns=visible).to_excel(path, index=False)


def _for_cell(value: Any) -> Any:
    """A text a cell may hold; line breaks stay."""
    return "\n".join(visible(line) for line in value.split("\n")) if isinstance(value, str) else value
