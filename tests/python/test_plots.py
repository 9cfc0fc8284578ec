"""The sheets show what the rooms answer, say it in the right units, and say why where there is no answer."""

import subprocess
import sys
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg

import decalesce as dc

DEMO = Path(__file__).resolve().parents[2] / "data" / "demo"
STAINLESS = dc.Composition(C=0.35, Cr=13.0)


def quenched(grade: str, temperature_C: float) -> dc.AsQuenched:
    return dc.AsQuenched.fully_hardened(dc.austenite.dissolve(dc.grades.find(grade), dc.hold(temperature_C, "10 min")))


@pytest.fixture(scope="module")
def rack():
    return dc.inventory.evaluate(DEMO / "bar_rack.csv", certificates=DEMO / "certificates")


def words_of(sheet) -> str:
    texts = [text.get_text() for text in sheet.texts]
    for axes in sheet.axes:
        texts += [text.get_text() for text in axes.texts]
    return " ".join(" ".join(texts).split())


def drawn_as(axes, gid: str):
    return [artist for artist in (*axes.lines, *axes.patches) if artist.get_gid() == gid]


def twin_label(axes, side: str) -> str:
    (far,) = axes.child_axes
    return far.get_xlabel() if side == "top" else far.get_ylabel()


SHEETS = {
    "window": lambda: dc.plots.window("1095"),
    "window shop": lambda: dc.plots.window("O1", units="shop"),
    "window hypo": lambda: dc.plots.window("5160"),
    "window published": lambda: dc.plots.window("A2", soak_time="30 min"),
    "window none": lambda: dc.plots.window(STAINLESS),
    "temper": lambda: dc.plots.temper_curve(quenched("O1", 802), "2h", grade="O1", target=61),
    "temper shop": lambda: dc.plots.temper_curve(quenched("1095", 793), "1h", target=60, units="shop"),
    "temper printed": lambda: dc.plots.temper_curve(quenched("M2", 1204), "2h", grade="M2", target=64, tempers=2),
    "temper none": lambda: dc.plots.temper_curve(quenched("A2", 968), "2h"),
    "equivalents": lambda: dc.plots.temper_equivalents((205, "2h"), carbon_wt=0.7),
    "equivalents shop": lambda: dc.plots.temper_equivalents(("400F", "1h"), units="shop"),
    "soak": lambda: dc.plots.soak([3, 6, 12, 25], "1084"),
    "soak shop": lambda: dc.plots.soak(["1/8in", "1/4in"], "O1", "neutral_salt", units="shop"),
}


@pytest.mark.parametrize("name", SHEETS)
def test_every_word_lies_on_the_sheet_and_on_no_other(name: str) -> None:
    sheet = SHEETS[name]()
    FigureCanvasAgg(sheet).draw()
    page = sheet.bbox.padded(1.0)
    boxes = []
    for text in [*sheet.texts, *(text for axes in sheet.axes for text in axes.texts)]:
        if text.get_text() and text.get_visible():
            box = text.get_window_extent()
            assert page.x0 <= box.x0 and box.x1 <= page.x1, text.get_text()
            assert page.y0 <= box.y0 and box.y1 <= page.y1, text.get_text()
            boxes.append((text.get_text(), box.padded(-2.0)))
    assert boxes
    for (one, first), (other, second) in combinations(boxes, 2):
        assert not first.overlaps(second), f"{one!r} lies over {other!r}"


def test_the_rack_lies_on_its_sheet(rack) -> None:
    sheet = dc.plots.rack(rack)
    FigureCanvasAgg(sheet).draw()
    page = sheet.bbox.padded(1.0)
    for text in [*sheet.texts, *sheet.axes[0].texts]:
        box = text.get_window_extent()
        assert page.x0 <= box.x0 and box.x1 <= page.x1, text.get_text()


