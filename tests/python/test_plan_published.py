"""What a plan takes from the grade's published figures, where no formula is safe or the computed aim is far off.

The figures are those of data/tables/grade_heat_treat.csv; each test names their source.
"""

import numpy as np
import pandas as pd
import pytest

import decalesce as dc
from decalesce import plan
from decalesce.temper.published import range_temper


@pytest.mark.parametrize(
    ("grade", "hardness"),
    [
        ("H13", 54.0),  # supplier's sheet, 12.7 mm specimens, 1010 degC, air
        ("M2", 66.0),  # steelmaker's sheet, M2 (ASTM A600), 1204 degC
        ("D2", 63.0),  # steelmaker's sheet, 1010 degC, from memory
        ("A2", 64.0),  # steelmaker's sheet, 968 degC
        ("M42", 64.0),  # ASM Handbook vol. 4: 63 to 65
    ],
)
def test_high_alloy_as_quenched_hardness_is_the_published_one(grade: str, hardness: float) -> None:
    p = plan.make(grade)
    assert p.as_quenched_HRC.value == hardness
    assert p.as_quenched_HRC.flags == ("published_value",)
    assert p.as_quenched_HRC.low < hardness < p.as_quenched_HRC.high
    assert p.as_quenched_HRC.parts["table"] == pytest.approx(p.as_quenched_HRC.high - hardness)
    assert np.isnan(p.quenched.hardness_HRC.value)


def test_high_alloy_without_a_published_figure_has_no_as_quenched_number() -> None:
    for grade in ("440C", "X46Cr13", "H11"):
        p = plan.make(grade)
        assert np.isnan(p.as_quenched_HRC.value), grade
        assert "no_model" in p.as_quenched_HRC.flags and "nan_input" not in p.as_quenched_HRC.flags
    assert plan.make("1084").as_quenched_HRC.flags != ("published_value",)


def test_a_temper_band_stays_on_the_hot_side_of_the_peak_and_in_the_published_range() -> None:
    """M2 is tempered at 538 to 649 degC (ASM Handbook vol. 4 and a furnace guide): never at 427."""
    line = plan.make("M2", target=64).temper
    assert line is not None and line.used == "table"
    assert 550.0 <= line.temperature_C.value <= 590.0
    assert line.temperature_C.low == 538.0 and line.temperature_C.high <= 649.0
    assert "band_clipped" in line.temperature_C.flags
    assert any("published temper range ends" in note for note in line.notes)


def test_a_target_outside_the_table_says_at_which_end() -> None:
    """D2 after 1010 degC ends at 61 HRC, M2 after 1204 degC at 65 (steelmakers' sheets)."""
    for grade, target, end in (("D2", 62.0, "61"), ("M2", 66.0, "65")):
        line = plan.make(grade, target=target).temper
        assert line is not None and line.temperature_C.flags == ("target_above_reach",)
        assert any(f"hardest value is {end} HRC" in note for note in line.notes)
    soft = plan.make("D2", target=40).temper
    assert soft is not None and soft.temperature_C.flags == ("target_below_reach",)
    assert any("softest value" in note for note in soft.notes)


def test_a_published_range_is_the_temper_where_nothing_else_answers() -> None:
    """440C is tempered at 150 to 370 degC (ASM Handbook vol. 4, from memory); of its hardness nothing is printed."""
    line = plan.make("440C", target=58).temper
    assert line is not None and line.used == "published range"
    e = line.temperature_C
    assert (e.low, e.value, e.high) == (150.0, 150.0, 370.0)
    assert e.flags == ("published_temper_range",)
    assert any("150 to 370" in note and "its cool end" in note for note in line.notes)
    ignored = plan.make("440C", target=58, tables="ignore").temper
    assert ignored is not None and np.isnan(ignored.temperature_C.value)


def test_a_published_range_is_read_by_the_hardness_printed_beside_it() -> None:
    """H11 at 540 to 650 degC leaves 54 to 38 HRC (ASM Handbook vol. 4, from memory)."""
    for target, temper in ((54, 540.0), (46, 595.0), (38, 650.0)):
        line = plan.make("H11", target=target).temper
        assert line is not None and line.used == "published range"
        assert line.temperature_C.value == pytest.approx(temper)
        assert (line.temperature_C.low, line.temperature_C.high) == (540.0, 650.0)
        assert any("54 to 38 HRC" in note and "straight line" in note for note in line.notes)
    for target, flag in ((56, "target_above_reach"), (36, "target_below_reach")):
        line = plan.make("H11", target=target).temper
        assert line is not None and np.isnan(line.temperature_C.value)
        assert line.temperature_C.flags == (flag,)
        assert any(f"{target} HRC lies outside" in note for note in line.notes)


