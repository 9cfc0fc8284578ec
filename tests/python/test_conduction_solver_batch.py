"""Batches against single runs, going on from a trace, and what the conduction solver refuses."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

import decalesce as dc
from conduction_bodies import CONSTANT, EN1993, Case, furnace, random_case
from decalesce.conduction import Material, Mesh, go_on, heat, heat_batch
from decalesce.histories import History

PLATE = Mesh("plate", 25.0, cells=10)
VALUES = ("time_within_s", "largest_difference_K", "difference_time_s", "surface_C", "centre_C", "heat_in_J")


def together(cases: list[Case], **options: Any) -> dict[str, Any]:
    return heat_batch(
        [case.mesh for case in cases],
        [case.material for case in cases],
        [case.history for case in cases],
        film_W_m2K=[case.film_W_m2K for case in cases],
        emissivity=[case.emissivity for case in cases],
        start_C=[case.start_C for case in cases],
        **options,
    )


@pytest.fixture(scope="module")
def cases() -> list[Case]:
    random = np.random.default_rng(7)
    return [random_case(random) for _ in range(90)]


def test_a_batch_gives_what_single_runs_give(cases: list[Case]) -> None:
    tolerance, within = 0.05, 10.0
    found = together(cases, within_K=within, tolerance_K=tolerance)
    arrived = 0
    for row, case in enumerate(cases):
        trace = case.run(tolerance / case.tolerance_K)
        assert found["surface_C"][row] == pytest.approx(trace.surface_C(trace.end_s), abs=2.0 * tolerance)
        assert found["centre_C"][row] == pytest.approx(trace.centre_C(trace.end_s), abs=2.0 * tolerance)
        swing = trace.mean_C(trace.times_s)
        assert found["heat_in_J"][row] == pytest.approx(
            trace.heat_in_J, rel=1e-4, abs=tolerance / np.ptp(swing) * abs(trace.heat_in_J)
        )
        target = case.history.temperatures_C[-1]
        time = found["time_within_s"][row]
        last = max(abs(found["surface_C"][row] - target), abs(found["centre_C"][row] - target))
        if math.isnan(time):
            assert last > within
            continue
        arrived += 1
        off = max(abs(trace.surface_C(time) - target), abs(trace.centre_C(time) - target))
        assert off <= within + 3.0 * tolerance
        if time > 1.0:
            before = np.linspace(0.0, time, 200)[:-2]
            earlier = np.maximum(abs(trace.surface_C(before) - target), abs(trace.centre_C(before) - target))
            assert np.isclose(off, within, atol=3.0 * tolerance)
            assert earlier[-1] >= within - 3.0 * tolerance
    assert 10 <= arrived <= 80


def test_the_largest_difference_of_a_batch() -> None:
    """Sampled at the ends and middles of steps, so it may miss the top by a little; never by more than 1 %."""
    sizes = np.linspace(10.0, 60.0, 9)
    bodies = [Mesh("round", size, cells=20) for size in sizes]
    found = heat_batch(bodies, CONSTANT, furnace(850.0, 4000.0), film_W_m2K=300.0, emissivity=0.8, tolerance_K=0.05)
    for row, body in enumerate(bodies):
        trace = heat(body, CONSTANT, furnace(850.0, 4000.0), film_W_m2K=300.0, emissivity=0.8, tolerance_K=0.01)
        times = np.geomspace(0.01, 4000.0, 20_000)
        difference = trace.surface_C(times) - trace.centre_C(times)
        single, when = trace.largest_difference()
        assert single == pytest.approx(difference.max(), rel=0.01)
        assert found["largest_difference_K"][row] == pytest.approx(difference.max(), rel=0.01)
        for moment in (when, found["difference_time_s"][row]):
            assert trace.surface_C(moment) - trace.centre_C(moment) == pytest.approx(difference.max(), rel=0.015)


def test_neighbours_in_a_batch_do_not_matter(cases: list[Case]) -> None:
    """Alone, in another order, or beside rows that cannot be: each row's answer is the same to rounding."""
    random = np.random.default_rng(3)
    first = together(cases)
    order = random.permutation(len(cases))
    shuffled = together([cases[k] for k in order])
    alone = [together([case]) for case in cases[:12]]
    for name in VALUES:
        np.testing.assert_allclose(shuffled[name], first[name][order], rtol=1e-7, atol=1e-6, err_msg=name)
        np.testing.assert_allclose([one[name][0] for one in alone], first[name][:12], rtol=1e-7, atol=1e-6)


