"""The C++ join of critical temperatures against an independent NumPy text of the same method, to 1e-8 K."""

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "bench"))

import numpy_twin_critical as twin
from critical_twin_tables import FLAGS
from steels import anything, composition, doubts

import decalesce as dc
from decalesce import _core

ROWS = 20_000
#: The twin says nan_input also where carbon is not stated, and never range_unpublished.
COMPARED = [name for name in FLAGS if name not in ("nan_input", "range_unpublished")]


@pytest.mark.parametrize("kernel", _core.kernels())
@pytest.mark.parametrize("widths", [False, True])
@pytest.mark.parametrize("absent", [False, True])
def test_kernels_agree_with_the_twin(kernel: str, widths: bool, absent: bool) -> None:
    w = anything(ROWS)
    half_width, not_stated = doubts(w)
    w[not_stated] = 0.0
    w[::97, 1] = np.nan
    given = (half_width if widths else None, not_stated if absent else None)
    ours = _core.critical_batch(composition(w, *given), True, kernel)
    for quantity, theirs in twin.joined_critical(w, *given).items():
        answer = getattr(ours, quantity)
        for field in ("value", "low", "high"):
            np.testing.assert_allclose(getattr(answer, field), theirs[field], rtol=0, atol=1e-8, err_msg=quantity)
        for name in COMPARED:
            np.testing.assert_array_equal(answer.flagged(name), (theirs["flags"] & FLAGS[name]) > 0, err_msg=name)
        unusable = answer.flagged("nan_input") | answer.flagged("carbon_not_stated")
        np.testing.assert_array_equal(unusable, (theirs["flags"] & FLAGS["nan_input"]) > 0)
        square = answer.parts["formula"] ** 2 + answer.parts["composition"] ** 2
        known = ~np.isnan(answer.value)
        np.testing.assert_allclose(np.sqrt(square)[known], ((answer.high - answer.low) / 2)[known], atol=1e-5)


def test_one_steel_gives_what_the_batch_gives() -> None:
    w = anything(500)
    half_width, not_stated = doubts(w)
    w[not_stated] = 0.0
    steels = composition(w, half_width, not_stated)
    batch = _core.critical_batch(steels, True)
    for i in range(500):
        one = dc.critical.temperatures(steels[i])
        assert one.family == _core.family_names[batch.family[i]]
        for quantity in ("ac1", "ac3", "acm", "ms", "mf", "bs"):
            single, many = getattr(one, quantity), getattr(batch, quantity)
            assert single.value == pytest.approx(many.value[i], nan_ok=True, abs=1e-8)
            assert single.low == pytest.approx(many.low[i], nan_ok=True, abs=1e-8)
            assert single.flags == dc.flags.names(int(many.flags[i]))
        assert _core.critical_ms(steels[i]) == one.ms


def test_a_steel_whose_band_once_was_nan() -> None:
    """0.99C 0.41Mn 0.22Si 0.14Cr 0.06Ni: its composition part came from the root of a tiny negative number."""
    steel = dc.Composition(C=0.99, Mn=0.41, Si=0.22, Cr=0.14, Ni=0.06, half_width={"C": 0.005, "Mn": 0.005})
    ac1 = dc.critical.temperatures(steel).ac1
    assert np.isfinite([ac1.value, ac1.low, ac1.high, *ac1.parts.values()]).all()


@pytest.mark.parametrize("rows", [0, 1, 2, 63, 64, 65, 129])
def test_every_length_of_batch(rows: int) -> None:
    w = anything(rows)
    for kernel in _core.kernels():
        ours = _core.critical_batch(composition(w), False, kernel)
        theirs = twin.joined_critical(w)
        np.testing.assert_allclose(ours.ms.value, theirs["ms"]["value"], rtol=0, atol=1e-8)
        assert ours.ms.value.shape == (rows,)
