"""The unit edge. Conversions are those of the SI Brochure and NIST SP 811; pint is the reference library."""

from typing import Any

import numpy as np
import pint
import pytest

import decalesce as dc
from check_files import read_checks
from decalesce import units


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("1475F", 801.6667),
        ("1475 °F", 801.6667),
        ("800C", 800.0),
        ("800 degC", 800.0),
        ("1073.15K", 800.0),
        ("-321 F", -196.1111),
    ],
)
def test_temperatures(text: str, celsius: float) -> None:
    assert units.temperature_C(text) == pytest.approx(celsius, abs=1e-4)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("3/16in", 4.7625),
        ('3/16"', 4.7625),
        ("1-1/2 in", 38.1),
        ("1 1/2in", 38.1),
        (".187in", 4.7498),
        ("4,8 mm", 4.8),
        ("2 cm", 20.0),
        ("1m", 1000.0),
    ],
)
def test_lengths(text: str, mm: float) -> None:
    assert units.length_mm(text) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "s"), [("2h", 7200.0), ("90 min", 5400.0), ("45s", 45.0), ("1.5 hr", 5400.0), ("5m", 300.0)]
)
def test_times(text: str, s: float) -> None:
    assert units.time_s(text) == pytest.approx(s)


def test_a_difference_is_not_a_temperature() -> None:
    """27 degF of swing is 15 K; 27 degF on a thermometer is -2.78 degC. Swapping the converters must show."""
    assert units.difference_K("27F") == pytest.approx(15.0)
    assert units.temperature_C("27F") == pytest.approx(-2.7778, abs=1e-4)
    assert units.difference_K("15C") == 15.0
    with pytest.raises(ValueError, match="a temperature, not a difference"):
        units.difference_K(pint.get_application_registry().Quantity(27.0, "degF"))
    assert units.difference_K(pint.get_application_registry().Quantity(27.0, "delta_degF")) == pytest.approx(15.0)


def test_pint_quantities_are_taken() -> None:
    q = pint.get_application_registry().Quantity
    assert units.temperature_C(q(1475.0, "degF")) == pytest.approx(801.6667, abs=1e-4)
    assert units.length_mm(q(0.5, "inch")) == pytest.approx(12.7)
    assert units.time_s(q(2.0, "hour")) == pytest.approx(7200.0)


def test_numbers_and_arrays_are_in_the_named_unit() -> None:
    assert units.temperature_C(800) == 800.0
    assert isinstance(units.temperature_C(np.float64(800)), float)
    assert units.temperature_C([800, 810]).tolist() == [800.0, 810.0]


@pytest.mark.parametrize(
    ("call", "value", "says"),
    [
        (units.temperature_C, "hot", "not a number with a unit"),
        (units.temperature_C, "-500F", "below absolute zero"),
        (units.temperature_C, "800 mm", "not in a fitting unit"),
        (units.length_mm, "3/0in", "fraction over zero"),
        (units.length_mm, "5 parsnips", "unknown unit"),
        (units.time_s, "2 F", "not in a fitting unit"),
    ],
)
def test_bad_values_name_argument_value_and_what_was_expected(call: object, value: str, says: str) -> None:
    with pytest.raises(ValueError, match=says) as problem:
        call(value)  # type: ignore[operator]
    assert repr(value) in str(problem.value) and "expected" in str(problem.value)


@pytest.mark.parametrize("value", [None, True, ["a"], object()])
def test_wrong_types_are_refused(value: object) -> None:
    with pytest.raises(TypeError, match="temperature_C"):
        units.temperature_C(value)


@pytest.mark.parametrize(
    ("call", "value", "fix"),
    [
        (units.temperature_C, "204", "write '204C' or give the number 204 (degC)"),
        (units.temperature_C, " 204 ", "write '204C' or give the number 204 (degC)"),
        (units.difference_K, "15", "write '15K' or give the number 15 (K)"),
        (units.time_s, "1", "write '1s' or give the number 1 (s)"),
        (units.length_mm, "3/16", "write '3/16mm' or give the number 0.1875 (mm)"),
    ],
)
def test_a_string_without_a_unit_is_refused_with_the_fix(call: Any, value: str, fix: str) -> None:
    with pytest.raises(ValueError, match="has no unit") as problem:
        call(value, "given")
    said = str(problem.value)
    assert said.startswith(f"given = {value!r} has no unit; ") and fix in said and "expected" in said


def test_the_unit_edge_names_the_argument_of_the_room() -> None:
    q = dc.plan.make("1095").quenched
    for call, name in (
        (lambda: dc.temper.temperature_for(q, 60, "2"), "time = '2'"),
        (lambda: dc.temper.equivalent_temperature((200, "1h"), "2"), "new_time = '2'"),
        (lambda: dc.plan.make("1095", target=60, temper_time="2"), "temper_time = '2'"),
        (lambda: dc.hold("204", "1h"), "temperature_C = '204'"),
    ):
        with pytest.raises(ValueError, match=name):
            call()


def swing(waveform: str, mean_C: float, amplitude_K: float, points: int = 4001) -> dc.History:
    """One period of a swing, as finely as its shape asks."""
    if waveform == "square":
        t = np.array([0.0, 0.5 - 1e-9, 0.5, 1.0])
        return dc.History(t, mean_C + amplitude_K * np.array([1.0, 1.0, -1.0, -1.0]))
    t = np.linspace(0.0, 1.0, points)
    wave = np.sin(2 * np.pi * t) if waveform == "sine" else 4 * np.abs(t - np.floor(t + 0.75) + 0.25) - 1
    return dc.History(t, mean_C + amplitude_K * wave)


SWINGS = read_checks("temper_time.csv")
SWINGS = SWINGS[SWINGS.quantity == "effective_temperature_above_mean"]


@pytest.mark.parametrize("row", list(SWINGS.itertuples()), ids=lambda r: r.case_id)
def test_effective_temperature_of_a_swing(row: Any) -> None:
    """Mean kinetic temperature (Haynes, J. Pharm. Sci. 60, 1971), computed values printed to 0.0001 K."""
    history = swing(row.waveform, row.temperature_C, row.amplitude_K)
    above = history.effective_temperature(row.activation_energy_kJ) - row.temperature_C
    assert above == pytest.approx(row.expected, abs=row.tolerance)
    assert 0.0 < above <= row.amplitude_K


def test_histories_take_units() -> None:
    assert dc.hold("400F", "2 h") == dc.hold(204.44444444444446, 7200)
    h = dc.schedule([("10min", 650), ("20min", 650), ("5min", 800)], start_C=20)
    assert h.duration_s == 2100.0 and h.peak_C == 800.0
    assert h.at(300.0) == pytest.approx(335.0)
    assert dc.ramp(20, 120, 100).mean_C == pytest.approx(70.0)
