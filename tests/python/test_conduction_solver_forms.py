"""The conduction solver with constant properties against closed forms, and shapes against one another."""

import cmath
import math
from typing import Any

import numpy as np
import pytest
from scipy import linalg

import decalesce as dc
from conduction_bodies import (
    CONDUCTIVITY,
    CONSTANT,
    DENSITY,
    DIFFUSIVITY,
    EN1993,
    HEAT_CAPACITY,
    Floats,
    furnace,
    swing,
)
from decalesce.conduction import Mesh, Piece, Trace, half_space, heat

STEEL = {"conductivity": CONDUCTIVITY, "diffusivity": DIFFUSIVITY}
START, AROUND = 20.0, 820.0
ENDS = {"start_C": START, "surroundings_C": AROUND}


def soaked(body: Mesh, film: float, time_s: float, tolerance_K: float = 1e-3) -> Trace:
    return heat(body, CONSTANT, furnace(AROUND, time_s), film_W_m2K=film, start_C=START, tolerance_K=tolerance_K)


@pytest.mark.parametrize("film", [20.0, 500.0, 8000.0])
@pytest.mark.parametrize("shape", ["plate", "round", "sphere"])
def test_series(shape: str, film: float) -> None:
    """Every point at every time from Fo = 0.02 on, Bi from 0.013 to 5.3; and the time to temperature."""
    size = 40.0
    piece: Piece = getattr(Piece, shape)(size, film=film, **STEEL)
    body = Mesh(shape, size, cells=80)
    span = 3.0 * piece.time_s(AROUND - 10.0, **ENDS)
    trace = soaked(body, film, span)
    times = np.geomspace(0.02 * (size / 2e3) ** 2 / DIFFUSIVITY, span, 40)
    for point in range(0, body.points, 10):
        exact = piece.temperature_C(times, **ENDS, at_mm=body.position_mm[point, 0])
        np.testing.assert_allclose(trace.temperature_C(times, point), exact, atol=0.08)
    np.testing.assert_allclose(trace.mean_C(times), piece.mean_C(times, **ENDS), atol=0.08)
    assert trace.time_to_s(AROUND - 10.0, body.centre) == pytest.approx(piece.time_s(AROUND - 10.0, **ENDS), rel=1e-4)


@pytest.mark.parametrize(
    ("body", "piece", "within_K"),
    [
        (Mesh("rectangle", 30.0, 70.0, cells=20), (Piece.bar, 30.0, 70.0), 0.25),
        (Mesh("square", 40.0, cells=20), (Piece.bar, 40.0, 40.0), 0.25),
        (Mesh("short_cylinder", 50.0, 0.0, 40.0, cells=20), (Piece.short_cylinder, 50.0, 40.0), 0.25),
        (Mesh("block", 30.0, 50.0, 70.0, cells=8), (Piece.block, 30.0, 50.0, 70.0), 2.0),
    ],
    ids=["bar", "square bar", "short cylinder", "block"],
)
def test_products_of_the_series(body: Mesh, piece: Any, within_K: float) -> None:
    """At points all over the body, corners too."""
    make, *sizes = piece
    film = 600.0
    exact: Piece = make(*sizes, film=film, **STEEL)
    span = exact.time_s(AROUND - 10.0, **ENDS)
    trace = soaked(body, film, span)
    times = np.linspace(0.05 * span, span, 15)
    for point in np.linspace(0, body.points - 1, 25).astype(int):
        at = tuple(np.minimum(body.position_mm[point][::-1], np.array(sizes) / 2.0))
        wanted = exact.temperature_C(times, **ENDS, at_mm=at)
        np.testing.assert_allclose(trace.temperature_C(times, int(point)), wanted, atol=within_K)


@pytest.mark.parametrize("film", [300.0, 3000.0, 1e6])
def test_first_moments_are_those_of_a_half_space(film: float) -> None:
    """A plate 200 mm thick while Fo < 0.03, at four depths."""
    body = Mesh("plate", 200.0, cells=400)
    times = np.array([5.0, 15.0, 45.0])
    trace = soaked(body, film, 50.0)
    for back in (0, 4, 20, 60):
        point = body.points - 1 - back
        exact = half_space.film_C(back * 0.25, times, **ENDS, film=film, **STEEL)
        np.testing.assert_allclose(trace.temperature_C(times, point), exact, atol=0.05)


