"""Time the inventory reader on an invented rack: 100,000 rows, 25 columns, about 6 % of the content cells dirty.

Run with ``PYTHONPATH=python python tests/bench/bench_inventory_read.py [--rows N] [--limit SECONDS]``. One core. The
time covers reading the file, all cell, size and row rules and the grade look-up. Exit code 1 when the CSV run is slower
than the limit or the findings cost more than 200 bytes a row.
"""

from __future__ import annotations

import argparse
import io
import sys
import time
import tracemalloc

import numpy as np
import pyarrow as pa
import pyarrow.parquet as pq

import decalesce.inventory as inv
from decalesce import grades

GRADES = ("1084", "1095", "5160", "O1", "52100", "C105U", "80CrV2", "1075", "W1", "O2", "D2", "A2")
ELEMENTS = ("C", "Mn", "Si", "Cr", "Ni", "Mo", "V", "Cu", "Al", "P", "S", "N ppm")
SIZES = ('3/16"', "4,8 x 40", "Ø 25", "25 rd", "1-1/2 in", "40x8x1000", "6 mm", "SW 17", "1/4 x 1-1/2", ".187")
CONDITIONS = ("annealed", "hot rolled", "geglüht", "+AC", "recuit", "ground", "")
PASSTHROUGH = ("place", "owner", "bought", "remark", "weight kg")
LENGTHS = ("1000 mm", "1 050 mm", "3000", "72 in", "")


def rack_csv(n_rows: int, dirty: float = 0.06, seed: int = 20240) -> bytes:
    """An invented rack as CSV bytes (UTF-8, semicolons)."""
    rng = np.random.default_rng(seed)
    names = [name for name in GRADES if grades.find_many([name])[0].grade is not None]
    pick = rng.integers(len(names), size=n_rows)
    contents = []
    for name in names:
        mid = grades.find(name).mid_range()
        contents.append([mid[e.split()[0]][:2] if e.split()[0] in mid else (0.02, 0.02) for e in ELEMENTS])
    columns = [[f"B{i:06d}" for i in range(n_rows)], [names[i] for i in pick]]
    columns.append([f"{h:05d}" for h in rng.integers(100_000, size=n_rows)])
    columns += [list(rng.choice(options, size=n_rows)) for options in (SIZES, CONDITIONS, LENGTHS)]
    columns.append([f"{t}" for t in rng.integers(56, 64, size=n_rows)])
    columns.append([f"{t}" for t in rng.choice([780, 800, 815, 850, 1475], size=n_rows)])
    for k, element in enumerate(ELEMENTS):
        middle = np.array([c[k][0] for c in contents])[pick]
        half = np.array([c[k][1] for c in contents])[pick]
        value = np.abs(middle + half * rng.uniform(-0.9, 0.9, size=n_rows))
        column = [f"{v * 1e4:.0f}" for v in value] if "ppm" in element else [f"{v:.3f}" for v in value]
        for row in np.flatnonzero(rng.random(n_rows) < dirty):
            column[row] = _soil(column[row], int(rng.integers(12)))
        columns.append(column)
    columns += [list(rng.choice(["", "A", "B", "C", "rack 2"], size=n_rows)) for _ in PASSTHROUGH]
    headers = [
        "piece id",
        "grade",
        "heat no",
        "size",
        "condition",
        "length",
        "target HRC",
        "harden °C",
        *ELEMENTS,
        *PASSTHROUGH,
    ]
    lines = [";".join(headers), *map(";".join, zip(*columns, strict=True))]
    return ("\n".join(lines) + "\n").encode("utf-8")


def _soil(text: str, kind: int) -> str:
    return (
        text.replace(".", ","), f"<{text}", "tr.", f"max {text}", "n.d.", "-", "", "0", f"{text} %",
        text.replace("0", "O", 1), f"{text}*", f"~{text}",
    )[kind]  # fmt: skip


def _best(action: object, repeats: int) -> float:
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        action()  # type: ignore[operator]
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> int:
    """Print the times and the memory; see the module's text."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rows", type=int, default=100_000)
    parser.add_argument("--limit", type=float, default=4.0)
    arguments = parser.parse_args()
    data = rack_csv(arguments.rows)
    table = inv.read_table(data)
    buffer = io.BytesIO()
    pq.write_table(pa.table({n: c.to_arrow() for n, c in zip(table.columns, table.cells, strict=True)}), buffer)
    read_s = _best(lambda: inv.read_table(data), 3)
    csv_s = _best(lambda: inv.parse(inv.read_table(data), grades.find_many), 3)
    parquet_s = _best(lambda: inv.parse(inv.read_table(buffer.getvalue()), grades.find_many), 2)
    rack = inv.parse(table, grades.find_many)
    tracemalloc.start()
    rack = inv.parse(table, grades.find_many)
    kept, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    n = len(rack)
    print(f"{n} rows x {len(table.columns)} columns, {len(data) / 1e6:.1f} MB, {len(rack.findings)} findings")
    print(f"read CSV            {read_s:6.2f} s")
    print(f"read + parse CSV    {csv_s:6.2f} s   (limit {arguments.limit} s)")
    print(f"read + parse Parquet{parquet_s:6.2f} s")
    print(f"findings            {rack.findings.nbytes / n:6.1f} bytes a row beyond the block")
    print(f"result arrays       {(kept - rack.findings.nbytes) / n:6.1f} bytes a row kept, {peak / n:.0f} at the peak")
    return int(csv_s > arguments.limit or rack.findings.nbytes > 200 * n)


if __name__ == "__main__":
    sys.exit(main())
