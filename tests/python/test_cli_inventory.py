"""``decalesce inventory`` on the demo rack, whose expected outcomes were written by hand (data/demo/README.md)."""

import csv
import io
import re
import time
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from cli_runs import document, run
from decalesce.cli.waiting import waiting

DEMO = Path(__file__).resolve().parents[2] / "data" / "demo"
RACK = str(DEMO / "bar_rack.csv")
CERTIFICATES = ("--certificates", str(DEMO / "certificates"))


def expected_rows() -> list[dict[str, str]]:
    with (DEMO / "expected.csv").open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


@pytest.fixture(scope="module")
def rack() -> Any:
    return document("inventory", RACK, *CERTIFICATES)


@pytest.fixture(scope="module")
def page() -> str:
    return run("inventory", RACK, *CERTIFICATES, "--plans").out


def test_no_row_is_lost_or_moved(rack: dict[str, Any]) -> None:
    assert rack["rows"] == len(rack["bars"]) == sum(rack["counts"].values()) == len(expected_rows())
    assert [bar["row"] for bar in rack["bars"]] == list(range(1, rack["rows"] + 1))
    for bar, row in zip(rack["bars"], expected_rows(), strict=True):
        assert bar["piece"].split(" #")[0] == row["piece_id"]


def test_every_flagged_row_is_explained(rack: dict[str, Any], page: str) -> None:
    for bar in rack["bars"]:
        if bar["level"] != "clean":
            assert bar["messages"], bar["piece"]
            assert all(message.endswith(".") for message in bar["messages"])
    said = " ".join(page.split())
    for bar in rack["bars"]:
        assert bar["piece"] in said
        if bar["reading_level"] in ("caution", "stop"):
            assert re.search(rf"{re.escape(bar['piece'])}, {bar['reading_level']}: ", said), bar["piece"]


def test_bars_carry_numbers_with_bands(rack: dict[str, Any]) -> None:
    planned = [bar for bar in rack["bars"] if bar["temper_C"] is not None]
    assert len(planned) > 50
    for bar in planned:
        assert bar["temper_C_low"] <= bar["temper_C"] <= bar["temper_C_high"]
        assert bar["austenitize_coolest_C"] <= bar["austenitize_C"] <= bar["austenitize_hottest_C"]


def test_loads_follow_the_hand_written_pairs(rack: dict[str, Any]) -> None:
    rows = {row["piece_id"]: int(row["row"]) - 1 for row in expected_rows()}

    def together(kind: str, a: str, b: str) -> bool:
        return any({rows[a], rows[b]} <= set(load["rows"]) for load in rack["loads"][kind])

    with (DEMO / "expected_loads.csv").open(encoding="utf-8", newline="") as stream:
        pairs = list(csv.DictReader(stream))
    never = [pair for pair in pairs if pair["harden_together"] == "no"]
    assert never
    for pair in never:
        assert not together("harden", pair["bar_a"], pair["bar_b"]), pair


def test_each_certificate_file_has_its_report(rack: dict[str, Any], page: str) -> None:
    files = sorted(path.name for path in (DEMO / "certificates").iterdir())
    assert [report["file"] for report in rack["certificates"]] == files
    assert all(name in page for name in files)
    assert all(report["messages"] for report in rack["certificates"] if report["level"] in ("caution", "stop"))


def test_plans_are_cards_in_the_order_of_the_work(page: str) -> None:
    card = page[page.index("\nPH-01: 1075") :].split("\n\n", maxsplit=1)[0]
    assert [line.split()[0] for line in card.splitlines()[2:6]] == ["window", "soak", "quench", "temper"]
    assert "local codes and licensed practice" in page


@pytest.mark.parametrize("ending", [".csv", ".xlsx", ".parquet"])
def test_output_holds_the_rows_as_they_came(tmp_path: Path, ending: str) -> None:
    output = tmp_path / f"plans{ending}"
    result = run("inventory", RACK, *CERTIFICATES, "--output", str(output))
    assert result.code == 0 and "Written to" in result.out and result.err == ""
    readers: dict[str, Any] = {".csv": pd.read_csv, ".xlsx": pd.read_excel, ".parquet": pd.read_parquet}
    written = readers[ending](output)
    assert list(written["piece"]) == [row["piece_id"] for row in expected_rows()]
    assert {"temper_C", "temper_C_low", "level", "message"} <= set(written)


def test_strict_counts_caution_and_stop(tmp_path: Path) -> None:
    assert run("inventory", RACK, "--strict").code == 1
    clean = tmp_path / "clean.csv"
    clean.write_text("piece,grade,size,C %,Mn %,Si %\nA,9260,5 x 40 mm,0.60,0.85,1.95\n", encoding="utf-8")
    found = document("inventory", str(clean))
    assert found["counts"]["caution"] == found["counts"]["stop"] == 0, found["bars"]
    assert run("inventory", str(clean), "--strict").code == 0


@pytest.mark.parametrize("text", ["", "piece,grade,C %\n"])
def test_a_rack_without_rows_is_said_so(tmp_path: Path, text: str) -> None:
    empty = tmp_path / "empty.csv"
    empty.write_text(text, encoding="utf-8")
    result = run("inventory", str(empty))
    assert result.code == 0 and "0 rows" in result.out
    assert document("inventory", str(empty))["bars"] == []


def test_a_long_rack_goes_to_its_file(tmp_path: Path) -> None:
    long = tmp_path / "long.csv"
    rows = "\n".join(f"B{i},1084,5 x 40 mm,0.8{i % 10},0.75,60" for i in range(1500))
    long.write_text(f"piece,grade,size,C %,Mn %,target HRC\n{rows}\n", encoding="utf-8")
    output = tmp_path / "plans.parquet"
    result = run("inventory", str(long), "--output", str(output))
    assert result.code == 0, result.err
    assert "1500 rows" in result.out and len(result.out.splitlines()) < 40
    assert len(pd.read_parquet(output)) == 1500
    assert "add --output" in run("inventory", str(long)).out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("no_such_rack.csv",), "there is no such file"),
        ((str(DEMO),), "expected a CSV, XLSX or Parquet file"),
        ((RACK, "--certificates", "no_such_folder"), "there is no file or folder 'no_such_folder'"),
        ((RACK, "--output", "rack.doc"), "expected a name that ends in .csv, .parquet or .xlsx"),
        ((RACK, "--output", "no_such_folder/rack.csv"), "No such file or directory"),
    ],
)
def test_unusable_files_are_refused(words: tuple[str, ...], said: str) -> None:
    result = run("inventory", *words)
    assert result.code == 2
    assert said in result.err
    assert "Traceback" not in result.err


def test_a_broken_workbook_is_refused(tmp_path: Path) -> None:
    broken = tmp_path / "rack.xlsx"
    broken.write_bytes(b"PK\x03\x04 and then nothing")
    result = run("inventory", str(broken))
    assert result.code == 2 and "cannot be read" in result.err


class _Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_long_work_shows_progress_on_a_terminal_only(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm")
    for stream, seconds, shown in ((_Terminal(), 1.4, True), (_Terminal(), 0.0, False), (io.StringIO(), 1.4, False)):
        monkeypatch.setattr("sys.stderr", stream)
        with waiting("reading the rack"):
            time.sleep(seconds)
        assert ("reading the rack" in stream.getvalue()) == shown