def test_a_swinging_surface() -> None:
    """Amplitude and lag at a depth are those of a half space, in a plate six times deeper than the wave."""
    period, periods, amplitude = 300.0, 8, 10.0
    around = swing(800.0, amplitude, period, periods)
    body = Mesh("plate", 300.0, cells=300)
    trace = heat(body, CONSTANT, around, film_W_m2K=1e6, start_C=800.0, tolerance_K=2e-3)
    times = np.linspace((periods - 1) * period, periods * period, 721)[:-1]
    for depth in (0.0, 5.0, 15.0, 30.0):
        felt = trace.temperature_C(times, body.points - 1 - int(depth / 0.5)) - 800.0
        turn = np.exp(-2j * np.pi * times / period)
        found = 2.0 * np.mean(felt * turn) * 1j
        wave = half_space.wave(depth, amplitude_K=amplitude, period_s=period, diffusivity=DIFFUSIVITY)
        assert abs(found) == pytest.approx(wave.amplitude_K, rel=4e-3)
        lag = -cmath.phase(found) / (2.0 * math.pi) * period
        assert lag == pytest.approx(wave.lag_s, abs=0.6)


@pytest.mark.parametrize("period", [60.0, 300.0, 1800.0])
def test_a_furnace_that_swings_about_a_plate(period: float) -> None:
    """A plate behind a film: cosh(kappa x) over its balance with the film, kappa^2 = i omega/alpha.

    Carslaw and Jaeger, periodic temperature of the medium; the history's straight pieces take 0.05 % off the sine.
    """
    half, film, amplitude, periods = 0.0125, 250.0, 15.0, math.ceil(6000.0 / period)
    around = swing(800.0, amplitude, period, periods, corners=80)
    trace = heat(Mesh("plate", 25.0, cells=30), CONSTANT, around, film_W_m2K=film, start_C=800.0, tolerance_K=2e-3)
    times = np.linspace((periods - 1) * period, periods * period, 721)[:-1]
    kappa = cmath.sqrt(2j * math.pi / period / DIFFUSIVITY)
    balance = cmath.cosh(kappa * half) + CONDUCTIVITY * kappa / film * cmath.sinh(kappa * half)
    for point, at in ((0, 0.0), (15, half / 2.0), (30, half)):
        exact = amplitude * cmath.cosh(kappa * at) / balance
        wave = np.imag(exact * np.exp(2j * np.pi * times / period))
        np.testing.assert_allclose(trace.temperature_C(times, point) - 800.0, wave, atol=7e-4 * amplitude)


@pytest.mark.parametrize("steel", [CONSTANT, EN1993], ids=["constant", "EN 1993-1-2"])
def test_a_hexagon_against_four_times_finer(steel: dc.conduction.Material) -> None:
    film, emissivity, times = 150.0, 0.8, np.linspace(30.0, 900.0, 30)
    found = []
    for cells in (10, 40):
        body = Mesh("hexagon", 40.0, cells=cells)
        trace = heat(body, steel, furnace(850.0, 900.0), film_W_m2K=film, emissivity=emissivity, tolerance_K=5e-3)
        found.append(
            (trace.centre_C(times), trace.surface_C(times), trace.mean_C(times), trace.time_within_s(850.0, 10.0))
        )
    for coarse, fine in zip(*found, strict=True):
        np.testing.assert_allclose(coarse, fine, rtol=1e-4, atol=0.25)


def test_a_hexagon_lies_between_its_circles() -> None:
    """It heats as no round of its inscribed and its circumscribed circle does, and close to that of the same V/A."""
    film, flats = 400.0, 40.0
    hexagon = Mesh("hexagon", flats, cells=20)
    assert hexagon.volume_to_surface_mm == pytest.approx(flats / 4.0)
    time = soaked(hexagon, film, 2000.0).time_to_s(810.0, hexagon.centre)
    inner, outer = (
        Piece.round(size, film=film, **STEEL).time_s(810.0, **ENDS) for size in (flats, flats * 2.0 / math.sqrt(3.0))
    )
    assert inner < time < outer
    assert time == pytest.approx(inner, rel=0.03)


