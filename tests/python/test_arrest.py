"""The arrest: found where the steel puts it, not claimed where there is none, and a check of the sensor.

The truth of the made traces is the temperature at which the solver's steel takes up its heat (`arrest_traces`); the
published case is the peak of EN 1993-1-2 at 735 degC.
"""

import numpy as np
import pandas as pd
import pytest
from numpy.typing import NDArray

import decalesce as dc
from arrest_traces import STEELS, Log, logged, transforming
from conduction_bodies import EN1993
from decalesce.conduction import Mesh

Floats = NDArray[np.float64]

VISIBLE = 12  # readings that an arrest must last


@pytest.fixture(scope="module")
def arrests() -> list[Log]:
    random = np.random.default_rng(20261125)
    made = [logged(random, str(random.choice(["hot", "forge", "ramp"])), transforms=True) for _ in range(260)]
    return [log for log in made if log.readings >= VISIBLE]


@pytest.fixture(scope="module")
def without() -> list[Log]:
    random = np.random.default_rng(20261126)
    made = []
    for _ in range(260):
        kind = str(random.choice(["hot", "forge", "ramp", "preheat", "ramp and hold"]))
        swing_K = float(random.uniform(3.0, 20.0)) if random.random() < 0.35 else 0.0
        made.append(logged(random, kind, transforms=False, swing_K=swing_K))
    return made


def find(log: Log, *, furnace: bool) -> dc.arrest.Arrest:
    return dc.arrest.find((log.times_s, log.work_C), furnace_C=log.furnace_C if furnace else None)


@pytest.mark.parametrize("furnace", [True, False], ids=["furnace logged", "work alone"])
def test_arrests_are_found_where_they_are(arrests: list[Log], furnace: bool) -> None:
    """Alone, a trace can tell only where the furnace did not stop in the middle of the arrest."""
    seen = arrests if furnace else [log for log in arrests if log.steady]
    assert len(seen) >= 80
    found = [(a, log.truth_C) for log in seen if (a := find(log, furnace=furnace)).found]
    right = [abs(a.start_C.value - truth) <= 5.0 for a, truth in found]
    inside = [a.start_C.low <= truth <= a.start_C.high for a, truth in found]
    assert sum(right) >= 0.90 * len(seen)
    assert sum(right) >= 0.98 * len(found)
    assert np.mean(inside) >= 0.88  # a band of 90 %, on some hundred traces


def test_a_trace_alone_never_takes_a_stopping_furnace_for_another_temperature(arrests: list[Log]) -> None:
    rest = [a for log in arrests if not log.steady and (a := find(log, furnace=False)).found]
    truth = [log.truth_C for log in arrests if not log.steady and find(log, furnace=False).found]
    assert all(abs(a.start_C.value - t) <= 10.0 for a, t in zip(rest, truth, strict=True))


@pytest.mark.parametrize("furnace", [True, False], ids=["furnace logged", "work alone"])
def test_no_arrest_is_claimed_without_a_transformation(without: list[Log], furnace: bool) -> None:
    claimed = {log.kind: 0 for log in without}
    for log in without:
        claimed[log.kind] += find(log, furnace=furnace).found
    assert sum(claimed.values()) <= 0.05 * len(without), claimed


def test_a_hold_by_the_controller_is_named() -> None:
    t = np.arange(0.0, 9000.0, 3.0)
    programme = dc.schedule([(3600, 730), (1200, 730), (1200, 850), (3000, 850)], start_C=20)
    steel = dc._core.Material.constant(30.0, 650.0, 7800.0)
    run = dc._core.conduction_heat(steel, Mesh("round", 12.0, cells=12), programme, 10.0, 0.8, 20.0, 0.1)
    work = np.asarray(run.centre_C(t)) + np.random.default_rng(1).normal(0.0, 0.5, len(t))
    for furnace in (None, programme):
        seen = dc.arrest.find((t, work), furnace_C=furnace)
        assert seen.finding == "controller_hold"
        assert seen.flags == ("controller_hold",)
        assert abs(seen.start_C.value - 730.0) < 10.0
        assert dc.arrest.check_sensor(seen, "1084").verdict == "not_checked"


