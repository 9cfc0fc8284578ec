"""Inspection certificates: a file, a list of files or a folder, in any dialect the reader takes.

``Certificates.read`` parses each file and gathers one chemistry a heat (a certificate of type 3.1 of EN 10204 states
the analysis of the heat it names). ``RackParser(..., certificates=…)`` joins them to a rack by heat number. What became
of each file stands in ``Certificates.reports``; a file that gives nothing says why.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from decalesce import grades
from decalesce.inventory.certificate_merge import Analyses, Chemistry, merge, says_nothing, stack
from decalesce.inventory.fields import MAXIMUM_ROW, MINIMUM_ROW, identifier_became_number
from decalesce.inventory.findings import Finding
from decalesce.inventory.grade_book import GradeFinder
from decalesce.inventory.heats import heat_two_grades
from decalesce.inventory.parse import CertificateParser
from decalesce.inventory.rack import ParsedRack
from decalesce.inventory.read import read_table
from decalesce.inventory.reading import plain
from decalesce.inventory.rules import CAUTION, LEVELS, rule, rule_by_id
from decalesce.inventory.table import TableError
from decalesce.inventory.words import ELEMENTS
from decalesce.inventory.work import CARBON, Bools

# --- rules about a certificate file: each says from what was seen whether it applies ----------------------------------


@rule(
    CAUTION, "certificate",
    read="a certificate file that is no table",
    assumed="nothing is read from it",
    do="copy its table into a spreadsheet or a CSV file",
)  # fmt: skip
def certificate_unreadable(problem: Exception) -> bool:
    """A PDF, a photograph, a broken workbook, a folder inside the folder."""
    return isinstance(problem, (TableError, OSError))


@rule(
    CAUTION, "certificate",
    read="an empty certificate file",
    assumed="nothing",
    do="fetch it again: a download may have failed",
)  # fmt: skip
def certificate_empty(rack: ParsedRack) -> bool:
    """Nought bytes, or blank lines only."""
    return not rack.table.columns


@rule(
    CAUTION, "certificate",
    read="a certificate with headers and no row",
    assumed="nothing",
    do="ask the mill for the figures: the form came without them",
)  # fmt: skip
def certificate_no_rows(rack: ParsedRack) -> bool:
    """The form without the figures."""
    return bool(rack.table.columns) and len(rack) == 0


@rule(
    CAUTION, "certificate",
    read="a certificate on which no heat number can be read",
    assumed="nothing is joined: an analysis belongs to a heat",
    do="add a column heat with the number stamped or painted on the bar",
)  # fmt: skip
def certificate_without_heat(rack: ParsedRack) -> bool:
    """A printout of an analyser, or heat numbers that a spreadsheet has cut short."""
    return len(rack) > 0 and not _heat_stated(rack).any()


@rule(
    CAUTION, "certificate",
    read="a certificate that states limits and no analysis",
    assumed="nothing is joined: limits are what was ordered, not what was melted",
    do="ask for the inspection certificate 3.1 (EN 10204), which states the analysis",
)  # fmt: skip
def certificate_limits_only(rack: ParsedRack) -> bool:
    """A declaration of compliance (type 2.1 of EN 10204) often prints the standard's limits."""
    analysed = ~_limits(rack) & ~says_nothing(rack.status, rack.values)
    return len(rack) > 0 and not analysed.any()


@rule(
    CAUTION, "certificate",
    read="analyses without carbon, as an X-ray analyser prints them",
    assumed="the other elements; carbon is not stated",
    do="get carbon by combustion or spark analysis: it decides window and hardness",
)  # fmt: skip
def certificate_without_carbon(rack: ParsedRack) -> bool:
    """A hand-held analyser sees no carbon."""
    analysed = ~_limits(rack) & ~says_nothing(rack.status, rack.values)
    carbon = (rack.status[:, CARBON] <= 1) & ~np.isnan(rack.values[:, CARBON])
    return bool(analysed.any()) and not (analysed & carbon).any()


_NOTHING_INSIDE = (certificate_empty, certificate_no_rows)
_FILE_RULES = (certificate_without_heat, certificate_limits_only, certificate_without_carbon)


def _limits(rack: ParsedRack) -> Bools:
    return np.isin(rack.role, (MINIMUM_ROW, MAXIMUM_ROW))


def _heat_stated(rack: ParsedRack) -> Bools:
    texts = rack.heat_number.texts
    sound = np.array([t != "" and not identifier_became_number(t) for t in texts] or [False], dtype=bool)
    return sound[rack.heat_number.codes]


