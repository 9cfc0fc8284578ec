"""Readers of data/checks for the tests."""

from pathlib import Path

import numpy as np
import pandas as pd

import decalesce as dc

DATA = Path(__file__).resolve().parents[2] / "data"
ELEMENTS = ["C", "Mn", "Si", "Cr", "Ni", "Mo", "V", "W", "Cu", "Co", "Al", "Nb", "Ti", "N", "B", "P", "S", "As", "Sn"]


def read_checks(name: str) -> pd.DataFrame:
    """One file of data/checks; an empty one is an error, so that no test passes on nothing."""
    rows = pd.read_csv(DATA / "checks" / name)
    if rows.empty:
        raise ValueError(f"data/checks/{name} holds no rows")
    return rows


def composition_of_rows(rows: pd.DataFrame) -> dc.Composition:
    """Compositions of rows; a blank cell is not stated."""
    stated = [e for e in ELEMENTS if e in rows]
    return dc.Composition(
        **{e: rows[e].fillna(0.0).to_numpy(float) for e in stated},
        status={e: np.where(rows[e].isna(), 3, 0).astype(np.uint8) for e in stated},
    )