def fin(spine: float, edge: float, width: float, film: float, times: Floats) -> tuple[Floats, Floats]:
    """A blade with one temperature through its thickness: what is stored, led along and taken in, station by station.

    b rho c dT/dt = d/dx (b k dT/dx) + 2 h s (Tf - T), b the thickness, s the slant; film on edge and back. Linear, so
    its modes give it exactly in time.
    """
    stations = 200
    x = np.linspace(0.0, width, stations + 1)
    step = width / stations
    share = np.full(stations + 1, step)
    share[[0, -1]] = step / 2.0
    middle = np.linspace(step / 2.0, width - step / 2.0, stations)

    def thickness(at: Any) -> Any:
        return edge + (spine - edge) * at / width

    left, right = np.maximum(x - step / 2.0, 0.0), np.minimum(x + step / 2.0, width)
    stored = DENSITY * HEAT_CAPACITY * share * thickness((left + right) / 2.0)
    led = CONDUCTIVITY * thickness(middle) / step
    taken = film * 2.0 * share * math.hypot(1.0, 0.5 * (spine - edge) / width)
    taken[0] += film * edge
    taken[-1] += film * spine
    matrix = np.diag(np.r_[led, 0.0] + np.r_[0.0, led] + taken) - np.diag(led, 1) - np.diag(led, -1)
    root = np.sqrt(stored)
    rates, modes = linalg.eigh(matrix / np.outer(root, root))
    begin = modes.T @ (root * (START - AROUND))
    left_over = (modes @ (np.exp(-np.outer(rates, times)) * begin[:, None])) / root[:, None]
    return x, AROUND + left_over


@pytest.mark.parametrize("edge", [0.0, 0.3, 2.0])
@pytest.mark.parametrize("film", [30.0, 250.0])
def test_a_thin_wedge_is_a_fin(film: float, edge: float) -> None:
    """A ground blade at Bi below 0.02: every station along the width as a fin, sharp edge or blunt."""
    spine, width = 4.0, 25.0
    biot = film * spine * 0.5e-3 / CONDUCTIVITY
    body = Mesh("wedge", spine, width, 0.0, edge, cells=6)
    span = 4.0 * DENSITY * HEAT_CAPACITY * spine * 0.5e-3 / film
    trace = soaked(body, film, span)
    times = np.linspace(0.02, 1.0, 12) * span
    x, exact = fin(spine * 1e-3, edge * 1e-3, width * 1e-3, film, times)
    middle = np.isclose(body.position_mm[:, 1], 0.0)
    for point in np.flatnonzero(middle)[::8]:
        at = body.position_mm[point, 0] * 1e-3
        wanted = np.array([np.interp(at, x, column) for column in exact.T])
        np.testing.assert_allclose(trace.temperature_C(times, int(point)), wanted, atol=0.25 * biot * (AROUND - START))
    # the edge runs ahead of the spine, which is the point of the shape
    edge_C, spine_C = trace.temperature_C(times, 0), trace.temperature_C(times, body.points - 1)
    assert (edge_C[:6] > spine_C[:6]).all()


def test_a_wedge_without_taper_is_a_bar() -> None:
    film = 700.0
    body = Mesh("wedge", 20.0, 50.0, 0.0, 20.0, cells=16)
    exact = Piece.bar(20.0, 50.0, film=film, **STEEL)
    trace = soaked(body, film, 300.0)
    times = np.linspace(10.0, 300.0, 15)
    for point in np.linspace(0, body.points - 1, 25).astype(int):
        along, across = body.position_mm[point]
        wanted = exact.temperature_C(times, **ENDS, at_mm=(min(across, 10.0), min(abs(along - 25.0), 25.0)))
        np.testing.assert_allclose(trace.temperature_C(times, int(point)), wanted, atol=0.15)


