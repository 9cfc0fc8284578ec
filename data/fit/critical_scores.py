"""Scatter table and scores of the joined critical temperatures.

    python data/fit/critical_scores.py [--checks data/checks/critical.csv] [--write]

Reads the open check rows, writes data/tables/critical_family_rms.csv with --write, and prints, for each quantity, the
score as shipped, with one source left out at a time and with one steel left out at a time. Left-out rows never enter
the scatter that weighs them.

Only rows that were seen in print (status page or two-pages, gate share) estimate scatter. A published standard error
goes first where it applies; else the rms of a formula on a family is pulled towards its rms on all families, and that
towards the quantity's published error, each as if that figure rested on scatter_rows_prior rows. Sparse families so
never look better, or worse, than they are known to be.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
from scipy import stats

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "bench"))

import critical_twin_tables as names  # noqa: E402
import numpy_twin_critical as twin  # noqa: E402

TABLES = ROOT / "data" / "tables"
QUANTITIES = ("Ac1", "Ac3", "Ms", "Bs")
SEEN = ("page", "two-pages")
FEWEST_STEELS_FOR_A_TEST = 6


def read_checks(path: Path) -> pd.DataFrame:
    """Open rows of the judged quantities. A compilation counts as the sources it names, not as one."""
    rows = pd.read_csv(path)
    rows = rows[rows["quantity"].isin(QUANTITIES)].reset_index(drop=True)
    inner = rows["note"].fillna("").str.extract(r"compilation source no\. (\w+)")[0]
    rows["source"] = rows["source"].where(inner.isna(), rows["source"] + " no. " + inner.fillna(""))
    return rows


def not_stated(rows: pd.DataFrame) -> np.ndarray:
    return rows[list(names.ELEMENTS)].isna().to_numpy()


def composition(rows: pd.DataFrame) -> np.ndarray:
    """wt %, 0 where a row reports nothing."""
    return rows[list(names.ELEMENTS)].fillna(0.0).to_numpy(float)


def analysis(rows: pd.DataFrame) -> pd.Series:
    """The analysis as one text: rows that share it are one steel, whatever they are called."""
    return rows[list(names.ELEMENTS)].fillna(0.0).round(6).astype(str).agg(" ".join, axis=1)


def columns_of(quantity: str) -> tuple[int, ...]:
    return names.COLUMNS[quantity.lower()]


def covered_errors(rows: pd.DataFrame, tables: names.Tables) -> pd.DataFrame:
    """One line for each (row, covering formula): formula, family, error = formula - reported, K."""
    x = np.ascontiguousarray(composition(rows).T)
    code = twin.family(x, tables)
    values = twin.formula_values(x)
    covers = twin.Coverage(x, code < names.SAFE_FAMILIES, np.ascontiguousarray(not_stated(rows).T), tables)
    found = []
    for quantity in QUANTITIES:
        for column in columns_of(quantity):
            name = names.FORMULAS[column]
            inside = covers(name) & (rows["quantity"] == quantity).to_numpy()
            error = values[column] - rows["expected"].to_numpy(float)
            found += [
                {"row": i, "formula": name, "quantity": quantity, "family": names.FAMILIES[code[i]], "error": error[i]}
                for i in np.flatnonzero(inside)
            ]
    return pd.DataFrame(found, columns=["row", "formula", "quantity", "family", "error"])


def scatter_table(rows: pd.DataFrame, tables: names.Tables, formulas: pd.DataFrame) -> pd.DataFrame:
    """(formula, family) -> rms, n, scatter_C used as s, and its basis."""
    seen = rows[rows["status"].isin(SEEN) & (rows["gate"] == "share")].reset_index(drop=True)
    errors = covered_errors(seen, tables)
    prior_rows, floor = tables.constants["scatter_rows_prior"], tables.constants["error_floor"]
    published = formulas.set_index("id")["standard_error_C"]
    out = []
    for quantity in QUANTITIES:
        prior = tables.constants[f"scatter_prior_{quantity.lower()}"]
        for column in columns_of(quantity):
            name = names.FORMULAS[column]
            own = errors.loc[errors["formula"] == name, ["family", "error"]]
            square = np.square(own["error"])
            pooled2 = (square.sum() + prior_rows * prior**2) / (len(own) + prior_rows)
            for family in names.FAMILIES[: names.SAFE_FAMILIES]:
                part = square[own["family"] == family]
                derived = np.sqrt((part.sum() + prior_rows * pooled2) / (len(part) + prior_rows))
                stated = published[name]
                extended = quantity == "Ac1" and family in ("plain_hyper", "hyper_low_alloy")
                use_stated = np.isfinite(stated) and not extended
                out.append(
                    {
                        "formula": name,
                        "family": family,
                        "n": len(part),
                        "rms_C": round(float(np.sqrt(part.mean())), 2) if len(part) else np.nan,
                        "scatter_C": round(max(floor, float(stated if use_stated else derived)), 2),
                        "basis": "published standard error" if use_stated else "derived from open rows",
                        "status": "memory" if use_stated else "derived",
                    }
                )
    return pd.DataFrame(out)


def with_scatter(tables: names.Tables, table: pd.DataFrame) -> names.Tables:
    scatter = tables.scatter.copy()
    for name, family, value in zip(table["formula"], table["family"], table["scatter_C"].to_numpy(float), strict=True):
        scatter[names.FORMULAS.index(name), names.FAMILIES.index(family)] = value
    return replace(tables, scatter=scatter)


def predict(rows: pd.DataFrame, tables: names.Tables, blanks_are_zero: bool = False) -> pd.DataFrame:
    """Joined value and band of each row's own quantity."""
    blank = None if blanks_are_zero else not_stated(rows)
    answers = twin.joined_critical(composition(rows), not_stated=blank, tables=tables)
    out = pd.DataFrame({"value": np.nan, "low": np.nan, "high": np.nan}, index=rows.index)
    for quantity in QUANTITIES:
        mine = (rows["quantity"] == quantity).to_numpy()
        for key in ("value", "low", "high"):
            out.loc[mine, key] = answers[quantity.lower()][key][mine]
    return out


