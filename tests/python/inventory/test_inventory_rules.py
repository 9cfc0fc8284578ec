"""Every reading rule, through the whole reader; the register itself is walked, so a rule without a test fails."""

from __future__ import annotations

import pickle

import numpy as np
import pytest
from certificate_cases import FILE_CASES as CERTIFICATE_FILES
from certificate_cases import JOIN_CASES
from fake_grades import find_many
from rule_cases import CASES, Case, blocks_case

from decalesce.inventory import ELEMENTS, ParsedRack, RackParser, parse, read_blocks, read_table, rule_by_id, rules


def _value(rack: ParsedRack, what: str, row: int) -> object:
    if what in ELEMENTS:
        return rack.content(what)[row]
    if what.startswith("half "):
        return rack.half_width[row, ELEMENTS.index(what[5:])]
    if what.startswith("status "):
        return rack.status[row, ELEMENTS.index(what[7:])]
    if what in rack.temperatures_C:
        return rack.temperatures_C[what][row]
    attribute = getattr(rack, what)
    return attribute.at(row) if hasattr(attribute, "at") and not isinstance(attribute, np.ndarray) else attribute[row]


def _struck(rack: ParsedRack, rule: str, column: str | None) -> tuple[int, ...]:
    rows = np.flatnonzero(rack.findings.mask(rule, column)).tolist()
    return (*([-1] if any(f.rule.id == rule for f in rack.findings.file) else []), *rows)


@pytest.mark.parametrize("case", CASES, ids=lambda c: f"{c.rule}")
def test_rule(case: Case) -> None:
    rack = parse(case.make(), find_many)
    assert _struck(rack, case.rule, case.column) == case.rows, [f.message for f in rack.findings]
    for (what, row), wanted in case.expect.items():
        found = _value(rack, what, row)
        if isinstance(wanted, str):
            assert found == wanted, what
        else:
            assert found == pytest.approx(wanted, abs=5e-5, nan_ok=True), what
    quiet = parse(case.quiet(), find_many)
    assert _struck(quiet, case.rule, None) == ()
    assert case.source


def test_every_rule_has_a_test() -> None:
    tested = (
        {case.rule for case in CASES} | {case.rule for case in JOIN_CASES} | {case.rule for case in CERTIFICATE_FILES}
    )
    tested |= set(blocks_case().tolist())
    assert {r.id for r in rules()} == tested


def test_register_is_complete_and_says_what_to_do() -> None:
    assert len(rules()) > 90
    for entry in rules():
        assert entry.function.__name__ == entry.id
        assert entry.level_name in ("note", "caution", "stop")
        assert entry.read and entry.assumed and entry.do
        assert entry.function.__doc__
        assert rule_by_id(entry.id) is entry
        if entry.level_name != "note":
            assert entry.do != "nothing", f"{entry.id}: a caution must say what to do"


def test_empty_cell_is_missing_and_leaves_no_finding() -> None:
    rack = parse(read_table(b"piece id;C;Ni\nA1;0.95;\n"))
    assert rack.content("Ni")[0] == 0.0
    assert rack.status[0, ELEMENTS.index("Ni")] == 3
    assert rack.messages(0) == ()


def test_rules_about_earlier_blocks() -> None:
    source = b"piece id;heat;C\nA1;H1;0.95\nA2;H2;0.60\nA1;H1;0.80\nA3;H2;0.60\n"
    parser = RackParser()
    first, second = (parser.parse(block) for block in read_blocks(source, block_rows=2))
    assert first.findings.count() == {}
    assert np.flatnonzero(second.findings.mask("piece_id_seen_before")).tolist() == [0]
    assert np.flatnonzero(second.findings.mask("heat_seen_before")).tolist() == [0], "H2 has the same analysis"
    alone = RackParser().parse(list(read_blocks(source, block_rows=2))[1])
    assert alone.findings.count() == {}


