"""The plan of one bar and of a rack: the same numbers, the order of the work, the reasons, the cautions."""

import pickle

import numpy as np
import pytest

import decalesce as dc
from decalesce import plan


@pytest.fixture(scope="module")
def plan_1095() -> plan.Plan:
    bar = dc.Bar(
        grade=dc.grades.find("1095"),
        certificate=dc.Composition(C=0.97, Mn=0.41, Si=0.22, Cr=0.10),
        section=dc.Section("plate", 4.0),
        condition="annealed",
    )
    return plan.make(bar, target=62)


def test_a_plan_answers_in_the_order_of_the_work(plan_1095: plan.Plan) -> None:
    """1095 hardens from about 790 to 815 degC (Heat Treater's Guide, from memory); 62 HRC wants about 200."""
    p = plan_1095
    assert p.coolest_C.value < p.aim_C.value < p.hottest_C.value
    assert 780.0 <= p.aim_C.value <= 820.0
    assert p.window_used == "computed" and p.published_window is not None
    assert p.heat_up_s.value > 0.0 and p.hold_s.value > 0.0
    assert "water" in p.quench.media
    assert 63.0 <= p.as_quenched_HRC.value <= 67.5
    assert p.temper is not None and p.temper.used == "model"
    assert p.temper.temperature_C.low <= 205.0 <= p.temper.temperature_C.high + 15.0
    assert [s.name for s in p.steps][:2] == ["forge", "normalize"]
    assert p.reasons and p.sources and p.level in {"note", "caution"}


def test_cautions_are_always_there_and_defer_to_local_codes(plan_1095: plan.Plan) -> None:
    works = {c.applies_to for c in plan_1095.cautions}
    assert {"hot_work", "quench_oil", "carbon_monoxide", "mains"} <= works
    assert "local codes and licensed practice" in plan_1095.cautions[-1].text
    salt = plan.make("1095", "neutral_salt").cautions
    assert any(c.applies_to == "salt" for c in salt)
    with pytest.raises(ValueError, match="expected one of"):
        plan.cautions("lava")


def test_high_alloy_steel_falls_back_on_the_published_window() -> None:
    """A2 is hardened at 925 to 980 degC (ASTM A681 practice); no formula is safe for 5 %Cr tool steel."""
    p = plan.make("A2", target=60)
    assert p.window_used == "published" and "published_window" in p.aim_C.flags
    assert 925.0 <= p.aim_C.value <= 985.0
    assert np.isnan(p.critical["ac1"].value)
    assert p.temper is not None and p.temper.used == "table" and p.temper.tempers == 2
    assert 150.0 <= p.temper.temperature_C.value <= 300.0


def test_tables_can_be_ignored() -> None:
    p = plan.make("A2", target=60, tables="ignore")
    assert p.temper is not None and np.isnan(p.temper.temperature_C.value)
    assert p.level == "stop"


def test_a_target_above_reach_is_refused() -> None:
    """0.40 %C martensite is near 56 HRC (ASTM A255); 62 cannot be had."""
    p = plan.make("4140", target=62)
    assert p.temper is not None and "target_above_reach" in p.temper.temperature_C.flags
    assert p.level == "stop"


def test_a_target_below_the_quench_but_above_the_lowest_temper_is_marginal_never_silent() -> None:
    p = plan.make("1045", target=25)
    assert p.temper is not None
    assert 500.0 < p.temper.temperature_C.value < 720.0


def test_a_certificate_narrows_the_band_and_the_plan_says_what_would() -> None:
    grade = dc.grades.find("5160")
    wide = plan.make(grade, target=56)
    exact = plan.make(dc.Bar(grade=grade, certificate=dc.Composition(**grade.composition.amounts)), target=56)
    assert wide.critical["ac1"].parts["composition"] > exact.critical["ac1"].parts["composition"]
    assert wide.narrowing[0].element == "C"
    assert wide.narrowing[0].temper_K > 5.0
    sizes = [n.temper_K + n.aim_K + n.ac1_K for n in wide.narrowing]
    assert sizes == sorted(sizes, reverse=True)


def test_ac1_slopes_are_those_of_the_formulas() -> None:
    """Of 0.4 %C steel: differences of the joined Ac1 itself."""
    grade = dc.grades.find("1045")
    blame = {n.element: n for n in plan.make(grade).narrowing}
    amounts = grade.composition.amounts
    h = 0.001
    up = dc.critical.temperatures(dc.Composition(**(amounts | {"Mn": amounts["Mn"] + h}))).ac1.value
    down = dc.critical.temperatures(dc.Composition(**(amounts | {"Mn": amounts["Mn"] - h}))).ac1.value
    assert blame["Mn"].ac1_K == pytest.approx(abs(up - down) / (2 * h) * blame["Mn"].half_width_wt, rel=0.05)


