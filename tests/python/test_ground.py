"""The plain values: immutable, comparable, picklable with a version, and they print well."""

import pickle
import re
from typing import Any

import numpy as np
import pytest

import decalesce as dc
from decalesce import _core, flags

STEEL = dc.Composition(C=0.95, Mn=0.40, Si=0.20, half_width={"C": 0.02}, status={"Si": "filled"})
BATCH = dc.Composition(C=np.array([0.4, np.nan, 0.9]), Mn=0.7, status={"C": np.array([0, 0, 2], np.uint8)})
HOLD = dc.hold(200, "2h")
SECTION = dc.Section("wedge", 4.0, width_mm=30.0, edge_mm=0.8)
ESTIMATE = dc.critical.temperatures(STEEL).ac1
ESTIMATES = dc.critical.temperatures(BATCH, parts=True).ac1


@pytest.mark.parametrize("value", [STEEL, BATCH, HOLD, SECTION, ESTIMATE, ESTIMATES], ids=repr)
def test_values_pickle_and_compare(value: object) -> None:
    again = pickle.loads(pickle.dumps(value))
    assert again == value
    assert repr(again) == repr(value)
    assert value != "something else"


@pytest.mark.parametrize("value", [STEEL, HOLD, SECTION, ESTIMATE], ids=repr)
def test_single_values_hash(value: object) -> None:
    assert hash(value) == hash(pickle.loads(pickle.dumps(value)))


def test_a_pickle_of_another_version_is_refused() -> None:
    kind, (state,) = SECTION.__class__, SECTION.__reduce_ex__(2)[2:3]
    with pytest.raises(ValueError, match="another version"):
        kind.__new__(kind).__setstate__((99, *state[1:]))


@pytest.mark.parametrize("value", [STEEL, HOLD, SECTION, ESTIMATE], ids=repr)
def test_values_are_immutable(value: object) -> None:
    for name in ("C", "value", "thickness_mm", "duration_s"):
        if hasattr(value, name):
            with pytest.raises(AttributeError):
                setattr(value, name, 1.0)


def test_arrays_of_an_estimate_are_read_only() -> None:
    with pytest.raises(ValueError, match="read-only"):
        ESTIMATES.value[0] = 1.0


def test_a_composition_keeps_its_own_copy() -> None:
    carbon = np.array([0.4, 0.9])
    w = dc.Composition(C=carbon)
    carbon[0] = 5.0
    assert w.C.tolist() == [0.4, 0.9]


def test_not_stated_is_neither_zero_nor_nan() -> None:
    w = dc.Composition(C=0.4, Mn=0.0)
    assert "Ni" not in w.amounts and w.Ni == 0.0
    assert w.amounts["Mn"] == 0.0 and w.status["Mn"] == "measured"


@pytest.mark.parametrize(
    ("given", "error", "says"),
    [
        ({"C": "0.95"}, TypeError, "C = '0.95'"),
        ({"C": True}, TypeError, "C = True"),
        ({"Xx": 1.0}, TypeError, "'Xx' is not an element"),
        ({"C": -0.1}, ValueError, "C = -0.1"),
        ({"C": 101.0}, ValueError, "C = 101"),
        ({"C": 60.0, "Cr": 60.0}, ValueError, "add up to"),
        ({"C": np.zeros(2), "Mn": np.zeros(3)}, ValueError, "shape"),
        ({"C": 0.4, "half_width": {"C": -1.0}}, ValueError, "negative"),
        ({"C": 0.4, "half_width": 0.02}, TypeError, r"half_width = 0.02; expected a dict by element"),
        ({"C": 0.4, "half_width": {6: 0.02}}, TypeError, "half_width '6' is not an element"),
        ({"C": 0.4, "status": {"C": "guessed"}}, ValueError, "guessed"),
        ({"C": 0.4, "status": {"C": 1.5}}, TypeError, r"status\['C'\] = 1.5; expected measured"),
        ({"C": 0.4, "status": {"C": [0, 256]}}, ValueError, "the code 256; expected codes 0 to 3"),
    ],
)
def test_wrong_compositions_are_refused(given: dict[str, object], error: type[Exception], says: str) -> None:
    with pytest.raises(error, match=says):
        dc.Composition(**given)


@pytest.mark.parametrize("given", [0.95, "1095", {"C": 0.95}], ids=repr)
def test_an_amount_without_a_name_is_refused(given: Any) -> None:
    with pytest.raises(TypeError, match=re.escape(f"Composition: {given!r} has no name; expected amounts by element")):
        dc.Composition(given)


