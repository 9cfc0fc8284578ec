"""The published rules of soak_rules.csv as they stand beside an answer."""

import csv
from dataclasses import dataclass
from functools import lru_cache

from decalesce import data_files


@dataclass(frozen=True, slots=True)
class Rule:
    """A published or common rule for this piece: its text, what it comes to in minutes, and what it counts."""

    id: str
    phase: str
    text: str
    minutes: tuple[float, float]
    includes_heat_up: bool
    source: str
    status: str
    note: str


@lru_cache(maxsize=1)
def _rows() -> dict[str, dict[str, str]]:
    with data_files.path("tables/soak_rules.csv").open(encoding="utf-8", newline="") as stream:
        return {row["id"]: row for row in csv.DictReader(stream)}


def rule(rule_id: str, low_s: float, high_s: float, includes_heat_up: bool) -> Rule:
    """The rule of that id, for times in s."""
    row = _rows()[rule_id]
    return Rule(
        id=rule_id,
        phase=row["phase"],
        text=row["rule"],
        minutes=(low_s / 60.0, high_s / 60.0),
        includes_heat_up=includes_heat_up,
        source=row["source"],
        status=row["status"],
        note=row["note"],
    )
