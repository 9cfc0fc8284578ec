"""Heat-treat metallurgy: from mill certificate to heat-treat card.

Every number carries its source and an honest band. Temperatures are degC (differences K), times s, amounts wt %,
lengths mm; strings such as ``"1475F"``, ``"3/16in"`` and ``"2h"`` are taken wherever a quantity is wanted.

>>> import decalesce as dc
>>> w = dc.Composition(C=0.95, Mn=0.40, Si=0.20)
>>> round(dc.published.evaluate("ms_andrews_1965_linear", w).value)
125
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from decalesce._core import AsQuenched, Austenite, Composition, Estimate, History, Section
from decalesce._core import version as __version__

if TYPE_CHECKING:
    from decalesce import (
        arrest,
        austenite,
        conduction,
        critical,
        flags,
        furnace,
        grades,
        heating,
        inventory,
        martensite,
        order_of_work,
        plan,
        plots,
        published,
        quench,
        scales,
        temper,
        thermal,
        units,
    )
    from decalesce.histories import hold, ramp, schedule

_rooms = (
    "inventory",
    "plan",
    "arrest",
    "austenite",
    "conduction",
    "critical",
    "flags",
    "furnace",
    "grades",
    "heating",
    "martensite",
    "order_of_work",
    "plots",
    "published",
    "quench",
    "scales",
    "temper",
    "thermal",
    "units",
)
_members = {"Bar": "bar", "Grade": "grade", "hold": "histories", "ramp": "histories", "schedule": "histories"}

__all__ = [
    "AsQuenched",
    "Austenite",
    "Bar",
    "Composition",
    "Estimate",
    "Grade",
    "History",
    "Section",
    "__version__",
    "arrest",
    "austenite",
    "conduction",
    "critical",
    "flags",
    "furnace",
    "grades",
    "heating",
    "hold",
    "inventory",
    "martensite",
    "order_of_work",
    "plan",
    "plots",
    "published",
    "quench",
    "ramp",
    "scales",
    "schedule",
    "temper",
    "thermal",
    "units",
]


def __getattr__(name: str) -> Any:
    """Rooms are imported when first used, so that the command line answers at once."""
    if name in _rooms:
        return import_module(f"decalesce.{name}")
    if name in _members:
        return getattr(import_module(f"decalesce.{_members[name]}"), name)
    raise AttributeError(f"module 'decalesce' has no attribute {name!r}")


def __dir__() -> list[str]:
    """List the rooms before they are imported, too."""
    return sorted({*globals(), *__all__})
