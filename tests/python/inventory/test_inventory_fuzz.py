"""Nothing a cell or a file holds may crash the reader, lose a row or pass as a number unseen.

The invariants are the project's own promise: contents 0 to 60 wt % or NaN, no sum over 100 unflagged, no unreadable
cell without NaN and finding.
"""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from fake_grades import find_many
from hypothesis import given, settings
from hypothesis import strategies as st
from mutate import ALPHABET, HEADERS, certificates, damaged_file

from decalesce.inventory import ELEMENTS, ParsedRack, TableError, parse, read_blocks, read_table
from decalesce.inventory.cells import FACTORS, read_cell
from decalesce.inventory.fields import read_grade, read_identifier, row_role
from decalesce.inventory.headers import recognise
from decalesce.inventory.measures import read_hardness, read_temperature
from decalesce.inventory.reading import MEASURED, NOT_STATED, plain
from decalesce.inventory.sizes import read_length, read_size

PLAIN = re.compile(r"[0-9]{1,2}(\.[0-9]{1,5})?")
texts = st.one_of(
    st.text(max_size=12),
    st.text(alphabet=st.sampled_from(ALPHABET), max_size=10),
    st.from_regex(re.compile(r"[<>~]?[-+]?[0-9OlI]{0,3}[.,]?[0-9O]{0,4} ?(%|ppm|‰|max|min)?[*)]?"), fullmatch=True),
)


@settings(max_examples=2000, deadline=None)
@given(texts, st.sampled_from(ELEMENTS), st.sampled_from(sorted(FACTORS)), st.booleans())
def test_any_cell(text: str, element: str, unit: str, typed: bool) -> None:
    result = read_cell(text, element, unit, typed, 0.005)
    if math.isnan(result.value):
        assert result.hits, "NaN without a finding"
        assert math.isnan(result.half_width)
    else:
        assert 0.0 <= result.value <= 60.0
        assert result.half_width >= 0.0
        assert math.isfinite(result.half_width)
    if result.status == NOT_STATED:
        assert result.value == 0.0
    changed = not PLAIN.fullmatch(plain(text)) and plain(text) != ""
    if changed and not typed and not re.fullmatch(r"[0-9]+\.?[0-9]*", plain(text)):
        assert result.hits, f"{text!r} was read as {result.value} without a finding"


@settings(max_examples=500, deadline=None)
@given(texts, st.sampled_from(["", "mm", "inch"]), st.booleans())
def test_any_size(text: str, unit: str, column_inch: bool) -> None:
    for result in (read_size(text, unit, column_inch), read_length(text, unit, column_inch)):
        for length in (result.thickness_mm, result.width_mm, result.length_mm):
            assert math.isnan(length) or length > 0
        assert not math.isnan(result.thickness_mm) or result.hits or not plain(text)


@settings(max_examples=500, deadline=None)
@given(texts)
def test_any_other_cell(text: str) -> None:
    for hardness in (read_hardness(text, "HRC"), read_hardness(text), read_temperature(text, "°C", "harden")):
        assert not math.isnan(hardness.value) or hardness.hits or not plain(text)
    assert isinstance(read_identifier(text)[0], str)
    assert isinstance(read_grade(text)[0], str)
    assert row_role(text) in range(5)
    assert recognise(text).kind


def check_rack(rack: ParsedRack) -> None:
    """The invariants of a parsed block."""
    values, findings = rack.values, rack.findings
    assert values.shape == (rack.table.n_rows, len(ELEMENTS))
    known = ~np.isnan(values)
    assert (values[known] >= 0).all()
    assert (values[known] <= 60).all()
    assert (values[rack.status == NOT_STATED] == 0).all()
    over = np.nan_to_num(values).sum(axis=1) > 100
    assert (findings.mask("sum_over_100") == over).all()
    worst = findings.worst_level()
    assert (worst[np.isnan(values).any(axis=1)] == 3).all(), "a NaN without a stop"
    for index, header in enumerate(rack.table.columns):
        role = recognise(header)
        if role.kind != "element" or role.bound or role.unit not in ("", "%"):
            continue
        column = rack.table.cells[index]
        odd = np.array([not PLAIN.fullmatch(t) and plain(t) != "" for t in column.texts] or [False])[column.codes]
        shifted = findings.mask("row_too_long") | findings.mask("limits_row")
        unseen = odd & ~findings.struck(index) & ~shifted
        e = ELEMENTS.index(role.element)
        unseen &= (rack.status[:, e] == MEASURED) & known[:, e]
        texts = {column.at(int(row)) for row in np.flatnonzero(unseen)}
        assert all(re.fullmatch(r"[0-9]+\.?[0-9]*", plain(text)) for text in texts), texts


def test_hundred_thousand_damaged_certificates() -> None:
    data = certificates(100_000, seed=20240611)
    rack = parse(read_table(data), find_many)
    assert len(rack) == 100_000
    assert rack.table.columns == HEADERS
    check_rack(rack)
    ids = [t for t in rack.piece_id.to_list() if re.fullmatch(r"B[0-9]{6}", t)]
    assert len(ids) > 80_000, "most certificates keep their id column"
    assert rack.findings.nbytes < 200 * len(rack)
    levels = rack.findings.worst_level()
    assert (levels == 0).sum() < len(rack) // 2
    assert len(rack.findings.count()) > 60, "the generator reaches most rules"


def test_blocks_give_the_same_rows() -> None:
    data = certificates(3000, seed=5)
    whole = read_table(data)
    blocks = list(read_blocks(data, block_rows=700))
    assert sum(b.n_rows for b in blocks) == whole.n_rows == 3000
    assert [b.first_row for b in blocks] == np.cumsum([0, *(b.n_rows for b in blocks)])[:-1].tolist()
    for index, column in enumerate(whole.cells):
        assert [t for b in blocks for t in b.cells[index].to_list()] == column.to_list()


@pytest.mark.parametrize("delimiter", [",", "\t", "|"])
def test_other_delimiters(delimiter: str) -> None:
    rack = parse(read_table(certificates(2000, seed=9, delimiter=delimiter)), find_many)
    assert len(rack) == 2000
    check_rack(rack)


def test_damaged_files() -> None:
    read = 0
    for seed in range(1500):
        data = damaged_file(seed)
        try:
            table = read_table(data)
        except TableError:
            continue
        check_rack(parse(table, find_many))
        read += 1
    assert read > 1400


@settings(max_examples=300, deadline=None)
@given(st.binary(max_size=200))
def test_any_bytes(data: bytes) -> None:
    try:
        table = read_table(data)
    except TableError:
        return
    check_rack(parse(table))