def heat_key(text: str) -> str:
    """A heat number without what typists change: blanks and the case of letters."""
    return re.sub(r"\s+", "", plain(text)).casefold()


# --- the reports and the store ----------------------------------------------------------------------------------------


@dataclass(frozen=True, eq=False)
class CertificateReport:
    """What became of one file.

    ``file``: its name. ``rows``: its rows of data. ``used``: how many of them are analyses of a heat, fit to be joined.
    ``heats``: the heat numbers of those. ``own``: the findings about the file as a certificate; ``rack``: the file as
    read (None when it is no table or holds no row).
    """

    file: str
    rows: int
    used: int
    heats: tuple[str, ...]
    own: tuple[Finding, ...]
    rack: ParsedRack | None

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """All findings: those about the certificate first, then those of its reading."""
        return (*self.own, *(self.rack.findings if self.rack is not None else ()))

    @property
    def level(self) -> str:
        """``clean``, ``note``, ``caution`` or ``stop``: the gravest finding, rows of limits left out."""
        worst = max((f.rule.level for f in self.own), default=0)
        if self.rack is not None:
            worst = max(worst, *(f.rule.level for f in self.rack.findings.file), 0)
            rows = self.rack.findings.worst_level()[~_limits(self.rack)]
            worst = max(worst, int(rows.max()) if len(rows) else 0)
        return LEVELS.get(worst, "clean")

    def messages(self) -> tuple[str, ...]:
        """The findings as sentences, each once, gravest first."""
        ordered = sorted(self.findings, key=lambda f: -f.rule.level)
        return tuple(dict.fromkeys(f.message for f in ordered))


@dataclass(frozen=True, eq=False)
class Certificates:
    """One chemistry a heat, h heats, and a report a file.

    ``heats`` (h): the numbers as printed. ``chemistry``: contents, half-widths and statuses (h, 19), wt %.
    ``grade_texts`` (h): the grade named by the certificate, "" when none. ``two_grades`` (h,): the certificates name
    two different grades, so the heat is not joined.
    """

    heats: tuple[str, ...] = ()
    chemistry: Chemistry | None = None
    grade_texts: tuple[str, ...] = ()
    two_grades: Bools | None = None
    reports: tuple[CertificateReport, ...] = ()

    @classmethod
    def read(cls, source: Any, find_many: GradeFinder | None = grades.find_many) -> Certificates:
        """Read certificates.

        Args:
            source: a path of a file or a folder (every file in it whose name does not begin with a point), a
                dataframe, bytes or a stream, a list of these, or None for no certificates.
            find_many: looks up the grades named on the certificates; None looks up none.

        Raises:
            OSError: a path named by the caller does not exist. What is inside a file never raises: see ``reports``.
            TypeError: a source is of a kind that cannot be read.
        """
        racks: list[ParsedRack | None] = []
        reports: list[CertificateReport] = []
        for item in _sources(source):
            rack, report = _read_one(item, find_many)
            racks.append(rack)
            reports.append(report)
        return _gather(racks, reports)

    @cached_property
    def by_key(self) -> dict[str, int]:
        """Heat number without blanks and case, to its place in ``heats``."""
        return {heat_key(heat): i for i, heat in enumerate(self.heats)}

    def content(self, heat: str, element: str) -> float:
        """wt % of one element of one heat; 0 where no certificate states it. Raises ``KeyError`` naming what is
        unknown."""
        if element not in ELEMENTS:
            raise KeyError(f"{element!r} is no element of this table; expected one of {', '.join(ELEMENTS)}")
        place = self.by_key.get(heat_key(heat))
        if place is None or self.chemistry is None:
            raise KeyError(f"no certificate states heat {heat!r}; {len(self.heats)} heats are known")
        return float(self.chemistry.values[place, ELEMENTS.index(element)])

    def __len__(self) -> int:
        """The number of heats."""
        return len(self.heats)


def read_certificates(source: Any, find_many: GradeFinder | None = grades.find_many) -> Certificates:
    """Read a certificate, a list of them or a folder: ``Certificates.read``."""
    return Certificates.read(source, find_many)


def _sources(source: Any) -> list[Any]:
    if source is None:
        return []
    if isinstance(source, (list, tuple)):
        return [inner for item in source for inner in _sources(item)]
    if isinstance(source, (str, Path)):
        path = Path(source)
        if path.is_dir():
            return sorted(p for p in path.iterdir() if not p.name.startswith("."))
        if not path.exists():
            raise FileNotFoundError(f"certificates: there is no file or folder {str(source)!r}")
        return [path]
    return [source]


