"""The plans of the demo rack against the outcomes a person wrote down: data/demo/expected.csv is the test.

Each row of that file names its source. Reading (grades, contents, findings) is tested in test_demo_rack.py; here the
metallurgy: windows, critical temperatures, quench media, tempers, reach, shared loads.
"""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import decalesce as dc

DEMO = Path(__file__).resolve().parents[2] / "data" / "demo"
EXPECTED = pd.read_csv(DEMO / "expected.csv", dtype=str, keep_default_na=False)
LOADS = pd.read_csv(DEMO / "expected_loads.csv", dtype=str, keep_default_na=False)


@pytest.fixture(scope="module")
def evaluation() -> dc.inventory.Evaluation:
    return dc.inventory.evaluate(DEMO / "bar_rack.csv", certificates=DEMO / "certificates")


@pytest.fixture(scope="module")
def rows(evaluation: dc.inventory.Evaluation) -> pd.DataFrame:
    return pd.concat([EXPECTED.add_prefix("want_"), evaluation.results], axis=1)


def test_no_row_is_lost_added_or_moved(evaluation: dc.inventory.Evaluation) -> None:
    assert len(evaluation) == len(EXPECTED) >= 60
    assert evaluation.table.iloc[:, 0].tolist() == EXPECTED.piece_id.tolist()
    found = evaluation.results.grade_found
    assert found[found != "none"].nunique() >= 20


def test_every_flagged_row_is_explained(rows: pd.DataFrame) -> None:
    flagged = rows[rows.level != "clean"]
    assert len(flagged) > 10
    assert (flagged.message.str.len() > 40).all()


def test_windows_come_from_chemistry_or_from_the_published_table(rows: pd.DataFrame) -> None:
    usable = rows[(rows.want_level != "stop") & (rows.want_row_kind == "bar")]
    for wanted, source in (
        ("yes", {"computed"}),
        ("published_differs", {"published"}),
        ("published_table_only", {"published"}),
        ("no", {""}),
    ):
        part = usable[usable.want_window == wanted]
        assert wanted == "no" or not part.empty
        wrong = part[~part.austenitize_from.isin(source)]
        assert wrong.empty, wrong[["want_piece_id", "grade_found", "austenitize_from"]].to_string()


def test_window_middles_lie_where_the_published_windows_do(rows: pd.DataFrame) -> None:
    """Middles of published windows, widened by about 20 K by the person who wrote them down; nine in ten must fit."""
    judged = rows[(rows.want_window_middle_low_C != "") & rows.austenitize_C.notna() & (rows.want_level != "stop")]
    low, high = judged.want_window_middle_low_C.astype(float), judged.want_window_middle_high_C.astype(float)
    inside = judged.austenitize_C.between(low, high)
    assert len(judged) >= 50
    assert inside.mean() >= 0.9, judged[~inside][["want_piece_id", "grade_found", "austenitize_C"]].to_string()


def test_critical_temperatures_are_numbers_only_where_a_formula_is_safe(rows: pd.DataFrame) -> None:
    judged = rows[rows.want_critical_temperatures.isin(["number", "nan"]) & (rows.want_level != "stop")]
    number = judged.ac1_C.notna()
    wrong = judged[number != (judged.want_critical_temperatures == "number")]
    assert wrong.empty, wrong[["want_piece_id", "grade_found", "ac1_C"]].to_string()


def test_quench_media_are_the_published_ones(rows: pd.DataFrame) -> None:
    judged = rows[(rows.want_quench_medium != "") & (rows.quench != "not evaluated here") & (rows.want_level != "stop")]
    assert len(judged) >= 40
    for row in judged.itertuples():
        published = {medium.strip() for medium in row.quench.split(",")}
        wanted = set(row.want_quench_medium.replace(";", "/").split("/"))
        assert published & wanted, (row.want_piece_id, row.grade_found, published, wanted)


def test_targets_out_of_reach_are_refused(rows: pd.DataFrame) -> None:
    judged = rows[(rows.want_target_reachable == "no") & (rows.want_level != "stop")]
    assert len(judged) >= 2
    assert judged.temper_C.isna().all(), judged[["want_piece_id", "grade_found", "temper_C"]].to_string()


def test_targets_within_reach_get_a_temper_where_there_is_a_model_or_a_table(rows: pd.DataFrame) -> None:
    judged = rows[(rows.want_target_reachable == "yes") & (rows.want_level != "stop") & rows.as_quenched_HRC.notna()]
    modelled = judged[~judged["flags"].str.contains("no_model")]
    assert len(modelled) >= 40
    assert modelled.temper_C.notna().all(), modelled[modelled.temper_C.isna()][
        ["want_piece_id", "grade_found"]
    ].to_string()


def test_temper_bands_meet_the_published_tempers(rows: pd.DataFrame) -> None:
    judged = rows[(rows.want_temper_low_C != "") & rows.temper_C.notna() & (rows.want_level != "stop")]
    low, high = judged.want_temper_low_C.astype(float), judged.want_temper_high_C.astype(float)
    meets = (judged.temper_C_low <= high) & (judged.temper_C_high >= low)
    assert len(judged) >= 10
    assert meets.mean() >= 0.9, judged[~meets][
        ["want_piece_id", "grade_found", "temper_C", "want_temper_low_C"]
    ].to_string()


def test_thickness_is_read(rows: pd.DataFrame, evaluation: dc.inventory.Evaluation) -> None:
    thick = evaluation.rack.thickness_mm
    for i, wanted in enumerate(EXPECTED.thickness_mm):
        if wanted and EXPECTED.level[i] != "stop":
            assert thick[i] == pytest.approx(float(wanted), abs=0.01), EXPECTED.piece_id[i]


@pytest.mark.parametrize("kind", ["harden", "temper"])
def test_shared_loads(evaluation: dc.inventory.Evaluation, kind: str) -> None:
    """Two bars that a person would put together have overlapping ranges; two that nobody would have not."""
    results = evaluation.results
    column = {
        "harden": ("austenitize_coolest_C", "austenitize_hottest_C"),
        "temper": ("temper_stays_from_C", "temper_stays_to_C"),
    }[kind]
    at = {piece: i for i, piece in reversed(list(enumerate(EXPECTED.piece_id)))}
    judged = right = 0
    for pair in LOADS.itertuples():
        wanted = getattr(pair, f"{kind}_together")
        a, b = results.iloc[at[pair.bar_a]], results.iloc[at[pair.bar_b]]
        low, high = max(a[column[0]], b[column[0]]), min(a[column[1]], b[column[1]])
        if wanted not in ("yes", "no") or np.isnan(low) or np.isnan(high):
            continue
        judged += 1
        right += (high - low >= 5.0) == (wanted == "yes")
    assert judged >= 5
    assert right / judged >= 0.8
