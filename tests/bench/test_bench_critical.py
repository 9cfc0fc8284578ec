"""Joined critical temperatures (value, band, flags) over a million steels beside the NumPy twin."""

import numpy_twin_critical as twin
import pytest
from pytest_benchmark.fixture import BenchmarkFixture
from ratios import KERNELS, ratio
from steels import anything, certificates, composition, doubts

from decalesce import _core

ROWS = 1_000_000
LEAST = {"portable": 4.0, "avx2": 8.0}
#: With half-widths and not-stated marks in every row; no target was set for it.
LEAST_DOUBTFUL = {"portable": 2.0, "avx2": 3.0}


@pytest.mark.parametrize("kernel", KERNELS)
def test_full_certificates(kernel: str) -> None:
    w, steels = certificates(ROWS)
    ratio(
        f"critical, {kernel}",
        lambda: _core.critical_batch(steels, False, kernel),
        lambda: twin.joined_critical(w),
        LEAST[kernel],
    )


@pytest.mark.parametrize("kernel", KERNELS)
def test_with_half_widths_and_not_stated_amounts(kernel: str) -> None:
    w = anything(ROWS)
    half_width, not_stated = doubts(w)
    w[not_stated] = 0.0
    steels = composition(w, half_width, not_stated)
    ratio(
        f"critical with doubts, {kernel}",
        lambda: _core.critical_batch(steels, False, kernel),
        lambda: twin.joined_critical(w, half_width, not_stated),
        LEAST_DOUBTFUL[kernel],
    )


@pytest.mark.benchmark(group="joined critical temperatures, 100,000 steels")
@pytest.mark.parametrize("who", [*KERNELS, "numpy"])
def test_group(benchmark: BenchmarkFixture, who: str) -> None:
    w, steels = certificates(100_000)
    benchmark(twin.joined_critical, w) if who == "numpy" else benchmark(_core.critical_batch, steels, False, who)
