"""The usual cautions, printed with every plan. They are no safety plan: local codes and licensed practice decide."""

import csv
from dataclasses import dataclass
from functools import cache

from decalesce import data_files

#: What every plan needs: hot steel, oil fire, carbon monoxide, mains, and who decides.
_PLAN = ("hot_work_burns", "oil_below_flash", "oil_submerge", "oil_water", "co_limit", "mains_licensed", "temper_delay")
_ALWAYS_LAST = "local_codes"


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: what it applies to, its level, the sentence, and its source and how that was seen."""

    id: str
    applies_to: str
    level: str
    text: str
    source: str
    status: str


@cache
def _table() -> dict[str, Caution]:
    with data_files.path("tables/cautions.csv").open(encoding="utf-8", newline="") as stream:
        return {
            row["id"]: Caution(row["id"], row["applies_to"], row["level"], row["text"], row["source"], row["status"])
            for row in csv.DictReader(stream)
        }


def cautions(*applies_to: str) -> tuple[Caution, ...]:
    """The cautions of a plan, and all that apply to the given works (``salt``, ``gas``, ``foil``, ...).

    The last one always defers to local codes and licensed practice. Raises ValueError for an unknown work.
    """
    table = _table()
    known = {caution.applies_to for caution in table.values()}
    for work in applies_to:
        if work not in known:
            raise ValueError(f"applies_to = {work!r}; expected one of {', '.join(sorted(known))}")
    chosen = [table[name] for name in _PLAN]
    chosen += [c for c in table.values() if c.applies_to in applies_to and c not in chosen]
    return (*chosen, table[_ALWAYS_LAST])
