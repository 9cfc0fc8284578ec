"""Closed forms of conduction: data/checks/conduction.csv and conduction_roots.csv, and SciPy as a second opinion."""

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, optimize, special

import decalesce as dc
from check_files import read_checks
from conduction_rows import answer
from decalesce.conduction import Piece, half_space, lumped, series

ROWS = read_checks("conduction.csv")
ROOTS = read_checks("conduction_roots.csv")
STEEL = {"conductivity": 30.0, "diffusivity": 7e-6}
BODIES = st.sampled_from(series.BODIES)
BIOTS = st.floats(-4.0, 4.0).map(lambda power: 10.0**power)


@pytest.mark.parametrize("row", list(ROWS.itertuples()), ids=lambda row: row.case_id)
def test_worked_examples(row: Any) -> None:
    """Exact answers to worked examples of textbooks; `report` rows are from memory and agree all the same."""
    assert answer(row) == pytest.approx(row.expected, abs=row.tolerance)


def test_worked_examples_were_found() -> None:
    assert len(ROWS) >= 41
    assert (ROWS.gate == "exact").sum() >= 38


@pytest.mark.parametrize("row", list(ROOTS.itertuples()), ids=lambda row: row.case_id)
def test_roots_and_coefficients(row: Any) -> None:
    """Exact to nine decimals, and the printed table to its four."""
    found = series.term(row.body, row.biot)
    assert found.root == pytest.approx(row.root, abs=row.tolerance)
    assert found.coefficient == pytest.approx(row.coefficient, abs=row.tolerance)
    if not math.isnan(row.printed_root):
        assert found.root == pytest.approx(row.printed_root, abs=1.01e-4)
        assert found.coefficient == pytest.approx(row.printed_coefficient, abs=1.01e-4)


def scipy_roots(body: str, biot: float, count: int) -> np.ndarray:
    """Roots by brentq between the ends that interlace them."""
    n = np.arange(count)
    if body == "plate":
        ends, f = (n * np.pi, n * np.pi + np.pi / 2), lambda z: z * np.sin(z) - biot * np.cos(z)
    elif body == "cylinder":
        low = np.concatenate([[0.0], special.jn_zeros(1, count)])[:count]
        ends, f = (low, special.jn_zeros(0, count)), lambda z: z * special.j1(z) - biot * special.j0(z)
    else:
        ends, f = (n * np.pi + 1e-9, (n + 1) * np.pi - 1e-13), lambda z: z * np.cos(z) - (1 - biot) * np.sin(z)
    return np.array([optimize.brentq(f, a, b, xtol=1e-15, rtol=1e-14) for a, b in zip(*ends, strict=True)])


def scipy_theta(body: str, biot: float, fourier: float, s: float) -> float:
    z = scipy_roots(body, biot, 200)
    if body == "plate":
        c, x = 4 * np.sin(z) / (2 * z + np.sin(2 * z)), np.cos(z * s)
    elif body == "cylinder":
        a, b = special.j0(z), special.j1(z)
        c, x = 2 * b / (z * (a * a + b * b)), special.j0(z * s)
    else:
        c, x = 4 * (np.sin(z) - z * np.cos(z)) / (2 * z - np.sin(2 * z)), np.sinc(z * s / np.pi)
    return float(np.sum(c * np.exp(-z * z * fourier) * x))


@pytest.mark.parametrize("body", series.BODIES)
@pytest.mark.parametrize("biot", [0.003, 0.3, 1.0, 7.0, 300.0])
def test_roots_beyond_the_first(body: str, biot: float) -> None:
    found = [series.term(body, biot, n).root for n in range(60)]
    assert found == pytest.approx(scipy_roots(body, biot, 60), rel=1e-12)


@settings(max_examples=60, deadline=None)
@given(body=BODIES, biot=BIOTS, log_fourier=st.floats(-3.0, 0.5), s=st.floats(0.0, 1.0))
def test_theta_against_scipy(body: str, biot: float, log_fourier: float, s: float) -> None:
    fourier = 10.0**log_fourier
    assert series.theta(body, biot, fourier, s) == pytest.approx(scipy_theta(body, biot, fourier, s), abs=1e-10)