def test_window_draws_the_answers_of_the_rooms() -> None:
    grade = dc.grades.find("1095")
    sheet = dc.plots.window(grade, soak_time="10 min")
    strip, carbon, carbide, retained = sheet.axes
    window = dc.austenite.window(grade)
    (bar,) = [line for line in strip.lines if line.get_linewidth() == 6]
    np.testing.assert_allclose(bar.get_xdata(), [window.coolest.value, window.hottest.value])
    asked = [770.0, 790.0, 800.0]
    truth = dc.austenite.curves(grade, asked, "10 min")
    for axes, expected in (
        (carbon, truth.carbon_in_solution_wt),
        (carbide, truth.carbide_left_wt),
        (retained, 100.0 * truth.retained_austenite),
    ):
        solid = next(line for line in axes.lines if len(line.get_xdata()) > 2 and line.get_linestyle() == "-")
        read = np.interp(asked, solid.get_xdata(), solid.get_ydata())
        np.testing.assert_allclose(read, expected, atol=0.02 * float(np.max(expected)))
    assert retained.get_xlabel() == "furnace temperature, °C"
    assert twin_label(strip, "top") == "°F"
    labels = [label.get_text() for label in strip.get_yticklabels()]
    assert labels == ["window", "published", "Ac1", "Acm"]


def test_window_in_shop_units_is_the_same_window() -> None:
    strip = dc.plots.window("O1", units="shop").axes[0]
    window = dc.austenite.window(dc.grades.find("O1"))
    (bar,) = [line for line in strip.lines if line.get_linewidth() == 6]
    expected = [
        dc.units.registry().Quantity(e.value, "degC").to("degF").magnitude for e in (window.coolest, window.hottest)
    ]
    np.testing.assert_allclose(bar.get_xdata(), expected)
    assert twin_label(strip, "top") == "°C"


def test_below_the_critical_temperature_the_curve_is_dotted() -> None:
    carbon = dc.plots.window("1095").axes[1]
    ac1 = dc.critical.temperatures(dc.grades.find("1095").composition).ac1.value
    for line in carbon.lines:
        drawn = np.asarray(line.get_xdata(), float)
        if len(drawn) > 2:
            drawn = drawn[~np.isnan(np.asarray(line.get_ydata(), float))]
            assert np.all(drawn < ac1) if line.get_linestyle() == ":" else np.all(drawn >= ac1)


@pytest.mark.parametrize("w", [STAINLESS, dc.Composition(C=float("nan"), Mn=0.4)], ids=["no rule", "unusable"])
def test_window_without_any_temperature_is_a_message(w: dc.Composition) -> None:
    sheet = dc.plots.window(w)
    (axes,) = sheet.axes
    assert not axes.axison
    assert not axes.lines
    flags = {flag: sentence for flag, _, sentence in dc.flags.table()}
    expected = "no_formula_safe" if w == STAINLESS else "nan_input"
    assert flags[expected] in words_of(sheet)


def test_window_says_what_it_cannot_answer_in_its_place() -> None:
    sheet = dc.plots.window("A2", soak_time="30 min")
    strip, carbon, _, retained = sheet.axes
    assert "Nothing here models this steel" in " ".join(text.get_text() for text in retained.texts)
    assert any(len(line.get_xdata()) > 2 for line in carbon.lines)
    assert "no published formula is safe" in " ".join(text.get_text() for text in strip.texts)
    assert "It is the one used." in words_of(sheet)


def test_temper_curve_is_the_model() -> None:
    q = quenched("1095", 793)
    axes = dc.plots.temper_curve(q, "2h", target=60).axes[0]
    (curve,) = drawn_as(axes, "model")
    read = np.interp([200.0, 300.0, 400.0], curve.get_xdata(), curve.get_ydata())
    np.testing.assert_allclose(read, dc.temper.hardness(q, (np.array([200.0, 300.0, 400.0]), "2h")).value, atol=1e-9)
    setting = dc.temper.temperature_for(q, 60, "2h")
    marks = [line for line in axes.lines if line.get_marker() == "o"]
    assert [(line.get_xdata()[0], line.get_ydata()[0]) for line in marks] == [(setting.value, 60)]
    assert axes.get_xlabel() == "temper, °C"
    assert axes.get_ylabel() == "hardness, HRC"
    assert twin_label(axes, "top") == "°F"


def test_printed_points_stand_where_they_are_printed_when_the_time_is_theirs() -> None:
    # steelmaker's card, O1, hardened from 802 °C, tempered twice 2 h: 62 HRC at 205 °C, 59 at 260 °C, 40 at 540 °C
    axes = dc.plots.temper_curve(quenched("O1", 802), "2h", grade="O1", tempers=2).axes[0]
    (printed,) = drawn_as(axes, "printed")
    points = dict(zip(np.round(printed.get_xdata(), 6), printed.get_ydata(), strict=True))
    assert [points[t] for t in (205.0, 260.0, 540.0)] == [62.0, 59.0, 40.0]


