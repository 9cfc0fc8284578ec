"""Sources: encodings, delimiters, quotes, workbooks, Parquet, dataframes, empty files, wrong sources."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
import pytest
from fake_grades import find_many

from decalesce.inventory import ELEMENTS, TableError, parse, read_blocks, read_table

TEXT = """\
Stück-Nr.;Werkstoff;Schmelzen-Nr.;Abmessung;Härte HB;C;Mn %;N ppm
A1;1.2510;00123;Ø 25;217;0,95;1,10;80
A2;1095;1E5;3/16";;0,98;0,40;
"""


def check(data: bytes) -> None:
    rack = parse(read_table(data), find_many)
    assert len(rack) == 2
    assert rack.content("C").tolist() == [0.95, 0.98]
    assert rack.heat_number.to_list() == ["00123", "1E5"]
    assert rack.shape_names() == ["round", "plate"]
    assert rack.thickness_mm == pytest.approx([25.0, 4.7625])  # 1 inch = 25.4 mm exactly
    assert rack.hardness[0] == 217
    assert rack.content("N")[0] == pytest.approx(0.0080)


@pytest.mark.parametrize(
    "encoding",
    ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252", "latin-1", "cp850", "mac_roman"],
)
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_encodings(encoding: str, end: str) -> None:
    check(TEXT.replace("\n", end).encode(encoding))


@pytest.mark.parametrize("delimiter", ["\t", "|", "^"])
def test_delimiters(delimiter: str) -> None:
    check(TEXT.replace(";", delimiter).encode())


def test_comma_file_with_quoted_decimal_commas() -> None:
    frame = pd.DataFrame([line.split(";") for line in TEXT.splitlines()[1:]], columns=TEXT.splitlines()[0].split(";"))
    check(frame.to_csv(index=False).encode())


def test_declared_delimiter_and_line_in_a_cell() -> None:
    data = b'sep=;\npiece id;remark;C\nA1;"two\nlines";0.95\nA2;x;0.96\n'
    table = read_table(data)
    assert table.n_rows == 2
    assert table.cells[1].to_list() == ["two\nlines", "x"]


def test_inch_marks_do_not_swallow_rows() -> None:
    table = read_table(b'piece id;size;C\nA1;3/16" x 1";0.95\nA2;1/4";0.96\nA3;"5/8""";0.97\n')
    assert table.n_rows == 3
    assert table.cells[1].to_list() == ['3/16" x 1"', '1/4"', '5/8"']


def test_one_odd_line_among_utf8() -> None:
    data = "piece id;remark;C\nA1;für;0.95\n".encode() + "A2;für;0.96\n".encode("cp1252")
    assert read_table(data).cells[1].to_list() == ["für", "für"]


def test_path_stream_and_name(tmp_path: Path) -> None:
    file = tmp_path / "rack.csv"
    file.write_bytes(TEXT.encode())
    assert read_table(file).name == read_table(str(file)).name == "rack.csv"
    with file.open("rb") as stream:
        check(stream.read())
        stream.seek(0)
        assert read_table(stream).n_rows == 2


def test_workbook_keeps_texts_and_numbers() -> None:
    frame = pd.DataFrame(
        {
            "piece id": ["A1", "A2"],
            "heat": ["00123", 456],
            "size": ['3/16"', pd.Timestamp("2024-03-16")],
            "C": [0.9, "0,95"],
        }
    )
    buffer = io.BytesIO()
    frame.to_excel(buffer, index=False, startrow=2)
    rack = parse(read_table(buffer.getvalue()))
    assert rack.heat_number.to_list() == ["00123", "456"]
    assert rack.content("C").tolist() == [0.9, 0.95]
    assert "one_digit_carbon" not in rack.findings.count(), "a number cell has no trailing zeros to judge"
    assert np.flatnonzero(rack.findings.mask("size_became_date")).tolist() == [1]
    assert np.isnan(rack.thickness_mm[1])