def _read_one(source: Any, find_many: GradeFinder | None) -> tuple[ParsedRack | None, CertificateReport]:
    name = source.name if isinstance(source, Path) else "table"
    try:
        table = read_table(source)
    except (TableError, OSError) as problem:
        return None, CertificateReport(name, 0, 0, (), _own((certificate_unreadable,), problem, str(problem)), None)
    rack = CertificateParser(find_many).parse(table)
    name = name if isinstance(source, Path) else table.name
    nothing = _own(_NOTHING_INSIDE, rack, name)
    if nothing:
        return None, CertificateReport(name, 0, 0, (), nothing, None)
    return rack, CertificateReport(name, len(rack), 0, (), _own(_FILE_RULES, rack, name), rack)


def _own(functions: Iterable[Any], seen: Any, words: str) -> tuple[Finding, ...]:
    return tuple(Finding(-1, rule_by_id(f.__name__), "", words) for f in functions if f(seen))


def _gather(racks: Sequence[ParsedRack | None], reports: Sequence[CertificateReport]) -> Certificates:
    """All analysis rows of all files, one below the other, then one chemistry a heat."""
    kept = [(i, rack, _usable(rack)) for i, rack in enumerate(racks) if rack is not None]
    places: dict[str, int] = {}
    heats: list[str] = []
    codes = []
    for _, rack, rows in kept:
        texts = [rack.heat_number.at(int(row)) for row in rows]
        for text in texts:
            if heat_key(text) not in places:
                places[heat_key(text)] = len(heats)
                heats.append(text)
        codes.append(np.array([places[heat_key(text)] for text in texts], dtype=np.int64))
    own: list[list[Finding]] = [list(report.own) for report in reports]
    file_of = stack([np.full(len(rows), i) for i, _, rows in kept]).astype(np.int64)
    row_of = stack([rows for _, _, rows in kept]).astype(np.int64)
    heat = stack(codes).astype(np.int64)

    def strike(function: Any, element: str, struck: NDArray[np.int64]) -> None:
        for at in struck.tolist():
            found = Finding(int(row_of[at]), rule_by_id(function.__name__), element, heats[int(heat[at])])
            own[int(file_of[at])].append(found)

    analyses = Analyses(
        values=stack([rack.values[rows] for _, rack, rows in kept], len(ELEMENTS)).astype(np.float64),
        half_width=stack([rack.half_width[rows] for _, rack, rows in kept], len(ELEMENTS)).astype(np.float64),
        status=stack([rack.status[rows] for _, rack, rows in kept], len(ELEMENTS)).astype(np.uint8),
        role=stack([rack.role[rows] for _, rack, rows in kept]).astype(np.uint8),
        heat=heat,
        n_heats=len(heats),
    )
    chemistry = merge(analyses, strike)
    grade_texts, two = _grades(kept, heat, len(heats))
    strike(heat_two_grades, "", np.flatnonzero(two[heat]))
    final = []
    for i, report in enumerate(reports):
        mine = dict.fromkeys(heats[code] for code in heat[file_of == i].tolist())
        used = int((file_of == i).sum())
        final.append(CertificateReport(report.file, report.rows, used, tuple(mine), tuple(own[i]), report.rack))
    return Certificates(tuple(heats), chemistry, grade_texts, two, tuple(final))


def _usable(rack: ParsedRack) -> NDArray[np.int64]:
    return np.flatnonzero(~_limits(rack) & _heat_stated(rack) & ~says_nothing(rack.status, rack.values))


def _grades(
    kept: Sequence[tuple[int, ParsedRack, NDArray[np.int64]]], heat: NDArray[np.int64], n_heats: int
) -> tuple[tuple[str, ...], Bools]:
    """The first grade text of each heat that is known to the grade table (else the first at all), and where two
    different known grades are named."""
    texts = [""] * n_heats
    known = [""] * n_heats
    two = np.zeros(n_heats, dtype=bool)
    at = 0
    for _, rack, rows in kept:
        for row in rows.tolist():
            place, text, code = int(heat[at]), rack.grade_text.at(row), int(rack.grade_index[row])
            at += 1
            designation = str(rack.grades[code].designation) if code >= 0 else ""
            if designation and not known[place]:
                texts[place], known[place] = text, designation
            elif designation and designation != known[place]:
                two[place] = True
            texts[place] = texts[place] or text
    return tuple(texts), two


__all__ = ["CertificateReport", "Certificates", "heat_key", "read_certificates"]
