"""``decalesce inventory``: what it refuses, what it says of the table, and how a long answer goes out."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from cli_runs import DRIVER, document, process, run
from decalesce._visible import in_json, visible
from decalesce.cli.document import Rows, dump
from test_inventory_tables import JUNK

CONTROL = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u202e]")
STEERING = "\x1b[2J\x07\x9b31m\u202e"


def written(path: Path, text: str) -> str:
    path.write_text(text, encoding="utf-8")
    return str(path)


# --- the table as a whole ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("text", "rule"), [("", "empty_file"), ("\n\n", "empty_file"), ("piece,C %\n", "no_rows")])
def test_a_rack_without_bars_fails_under_strict(tmp_path: Path, text: str, rule: str) -> None:
    rack = written(tmp_path / "rack.csv", text)
    for more in ((), ("--json",), ("--output", str(tmp_path / "out.csv"))):
        assert run("inventory", rack, "--strict", *more).code == 1
    found = document("inventory", rack)
    assert [finding["rule"] for finding in found["table"]] == [rule]
    assert found["level"] == found["table"][0]["level"] != "note"
    assert "The table as a whole" in run("inventory", rack).out


def test_two_grade_columns_and_columns_that_are_not_used_are_said(tmp_path: Path) -> None:
    text = "piece,grade,steel,C %,owner\nA1,O1,W1,0.94,me\n"
    rack = written(tmp_path / "rack.csv", text)
    said = " ".join(run("inventory", rack).out.split())
    assert "caution: grade, steel: Read: two columns with the same meaning" in said
    assert "note: steel, owner: Read: columns from which nothing is computed" in said
    found = document("inventory", rack)
    assert found["bars"][0]["grade_found"] == "O1"
    assert {finding["rule"]: finding["seen"] for finding in found["table"]} == {
        "duplicate_header": "grade, steel",
        "columns_not_used": "steel, owner",
    }
    assert all(finding["message"].startswith(finding["level"]) for finding in found["table"])


def test_a_long_rack_says_what_is_wrong_with_the_table(tmp_path: Path) -> None:
    rows = "".join(f"B{i},O1,0.94,0.05,60\n" for i in range(1001))
    rack = written(tmp_path / "rack.csv", f"piece,grade,C %,owner,target HRC\n{rows}")
    for more in ((), ("--output", str(tmp_path / "out.csv"))):
        said = run("inventory", rack, *more).out
        assert "owner: Read: columns from which nothing is computed" in " ".join(said.split())
        assert len(said.splitlines()) < 45
    headless = written(tmp_path / "headless.csv", "".join(f"B{i},O1,round,x\n" for i in range(1001)))
    result = run("inventory", headless, "--output", str(tmp_path / "out.csv"), "--strict")
    assert result.code == 1
    assert "1001 rows" in result.out and "no header" in result.out


# --- refusals ---------------------------------------------------------------------------------------------------------


def refused(*words: str) -> str:
    """The one sentence of a refusal."""
    result = process("inventory", *words)
    assert result.code == 2
    assert result.out == ""
    assert "Traceback" not in result.err
    said = result.err.splitlines()[-1]
    assert said.startswith("Error: ")
    return said


@pytest.mark.parametrize("name", ["rack.xlsx", "rack.parquet"])
def test_a_file_that_is_not_what_its_name_says_is_refused(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_bytes(JUNK)
    assert f"{name} is not what its name says" in refused(str(tmp_path / name))


def test_the_rack_is_not_overwritten(tmp_path: Path) -> None:
    rack = written(tmp_path / "rack.csv", "piece,C %\nA1,0.94\n")
    assert "would be lost" in refused(rack, "--output", rack)
    assert (tmp_path / "rack.csv").read_text(encoding="utf-8") == "piece,C %\nA1,0.94\n"


def test_a_folder_is_no_rack_and_no_output(tmp_path: Path) -> None:
    rack = written(tmp_path / "rack.csv", "piece,C %\nA1,0.94\n")
    assert "is a folder; expected a CSV" in refused(str(tmp_path))
    for ending in (".csv", ".parquet", ".xlsx"):
        (tmp_path / f"out{ending}").mkdir()
        assert "is a folder" in refused(rack, "--output", str(tmp_path / f"out{ending}"))
        assert "No such file or directory" in refused(rack, "--output", str(tmp_path / "none" / f"out{ending}"))


# --- what reaches the terminal ----------------------------------------------------------------------------------------


def test_control_characters_of_cells_never_reach_the_terminal(tmp_path: Path) -> None:
    cells = f"A{STEERING}1,no{STEERING}such,0.9x{STEERING},H{STEERING}1,7 of {STEERING}"
    rack = written(tmp_path / "rack.csv", f"piece,grade,C %,heat,own{STEERING}er,size\n{cells},{STEERING}\n")
    folder = tmp_path / "certificates"
    folder.mkdir()
    written(folder / f"mill{STEERING}.csv", f"heat,C,Mn\nH{STEERING}1,0.9{STEERING},0.4\nH{STEERING}2,0.94,0.4\n")
    for more in ((), ("--plans",), ("--json",), ("--output", str(tmp_path / f"o{STEERING}.csv"))):
        result = run("inventory", rack, "--certificates", str(folder), *more)
        assert result.code == 0, result.err
        assert not CONTROL.findall(result.out), more
    assert r"A\x1b[2J" in run("inventory", rack).out
    assert document("inventory", rack)["bars"][0]["piece"] == f"A{STEERING}1", "JSON escapes and loses nothing"


def test_visible_writes_out_what_cannot_be_seen() -> None:
    assert visible("plain °C – ok") == "plain °C – ok"
    assert visible("a\tb\nc") == "a b c"
    assert visible("\x1b\x7f\x9b\u202e\ud800") == r"\x1b\x7f\x9b\u202e\ud800"
    assert json.loads(in_json('["\x9b\u2028°"]')) == ["\x9b\u2028°"]
    assert in_json('{\n"a": "°\x9b"\n}') == '{\n"a": "°\\u009b"\n}'


def test_a_plan_says_a_reading_once_and_names_its_columns(tmp_path: Path) -> None:
    text = "piece;grade;C;Mn;Si;Cr\nA1;1095;0,97;0,40;0,22;0,05\nA2;1095;0.97;0,40;O.2O;l.20\n"
    said = run("inventory", written(tmp_path / "rack.csv", text), "--plans", columns=120).out
    first, second = said[said.index("\nA1: ") : said.index("Read with doubt")].split("\nA2: ")
    assert " ".join(first.split()).count("decimal comma") == 1
    assert "note: C, Mn, Si, Cr: Read: a decimal comma" in first
    assert 'note: Mn: "0,40": Read: a decimal comma' in second
    assert 'caution: Si "O.2O", Cr "l.20": Read: letters O, l or I' in second, "a doubt shows what stands there"


# --- the document, row by row -----------------------------------------------------------------------------------------


def test_rows_are_written_as_the_whole_would_be() -> None:
    rows = [{"a": 1, "b": ["x\ny", "°"]}, {"a": None, "b": []}]
    whole = {"one": 1, "rows": rows, "none": [], "last": {"deep": {"er": [1.5]}}}
    made = {**whole, "rows": Rows(lambda: iter(rows)), "none": Rows(lambda: iter([]))}
    assert dump(made) == dump(whole) == json.dumps(whole, indent=2, ensure_ascii=False)


def peak_mb(*words: str) -> int:
    """Peak memory of a command, MB; what it prints is parsed in another process, so that nothing is held here."""
    code = (
        "import resource, subprocess, sys\n"
        f"done = subprocess.run([sys.executable, '-c', {DRIVER!r}, *sys.argv[1:]], stdout=subprocess.DEVNULL)\n"
        "print(done.returncode, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024)"
    )
    done = subprocess.run([sys.executable, "-c", code, *words], capture_output=True, text=True, check=True)
    code_text, peak = done.stdout.split()
    assert code_text == "0"
    return int(peak)


def test_json_of_a_long_rack_takes_little_more_memory_than_the_rack(tmp_path: Path) -> None:
    """A row of results is some 2.7 kB of JSON; held as objects and text it took 27 kB a row."""
    rows = [f"B{i},1084,5 x 40 mm,0.8{i % 10},0.75,60\n" for i in range(20_000)]
    head = "piece,grade,size,C %,Mn %,target HRC\n"
    small = peak_mb("inventory", written(tmp_path / "small.csv", head + "".join(rows[:1000])), "--json")
    large = peak_mb("inventory", written(tmp_path / "large.csv", head + "".join(rows)), "--json")
    assert (large - small) * 2**20 / 19_000 < 9_000
