"""The conduction solver: heat-up times, heat in against heat stored, convergence, error control, batches, refusals."""

import math
from typing import Any

import numpy as np
import pytest
from scipy import integrate

from check_files import read_checks
from conduction_bodies import (
    BODIES,
    CONDUCTIVITY,
    CONSTANT,
    DENSITY,
    DIFFUSIVITY,
    EN1993,
    STEFAN_BOLTZMANN,
    ZERO_C,
    Case,
    Floats,
    en1993_enthalpy,
    en1993_heat_capacity,
    furnace,
    random_case,
)
from decalesce.conduction import Material, Mesh, Piece, Trace, heat
from decalesce.histories import History

ROWS = read_checks("furnace_heating.csv")
MATERIALS = {"constant": CONSTANT, "EN 1993-1-2": EN1993}


def test_the_enthalpy_of_the_tests_is_the_integral_of_their_heat_capacity() -> None:
    for low, high in ((20.0, 600.0), (600.0, 735.0), (735.0, 900.0), (900.0, 1200.0)):
        area = integrate.quad(lambda t: float(en1993_heat_capacity(np.asarray(t))), low, high, epsabs=1e-6)[0]
        rise = en1993_enthalpy(np.asarray(high)) - en1993_enthalpy(np.asarray(low))
        assert rise == pytest.approx(area, rel=1e-6)


def heated(row: Any) -> Trace:
    body = Mesh("lumped", row.half_mm) if row.shape == "lumped" else Mesh(row.shape, 2.0 * row.half_mm, cells=40)
    steel = EN1993
    if not math.isnan(row.heat_capacity):
        steel = Material.constant(CONDUCTIVITY, row.heat_capacity, row.density)
    return heat(
        body,
        steel,
        furnace(row.source_C, 7200.0),
        film_W_m2K=row.film,
        emissivity=row.emissivity,
        start_C=row.start_C,
        tolerance_K=0.01,
    )


@pytest.mark.parametrize("row", list(ROWS.itertuples()), ids=lambda row: row.case_id)
def test_heat_up_in_a_furnace(row: Any) -> None:
    """Blades, rounds and plates with the properties of EN 1993-1-2; times to 0.2 %, differences to 0.2 K."""
    trace = heated(row)
    time = trace.time_to_s(row.source_C - row.below_source_K, trace.mesh.centre)
    found = time if row.quantity == "time" else trace.surface_C(time) - trace.centre_C(time)
    assert found == pytest.approx(row.expected, abs=row.tolerance)


def test_heat_up_rows_were_found() -> None:
    assert len(ROWS) == 17
    assert (ROWS.gate == "exact").all()
    assert set(ROWS["shape"]) == {"lumped", "plate", "round"}


@pytest.mark.parametrize("steel", MATERIALS)
@pytest.mark.parametrize("shape", BODIES)
def test_heat_taken_up_is_the_enthalpy_gained(shape: str, steel: str) -> None:
    """To a millionth, through a cold start, an overshoot and a fall, at a coarse tolerance too."""
    history = History(np.array([0.0, 900.0, 1000.0, 2500.0, 4000.0]), np.array([100.0, 880.0, 930.0, 930.0, 300.0]))
    for tolerance in (2.0, 0.05):
        trace = heat(BODIES[shape], MATERIALS[steel], history, film_W_m2K=25.0, emissivity=0.8, tolerance_K=tolerance)
        assert trace.heat_in_J == pytest.approx(trace.enthalpy_gained_J, rel=1e-6)
        assert trace.heat_in_J > 0.0


@pytest.mark.parametrize("steel", MATERIALS)
@pytest.mark.parametrize("shape", ["lumped", "plate", "plate on the hearth", "round", "sphere"])
def test_heat_taken_up_is_the_flux_through_the_surface(shape: str, steel: str) -> None:
    """Film and radiation on the surface temperatures of the trace, summed along time apart from the solver."""
    source, film, emissivity, span = 900.0, 40.0, 0.7, 1500.0
    body = BODIES[shape]
    trace = heat(
        body, MATERIALS[steel], furnace(source, span), film_W_m2K=film, emissivity=emissivity, tolerance_K=0.02
    )
    radius = body.half_thickness_mm * 1e-3
    area = {"round": radius, "sphere": radius**2}.get(shape, 1.0)
    faces = [(body.points - 1, area)] + ([(0, 0.2)] if shape == "plate on the hearth" else [])
    times = np.concatenate([np.linspace(0.0, 1.0, 2001)[:-1], np.linspace(1.0, span, 60001)])
    heat_in = 0.0
    for point, seen in faces:
        surface = trace.temperature_C(times, point)
        flux = film * (source - surface)
        flux += emissivity * STEFAN_BOLTZMANN * ((source + ZERO_C) ** 4 - (surface + ZERO_C) ** 4)
        heat_in += seen * np.trapezoid(flux, times)
    assert trace.heat_in_J == pytest.approx(heat_in, rel=1e-3)


@pytest.mark.parametrize(
    ("shape", "share"),
    [("plate", 0.0125), ("round", 0.02**2 / 2.0), ("sphere", 0.02**3 / 3.0), ("hexagon", 0.03**2 / 4.0 / 3.0**0.5)],
)
def test_heat_to_reach_the_furnace_is_that_of_the_steel(shape: str, share: float) -> None:
    """Size by geometry (half a plate, a radian of a round, a sixth of a hexagon), enthalpy by EN 1993-1-2."""
    trace = heat(BODIES[shape], EN1993, furnace(900.0, 40_000.0), film_W_m2K=100.0, emissivity=0.8, tolerance_K=0.05)
    wanted = share * DENSITY * float(en1993_enthalpy(np.asarray(900.0)))
    assert trace.heat_in_J == pytest.approx(wanted, rel=2e-4)


