"""Cut the fitted temper base grid to the part that can be trusted.

Reads temper_base_hv_full.csv (base hardness of tempered plain carbon steel, bilinear in carbon and the Grange-Baughman
parameter, fitted to open rows) and writes ../tables/temper_base_hv.csv:

1. Only 0.35 to 1.00 %C. Below, the leanest heat was not fully hard; above, retained austenite bends the curve. The two
   end columns are linear interpolations of the fitted grid, which is what the bilinear model reads there anyway.
2. Hardness must not rise with more tempering. A running minimum along the parameter clips what rises. It moves the
   0.35 %C column by at most 11 HV, at P 14.5 and 15.5, and nothing else.
"""

from __future__ import annotations

import csv
from itertools import accumulate
from pathlib import Path

HERE = Path(__file__).resolve().parent
CARBON = [0.35, 0.40, 0.50, 0.60, 0.75, 0.90, 1.00]


def table() -> str:
    """The cut and clipped grid as the text of temper_base_hv.csv."""
    grid: dict[float, dict[float, float]] = {}
    with (HERE / "temper_base_hv_full.csv").open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            grid.setdefault(float(row["carbon_wt_pct"]), {})[float(row["P18_kiloRankine"])] = float(row["base_HV"])
    nodes = sorted(grid)
    parameters = sorted(grid[nodes[0]])

    lines = ["carbon_wt_pct,P18_kiloRankine,base_HV,fitted_HV,clipped,status,source"]
    for carbon in CARBON:
        low = max(node for node in nodes if node <= carbon)
        high = min(node for node in nodes if node >= carbon)
        weight = (carbon - low) / (high - low) if high > low else 0.0
        fitted = [(1 - weight) * grid[low][p] + weight * grid[high][p] for p in parameters]
        for p, before, after in zip(parameters, fitted, accumulate(fitted, min), strict=True):
            clipped = "yes" if after < before else "no"
            lines.append(f"{carbon},{p},{round(after, 2)},{round(before, 2)},{clipped},derived,RaiipaTempering2024")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    (HERE.parent / "tables" / "temper_base_hv.csv").write_text(table(), encoding="utf-8")