def eutectoid(sensor_K: float = 0.0, seed: int = 3, every_s: float = 2.0) -> tuple[Floats, Floats]:
    """A 12 mm round of 0.84 %C in a furnace of 850 degC, read by a sensor that is off."""
    t = np.arange(0.0, 1500.0, every_s)
    steel = transforming(dc.thermal.steel(STEELS[0]))
    run = dc._core.conduction_heat(steel, Mesh("round", 12.0, cells=12), dc.hold(850, 1500), 10.0, 0.8, 20.0, 0.1)
    return t, np.asarray(run.centre_C(t)) + sensor_K + np.random.default_rng(seed).normal(0.0, 0.5, len(t))


def test_the_heat_swallowed_is_that_of_the_transformation() -> None:
    """77 to 85 kJ/kg for a eutectoid steel (from memory), at 0.93 kJ/kgK: EN 1993-1-2 at 718 degC without its peak."""
    seen = dc.arrest.find(eutectoid())
    assert seen.found
    assert 0.85 * 77.0 < 0.930 * seen.excess_K < 1.1 * 85.0
    assert seen.rate_at_K_s < 0.2 * seen.rate_before_K_s < seen.rate_after_K_s
    assert seen.start_C.value < seen.plateau_C < seen.end_C


def test_the_published_peak_is_found_where_the_standard_puts_it() -> None:
    """EN 1993-1-2, 3.4.1.2: the heat capacity of carbon steel peaks at 735 degC."""
    t = np.arange(0.0, 3000.0, 2.0)
    run = dc._core.conduction_heat(EN1993, Mesh("plate", 10.0, cells=12), dc.hold(900, 3000), 10.0, 0.8, 20.0, 0.05)
    work = np.asarray(run.centre_C(t)) + np.random.default_rng(5).normal(0.0, 0.3, len(t))
    seen = dc.arrest.find((t, work))
    assert seen.found
    assert abs(seen.plateau_C - 735.0) < 3.0


def test_a_sensor_is_checked_against_ac1() -> None:
    ac1 = dc.critical.temperatures(STEELS[0]).ac1
    good = dc.arrest.check_sensor(eutectoid(), STEELS[0])
    assert good.verdict == "agrees"
    assert "cannot be shown" in good.sentence
    assert good.bias_K.low < 0.0 < good.bias_K.high
    seen = good.arrest.start_C
    assert good.bias_K.value == pytest.approx(seen.value - ac1.value)
    assert good.bias_K.value - good.bias_K.low == pytest.approx(
        np.hypot(seen.value - seen.low, ac1.high - ac1.value)
    )  # fmt: skip
    assert set(ac1.sources) <= set(good.bias_K.sources)
    high = dc.arrest.check_sensor(eutectoid(+40.0), STEELS[0])
    low = dc.arrest.check_sensor(eutectoid(-40.0), STEELS[0])
    assert (high.verdict, low.verdict) == ("reads_high", "reads_low")
    assert high.bias_K.value - good.bias_K.value == pytest.approx(40.0, abs=0.5)
    assert "high by" in high.sentence and "low by" in low.sentence
    assert dc.arrest.check_sensor(good.arrest, ac1) == dc.arrest.check_sensor(good.arrest, STEELS[0])
    unknown = dc.arrest.check_sensor(good.arrest, "D2")
    assert unknown.verdict == "not_checked" and "no_formula_safe" in unknown.flags


def recalescence() -> tuple[Floats, Floats]:
    """A lumped body cooling in air; below 660 degC it transforms, the faster the further, and warms itself by 70 K."""
    step, t, work, done = 0.25, [0.0], [850.0], 0.0
    while t[-1] < 1800.0:
        rate = 0.06 * (done + 0.02) * (1.0 - done) if work[-1] < 660.0 or done > 0.0 else 0.0
        done = min(1.0, done + rate * step)
        work.append(work[-1] + step * (70.0 * rate - (work[-1] - 20.0) / 900.0))
        t.append(t[-1] + step)
    read = np.array(work[::8]) + np.random.default_rng(2).normal(0.0, 0.5, len(work[::8]))
    return np.array(t[::8]), read


