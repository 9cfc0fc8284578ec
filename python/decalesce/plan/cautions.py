"""The usual cautions, printed with every plan. They are no safety plan: local codes and licensed practice decide."""

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from decalesce import data_files

_OF_HEAT = ("hot_work_burns", "co_limit", "mains_licensed")
#: What each question needs before the works of its own: a plan goes through the quench, the others do not.
_OF_QUESTION = {
    "plan": (
        "hot_work_burns",
        "oil_below_flash",
        "oil_submerge",
        "oil_water",
        "co_limit",
        "mains_licensed",
        "temper_delay",
    ),
    "heat": _OF_HEAT,
    "temper": (*_OF_HEAT, "temper_delay"),
}
_ALWAYS_LAST = "local_codes"
_OIL = "quench_oil"
_IN_FOIL = frozenset({"air_hardening", "martensitic_stainless"})
_FURNACE_WORKS = {"neutral_salt": "salt", "gas_fired": "gas"}


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


def works_of_plan(furnace: str, media: Sequence[str], family: str, *, cold: bool) -> tuple[str, ...]:
    """The works of a plan that have cautions of their own, for `cautions`.

    Args:
        furnace: kind of furnace.
        media: published quench media; salt is one of them for high-speed steel.
        family: the family in the words of the trade, `decalesce.order_of_work.trade_family`; air-hardening and
            stainless steel that is cooled in air or between plates is heated in foil.
        cold: whether the plan offers a cold treatment.
    """
    works = list(furnace_works(furnace))
    if "salt" in media and "salt" not in works:
        works.append("salt")
    if family in _IN_FOIL and not {"air", "plate"}.isdisjoint(media):
        works.append("foil")
    if cold:
        works.append("cold")
    return tuple(works)


def furnace_works(furnace: str) -> tuple[str, ...]:
    """The works of a furnace kind that have cautions of their own: salt or gas."""
    return (_FURNACE_WORKS[furnace],) if furnace in _FURNACE_WORKS else ()


def cautions(*applies_to: str, oil: bool = True, question: str = "plan") -> tuple[Caution, ...]:
    """The cautions of a plan, and all that apply to the given works (``salt``, ``gas``, ``foil``, ``cold``, ...).

    ``oil`` is False where the quench is known and is none in oil: its cautions are then left out. ``question`` is
    ``"plan"``, ``"temper"`` or ``"heat"`` for work that ends before the quench. The last one always defers to local
    codes and licensed practice. Raises ValueError for an unknown work or question.
    """
    if question not in _OF_QUESTION:
        raise ValueError(f"question = {question!r}; expected one of {', '.join(_OF_QUESTION)}")
    table = _table()
    known = {caution.applies_to for caution in table.values()}
    for work in applies_to:
        if work not in known:
            raise ValueError(f"applies_to = {work!r}; expected one of {', '.join(sorted(known))}")
    chosen = [table[name] for name in _OF_QUESTION[question] if oil or table[name].applies_to != _OIL]
    chosen += [c for c in table.values() if c.applies_to in applies_to and c not in chosen]
    return (*chosen, table[_ALWAYS_LAST])
