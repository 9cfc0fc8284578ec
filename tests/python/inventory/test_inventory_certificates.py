"""Certificates: every rule about them, the join, the folder, the reports."""

from __future__ import annotations

import pickle
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from certificate_cases import FILE_CASES, JOIN_CASES, FileCase, JoinCase
from fake_grades import find_many
from mutate import certificates as damaged
from mutate import damaged_file

from decalesce.inventory import (
    ELEMENTS,
    Certificates,
    ParsedRack,
    RackParser,
    parse,
    read_blocks,
    read_certificates,
    read_table,
)


def _store(texts: tuple[str, ...]) -> Certificates:
    return Certificates.read([text.encode() for text in texts], find_many)


def _value(rack: ParsedRack, what: str, row: int) -> float:
    kind, _, element = what.rpartition(" ")
    arrays: dict[str, Any] = {"": rack.values, "half": rack.half_width, "status": rack.status}
    return float(arrays[kind][row, ELEMENTS.index(element)])


@pytest.mark.parametrize("case", JOIN_CASES, ids=[c.rule for c in JOIN_CASES])
def test_join(case: JoinCase) -> None:
    table = read_table(case.rack.encode())
    rack = parse(table, find_many, _store(case.certificates))
    assert tuple(np.flatnonzero(rack.findings.mask(case.rule)).tolist()) == case.rows, rack.message_column()
    for (what, row), wanted in case.expect.items():
        assert _value(rack, what, row) == pytest.approx(wanted, abs=5e-5, nan_ok=True), (what, row)
    quiet = parse(table, find_many, _store(case.quiet))
    assert not quiet.findings.mask(case.rule).any(), quiet.message_column()
    assert case.source


@pytest.mark.parametrize("case", FILE_CASES, ids=[c.rule for c in FILE_CASES])
def test_file(case: FileCase) -> None:
    (report,) = Certificates.read(case.file, find_many).reports
    assert case.rule in [f.rule.id for f in report.own], report.messages()
    assert report.level == "caution"
    assert report.used == case.used
    (quiet,) = Certificates.read(case.quiet, find_many).reports
    assert case.rule not in [f.rule.id for f in quiet.findings]
    assert quiet.used == 1
    assert case.source


def test_certificate_without_carbon_still_gives_the_rest() -> None:
    folder = _store(("heat;Mn;Cr\nH1;0.40;1.45\n",))
    rack = parse(read_table(b"piece;grade;heat;C;Cr\nA1;1095;H1;;\n"), find_many, folder)
    assert rack.content("Cr")[0] == pytest.approx(1.45)
    assert rack.content("C")[0] == pytest.approx(0.965)  # SAE J403: 0.90-1.03
    assert rack.status[0, ELEMENTS.index("C")] == 2
    assert rack.findings.mask("carbon_from_grade")[0]


def test_certificate_wins_over_the_grade_and_the_row_over_the_certificate() -> None:
    folder = _store(("heat;C;Mn\nH1;0.97;0.41\n",))
    rack = parse(read_table(b"piece;grade;heat;C;Mn\nA1;1095;H1;0.96;\n"), find_many, folder)
    assert rack.content("C")[0] == 0.96
    assert rack.content("Mn")[0] == 0.41
    assert rack.status[0, ELEMENTS.index("Mn")] == 0
    assert not rack.findings.mask("filled_from_grade")[0]


def test_unreadable_cell_is_not_covered_by_the_certificate() -> None:
    """The cell says something that nobody could read: it stays NaN and stops, so that it is seen."""
    folder = _store(("heat;C;Mn\nH1;0.97;0.41\n",))
    rack = parse(read_table(b"piece;heat;C;Mn\nA1;H1;abc;\n"), find_many, folder)
    assert np.isnan(rack.content("C")[0])
    assert rack.content("Mn")[0] == 0.41


def test_limits_rows_and_rows_without_heat_are_never_joined() -> None:
    folder = _store(("heat;C;Mn;V\nH1;0.97;0.41;0.2\n",))
    rack = parse(read_table(b"piece;heat;row;C;Mn\nA1;H1;min;0.90;0.30\nA2;;actual;0.95;\n"), find_many, folder)
    assert rack.content("V").tolist() == [0.0, 0.0]
    assert rack.content("Mn")[1] == 0.0


def test_mismatch_is_judged_after_the_join() -> None:
    """The certificate of the heat shows another steel than the label."""
    folder = _store(("heat;C;Mn\nH1;0.60;0.85\n",))
    rack = parse(read_table(b"piece;grade;heat;C;Mn\nA1;1095;H1;;\n"), find_many, folder)
    assert rack.findings.mask("grade_chemistry_mismatch")[0]


