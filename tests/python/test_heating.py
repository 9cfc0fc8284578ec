"""The soak: heat-up against computed and printed cases, hold against printed rules; the screen beside."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import decalesce as dc
from check_files import read_checks

ROWS = read_checks("soak.csv")
PLAIN = dc.Composition(C=0.84, Mn=0.75, Si=0.2)
THICKNESS = st.floats(0.5, 150.0)
STEELS = {
    "1095": dc.Composition(C=0.95, Mn=0.4, Si=0.2),
    "1084": PLAIN,
    "52100": dc.Composition(C=1.0, Cr=1.45, Mn=0.35, Si=0.25),
    "D2": dc.Composition(C=1.5, Cr=12.0, Mo=0.95, V=0.8),
    "A2": dc.Composition(C=1.0, Cr=5.1, Mo=1.1, V=0.3, Mn=0.8),
    "O1": dc.Composition(C=0.93, Mn=1.2, Cr=0.5, V=0.15, W=0.5),
    "H13": dc.Composition(C=0.4, Cr=5.2, Mo=1.35, V=1.0, Si=1.0),
    "M2": dc.Composition(C=0.85, Cr=4.1, Mo=5.0, V=1.9, W=6.2),
    "440C": dc.Composition(C=1.05, Cr=17.0, Mo=0.5),
    "W1": dc.Composition(C=1.1, Mn=0.25, Si=0.25),
}


@pytest.mark.parametrize(
    ("shape", "thickness", "seconds"),
    [("plate", 3, 210), ("plate", 6, 420), ("round", 25, 894), ("round", 50, 1830), ("plate", 25, 1797)],
)
def test_heat_up_meets_the_computed_cases(shape: str, thickness: float, seconds: float) -> None:
    """EN 1993-1-2 properties, 850 degC still furnace, emissivity 0.8 (data/tables/soak_rules.csv)."""
    screen = dc.heating.heat_through(dc.Section(shape, thickness), detail="screen")
    assert screen.value == pytest.approx(seconds, rel=0.02)


def test_printed_heat_up_of_a_25_mm_round_lies_in_the_band() -> None:
    """Trade page: 4 min in salt, 20 to 30 min in a furnace (data/checks/soak.csv, rows SK001 and SK002)."""
    section = dc.Section("round", 25)
    for row in ROWS[ROWS.note == "heat-up of a round"].itertuples():
        furnace = "neutral_salt" if row.medium == "salt" else "still_electric"
        band = dc.heating.heat_through(section, furnace)
        assert band.low <= 60.0 * row.low
        assert 60.0 * row.low <= band.high


def test_holds_meet_the_printed_ones() -> None:
    """Rows of data/checks/soak.csv whose steel stands above; rules for 25 mm sections and for blades."""
    rows = ROWS[ROWS.steel.isin(STEELS) & (ROWS.note != "normalizing")]
    assert len(rows) >= 10
    met = 0
    for row in rows.itertuples():
        due = dc.heating.soak(dc.Section("plate", row.section_mm), w=STEELS[row.steel])
        with_heat_up = due.heat_up_s.high + due.hold_s.high
        met += due.hold_s.low <= 60.0 * row.high and 60.0 * row.low <= with_heat_up
    assert met >= 0.9 * len(rows)


@given(THICKNESS, THICKNESS, st.sampled_from(dc.heating.FURNACES))
def test_thicker_never_heats_sooner(one: float, other: float, furnace: str) -> None:
    thin, thick = sorted((one, other))
    times = [dc.heating.heat_through(dc.Section("plate", t), furnace) for t in (thin, thick)]
    assert times[0].value <= times[1].value
    for e in times:
        assert 0.0 < e.low < e.value < e.high


def test_furnaces_are_ranked_as_the_trade_knows_them() -> None:
    """Common practice, no source: salt beats fluidized bed beats gas beats still air."""
    section = dc.Section("round", 20)
    seconds = {furnace: dc.heating.heat_through(section, furnace).value for furnace in dc.heating.FURNACES}
    assert (
        seconds["neutral_salt"]
        < seconds["fluidized_bed"]
        < seconds["gas_fired"]
        < seconds["forced_air"]
        < seconds["still_electric"]
    )


def test_a_ground_blade_is_judged_by_its_spine() -> None:
    blade = dc.Section("wedge", 4, width_mm=40, edge_mm=0.5)
    plate = dc.heating.heat_through(dc.Section("plate", 4), detail="screen")
    assert dc.heating.heat_through(blade, detail="screen") == plate
    # computed, the blade is there sooner: its edge holds less heat
    assert dc.heating.heat_through(blade).value < dc.heating.heat_through(dc.Section("plate", 4)).value


def test_rules_stand_beside_and_say_what_they_count() -> None:
    s = dc.heating.soak(dc.Section("plate", 4), w=PLAIN)
    by_id = {rule.id: rule for rule in s.rules}
    assert by_id["hour_per_inch"].includes_heat_up
    assert by_id["hour_per_inch"].minutes[0] == pytest.approx(9.6)
    assert not by_id["minimum_hold_carbon"].includes_heat_up
    assert s.hold_rule is not None
    assert s.hold_rule.id == "hold_plain_blade"
    assert all(rule.text and rule.source and rule.status for rule in s.rules)


def test_the_hold_grows_from_the_blade_rule_to_the_bar_rule() -> None:
    """5 to 10 min up to 6 mm, 10 to 30 min at 25 mm (data/tables/soak_rules.csv); in proportion between them, which is
    common practice, no source."""
    for thickness, low, high, rule in (
        (6, 5, 10, "hold_plain_blade"),
        (25, 10, 30, "hold_w1"),
        (40, 10, 30, "hold_w1"),
    ):
        due = dc.heating.soak(dc.Section("plate", thickness), w=PLAIN)
        assert (due.hold_s.low / 60, due.hold_s.high / 60) == (low, high)
        assert due.hold_rule is not None and due.hold_rule.id == rule
    between = dc.heating.soak(dc.Section("plate", 15.5), w=PLAIN)
    assert (between.hold_s.low / 60, between.hold_s.high / 60) == pytest.approx((7.5, 20.0))
    assert between.hold_s.sources == ("ASM_ToolSteelTable", "CommonPractice")
    assert {"hold_plain_blade", "hold_w1"} <= {rule.id for rule in between.rules}


@pytest.mark.parametrize("steel", STEELS)
def test_the_hold_does_not_jump_with_the_section(steel: str) -> None:
    """A tenth of a millimetre more never asks for less, nor for more than 10 s more."""
    thicknesses = np.arange(1.0, 60.0, 0.1)
    holds = [dc.heating.soak(dc.Section("plate", t), w=STEELS[steel], detail="screen").hold_s for t in thicknesses]
    for end in ("low", "value", "high"):
        steps = np.diff([getattr(hold, end) for hold in holds])
        assert np.all(steps >= -1e-9)
        assert np.all(steps <= 10.0)


def test_thin_bearing_steel_has_the_printed_hold() -> None:
    """15 to 40 min, printed for up to 25 mm (ASM_52100_Note); nothing shorter is printed for a blade."""
    hold = dc.heating.soak(dc.Section("plate", 2.5), w=STEELS["52100"]).hold_s
    assert (hold.low / 60, hold.high / 60) == (15, 40)


def test_a_soak_of_hours_is_called_out_where_minutes_are_due() -> None:
    due = dc.heating.soak(dc.Section("plate", 4), w=PLAIN)
    assert dc.heating.check_soak("10 s", due).verdict == "too_short"
    assert dc.heating.check_soak("12 min", due).verdict == "fits"
    long = dc.heating.check_soak("3 h", due)
    assert long.verdict == "far_too_long"
    assert long.flags == ("soak_too_long",)
    assert "Minutes" in long.sentence


def test_thick_sections_are_flagged() -> None:
    assert "thick_section" not in dc.heating.heat_through(dc.Section("plate", 25), detail="screen").flags
    assert "thick_section" in dc.heating.heat_through(dc.Section("plate", 90), detail="screen").flags
    assert "thick_section" in dc.heating.soak(dc.Section("plate", 90), w=STEELS["52100"]).flags


def test_tool_steel_is_preheated_and_plain_steel_is_not() -> None:
    """Steelmakers' cards: 5 %Cr just below the critical temperature, M types 730 to 845 degC; from memory of the ASM
    table: D2 and D3 815, A2 790, stainless 760 to 790 degC (data/tables/soak_rules.csv)."""
    assert dc.heating.soak(dc.Section("plate", 10), w=PLAIN).preheat_C is None
    assert dc.heating.soak(dc.Section("plate", 10), w=STEELS["D2"]).preheat_C == (790.0, 815.0)
    assert dc.heating.soak(dc.Section("plate", 10), w=dc.Composition(C=1.0, Cr=17.0)).preheat_C == (760.0, 790.0)
    assert dc.heating.soak(dc.Section("plate", 10), w=STEELS["M2"]).preheat_C == (730.0, 845.0)


def test_no_rule_no_hold() -> None:
    s = dc.heating.soak(dc.Section("plate", 5), w=dc.Composition(C=0.05, Cr=18.0, Ni=9.0))
    assert np.isnan(s.hold_s.value)
    assert "no_model" in s.flags
    assert s.hold_rule is None
    assert dc.heating.check_soak("1 h", s).verdict == "not_known"
    unusable = dc.heating.soak(dc.Section("plate", 5), w=dc.Composition(C=np.nan))
    assert "nan_input" in unusable.hold_s.flags


def test_bad_arguments_are_named() -> None:
    with pytest.raises(ValueError, match="furnace = 'kiln'"):
        dc.heating.heat_through(dc.Section("plate", 4), "kiln")
    with pytest.raises(TypeError, match="piece"):
        dc.heating.heat_through(4)
    with pytest.raises(TypeError, match="expected a Composition"):
        dc.heating.soak(dc.Section("plate", 4))
    with pytest.raises(ValueError, match="batch"):
        dc.heating.soak(dc.Section("plate", 4), w=dc.Composition(C=np.array([0.4, 0.5])))
