"""Reads the published heat-treat facts of the grades; one read a process, on first use."""

import csv
from collections import defaultdict
from functools import lru_cache

from decalesce import data_files
from decalesce.grade import Fact


def _number(text: str) -> float | None:
    return float(text) if text else None


def _value(text: str, unit: str) -> float | str:
    return float(text) if unit else text


@lru_cache(maxsize=1)
def _all_facts() -> dict[str, tuple[Fact, ...]]:
    facts: defaultdict[str, list[Fact]] = defaultdict(list)
    with data_files.path("tables/grade_heat_treat.csv").open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            if row["role"] != "product":
                continue
            facts[row["grade"]].append(
                Fact(
                    quantity=row["quantity"],
                    value=_value(row["value"], row["unit"]),
                    unit=row["unit"],
                    conditions=row["conditions"],
                    source=row["source"],
                    status=row["status"],
                    temper_C=_number(row["temper_C"]),
                    temper_h=_number(row["temper_h"]),
                    austenitize_C=_number(row["austenitize_C"]),
                    source_note=row["source_note"],
                )
            )
    return {grade: tuple(rows) for grade, rows in facts.items()}


def facts_of(designation: str) -> tuple[Fact, ...]:
    """Return the shipped facts of a grade by its own designation; empty where nothing is published."""
    return _all_facts().get(designation, ())