def test_product_analysis_wins_across_files() -> None:
    """EN 10021: the product analysis is taken from the bar; the half-width reaches to the ladle analysis."""
    files = ("heat;analysis;C\nH1;ladle;0.98\n", "heat;analysis;C\nH1;product;0.96\n")
    folder = _store(files)
    assert folder.content("H1", "C") == pytest.approx(0.96)
    assert [[f.rule.id for f in r.own] for r in folder.reports] == [["ladle_and_product"]] * 2
    apart = _store((files[0], "heat;analysis;C\nH1;product;0.90\n"))
    assert apart.content("H1", "C") == pytest.approx(0.90)
    assert [[f.rule.id for f in r.own] for r in apart.reports] == [["ladle_product_differ"]] * 2


def test_one_heat_over_two_files_is_gathered() -> None:
    """One file has carbon, the other the rest; a limit gives way to a measured content."""
    folder = _store(("heat;C;V\nH1;0.97;<0.05\n", "heat;Mn;V\nH1;0.41;0.02\n"))
    assert folder.heats == ("H1",)
    assert [folder.content("H1", e) for e in ("C", "Mn", "V")] == pytest.approx([0.97, 0.41, 0.02])
    assert [r.used for r in folder.reports] == [1, 1]


def test_grade_limits_repair_certificates_too() -> None:
    """9.5 for 1095 is 0.95 (SAE J403: 0.90 to 1.03)."""
    folder = _store(("heat;grade;C\nH1;1095;9.5\n",))
    assert folder.content("H1", "C") == pytest.approx(0.95)
    assert folder.reports[0].level == "caution"


def test_folder_list_and_single_file(tmp_path: Path) -> None:
    (tmp_path / "b.csv").write_text("heat;C\nH2;0.60\n")
    (tmp_path / "a.csv").write_text("heat;C\nH1;0.97\n")
    (tmp_path / ".lock").write_text("not a certificate")
    (tmp_path / "older").mkdir()
    folder = read_certificates(tmp_path)
    assert [r.file for r in folder.reports] == ["a.csv", "b.csv", "older"]
    assert folder.heats == ("H1", "H2")
    assert [f.rule.id for f in folder.reports[2].own] == ["certificate_unreadable"]
    assert Certificates.read([tmp_path / "a.csv", str(tmp_path / "b.csv")]).heats == ("H1", "H2")
    assert Certificates.read(str(tmp_path / "a.csv")).heats == ("H1",)
    with pytest.raises(FileNotFoundError, match=r"no_such\.csv"):
        Certificates.read(tmp_path / "no_such.csv")
    with pytest.raises(TypeError, match="int"):
        Certificates.read(7)


def test_no_certificates_change_nothing() -> None:
    table = read_table(b"piece;grade;heat;C\nA1;1095;H1;\n")
    for folder in (None, Certificates.read(None), Certificates.read([]), Certificates.read(b"")):
        rack = parse(table, find_many, folder)
        assert rack.content("C")[0] == pytest.approx(0.965)
        assert rack.findings.count() == parse(table, find_many).findings.count()


def test_unknown_heat_and_element_are_named() -> None:
    folder = _store(("heat;C\nH1;0.97\n",))
    assert len(folder) == 1
    with pytest.raises(KeyError, match="H7"):
        folder.content("H7", "C")
    with pytest.raises(KeyError, match="Zr"):
        folder.content("H1", "Zr")


def test_streamed_blocks_are_joined_alike() -> None:
    source = b"piece;grade;heat;C\n" + b"".join(b"B%d;1095;H%d;\n" % (i, i % 3) for i in range(30))
    folder = _store(("heat;C\nH0;0.91\nH1;0.92\n",))
    whole = parse(read_table(source), find_many, folder)
    parser = RackParser(find_many, folder)
    blocks = [parser.parse(block) for block in read_blocks(source, block_rows=7)]
    assert np.array_equal(np.concatenate([b.values for b in blocks]), whole.values)
    assert whole.content("C")[:3] == pytest.approx([0.91, 0.92, 0.965])


def test_reports_and_store_survive_pickling() -> None:
    folder = _store(("heat;C\nH1;O.97\n", ""))
    again = pickle.loads(pickle.dumps(folder))
    assert [r.messages() for r in again.reports] == [r.messages() for r in folder.reports]
    assert again.content("H1", "C") == folder.content("H1", "C")


def test_damaged_certificates_never_raise_and_never_give_nonsense() -> None:
    """The same generator as for racks: contents 0 to 60 wt %, every file reported, no row lost on either side."""
    folder = Certificates.read([damaged(3000, seed=7), *(damaged_file(seed) for seed in range(60))], find_many)
    assert len(folder.reports) == 61
    assert folder.reports[0].rows == 3000
    assert folder.chemistry is not None
    values, status = folder.chemistry.values, folder.chemistry.status
    assert np.isfinite(values).all()
    assert (values >= 0).all()
    assert (values <= 60).all()
    assert (values[status == 3] == 0).all()
    assert all(r.used or r.findings for r in folder.reports)
    rack = parse(read_table(damaged(3000, seed=8)), find_many, folder)
    assert len(rack) == 3000
    known = ~np.isnan(rack.values)
    assert (rack.values[known] <= 60).all()
    assert ((rack.findings.worst_level() == 3) | known.all(axis=1)).all()
