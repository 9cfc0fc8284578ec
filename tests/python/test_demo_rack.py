"""The demo rack through the reader's public functions, against what was expected by hand in data/demo.

The window, quench, temper and load columns belong to the plan and are tested there.
"""

from __future__ import annotations

import csv
import re
from functools import lru_cache

import numpy as np
import pytest

from decalesce import grades
from decalesce.inventory import (
    ELEMENTS,
    CertificateReport,
    Certificates,
    ParsedRack,
    RackParser,
    parse,
    read_blocks,
    read_table,
    rule_by_id,
)
from demo_expectations import (
    CERTIFICATES,
    DEMO,
    LEVELS,
    RACK,
    VOCABULARY,
    expected_bars,
    expected_certificates,
    heats_of,
    number,
    unexpected,
    unsaid,
)

BARS = expected_bars()
FILES = expected_certificates()
C = ELEMENTS.index("C")
STATUS = {"measured": 0, "below_limit": 1, "filled": 2, "not_stated": 3}
bar = pytest.mark.parametrize("at", range(len(BARS)), ids=[f"{r['row']} {r['piece_id']}" for r in BARS])
file = pytest.mark.parametrize("expected", FILES, ids=[r["file"] for r in FILES])


@lru_cache(maxsize=1)
def certificates() -> Certificates:
    return Certificates.read(CERTIFICATES)


@lru_cache(maxsize=2)
def rack(joined: bool = False) -> ParsedRack:
    return parse(read_table(RACK), grades.find_many, certificates() if joined else None)


def report(name: str) -> CertificateReport:
    return next(r for r in certificates().reports if r.file == name)


def test_no_row_is_lost_added_or_moved() -> None:
    with RACK.open(encoding="utf-8", newline="") as lines:
        printed = list(csv.reader(lines))[1:]
    for read in (rack(), rack(joined=True)):
        assert len(read) == len(BARS) == len(printed) == 87
        assert [read.table.cells[0].at(i) for i in range(87)] == [cells[0] for cells in printed]
        assert read.piece_id.to_list() == [row["piece_id"] for row in BARS]
    assert [row["row"] for row in BARS] == [str(i + 1) for i in range(87)]


def test_vocabulary_names_rules_that_exist_and_is_used() -> None:
    used = set()
    for row in (*BARS, *FILES):
        used |= set(row["findings"].split()) | set(row["findings_also_accepted"].split())
    assert set(VOCABULARY) == used
    for means in VOCABULARY.values():
        assert means.why
        assert all(rule_by_id(rule) for rule in means.rules)


@bar
def test_grade_and_kind(at: int) -> None:
    row, read = BARS[at], rack()
    limits = read.role[at] in (3, 4)
    assert limits == (row["row_kind"] == "limits")
    index = read.grade_index[at]
    if row["grade"]:
        assert index >= 0, row["reason"]
        assert read.grades[index].designation == grades.find(row["grade"]).designation
    elif not limits:
        assert index == -1, row["reason"]


@bar
def test_carbon_from_the_row_alone(at: int) -> None:
    row, read = BARS[at], rack()
    wanted, value = number(row["carbon_wt"]), read.values[at, C]
    if wanted is None:
        assert np.isnan(value) or read.status[at, C] == STATUS["not_stated"], row["reason"]
    else:
        assert value == pytest.approx(wanted, abs=float(row["carbon_tolerance_wt"]) + 1e-9), row["reason"]
    if row["carbon_status"]:
        assert read.status[at, C] == STATUS[row["carbon_status"]], row["reason"]
    if row["carbon_half_width_min_wt"]:
        assert read.half_width[at, C] >= float(row["carbon_half_width_min_wt"]), row["reason"]


@bar
def test_carbon_with_the_certificates(at: int) -> None:
    row, read = BARS[at], rack(joined=True)
    wanted = number(row["carbon_wt_with_certificate"])
    if wanted is None or not report(row["certificate_file"]).heats:
        assert np.array_equal(read.values[at], rack().values[at], equal_nan=True), "nothing may be joined"
        assert np.array_equal(read.status[at], rack().status[at])
    else:
        assert read.status[at, C] == STATUS["measured"]
    if wanted is not None:
        tolerance = max(float(row["carbon_tolerance_wt"]), 0.005)
        assert read.values[at, C] == pytest.approx(wanted, abs=tolerance + 1e-9), row["reason"]


