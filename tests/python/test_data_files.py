"""The tables and check files of data/ hold together: keys, statuses, gates, counts, words, generated headers."""

from __future__ import annotations

import csv
import importlib.util
import math
import re
import sys
from collections import Counter
from pathlib import Path
from types import ModuleType

import pytest

DATA = Path(__file__).resolve().parents[2] / "data"
STATUSES = {"two-pages", "page", "memory", "computed", "derived", "common practice"}
RANK = {"two-pages": 2, "page": 1}
GATES = {"exact", "share", "report"}
ELEMENTS = ["C", "Mn", "Si", "Cr", "Ni", "Mo", "V", "W", "Cu", "Co", "Al", "Nb", "Ti", "N", "B", "P", "S", "As", "Sn"]
SOURCE_COLUMNS = ("source", "citation")
ATTRIBUTION = "Tempering data for carbon and low alloy steels, Raiipa Technologies, 2024, CC BY 4.0"
FILES = sorted(path for path in DATA.rglob("*.csv") if "demo" not in path.parts)
FORBIDDEN = re.compile(
    r"\b[\w-]+\.(?:com|org|net|ru|cn|de)\b|https?:|www\.|scribd|forum|lucefin|uddeholm|crucible", re.I
)

Row = dict[str, str]


def rows(path: Path) -> list[Row]:
    with path.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def check_rows(name: str) -> list[Row]:
    return rows(DATA / "checks" / f"{name}.csv")


def bibliography() -> dict[str, str]:
    """Status by key."""
    text = (DATA / "bibliography.bib").read_text(encoding="utf-8")
    entries = re.split(r"^@\w+\{", text, flags=re.M)[1:]
    found = {}
    for entry in entries:
        status = re.search(r"^  status = \{(.*)\},$", entry, flags=re.M)
        assert status, entry
        found[entry.split(",")[0]] = status[1]
    return found


def cited_key(cell: str) -> str | None:
    """The key of a source cell: the whole cell, or what stands before a colon. A choice made here is told in words."""
    key = cell.split(":", maxsplit=1)[0]
    return None if " " in key else key


def script(path: Path) -> ModuleType:
    """A script of data/, which is no package, as a module; it may import the scripts beside it."""
    if str(path.parent) not in sys.path:
        sys.path.insert(0, str(path.parent))
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


BIBLIOGRAPHY = bibliography()


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_sources_and_statuses(path: Path) -> None:
    for number, row in enumerate(rows(path), start=2):
        where = f"{path.name} line {number}"
        assert None not in row, f"{where}: more cells than columns"
        if "status" in row:
            assert row["status"] in STATUSES, f"{where}: status {row['status']!r}"
        for column in SOURCE_COLUMNS:
            if column not in row:
                continue
            assert row[column].strip(), f"{where}: no {column}"
            key = cited_key(row[column])
            if key is None:
                continue
            assert key in BIBLIOGRAPHY, f"{where}: {key} is not in bibliography.bib"
            claimed, seen = RANK.get(row.get("status", ""), 0), RANK.get(BIBLIOGRAPHY[key], 0)
            assert claimed <= seen, f"{where}: {row['status']} promotes {key}, seen as {BIBLIOGRAPHY[key]}"


def test_bibliography_has_no_orphan_and_each_key_once() -> None:
    text = (DATA / "bibliography.bib").read_text(encoding="utf-8")
    keys = re.findall(r"^@\w+\{([^,]+),", text, flags=re.M)
    assert len(keys) == len({key.lower() for key in keys})
    assert set(BIBLIOGRAPHY.values()) <= STATUSES
    used = {
        cited_key(row[column]) for path in FILES for row in rows(path) for column in SOURCE_COLUMNS if row.get(column)
    }
    assert sorted(set(keys) - used) == []