def test_nothing_known_says_which_test_would_tell() -> None:
    lines = " ".join(plan.without_grade_or_certificate())
    assert "spark" in lines and "spectrometer" in lines and "no temperature can be given" in lines


def test_a_composition_alone_has_no_published_quench() -> None:
    p = plan.make(dc.Composition(C=0.8, Mn=0.6, Si=0.2), target=58)
    assert p.quench.media == () and "not evaluated here" in p.quench.sentence
    assert p.published_window is None


@pytest.mark.parametrize(
    ("arguments", "error", "says"),
    [
        ({"bar": 1095}, TypeError, "expected a Bar"),
        ({"bar": "Unobtainium"}, LookupError, "Unobtainium"),
        ({"bar": "1095", "shop": "volcano"}, ValueError, "still_electric"),
        ({"bar": "1095", "shop": 3}, TypeError, "expected a Shop"),
        ({"bar": "1095", "temper_time": 0}, ValueError, "above zero"),
        ({"bar": "1095", "detail": "full"}, ValueError, "screen"),
        ({"bar": "1095", "target": 60, "tables": "maybe"}, ValueError, "tables"),
        ({"bar": "1095", "target": [62]}, TypeError, r"target = \[62\]; expected a hardness"),
        ({"bar": "1095", "target": -62}, ValueError, "target = -62 lies off"),
        ({"bar": "1095", "target": 620}, ValueError, "target = 620 lies off"),
        ({"bar": "1095", "target": "62"}, ValueError, "target = '62' has no scale; write '62HRC'"),
    ],
)
def test_wrong_arguments_are_named(arguments: dict[str, object], error: type[Exception], says: str) -> None:
    with pytest.raises(error, match=says):
        plan.make(**arguments)


def test_batch_gives_what_make_gives() -> None:
    names = ["1084", "1095", "O1", "52100", "5160", "A2", "1045"]
    grades = [dc.grades.find(n) for n in names]
    elements = sorted({e for g in grades for e in g.composition.amounts})
    amounts = {e: np.array([g.composition.amounts.get(e, 0.0) for g in grades]) for e in elements}
    half = {e: np.array([g.composition.half_width.get(e, 0.0) for g in grades]) for e in elements}
    status = {e: np.array([2 if e in g.composition.amounts else 3 for g in grades], dtype=np.uint8) for e in elements}
    w = dc.Composition(**amounts, half_width=half, status=status)
    columns = plan.batch(
        w, grades=grades, grade_index=np.arange(len(names)), thickness_mm=5.0, target_HRC=58.0, shop="gas_fired"
    )
    for i, grade in enumerate(grades):
        one = plan.make(dc.Bar(grade=grade, section=dc.Section("plate", 5.0)), "gas_fired", 58.0, tables="ignore")
        assert one.temper is not None
        for key, value in {
            "ac1": one.critical["ac1"],
            "aim": one.aim_C,
            "hold_s": one.hold_s,
            "carbon": one.carbon_in_solution,
            "as_quenched_HRC": one.as_quenched_HRC,
            "temper_C": one.temper.temperature_C,
        }.items():
            assert columns[key].value[i] == pytest.approx(value.value, nan_ok=True, abs=1e-9), (grade, key)
            assert columns[key].low[i] == pytest.approx(value.low, nan_ok=True, abs=1e-9), (grade, key)


def test_batch_shapes_and_bad_rows() -> None:
    w = dc.Composition(C=np.array([0.8, np.nan, -1.0]), Mn=0.6)
    columns = plan.batch(w, target_HRC=[58, 58, 58])
    assert np.isnan(columns["aim"].value).tolist() == [False, True, True]
    assert (columns["aim"].flags[1:] != 0).all()
    empty = plan.batch(dc.Composition(C=np.zeros(0), Mn=0.6))
    assert empty["aim"].value.shape == (0,)
    with pytest.raises(ValueError, match="thickness_mm"):
        plan.batch(w, thickness_mm=[1.0, 2.0])
    with pytest.raises(ValueError, match="batch"):
        plan.batch(dc.Composition(C=0.8))


def test_loads_overlap_by_the_least_overlap_and_hold_every_row() -> None:
    generator = np.random.default_rng(5)
    low = generator.uniform(700.0, 900.0, 200)
    high = low + generator.uniform(5.0, 60.0, 200)
    low[7] = np.nan
    loads = plan.share_loads(low, high)
    rows = sorted(row for load in loads for row in load.rows)
    assert rows == [i for i in range(200) if i != 7]
    for load in loads:
        assert load.coolest_C == max(low[list(load.rows)]) and load.hottest_C == min(high[list(load.rows)])
        assert len(load.rows) == 1 or load.hottest_C - load.coolest_C >= 5.0 - 1e-9