def test_printed_points_move_to_the_time_asked() -> None:
    # by hand, HollomonJaffe1945 with constant 20: 205 °C in 4 h is (478.15)(20 + lg 4) / (20 + lg 1) - 273.15 in 1 h
    axes = dc.plots.temper_curve(quenched("O1", 802), "1h", grade="O1").axes[0]
    (printed,) = drawn_as(axes, "printed")
    expected = 478.15 * (20.0 + np.log10(4.0)) / 20.0 - 273.15
    moved = dict(zip(printed.get_ydata(), printed.get_xdata(), strict=True))
    assert moved[62.0] == pytest.approx(expected, abs=1e-6)


def test_steel_that_hardens_again_has_points_and_no_curve() -> None:
    sheet = dc.plots.temper_curve(quenched("M2", 1204), "2h", grade="M2", target=64, tempers=2)
    axes = sheet.axes[0]
    assert drawn_as(axes, "model") == []
    assert len(drawn_as(axes, "printed")) == 4
    assert "no temper by the model" in words_of(sheet)
    assert "embrittles" not in words_of(sheet)


def test_temper_out_of_reach_says_so() -> None:
    said = words_of(dc.plots.temper_curve(quenched("1045", 820), "1h", target=62))
    assert "above what this steel reaches" in said


def test_temper_curve_without_curve_and_points_is_a_message() -> None:
    sheet = dc.plots.temper_curve(quenched("A2", 968), "2h")
    assert not sheet.axes[0].axison
    assert "Nothing here models this steel" in words_of(sheet)


def test_equivalents_meet_at_the_hold_and_follow_the_parameter() -> None:
    top, low = dc.plots.temper_equivalents((205, "2h"), carbon_wt=0.7).axes
    curves = [line for line in top.lines if len(line.get_xdata()) > 2]
    assert len(curves) == 3
    for curve in curves:
        assert np.interp(np.log(7200.0), np.log(curve.get_xdata()), curve.get_ydata()) == pytest.approx(205.0, abs=0.02)
    main = next(line for line in curves if line.get_linestyle() == "-")
    # by hand, HollomonJaffe1945: 478.15 (20 + lg 2) / (20 + lg 8) - 273.15
    at_8h = np.interp(np.log(28800.0), np.log(main.get_xdata()), main.get_ydata())
    assert at_8h == pytest.approx(478.15 * (20 + np.log10(2)) / (20 + np.log10(8)) - 273.15, abs=0.02)
    assert [text.get_text() for text in top.texts] == ["220", "212", "205", "198", "191"]
    assert [text.get_text() for text in low.texts] == ["constant 20", "constant 18", "constant 17.2, by carbon"]
    assert top.get_xscale() == "log"
    assert twin_label(top, "right") == "°F"


def test_soak_bars_are_the_parts_and_rules_start_where_they_count() -> None:
    inch = dc.Section("plate", 25.4)
    axes = dc.plots.soak(inch, "1084").axes[0]
    parts = dc.heating.soak(inch, w=dc.grades.find("1084").composition)
    left = 0.0
    for word, part in (("heat-up", parts.heat_up_s), ("equalize", parts.equalize_s), ("hold", parts.hold_s)):
        (bar,) = drawn_as(axes, word)
        assert bar.get_x() == pytest.approx(left)
        assert bar.get_width() == pytest.approx(part.value / 60.0)
        left += bar.get_width()
    # "one hour per inch of thickness", trade pages: 60 min from loading; "5 min per inch" counts when the steel is hot
    (hour,) = drawn_as(axes, "hour_per_inch")
    assert (hour.get_x(), hour.get_width()) == (0.0, pytest.approx(60.0, abs=1.0))
    (least,) = drawn_as(axes, "minimum_hold_carbon")
    assert least.get_x() == pytest.approx((parts.heat_up_s.value + parts.equalize_s.value) / 60.0)
    assert least.get_width() == pytest.approx(5.0, abs=0.1)
    assert axes.get_xlabel() == "minutes from loading"


def test_a_rule_that_runs_off_the_soak_sheet_says_so() -> None:
    sheet = dc.plots.soak(3, "1084")
    (longest,) = drawn_as(sheet.axes[0], "hour_plus_hour_per_inch")
    assert longest.get_width() == pytest.approx(sheet.axes[0].get_xlim()[1])
    assert "→ 60 min from loading" in words_of(sheet)


