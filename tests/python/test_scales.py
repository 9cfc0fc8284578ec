"""Hardness scales against the printed tables [ASTM_E140] [ISO18265]."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import decalesce as dc
from check_files import read_checks

ROWS = read_checks("scales.csv")
TABLE_OF = {"astm_e140_hrc": "astm_e140", "iso18265_a1": "iso18265"}
CONVERSIONS = sorted({(row.table, row.from_scale, row.to_scale) for row in ROWS.itertuples()})
SCALE_OF = {"HRC": "HRC", "HV": "HV", "HB": "HBW", "HBW": "HBW", "tensile_MPa": "MPa"}


@pytest.mark.parametrize(("table", "source", "target"), CONVERSIONS)
def test_every_printed_point_is_met(table: str, source: str, target: str) -> None:
    """Each row of a printed table within its tolerance: ASTM E140, ISO 18265 table A.1."""
    rows = ROWS[ROWS.table.eq(table) & ROWS.from_scale.eq(source) & ROWS.to_scale.eq(target)]
    got = dc.scales.convert(rows.from_value.to_numpy(float), SCALE_OF[source], SCALE_OF[target], table=TABLE_OF[table])
    assert np.all(np.abs(got.value - rows.expected) <= rows.tolerance)
    assert got.sources == (rows.source.iloc[0],)


def test_enough_rows() -> None:
    assert len(ROWS) >= 49


def test_joined_answer_is_the_e140_table_on_the_rockwell_scale() -> None:
    """ASTM E140, every HRC row."""
    rows = ROWS[ROWS.table.eq("astm_e140_hrc") & ROWS.from_scale.eq("HRC")]
    for target in ("HV", "HBW"):
        chosen = rows[rows.to_scale.eq(target)]
        assert len(chosen) >= 40
        got = dc.scales.convert(chosen.from_value.to_numpy(float), "HRC", target).value
        np.testing.assert_allclose(got, chosen.expected, atol=1e-9)


def test_the_tables_meet() -> None:
    """At 238 HV, the end of E140, ISO 18265 says the same Brinell hardness."""
    below, above = dc.scales.convert(np.array([238 - 1e-9, 238.0]), "HV", "HBW").value
    assert below == pytest.approx(above, abs=1e-6)


@pytest.mark.parametrize(
    ("value", "source", "target"),
    [
        (19.999, "HRC", "HV"),
        (68.001, "HRC", "HV"),
        (237.9, "HV", "HRC"),
        (941, "HV", "HRC"),
        (79.9, "HV", "HBW"),
        (66, "HRC", "HBW"),
        (651, "HV", "MPa"),
        (62, "HRC", "MPa"),
        (254, "MPa", "HV"),
        (700, "MPa", "HRC"),
        (15, "HRC", "HRC"),
    ],
)
def test_off_the_scale_there_is_no_number(value: float, source: str, target: str) -> None:
    answer = dc.scales.convert(value, source, target)
    assert np.isnan(answer.value)
    assert answer.flags == ("off_scale",)


@given(st.floats(20, 68))
def test_there_and_back(hrc: float) -> None:
    """Straight lines are their own inverse: HRC to HV and back."""
    hv = dc.scales.convert(hrc, "HRC", "HV").value
    assert dc.scales.convert(hv, "HV", "HRC").value == pytest.approx(hrc, abs=1e-9)


@given(st.floats(80, 940), st.floats(80, 940), st.sampled_from(["HRC", "HBW", "MPa"]))
def test_harder_stays_harder(a: float, b: float, scale: str) -> None:
    first, second = dc.scales.convert(np.array(sorted([a, b])), "HV", scale).value
    if not np.isnan(first) and not np.isnan(second):
        assert first <= second + 1e-9


def test_shapes_and_missing_values() -> None:
    assert isinstance(dc.scales.convert(62, "HRC", "HV").value, float)
    grid = dc.scales.convert(np.array([[62.0, np.nan], [10.0, 20.0]]), "HRC", "HV")
    np.testing.assert_array_equal(grid.value, [[746.0, np.nan], [np.nan, 238.0]])
    np.testing.assert_array_equal(grid.flagged("nan_input"), [[False, True], [False, False]])
    np.testing.assert_array_equal(grid.flagged("off_scale"), [[False, False], [True, False]])
    assert dc.scales.convert(np.array([]), "HRC", "HV").value.shape == (0,)


def test_band_is_the_conversion_s_own() -> None:
    """1 HRC, 3 % of HV: ISO 18265, from memory."""
    hrc = dc.scales.convert(700, "HV", "HRC")
    assert hrc.high - hrc.value == pytest.approx(1.0)
    assert hrc.parts["table"] == pytest.approx(1.0)
    hv = dc.scales.convert(60, "HRC", "HV")
    assert hv.high - hv.value == pytest.approx(0.03 * 697)


def test_brinell_on_hard_steel_is_cautioned() -> None:
    """E140 prints Brinell figures above 615 in brackets, outside the range of the test."""
    assert dc.scales.convert(62, "HRC", "HBW").flagged("beyond_brinell")
    assert not dc.scales.convert(40, "HRC", "HBW").flagged("beyond_brinell")


def test_wrong_arguments_say_what_was_expected() -> None:
    with pytest.raises(ValueError, match=r"from_ = 'HRX'.*expected"):
        dc.scales.convert(60, "HRX", "HV")
    with pytest.raises(TypeError, match="to = 3"):
        dc.scales.convert(60, "HRC", 3)  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="value = 'sixty'"):
        dc.scales.convert("sixty", "HRC", "HV")
    with pytest.raises(ValueError, match="table = 'din'"):
        dc.scales.convert(60, "HRC", "HV", table="din")


def test_a_wanted_hardness_is_read_as_written() -> None:
    """ASTM E140 table 1 prints 746 HV and 62 HRC side by side, and 60 HRC beside 697 HV."""
    for same in (62, 62.0, np.float64(62), "62HRC", "62 HRC", " 62 hrc ", "62,0HRC"):
        assert dc.scales.wanted(same) == dc.scales.Hardness(62.0, str(same).strip() if isinstance(same, str) else "")
    assert dc.scales.wanted("62HRC").sentence == ""
    hv = dc.scales.wanted("746HV")
    assert float(hv) == pytest.approx(62.0) and dc.scales.wanted(hv) is hv
    assert hv.converted is not None and (hv.converted.low, hv.converted.high) == pytest.approx((61.0, 63.0))
    assert "746HV is read as 62.0 HRC (61.0 to 63.0)" in hv.sentence and "ASTM_E140" in hv.sentence
    assert np.isnan(dc.scales.wanted(float("nan")).HRC)


@pytest.mark.parametrize(
    ("value", "error", "says"),
    [
        (-1, ValueError, "target = -1 lies off the Rockwell C scale"),
        (620, ValueError, "target = 620 lies off the Rockwell C scale"),
        ("620HRC", ValueError, "620.* lies off the Rockwell C scale"),
        ("100HV", ValueError, "target = '100HV' lies off the Rockwell C scale"),
        ("62", ValueError, "target = '62' has no scale; write '62HRC' or give the number 62"),
        ("62HRB", ValueError, "target = '62HRB' is on no known scale"),
        ("900MPa", ValueError, "target = '900MPa' is on no known scale"),
        ("-3HRC", ValueError, "target = '-3HRC' is no hardness"),
        ("hard", ValueError, "target = 'hard' is no hardness"),
        ([62], TypeError, r"target = \[62\]"),
        (None, TypeError, "target = None"),
        (True, TypeError, "target = True"),
    ],
)
def test_an_unusable_wanted_hardness_is_named(value: object, error: type[Exception], says: str) -> None:
    with pytest.raises(error, match=says) as problem:
        dc.scales.wanted(value, "target")
    assert 'expected a hardness from 20 to 68 HRC, such as 62 (HRC), "62HRC"' in str(problem.value)