@bar
def test_statuses(at: int) -> None:
    row, read = BARS[at], rack()
    for name, code in STATUS.items():
        for element in row[name].split():
            assert read.status[at, ELEMENTS.index(element)] == code, f"{element} is not {name}: {row['reason']}"
            if code != STATUS["not_stated"]:
                assert not np.isnan(read.content(element)[at])


@bar
def test_findings(at: int) -> None:
    row, found = BARS[at], rack().findings.of_row(at)
    assert unsaid(row["findings"], found) == [], row["reason"]
    assert unexpected(f"{row['findings']} {row['findings_also_accepted']}", found) == [], row["reason"]


@bar
def test_level(at: int) -> None:
    row = BARS[at]
    level = LEVELS[rack().findings.worst_level()[at]]
    assert level in (row["level"], *row["level_also_accepted"].split()), rack().messages(at)


@bar
def test_certificates_add_no_alarm(at: int) -> None:
    """The folder belongs to the rack: it may lower a level; it raises none, and what it does is said."""
    alone, joined = rack().findings.worst_level()[at], rack(joined=True).findings.worst_level()[at]
    assert joined <= max(alone, LEVELS.index("note"))
    changed = not np.array_equal(rack().values[at], rack(joined=True).values[at], equal_nan=True)
    rules = {f.rule.id for f in rack(joined=True).findings.of_row(at)}
    assert not changed or rules & {"filled_from_certificate", "certificate_sharper"}


@bar
def test_section_condition_and_wishes(at: int) -> None:
    row, read = BARS[at], rack()
    thickness = number(row["thickness_mm"])
    if thickness is None:
        assert np.isnan(read.thickness_mm[at]), row["reason"]
    else:
        assert read.thickness_mm[at] == pytest.approx(thickness, abs=0.01)
    if row["section"]:
        assert read.shape_names()[at].replace("plate", "rectangle") == row["section"]
    if row["condition"]:
        assert read.condition_names()[at].replace(" ", "_") == row["condition"]
    target, harden = number(row["target_HRC"]), number(row["hardening_C"])
    assert read.target_HRC[at] == pytest.approx(np.nan if target is None else target, nan_ok=True), row["reason"]
    assert read.temperatures_C["harden"][at] == pytest.approx(np.nan if harden is None else harden, abs=1, nan_ok=True)


def test_a_heat_that_cannot_be_told_is_not_joined() -> None:
    """Rows 7 and 82: 1.23457E+11 fits heats of Mill C; 5.00E+12 fits none in the folder."""
    doubtful = rack(joined=True).findings.mask("certificate_heat_doubtful")
    assert [BARS[i]["row"] for i in np.flatnonzero(doubtful)] == ["7"]


def test_streamed_blocks_join_the_same_certificates() -> None:
    parser = RackParser(grades.find_many, certificates())
    blocks = [parser.parse(table) for table in read_blocks(RACK, block_rows=10)]
    values = np.concatenate([block.values for block in blocks])
    assert len(values) == 87
    for at, row in enumerate(BARS):
        wanted = number(row["carbon_wt_with_certificate"])
        if wanted is not None:
            tolerance = max(float(row["carbon_tolerance_wt"]), 0.005) + 1e-9
            assert values[at, C] == pytest.approx(wanted, abs=tolerance), row["piece_id"]


# --- the certificate files --------------------------------------------------------------------------------------------


def test_every_file_of_the_folder_is_reported() -> None:
    assert [r.file for r in certificates().reports] == sorted(r["file"] for r in FILES)
    assert sorted(p.name for p in CERTIFICATES.iterdir()) == sorted(r["file"] for r in FILES)


@file
def test_certificate_rows_and_heats(expected: dict[str, str]) -> None:
    got = report(expected["file"])
    assert got.rows == int(expected["rows"])
    assert list(got.heats) == expected["heats"].split()
    assert (got.used > 0) == bool(expected["heats"])
    wanted = heats_of(expected["carbon_wt_by_heat"])
    assert list(wanted) == list(got.heats)
    for heat, carbon in wanted.items():
        assert certificates().content(heat, "C") == pytest.approx(carbon, abs=1e-9), expected["must_recover"]


