"""A bar whose analysis is not the grade it was sold as, and what a plan says of sections and tempers a trade knows.

The limits are those of the standards in data/grades.csv; how far off another steel is, is common practice (no source).
"""

import numpy as np
import pytest

import decalesce as dc
from decalesce import plan
from decalesce.plan.standing import INSIDE, NOT_THIS_GRADE, OUTSIDE, standing, standings

#: Analyses that a metallurgist would send back, and a target that the grade itself reaches.
OTHER_STEEL = [
    ("M2", {"Mo": 0.5, "W": 0.3, "V": 0.1}, 64),
    ("A2", {"Cr": 1.0}, 60),
    ("D2", {"C": 0.4}, 58),
    ("H13", {"C": 0.9}, 50),
    ("O1", {"Cr": 5.0}, 60),
    ("1095", {"C": 9.5}, 62),
]


def bar(grade: str, amounts: dict[str, float]) -> dc.Bar:
    return dc.Bar(grade=dc.grades.find(grade), certificate=dc.Composition(**amounts))


@pytest.mark.parametrize(("grade", "amounts", "target"), OTHER_STEEL)
def test_another_steel_is_not_worked_by_the_numbers_of_its_grade(
    grade: str, amounts: dict[str, float], target: float
) -> None:
    p = plan.make(bar(grade, amounts), target=target)
    assert p.level == "stop" and "not_this_grade" in p.flags
    assert "ask the mill" in p.flags["not_this_grade"]
    assert p.published_window is None and p.window_used == "computed"
    assert "published_value" not in p.as_quenched_HRC.flags
    assert p.temper is not None and p.temper.used == "model" and p.temper.published_C == ()
    assert p.quench.media == (), "the medium is published for the grade too"


@pytest.mark.parametrize(("grade", "amounts", "target"), OTHER_STEEL)
def test_a_rack_says_the_same(grade: str, amounts: dict[str, float], target: float) -> None:
    w = bar(grade, amounts).composition
    rack = dc.Composition(
        **{e: np.array([a, a]) for e, a in w.amounts.items()}, status=w.status, half_width=w.half_width
    )
    columns = plan.batch(rack, grades=[dc.grades.find(grade)], grade_index=[0, -1], target_HRC=target)
    one = plan.make(bar(grade, amounts), target=target)
    assert columns["standing"].tolist() == [NOT_THIS_GRADE, INSIDE]
    assert columns["aim"].flagged("not_this_grade").tolist() == [True, False]
    assert not columns["window_published"].any()
    assert columns["aim"].value[0] == pytest.approx(one.aim_C.value, nan_ok=True)
    assert one.temper is not None
    assert columns["temper_C"].value[0] == pytest.approx(one.temper.temperature_C.value, nan_ok=True)


def test_every_grade_is_itself_and_scatter_of_an_analysis_is_no_other_steel() -> None:
    """Permissible deviations of the product analysis, EN ISO 683-1, from memory: C 0.02 to 0.04, Cr 0.05 to 0.10."""
    for grade in map(dc.grades.find, dc.grades.table()["designation"]):
        middle = dc.Composition(**grade.composition.amounts)
        assert standing(middle, grade) == INSIDE, grade.designation
    assert standing(dc.Composition(C=1.05, Cr=0.15), dc.grades.find("1095")) == INSIDE
    assert standing(dc.Composition(C=0.92, Cr=1.65), dc.grades.find("52100")) == INSIDE
    assert standing(dc.Composition(C=0.82, Mn=0.4), dc.grades.find("1095")) == OUTSIDE
    assert standing(dc.Composition(C=0.70, Mn=0.4), dc.grades.find("1095")) == NOT_THIS_GRADE


def test_only_what_an_analysis_found_counts() -> None:
    d2 = dc.grades.find("D2")
    assert standing(dc.Composition(C=0.4, status={"C": "filled"}), d2) == INSIDE
    assert standing(dc.Composition(C=1.5, Cr=0.0, status={"Cr": "not_stated"}), d2) == INSIDE
    codes = {"C": np.array([0, 2, 3], dtype=np.uint8)}
    w = dc.Composition(C=np.array([0.4, 0.4, 0.4]), status=codes)
    assert standings(w, (d2,), np.zeros(3, dtype=np.intp)).tolist() == [NOT_THIS_GRADE, INSIDE, INSIDE]
    assert standing(dc.Composition(C=np.nan), d2) == INSIDE