@pytest.mark.parametrize("path", [*FILES, DATA / "bibliography.bib"], ids=lambda path: path.name)
def test_no_hosts_makers_or_machine_paths(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert not FORBIDDEN.findall(text)
    assert not re.findall(r"/(?:work|root|home|tmp)/", text)


@pytest.mark.parametrize(
    ("name", "minimum"),
    [("critical", 100), ("published", 120), ("temper", 500), ("temper_time", 100), ("scales", 49), ("as_quenched", 70)],
)
def test_check_files(name: str, minimum: int) -> None:
    table = check_rows(name)
    assert len(table) >= minimum
    assert len({row["case_id"] for row in table}) == len(table)
    for row in table:
        assert row["gate"] in GATES
        assert math.isfinite(float(row["expected"])), row["case_id"]
        assert float(row["tolerance"]) > 0, row["case_id"]
        assert row["tolerance_reason"], row["case_id"]
        assert row["gate"] == "report" or row["status"] != "memory", row["case_id"]
        for element in ELEMENTS:
            if row.get(element):
                assert 0 < float(row[element]) < 60, f"{row['case_id']}: {element}; not reported is blank, not zero"


def test_temper_shares() -> None:
    table = check_rows("temper")
    shares = [row for row in table if row["gate"] == "share"]
    assert len(shares) >= 500
    assert max(Counter(row["steel"] for row in shares).values()) <= 40
    for row in shares:
        assert float(row["expected"]) >= 20
        assert int(row["time_s"]) >= 600
        assert row["time_stated"] == "yes"
        assert row["laboratory"] != "2010"
    for row in table:
        if row["laboratory"]:
            assert row["attribution"] == ATTRIBUTION


def test_critical_shares_leave_out_what_the_audit_rejects() -> None:
    for row in check_rows("critical"):
        if row["quantity"].startswith("Acm") or row["quantity"].startswith("Ar"):
            assert row["gate"] == "report"


def test_every_formula_is_built_or_left_out_with_a_reason() -> None:
    formulas = rows(DATA / "tables" / "formulas.csv")
    worked = Counter(row["formula"] for row in check_rows("published"))
    assert len({row["id"] for row in formulas}) == len(formulas)
    for row in formulas:
        if row["left_out_reason"]:
            assert row["in_joined"] == "no"
            assert row["id"] not in worked
        else:
            assert worked[row["id"]] >= 2, row["id"]
        if row["in_joined"] == "yes":
            assert row["range_status"] in {"stated", "memory"}, f"{row['id']}: a formula without a range never votes"
        ranged = any(row[f"{element}_{end}"] for element in ELEMENTS for end in ("min", "max"))
        assert ranged == (row["range_status"] != "unknown"), row["id"]


def interp(x: float, nodes: list[float], values: list[float]) -> float:
    """Linear between nodes, held at the ends."""
    if x <= nodes[0]:
        return values[0]
    for left, right, low, high in zip(nodes, nodes[1:], values, values[1:], strict=False):
        if x <= right:
            return low + (high - low) * (x - left) / (right - left)
    return values[-1]


def test_worked_rows_are_the_printed_expressions() -> None:
    formulas = {row["id"]: row for row in rows(DATA / "tables" / "formulas.csv")}
    names = {"sqrt": math.sqrt, "exp": math.exp, "log": math.log, "interp": interp, "__builtins__": {}}
    for row in check_rows("published"):
        formula = formulas[row["formula"]]
        inputs = {name: float(row[name]) for name in formula["needs"].split()}
        inputs |= {element: float(row[element] or 0) for element in ELEMENTS}
        value = eval(formula["expression"], names | inputs)  # the expressions are this repository's own table
        celsius = {"degF": (value - 32) / 1.8, "K": value - 273.15}.get(formula["unit"], value)
        assert abs(celsius - float(row["expected"])) <= float(row["tolerance"]), row["case_id"]


def test_temper_base_falls_with_tempering_and_comes_from_its_script() -> None:
    path = DATA / "tables" / "temper_base_hv.csv"
    assert script(DATA / "fit" / "make_temper_base.py").table() == path.read_text(encoding="utf-8")
    table = rows(path)
    for carbon in {row["carbon_wt_pct"] for row in table}:
        hardness = [float(row["base_HV"]) for row in table if row["carbon_wt_pct"] == carbon]
        assert hardness == sorted(hardness, reverse=True)
        assert 0.35 <= float(carbon) <= 1.0


def test_local_codes_have_the_last_word() -> None:
    last = rows(DATA / "tables" / "cautions.csv")[-1]
    assert last["id"] == "local_codes"
    assert "licensed practice" in last["text"]


def test_headers_are_current(capsys: pytest.CaptureFixture[str]) -> None:
    stale = script(DATA / "generate_tables.py").main(["--check"])
    assert stale == 0, capsys.readouterr().out


def test_a_stale_header_is_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    module = script(DATA / "generate_tables.py")
    for name in module.TABLES:
        (tmp_path / f"{name}.hpp").write_text(module.header(name), encoding="utf-8")
    monkeypatch.setattr(module, "HEADERS", tmp_path)
    assert module.main(["--check"]) == 0
    (tmp_path / "fe_c_fits.hpp").write_text("// another text\n", encoding="utf-8")
    assert module.main(["--check"]) == 1
    assert "fe_c_fits.hpp (committed)" in capsys.readouterr().out
