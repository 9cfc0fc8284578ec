"""The trade's order of work and the quench line: published facts first, then the rules of the trade."""

import pytest

import decalesce as dc
from decalesce.order_of_work import Step, steps, trade_family


def of_grade(designation: str, **more: float) -> dict[str, Step]:
    grade = dc.grades.find(designation)
    made = steps(grade.family, facts=grade.published(), designation=designation, **more)
    return {step.name: step for step in made}


def test_the_steps_are_the_trades_and_in_its_order() -> None:
    """Trade pages and a course sheet, data/tables/trade_rules.csv, order_1 to order_9."""
    made = steps("plain_hyper", carbon_wt=0.95, ac1_C=723.0, hardening_C=798.0)
    assert [step.number for step in made] == list(range(1, 10))
    assert [step.name for step in made] == [
        "forge",
        "normalize",
        "grain cycles",
        "anneal",
        "stress relieve",
        "harden",
        "temper",
        "cold treat",
        "finish grind",
    ]


@pytest.mark.parametrize(("carbon", "ceiling"), [(0.6, 1205.0), (0.9, 1150.0), (1.1, 1120.0), (0.75, 1177.5)])
def test_forge_ceiling_falls_with_carbon(carbon: float, ceiling: float) -> None:
    """Common practice, no source, from memory: 1205 at 0.6 %C, 1150 at 0.9, 1120 at 1.1; straight between."""
    forge = steps("plain_hypo", carbon_wt=carbon, ac1_C=725.0)[0]
    assert forge.temperature_C == (825.0, ceiling)
    assert forge.status == "common practice"
    assert not forge.published


def test_published_forging_range_beats_the_rule() -> None:
    """1084, Heat Treater's Guide from memory: 815 to 1150 degC."""
    forge = of_grade("1084", carbon_wt=0.84, ac1_C=720.0)["forge"]
    assert forge.temperature_C == (815.0, 1150.0)
    assert forge.published
    assert forge.sources == ("HeatTreatersGuide1995",)


@pytest.mark.parametrize("family", ["tool_3_5_cr", "tool_11_13_cr", "martensitic_stainless", "high_speed"])
def test_air_hardening_steel_is_not_normalized(family: str) -> None:
    """Suppliers' sheets and a course sheet: it hardens in air, anneal instead."""
    made = {step.name: step for step in steps(family, carbon_wt=1.0)}
    assert not made["normalize"].do
    assert "anneal" in made["normalize"].text
    assert not made["grain cycles"].do
    assert "twice" in made["temper"].text


def test_a_grade_that_must_not_be_normalized_says_so() -> None:
    for designation in ("D2", "A2"):
        normalize = of_grade(designation)["normalize"]
        assert not normalize.do
        assert normalize.published


def test_bar_as_bought_needs_no_normalizing() -> None:
    grade = dc.grades.find("1084")
    made = {step.name: step for step in steps(grade.family, facts=grade.published(), forged=False)}
    assert not made["normalize"].do
    assert not made["grain cycles"].do


def test_normalizing_without_a_published_heat() -> None:
    """Trade page: 80 K above the hardening temperature; 10xx 870 to 900 degC."""
    alloyed = {s.name: s for s in steps("hyper_low_alloy", carbon_wt=1.0, ac1_C=750.0, hardening_C=830.0)}
    assert alloyed["normalize"].temperature_C == (910.0, 910.0)
    plain = {s.name: s for s in steps("plain_hypo", carbon_wt=0.6, ac1_C=725.0)}
    assert plain["normalize"].temperature_C == (870.0, 900.0)


def test_stress_relief_stays_below_ac1() -> None:
    """Suppliers' sheets of O1 and A2: 595 to 705 degC, just below Ac1."""
    assert steps("low_alloy", ac1_C=740.0)[4].temperature_C == (595.0, 705.0)
    assert steps("low_alloy", ac1_C=690.0)[4].temperature_C == (595.0, 680.0)


def test_stress_relief_keeps_below_the_low_end_of_the_band_of_ac1() -> None:
    """Just below Ac1 (suppliers' sheets of O1 and A2): below any Ac1 the bar may have."""
    made = steps("low_alloy", ac1_C=740.0, ac1_low_C=700.0)
    assert made[4].temperature_C == (595.0, 690.0)
    assert steps("low_alloy", ac1_low_C=700.0)[4].temperature_C == (595.0, 690.0)
    assert steps("low_alloy", ac1_C=740.0)[0].text == steps("low_alloy", ac1_C=740.0, ac1_low_C=700.0)[0].text