@pytest.mark.parametrize("body", series.BODIES)
@pytest.mark.parametrize("biot", [0.01, 1.0, 40.0, math.inf])
@pytest.mark.parametrize("fourier", [1e-3, 0.02, 0.4])
def test_mean_is_the_mean(body: str, biot: float, fourier: float) -> None:
    """The mean over the volume is from memory: quadrature of the series settles it."""
    power = series.BODIES.index(body)
    weighed = integrate.quad(
        lambda s: (power + 1) * s**power * series.theta(body, biot, fourier, s), 0.0, 1.0, epsabs=1e-11, limit=200
    )
    assert series.mean(body, biot, fourier) == pytest.approx(weighed[0], abs=1e-9)


@pytest.mark.parametrize("body", series.BODIES)
@pytest.mark.parametrize("biot", [1e-6, 0.3, 0.5, 1.0, 1.0001, 25.0, 1e9, math.inf])
def test_series_and_early_wave_meet(body: str, biot: float) -> None:
    """On both sides of Fo = 1e-6, in theta, in the mean, and at the surface."""
    below, above = series.LEAST_FOURIER * (1 - 1e-9), series.LEAST_FOURIER
    for s in (1.0, 0.9995, 0.998, 0.5, 0.0):
        change = 1.0 - series.theta(body, biot, above, s)
        assert 1.0 - series.theta(body, biot, below, s) == pytest.approx(change, rel=1e-6, abs=1e-11)
    assert series.heat_fraction(body, biot, below) == pytest.approx(
        series.heat_fraction(body, biot, above), rel=1e-6, abs=1e-11
    )


@pytest.mark.parametrize("body", series.BODIES)
def test_limits_of_biot(body: str) -> None:
    surface_over_volume = series.BODIES.index(body) + 1
    biot, fourier = 1e-8, 3e7
    assert series.theta(body, biot, fourier, 0.5) == pytest.approx(
        math.exp(-surface_over_volume * biot * fourier), rel=1e-7
    )
    assert series.theta(body, 0.0, 5.0) == 1.0
    assert series.theta(body, math.inf, 0.3, 1.0) == pytest.approx(0.0, abs=1e-15)
    assert series.theta(body, 1e12, 0.3, 0.4) == pytest.approx(series.theta(body, math.inf, 0.3, 0.4), abs=1e-11)
    assert series.theta(body, 2.0, math.inf) == 0.0


@pytest.mark.parametrize("body", series.BODIES)
def test_one_term_says_where_it_is_not_enough(body: str) -> None:
    biot = np.geomspace(0.01, 1e3, 11)
    one = series.one_term(body, biot[:, None], np.array([0.2001, 0.4, 2.0]), 0.0)
    assert not one.outside.any()
    assert np.abs(one.theta - series.theta(body, biot[:, None], np.array([0.2001, 0.4, 2.0]))).max() < 0.02
    assert series.one_term(body, 1.0, 0.2).outside
    assert series.one_term(body, 1.0, 0.01).outside


@settings(max_examples=60, deadline=None)
@given(body=BODIES, biot=BIOTS, left=st.floats(0.001, 0.999), s=st.floats(0.0, 0.99))
def test_fourier_inverse(body: str, biot: float, left: float, s: float) -> None:
    fourier = series.fourier_at(body, biot, left, s)
    assert series.theta(body, biot, fourier, s) == pytest.approx(left, abs=1e-9)
    assert series.mean(body, biot, series.fourier_at_mean(body, biot, left)) == pytest.approx(left, abs=1e-9)


def test_products_and_their_times() -> None:
    block = Piece.block(20, 40, 60, film=150.0, **STEEL)
    parts = [Piece.plate(size, film=150.0, **STEEL) for size in (20, 40, 60)]
    at = (3.0, 20.0, 10.0)
    by_hand = math.prod(part.theta(90.0, x) for part, x in zip(parts, at, strict=True))
    assert block.theta(90.0, at) == pytest.approx(by_hand, rel=1e-13)
    cold = {"start_C": 20.0, "surroundings_C": 850.0}
    for piece, place in [
        (block, at),
        (Piece.semi_infinite_plate(20, film=150.0, **STEEL), (2.0, 35.0)),
        (Piece.semi_infinite_round(20, film=math.inf, **STEEL), (0.0, 15.0)),
        (Piece.short_cylinder(30, 45, film=2000.0, **STEEL), (0.0, 0.0)),
    ]:
        for target in (100.0, 600.0, 840.0):
            time = piece.time_s(target, **cold, at_mm=place)
            assert piece.temperature_C(time, **cold, at_mm=place) == pytest.approx(target, abs=1e-7)
    assert block.mean_C(block.time_to_mean_s(700.0, **cold), **cold) == pytest.approx(700.0, abs=1e-7)


