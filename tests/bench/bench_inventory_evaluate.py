"""Time the main job on an invented rack: reading, all rules, plans, and writing, as the command line does it.

Run with ``python tests/bench/bench_inventory_evaluate.py [--rows N] [--limit SECONDS] [--block-rows N]``. One core.
Exit
code 1 when the CSV or Parquet run is slower than the limit. The memory figure is what grows with the rack beyond one
streamed block: peak of the whole run less the peak of a run of one block, a row.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

import pyarrow.csv as pa_csv
import pyarrow.parquet as pq
from bench_inventory_read import rack_csv

from decalesce import inventory

SEMICOLON = pa_csv.ParseOptions(delimiter=";")


def peak_bytes(source: Path, target: Path, block_rows: int) -> int:
    """Peak memory of a process that evaluates one file into another."""
    code = (
        "import resource, sys; from decalesce import inventory; "
        f"inventory.evaluate_file(sys.argv[1], sys.argv[2], block_rows={block_rows}); "
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"
    )
    out = subprocess.run([sys.executable, "-c", code, source, target], check=True, capture_output=True, text=True)
    return int(out.stdout) * 1024


def main(arguments: Sequence[str] | None = None) -> int:
    """Measure and print; 1 when a limit is passed."""
    parser = argparse.ArgumentParser(description="Time the evaluation of an invented rack.")
    parser.add_argument("--rows", type=int, default=100_000)
    parser.add_argument("--limit", type=float, default=12.0)
    parser.add_argument("--block-rows", type=int, default=inventory.BLOCK_ROWS)
    given = parser.parse_args(arguments)
    failed = False
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rack, one_block = folder / "rack.csv", folder / "block.csv"
        rack.write_bytes(rack_csv(given.rows))
        one_block.write_bytes(rack_csv(given.block_rows))
        table = pa_csv.read_csv(
            rack, parse_options=SEMICOLON, convert_options=pa_csv.ConvertOptions(strings_can_be_null=False)
        )
        pq.write_table(table.cast(table.schema), folder / "rack.parquet")
        for source, suffix in ((rack, ".csv"), (folder / "rack.parquet", ".parquet")):
            start = time.perf_counter()
            counts = inventory.evaluate_file(source, folder / f"out{suffix}", block_rows=given.block_rows)
            seconds = time.perf_counter() - start
            failed |= seconds > given.limit
            print(
                f"{source.suffix[1:]}: {given.rows} rows in {seconds:.1f} s (limit {given.limit:g} s), levels {counts}"
            )
            assert sum(counts.values()) == given.rows
        if given.rows > given.block_rows:
            whole = peak_bytes(rack, folder / "a.csv", given.block_rows)
            block = peak_bytes(one_block, folder / "b.csv", given.block_rows)
            grown = (whole - block) / (given.rows - given.block_rows)
            print(f"memory beyond the streamed block: {grown:.0f} bytes a row (peak {whole / 2**20:.0f} MB)")
            failed |= grown > 200.0
    print(f"peak of this process {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")
    return int(failed)


if __name__ == "__main__":
    sys.exit(main())
