"""Critical temperatures against reported ones: data/checks/critical.csv names the source of every row."""

import pickle

import numpy as np
import pandas as pd
import pytest
from scipy import stats

import decalesce as dc
from check_files import ELEMENTS, composition_of_rows, read_checks

ROWS = read_checks("critical.csv")
SHARE = ROWS[ROWS.gate == "share"].reset_index(drop=True)


def answers(rows: pd.DataFrame, quantity: str) -> pd.DataFrame:
    """Rows of one quantity with the library's value and band beside."""
    part = rows[rows.quantity == quantity].reset_index(drop=True)
    estimate = getattr(dc.critical.temperatures(composition_of_rows(part)), quantity.lower())
    return part.assign(value=estimate.value, low=estimate.low, high=estimate.high)


def covered(rows: pd.DataFrame, quantity: str) -> pd.DataFrame:
    found = answers(rows, quantity)
    return found[found.value.notna()]


def test_there_are_enough_rows() -> None:
    assert len(SHARE) >= 100


def test_bs_is_close_to_reported_values() -> None:
    rows = covered(SHARE, "Bs")
    assert len(rows) >= 80
    assert (rows.value - rows.expected).abs().mean() <= 18.0


def test_bs_is_not_worse_than_the_best_covered_formula() -> None:
    """Paired over steels, on the rows both cover."""
    rows = covered(SHARE, "Bs")
    joined = (rows.value - rows.expected).abs()
    best: tuple[int, float, pd.Series] | None = None
    w = composition_of_rows(rows)
    for formula in dc.published.formulas():
        if formula.quantity != "Bs" or not formula.range_known:
            continue
        answer = dc.published.evaluate(formula.id, w)
        inside = ~np.asarray(answer.flagged("outside_range"))
        error = pd.Series(np.abs(answer.value - rows.expected.to_numpy()), index=rows.index)[inside]
        if best is None or (len(error), -error.mean()) > (best[0], -best[1]):
            best = (len(error), float(error.mean()), error)
    assert best is not None
    steels = rows.loc[best[2].index, ELEMENTS].fillna(-1.0).astype(str).agg("|".join, axis=1)
    pairs = pd.DataFrame({"ours": joined[best[2].index], "theirs": best[2]}).groupby(steels).mean()
    worse = stats.ttest_rel(pairs.ours, pairs.theirs, alternative="greater")
    assert worse.pvalue > 0.05


def test_ac1_is_close_to_reported_values() -> None:
    rows = covered(SHARE, "Ac1")
    assert len(rows) >= 5
    assert (rows.value - rows.expected).abs().mean() <= 10.0


@pytest.mark.parametrize("quantity", ["Ac3", "Ms"])
def test_bands_hold_four_of_five(quantity: str) -> None:
    rows = covered(SHARE, quantity)
    assert len(rows) >= 1
    assert ((rows.low <= rows.expected) & (rows.expected <= rows.high)).mean() >= 0.8


@pytest.mark.parametrize(
    ("name", "steel"),
    [
        # mid-range limits of ASTM A681 and A600, AISI 440C of ASTM A276: families with no safe formula
        ("A2", {"C": 1.0, "Mn": 0.7, "Si": 0.3, "Cr": 5.1, "Mo": 1.1, "V": 0.3}),
        ("D2", {"C": 1.5, "Mn": 0.4, "Si": 0.4, "Cr": 12.0, "Mo": 0.9, "V": 0.8}),
        ("H13", {"C": 0.39, "Mn": 0.4, "Si": 1.0, "Cr": 5.1, "Mo": 1.4, "V": 1.0}),
        ("440C", {"C": 1.08, "Mn": 0.5, "Si": 0.5, "Cr": 17.0, "Mo": 0.4}),
        ("M2", {"C": 0.85, "Mn": 0.3, "Si": 0.3, "Cr": 4.1, "Mo": 5.0, "V": 1.9, "W": 6.1}),
    ],
)
def test_families_without_a_safe_formula_give_no_number(name: str, steel: dict[str, float]) -> None:
    t = dc.critical.temperatures(dc.Composition(**steel))
    for estimate in (t.ac1, t.ac3, t.acm, t.ms, t.mf, t.bs):
        assert np.isnan(estimate.value), name
        assert "no_formula_safe" in estimate.flags
        assert estimate.level == "stop"


def test_rows_outside_coverage_are_nan_and_say_why() -> None:
    for quantity in ("Ac1", "Ac3", "Ms", "Bs"):
        part = ROWS[ROWS.quantity == quantity].reset_index(drop=True)
        estimate = getattr(dc.critical.temperatures(composition_of_rows(part)), quantity.lower())
        missing = np.isnan(estimate.value)
        assert np.all(estimate.flags[missing] != 0)
        assert np.all(np.isnan(estimate.low[missing])) and np.all(np.isnan(estimate.high[missing]))