def test_a_far_face_makes_no_half_space() -> None:
    """Deep in, a semi-infinite plate is a plate; a thick plate is a half space while its middle is cold."""
    plate = Piece.plate(30, film=400.0, **STEEL)
    deep = Piece.semi_infinite_plate(30, film=400.0, **STEEL)
    assert deep.theta(60.0, (5.0, 2000.0)) == pytest.approx(plate.theta(60.0, 5.0), rel=1e-12)
    thick = Piece.plate(400, film=400.0, **STEEL)
    temperatures = {"start_C": 20.0, "surroundings_C": 900.0}
    assert half_space.film_C(10, 60.0, film=400.0, **STEEL, **temperatures) == pytest.approx(
        thick.temperature_C(60.0, **temperatures, at_mm=190.0), abs=1e-9
    )


def test_half_space_against_scipy() -> None:
    depth, time = np.linspace(0.0, 60.0, 7)[:, None], np.geomspace(1e-3, 1e6, 10)
    x, k, a, h = depth * 1e-3, STEEL["conductivity"], STEEL["diffusivity"], 800.0
    e, b = x / (2 * np.sqrt(a * time)), h * np.sqrt(a * time) / k
    felt = special.erfc(e) - np.exp(-e * e) * special.erfcx(e + b)
    found = half_space.film_C(depth, time, start_C=0.0, surroundings_C=1.0, film=h, **STEEL)
    assert found.shape == (7, 10)
    assert found == pytest.approx(felt, abs=1e-12)
    stepped = half_space.step_C(depth, time, start_C=0.0, surface_C=1.0, diffusivity=a)
    assert stepped == pytest.approx(special.erfc(e), abs=1e-14)
    assert half_space.film_C(1.0, 1e30, start_C=0.0, surroundings_C=1.0, film=1e6, **STEEL) == pytest.approx(1.0)


def test_half_space_times() -> None:
    a = STEEL["diffusivity"]
    ends = {"start_C": 20.0, "surface_C": 800.0, "diffusivity": a}
    assert half_space.step_C(12, half_space.step_time_s(300, 12, **ends), **ends) == pytest.approx(300)
    assert half_space.step_C(half_space.step_depth_mm(300, 77, **ends), 77, **ends) == pytest.approx(300)
    film = {"start_C": 20.0, "surroundings_C": 800.0, "film": 900.0, **STEEL}
    for depth in (0.0, 12.0):
        assert half_space.film_C(depth, half_space.film_time_s(300, depth, **film), **film) == pytest.approx(300)
        flux = {"start_C": 20.0, "flux": 2e5, **STEEL}
        assert half_space.flux_C(depth, half_space.flux_time_s(300, depth, **flux), **flux) == pytest.approx(300)
        pulse = {"start_C": 20.0, "energy": 2e7, "volumetric_heat": 4e6, "diffusivity": a}
        time = half_space.pulse_time_s(60, depth, **pulse)
        assert half_space.pulse_C(depth, time, **pulse) == pytest.approx(60)
        assert half_space.pulse_C(depth, time * 1.01, **pulse) < 60
    assert math.isnan(half_space.pulse_time_s(1000, 100, **pulse))
    wave_depth = half_space.wave_depth_mm(0.31, period_s=60, diffusivity=a)
    assert half_space.wave(wave_depth, amplitude_K=10, period_s=60, diffusivity=a).amplitude_K == pytest.approx(3.1)


