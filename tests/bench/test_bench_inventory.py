"""The rack of 100,000 bars: CSV and Parquet in less than 12 s each, all rules on, and no memory that grows with it."""

import bench_inventory_evaluate


def test_rack_of_100_000_bars() -> None:
    assert bench_inventory_evaluate.main(["--rows", "100000", "--limit", "12"]) == 0
