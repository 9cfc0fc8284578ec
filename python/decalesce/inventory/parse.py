"""From a table of texts to a ``ParsedRack``.

Each distinct text of a column is parsed once and spread over its rows by index; then the row rules judge whole rows
with array arithmetic. ``RackParser`` keeps what it has learned (texts, grades, ids) from block to block.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeVar

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory import columns, fields, heats, measures, memory, rows
from decalesce.inventory.cells import CellResult, read_cell
from decalesce.inventory.certificate_join import HeatMatch, grade_from_certificate, join, match_heats
from decalesce.inventory.findings import FindingsBuilder
from decalesce.inventory.grade_book import GradeBook, GradeFinder, filled_from_grade, grade_nearest, grade_unknown
from decalesce.inventory.headers import ColumnRole, recognise
from decalesce.inventory.rack import ParsedRack
from decalesce.inventory.rules import rule_by_id
from decalesce.inventory.section import read_section
from decalesce.inventory.table import Table, TextColumn
from decalesce.inventory.table_findings import strike_file, strike_names
from decalesce.inventory.words import ELEMENTS
from decalesce.inventory.work import Analysis, Work, new_arrays

if TYPE_CHECKING:
    from decalesce.inventory.certificates import Certificates

_CACHE_LIMIT = 400_000
_T = TypeVar("_T", bound=np.generic)


class RackParser:
    """Parses the blocks of one source. ``find_many`` looks up grades (None: no grade is looked up); ``certificates``
    are joined by heat number before the grade fills what is left.

    Rows of one heat are joined inside a block; an id or a heat that comes again in a later block is flagged there.
    """

    def __init__(self, find_many: GradeFinder | None = None, certificates: Certificates | None = None) -> None:
        """A parser that has seen nothing yet."""
        self._certificates = certificates
        self._book = GradeBook(find_many)
        self._cells: dict[tuple[str, str, bool, float, str], CellResult] = {}
        self._memory = memory.BlockMemory()

    def parse(self, table: Table) -> ParsedRack:
        """One block. Never raises for what a cell holds: the worst cell is NaN with a finding."""
        strikes = FindingsBuilder(table.n_rows)
        roles = _roles(table)
        strike_file(table, roles, strikes)
        self._strike_names(table, roles, strikes)
        analyses, bounds = self._element_columns(table, roles, strikes)
        column = _first_columns(roles)
        grade_text, grade_codes = self._grades(table, column, strikes)
        heat = _identifier(table, column.get("heat_number"), strikes)
        piece = _identifier(table, column.get("piece_id"), strikes)
        values, half_width, status = new_arrays(table.n_rows)
        match, certificate_grades = self._match(heat.texts)
        named = grade_codes >= 0
        grade_codes = _grades_of_heats(grade_text, grade_codes, _id_codes(heat), certificate_grades)
        tables = self._book.tables
        work = Work(
            n=table.n_rows,
            strikes=strikes,
            values=values,
            half_width=half_width,
            status=status,
            column_of=[-1] * len(ELEMENTS),
            analyses=analyses,
            bounds=bounds,
            role=_row_roles(table, roles, column),
            heat=_id_codes(heat),
            heat_texts=heat.texts,
            piece=_id_codes(piece),
            piece_texts=piece.texts,
            columns=column,
            grade_code=grade_codes,
            grade_low=tables.low,
            grade_high=tables.high,
            grade_same=tables.same,
            grades=tables.grades,
            unsure_heat=np.zeros(max(len(heat.texts), 1), dtype=bool),
            from_certificate=np.zeros(values.shape, dtype=bool),
        )
        grade_from_certificate(work, work.graded & ~named)
        self._judge(work, table, grade_text, match, certificate_grades)
        shape, lengths = read_section(table, roles, strikes)
        hardness, hardness_scale = _hardness(table, roles, "hardness", column, strikes)
        target, target_scale = _hardness(table, roles, "target_hardness", column, strikes)
        not_rockwell = measures.target_not_rockwell(target_scale)
        work.strike(measures.target_not_rockwell, column.get("target_hardness", -1), not_rockwell)
        return ParsedRack(
            table=table,
            values=_frozen(work.values),
            half_width=_frozen(work.half_width),
            status=_frozen(work.status),
            role=_frozen(work.role),
            piece_id=piece,
            grade_text=grade_text,
            heat_number=heat,
            shape=_frozen(shape),
            thickness_mm=_frozen(lengths[0]),
            width_mm=_frozen(lengths[1]),
            length_mm=_frozen(lengths[2]),
            condition=_frozen(_condition(table, column, strikes)),
            hardness=_frozen(hardness),
            hardness_scale=_frozen(hardness_scale),
            target=_frozen(target),
            target_scale=_frozen(target_scale),
            temperatures_C=_temperatures(table, roles, strikes),
            grade_index=_frozen(work.grade_code),
            grades=tables.grades,
            findings=strikes.build(table),
        )

    def _judge(
        self, work: Work, table: Table, grade_text: TextColumn, match: HeatMatch, certificate_grades: NDArray[np.int32]
    ) -> None:
        _judge_cells(work, table)
        if self._certificates is not None:
            join(work, self._certificates, match, certificate_grades)
        for judge in (*heats.HEAT_RULES, *rows.GRADE_RULES):
            judge(work)
        grade_unknown(work, _stated(grade_text))
        grade_nearest(work, self._book.tables)
        filled_from_grade(work, self._book.tables)
        for judge in rows.AFTER_FILL:
            judge(work)
        self._memory.judge(work)

    def _strike_names(self, table: Table, roles: Sequence[ColumnRole], strikes: FindingsBuilder) -> None:
        """What only a rack is told of its columns: repeated names, and the columns that no plan needs."""
        strike_names(table, roles, strikes)

    def _match(self, texts: tuple[str, ...]) -> tuple[HeatMatch, NDArray[np.int32]]:
        """Where the certificates hold each heat of the block, and the grade they give it (-1: none)."""
        certificates = self._certificates
        none = np.full(max(len(texts), 1), -1, dtype=np.int32)
        if certificates is None or not len(certificates):
            nothing = np.zeros(len(none), dtype=bool)
            return HeatMatch(none.astype(np.int64), nothing, nothing), none
        match = match_heats(certificates, texts)
        named = [certificates.grade_texts[place] if place >= 0 else "" for place in match.place.tolist()]
        return match, self._book.codes(named)

    def _element_columns(
        self, table: Table, roles: Sequence[ColumnRole], strikes: FindingsBuilder
    ) -> tuple[dict[int, list[Analysis]], dict[tuple[int, str], Analysis]]:
        analyses: dict[int, list[Analysis]] = {}
        bounds: dict[tuple[int, str], Analysis] = {}
        for index, role in enumerate(roles):
            if role.kind != "element":
                continue
            element = ELEMENTS.index(role.element)
            analysis = self._element_column(table, index, role, strikes)
            if role.bound:
                bounds.setdefault((element, role.bound), analysis)
            else:
                analyses.setdefault(element, []).append(analysis)
        return analyses, bounds

    def _element_column(self, table: Table, index: int, role: ColumnRole, strikes: FindingsBuilder) -> Analysis:
        column = table.cells[index]
        resolution = _resolution(column)
        results = [
            self._cell(t, role, bool(typed), resolution) for t, typed in zip(column.texts, column.typed, strict=True)
        ]
        _strike_hits(strikes, index, column.codes, [r.hits for r in results])
        codes = column.codes
        return Analysis(
            column=index,
            kind=role.analysis,
            value=np.array([r.value for r in results], dtype=np.float64)[codes],
            half_width=np.array([r.half_width for r in results], dtype=np.float64)[codes],
            status=np.array([r.status for r in results], dtype=np.uint8)[codes],
            number=np.array([r.number for r in results], dtype=np.float64)[codes],
        )

    def _cell(self, text: str, role: ColumnRole, typed: bool, resolution: float) -> CellResult:
        key = (text, role.element, typed, resolution if typed else 0.0, role.unit)
        result = self._cells.get(key)
        if result is None:
            if len(self._cells) > _CACHE_LIMIT:
                self._cells.clear()
            result = read_cell(text, role.element, role.unit, typed, resolution)
            self._cells[key] = result
        return result

    def _grades(
        self, table: Table, column: dict[str, int], strikes: FindingsBuilder
    ) -> tuple[TextColumn, NDArray[np.int32]]:
        index = column.get("grade")
        if index is None:
            return _blank(table.n_rows), np.full(table.n_rows, -1, dtype=np.int32)
        source = table.cells[index]
        read = [fields.read_grade(t) for t in source.texts]
        _strike_hits(strikes, index, source.codes, [hits for _, hits in read])
        labels = np.array([fields.row_role(t, strict=True) != fields.BAR for t in source.texts] or [False], dtype=bool)
        texts = TextColumn(tuple(t for t, _ in read), source.typed, source.codes)
        codes = self._book.codes(texts.texts)
        codes[labels[: len(codes)]] = -1
        return texts, codes[source.codes]


class CertificateParser(RackParser):
    """Parses a certificate file: its rows are analyses of heats and no bars, so nothing is filled from a grade and rows
    of one heat are left apart (``certificate_merge`` joins them, across files)."""

    def _strike_names(self, table: Table, roles: Sequence[ColumnRole], strikes: FindingsBuilder) -> None:
        """A certificate states more than a plan needs, and nobody can rename its columns."""

    def _judge(
        self, work: Work, table: Table, grade_text: TextColumn, match: HeatMatch, certificate_grades: NDArray[np.int32]
    ) -> None:
        _judge_cells(work, table)
        for judge in (*rows.GRADE_RULES, rows.sum_over_100):
            judge(work)
        grade_unknown(work, _stated(grade_text))


def parse(table: Table, find_many: GradeFinder | None = None, certificates: Certificates | None = None) -> ParsedRack:
    """Parse one table. ``find_many`` looks up grades (``decalesce.grades.find_many``); None looks up none.
    ``certificates`` (``Certificates.read``) are joined by heat number."""
    return RackParser(find_many, certificates).parse(table)


def _judge_cells(work: Work, table: Table) -> None:
    """The rules for a row by itself, before anything is joined or filled."""
    columns.place_first(work)
    for rule_id, struck in table.row_notes.items():
        work.strike(rule_by_id(rule_id).function, -1, struck)
    rows.discard_shifted(work, table.row_notes.get("row_too_long"))
    for judge in (*columns.COLUMN_RULES, *rows.ROW_RULES):
        judge(work)


def _stated(column: TextColumn) -> NDArray[np.bool_]:
    return np.array([text != "" for text in column.texts], dtype=bool)[column.codes]


def _grades_of_heats(
    grade_text: TextColumn,
    codes: NDArray[np.int32],
    heat: NDArray[np.int32],
    certificate_grades: NDArray[np.int32],
) -> NDArray[np.int32]:
    """The grade of each row, from the certificate of its heat where the row names none."""
    silent = ~_stated(grade_text) & (heat >= 0)
    return np.where(silent, certificate_grades[np.maximum(heat, 0)], codes).astype(np.int32)


def _roles(table: Table) -> list[ColumnRole]:
    roles = [recognise(header) for header in table.columns]
    for index, unit in enumerate(table.units):
        if unit and not roles[index].unit:
            roles[index] = recognise(f"{table.columns[index]} [{unit}]")
    return roles


def _first_columns(roles: Sequence[ColumnRole]) -> dict[str, int]:
    column: dict[str, int] = {}
    for index, role in enumerate(roles):
        if role.kind not in ("unknown", "element", "other_element", "temperature"):
            column.setdefault(role.kind, index)
    return column


def _strike_hits(
    strikes: FindingsBuilder, index: int, codes: NDArray[np.int32], hits: Sequence[tuple[int, ...]]
) -> None:
    by_rule: dict[int, list[int]] = {}
    for code, numbers in enumerate(hits):
        for number in numbers:
            by_rule.setdefault(number, []).append(code)
    for number, struck in by_rule.items():
        lookup = np.zeros(len(hits), dtype=bool)
        lookup[struck] = True
        strikes.add(number, index, np.flatnonzero(lookup[codes]))


def _resolution(column: TextColumn) -> float:
    """Half a unit of the finest digit of a number column: numbers lose the zeros at their end."""
    if not column.typed.any():
        return float("nan")
    decimals = 0
    for text, typed in zip(column.texts, column.typed, strict=True):
        if typed:
            decimals = max(decimals, len(f"{float(text):.4f}".rstrip("0").partition(".")[2]))
    return 0.5 * 10.0**-decimals


def _identifier(table: Table, index: int | None, strikes: FindingsBuilder) -> TextColumn:
    if index is None:
        return _blank(table.n_rows)
    source = table.cells[index]
    read = [fields.read_identifier(t) for t in source.texts]
    _strike_hits(strikes, index, source.codes, [hits for _, hits in read])
    merged: dict[str, int] = {}
    to = np.array([merged.setdefault(text, len(merged)) for text, _ in read] or [0], dtype=np.int32)
    return TextColumn(tuple(merged), np.zeros(len(merged), dtype=bool), to[source.codes])


def _id_codes(column: TextColumn) -> NDArray[np.int32]:
    stated = np.array([text != "" for text in column.texts] or [False], dtype=bool)
    return np.where(stated[column.codes], column.codes, -1).astype(np.int32)


def _blank(n: int) -> TextColumn:
    return TextColumn(("",), np.zeros(1, dtype=bool), np.zeros(n, dtype=np.int32))


def _row_roles(table: Table, roles: Sequence[ColumnRole], column: dict[str, int]) -> NDArray[np.uint8]:
    out = np.zeros(table.n_rows, dtype=np.uint8)
    labelled = [(i, False) for i, role in enumerate(roles) if role.kind == "analysis_kind"]
    labelled += [(column[kind], True) for kind in ("piece_id", "heat_number", "grade") if kind in column]
    for index, strict in labelled:
        cells = table.cells[index]
        codes = np.array([fields.row_role(t, strict) for t in cells.texts] or [0], dtype=np.uint8)[cells.codes]
        out = np.where(out == fields.BAR, codes, out)
    return out


def _hardness(
    table: Table, roles: Sequence[ColumnRole], kind: str, column: dict[str, int], strikes: FindingsBuilder
) -> tuple[NDArray[np.float64], NDArray[np.uint8]]:
    index = column.get(kind)
    if index is None:
        return np.full(table.n_rows, np.nan), np.zeros(table.n_rows, dtype=np.uint8)
    return _fields(table.cells[index], index, strikes, lambda text: measures.read_hardness(text, roles[index].unit))


def _fields(
    cells: TextColumn, index: int, strikes: FindingsBuilder, read: Callable[[str], measures.FieldResult]
) -> tuple[NDArray[np.float64], NDArray[np.uint8]]:
    results = [read(text) for text in cells.texts]
    _strike_hits(strikes, index, cells.codes, [r.hits for r in results])
    value = np.array([r.value for r in results] or [np.nan], dtype=np.float64)[cells.codes]
    return value, np.array([r.scale for r in results] or [0], dtype=np.uint8)[cells.codes]


def _temperatures(
    table: Table, roles: Sequence[ColumnRole], strikes: FindingsBuilder
) -> dict[str, NDArray[np.float64]]:
    out: dict[str, NDArray[np.float64]] = {}
    for index, role in enumerate(roles):
        if role.kind == "temperature" and role.purpose not in out:
            unit, purpose = role.unit, role.purpose

            def read(text: str, unit: str = unit, purpose: str = purpose) -> measures.FieldResult:
                return measures.read_temperature(text, unit, purpose)

            out[purpose] = _frozen(_fields(table.cells[index], index, strikes, read)[0])
    return out


def _condition(table: Table, column: dict[str, int], strikes: FindingsBuilder) -> NDArray[np.uint8]:
    index = column.get("condition")
    if index is None:
        return np.zeros(table.n_rows, dtype=np.uint8)
    cells = table.cells[index]
    read = [fields.read_condition(text) for text in cells.texts]
    _strike_hits(strikes, index, cells.codes, [hits for _, hits in read])
    return np.array([code for code, _ in read] or [0], dtype=np.uint8)[cells.codes]


def _frozen(array: NDArray[_T]) -> NDArray[_T]:
    array.setflags(write=False)
    return array
