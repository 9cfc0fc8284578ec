"""What is wrong with a table as a whole: names that repeat, no header, a file that is not what its name says."""

import io
from pathlib import Path

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

import decalesce as dc
from decalesce.inventory import TableError, read_blocks, read_table

REPEATED = "piece,grade,C %,remark,grade,remark\nA1,1095,0.97,x,O1,y\nA2,O1,0.94,v,1095,w\nA3,1095,0.95,,,\n"
JUNK = bytes(np.random.default_rng(20261125).integers(0, 256, 400, dtype=np.uint8))


def ids(done: dc.inventory.Evaluation) -> dict[str, str]:
    return {finding.rule.id: finding.raw for finding in done.table_findings}


def frame() -> pd.DataFrame:
    header, *rows = (line.split(",") for line in REPEATED.splitlines())
    return pd.DataFrame(rows, columns=header)


@pytest.mark.parametrize("kind", ["csv", "pandas", "pyarrow"])
def test_names_that_repeat_lose_no_row_and_the_first_is_used(kind: str) -> None:
    whole = frame()
    arrow = pa.Table.from_arrays([pa.array(whole.iloc[:, i]) for i in range(6)], names=list(whole.columns))
    source = {"csv": REPEATED.encode(), "pandas": whole, "pyarrow": arrow}[kind]
    done = dc.inventory.evaluate(source)
    assert done.results.grade_found.tolist() == ["1095", "O1", "1095"]
    assert ids(done)["duplicate_header"] == "grade, grade"
    assert ids(done)["repeated_name"] == "remark"
    names = list(done.table.column_names if kind == "pyarrow" else done.table.columns)
    wanted = ["piece", "grade", "C %", "remark", "grade", "remark"]
    if kind == "csv":
        wanted[4:] = ["grade (2)", "remark (2)"]
    assert names[:6] == wanted
    table = done.table.to_pandas() if kind == "pyarrow" else done.table
    assert table.iloc[:, 5].tolist() == ["y", "w", ""]
    assert len(table) == 3


def test_a_table_without_repeated_names_is_not_told_of_any() -> None:
    assert not {"duplicate_header", "repeated_name"} & set(ids(dc.inventory.evaluate(frame().iloc[:, :4])))


@pytest.mark.parametrize("ending", [".csv", ".parquet", ".xlsx"])
def test_names_that_repeat_are_told_apart_in_a_file(ending: str, tmp_path: Path) -> None:
    rack = tmp_path / "rack.csv"
    rack.write_text("level,result_level,level,C,C (2),C,\n1,2,3,0.94,4,0.94,5\n", encoding="utf-8")
    output = tmp_path / f"out{ending}"
    told: list[dc.inventory.Finding] = []
    counts = dc.inventory.evaluate_file(rack, output, on_findings=told.extend)
    read = {".csv": pd.read_csv, ".parquet": pd.read_parquet, ".xlsx": pd.read_excel}[ending](output)
    assert list(read)[:6] == ["level", "result_level", "level (2)", "C", "C (2)", "C (3)"]
    assert sum(counts.values()) == len(read) == 1
    assert counts[read["result_result_level"][0]] == 1
    assert {"duplicate_header", "repeated_name", "columns_not_used"} <= {finding.rule.id for finding in told}


def test_a_finding_of_the_table_is_told_once_of_many_blocks(tmp_path: Path) -> None:
    rack = tmp_path / "rack.csv"
    rack.write_text("piece,C,owner\n" + "".join(f"A{i},0.95,me\n" for i in range(50)), encoding="utf-8")
    told: list[dc.inventory.Finding] = []
    dc.inventory.evaluate_file(rack, tmp_path / "out.csv", on_findings=told.extend, block_rows=10)
    assert [(finding.rule.id, finding.raw) for finding in told] == [("columns_not_used", "owner")]


