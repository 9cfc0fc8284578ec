"""Joined critical temperatures in NumPy: the speed rival and the reference of the C++ kernel.

Rows are steels, columns the 19 elements in the fixed order (wt %). Every number that is not a formula coefficient is
read from data/tables; names in ``code type`` below are rows of critical_constants.csv. Temperatures are degC, spreads
and half-widths K. The C++ kernel follows these steps in this order; the results agree to 1e-9.

Inputs: w (n, 19), 0 where not stated; half_width (n, 19) wt % or None, half the interval in which the true content
may lie anywhere (grade limits, printed digits); not_stated (n, 19) bool or None.

 1. Unusable rows: a NaN in any column of w, or carbon not stated. All NaN, flag nan_input and no other.
 2. Eutectoid carbon Ce = ``eutectoid_carbon`` + sum k_i w_i, summed in the order Mn Si Cr Ni Mo W, where k_i is the
    eutectoid carbon at 1 wt % (eutectoid_shift.csv, rows whose kind begins with "computed") less
    ``eutectoid_carbon``. hyper = C > Ce.
 3. Family, from composition only (critical_families.csv): 2, or 3 when hyper; 0, or 1 when hyper, if every element of
    the plain rows is below its limit; then each higher precedence overwrites, lowest first, where its conditions
    hold. The two rows of austenitic_other at precedence 2, and the two at 6, are alternatives (or); all others must
    hold together (and). Families 5 to 9: every quantity NaN with no_formula_safe.
 4. Coverage c_f, 0 or 1: usable row, safe family, and minimum <= w_i <= maximum for each row of
    critical_coverage.csv. A minimum counts as met where the element is not stated. ms_steven_haynes_1956_high_carbon:
    C strictly above its minimum.
 5. One vote a lineage. Every lineage has one covering formula at a steel (the two Steven and Haynes forms of Ms meet
    without overlap), so the vote v_f of a lineage is that formula. s_f = scatter_C of critical_family_rms.csv for
    (formula, family): the published standard error where there is one that applies, else the rms on open seen rows,
    never below ``error_floor``.
 6. n = sum c; mean = sum c v / max(n, 1); spread^2 = sum c (v - mean)^2 / max(n - 1, 1).
 7. g = c / (s^2 + spread^2), divided by its sum (NaN when n = 0); value = sum g v. Flags: outside_range n = 0;
    single_formula n = 1; wide_spread spread^2 > ``wide_spread``^2; from_memory a covering formula is of status
    memory.
 8. half = ``normal_90`` sqrt(sum g s^2 + spread^2 + composition^2). The votes were fitted on shared steels and face
    one measuring error, so averaging is not taken to shrink scatter. composition^2 = sum_i (d value/d w_i h_i)^2 / 3
    with g held fixed, i in element order; 0 without half_width.
 9. Not stated: r = w plus the usual residual of Ni, Cr, Mo, Cu (usual_residuals.csv) where not stated. delta = |sum g
    (v(r) - v(w))|, g and c as at w. delta > ``residual_matters``: flag residual_assumed and half += delta. The value
    is not moved.
10. Acm: the T at which iron-carbon saturation (fe_c_fits.csv, acm_carbon, cubic P) plus the alloy shift equals C.
    With t = (T - 850)/100, F(T) = P(T) + A0 + A1 t + A2 t^2 - C, A_k = sum_i a_ki w_i + b_ki w_i^2 over Cr Mn Mo Ni
    Si W (acm_shift_fit.csv). Three Newton steps from T = acm_temperature(min(max(C - A0, 0.761), 1.5)), which leave
    less than 1e-9 K inside the coverage; F' is that of the last step. Covered when hyper, acm_fe_c_shift covers and
    ``acm_lowest`` <= T <= ``acm_highest``, else
    outside_range. half = sqrt((u/F')^2 + ``normal_90``^2 composition^2), u = ``acm_carbon_plain`` in family 1, else
    ``acm_carbon_alloyed``; dT/dC = 1/F', dT/dw_i = -sum_k (a_ki + 2 b_ki w_i) t^k / F'. Step 9 solves again at r.
    Always single_formula.
11. Side: Ac3 of a hyper row and Acm of any other are NaN with not_applicable and no other flag. Ac1 with C above
    ``ac1_carbon_published`` is flagged carbon_extended. Ms, Mf and Bs of a hyper row are flagged bulk_composition:
    they hold for all carbon in solution.
12. Ac3 or Acm below Ac1 becomes Ac1, clamped_to_ac1; half stays.
13. Mf = Ms - ``mf_offset`` where mf_steven_haynes_1956 covers and Ms has a value, half = sqrt(half_Ms^2 +
    (``normal_90`` ``mf_offset_scatter``)^2), the flags of Ms with single_formula and from_memory; else NaN,
    outside_range. Koistinen and Marburger's rate puts 99 % far lower, near Ms - 418. The offset is chosen because the
    two seen rows lie at 150 and 190.
14. low = value - half, high = value + half; both NaN where the value is. Ar3 has no joined value: its one formula has
    no published range. range_unpublished is set only by single formulas, never here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from critical_twin_tables import (
    ALLOYING,
    AT,
    COLUMN_OF,
    COLUMNS,
    ELEMENTS,
    EUTECTOID_ELEMENTS,
    FLAGS,
    FORMULAS,
    OUTPUTS,
    SAFE_FAMILIES,
    SHIFT_ELEMENTS,
    Bools,
    Floats,
    Tables,
    load_tables,
)
from numpy.typing import NDArray

Flags = NDArray[np.uint16]
Answer = tuple[Floats, Floats, Flags]  #: value, half-width, flags

_F = 1.0 / 1.8
#: first number, then the linear terms, in degC
_LINEAR: dict[str, tuple[float, dict[str, float]]] = {
    "ac1_andrews_1965": (723.0, {"Mn": -10.7, "Ni": -16.9, "Si": 29.1, "Cr": 16.9, "As": 290.0, "W": 6.38}),
    "ae1_grange_1961": (1301.0 * _F, {"Mn": -25.0 * _F, "Si": 40.0 * _F, "Cr": 42.0 * _F, "Ni": -26.0 * _F}),
    "ac1_trzaska_dobrzanski_2007": (
        739.0,
        {"C": -22.8, "Mn": -6.8, "Si": 18.2, "Cr": 11.7, "Ni": -15.0, "Mo": -6.4, "V": -5.0, "Cu": -28.0},
    ),
    "ac3_andrews_1965_major": (910.0, {"Si": 44.7, "Ni": -15.2, "Mo": 31.5, "V": 104.0, "W": 13.1}),
    "ae3_grange_1961": (
        1538.0 * _F,
        {"C": -323.0 * _F, "Mn": -25.0 * _F, "Si": 80.0 * _F, "Cr": -3.0 * _F, "Ni": -32.0 * _F},
    ),
    "ae3_eldis_1978": (871.0, {"C": -254.4, "Ni": -14.2, "Si": 51.7}),
    "ac3_trzaska_dobrzanski_2007": (
        937.3,
        {"Mn": -17.0, "Si": 34.0, "Ni": -14.0, "Mo": 21.6, "V": 41.8, "Cu": -20.0},
    ),
    "ms_andrews_1965_linear": (539.0, {"C": -423.0, "Mn": -30.4, "Ni": -17.7, "Cr": -12.1, "Mo": -7.5}),
    "ms_steven_haynes_1956": (561.0, {"C": -474.0, "Mn": -33.0, "Cr": -17.0, "Ni": -17.0, "Mo": -21.0}),
    "ms_steven_haynes_1956_high_carbon": (561.0, {"C": -474.0, "Mn": -33.0, "Cr": -17.0, "Ni": -17.0, "Mo": -21.0}),
    "ms_payson_savage_1944": (
        898.0 * _F,
        {
            "C": -570.0 * _F,
            "Mn": -60.0 * _F,
            "Cr": -50.0 * _F,
            "Ni": -30.0 * _F,
            "Si": -20.0 * _F,
            "Mo": -20.0 * _F,
            "W": -20.0 * _F,
        },
    ),
    "ms_eldis_1978": (531.0, {"C": -391.2, "Mn": -43.3, "Ni": -21.8, "Cr": -16.2}),
    "ms_capdevila_2002": (
        764.2 - 273.15,
        {
            "C": -302.6,
            "Mn": -30.6,
            "Ni": -16.6,
            "Cr": -8.9,
            "Mo": 2.4,
            "Cu": -11.3,
            "Co": 8.58,
            "W": 7.4,
            "Si": -14.5,
        },
    ),
    "ms_van_bohemen_2012": (565.0, {"Mn": -31.0, "Si": -13.0, "Cr": -10.0, "Ni": -18.0, "Mo": -12.0}),
    "bs_steven_haynes_1956": (830.0, {"C": -270.0, "Mn": -90.0, "Ni": -37.0, "Cr": -70.0, "Mo": -83.0}),
    "bs_van_bohemen_2012": (839.0, {"Mn": -86.0, "Si": -23.0, "Cr": -67.0, "Ni": -33.0, "Mo": -75.0}),
    "bs_lee_2002": (745.0, {"C": -110.0, "Mn": -59.0, "Ni": -39.0, "Cr": -68.0, "Mo": -106.0}),
}
_AC3_ANDREWS, _AC3_TRZASKA = COLUMN_OF["ac3_andrews_1965_major"], COLUMN_OF["ac3_trzaska_dobrzanski_2007"]
_MS_HIGH, _MS_BOHEMEN = COLUMN_OF["ms_steven_haynes_1956_high_carbon"], COLUMN_OF["ms_van_bohemen_2012"]
_BS_BOHEMEN, _BS_LEE = COLUMN_OF["bs_van_bohemen_2012"], COLUMN_OF["bs_lee_2002"]

_CONSTANT = np.array([_LINEAR[name][0] for name in FORMULAS])
_COEFFICIENT = np.zeros((len(FORMULAS), len(ELEMENTS)))
for _name, (_first, _terms) in _LINEAR.items():
    for _element, _value in _terms.items():
        _COEFFICIENT[COLUMN_OF[_name], AT[_element]] = _value


def formula_values(x: Floats) -> Floats:
    """All voting formulas, degC: (19, n) wt % in, (formulas, n) out, coverage not regarded."""
    carbon = x[AT["C"]]
    values: Floats = _COEFFICIENT @ x
    values += _CONSTANT[:, None]
    root = np.sqrt(carbon)
    values[_AC3_ANDREWS] -= 203.0 * root
    values[_AC3_TRZASKA] -= 224.5 * root
    cubic = ((242.42 * carbon - 357.26) * carbon + 272.65) * carbon - 80.103
    values[_MS_HIGH] += np.where(carbon < 0.53, 0.0, cubic)
    values[_MS_BOHEMEN] -= 600.0 * (1.0 - np.exp(-0.96 * carbon))
    values[_BS_BOHEMEN] -= 270.0 * (1.0 - np.exp(-1.33 * carbon))
    mn, cr, ni, mo = (x[AT[element]] for element in ("Mn", "Cr", "Ni", "Mo"))
    values[_BS_LEE] += 17.0 * mn * ni + 6.0 * cr * cr + 29.0 * mo * mo
    return values


def _composition_variance(x: Floats, variance: Floats, columns: Sequence[int], g: Floats) -> Floats:
    """sum_i (d value/d w_i)^2 h_i^2 / 3 with the shares g (votes of this quantity, n) held fixed; variance is h^2/3."""
    slope: Floats = _COEFFICIENT[list(columns)].T @ g
    carbon = x[AT["C"]]
    share = dict(zip(columns, g, strict=True))
    if _AC3_ANDREWS in share:
        half_root = 0.5 / np.sqrt(carbon)
        slope[AT["C"]] -= (203.0 * share[_AC3_ANDREWS] + 224.5 * share[_AC3_TRZASKA]) * half_root
    if _MS_HIGH in share:
        cubic = (3.0 * 242.42 * carbon - 2.0 * 357.26) * carbon + 272.65
        slope[AT["C"]] += share[_MS_HIGH] * np.where(carbon < 0.53, 0.0, cubic)
        slope[AT["C"]] -= share[_MS_BOHEMEN] * (600.0 * 0.96) * np.exp(-0.96 * carbon)
    if _BS_LEE in share:
        lee = share[_BS_LEE]
        slope[AT["C"]] -= share[_BS_BOHEMEN] * (270.0 * 1.33) * np.exp(-1.33 * carbon)
        slope[AT["Mn"]] += lee * 17.0 * x[AT["Ni"]]
        slope[AT["Ni"]] += lee * 17.0 * x[AT["Mn"]]
        slope[AT["Cr"]] += lee * 12.0 * x[AT["Cr"]]
        slope[AT["Mo"]] += lee * 58.0 * x[AT["Mo"]]
    total: Floats = np.einsum("in,in,in->n", slope, slope, variance)
    return total


def eutectoid_carbon(x: Floats, tables: Tables) -> Floats:
    """Carbon of the eutectoid, wt %: (19, n) in, (n,) out. Accuracy as the computed table, about 0.02 wt %."""
    carbon = np.full(x.shape[1], tables.constants["eutectoid_carbon"])
    for slope, element in zip(tables.slopes, EUTECTOID_ELEMENTS, strict=True):
        carbon += slope * x[AT[element]]
    return carbon


def family(x: Floats, tables: Tables) -> NDArray[np.int64]:
    """Family code (index into FAMILIES) from composition alone: (19, n) in, (n,) out."""
    limit = tables.limit
    carbon, cr = x[AT["C"]], x[AT["Cr"]]
    hyper = carbon > eutectoid_carbon(x, tables)
    plain = np.ones(x.shape[1], bool)
    for column, value in tables.plain_limits:
        plain &= x[column] < value
    alloying = x[[AT[element] for element in ALLOYING]]
    code = np.where(plain, 0, 2) + hyper
    code = np.where(x[AT["Si"]] > limit["silicon_spring:1:Si>"], 4, code)
    largest = limit["austenitic_other:2:largest of Mn Si Cr Ni Mo V W Cu Co Al>="]
    total = limit["austenitic_other:2:sum of Mn Si Cr Ni Mo V W Cu Co Al>"]
    code = np.where((alloying.max(axis=0) >= largest) | (alloying.sum(axis=0) > total), 9, code)
    code = np.where((cr >= limit["tool_3_5_cr:3:Cr>="]) & (carbon >= limit["tool_3_5_cr:3:C>="]), 5, code)
    code = np.where((cr >= limit["tool_11_13_cr:4:Cr>="]) & (carbon >= limit["tool_11_13_cr:4:C>="]), 6, code)
    stainless = (
        (cr >= limit["martensitic_stainless:5:Cr>="])
        & (carbon <= limit["martensitic_stainless:5:C<="])
        & (carbon >= limit["martensitic_stainless:5:C>="])
    )
    code = np.where(stainless, 7, code)
    austenite = (x[AT["Ni"]] >= limit["austenitic_other:6:Ni>="]) | (x[AT["Mn"]] >= limit["austenitic_other:6:Mn>="])
    code = np.where(austenite, 9, code)
    high_speed = (
        (carbon >= limit["high_speed:7:C>="])
        & (cr >= limit["high_speed:7:Cr>="])
        & (cr <= limit["high_speed:7:Cr<="])
        & (x[AT["Mo"]] + x[AT["W"]] + x[AT["V"]] >= limit["high_speed:7:Mo + W + V>="])
    )
    return np.where(high_speed, 8, code)


class Coverage:
    """Range tests of one block; each distinct comparison is made once."""

    def __init__(self, x: Floats, safe: Bools, not_stated: Bools | None, tables: Tables) -> None:
        self._x, self._safe, self._not_stated, self._tables = x, safe, not_stated, tables
        self._tests: dict[tuple[int, float, bool, bool], Bools] = {}

    def _test(self, column: int, value: float, upper: bool, strict: bool) -> Bools:
        key = (column, value, upper, strict)
        if key not in self._tests:
            if upper:
                found = self._x[column] <= value
            else:
                found = self._x[column] > value if strict else self._x[column] >= value
                if self._not_stated is not None:
                    found = found | self._not_stated[column]
            self._tests[key] = found
        return self._tests[key]

    def __call__(self, name: str) -> Bools:
        covered = self._safe.copy()
        strict = name == "ms_steven_haynes_1956_high_carbon"
        for column, low, high in self._tables.coverage[name]:
            if low > 0.0:
                covered &= self._test(column, low, False, strict)
            if high < np.inf:
                covered &= self._test(column, high, True, False)
        return covered


def _solve_acm(x: Floats, tables: Tables) -> tuple[Floats, Floats]:
    """Acm in degC and d(carbon)/dT along the saturation line, (19, n) in."""
    p, q = tables.acm_carbon, tables.acm_temperature
    carbon = x[AT["C"]]
    wt = x[[AT[element] for element in SHIFT_ELEMENTS]]
    a0, a1, a2 = tables.shift[:, :3].T @ wt + tables.shift[:, 3:].T @ (wt * wt)
    a0 -= carbon
    start = np.clip(-a0, 0.761, 1.5)
    temperature = ((q[3] * start + q[2]) * start + q[1]) * start + q[0]
    slope = np.empty_like(temperature)
    for _ in range(3):
        t = (temperature - 850.0) * 0.01
        slope = (3.0 * p[3] * temperature + 2.0 * p[2]) * temperature + p[1] + (a1 + 2.0 * a2 * t) * 0.01
        error = ((p[3] * temperature + p[2]) * temperature + p[1]) * temperature + p[0] + (a2 * t + a1) * t + a0
        temperature = temperature - error / slope
    return temperature, slope


def _bit(condition: Bools, name: str) -> Flags:
    return condition.astype(np.uint16) * np.uint16(FLAGS[name])


@dataclass(frozen=True)
class _Block:
    """What the steps share for one block of rows; arrays are (19, n) or (n,)."""

    x: Floats
    variance: Floats | None
    residual: Floats | None
    code: NDArray[np.int64]
    safe: Bools
    hyper: Bools
    blank: Flags
    covers: Coverage
    tables: Tables


def _prepare(w: Floats, half_width: Floats | None, not_stated: Bools | None, tables: Tables) -> _Block:
    x = np.ascontiguousarray(w.T)
    unusable = np.isnan(x).any(axis=0)
    missing = variance = residual = None
    if not_stated is not None:
        missing = np.ascontiguousarray(not_stated.T)
        unusable |= missing[AT["C"]]
        residual = x + missing * tables.residual[:, None]
    if half_width is not None:
        h = np.ascontiguousarray(half_width.T)
        variance = h * h / 3.0
    code = family(x, tables)
    safe = (code < SAFE_FAMILIES) & ~unusable
    return _Block(
        x=x,
        variance=variance,
        residual=residual,
        code=code,
        safe=safe,
        hyper=x[AT["C"]] > eutectoid_carbon(x, tables),
        blank=np.where(unusable, FLAGS["nan_input"], np.where(safe, 0, FLAGS["no_formula_safe"])).astype(np.uint16),
        covers=Coverage(x, safe, missing, tables),
        tables=tables,
    )


def _join(block: _Block, columns: Sequence[int], votes: Floats, moved: Floats | None) -> Answer:
    """Steps 4 to 9 for one quantity; moved is v(r) - v(w)."""
    tables, constants = block.tables, block.tables.constants
    cover: Bools = np.stack([block.covers(FORMULAS[column]) for column in columns])
    scatter = tables.scatter[list(columns)]
    s2 = (scatter * scatter)[:, np.minimum(block.code, SAFE_FAMILIES - 1)]
    c = cover.astype(np.float64)
    count = c.sum(axis=0)
    mean = (c * votes).sum(axis=0) / np.maximum(count, 1.0)
    away = votes - mean
    spread2 = (c * away * away).sum(axis=0) / np.maximum(count - 1.0, 1.0)
    g = c / (s2 + spread2)
    g /= np.where(count > 0.0, g.sum(axis=0), np.nan)
    square = (g * s2).sum(axis=0) + spread2
    if block.variance is not None:
        square = square + _composition_variance(block.x, block.variance, columns, g)
    half = constants["normal_90"] * np.sqrt(square)
    remembered = cover[tables.memory[list(columns)]].sum(axis=0)
    flags = (
        block.blank
        | _bit(block.safe & (count == 0.0), "outside_range")
        | _bit(count == 1.0, "single_formula")
        | _bit(spread2 > constants["wide_spread"] ** 2, "wide_spread")
        | _bit(remembered > 0, "from_memory")
    )
    if moved is not None:
        delta = np.abs((g * moved).sum(axis=0))
        matters = delta > constants["residual_matters"]
        half = half + np.where(matters, delta, 0.0)
        flags |= _bit(matters, "residual_assumed")
    return (g * votes).sum(axis=0), half, flags


def _acm(block: _Block) -> Answer:
    """Step 10."""
    tables, constants, z = block.tables, block.tables.constants, block.tables.constants["normal_90"]
    asked = block.safe & block.hyper
    temperature, slope = _solve_acm(block.x, tables)
    inside = asked & block.covers("acm_fe_c_shift")
    inside &= (temperature >= constants["acm_lowest"]) & (temperature <= constants["acm_highest"])
    carbon = np.where(block.code == 1, constants["acm_carbon_plain"], constants["acm_carbon_alloyed"])
    square = (carbon / slope) ** 2
    if block.variance is not None:
        t = (temperature - 850.0) * 0.01
        total = block.variance[AT["C"]].copy()
        for (a0, a1, a2, b0, b1, b2), element in zip(tables.shift, SHIFT_ELEMENTS, strict=True):
            twice = 2.0 * block.x[AT[element]]
            per_wt = a0 + b0 * twice + (a1 + b1 * twice + (a2 + b2 * twice) * t) * t
            total += per_wt * per_wt * block.variance[AT[element]]
        square = square + z * z * total / (slope * slope)
    half = np.sqrt(square)
    flags = block.blank | _bit(asked & ~inside, "outside_range") | _bit(inside, "single_formula")
    if block.residual is not None:
        delta = np.abs(_solve_acm(block.residual, tables)[0] - temperature)
        matters = inside & (delta > constants["residual_matters"])
        half = half + np.where(matters, delta, 0.0)
        flags |= _bit(matters, "residual_assumed")
    return np.where(inside, temperature, np.nan), half, flags


def _one_side(block: _Block, answer: Answer, ac1: Floats, wrong_side: Bools) -> Answer:
    """Steps 11 and 12 for Ac3 and Acm."""
    value, half, flags = answer
    low = value < ac1
    flags = np.where(block.safe & wrong_side, np.uint16(FLAGS["not_applicable"]), flags | _bit(low, "clamped_to_ac1"))
    return np.where(wrong_side, np.nan, np.where(low, ac1, value)), half, flags


def _mf(block: _Block, ms: Answer) -> Answer:
    """Step 13."""
    constants = block.tables.constants
    value, half, flags = ms
    has = block.covers("mf_steven_haynes_1956") & ~np.isnan(value)
    wider = np.sqrt(half * half + (constants["normal_90"] * constants["mf_offset_scatter"]) ** 2)
    own = flags | np.uint16(FLAGS["single_formula"] | FLAGS["from_memory"])
    none = block.blank | _bit(block.safe, "outside_range")
    return np.where(has, value - constants["mf_offset"], np.nan), wider, np.where(has, own, none)


def _solve_block(block: _Block) -> dict[str, Answer]:
    values = formula_values(block.x)
    moved = None if block.residual is None else formula_values(block.residual) - values
    answers: dict[str, Answer] = {}
    for quantity, columns in COLUMNS.items():
        part = slice(columns[0], columns[-1] + 1)
        answers[quantity] = _join(block, columns, values[part], None if moved is None else moved[part])
    ac1, half, flags = answers["ac1"]
    extended = (block.x[AT["C"]] > block.tables.constants["ac1_carbon_published"]) & ~np.isnan(ac1)
    answers["ac1"] = ac1, half, flags | _bit(extended, "carbon_extended")
    answers["ac3"] = _one_side(block, answers["ac3"], ac1, block.hyper)
    answers["acm"] = _one_side(block, _acm(block), ac1, ~block.hyper)
    answers["mf"] = _mf(block, answers["ms"])
    for quantity in ("ms", "mf", "bs"):
        value, half, flags = answers[quantity]
        answers[quantity] = value, half, flags | _bit(block.hyper & ~np.isnan(value), "bulk_composition")
    return answers


def joined_critical(
    w: Floats,
    half_width: Floats | None = None,
    not_stated: Bools | None = None,
    tables: Tables | None = None,
    block_rows: int = 8192,
) -> dict[str, dict[str, NDArray[np.generic]]]:
    """Ac1, Ac3, Acm, Ms, Mf and Bs with 90 % prediction bands and flags for a batch of steels.

    w (n, 19) wt %, 0 where not stated; half_width (n, 19) wt %; not_stated (n, 19). Returns for each of OUTPUTS value,
    low, high (n,) degC and flags (n,) uint16, bits named in FLAGS. Raises ValueError for a wrong shape. Validity:
    data/tables/critical_coverage.csv. Accuracy and sources: data/fit/critical_scores.md.
    """
    w = np.asarray(w, dtype=np.float64)
    if w.ndim != 2 or w.shape[1] != len(ELEMENTS):
        raise ValueError(f"w: expected shape (n, {len(ELEMENTS)}), got {w.shape}")
    for name, array in (("half_width", half_width), ("not_stated", not_stated)):
        if array is not None and array.shape != w.shape:
            raise ValueError(f"{name}: expected shape {w.shape}, got {array.shape}")
    tables = load_tables() if tables is None else tables
    n = w.shape[0]
    out: dict[str, dict[str, NDArray[np.generic]]] = {
        name: {"value": np.empty(n), "low": np.empty(n), "high": np.empty(n), "flags": np.empty(n, np.uint16)}
        for name in OUTPUTS
    }
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        for first in range(0, n, block_rows):
            rows = slice(first, min(first + block_rows, n))
            widths = None if half_width is None else half_width[rows]
            missing = None if not_stated is None else not_stated[rows]
            answers = _solve_block(_prepare(w[rows], widths, missing, tables))
            for quantity, (value, half, flags) in answers.items():
                target = out[quantity]
                target["value"][rows] = value
                target["low"][rows] = value - half
                target["high"][rows] = value + half
                target["flags"][rows] = flags
    return out