def test_two_ranges_that_barely_touch_do_not_share() -> None:
    assert len(plan.share_loads([790.0, 809.0], [810.0, 830.0])) == 2
    assert len(plan.share_loads([790.0, 800.0], [810.0, 830.0])) == 1


def test_cautions_and_tempers_follow_the_plan() -> None:
    air = {c.applies_to for c in plan.make("D2", target=60).cautions}
    assert {"foil", "cold"} <= air and "quench_oil" not in air
    assert "salt" in {c.applies_to for c in plan.make("M2").cautions}
    plain = {c.applies_to for c in plan.make("1084").cautions}
    assert "quench_oil" in plain and not {"foil", "cold", "salt"} & plain
    for grade, tempers in (("C105U", None), ("1084", 2), ("D2", 1)):
        made = plan.make(grade, target=60, tempers=tempers)
        assert made.temper is not None
        word = {1: "once", 2: "twice"}[made.temper.tempers]
        assert made.steps[6].text.startswith(f"Temper at once, {word}")
    thick = plan.make(dc.Bar(grade=dc.grades.find("S7"), section=dc.Section("plate", 70.0)))
    assert thick.quench.too_thick == ("air",)


def test_loads_are_split_where_the_times_do_not_overlap() -> None:
    low, high = [790.0, 795.0, 800.0], [830.0, 835.0, 840.0]
    loads = plan.share_loads(low, high, [600.0, 700.0, 2000.0], [900.0, 1000.0, 3000.0])
    assert [load.rows for load in loads] == [(0, 1), (2,)]
    assert (loads[0].coolest_C, loads[0].hottest_C) == (795.0, 830.0)
    assert (loads[0].shortest_s, loads[0].longest_s) == (700.0, 900.0)
    assert [load.rows for load in plan.share_loads(low, high)] == [(0, 1, 2)]
    assert [load.rows for load in plan.share_loads(low, high, [1.0, np.nan, 1.0], [2.0, 2.0, 2.0])] == [(0, 2)]
    with pytest.raises(ValueError, match="both or neither"):
        plan.share_loads(low, high, [1.0, 1.0, 1.0])


def test_works_of_a_plan_follow_furnace_medium_and_steel() -> None:
    from decalesce.plan.cautions import works_of_plan

    assert works_of_plan("still_electric", ("air",), "air_hardening", cold=True) == ("foil", "cold")
    assert works_of_plan("neutral_salt", ("oil", "air", "salt"), "high_speed", cold=False) == ("salt",)
    assert works_of_plan("gas_fired", ("oil",), "plain_carbon", cold=False) == ("gas",)
    assert works_of_plan("still_electric", ("oil",), "air_hardening", cold=False) == (), "foil cannot be opened for oil"
    dry = plan.cautions("cold", "foil", oil=False)
    assert {"cold_dry_ice", "cold_nitrogen", "foil_edges"} <= {c.id for c in dry}
    assert not any(c.applies_to == "quench_oil" for c in dry)


def test_published_preheat_hold_and_conditions() -> None:
    """H13: preheat 704 to 760 degC by a supplier's sheet; S7: 15 to 45 min, ASM table from memory."""
    from decalesce.plan.hardening_facts import published_hold, published_preheat, published_window

    preheat, hold = published_preheat(dc.grades.find("H13")), published_hold(dc.grades.find("S7"))
    assert preheat is not None and (preheat.low, preheat.high) == (704.0, 760.0)
    assert hold is not None and (hold.low, hold.high) == (15.0, 45.0)
    assert published_preheat(dc.grades.find("1095")) is None
    window = published_window(dc.grades.find("M2"))
    assert window is not None and "salt bath" in window.conditions


@pytest.mark.parametrize("name", ["1095", "440C", "M2", "4140"])
@pytest.mark.parametrize("target", [None, 58])
def test_plans_that_say_the_same_are_equal(name: str, target: float | None) -> None:
    """NaN stands for no answer: the preheat of 1095, every formula of 440C. Equal plans hash alike and pickle."""
    first, second = plan.make(name, target=target), plan.make(name, target=target)
    assert first is not second and first == second and hash(first) == hash(second)
    assert pickle.loads(pickle.dumps(first)) == first
    assert first.temper == second.temper and first.narrowing == second.narrowing
    assert first != plan.make(name, "neutral_salt", target)
    assert first != plan.make(name, target=57) and first != name