#: Shape, sizes, the exact piece, cells to begin with.
SERIES = {
    "plate": ((40.0,), Piece.plate, 5),
    "round": ((40.0,), Piece.round, 5),
    "sphere": ((40.0,), Piece.sphere, 5),
    "rectangle": ((30.0, 50.0), Piece.bar, 4),
}


def places(shape: str, cells: int) -> list[int]:
    """Centre, half way out and surface: places that every refinement keeps as a point, where cells are even."""
    if shape == "rectangle":
        row = cells + 1
        return [0, cells, cells * row, cells * row + cells]
    return [0, cells]


@pytest.mark.parametrize("shape", SERIES)
def test_order_in_space_against_the_series(shape: str) -> None:
    """Constant properties and a film, once the first waves are past; error falls with the square of the spacing."""
    sizes, exact, coarsest = SERIES[shape]
    film, times = 800.0, np.array([20.0, 60.0, 150.0])
    piece = exact(*sizes, film=film, conductivity=CONDUCTIVITY, diffusivity=DIFFUSIVITY)
    halves = [size / 2.0 for size in sizes]
    ends = {"start_C": 20.0, "surroundings_C": 820.0}
    worst = []
    for cells in (coarsest, 2 * coarsest, 4 * coarsest):
        body = Mesh(shape, *sizes, cells=cells)
        trace = heat(body, CONSTANT, furnace(820.0, 200.0), film_W_m2K=film, tolerance_K=2e-5)
        error = 0.0
        for point in places(shape, cells):
            at = body.position_mm[point][::-1]
            assert all(0.0 <= x <= half + 1e-9 for x, half in zip(at, halves, strict=True))
            wrong = trace.temperature_C(times, point) - piece.temperature_C(times, **ends, at_mm=tuple(at))
            error = max(error, float(np.abs(wrong).max()))
        worst.append(error)
    assert (np.log2(np.divide(worst[:-1], worst[1:])) >= 1.9).all()
    assert worst[-1] < 0.2


def test_order_in_space_of_a_hexagon() -> None:
    """No series for it: differences between successive refinements, at the centre, the middle of a flat and the mean.

    At the corner itself, where the flow round it is only known at the points, the square carries a logarithm, as for
    linear elements: the order seen is 1.7 and rising.
    """
    film, times = 800.0, np.array([20.0, 60.0, 150.0])
    found, corners = [], []
    for cells in (6, 12, 24, 48):
        body = Mesh("hexagon", 40.0, cells=cells)
        trace = heat(body, CONSTANT, furnace(820.0, 200.0), film_W_m2K=film, tolerance_K=2e-5)
        flat = trace.temperature_C(times, body.points - 1 - cells // 2)
        found.append([trace.centre_C(times), flat, trace.mean_C(times)])
        corners.append(trace.surface_C(times))
    assert (orders(np.array(found)) >= 1.9).all()
    rising = orders(np.array(corners)[:, None])
    assert (rising >= 1.65).all()
    assert rising[1] > rising[0]


def orders(by_refinement: Floats) -> Floats:
    """From differences of successive halvings, worst over time: (refinements, places, times) in."""
    changes = np.abs(np.diff(by_refinement, axis=0)).max(axis=2)
    found: Floats = np.log2(changes[:-1] / changes[1:])
    return found


@pytest.mark.parametrize("shape", ["plate", "round", "sphere", "rectangle", "hexagon"])
def test_order_in_time_to_set_point_with_the_peak(shape: str) -> None:
    """EN 1993-1-2 with its peak of 5000 J/kgK: the time to 10 K below the furnace, coarse to fine."""
    two = shape in ("rectangle", "hexagon")
    times, cells = [], [3, 6, 12, 48] if two else [5, 10, 20, 160]
    for count in cells:
        body = Mesh(shape, 50.0, 70.0, cells=count)
        trace = heat(body, EN1993, furnace(850.0, 4000.0), film_W_m2K=600.0, emissivity=0.8, tolerance_K=5e-4)
        times.append(trace.time_to_s(840.0, body.centre))
    errors = np.abs(np.array(times[:-1]) - times[-1])
    order = np.log2(errors[0] / errors[-1]) / 2.0
    assert order >= 1.5
    assert errors[-1] < 2e-4 * times[-1]


def error_in_tolerances(case: Case) -> float:
    """Against a hundred times the exactness; at the ends of steps, between them, over points spread over the body."""
    coarse, exact = case.run(), case.run(0.01)
    steps = coarse.times_s
    within = np.concatenate([steps, steps[:-1] + np.diff(steps) * 0.31, steps[:-1] + np.diff(steps) * 0.67])
    times = np.union1d(within, np.linspace(0.0, coarse.end_s, 100))
    points = {case.mesh.centre, case.mesh.surface} | set(
        np.linspace(0, case.mesh.points - 1, min(case.mesh.points, 20)).astype(int).tolist()
    )
    worst = max(
        float(np.abs(coarse.temperature_C(times, point) - exact.temperature_C(times, point)).max()) for point in points
    )
    return worst / case.tolerance_K


def test_global_error_keeps_to_the_tolerance() -> None:
    random = np.random.default_rng(20261125)
    cases = [random_case(random) for _ in range(200)]
    assert len({case.shape for case in cases}) == 9
    errors = np.array([error_in_tolerances(case) for case in cases])
    print(f"error over tolerance: 95 % within {np.quantile(errors, 0.95):.2f}, all within {errors.max():.2f}")
    assert (errors <= 3.0).mean() >= 0.95
    assert errors.max() <= 10.0