def leave_out(rows: pd.DataFrame, groups: pd.Series, tables: names.Tables, formulas: pd.DataFrame) -> pd.DataFrame:
    """Predictions in which the group of a row never entered the scatter table."""
    parts = []
    for group in groups.unique():
        mine = groups == group
        fitted = with_scatter(tables, scatter_table(rows[~mine], tables, formulas))
        parts.append(predict(rows[mine], fitted))
    return pd.concat(parts).loc[rows.index]


def score(rows: pd.DataFrame, answer: pd.DataFrame) -> dict[str, float]:
    inside = answer["value"].notna()
    error = (answer["value"] - rows["expected"])[inside]
    held = ((answer["low"] <= rows["expected"]) & (rows["expected"] <= answer["high"]))[inside]
    return {
        "rows": len(rows),
        "covered": int(inside.sum()),
        "bias": error.mean(),
        "mae": error.abs().mean(),
        "rms": np.sqrt(np.square(error).mean()),
        "band_holds": held.mean(),
        "half_width": ((answer["high"] - answer["low"]) / 2)[inside].mean(),
    }


def against_single(rows: pd.DataFrame, answer: pd.DataFrame, tables: names.Tables) -> Iterable[str]:
    """Absolute error of the joined value beside each covering formula on that formula's own rows, paired over steels.

    A steel is one analysis: repeated measurements of one analysis are averaged first, so that no steel counts twice.
    """
    errors = covered_errors(rows, tables)
    steel = analysis(rows).to_numpy()
    joined = (answer["value"] - rows["expected"]).abs().to_numpy()
    for name, part in errors.groupby("formula", sort=False):
        index = part["row"].to_numpy()
        difference = joined[index] - part["error"].abs().to_numpy()
        by_steel = pd.Series(difference).groupby(steel[index]).mean().to_numpy()
        own = part["error"]
        line = (
            f"| {name} | {len(index)} | {by_steel.size} | {own.mean():+.1f} | {own.abs().mean():.1f} "
            f"| {joined[index].mean():.1f} |"
        )
        if by_steel.size < FEWEST_STEELS_FOR_A_TEST:
            yield line + " too few | too few | too few |"
            continue
        worse = stats.wilcoxon(by_steel, alternative="greater").pvalue
        better = stats.wilcoxon(by_steel, alternative="less").pvalue
        worse_t = stats.ttest_1samp(by_steel, 0.0, alternative="greater").pvalue
        yield f"{line} {worse:.3f} | {better:.3f} | {worse_t:.3f} |"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--checks", type=Path, default=ROOT / "data" / "checks" / "critical.csv")
    parser.add_argument("--write", action="store_true", help="write data/tables/critical_family_rms.csv")
    options = parser.parse_args()
    formulas = pd.read_csv(TABLES / "formulas.csv")
    tables = names.load_tables()
    rows = read_checks(options.checks)
    table = scatter_table(rows, tables, formulas)
    if options.write:
        table.to_csv(TABLES / "critical_family_rms.csv", index=False, lineterminator="\n")
    tables = with_scatter(tables, table)

    share = rows[rows["gate"] == "share"]
    soft = rows[(rows["gate"] == "report") & (rows["status"] == "memory")]
    ways: dict[str, Callable[[pd.DataFrame], pd.DataFrame]] = {
        "as shipped": lambda part: predict(part, tables),
        "blanks read as measured 0": lambda part: predict(part, tables, blanks_are_zero=True),
        "one source left out": lambda part: leave_out(part, part["source"], tables, formulas),
        "one steel left out": lambda part: leave_out(part, analysis(part), tables, formulas),
    }
    print("| quantity | rows | way | n | covered | bias | MAE | rms | band holds | half-width |")
    print("|---|---|---|---|---|---|---|---|---|---|")
    for quantity in QUANTITIES:
        for label, part in (("share", share), ("remembered", soft)):
            mine = part[part["quantity"] == quantity]
            for way, function in ways.items():
                if mine.empty or (label == "remembered" and way != "as shipped"):
                    continue
                s = score(mine, function(mine))
                print(
                    f"| {quantity} | {label} | {way} | {s['rows']} | {s['covered']} | {s['bias']:+.1f} "
                    f"| {s['mae']:.1f} | {s['rms']:.1f} | {s['band_holds']:.2f} | {s['half_width']:.1f} |"
                )
    for quantity in QUANTITIES:
        mine = share[share["quantity"] == quantity].reset_index(drop=True)
        print(f"\n{quantity}, share rows, joined beside each formula (paired over steels; W Wilcoxon, t Student)\n")
        print("| formula | rows | steels | bias | MAE | joined MAE | p worse (W) | p better (W) | p worse (t) |")
        print("|---|---|---|---|---|---|---|---|---|")
        print("\n".join(against_single(mine, leave_out(mine, mine["source"], tables, formulas), tables)))
    print("\nBs by source, source left out\n")
    mine = share[share["quantity"] == "Bs"]
    answer = leave_out(mine, mine["source"], tables, formulas)
    print("| source | n | covered | bias | MAE | band holds |\n|---|---|---|---|---|---|")
    for source, part in mine.groupby("source"):
        s = score(part, answer.loc[part.index])
        print(
            f"| {source} | {s['rows']} | {s['covered']} | {s['bias']:+.1f} | {s['mae']:.1f} | {s['band_holds']:.2f} |"
        )


if __name__ == "__main__":
    main()