def test_every_column_that_is_not_used_is_named() -> None:
    header = "piece,grade,steel,C %,Fe %,condition,hardness HB,hardening °C,owner,target HRC"
    found = ids(dc.inventory.evaluate(f"{header}\nA,O1,O1,0.94,97,,,,me,60\n".encode()))
    assert found["columns_not_used"].split(", ") == [
        "steel", "Fe %", "condition", "hardness HB", "hardening °C", "owner",
    ]  # fmt: skip
    assert "columns_not_used" not in ids(dc.inventory.evaluate(b"piece,grade,C %\nA,O1,0.94\n"))


@pytest.mark.parametrize(
    "text",
    [
        "PH-01,1075,round,annealed,57\nPH-02,1084,round,annealed,58\n",
        "PH-01,O1,round,annealed\nPH-02,,round,annealed\n",
        "PH-01;5 x 40;0,74\nPH-02;5 x 40;0,76\n",
        "PH-01;0,74;0,40;0,2\nPH-02;0,76;0,41;0,2\n",
        "PH-01\t1.2510\tround\nPH-02\t1.2510\tround\n",
    ],
)
@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_a_rack_without_header_keeps_its_first_bar(text: str, kind: str) -> None:
    source = text.encode()
    if kind == "xlsx":
        held = io.BytesIO()
        delimiter = next(mark for mark in ";\t," if mark in text)
        cells = pd.DataFrame([line.split(delimiter) for line in text.splitlines()])
        cells.to_excel(held, header=False, index=False)
        source = held.getvalue()
    done = dc.inventory.evaluate(source)
    assert done.table.iloc[:, 0].tolist() == ["PH-01", "PH-02"]
    assert "no_header" in ids(done)
    assert "put a header row above it" in done.table_findings[0].message


@pytest.mark.parametrize(
    "text",
    [
        "piece,grade,C %,2024\nA1,1095,0.95,x\n",
        "Certificate for,1095\nOrder,4500012345\npiece,grade,C %\nA1,1095,0.95\n",
        "Heat;12345;0.95;7\nstock;grade;owner;C\nA1;1095;me;0.95\n",
        "W;S;C\n0.5;0.01;0.95\n",
    ],
)
def test_a_header_is_not_taken_for_a_bar(text: str) -> None:
    done = dc.inventory.evaluate(text.encode())
    assert len(done) == 1
    assert "no_header" not in ids(done)
    assert done.results.carbon_wt[0] == pytest.approx(0.95)


def test_a_bar_in_the_names_of_a_dataframe_is_said() -> None:
    text = "A1,1095,0.95\nA2,1095,0.96\n"
    eaten = dc.inventory.evaluate(pd.read_csv(io.StringIO(text)))
    assert len(eaten) == 1
    assert ids(eaten)["names_are_data"] == "A1, 1095, 0.95"
    held = io.BytesIO()
    pq.write_table(pa.Table.from_pandas(pd.read_csv(io.StringIO(text))), held)
    assert "names_are_data" in ids(dc.inventory.evaluate(held.getvalue()))
    whole = dc.inventory.evaluate(pd.read_csv(io.StringIO(text), header=None))
    assert len(whole) == 2
    assert "no_header" in ids(whole)


@pytest.mark.parametrize("ending", [".xlsx", ".XLSX", ".xlsm", ".parquet"])
@pytest.mark.parametrize("data", [JUNK, b"\x89PNG\r\n\x1a\n" + JUNK, b"piece,C\nA1,0.95\n"])
def test_a_file_must_be_what_its_name_says(ending: str, data: bytes, tmp_path: Path) -> None:
    file = tmp_path / f"rack{ending}"
    file.write_bytes(data)
    for read in (read_table, lambda source: list(read_blocks(source)), dc.inventory.evaluate):
        with pytest.raises(ValueError, match=rf"rack{ending} is not what its name says") as raised:
            read(file)
        assert isinstance(raised.value, TableError)