def test_lumped_with_radiation_against_an_ode() -> None:
    """SciPy's DOP853 on the energy balance; gas and walls differ."""
    piece = {"volume_to_surface_mm": 1.5, "volumetric_heat": 4.5e6}
    around = {"film": 12.0, "gas_C": 780.0, "emissivity": 0.8, "walls_C": 850.0}

    def slope(_: float, kelvin: np.ndarray) -> np.ndarray:
        radiated = 0.8 * 5.670374419e-8 * (1123.15**4 - kelvin**4)
        return (12.0 * (1053.15 - kelvin) + radiated) / (4.5e6 * 1.5e-3)

    times = np.array([10.0, 100.0, 250.0, 600.0])
    solved = integrate.solve_ivp(slope, (0, 600), [293.15], method="DOP853", rtol=1e-12, atol=1e-10, t_eval=times)
    found = lumped.with_radiation_C(times, start_C=20.0, **piece, **around)
    assert found == pytest.approx(solved.y[0] - 273.15, abs=1e-6)
    assert lumped.with_radiation_time_s(found, start_C=20.0, **piece, **around) == pytest.approx(times, rel=1e-6)
    assert lumped.with_radiation_C(1e9, start_C=20.0, **piece, **around) == pytest.approx(lumped.steady_C(**around))


@pytest.mark.parametrize(("start", "target"), [(20.0, 700.0), (1200.0, 900.0)])
def test_radiation_only_is_the_integral_without_film(start: float, target: float) -> None:
    piece = {"volume_to_surface_mm": 3.0, "volumetric_heat": 5e6, "emissivity": 0.7, "walls_C": 850.0}
    closed = lumped.radiation_only_time_s(target, start_C=start, **piece)
    integral = lumped.with_radiation_time_s(target, start_C=start, film=0.0, gas_C=20.0, **piece)
    assert closed == pytest.approx(integral, rel=1e-10)


def test_lumped_is_the_series_at_small_biot() -> None:
    piece = Piece.plate(3, film=10.0, **STEEL)
    heat = STEEL["conductivity"] / STEEL["diffusivity"]
    ends = {"start_C": 20.0, "surroundings_C": 850.0}
    thin = lumped.time_s(840.0, **ends, volume_to_surface_mm=1.5, film=10.0, volumetric_heat=heat)
    assert piece.time_to_mean_s(840.0, **ends) == pytest.approx(thin, rel=piece.biot)


def test_sine_face_against_finite_differences() -> None:
    """Method of lines on 400 cells, SciPy's BDF: second order, so 1e-4 of the amplitude is left."""
    cells, thickness, period, a = 400, 0.1, 80.0, 1.1e-5
    dx = thickness / cells

    def slope(t: float, u: np.ndarray) -> np.ndarray:
        full = np.concatenate([[math.sin(2 * math.pi * t / period)], u, [0.0]])
        return a * (full[2:] - 2 * full[1:-1] + full[:-2]) / dx**2

    inner = np.zeros(cells - 1)
    solved = integrate.solve_ivp(
        slope, (0, 60), inner, method="LSODA", lband=1, uband=1, rtol=1e-8, atol=1e-10, t_eval=[2.0, 60.0]
    )
    depth = np.arange(1, cells) * dx * 1e3
    for k, time in enumerate((2.0, 60.0)):
        found = dc.conduction.sine_face_C(
            depth, time, thickness_mm=100, start_C=0.0, amplitude_K=1.0, period_s=period, diffusivity=a
        )
        assert found == pytest.approx(solved.y[:, k], abs=1e-4)


def test_what_limits() -> None:
    assert [dc.conduction.what_limits(b).limit for b in (0.05, 1.0, 20.0, math.nan)] == [
        "film",
        "both",
        "conduction",
        "unknown",
    ]
    sentences = [dc.conduction.what_limits(b).sentence for b in (0.05, 1.0, 20.0, math.nan)]
    assert len(set(sentences)) == 4
    assert dc.conduction.biot_number(film=120, length_mm=12.5, conductivity=30) == pytest.approx(0.05)


