"""The register of reading rules.

A certificate or a rack list is dirty: every place where the reader changes a cell, sets it aside or doubts it is one
*rule*. A rule is a named function; the decorator below gives it an id (its name), a level and a reason in three parts:
what was read, what was assumed, what the user should do. ``rules()`` lists them; the tests walk that list and fail when
a rule has no test.

Levels: ``note`` (harmless, said for the record), ``caution`` (check it), ``stop`` (do not work from this row as it is).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, ParamSpec, TypeVar

NOTE, CAUTION, STOP = 1, 2, 3
LEVELS: dict[int, str] = {NOTE: "note", CAUTION: "caution", STOP: "stop"}

_P = ParamSpec("_P")
_R = TypeVar("_R")


@dataclass(frozen=True)
class Rule:
    """One reading rule: its id, its level and its reason text.

    ``scope`` says what the rule looks at: file, certificate, header, cell, field, size or row. ``number`` is its place
    in the register (the findings store keeps that number instead of the name). A rule with ``stored`` False leaves no
    finding: its trace is the status of the element (an empty cell would otherwise fill the store).
    """

    id: str
    level: int
    scope: str
    read: str
    assumed: str
    do: str
    number: int
    function: Callable[..., Any]
    stored: bool = True

    @property
    def level_name(self) -> str:
        """``note``, ``caution`` or ``stop``."""
        return LEVELS[self.level]

    @property
    def reason(self) -> str:
        """What was read, what was assumed and what the user should do, as sentences."""
        return f"Read: {self.read}. Taken as: {self.assumed}. Do: {self.do}."


_BY_ID: dict[str, Rule] = {}
_BY_NUMBER: list[Rule] = []


def rule(
    level: int, scope: str, *, read: str, assumed: str, do: str, stored: bool = True
) -> Callable[[Callable[_P, _R]], Callable[_P, _R]]:
    """Enter a function in the register under its own name. Raises ``ValueError`` when the name is taken."""

    def enter(function: Callable[_P, _R]) -> Callable[_P, _R]:
        name = function.__name__
        if name in _BY_ID:
            raise ValueError(f"rule name {name!r} is taken; a rule id must be unique")
        entry = Rule(name, level, scope, read, assumed, do, len(_BY_NUMBER), function, stored)
        _BY_ID[name] = entry
        _BY_NUMBER.append(entry)
        return function

    return enter


def rules() -> tuple[Rule, ...]:
    """All rules, in the order they were entered (the package imports every module that enters rules)."""
    return tuple(_BY_NUMBER)


def rule_by_id(rule_id: str) -> Rule:
    """The rule of that id. Raises ``KeyError`` naming the id when there is none."""
    if rule_id not in _BY_ID:
        raise KeyError(f"no reading rule is called {rule_id!r}; rules() lists them")
    return _BY_ID[rule_id]


def rule_by_number(number: int) -> Rule:
    """The rule at that place in the register."""
    return _BY_NUMBER[number]


def number_of(function: Callable[..., Any]) -> int:
    """The register number of a rule function."""
    return _BY_ID[function.__name__].number