def test_plain_carbon_steel_in_a_thick_section_says_that_the_middle_stays_soft() -> None:
    """Water-hardening steel hardens through to about half an inch (common practice, no source)."""
    for grade, thickness, soft in (
        ("1084", 100.0, True),
        ("1045", 150.0, True),
        ("1084", 13.0, False),
        ("1084", 5.0, False),
        ("4340", 100.0, False),
        ("D2", 100.0, False),
    ):
        piece = dc.Bar(grade=dc.grades.find(grade), section=dc.Section("round", thickness))
        p = plan.make(piece)
        assert ("middle_stays_soft" in p.as_quenched_HRC.flags) == soft, (grade, thickness)
        assert ("middle_stays_soft" in p.flags) == soft
        assert not soft or p.level in {"caution", "stop"}
    assert "middle_stays_soft" not in plan.make("1084").flags, "no size was stated"


@pytest.mark.parametrize(
    ("grade", "target", "flag"),
    [
        # tempered martensite, "500 degF": 260 to 370 degC (trade pages)
        ("S5", 57, "embrittlement_range"),
        ("S5", 55, "embrittlement_range"),
        ("A6", 57, "embrittlement_range"),
        # Mn, Ni and Cr steel, 375 to 575 degC on slow cooling (trade pages)
        ("4340", 42, "reversible_embrittlement"),
        ("4140", 40, "reversible_embrittlement"),
        ("5160", 44, "reversible_embrittlement"),
    ],
)
def test_tempers_that_embrittle_are_flagged_whatever_they_were_read_from(grade: str, target: float, flag: str) -> None:
    p = plan.make(grade, target=target)
    assert p.temper is not None
    assert flag in p.temper.temperature_C.flags, p.temper
    assert p.level in {"caution", "stop"} and flag in p.flags


@pytest.mark.parametrize(
    ("grade", "target"), [("1075", 60), ("1084", 60), ("1095", 62), ("O1", 61), ("80CrV2", 60), ("W2", 62)]
)
def test_ordinary_blade_tempers_are_not_flagged(grade: str, target: float) -> None:
    """Knife blades are tempered at about 175 to 230 degC (common practice, no source)."""
    line = plan.make(grade, target=target).temper
    assert line is not None and line.temperature_C.value < 235.0
    assert not {"embrittlement_range", "reversible_embrittlement"} & set(line.temperature_C.flags)


def test_the_band_is_tested_and_not_only_the_point() -> None:
    line = next(
        found
        for target in np.arange(55.0, 62.0, 0.25)
        if (found := plan.make("1084", target=float(target)).temper) is not None
        and found.temperature_C.value < 260.0 <= found.stays_to_C
    )
    assert "embrittlement_range" in line.temperature_C.flags


def test_stainless_and_high_speed_steel_have_their_own_ranges() -> None:
    for grade, target in (("440C", 57), ("M2", 64), ("H13", 50), ("4140", 30)):
        line = plan.make(grade, target=target).temper
        assert line is not None and "embrittlement_range" not in line.temperature_C.flags, grade


def test_a_rack_has_the_same_warnings() -> None:
    names = ["4340", "5160", "1084"]
    targets = [42.0, 44.0, 60.0]
    steels = [dc.grades.find(n) for n in names]
    for name, steel, target in zip(names, steels, targets, strict=True):
        w = dc.Composition(**{e: np.array([a]) for e, a in steel.composition.amounts.items()})
        flagged = plan.batch(w, grades=[steel], grade_index=[0], target_HRC=target)["temper_C"]
        assert flagged.flagged("reversible_embrittlement").tolist() == [name != "1084"]


@pytest.mark.parametrize(("grade", "target"), [("52100", 61), ("51CrV4", 55), ("9255", 57)])
def test_a_temper_of_the_model_outside_the_published_range_says_so(grade: str, target: float) -> None:
    """52100 at 150 to 170 degC (tube maker's data), 51CrV4 540 to 680, 9255 470 to 540 (IS 3749)."""
    p = plan.make(grade, target=target)
    assert p.temper is not None and p.temper.used == "model"
    assert "differs_from_published" in p.temper.temperature_C.flags and p.level != "note"
    assert any(f"outside the range published for {grade}" in note for note in p.temper.notes)


def test_of_a_level_stretch_the_cool_end_is_taken_where_the_trade_stays_cool() -> None:
    """D2 after 1010 degC reads 58 HRC at 315, 370, 425 and 480 degC (steelmaker's sheet)."""
    line = plan.make("D2", target=58).temper
    assert line is not None and line.used == "table"
    assert line.temperature_C.value == pytest.approx(315.0, abs=1.0)
    assert line.temperature_C.low <= 315.0 and line.temperature_C.high >= 425.0
    assert [round(e.value) for e in line.published_C] == [315, 480]