def test_ac3_and_acm_belong_to_their_side() -> None:
    """Fe-C diagram: 0.4 %C is hypoeutectoid, 1.1 %C hypereutectoid; Acm of 1.1 %C near 855 (Gustafson1985)."""
    low = dc.critical.temperatures(dc.Composition(C=0.4, Mn=0.7, Si=0.25))
    high = dc.critical.temperatures(dc.Composition(C=1.1, Mn=0.3, Si=0.2))
    assert np.isnan(low.acm.value) and "not_applicable" in low.acm.flags
    assert np.isnan(high.ac3.value) and "not_applicable" in high.ac3.flags
    assert 840.0 < high.acm.value < 875.0


def test_not_stated_residuals_widen_the_band_and_move_nothing() -> None:
    stated = dc.critical.temperatures(dc.Composition(C=0.4, Mn=0.7, Si=0.25, Cr=0.0, Ni=0.0, Mo=0.0, Cu=0.0)).ms
    bare = dc.critical.temperatures(dc.Composition(C=0.4, Mn=0.7, Si=0.25)).ms
    assert bare.value == stated.value
    assert "residual_assumed" in bare.flags and "residual_assumed" not in stated.flags
    assert bare.high - bare.low > stated.high - stated.low


def test_unusable_carbon_gives_nan() -> None:
    t = dc.critical.temperatures(dc.Composition(C=np.nan, Mn=0.7))
    assert np.isnan(t.ms.value) and "nan_input" in t.ms.flags
    t = dc.critical.temperatures(dc.Composition(Mn=0.7))
    assert np.isnan(t.ms.value) and "carbon_not_stated" in t.ms.flags


@pytest.mark.parametrize("shape", [(0,), (1,), (3,), (2, 3)])
def test_shape_in_shape_out(shape: tuple[int, ...]) -> None:
    t = dc.critical.temperatures(dc.Composition(C=np.full(shape, 0.6), Mn=0.7))
    assert t.ms.value.shape == shape and t.ms.flags.shape == shape


def test_a_grade_means_its_limits() -> None:
    grade = dc.grades.find("1095")
    of_grade = dc.critical.temperatures(grade).ac1
    exact = dc.critical.temperatures(dc.Composition(**grade.composition.amounts)).ac1
    assert of_grade.value == exact.value
    assert of_grade.parts["composition"] > exact.parts["composition"]


def test_something_that_is_no_composition_is_refused() -> None:
    with pytest.raises(TypeError, match="w = 1095; expected a Composition, a Grade, a grade's name"):
        dc.critical.temperatures(1095)


def test_a_grade_s_name_stands_for_the_grade() -> None:
    assert dc.critical.temperatures("1095") == dc.critical.temperatures(dc.grades.find("1095"))
    assert dc.austenite.window("O1").aim == dc.austenite.window(dc.grades.find("O1")).aim
    assert dc.heating.soak(dc.Section("plate", 4), w="1084").hold_s.value > 0.0
    with pytest.raises(LookupError, match="unknown grade '1059'; near: 1050, 1055, 1095"):
        dc.critical.temperatures("1059")


def one() -> dc.critical.CriticalTemperatures:
    found = dc.critical.temperatures(dc.Composition(C=0.95, Mn=0.4))
    assert isinstance(found, dc.critical.CriticalTemperatures)
    return found


def many(*, parts: bool = False) -> dc.critical.CriticalTemperaturesBatch:
    w = dc.Composition(C=np.array([[0.4, 1.0, np.nan]]), Mn=0.6)
    found = dc.critical.temperatures(w, parts=parts)
    assert isinstance(found, dc.critical.CriticalTemperaturesBatch)
    return found


def test_answers_are_values() -> None:
    """Equal when they say the same, NaN included; they pickle, and cannot be changed."""
    assert np.isnan(one().ac3.value) and np.isnan(many().ac1.value[0, 2])
    assert one() == one() and hash(one()) == hash(one()) and one() != dc.critical.temperatures("1084")
    assert many() == many() and many() != dc.critical.temperatures(dc.Composition(C=np.array([0.4, 1.0]), Mn=0.6))
    assert one() != 3 and many() != 3
    for value in (one(), many(), many(parts=True)):
        back = pickle.loads(pickle.dumps(value))
        assert back == value and back.ms.sources == value.ms.sources and back.ms.unit == "degC"
        assert back.ms.parts.keys() == value.ms.parts.keys()
        with pytest.raises(AttributeError):
            value.ac1 = value.ms  # type: ignore[misc]
    with pytest.raises(ValueError, match="read-only"):
        many().family[0, 0] = 3
    with pytest.raises(TypeError, match="cannot be hashed"):
        hash(many())


def test_a_pickle_of_another_version_is_refused() -> None:
    for value in (one(), many()):
        blank = type(value).__new__(type(value))
        state = value.__getstate__()
        with pytest.raises(ValueError, match="written by another version"):
            blank.__setstate__((state[0] + 1, *state[1:]))  # type: ignore[union-attr]


def test_answers_print_well() -> None:
    assert repr(one()).startswith("CriticalTemperatures(plain_hyper, ac1 7") and "nan" not in repr(one())
    assert repr(many()) == ("CriticalTemperaturesBatch(3 steels; answered: ac1 2, ac3 1, acm 1, ms 2, mf 1, bs 2)")