def test_shape_in_shape_out_and_bad_rows() -> None:
    plate = Piece.plate(25, film=120.0, **STEEL)
    times = np.array([[60.0, math.nan, -1.0], [0.0, 600.0, 1e9]])
    found = plate.temperature_C(times, start_C=20.0, surroundings_C=850.0, at_mm=5.0)
    assert found.shape == times.shape
    assert np.isnan(found).tolist() == [[False, True, True], [False, False, False]]
    assert found[1, 0] == 20.0
    assert found[1, 2] == pytest.approx(850.0)
    targets = plate.time_s(np.array([20.0, 500.0, 850.0, 900.0, 10.0]), start_C=20.0, surroundings_C=850.0)
    assert np.isnan(targets).tolist() == [False, False, True, True, True]
    assert isinstance(plate.time_s(500.0, start_C=20.0, surroundings_C=850.0), float)
    assert series.theta("plate", np.array([]), 0.3).shape == (0,)
    assert series.theta("plate", np.array([1.0, -1.0]), np.array([[0.3], [-0.1]])).shape == (2, 2)
    assert plate.theta(60.0, at_mm=np.array([0.0, 12.5, 12.6])).shape == (3,)
    assert np.isnan(plate.theta(60.0, at_mm=np.array([0.0, 12.5, 12.6]))).tolist() == [False, False, True]


def test_nothing_ever_heats_backwards() -> None:
    place = np.linspace(0.0, 20.0, 9)
    piece = Piece.round(40, film=700.0, **STEEL)
    profiles = [piece.theta(t, place) for t in np.geomspace(1e-4, 1e3, 40)]
    for before, after in pairwise(profiles):
        assert (after <= before + 1e-12).all()
    assert all((np.diff(p) <= 1e-12).all() for p in profiles)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: series.theta("cube", 1.0, 1.0), ["body = 'cube'", "plate"]),
        (lambda: series.theta("plate", -1.0, 1.0), ["biot = -1.0", "0 or more"]),
        (lambda: series.theta("plate", 1.0, 1.0, 1.5), ["position = 1.5", "0 to 1"]),
        (lambda: series.fourier_at("plate", 1.0, 1.2), ["theta = 1.2", "up to 1"]),
        (lambda: series.term("plate", 1.0, -1), ["n = -1", "whole number"]),
        (lambda: Piece.plate(0, film=1.0, **STEEL), ["thickness_mm = 0", "above 0"]),
        (lambda: Piece.plate("5 s", film=1.0, **STEEL), ["thickness_mm = '5 s'"]),
        (lambda: Piece.round(20, film=-5.0, **STEEL), ["film = -5.0", "above 0"]),
        (lambda: Piece.round(20, film=5.0, **STEEL).theta(60, 11.0), ["at_mm[0] = 11.0", "at most 10 mm"]),
        (lambda: Piece.round(20, film=5.0, **STEEL).theta(60, (1.0, 2.0)), ["at_mm", "up to 1"]),
        (lambda: Piece.round(20, film=5.0, **STEEL).theta(-60), ["time_s = -60", "0 or more"]),
        (
            lambda: Piece.round(20, film=5.0, **STEEL).time_s(900, start_C=20, surroundings_C=850),
            ["temperature_C = 900", "start_C = 20", "surroundings_C = 850"],
        ),
        (
            lambda: Piece.semi_infinite_round(20, film=5.0, **STEEL).heat_fraction(60),
            ["heat_fraction", "semi-infinite"],
        ),
        (
            lambda: half_space.step_C(-1, 10, start_C=0, surface_C=1, diffusivity=1e-5),
            ["depth_mm = -1", "0 or more"],
        ),
        (
            lambda: lumped.with_radiation_time_s(
                900.0,
                start_C=20.0,
                volume_to_surface_mm=2,
                volumetric_heat=5e6,
                film=10.0,
                gas_C=850.0,
                emissivity=0.8,
                walls_C=850.0,
            ),
            ["temperature_C = 900.0", "steady temperature, 850"],
        ),
        (lambda: lumped.steady_C(film=0.0, gas_C=20, emissivity=0.0, walls_C=30), ["film = 0", "emissivity = 0"]),
    ],
)
def test_errors_name_argument_value_and_what_was_expected(call: Any, words: list[str]) -> None:
    with pytest.raises(ValueError) as caught:
        call()
    for word in words:
        assert word in str(caught.value)


def test_wrong_types() -> None:
    with pytest.raises(TypeError, match=r"biot = '1'; expected a Biot number"):
        series.theta("plate", "1", 1.0)
    with pytest.raises(TypeError, match=r"film = array.*; expected one number"):
        Piece.plate(20, film=np.array([1.0, 2.0]), **STEEL)
    with pytest.raises(TypeError, match="one Biot number"):
        dc.conduction.what_limits(np.array([1.0]))