@file
def test_certificate_findings_and_level(expected: dict[str, str]) -> None:
    got = report(expected["file"])
    assert got.level == expected["level"], got.messages()
    assert unsaid(expected["findings"], got.findings) == []
    # Encoding and header line have columns of their own.
    layout = {"encoding_guessed", "lines_above_header"}
    said = {f.rule.id for f in got.findings}
    assert ("encoding_guessed" in said) == (expected["encoding"] == "latin-1")
    header = int(expected["header_line"])
    assert ("lines_above_header" in said) == (header > 1)
    rest = tuple(f for f in got.findings if f.rule.id not in layout)
    assert unexpected(f"{expected['findings']} {expected['findings_also_accepted']}", rest) == []


def _content(name: str, row: int, element: str) -> tuple[float, int]:
    read = report(name).rack
    assert read is not None
    return float(read.content(element)[row]), int(read.status[row, ELEMENTS.index(element)])


@pytest.mark.parametrize(
    ("name", "row", "element", "value", "status"),
    [
        ("mill_a_schmelzen.csv", 0, "N", 0.0062, "measured"),
        ("mill_a_schmelzen.csv", 2, "Ni", 0.0, "not_stated"),
        ("mill_a_schmelzen.csv", 4, "V", 0.005, "below_limit"),
        ("mill_b_coulees.csv", 0, "S", 0.004, "measured"),
        ("mill_b_coulees.csv", 1, "Cu", 0.15, "below_limit"),
        ("mill_b_coulees.csv", 4, "W", 1.96, "measured"),
        ("mill_c_ppm.tsv", 0, "N", 0.0075, "measured"),
        ("mill_c_ppm.tsv", 0, "P", 0.0120, "measured"),
        ("mill_d_certificate.xlsx", 2, "C", 0.51, "measured"),
        ("merchant_3_heats.parquet", 3, "N", 0.0064, "measured"),
        ("merchant_3_heats.parquet", 0, "W", 0.0, "not_stated"),
        ("mill_a_second_office_promille.csv", 0, "Cr", 0.53, "measured"),
        ("scrapyard_analyser_printout.csv", 2, "Mn", 0.83, "measured"),
        ("scrapyard_analyser_printout.csv", 0, "C", 0.0, "not_stated"),
        ("scrapyard_analyser_printout.csv", 0, "V", 0.025, "below_limit"),
    ],
)
def test_what_must_be_recovered(name: str, row: int, element: str, value: float, status: str) -> None:
    """The figures named in must_recover, as the file prints them."""
    content, found = _content(name, row, element)
    assert content == pytest.approx(value, abs=1e-9)
    assert found == STATUS[status]


def test_grades_on_certificates() -> None:
    """mill_b: 1.2842 is 90MnCrV8 and 1.2379 is X153CrMoV12."""
    read = report("mill_b_coulees.csv").rack
    assert read is not None
    assert [read.grades[i].designation for i in read.grade_index[2:4]] == ["90MnCrV8", "X153CrMoV12"]


def test_contradicting_laboratories_keep_both_in_the_band() -> None:
    """0.80 and 0.89 % C of one heat: the mean with a band that holds both."""
    folder = certificates()
    assert folder.chemistry is not None
    place = folder.by_key["t3187"]
    middle, half = folder.chemistry.values[place, C], folder.chemistry.half_width[place, C]
    assert middle - half <= 0.80 + 1e-9
    assert middle + half >= 0.89 - 1e-9
    assert folder.chemistry.doubtful[place, C]


def test_no_file_names_a_row_that_is_not_there() -> None:
    """Every certificate_file of the expectation exists and holds the heat of its row, or gives the row itself."""
    read = rack()
    for at, row in enumerate(BARS):
        if row["certificate_file"] and re.search("[0-9]", read.heat_number.at(at)):
            assert read.heat_number.at(at) in report(row["certificate_file"]).heats
    assert (DEMO / "README.md").exists()