@pytest.mark.parametrize("designation", ["440C", "X46Cr13", "X50CrMoV15"])
def test_stainless_is_cold_treated_before_the_temper(designation: str) -> None:
    """Steelmaker's sheet and guide: straight from the quench at room temperature, the temper within an hour."""
    made = of_grade(designation)
    assert [step.number for step in made.values()] == list(range(1, 10))
    assert list(made)[5:8] == ["harden", "cold treat", "temper"]
    assert "straight from the quench, within 1 h" in made["cold treat"].text
    assert "temper again" not in made["cold treat"].text
    assert "at once" not in made["temper"].text
    assert "straight after the cold treatment" in made["temper"].text


@pytest.mark.parametrize("designation", ["A2", "O1", "D2", "M2"])
def test_tool_steel_is_cold_treated_after_its_first_temper(designation: str) -> None:
    """Steelmaker's sheets of A2, O1, S7, H13 and M2: after the first temper, and always temper again."""
    made = of_grade(designation)
    assert list(made)[5:8] == ["harden", "temper", "cold treat"]
    assert "after the first temper, then temper again" in made["cold treat"].text
    assert not any("within this time of the quench" in reason for reason in made["cold treat"].reasons)


@pytest.mark.parametrize(
    ("designation", "says"),
    [("O1", "annealed afterwards"), ("L6", "annealed afterwards"), ("4340", "part-hardens in air"), ("1084", "")],
)
def test_normalizing_of_steel_that_part_hardens_in_air_has_its_caveat(designation: str, says: str) -> None:
    """O1 and L6: supplier against handbook pages; 4340 from memory (it air-hardens in small sections)."""
    step = of_grade(designation)["normalize"]
    assert says in step.text
    assert ("in air" in step.text) == bool(says)
    assert any(says in reason for reason in step.reasons) == bool(says)
    if designation == "4340":
        assert step.status == "memory"


@pytest.mark.parametrize(
    ("designation", "carbon", "said"),
    [
        ("21MnCr5", 0.21, True),
        ("8620", 0.20, True),
        ("9310", 0.10, True),
        ("1018", 0.18, True),
        ("4130", 0.31, False),
        ("410", 0.12, False),
        ("1084", 0.86, False),
    ],
)
def test_steel_made_to_be_carburized_is_told_apart(designation: str, carbon: float, said: bool) -> None:
    """Common practice, no source: below about 0.25 %C steel is case-hardening or structural; 410 hardens in air."""
    step = of_grade(designation, carbon_wt=carbon)["harden"]
    assert ("made to be carburized" in step.text) == said
    assert ("CommonPractice" in step.sources) == said
    if said:
        assert step.status == "common practice"


def test_hardening_shows_the_published_range_beside_the_aim() -> None:
    harden = of_grade("O1", hardening_C=804.0)["harden"]
    assert harden.temperature_C == (788.0, 816.0)
    assert "Computed aim 804" in harden.text
    assert "oil" in harden.text


def test_tempers_by_family() -> None:
    """Suppliers' sheets: twice for D2 and high-speed steel, once for O1."""
    assert "twice" in of_grade("D2")["temper"].text
    assert "twice" in of_grade("M2")["temper"].text
    assert "once" in of_grade("O1")["temper"].text


def test_every_step_to_do_has_a_reason_and_a_source_or_says_that_nothing_is_published() -> None:
    for grade in ("1084", "1095", "5160", "52100", "O1", "W1", "A2", "D2", "S7", "H13", "M2", "440C"):
        for step in of_grade(grade, carbon_wt=0.8, ac1_C=730.0, hardening_C=800.0).values():
            assert step.text
            if step.do and step.temperature_C is not None:
                assert step.sources or "Computed aim" in step.text
                assert step.temperature_C[0] <= step.temperature_C[1]


def test_an_unknown_family_is_an_error() -> None:
    assert trade_family("silicon_spring") == "spring"
    with pytest.raises(ValueError, match="family = 'wood'"):
        steps("wood")


def test_steel_that_does_not_harden_is_not_hardened() -> None:
    """18 %Cr 9 %Ni stays austenite (any handbook, from memory): a plan says so and is no error."""
    plan = dc.plan.make(dc.Composition(C=0.05, Cr=18.0, Ni=9.0), target=50)
    made = {step.name: step for step in plan.steps}
    for name in ("harden", "temper", "cold treat"):
        assert not made[name].do
        assert "not known to harden" in made[name].text


