"""The main job on dataframes and files: same rows, same order, whatever the kind of table."""

from pathlib import Path

import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

import decalesce as dc

RACK = pd.DataFrame(
    {
        "piece id": ["A1", "A2", "A3", "A4"],
        "grade": ["1095", "O1", "D2", ""],
        "C %": ["0,97", "0.94", "1.52", "O.95"],
        "Mn %": ["0.40", "1,20", "0.35", "0.4"],
        "Cr %": ["<0.05", "0.50", "12.0", "n.d."],
        "size": ["4 mm", '3/16"', "6 x 40", ""],
        "target HRC": [62, 60, 60, 61],
    }
)


def test_rows_stay_in_order_and_results_stand_beside() -> None:
    done = dc.inventory.evaluate(RACK)
    assert done.table["piece id"].tolist() == ["A1", "A2", "A3", "A4"]
    assert list(done.table.columns[: len(RACK.columns)]) == list(RACK.columns)
    assert done.table["C %"].tolist() == RACK["C %"].tolist()
    assert done.results.grade_found.tolist() == ["1095", "O1", "D2", "none"]
    assert done.results.austenitize_from.tolist() == ["computed", "computed", "published", "computed"]
    assert done.results.carbon_wt.tolist() == pytest.approx([0.97, 0.94, 1.52, 0.95])
    assert (done.results.message.str.len() > 0).all()
    assert sum(done.counts.values()) == 4


def test_the_index_of_a_dataframe_is_kept() -> None:
    done = dc.inventory.evaluate(RACK.set_axis([10, 20, 5, 7], axis=0))
    assert done.table.index.tolist() == [10, 20, 5, 7]
    assert not done.table["ac1_C"].isna().all()


@pytest.mark.parametrize("kind", ["polars", "pyarrow", "csv", "parquet", "xlsx"])
def test_every_kind_of_table_gives_the_same_answers(kind: str, tmp_path: Path) -> None:
    want = dc.inventory.evaluate(RACK)
    text = RACK.astype(str)
    match kind:
        case "polars":
            source: object = pl.from_pandas(RACK)
        case "pyarrow":
            source = pa.Table.from_pandas(RACK)
        case "csv":
            source = tmp_path / "rack.csv"
            text.to_csv(source, index=False)
        case "parquet":
            source = tmp_path / "rack.parquet"
            RACK.to_parquet(source)
        case _:
            source = tmp_path / "rack.xlsx"
            RACK.to_excel(source, index=False)
    got = dc.inventory.evaluate(source)
    for column in ("ac1_C", "austenitize_C", "temper_C"):
        np.testing.assert_allclose(got.results[column], want.results[column], rtol=1e-12)
    if kind == "polars":
        assert isinstance(got.table, pl.DataFrame)
    if kind == "pyarrow":
        assert isinstance(got.table, pa.Table)


def test_a_column_of_the_rack_is_never_overwritten() -> None:
    done = dc.inventory.evaluate(RACK.assign(level="top shelf"))
    assert done.table["level"].tolist() == ["top shelf"] * 4
    assert set(done.table["result_level"]) <= {"clean", "note", "caution", "stop"}


@pytest.mark.parametrize("suffix", [".csv", ".parquet", ".xlsx"])
def test_blocks_give_what_the_whole_gives(suffix: str, tmp_path: Path) -> None:
    source = tmp_path / "rack.csv"
    pd.concat([RACK] * 25).assign(**{"piece id": [f"P{i}" for i in range(100)]}).to_csv(source, index=False)
    output = tmp_path / f"out{suffix}"
    counts = dc.inventory.evaluate_file(source, output, block_rows=17)
    read = {".csv": pd.read_csv, ".parquet": pd.read_parquet, ".xlsx": pd.read_excel}[suffix](output)
    whole = dc.inventory.evaluate(source)
    assert sum(counts.values()) == len(read) == 100
    assert read["piece id"].tolist() == [f"P{i}" for i in range(100)]
    np.testing.assert_allclose(read.austenitize_C, whole.results.austenitize_C, rtol=1e-5)


def test_published_facts_are_not_used_for_another_chemistry() -> None:
    """An O1 analysis sold as A2 (ASTM A681 limits): the A2 window and medium must not appear."""
    rack = pd.DataFrame(
        {"grade": ["A2"], "C": ["0.94"], "Mn": ["1.2"], "Cr": ["0.5"], "W": ["0.5"], "target HRC": ["61"]}
    )
    done = dc.inventory.evaluate(rack).results.iloc[0]
    assert done.level == "stop"
    assert done.quench == "not evaluated here"
    assert done.austenitize_from != "published"


def test_a_wrong_output_name_is_refused(tmp_path: Path) -> None:
    source = tmp_path / "rack.csv"
    RACK.to_csv(source, index=False)
    with pytest.raises(ValueError, match=r"\.csv, \.parquet or \.xlsx"):
        dc.inventory.evaluate_file(source, tmp_path / "out.pdf")
