"""Write data/tables/heat_up_set_point.csv: how the heat-up of the screen goes with the set point.

The stored cases are for 850 degC. Hotter walls radiate more, and a set point near Ac1 leaves little to drive the
arrest; a bath has the same film at every temperature. The factor is the computed time over that at 850 degC, the mean
of a plain steel and a bearing steel in a 6 mm plate: still electric furnace for what radiates, neutral salt for what
does not.
Run with the package installed: python data/fit/heat_up_set_point.py
"""

import csv
from pathlib import Path

import decalesce as dc

TABLE = Path(__file__).resolve().parents[1] / "tables" / "heat_up_set_point.csv"
SET_POINTS_C = (780, 790, 800, 815, 830, 850, 870, 890, 920, 960, 1000, 1050, 1100, 1150, 1200)
STEELS = (dc.Composition(C=0.84, Mn=0.75, Si=0.2), dc.Composition(C=1.0, Cr=1.45, Mn=0.35, Si=0.25))


def factor(furnace: str, set_point_C: float) -> float:
    """Mean over the steels of the time at a set point over that at the reference."""
    plate = dc.Section("plate", 6)
    times = [
        [dc.heating.heat_up(plate, furnace, T, w=w).through_s.value for T in (set_point_C, dc.heating.REFERENCE_C)]
        for w in STEELS
    ]
    return sum(at / reference for at, reference in times) / len(times)


def main() -> None:
    """Write the table."""
    with TABLE.open("w", encoding="utf-8", newline="") as stream:
        table = csv.writer(stream, lineterminator="\n")
        table.writerow(["set_point_C", "radiating", "bath", "status", "source"])
        for T in SET_POINTS_C:
            found = (round(factor(furnace, T), 3) for furnace in ("still_electric", "neutral_salt"))
            table.writerow([T, *found, "computed", "EN_1993_1_2"])


if __name__ == "__main__":
    main()