def test_a_body_may_be_left_when_it_has_got_there() -> None:
    bodies = [Mesh("plate", size, cells=20) for size in np.linspace(5.0, 60.0, 23)]
    arguments: dict[str, Any] = {"film_W_m2K": 10.0, "emissivity": 0.8, "within_K": 5.0}
    whole = heat_batch(bodies, EN1993, furnace(850.0, 20_000.0), **arguments)
    left = heat_batch(bodies, EN1993, furnace(850.0, 20_000.0), **arguments, stop_within=True)
    np.testing.assert_allclose(left["time_within_s"], whole["time_within_s"], rtol=1e-12)
    assert (left["centre_C"] < whole["centre_C"]).all()
    assert (left["centre_C"] >= 845.0).all()


def test_rows_that_cannot_be_are_nan_and_stop_nothing() -> None:
    hold = furnace(850.0, 4000.0)
    nan = math.nan
    rows: list[tuple[Any, Any, Any, float, float, float, str]] = [
        (PLATE, EN1993, hold, 10.0, 0.8, 20.0, ""),
        (None, EN1993, hold, 10.0, 0.8, 20.0, "impossible_input"),
        (PLATE, None, hold, 10.0, 0.8, 20.0, "impossible_input"),
        (PLATE, EN1993, None, 10.0, 0.8, 20.0, "impossible_input"),
        (PLATE, EN1993, hold, nan, 0.8, 20.0, "nan_input"),
        (PLATE, EN1993, hold, -1.0, 0.8, 20.0, "impossible_input"),
        (PLATE, EN1993, hold, 1e9, 0.8, 20.0, "impossible_input"),
        (PLATE, EN1993, hold, 10.0, nan, 20.0, "nan_input"),
        (PLATE, EN1993, hold, 10.0, 1.2, 20.0, "impossible_input"),
        (PLATE, EN1993, hold, 0.0, 0.0, 20.0, "impossible_input"),
        (PLATE, EN1993, hold, 10.0, 0.8, nan, "nan_input"),
        (PLATE, EN1993, hold, 10.0, 0.8, -300.0, "impossible_input"),
        (PLATE, EN1993, hold, 10.0, 0.8, 900.0, "not_heating"),
        (PLATE, EN1993, furnace(1300.0, 4000.0), 10.0, 0.8, 20.0, "outside_range"),
        (PLATE, EN1993, hold, 10.0, 0.8, 20.0, ""),
    ]
    bodies, materials, around, film, emissivity, start, flags = zip(*rows, strict=True)
    found = heat_batch(bodies, materials, around, film_W_m2K=film, emissivity=emissivity, start_C=start)
    for row, flag in enumerate(flags):
        assert dc.flags.names(int(found["flags"][row])) == ((flag,) if flag else ())
        for name in VALUES:
            assert np.isnan(found[name][row]) == (flag in ("nan_input", "impossible_input")), (row, name)
    alone = heat_batch([PLATE], EN1993, hold, film_W_m2K=10.0, emissivity=0.8)
    for name in VALUES:
        np.testing.assert_allclose(found[name][[0, -1]], alone[name][0], rtol=1e-9)


def test_batches_of_every_length() -> None:
    bodies = [Mesh("plate", 10.0 + k, cells=6) for k in range(9)]
    whole = heat_batch(bodies, EN1993, furnace(850.0, 4000.0), film_W_m2K=10.0, emissivity=0.8)
    for rows in range(10):
        part = heat_batch(bodies[:rows], EN1993, furnace(850.0, 4000.0), film_W_m2K=10.0, emissivity=0.8)
        for name in VALUES:
            assert part[name].shape == (rows,)
            np.testing.assert_allclose(part[name], whole[name][:rows], rtol=1e-9)
    with pytest.raises(ValueError, match="film_W_m2K"):
        heat_batch(bodies, EN1993, furnace(850.0, 4000.0), film_W_m2K=[10.0, 20.0])
    with pytest.raises(ValueError, match="materials"):
        heat_batch(bodies, [EN1993], furnace(850.0, 4000.0), film_W_m2K=10.0)


