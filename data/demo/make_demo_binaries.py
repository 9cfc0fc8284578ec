"""Make the two binary certificates of the demo rack from the text in binary_sources.

The XLSX and the Parquet file are kept in the repository as well (both under 20 kB); run this after changing their text.
The header row of the certificate sheet stands below title rows, and its heat number is a number cell,
as spreadsheets like it.
"""

import csv
from pathlib import Path

import openpyxl
import pyarrow as pa
import pyarrow.csv as pa_csv
import pyarrow.parquet as pq

HERE = Path(__file__).resolve().parent
SOURCES = HERE / "binary_sources"
CERTIFICATES = HERE / "certificates"


def cell(text: str) -> str | float | int | None:
    """Turn one text cell into what a spreadsheet would hold: a number where it can, nothing where empty."""
    if not text:
        return None
    for kind in (int, float):
        try:
            return kind(text)
        except ValueError:
            continue
    return text


def make_xlsx() -> Path:
    """Write the sheet of mill D: title rows, header, then the min, max and actual rows."""
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "certificate"
    with (SOURCES / "mill_d_certificate.csv").open(encoding="utf-8", newline="") as lines:
        for row in csv.reader(lines):
            sheet.append([cell(text) for text in row])
    path = CERTIFICATES / "mill_d_certificate.xlsx"
    book.save(path)
    return path


def make_parquet() -> Path:
    """Write the heat table of merchant 3: numbers as doubles, empty cells as nulls."""
    table = pa_csv.read_csv(SOURCES / "merchant_3_heats.csv")
    numbers = [name for name in table.column_names if name not in ("heat", "grade")]
    for name in numbers:
        table = table.set_column(table.column_names.index(name), name, table[name].cast(pa.float64()))
    path = CERTIFICATES / "merchant_3_heats.parquet"
    pq.write_table(table, path)
    return path


if __name__ == "__main__":
    for made in (make_xlsx(), make_parquet()):
        print(f"{made.name}: {made.stat().st_size} bytes")
