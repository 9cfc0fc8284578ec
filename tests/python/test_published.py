"""Published formulas against their printed expressions in data/tables/formulas.csv, evaluated by Python itself."""

import math

import numpy as np
import pandas as pd
import pytest

import decalesce as dc
from check_files import DATA, ELEMENTS, read_checks

EXPRESSIONS = pd.read_csv(DATA / "tables" / "formulas.csv", keep_default_na=False).set_index("id")
CHECKS = read_checks("published.csv")
TO_CELSIUS = {"degC": lambda v: v, "degF": lambda v: (v - 32.0) / 1.8, "K": lambda v: v - 273.15, "1/K": lambda v: v}
GIVEN = {"thickness_mm": 25.0, "grain_um": 30.0, "Ms": 300.0, "Bs": 550.0, "alpha": 0.011}
IDS = [f.id for f in dc.published.formulas()]


def printed(formula: str, steel: dict[str, float]) -> float:
    """The expression as printed, degC."""
    row = EXPRESSIONS.loc[formula]
    names = dict.fromkeys(ELEMENTS, 0.0) | steel | GIVEN
    functions = {"sqrt": math.sqrt, "exp": math.exp, "log": math.log, "ln": math.log, "interp": np.interp}
    return float(TO_CELSIUS[row.unit](eval(row.expression, {"__builtins__": {}}, functions | names)))


def test_every_printed_formula_is_built_or_left_out_for_a_reason() -> None:
    built = EXPRESSIONS[EXPRESSIONS.left_out_reason == ""]
    assert set(built.index) == set(IDS)
    assert len(IDS) >= 60


@pytest.mark.parametrize("formula", IDS)
def test_text_and_expression_agree(formula: str) -> None:
    generator = np.random.default_rng(11)
    for _ in range(20):
        steel = {e: float(generator.uniform(0.0, 2.0 if e in ("Mn", "Cr", "Ni") else 1.0)) for e in ELEMENTS}
        answer = dc.published.evaluate(
            formula, dc.Composition(**steel), thickness_mm=25.0, grain_um=30.0, Ms=300.0, Bs=550.0, rate_per_K=0.011
        )
        assert answer.value == pytest.approx(printed(formula, steel), rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("formula", IDS)
def test_every_formula_has_check_rows_and_a_citation_status(formula: str) -> None:
    assert (CHECKS.formula == formula).sum() >= 2
    record = dc.published.formula(formula)
    row = EXPRESSIONS.loc[formula]
    assert (record.citation, record.lineage, record.status) == (row.citation, row.lineage, row.status)
    assert record.status in {"two-pages", "page", "memory"}
    assert record.range_known == (row.range_status != "unknown")
    for element, (low, high) in record.ranges.items():
        assert low == float(row[f"{element}_min"] or 0.0) and high == float(row[f"{element}_max"] or 100.0)
    if row.standard_error_C:
        assert record.standard_error_K == float(row.standard_error_C)
    else:
        assert np.isnan(record.standard_error_K)


@pytest.mark.parametrize("formula", IDS)
def test_worked_values(formula: str) -> None:
    for row in CHECKS[CHECKS.formula == formula].itertuples():
        steel = {e: getattr(row, e) for e in ELEMENTS if not np.isnan(getattr(row, e))}
        given = {
            "thickness_mm": row.thickness_mm,
            "grain_um": row.grain_um,
            "Ms": row.Ms,
            "Bs": row.Bs,
            "rate_per_K": row.alpha,
        }
        value = dc.published.evaluate(formula, dc.Composition(**steel), **given).value
        assert value == pytest.approx(row.expected, abs=row.tolerance)


@pytest.mark.parametrize("formula", IDS)
def test_batch_equals_one_by_one_in_every_kernel(formula: str) -> None:
    from decalesce import _core

    generator = np.random.default_rng(3)
    for shape in [(0,), (1,), (67,), (5, 13)]:
        w = dc.Composition(C=generator.uniform(0.1, 1.2, shape), Mn=generator.uniform(0.0, 2.0, shape), Cr=0.5)
        for kernel in _core.kernels():
            values = _core.formula_values(
                formula, w, kernel=kernel, Ms=300.0, Bs=550.0, grain_um=20.0, thickness_mm=8.0
            )
            assert values.shape == shape
            for i, value in enumerate(values.ravel()):
                one = _core.formula_values(formula, w[i], Ms=300.0, Bs=550.0, grain_um=20.0, thickness_mm=8.0)
                assert value == pytest.approx(one, rel=1e-12, nan_ok=True)


def test_answers_are_flagged() -> None:
    far = dc.published.evaluate("ms_andrews_1965_linear", dc.Composition(C=1.2))
    assert far.flagged("outside_range") and np.isfinite(far.value)
    # the linear Ms was seen in two places, only its range is remembered
    assert far.flagged("range_from_memory") and not far.flagged("from_memory")
    assert dc.published.evaluate("bs_kirkaldy_venugopalan_1984", dc.Composition(C=0.4)).flagged("range_unpublished")
    assert np.isnan(dc.published.evaluate("ms_lee_park_2013", dc.Composition(C=0.4)).value)
    assert dc.published.evaluate("ms_lee_park_2013", dc.Composition(C=0.4)).flagged("input_not_given")
    batch = dc.published.evaluate("ms_andrews_1965_linear", dc.Composition(C=np.array([0.4, 1.2, np.nan])))
    assert batch.flagged("outside_range").tolist() == [False, True, True]
    assert batch.flagged("nan_input").tolist() == [False, False, True]


def test_a_remembered_formula_and_a_remembered_range_are_told_apart() -> None:
    w = dc.Composition(C=0.4, Mn=0.7)
    for formula in dc.published.formulas():
        found = dc.published.evaluate(formula.id, w)
        remembered = formula.status == "memory"
        assert found.flagged("from_memory") == remembered, formula.id
        assert found.flagged("range_from_memory") == (formula.range_from_memory and not remembered), formula.id
    assert {f.range_from_memory for f in dc.published.formulas() if f.status != "memory"} == {True, False}


def test_an_unknown_formula_is_refused() -> None:
    with pytest.raises(KeyError, match="formulas"):
        dc.published.evaluate("ms_nobody_1900", dc.Composition(C=0.4))