def test_a_workbook_named_parquet_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "rack.parquet"
    with file.open("wb") as stream:
        frame().iloc[:, :4].to_excel(stream, index=False)
    with pytest.raises(TableError, match="it is not Parquet but a workbook file"):
        read_table(file)
    file.rename(tmp_path / "rack.dat")
    assert read_table(tmp_path / "rack.dat").n_rows == 3


def test_binary_data_is_no_table_and_text_with_a_stray_nul_is(tmp_path: Path) -> None:
    (tmp_path / "photo.csv").write_bytes(JUNK)
    with pytest.raises(TableError, match="binary data and no table"):
        read_table(tmp_path / "photo.csv")
    report = dc.inventory.Certificates.read(tmp_path).reports[0]
    assert report.own[0].rule.id == "certificate_unreadable"
    assert read_table(b"piece,C\nA\x001,0.95\nA2,0.96\nA3,0.97\n").n_rows == 3
    assert read_table("piece,C\nA1,0.95\n".encode("utf-16")).n_rows == 1


@pytest.mark.parametrize("ending", [".csv", ".parquet"])
def test_the_rack_and_its_certificates_are_not_overwritten(ending: str, tmp_path: Path) -> None:
    rack = tmp_path / f"rack{ending}"
    plain = pd.DataFrame({"piece": ["A1"], "heat": ["H1"], "C": ["0.95"]})
    plain.to_csv(rack, index=False) if ending == ".csv" else plain.to_parquet(rack)
    before = rack.read_bytes()
    link = tmp_path / f"link{ending}"
    link.symlink_to(rack)
    folder = tmp_path / "certificates"
    folder.mkdir()
    certificate = folder / "mill.csv"
    certificate.write_text("heat,C\nH1,0.95\n", encoding="utf-8")
    for output in (rack, str(rack), folder / ".." / rack.name, link):
        with pytest.raises(ValueError, match="would be lost"):
            dc.inventory.evaluate_file(rack, output)
    for given in (folder, [certificate], str(certificate)):
        with pytest.raises(ValueError, match="would be lost"):
            dc.inventory.evaluate_file(rack, certificate, certificates=given)
    assert rack.read_bytes() == before
    assert dc.inventory.evaluate_file(rack, folder / "other.csv", certificates=certificate)


def test_an_output_that_cannot_be_written_is_refused_before_the_work(tmp_path: Path) -> None:
    rack = tmp_path / "rack.csv"
    rack.write_text("piece,C\nA1,0.95\n", encoding="utf-8")
    (tmp_path / "out.csv").mkdir()
    rows: list[int] = []
    with pytest.raises(IsADirectoryError, match="is a folder"):
        dc.inventory.evaluate_file(rack, tmp_path / "out.csv", on_rows=rows.append)
    with pytest.raises(FileNotFoundError, match="No such file or directory"):
        dc.inventory.evaluate_file(rack, tmp_path / "none" / "out.csv", on_rows=rows.append)
    assert rows == []


def test_a_file_that_may_not_be_written_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rack = tmp_path / "rack.csv"
    rack.write_text("piece,C\nA1,0.95\n", encoding="utf-8")
    monkeypatch.setattr("os.access", lambda path, mode: False)
    with pytest.raises(PermissionError, match="may not be written"):
        dc.inventory.evaluate_file(rack, tmp_path / "out.csv")


def test_control_characters_do_not_break_a_workbook(tmp_path: Path) -> None:
    rack = tmp_path / "rack.csv"
    rack.write_text("piece,C,re\x07mark\nA\x1b[31m1,0.95,\x00\n", encoding="utf-8")
    dc.inventory.evaluate_file(rack, tmp_path / "out.xlsx")
    read = pd.read_excel(tmp_path / "out.xlsx")
    assert read["piece"][0] == r"A\x1b[31m1"
    assert list(read)[2] == r"re\x07mark"
    dc.inventory.evaluate_file(rack, tmp_path / "out.csv")
    assert pd.read_csv(tmp_path / "out.csv")["piece"][0] == "A\x1b[31m1", "a text file holds what came"