def test_the_quench_line_is_the_published_medium_or_nothing() -> None:
    line = dc.quench.line(dc.grades.find("O1"))
    assert line.media == ("oil",)
    assert not line.evaluated
    assert "not evaluated here" in line.sentence
    none = dc.quench.line(None)
    assert none.media == ()
    assert "not evaluated here" in none.sentence
    with pytest.raises(TypeError, match="Grade"):
        dc.quench.line(3)  # type: ignore[arg-type]
    assert dc.quench.line("O1") == line
    thick = dc.Bar(grade=dc.grades.find("S7"), section=dc.Section("plate", 70))
    assert dc.quench.line(thick).too_thick == ("air",)
    with pytest.raises(LookupError, match="unknown grade '1059'; near: "):
        dc.quench.line("1059")


def test_water_hardening_grades_name_water() -> None:
    """Standards and handbooks: W1 in water or brine, 52100 in oil, A2 in air."""
    assert {"water", "brine"} & set(dc.quench.line(dc.grades.find("W1")).media)
    assert "oil" in dc.quench.line(dc.grades.find("52100")).media
    assert "air" in dc.quench.line(dc.grades.find("A2")).media


def test_a_quench_condition_belongs_to_its_own_medium() -> None:
    """Suppliers' sheets: S7 in air up to 63 mm; A2 in oil only interrupted; Heat Treater's Guide: 1095 in thin oil."""
    s7 = {m.name: m for m in dc.quench.line(dc.grades.find("S7")).published}
    assert s7["air"].conditions == ("up to 63 mm",) and s7["oil"].conditions == ()
    a2 = {m.name: m.words for m in dc.quench.line(dc.grades.find("A2")).published}
    assert "interrupted" in a2["oil"] and "interrupted" not in a2["air"] + a2["plate"]
    line = dc.quench.line(dc.grades.find("1095"), dc.Section("plate", 10))
    assert {m.name: m.thickest_mm == 6.35 for m in line.published} == {"water": False, "brine": False, "oil": True}
    assert line.too_thick == ("oil",) and "thicker than the 6.35 mm" in line.sentence
    assert dc.quench.line(dc.grades.find("S7"), dc.Section("plate", 63)).too_thick == ()
    assert "air (up to 63 mm), oil" in of_grade("S7")["harden"].text


def test_shallow_steel_is_told_of_cracks_and_fast_oil() -> None:
    """Trade page: water then oil, or fast oil, for 1095 and W; canola falls short above 3 mm."""
    assert "3 mm of section" in dc.quench.line(dc.grades.find("1095")).sentence
    assert dc.quench.line(dc.grades.find("W1-10")).rules
    said = dc.quench.line("1084").sentence
    assert "Water cracks thin work" in said and "(common practice, no source)" in said
    for grade in ("O1", "A2", "4140"):
        assert dc.quench.line(dc.grades.find(grade)).rules == ()


def test_published_conditions_of_the_hardening_heat_are_said() -> None:
    assert "14 C higher" in of_grade("M2")["harden"].text
    assert "816-871 C for oil" in of_grade("1095")["harden"].text


@pytest.mark.parametrize(
    ("designation", "tempers", "says"),
    [
        ("1084", 2, "twice, cooling to room temperature between; once is enough"),
        ("1084", 1, "once is enough"),
        ("D2", 1, "once; the trade tempers this steel twice"),
        ("D2", 3, "3 times"),
    ],
)
def test_the_step_takes_the_tempers_of_the_plan(designation: str, tempers: int, says: str) -> None:
    grade = dc.grades.find(designation)
    step = steps(grade.family, facts=grade.published(), designation=designation, tempers=tempers)[6]
    assert says in step.text


def test_step_and_practice_agree_on_every_grade() -> None:
    """Supplier sheets: twice for A, D, S7, H, M, T and stainless; once for O, W and plain carbon."""
    for designation in dc.grades.table().designation:
        once = dc.temper.tempers_usual(designation) == 1
        assert ("once is enough" in of_grade(designation)["temper"].text) == once, designation
    for designation in ("C105U", "W1-10", "O7", "1084", "SK95", "SKS3"):
        assert dc.temper.tempers_usual(designation) == 1, designation
    for designation in ("A2", "D2", "S7", "H13", "M2", "T1", "440C"):
        assert dc.temper.tempers_usual(designation) == 2, designation


def test_finish_grind_does_not_repeat_its_name() -> None:
    assert steps("plain_hyper")[8].text == "Keep it cool."


@pytest.mark.parametrize(("designation", "given"), [("5160", True), ("4140", True), ("A2", False), ("S7", False)])
def test_reversible_embrittlement_is_for_structural_and_spring_steel(designation: str, given: bool) -> None:
    ids = {note.id for note in dc.temper.practice(designation)}
    assert ("reversible_temper_embrittlement" in ids) == given
    for other in ("440C", "M2", "1095"):
        assert "reversible_temper_embrittlement" not in {note.id for note in dc.temper.practice(other, 500.0)}