def test_recalescence_is_found_and_checks_nothing() -> None:
    seen = dc.arrest.find(recalescence(), direction="cooling")
    assert seen.found and "recalescence" in seen.flags
    assert 630.0 < seen.start_C.value < 665.0
    assert seen.rate_at_K_s > 0.0 > seen.rate_before_K_s
    assert "undercooled" in seen.sentence
    check = dc.arrest.check_sensor(seen, STEELS[0])
    assert check.verdict == "not_checked" and np.isnan(check.bias_K.value)
    assert not dc.arrest.find(recalescence()).found


def test_why_nothing_was_found() -> None:
    t, work = eutectoid()
    cold = work < 550.0
    assert dc.arrest.find((t[cold], work[cold])).finding == "not_reached"
    quick = np.arange(0.0, 60.0, 1.0)
    fast = dc.arrest.find((quick, np.minimum(20.0 + 25.0 * quick, 900.0)))
    assert (fast.finding, fast.flags) == ("too_fast", ("heated_too_fast",))
    line = np.arange(0.0, 1000.0, 2.0)
    rough = 20.0 + 0.9 * line + np.random.default_rng(4).normal(0.0, 60.0, len(line))
    assert dc.arrest.find((line, rough)).flags == ("trace_too_noisy",)
    plain = dc.arrest.find((line, 20.0 + 0.9 * line + np.random.default_rng(4).normal(0.0, 0.5, len(line))))
    assert (plain.finding, plain.flags) == ("no_arrest", ("no_arrest",))
    assert "no arrest" in plain.sentence
    assert np.isnan(plain.start_C.value)


def test_gaps_spikes_and_whole_kelvins() -> None:
    t, work = eutectoid()
    whole = dc.arrest.find((t, work))
    random = np.random.default_rng(8)
    rough = np.round(work)
    rough[random.random(len(t)) < 0.1] = np.nan
    rough[random.integers(0, len(t), 5)] += 200.0
    seen = dc.arrest.find((t, rough))
    assert seen.found and abs(seen.start_C.value - whole.start_C.value) < 2.0


def test_every_form_of_trace() -> None:
    t, work = eutectoid()
    furnace = np.full(len(t), 850.0)
    plain = dc.arrest.find((t, work))
    assert dc.arrest.find(dc.History(t, work)) == plain
    assert dc.arrest.find(pd.DataFrame({"s": t, "work": work})) == plain
    beside = dc.arrest.find((t, work, furnace))
    assert dc.arrest.find(pd.DataFrame({"s": t, "work": work, "furnace": furnace})) == beside
    assert dc.arrest.find((t, work), furnace_C=dc.hold(850, 1500)) == beside
    assert beside.difference_start_K == pytest.approx(850.0 - plain.start_C.value, abs=2.0)
    assert dc.arrest.find((t, work), between_C=("1100F", "1700F")) == plain
    assert not dc.arrest.find((t, work), between_C=(740, 900)).found


@pytest.mark.parametrize(
    ("trace", "how", "error", "says"),
    [
        (([0.0, 1.0], [20.0, 30.0]), {}, ValueError, "dozen"),
        ((np.arange(20.0)[::-1], np.arange(20.0)), {}, ValueError, r"times_s\[1\]"),
        ((np.arange(20.0), np.arange(19.0)), {}, ValueError, "work_C holds 19"),
        ((np.arange(20.0), np.arange(20.0)), {"furnace_C": np.arange(3.0)}, ValueError, "furnace_C holds 3"),
        ((np.arange(20.0), np.arange(20.0)), {"direction": "up"}, ValueError, "direction = 'up'"),
        ((np.arange(20.0), np.arange(20.0)), {"between_C": (900, 600)}, ValueError, "between"),
        ((np.arange(20.0), ["hot"] * 20), {}, TypeError, r"trace\[1\]"),
        ((np.arange(20.0), np.zeros((20, 2))), {}, ValueError, "2 dimensions"),
        (pd.DataFrame({"a": [1.0]}), {}, ValueError, "columns a"),
        (42, {}, TypeError, "trace is a int"),
    ],
)
def test_wrong_traces_are_refused(trace: object, how: dict[str, object], error: type[Exception], says: str) -> None:
    with pytest.raises(error, match=says):
        dc.arrest.find(trace, **how)  # type: ignore[arg-type]