def test_unknown_rule_is_named() -> None:
    with pytest.raises(KeyError, match="no_such_rule"):
        rule_by_id("no_such_rule")


def test_unreadable_cell_is_not_filled_from_the_grade() -> None:
    rack = parse(read_table(b"piece id;grade;C;Mn\nA1;1095;abc;\n"), find_many)
    assert np.isnan(rack.content("C")[0])
    assert rack.content("Mn")[0] == pytest.approx(0.40)  # SAE J403: 0.30-0.50
    assert rack.status[0, ELEMENTS.index("Mn")] == 2


@pytest.mark.parametrize("row", ["1095;950;400;", "1095;950;;", "D2;15.5;3;120", "1095;95;0.40;"])
def test_a_slip_that_explains_the_content_is_the_only_finding(row: str) -> None:
    rack = parse(read_table(f"piece id;grade;C;Mn;Cr\nA1;{row}\n".encode()), find_many)
    struck = {finding.rule.id for finding in rack.findings.of_row(0)}
    assert "over_60_percent" not in struck
    assert "scale_slip" in struck


def test_certificate_wins_over_the_grade() -> None:
    rack = parse(read_table(b"piece id;grade;C;Mn;P\nA1;1095;0.92;0.45;<0.01\n"), find_many)
    assert rack.content("C")[0] == 0.92
    assert rack.half_width[0, 0] == pytest.approx(0.005)
    assert rack.status[0, ELEMENTS.index("P")] == 1


def test_rack_survives_pickling() -> None:
    """A batch is spread over processes, so a parsed block must travel."""
    rack = parse(read_table(b"piece id;grade;C\nA1;1095;O.95\nA2;1095;9.5\n"), find_many)
    again = pickle.loads(pickle.dumps(rack))
    assert [again.messages(row) for row in range(2)] == [rack.messages(row) for row in range(2)]
    assert np.array_equal(again.values, rack.values)


def test_messages_name_cell_reading_assumption_and_remedy() -> None:
    rack = parse(read_table(b"piece id;C;Mn\nA1;O.95;abc\n"))
    first, second = rack.messages(0)
    assert first.startswith('stop: Mn: "abc": Read: ')
    assert second == (
        'caution: C: "O.95": Read: letters O, l or I where digits belong. Taken as: O is 0, l and I are 1. '
        "Do: compare with the certificate."
    )
    assert rack.message_column() == [f"{first} | {second}"]
    assert rack.findings.needs_attention()
    with pytest.raises(IndexError, match="row 1"):
        rack.messages(1)


def test_frequent_findings_are_packed() -> None:
    """In a German file every cell has a decimal comma: that must not cost more than bits."""
    n = 20_000
    body = "".join(f"B{i};0,95;0,40;0,20;0,05;0,04\n" for i in range(n))
    rack = parse(read_table(("piece id;C;Mn;Si;Cr;Ni\n" + body).encode()))
    assert rack.findings.count() == {"decimal_comma": 5 * n}
    assert rack.findings.nbytes < 2 * n
    assert len(rack.messages(n - 1)) == 5
    assert sum(1 for _ in rack.findings) == 5 * n


def test_the_grade_table_of_the_project_fits_the_reader() -> None:
    """SAE J403: 1095 holds 0.90 to 1.03 % C; an equal written with blanks finds the same grade."""
    from decalesce import grades

    rack = parse(read_table(b"piece id;grade;C\nA1;1095;\nA2;AISI 1095;9.5\nA3;no such;\n"), grades.find_many)
    assert rack.content("C")[0] == pytest.approx(0.965)
    assert rack.half_width[0, 0] == pytest.approx(0.065)
    assert rack.content("C")[1] == pytest.approx(0.95)
    assert np.flatnonzero(rack.findings.mask("grade_unknown")).tolist() == [2]
    assert np.flatnonzero(rack.findings.mask("carbon_missing")).tolist() == [2]
