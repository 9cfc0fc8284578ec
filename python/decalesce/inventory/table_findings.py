"""What is said of a table as a whole: the file's own findings, its headers, and the columns that no plan needs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from decalesce.inventory import fields
from decalesce.inventory.findings import FindingsBuilder
from decalesce.inventory.headers import (
    HEADER_RULES,
    ColumnRole,
    columns_not_used,
    duplicate_header,
    nothing_recognised,
    repeated_name,
)
from decalesce.inventory.table import Table


def strike_file(table: Table, roles: Sequence[ColumnRole], strikes: FindingsBuilder) -> None:
    """Hand on what the reader noted of the file, and judge the header row."""
    for note in table.notes:
        strikes.add_file(note.rule_id, note.seen)
    if not table.columns:
        return
    for header_rule in HEADER_RULES:
        for index in header_rule(roles):
            shown: Iterable[int] = range(len(roles)) if index < 0 else [index]
            if header_rule is duplicate_header:
                shown = [next(i for i, role in enumerate(roles) if role.key == roles[index].key), index]
            strikes.add_file(header_rule.__name__, _named(table, shown))
    for index in fields.identifier_from_numbers(roles, [bool(column.typed.any()) for column in table.cells]):
        strikes.add_file(fields.identifier_from_numbers.__name__, table.columns[index])


def strike_names(table: Table, roles: Sequence[ColumnRole], strikes: FindingsBuilder) -> None:
    """Name the columns that share a name, and in one finding all columns from which nothing is computed."""
    for index in repeated_name(table.columns, roles):
        strikes.add_file(repeated_name.__name__, _named(table, [index]))
    unused = [] if nothing_recognised(roles) else columns_not_used(roles)
    if unused:
        strikes.add_file(columns_not_used.__name__, _named(table, unused))


def _named(table: Table, columns: Iterable[int]) -> str:
    """Columns by name, one without a name by its place."""
    return ", ".join(table.columns[i] or f"column {i + 1}" for i in columns)
