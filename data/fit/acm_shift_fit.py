"""Fit the computed Acm shift table to one polynomial an element.

    python data/fit/acm_shift_fit.py

Reads data/tables/acm_shift.csv and writes data/tables/acm_shift_fit.csv. With t = (T - 850 C) / 100 K and w the wt %
of the element in austenite, the carbon shift at saturation is  w (a0 + a1 t + a2 t^2) + w^2 (b0 + b1 t + b2 t^2).
The form is exactly zero without the element and costs a batch loop two multiplications an element instead of a table
look-up. Plain least squares over the whole table.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd

TABLES = Path(__file__).resolve().parents[1] / "tables"


def main() -> None:
    table = pd.read_csv(TABLES / "acm_shift.csv")
    rows: list[dict[str, object]] = []
    for element, part in table.groupby("element", sort=True):
        t = (part["temperature_C"].to_numpy(float) - 850.0) / 100.0
        w = part["wt_pct_in_austenite"].to_numpy(float)
        shift = part["carbon_shift_wt_pct"].to_numpy(float)
        design = np.column_stack([w, w * t, w * t * t, w * w, w * w * t, w * w * t * t])
        fitted, *_ = np.linalg.lstsq(design, shift, rcond=None)
        deviation = float(np.max(np.abs(design @ fitted - shift)))
        names = ("a0", "a1", "a2", "b0", "b1", "b2")
        rows.append(
            {
                "element": element,
                **{name: round(float(value), 7) for name, value in zip(names, fitted, strict=True)},
                "wt_pct_max": w.max(),
                "temperature_min_C": part["temperature_C"].min(),
                "temperature_max_C": part["temperature_C"].max(),
                "max_deviation_wt_pct": round(deviation, 5),
                "status": "derived",
                "source": "Gustafson1985",
            }
        )
    out = pd.DataFrame(rows)
    out.to_csv(TABLES / "acm_shift_fit.csv", index=False, lineterminator="\n")
    print(out.to_string(index=False))


if __name__ == "__main__":
    main()
