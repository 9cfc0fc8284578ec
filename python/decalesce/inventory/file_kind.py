"""What kind of file a stream holds. Its first bytes decide; a name that promises another kind is refused."""

from __future__ import annotations

from pathlib import PurePath
from typing import BinaryIO

from decalesce.inventory.table import TableError
from decalesce.inventory.text_lines import is_binary

TEXT, WORKBOOK, PARQUET = "text", "workbook", "parquet"
_REFUSED = (
    (b"%PDF", "a PDF: copy its table into a spreadsheet or a CSV file"),
    (b"\xd0\xcf\x11\xe0", "an old .xls workbook: save it as .xlsx or .csv"),
)
_MAGIC = ((b"PAR1", PARQUET), (b"PK\x03\x04", WORKBOOK))
_PROMISED = {".xlsx": (WORKBOOK, "a workbook"), ".xlsm": (WORKBOOK, "a workbook"), ".parquet": (PARQUET, "Parquet")}
_SAMPLE = 1 << 16


def kind_of(stream: BinaryIO, name: str) -> str:
    """``text``, ``workbook`` or ``parquet``; the stream is left at its start.

    Raises ``TableError`` when the file is a kind that cannot be read, when it is not what its name says, and when it
    holds bytes that are no text. An empty file is text: an empty table is a result.
    """
    head = stream.read(_SAMPLE)
    stream.seek(0)
    for magic, said in _REFUSED:
        if head.startswith(magic):
            raise TableError(f"{name} is {said}")
    kind = next((kind for magic, kind in _MAGIC if head.startswith(magic)), TEXT)
    promised, said = _PROMISED.get(PurePath(name).suffix.lower(), (kind, ""))
    if head and kind != promised:
        held = f"a {kind} file" if kind != TEXT else "binary data of another kind" if is_binary(head) else "text"
        raise TableError(
            f"{name} is not what its name says: it is not {said} but {held}; save the table again, or correct the name"
        )
    if kind == TEXT and is_binary(head):
        raise TableError(f"{name} holds binary data and no table: save the table as .csv, .xlsx or .parquet")
    return kind
