"""What ids of the library are called in print."""

from typing import Final

FAMILIES: Final = {
    "plain_hypo": "plain carbon steel at or below the eutectoid",
    "plain_hyper": "plain carbon steel above the eutectoid",
    "low_alloy": "low-alloy steel",
    "hyper_low_alloy": "low-alloy steel above the eutectoid",
    "silicon_spring": "silicon spring steel",
    "tool_3_5_cr": "tool steel with 3 to 5 % chromium",
    "tool_11_13_cr": "tool steel with 11 to 13 % chromium",
    "martensitic_stainless": "martensitic stainless steel",
    "high_speed": "high-speed steel",
    "austenitic_other": "austenitic or other steel that does not harden by quenching",
}
CRITICAL: Final = {
    "ac1": ("Ac1", "austenite begins to form on heating"),
    "ac3": ("Ac3", "the last ferrite is gone on heating"),
    "acm": ("Acm", "the last cementite is gone on heating"),
    "ms": ("Ms", "martensite begins to form on cooling, all carbon in solution"),
    "mf": ("Mf", "nearly all is martensite"),
    "bs": ("Bs", "bainite begins to form on cooling"),
}
LEVELS: Final = ("note", "caution", "stop")
STATUSES: Final = {
    "two-pages": "seen in two places",
    "page": "seen in one place",
    "memory": "remembered, not seen",
    "computed": "computed here",
    "derived": "derived here from open data",
    "common practice": "common practice, no source",
}
SHORT_STATUSES: Final = {"two-pages": "two places", "page": "one place", "memory": "memory"}
RELATIONS: Final = {
    "own": "its own designation",
    "equal": "another name of it",
    "nearest": "nearest to it, not equal",
}


def family(name: str) -> str:
    """A family in words; a grade's own family name loses its underscores."""
    return FAMILIES.get(name, name.replace("_", " "))


def status(name: str) -> str:
    """How a figure was seen, in words."""
    return STATUSES.get(name, name)


def times(count: int) -> str:
    """How often, in words."""
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def gravest(levels: "list[str]") -> str:
    """The gravest of some levels; ``note`` for none."""
    return max(levels, key=LEVELS.index, default="note")
