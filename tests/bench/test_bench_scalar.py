"""One steel at a time: a call may cost half as much again as an empty bound function of the same kind."""

import importlib
import subprocess
import sys
import timeit
from pathlib import Path
from types import ModuleType

import pytest

import decalesce as dc
from decalesce import _core

HERE = Path(__file__).resolve().parent
STEEL = dc.Composition(C=0.95, Mn=0.40, Si=0.20, Cr=0.0, Ni=0.0, Mo=0.0, Cu=0.0)
MOST = 1.5


@pytest.fixture(scope="module")
def empty_calls(tmp_path_factory: pytest.TempPathFactory) -> ModuleType:
    build = tmp_path_factory.mktemp("empty_calls")
    configure = [
        "cmake",
        "-S",
        HERE / "empty_module",
        "-B",
        build,
        f"-DROOT={HERE.parents[1]}",
        f"-DPython_EXECUTABLE={sys.executable}",
    ]
    subprocess.run(configure, check=True, capture_output=True)
    subprocess.run(["cmake", "--build", build], check=True, capture_output=True)
    sys.path.insert(0, str(build))
    return importlib.import_module("empty_calls")


def nanoseconds(work: object) -> float:
    calls = 20_000
    return min(timeit.repeat(work, number=calls, repeat=15)) / calls * 1e9  # type: ignore[arg-type]


def test_one_formula(empty_calls: ModuleType) -> None:
    name = "ms_van_bohemen_2012"
    real = nanoseconds(lambda: _core.formula_values(name, STEEL))
    empty = nanoseconds(lambda: empty_calls.number_of_formula(name, STEEL))
    print(f"one formula: {real:.0f} ns, empty {empty:.0f} ns, {real / empty:.2f} x (at most {MOST} x)")
    assert real <= MOST * empty


def test_joined_ms(empty_calls: ModuleType) -> None:
    real = nanoseconds(lambda: _core.critical_ms(STEEL))
    empty = nanoseconds(lambda: empty_calls.estimate(STEEL))
    print(f"joined Ms: {real:.0f} ns, empty {empty:.0f} ns, {real / empty:.2f} x (at most {MOST} x)")
    assert real <= MOST * empty


def test_six_temperatures_are_reported() -> None:
    real = nanoseconds(lambda: dc.critical.temperatures(STEEL))
    print(f"all six critical temperatures through the face: {real:.0f} ns")
    assert real < 5_000.0