def test_going_on_is_as_if_never_left() -> None:
    whole = History(np.array([0.0, 600.0, 1200.0]), np.array([850.0, 850.0, 300.0]))
    parts = furnace(850.0, 600.0), History(np.array([600.0, 1200.0]), np.array([850.0, 300.0]))
    arguments: dict[str, Any] = {"film_W_m2K": 30.0, "emissivity": 0.8, "tolerance_K": 1e-3}
    once = heat(PLATE, EN1993, whole, **arguments)
    first = heat(PLATE, EN1993, parts[0], **arguments)
    second = go_on(first, parts[1], **arguments)
    times = np.linspace(600.0, 1200.0, 50)
    for point in range(PLATE.points):
        np.testing.assert_allclose(second.temperature_C(times, point), once.temperature_C(times, point), atol=5e-3)
    assert first.heat_in_J + second.heat_in_J == pytest.approx(once.heat_in_J, rel=1e-5)
    changed = go_on(first, furnace(100.0, 500.0), material=CONSTANT, **arguments)
    np.testing.assert_allclose(changed.field_C(0.0), first.field_C(600.0), atol=1e-6)
    assert changed.material.density_kg_m3 == CONSTANT.density_kg_m3


REFUSED: dict[str, tuple[Callable[[], object], str]] = {
    "no thickness": (lambda: Mesh("plate", 0.0), "thickness = 0"),
    "negative thickness": (lambda: Mesh("round", -3.0), "diameter = -"),
    "thickness NaN": (lambda: Mesh("plate", math.nan), "thickness = nan"),
    "no width": (lambda: Mesh("rectangle", 10.0), "width = 0"),
    "no length": (lambda: Mesh("short_cylinder", 10.0), "length = 0"),
    "edge beyond the spine": (lambda: Mesh("wedge", 3.0, 20.0, 0.0, 4.0), "edge = "),
    "one cell": (lambda: Mesh("plate", 10.0, cells=1), "cells = 1"),
    "exposure above one": (lambda: Mesh("plate", 10.0, above=1.5), "exposure = 1.5"),
    "no such shape": (lambda: Mesh("cube", 10.0), "shape = 'cube'"),
    "film below zero": (lambda: once(film_W_m2K=-1.0), "film_W_m2K"),
    "absurd film": (lambda: once(film_W_m2K=1e9), "film_W_m2K"),
    "film NaN": (lambda: once(film_W_m2K=math.nan), "film_W_m2K"),
    "emissivity above one": (lambda: once(emissivity=1.2), "emissivity"),
    "nothing heats": (lambda: once(film_W_m2K=0.0), "nothing heats the body"),
    "tolerance of nothing": (lambda: once(tolerance_K=0.0), "tolerance_K"),
    "start NaN": (lambda: once(start_C=math.nan), "start_C = nan"),
    "start below absolute zero": (lambda: once(start_C=-300.0), "start_C = -300"),
    "history back in time": (
        lambda: History(np.array([0.0, 60.0, 30.0]), np.array([20.0, 500.0, 800.0])),
        "times_s must increase",
    ),
    "gap in the history": (
        lambda: History(np.array([0.0, 60.0, 90.0]), np.array([20.0, math.nan, 800.0])),
        "not a finite number",
    ),
    "history of one point": (lambda: History(np.array([0.0]), np.array([800.0])), "two points"),
    "enthalpy that falls": (lambda: Material([20.0, 30.0], [1.0, 0.0], [30.0, 30.0], 7850.0), "must increase"),
    "conductivity of nothing": (lambda: Material.constant(0.0, 600.0, 7850.0), "conductivity_W_mK"),
    "density of nothing": (lambda: Material([20.0, 30.0], [0.0, 5e3], [30.0, 30.0], 0.0), "density_kg_m3 = 0"),
}


def once(**arguments: Any) -> object:
    return heat(PLATE, EN1993, furnace(850.0, 100.0), **({"film_W_m2K": 10.0} | arguments))


@pytest.mark.parametrize("what", REFUSED)
def test_refusals_name_what_is_wrong(what: str) -> None:
    attempt, words = REFUSED[what]
    with pytest.raises(ValueError, match=words):
        attempt()


def test_a_trace_answers_nan_for_nan_and_keeps_shapes() -> None:
    trace = heat(PLATE, EN1993, furnace(850.0, 100.0), film_W_m2K=10.0)
    assert math.isnan(trace.centre_C(math.nan))
    assert isinstance(trace.centre_C(50.0), float)
    assert trace.centre_C(np.full((2, 3), 50.0)).shape == (2, 3)
    assert math.isnan(trace.time_within_s(850.0, 1.0))
    with pytest.raises(IndexError, match="point = 11"):
        trace.temperature_C(50.0, 11)