@pytest.mark.parametrize("below", [1.0, 0.0, 0.3])
def test_a_wedge_without_taper_and_with_covered_ends_is_a_plate(below: float) -> None:
    wedge = Mesh("wedge", 20.0, 50.0, 0.0, 20.0, cells=10, ends=0.0, below=below)
    plate = Mesh("plate", 20.0, cells=10, below=below)
    pieces = [
        heat(body, EN1993, furnace(850.0, 3000.0), film_W_m2K=80.0, emissivity=0.8, tolerance_K=1e-4)
        for body in (wedge, plate)
    ]
    times = np.linspace(20.0, 3000.0, 40)
    for row in range(plate.points):
        across = wedge.points - plate.points + row
        np.testing.assert_allclose(pieces[0].temperature_C(times, row), pieces[1].temperature_C(times, row), atol=1e-6)
        np.testing.assert_allclose(
            pieces[0].temperature_C(times, across), pieces[1].temperature_C(times, row), atol=1e-3
        )


def test_one_sided_heating_is_a_plate_of_double_thickness() -> None:
    one = Mesh("plate", 15.0, cells=10, below=0.0)
    two = Mesh("plate", 30.0, cells=20)
    exact = Piece.plate(15.0, film=500.0, **STEEL, one_sided=True)
    times = np.linspace(5.0, 600.0, 40)
    traces = [soaked(body, 500.0, 600.0) for body in (one, two)]
    for point in range(one.points):
        ours, double = (trace.temperature_C(times, point) for trace in traces)
        np.testing.assert_allclose(ours, double, atol=1e-6)
        np.testing.assert_allclose(ours, exact.temperature_C(times, **ENDS, at_mm=one.position_mm[point, 0]), atol=0.1)
    assert (one.centre, one.surface) == (0, one.points - 1)
    radiating = [
        heat(body, EN1993, furnace(850.0, 4000.0), film_W_m2K=10.0, emissivity=0.8, tolerance_K=0.01)
        for body in (one, two)
    ]
    assert radiating[0].time_within_s(850.0, 5.0) == pytest.approx(radiating[1].time_within_s(850.0, 5.0), rel=1e-6)


def test_one_sided_bars_and_blocks_are_halves_of_thicker_ones() -> None:
    times = np.linspace(5.0, 600.0, 20)
    bar, double = (
        soaked(Mesh("rectangle", size, 40.0, cells=cells, below=below), 500.0, 600.0)
        for size, cells, below in ((15.0, 8, 0.0), (30.0, 16, 1.0))
    )
    np.testing.assert_allclose(bar.centre_C(times), double.centre_C(times), atol=0.3)
    exact = Piece.bar(30.0, 40.0, film=500.0, **STEEL).temperature_C(times, **ENDS)
    np.testing.assert_allclose(bar.centre_C(times), exact, atol=0.3)
    block = soaked(Mesh("block", 15.0, 40.0, 50.0, cells=5, below=0.0), 500.0, 600.0)
    whole = Piece.block(30.0, 40.0, 50.0, film=500.0, **STEEL).temperature_C(times, **ENDS)
    np.testing.assert_allclose(block.centre_C(times), whole, atol=1.2)


def test_a_covered_face_takes_in_what_its_factor_says() -> None:
    """Half the film and half the emissivity on one face are an exposure of a half on it."""
    seen = Mesh("plate", 10.0, cells=10, above=0.5, below=0.5)
    free = Mesh("plate", 10.0, cells=10)
    ours = heat(seen, EN1993, furnace(850.0, 2000.0), film_W_m2K=40.0, emissivity=0.8, tolerance_K=1e-3)
    theirs = heat(free, EN1993, furnace(850.0, 2000.0), film_W_m2K=20.0, emissivity=0.4, tolerance_K=1e-3)
    times = np.linspace(0.0, 2000.0, 50)
    np.testing.assert_allclose(ours.centre_C(times), theirs.centre_C(times), atol=1e-6)
    # what two unlike faces take in together lies between: the point that heats last leans to the covered one
    uneven = Mesh("plate", 10.0, cells=10, above=1.0, below=0.25)
    assert uneven.position_mm[uneven.centre, 0] == pytest.approx(2.0)
    assert uneven.surface == uneven.points - 1