def test_an_impossible_row_of_a_batch_is_flagged_and_stops_nothing() -> None:
    t = dc.critical.temperatures(dc.Composition(C=np.array([0.4, -1.0, 0.5]), Cr=np.array([1.0, 1.0, 120.0])))
    assert np.isnan(t.ac1.value).tolist() == [False, True, True]
    assert flags.level(int(t.ac1.flags[1])) == "stop"


@pytest.mark.parametrize(
    ("times", "temperatures", "says"),
    [
        ([0.0], [20.0], "at least two points"),
        ([0.0, 0.0], [20.0, 30.0], "must increase"),
        ([0.0, 1.0], [20.0, np.nan], "not a finite number"),
        ([0.0, 1.0], [20.0, -300.0], "below absolute zero"),
        ([0.0, 1.0], [20.0], "as many of each"),
    ],
)
def test_wrong_histories_are_refused(times: list[float], temperatures: list[float], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        dc.History(np.array(times), np.array(temperatures))


def test_wrong_sections_are_refused() -> None:
    for given in (("plate", 0.0), ("plate", -1.0), ("plate", np.nan), ("rectangle", 5.0), ("disc", 5.0)):
        with pytest.raises(ValueError, match="Section"):
            dc.Section(*given)


@pytest.mark.parametrize(
    ("given", "named", "error", "says"),
    [
        (("plate", "4"), {}, ValueError, "thickness_mm = '4' has no unit; write '4mm'"),
        (("plate", "800C"), {}, ValueError, "thickness_mm = '800C' is not in a fitting unit; expected a length"),
        (("wedge", 4.0, 30.0), {"edge_mm": "thin"}, ValueError, "edge_mm = 'thin': not a number with a unit"),
        (("plate", None), {}, TypeError, "thickness_mm = None; expected a length"),
        (("plate", 4.0), {"width_mm": True}, TypeError, "width_mm = True; expected a length"),
        (("block", 4.0, 30.0), {"length_mm": [1, 2]}, TypeError, "length_mm = [1, 2]; expected one length"),
        ((4.0, 4.0), {}, TypeError, "shape = 4.0; expected a word such as 'plate'"),
        (("plate", 4.0, 1.0, 1.0, 1.0, 7.0), {}, TypeError, "one value too many, 7.0"),
        (("plate", 4.0), {"width": 3.0}, TypeError, "unknown argument 'width'; expected shape, thickness_mm, width_mm"),
    ],
)
def test_sections_name_what_is_wrong(
    given: tuple[Any, ...], named: dict[str, Any], error: type[Exception], says: str
) -> None:
    with pytest.raises(error, match=re.escape(says)):
        dc.Section(*given, **named)


def test_sections_take_lengths_with_a_unit() -> None:
    assert dc.Section("plate", "4mm") == dc.Section("plate", 4)
    assert dc.Section("wedge", "3/16in", width_mm="3 cm", edge_mm=np.float64(0.8)).thickness_mm == pytest.approx(4.7625)
    inch = dc.units.registry().Quantity(1, "inch")
    assert dc.Section("round", inch).thickness_mm == pytest.approx(25.4)  # exactly: NIST SP 811, appendix B


def test_histories_follow_one_another() -> None:
    both = dc.hold(650, 60).then(dc.hold(800, 30))
    assert both.duration_s == pytest.approx(90.0)
    assert both.at(59.9) == pytest.approx(650.0) and both.at(61.0) == pytest.approx(800.0)


def test_every_flag_says_what_to_do() -> None:
    table = flags.table()
    assert len({name for name, _, _ in table}) == len(table)
    for name, level, sentence in table:
        assert level in {"note", "caution", "stop"}
        assert sentence.endswith(".") and len(sentence) > 40, name
        assert flags.names(flags.bit(name)) == (name,)
        assert flags.level(flags.bit(name)) == level


def test_bars_join_certificate_and_grade() -> None:
    from decalesce.bar import Bar

    grade = dc.grades.find("1095")
    bar = Bar(grade=grade, certificate=dc.Composition(C=0.97, Cr=0.12))
    w = bar.composition
    assert w.C == 0.97 and w.status["C"] == "measured" and "C" not in w.half_width
    assert w.Mn == pytest.approx(0.40) and w.status["Mn"] == "filled" and w.half_width["Mn"] == pytest.approx(0.10)
    with pytest.raises(ValueError, match="spark test"):
        Bar()


def test_kernels_are_named() -> None:
    assert "portable" in _core.kernels()
    with pytest.raises(ValueError, match="expected 'fastest'"):
        _core.formula_values("ms_andrews_1965_linear", BATCH, kernel="quantum")