def test_soak_names_thicknesses_as_the_shop_does() -> None:
    axes = dc.plots.soak(["3/16in", 5.5], "1084", units="shop").axes[0]
    assert [label.get_text() for label in axes.get_yticklabels()] == ["3/16 in\nplate", "0.217 in\nplate"]
    axes = dc.plots.soak(["3/16in", 5.5], "1084").axes[0]
    assert [label.get_text() for label in axes.get_yticklabels()] == ["4.76 mm\nplate", "5.5 mm\nplate"]


def test_rack_names_every_row_once_and_draws_every_load(rack) -> None:
    axes = dc.plots.rack(rack).axes[0]
    labels = [label.get_text().split("  ")[0] for label in axes.get_yticklabels()]
    assert sorted(labels) == sorted(rack.rack.piece_id.to_list())
    loads = drawn_as(axes, "load")
    assert len(loads) == len(rack.harden)
    for patch, load in zip(loads, rack.harden, strict=True):
        assert patch.get_x() == pytest.approx(load.coolest_C)
        assert patch.get_x() + patch.get_width() == pytest.approx(load.hottest_C)
        assert patch.get_height() == pytest.approx(len(load.rows))
    marks = [line.get_marker() for line in axes.lines if len(line.get_xdata()) == 1]
    levels = rack.results["level"].value_counts()
    # one more of each stands in the key
    assert marks.count("X") == levels["stop"] + 1
    assert marks.count("^") == levels["caution"] + 1


def test_rack_in_shop_units(rack) -> None:
    axes = dc.plots.rack(rack, units="shop").axes[0]
    first = drawn_as(axes, "load")[0]
    assert first.get_x() == pytest.approx(rack.harden[0].coolest_C * 1.8 + 32.0)
    assert axes.get_xlabel() == "furnace temperature, °F"


def test_rack_refuses_what_is_no_evaluation_or_too_long(rack) -> None:
    with pytest.raises(TypeError, match="evaluation = 3; expected"):
        dc.plots.rack(3)
    frame = rack.table.iloc[[0] * 151].reset_index(drop=True)
    with pytest.raises(ValueError, match="151 rows"):
        dc.plots.rack(dc.inventory.evaluate(frame[["piece", "steel grade", "size"]]))


@pytest.mark.parametrize(
    "draw",
    [
        lambda: dc.plots.window("1095", units="imperial"),
        lambda: dc.plots.temper_curve(quenched("1095", 793), units="imperial"),
        lambda: dc.plots.temper_equivalents((205, "2h"), units="imperial"),
        lambda: dc.plots.soak(6, "1095", units="imperial"),
    ],
)
def test_unknown_units_are_named(draw) -> None:
    with pytest.raises(ValueError, match="units = 'imperial'; expected 'metric'"):
        draw()


def test_wrong_arguments_are_named() -> None:
    with pytest.raises(ValueError, match="soak_time = 0"):
        dc.plots.window("1095", soak_time=0)
    with pytest.raises(ValueError, match="holds arrays"):
        dc.plots.temper_equivalents((np.array([200.0, 210.0]), "2h"))
    with pytest.raises(ValueError, match="sections holds 0"):
        dc.plots.soak([], "1095")
    with pytest.raises(TypeError, match="AsQuenched"):
        dc.plots.temper_curve(dc.Composition(C=0.9))
    batch = dc.AsQuenched.fully_hardened(dc.austenite.dissolve(dc.Composition(C=[0.8, 0.9]), dc.hold(800, 600)))
    with pytest.raises(ValueError, match="batch"):
        dc.plots.temper_curve(batch)


def test_matplotlib_is_loaded_with_the_first_sheet_only() -> None:
    code = "import sys, decalesce as dc; dc.plots.window; sys.exit('matplotlib' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_sheet_shows_itself_in_a_notebook() -> None:
    assert dc.plots.window("1095")._repr_png_().startswith(b"\x89PNG")


def test_sheets_leave_the_users_settings_and_figures_alone() -> None:
    import matplotlib as mpl
    import matplotlib.pyplot as plt

    before = dict(mpl.rcParams)
    dc.plots.window("1095")
    assert dict(mpl.rcParams) == before
    assert plt.get_fignums() == []