def test_loads_and_settings_are_compared_with_their_nan() -> None:
    assert plan.share_loads([790.0], [810.0]) == plan.share_loads([790.0], [810.0])
    assert plan.share_loads([790.0], [810.0]) != plan.share_loads([791.0], [810.0])
    q = plan.make("M2").quenched
    for targets in (60, np.array([60.0, np.nan])):
        assert dc.temper.temperature_for(q, targets, "2h") == dc.temper.temperature_for(q, targets, "2h")
    assert dc.temper.temperature_for(q, 60, "2h") != dc.temper.temperature_for(q, 60, "1h", tables="ignore", grade="O1")


def test_a_target_is_taken_as_it_is_written() -> None:
    """ASTM E140 prints 697 HV beside 60 HRC."""
    as_number = plan.make("1095", target=60)
    assert plan.make("1095", target="60 HRC") == plan.make("1095", target="60HRC") == as_number
    vickers = plan.make("1095", target="697HV")
    assert vickers.temper is not None and as_number.temper is not None
    assert vickers.target_HRC == pytest.approx(60.0)
    assert vickers.temper.temperature_C.value == pytest.approx(as_number.temper.temperature_C.value)
    assert vickers.temper.notes[0].startswith("697HV is read as 60.0 HRC (59.0 to 61.0)")
    ranged = plan.make("440C", target="653HV").temper
    assert ranged is not None and ranged.used == "published range" and "653HV is read as 58" in ranged.notes[0]
    setting = dc.temper.temperature_for(vickers.quenched, "697HV", "2h")
    assert setting.notes[0] == vickers.temper.notes[0]


def test_a_rack_takes_targets_as_they_are_written() -> None:
    w = dc.Composition(C=np.array([0.8, 0.9]), Mn=0.6)
    number = plan.batch(w, target_HRC=[60.0, 60.0])["temper_C"]
    for written in ("60HRC", 60, ["60HRC", 60.0], np.array(["60HRC", "697HV"])):
        assert plan.batch(w, target_HRC=written)["temper_C"].value == pytest.approx(number.value)
    # a row that is off the scale is flagged, a number for the whole rack is refused
    row = plan.batch(w, target_HRC=[60.0, 620.0])["temper_C"]
    assert row.flagged("off_scale").tolist() == [False, True] and np.isnan(row.value[1])
    for bad, says in ((620, "target_HRC = 620"), (-1, "target_HRC = -1"), (["60HRC", "62"], r"target_HRC\[1\] = '62'")):
        with pytest.raises(ValueError, match=says):
            plan.batch(w, target_HRC=bad)


def test_a_size_that_no_bar_has_gets_no_answer_and_a_stop() -> None:
    """5 m for 5 mm: a metre is the thickest that is taken (common practice, no source)."""
    thick = dc.Section("plate", 5000.0)
    for answer in (dc.heating.heat_through(thick), dc.heating.soak(thick, w="1095").equalize_s):
        assert np.isnan(answer.value) and answer.flags == ("size_impossible",) and answer.level == "stop"
    p = plan.make(dc.Bar(grade=dc.grades.find("1095"), section=thick), target=60)
    assert p.level == "stop" and "check the unit" in p.flags["size_impossible"]
    assert p.temper is not None and np.isnan(p.temper.temperature_C.value)
    assert "this section, 5000 mm," in p.quench.sentence.lower()
    assert plan.make(dc.Bar(grade=dc.grades.find("1095"), section=dc.Section("plate", 900.0))).level == "caution"
    rows = plan.batch(dc.Composition(C=np.array([0.8, 0.8]), Mn=0.6), thickness_mm=[5.0, 5000.0])
    assert rows["hold_s"].flagged("size_impossible").tolist() == [False, True]
    assert np.isnan(rows["hold_s"].value).tolist() == [False, True]


def test_cautions_belong_to_the_question() -> None:
    heat, tempering = ({c.applies_to for c in plan.cautions(question=q)} for q in ("heat", "temper"))
    assert heat == {"hot_work", "carbon_monoxide", "mains", "all"} and tempering == heat | {"quench"}
    assert plan.cautions("salt", question="heat")[-1].id == "local_codes"
    with pytest.raises(ValueError, match="question = 'weld'; expected one of plan, heat, temper"):
        plan.cautions(question="weld")


def test_a_composition_without_a_grade_is_tempered_as_its_family() -> None:
    """Air-hardening tool steels, stainless and high-speed steel twice (common practice, no source)."""
    made = {
        "plain": dc.Composition(C=0.95, Mn=0.4),
        "cold work": dc.Composition(C=1.5, Cr=12.0, Mo=0.8, V=0.9),
        "high speed": dc.Composition(C=0.85, Cr=4.1, Mo=5.0, V=1.9, W=6.2),
    }
    often = []
    for w in made.values():
        line = plan.make(w, target=58.0).temper
        assert line is not None
        often.append(line.tempers)
    assert often == [1, 2, 2]
