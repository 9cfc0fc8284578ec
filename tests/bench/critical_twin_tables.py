"""Names and tables of the NumPy twin of the joined critical temperatures.

The order of FORMULAS, FAMILIES and of the bits of FLAGS is that of the arrays the twin works on.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

TABLES = Path(__file__).resolve().parents[2] / "data" / "tables"
ELEMENTS = (
    "C",
    "Mn",
    "Si",
    "Cr",
    "Ni",
    "Mo",
    "V",
    "W",
    "Cu",
    "Co",
    "Al",
    "Nb",
    "Ti",
    "N",
    "B",
    "P",
    "S",
    "As",
    "Sn",
)
AT = {element: index for index, element in enumerate(ELEMENTS)}
ALLOYING = ("Mn", "Si", "Cr", "Ni", "Mo", "V", "W", "Cu", "Co", "Al")
FAMILIES = (
    "plain_hypo",
    "plain_hyper",
    "low_alloy",
    "hyper_low_alloy",
    "silicon_spring",
    "tool_3_5_cr",
    "tool_11_13_cr",
    "martensitic_stainless",
    "high_speed",
    "austenitic_other",
)
SAFE_FAMILIES = 5
FLAGS = {
    name: 1 << bit
    for bit, name in enumerate(
        (
            "nan_input",
            "no_formula_safe",
            "outside_range",
            "not_applicable",
            "range_unpublished",
            "residual_assumed",
            "wide_spread",
            "bulk_composition",
            "clamped_to_ac1",
            "single_formula",
            "from_memory",
            "carbon_extended",
        )
    )
}
#: Formulas that vote, in column order. A lineage with two forms has them side by side.
FORMULAS = (
    "ac1_andrews_1965",
    "ae1_grange_1961",
    "ac1_trzaska_dobrzanski_2007",
    "ac3_andrews_1965_major",
    "ae3_grange_1961",
    "ae3_eldis_1978",
    "ac3_trzaska_dobrzanski_2007",
    "ms_andrews_1965_linear",
    "ms_steven_haynes_1956",
    "ms_steven_haynes_1956_high_carbon",
    "ms_payson_savage_1944",
    "ms_eldis_1978",
    "ms_capdevila_2002",
    "ms_van_bohemen_2012",
    "bs_steven_haynes_1956",
    "bs_van_bohemen_2012",
    "bs_lee_2002",
)
COLUMNS = {
    quantity: tuple(i for i, name in enumerate(FORMULAS) if name[:3] in prefixes)
    for quantity, prefixes in {
        "ac1": ("ac1", "ae1"),
        "ac3": ("ac3", "ae3"),
        "ms": ("ms_",),
        "bs": ("bs_",),
    }.items()
}
OUTPUTS = ("ac1", "ac3", "acm", "ms", "mf", "bs")

COLUMN_OF = {name: index for index, name in enumerate(FORMULAS)}
SHIFT_ELEMENTS = ("Cr", "Mn", "Mo", "Ni", "Si", "W")
EUTECTOID_ELEMENTS = ("Mn", "Si", "Cr", "Ni", "Mo", "W")


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


@dataclass(frozen=True)
class Tables:
    """Everything the method reads, as arrays."""

    constants: Mapping[str, float]
    plain_limits: tuple[tuple[int, float], ...]
    limit: Mapping[str, float]
    coverage: Mapping[str, tuple[tuple[int, float, float], ...]]
    scatter: Floats  #: (formulas, safe families), K
    memory: Bools  #: (formulas,)
    slopes: Floats  #: eutectoid carbon per wt %, order of EUTECTOID_ELEMENTS
    shift: Floats  #: (6 elements, 6 coefficients a0 a1 a2 b0 b1 b2)
    acm_carbon: Floats
    acm_temperature: Floats
    residual: Floats  #: (19,)


@cache
def load_tables(folder: Path = TABLES) -> Tables:
    """Read the tables of the method from a folder laid out as data/tables."""
    constants = {row["name"]: float(row["value"]) for row in _rows(folder / "critical_constants.csv")}
    families = _rows(folder / "critical_families.csv")
    plain = tuple(
        (AT[row["what"]], float(row["value_wt_pct"]))
        for row in families
        if row["family"] == "plain_hypo" and row["what"] != "C"
    )
    limit = {
        f"{row['family']}:{row['precedence']}:{row['what']}{row['relation']}": float(row["value_wt_pct"])
        for row in families
        if row["precedence"] != "0"
    }
    coverage: dict[str, list[tuple[int, float, float]]] = {}
    for row in _rows(folder / "critical_coverage.csv"):
        low = float(row["minimum_wt_pct"] or "-inf")
        high = float(row["maximum_wt_pct"] or "inf")
        coverage.setdefault(row["formula"], []).append((AT[row["element"]], low, high))
    status = {row["id"]: row["status"] for row in _rows(folder / "formulas.csv")}
    scatter = np.full((len(FORMULAS), SAFE_FAMILIES), np.nan)
    for row in _rows(folder / "critical_family_rms.csv"):
        if row["formula"] in COLUMN_OF:
            scatter[COLUMN_OF[row["formula"]], FAMILIES.index(row["family"])] = float(row["scatter_C"])
    eutectoid = {
        row["element"]: float(row["eutectoid_carbon_wt_pct"]) - constants["eutectoid_carbon"]
        for row in _rows(folder / "eutectoid_shift.csv")
        if row["kind"].startswith("computed") and float(row["wt_pct"]) == 1.0
    }
    shift = {row["element"]: row for row in _rows(folder / "acm_shift_fit.csv")}
    fits = {row["fit"]: row for row in _rows(folder / "fe_c_fits.csv")}
    residual = np.zeros(len(ELEMENTS))
    for row in _rows(folder.parent / "usual_residuals.csv"):
        if row["element"] in ("Ni", "Cr", "Mo", "Cu"):
            residual[AT[row["element"]]] = float(row["usual_wt_pct"])
    return Tables(
        constants=constants,
        plain_limits=plain,
        limit=limit,
        coverage={name: tuple(rows) for name, rows in coverage.items()},
        scatter=scatter,
        memory=np.array([status[name] == "memory" for name in FORMULAS]),
        slopes=np.array([eutectoid[element] for element in EUTECTOID_ELEMENTS]),
        shift=np.array(
            [[float(shift[element][key]) for key in ("a0", "a1", "a2", "b0", "b1", "b2")] for element in SHIFT_ELEMENTS]
        ),
        acm_carbon=np.array([float(fits["acm_carbon"][f"c{k}"]) for k in range(4)]),
        acm_temperature=np.array([float(fits["acm_temperature"][f"c{k}"]) for k in range(4)]),
        residual=residual,
    )
