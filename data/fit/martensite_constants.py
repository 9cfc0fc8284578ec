"""Where the derived numbers of data/tables/martensite_rules.csv come from, and how the chosen pair of laws does.

    python data/fit/martensite_constants.py

Prints the retained austenite of published cases by three pairs (Ms law, rate) with all carbon in solution, the
softening by retained austenite, and the scatter of measured as-quenched hardness about the polynomial of full
martensite.
"""

from __future__ import annotations

import csv
from math import exp, sqrt
from pathlib import Path

TABLES = Path(__file__).resolve().parents[1] / "tables"

#: C, Mn, retained austenite at 20 degC (vol %), tolerance, status, where from; everything in solution.
RETAINED = [
    (0.60, 0.3, 3.0, 2.0, "memory", "Roberts, Averbach and Cohen 1953"),
    (0.80, 0.3, 8.0, 2.0, "memory", "Roberts, Averbach and Cohen 1953"),
    (1.00, 0.3, 14.0, 4.0, "memory", "Roberts, Averbach and Cohen 1953"),
    (1.20, 0.3, 24.0, 5.0, "memory", "Roberts, Averbach and Cohen 1953"),
    (1.13, 0.0, 17.0, 4.0, "memory", "Cheng, Brakman, Korevaar and Mittemeijer 1988"),
    (1.40, 0.0, 36.5, 8.5, "page", "compiled X-ray data, plain carbon"),
]
#: C, as-quenched HRC of fully hardened heats whose carbon is all in solution (below the hold), or on the ceiling.
HARDNESS = [
    (0.41, 58.8, "Penha2010"),
    (0.51, 63.1, "Penha2010"),
    (0.74, 66.5, "HollomonJaffe1945"),
    (0.89, 67.0, "HollomonJaffe1945"),
    (0.98, 66.5, "HollomonJaffe1945"),
    (0.60, 62.0, "HeatTreatersGuide1995"),
]


def rules(name: str) -> dict[str, dict[str, str]]:
    """Rows of a table of named numbers."""
    with (TABLES / name).open(newline="", encoding="utf-8") as file:
        return {row["name"]: row for row in csv.DictReader(file)}


def full_martensite(carbon: float) -> float:
    """HRC of full martensite by the ASTM A255 polynomial, held above its end."""
    with (TABLES / "astm_a255_initial_hardness.csv").open(newline="", encoding="utf-8") as file:
        row = next(row for row in csv.DictReader(file) if row["curve"] == "full_martensite")
    c = min(carbon, float(row["C_hold"]))
    return float(sum(float(row[f"c{k}"]) * c**k for k in range(6)))


def retained_van_bohemen(carbon: float, manganese: float, at_C: float = 20.0) -> float:
    """Fraction of austenite left: Ms and rate of van Bohemen 2012."""
    ms = 565.0 - 600.0 * (1.0 - exp(-0.96 * carbon)) - 31.0 * manganese
    alpha = 1e-3 * (27.2 - 0.14 * manganese - 19.8 * (1.0 - exp(-1.56 * carbon)))
    return exp(-alpha * max(ms - at_C, 0.0))


def retained_andrews(carbon: float, manganese: float, at_C: float = 20.0) -> float:
    """Fraction of austenite left: Ms of Andrews 1965, rate 0.011."""
    return exp(-0.011 * max(539.0 - 423.0 * carbon - 30.4 * manganese - at_C, 0.0))


def retained_mixed(carbon: float, manganese: float, at_C: float = 20.0) -> float:
    """Fraction of austenite left when the laws are mixed: Ms of van Bohemen 2012, rate 0.011."""
    ms = 565.0 - 600.0 * (1.0 - exp(-0.96 * carbon)) - 31.0 * manganese
    return exp(-0.011 * max(ms - at_C, 0.0))


def main() -> None:
    """Print the three parts."""
    pairs = {"van Bohemen": retained_van_bohemen, "Andrews, 0.011": retained_andrews, "mixed": retained_mixed}
    print("retained austenite at 20 degC, vol %, all carbon in solution")
    print(f"{'C':>5} {'Mn':>4} {'measured':>9}", *(f"{name:>15}" for name in pairs))
    misses: dict[str, list[float]] = {name: [] for name in pairs}
    for carbon, manganese, measured, tolerance, *_ in RETAINED:
        answers = {name: 100.0 * law(carbon, manganese) for name, law in pairs.items()}
        for name, answer in answers.items():
            misses[name].append(answer - measured)
        print(
            f"{carbon:5.2f} {manganese:4.1f} {measured:5.1f} +-{tolerance:<3}",
            *(f"{a:15.1f}" for a in answers.values()),
        )
    print(
        "rms miss, vol %:",
        {name: round(sqrt(sum(m * m for m in miss) / len(miss)), 1) for name, miss in misses.items()},
    )
    cold = retained_van_bohemen(1.13, 0.0, 20.0 - float(rules("martensite_rules.csv")["subzero_stop"]["value"]))
    print(f"1.13 %C quenched and held at -196 degC: {100 * cold:.1f} vol % (6 +-2 measured, Cheng et al. 1988, memory)")

    high = [row for row in csv.DictReader((TABLES / "as_quenched_high_carbon.csv").open(newline="", encoding="utf-8"))]
    ceiling = next(float(row["HRC"]) for row in high if row["kind"] == "ceiling")
    disc = next(float(row["HRC"]) for row in high if row["carbon_wt_pct"] == "1.15")
    peak = float(rules("martensite_rules.csv")["much_retained"]["value"])
    left = retained_van_bohemen(1.15, 0.58)
    slope = (ceiling - disc) / (left - peak)
    print(f"softening: ({ceiling} - {disc}) / ({left:.3f} - {peak}) = {slope:.0f} HRC a unit fraction")

    misses_hrc = [hrc - min(full_martensite(c) if c <= 0.7 else ceiling, ceiling) for c, hrc, _ in HARDNESS]
    rms = sqrt(sum(m * m for m in misses_hrc) / len(misses_hrc))
    print(
        "hardness less curve, HRC:",
        [round(m, 1) for m in misses_hrc],
        f"rms {rms:.2f}, 90 % half-width {1.645 * rms:.1f}",
    )


if __name__ == "__main__":
    main()