def test_the_trade_begins_at_the_hot_end_of_the_range_of_high_speed_steel() -> None:
    """M42 at 510 to 595 degC (ASM Handbook vol. 4); hot side of the peak (trade pages)."""
    found = range_temper("M42", 66.0, "hot")
    assert found is not None and found.temperature_C.value == found.temperature_C.high == 595.0
    assert "its hot end" in found.note


def test_no_range_is_offered_for_more_than_martensite_of_all_the_carbon() -> None:
    """0.21 %C martensite is near 45 HRC (ASTM A255): 56 cannot be had of any 420 with so little."""
    bar = dc.Bar(grade=dc.grades.find("420"), certificate=dc.Composition(C=0.21, Mn=0.4, Si=0.4, Cr=13.0))
    line = plan.make(bar, target=56).temper
    assert line is not None and np.isnan(line.temperature_C.value)
    assert "target_above_reach" in line.temperature_C.flags
    below = plan.make(bar, target=44).temper
    assert below is not None and below.used == "published range"


@pytest.mark.parametrize("grade", ["80CrV2", "O7", "L2", "60WCrV8", "45NiCrMo16", "21MnCr5"])
def test_the_published_window_wins_where_the_aim_lies_elsewhere(grade: str) -> None:
    """Steelmaker's card of 80CrV2 830 to 850; ASM tool-steel table: O7 845 to 885, L2 845 to 925 degC."""
    p = plan.make(grade)
    assert p.window_used == "published" and p.published_window is not None
    assert p.published_window.coolest_C <= p.aim_C.value <= p.published_window.hottest_C
    assert "published_window" in p.aim_C.flags and "differs_from_published" not in p.aim_C.flags
    assert "the computed window lies elsewhere" in p.reasons[0] and len(p.reasons) > 1
    assert not any("No rule from composition" in reason for reason in p.reasons)


def test_an_analysis_outside_the_grade_keeps_its_own_window_and_is_flagged() -> None:
    """O7 holds 1.10 to 1.30 % C (ASTM A681): 1.03 is outside, and may be why the computed aim lies elsewhere."""
    grade = dc.grades.find("O7")
    amounts = grade.composition.amounts
    low = grade.limits["C"].minimum
    assert low is not None
    p = plan.make(dc.Bar(grade=grade, certificate=dc.Composition(**(amounts | {"C": low - 0.08}))))
    assert p.window_used == "computed" and p.level == "caution"
    for e in (p.coolest_C, p.aim_C, p.hottest_C):
        assert "differs_from_published" in e.flags
    assert "published range" in p.flags["differs_from_published"]


def test_an_air_hardening_grade_is_hardened_as_published_then() -> None:
    """A6 at 830 to 870 degC, air, not to be normalized (ASM tool-steel table)."""
    p = plan.make("A6")
    assert p.window_used == "published" and p.aim_C.value == 850.0
    assert "differs_from_published" not in p.aim_C.flags
    for near in ("1084", "O1", "1095", "5160"):
        assert "differs_from_published" not in plan.make(near).aim_C.flags


def test_the_rack_takes_the_same_published_figures() -> None:
    targets = {"M2": 64.0, "H13": 50.0, "D2": 62.0, "440C": 58.0, "A6": 58.0, "80CrV2": 60.0, "O1": 61.0}
    steels = {name: dc.grades.find(name).composition.amounts for name in targets}
    rack = pd.DataFrame([{"grade": n, "thickness_mm": 5.0, "target_HRC": targets[n], **steels[n]} for n in targets])
    results = dc.inventory.evaluate(rack).results
    assert len(results) == len(targets)
    for row, (name, target) in zip(results.itertuples(), targets.items(), strict=True):
        one = plan.make(dc.Bar(grade=dc.grades.find(name), certificate=dc.Composition(**steels[name])), target=target)
        assert one.temper is not None
        for found, wanted in (
            (row.as_quenched_HRC, one.as_quenched_HRC.value),
            (row.as_quenched_HRC_high, one.as_quenched_HRC.high),
            (row.temper_C, one.temper.temperature_C.value),
            (row.temper_C_low, one.temper.temperature_C.low),
            (row.austenitize_C, one.aim_C.value),
        ):
            assert found == pytest.approx(wanted, abs=0.06, nan_ok=True), name
        for flag in ("target_above_reach", "published_temper_range", "differs_from_published", "band_clipped"):
            said = flag in one.aim_C.flags or flag in one.temper.temperature_C.flags
            assert (flag in results["flags"][row.Index]) == said, (name, flag)
