"""Published formulas over a million steels beside the same expressions in NumPy."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from critical_twin_tables import AT
from numpy.typing import NDArray
from ratios import KERNELS, ratio
from steels import certificates

import decalesce as dc
from decalesce import _core

ROWS = 1_000_000
TABLE = pd.read_csv(Path(__file__).resolve().parents[2] / "data" / "tables" / "formulas.csv", keep_default_na=False)
MS = TABLE[(TABLE.quantity == "Ms") & (TABLE.left_out_reason == "")]
LEAST_MS = {"portable": 2.0, "avx2": 4.0}
LEAST_PIECEWISE = 15.0
GRAIN_UM = 20.0
Floats = NDArray[np.float64]


def celsius(unit: str, printed: Floats) -> Floats:
    """The paper's unit as degC."""
    return (printed - 32.0) / 1.8 if unit == "degF" else printed - 273.15 if unit == "K" else printed


def high_carbon(x: dict[str, Floats]) -> Floats:
    """Steven and Haynes with the high-carbon correction, as NumPy would write the two pieces."""
    c = x["C"]
    correction = np.where(c < 0.53, 0.0, ((242.42 * c - 357.26) * c + 272.65) * c - 80.103)
    return 561 - 474 * c - 33 * x["Mn"] - 17 * x["Cr"] - 17 * x["Ni"] - 21 * x["Mo"] + correction


def ms_in_numpy(w: Floats) -> Callable[[], dict[str, Floats]]:
    """All Ms formulas to separate columns: the printed expressions on contiguous columns, compiled once."""
    x = {e: np.ascontiguousarray(w[:, i]) for e, i in AT.items()} | {"grain_um": GRAIN_UM, "D_um": GRAIN_UM}
    names = x | {"exp": np.exp, "log": np.log, "ln": np.log, "sqrt": np.sqrt}
    code = {
        row.id: (row.unit, compile(row.expression, row.id, "eval"))
        for row in MS.itertuples()
        if " if " not in row.expression
    }
    two_pieces = [row.id for row in MS.itertuples() if " if " in row.expression]

    def work() -> dict[str, Floats]:
        out = {name: celsius(unit, eval(text, {}, names)) for name, (unit, text) in code.items()}
        return out | {name: high_carbon(x) for name in two_pieces}

    return work


@pytest.mark.parametrize("kernel", KERNELS)
def test_all_ms_formulas(kernel: str) -> None:
    w, steels = certificates(ROWS)
    twin = ms_in_numpy(w)
    ours, theirs = _core.ms_columns(steels, GRAIN_UM, kernel), twin()
    assert set(ours) == set(theirs)
    for name, column in theirs.items():
        np.testing.assert_allclose(ours[name], column, rtol=1e-12, atol=1e-9)
    ratio(f"all Ms, {kernel}", lambda: _core.ms_columns(steels, GRAIN_UM, kernel), twin, LEAST_MS[kernel])


@pytest.mark.parametrize("kernel", KERNELS)
def test_piecewise_formula(kernel: str) -> None:
    """Roberts' table of carbon, straight between points: np.select over the pieces, as the expression stands."""
    w, steels = certificates(ROWS)
    c, mn, cr, cu, si, p = (np.ascontiguousarray(w[:, AT[e]]) for e in ("C", "Mn", "Cr", "Cu", "Si", "P"))
    at = [0.05, 0.10, 0.15, 0.20, 0.25, 0.30, 0.35, 0.40]
    lowering = [24, 48, 64, 80, 93, 106, 117, 128]

    def twin() -> Floats:
        pieces = [lowering[k] + (lowering[k + 1] - lowering[k]) / (at[k + 1] - at[k]) * (c - at[k]) for k in range(7)]
        table = np.select([c <= at[0], *(c <= at[k + 1] for k in range(7))], [lowering[0], *pieces], lowering[-1])
        return 910 - 25 * mn - 11 * cr - 20 * cu + 60 * si + 700 * p - table

    formula = "ae3_roberts_1988"
    np.testing.assert_allclose(_core.formula_values(formula, steels, kernel=kernel), twin(), rtol=1e-12)
    ours = lambda: _core.formula_values(formula, steels, kernel=kernel)  # noqa: E731
    ratio(f"piecewise, {kernel}", ours, twin, LEAST_PIECEWISE)


def test_python_face_gives_the_same() -> None:
    _, steels = certificates(1000)
    name = "ms_van_bohemen_2012"
    np.testing.assert_array_equal(dc.published.evaluate(name, steels).value, _core.formula_values(name, steels))