def test_parquet_is_read_whole_and_in_blocks() -> None:
    n = 2500
    source = pa.table(
        {
            "piece id": [f"B{i}" for i in range(n)],
            "C": np.linspace(0.5, 1.0, n),
            "heat": pa.array(["01"] * n).dictionary_encode(),
        }
    )
    buffer = io.BytesIO()
    pq.write_table(source, buffer, row_group_size=600)
    whole = read_table(buffer.getvalue())
    blocks = list(read_blocks(buffer.getvalue(), block_rows=1000))
    assert [b.n_rows for b in blocks] == [1000, 1000, 500]
    assert [t for b in blocks for t in b.cells[0].to_list()] == whole.cells[0].to_list()
    assert parse(whole).content("C") == pytest.approx(np.linspace(0.5, 1.0, n), abs=0.01)


@pytest.mark.parametrize("kind", ["object", "string", "arrow", "categorical"])
def test_pandas(kind: str) -> None:
    frame = pd.DataFrame(
        {
            "piece id": ["A1", "A2", None],
            "grade": ["1095", None, "5160"],
            "C": ["0,95", "<1", None],
            "Mn": [0.4, np.nan, 0.85],
        }
    )
    if kind == "object":
        frame = frame.astype(object)
    elif kind == "string":
        frame = frame.convert_dtypes()
    elif kind == "categorical":
        frame["grade"] = frame["grade"].astype("category")
    rack = parse(read_table(pa.Table.from_pandas(frame) if kind == "arrow" else frame), find_many)
    assert len(rack) == 3
    assert rack.content("C")[0] == 0.95
    assert rack.content("C")[2] == pytest.approx(0.60)  # middle of 0.56-0.64, SAE J404
    assert rack.status[1, ELEMENTS.index("Mn")] == 3
    assert rack.content("Mn")[2] == 0.85


def test_polars() -> None:
    import polars as pl

    frame = pl.DataFrame({"piece id": ["A1", "A2"], "C": ["0,95", None], "Mn": [0.4, float("nan")]})
    for source in (frame, frame.lazy()):
        rack = parse(read_table(source))
        assert rack.content("C")[0] == 0.95
        assert rack.content("Mn")[0] == 0.4
        assert np.isnan(rack.content("Mn")[1]), "NaN given by the user means unusable"


def test_duplicate_headers_of_a_dataframe() -> None:
    frame = pd.DataFrame([["A1", "0.94", "0.96"]], columns=["piece id", "C", "C"])
    table = read_table(frame)
    assert table.columns == ("piece id", "C", "C")
    assert parse(table).content("C")[0] == pytest.approx(0.95)


@pytest.mark.parametrize("data", [b"", b"\n\n", b"\xef\xbb\xbf", b"piece id;C\n", b"piece id;C"])
def test_no_rows_is_a_result(data: bytes) -> None:
    rack = parse(read_table(data))
    assert len(rack) == 0
    assert rack.values.shape == (0, len(ELEMENTS))
    assert {f.rule.id for f in rack.findings.file} & {"empty_file", "no_rows"}
    assert len(list(read_blocks(data))) == 1


def test_empty_frames() -> None:
    assert len(parse(read_table(pd.DataFrame()))) == 0
    assert len(parse(read_table(pd.DataFrame({"C": []})))) == 0


def test_what_is_no_table_is_refused(tmp_path: Path) -> None:
    for data, words in (
        (b"%PDF-1.7", "PDF"),
        (b"\xd0\xcf\x11\xe0old", "xls"),
        (b"PK\x03\x04broken", "workbook"),
        (b"PAR1broken", "Parquet"),
    ):
        with pytest.raises(TableError, match=words):
            read_table(data)
    with pytest.raises(TypeError, match="int"):
        read_table(5)
    with pytest.raises(OSError, match="none"):
        read_table(tmp_path / "none.csv")
    with pytest.raises(ValueError, match="block_rows = 0"):
        next(read_blocks(b"C\n1\n", block_rows=0))


def test_the_row_order_and_all_columns_come_back() -> None:
    table = read_table(TEXT.encode())
    assert table.row(1) == dict(zip(table.columns, TEXT.splitlines()[2].split(";"), strict=True))
