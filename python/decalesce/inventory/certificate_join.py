"""Joining certificates to the rows of a rack, by heat number.

The row's own values stay. The certificate gives what the row does not state, sharpens what the row states only as a
limit or more coarsely, and is compared with the rest.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from decalesce.inventory.fields import MAXIMUM_ROW, MINIMUM_ROW, identifier_became_number
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import BELOW_LIMIT, FILLED, MEASURED, NOT_STATED
from decalesce.inventory.rules import CAUTION, NOTE, rule
from decalesce.inventory.words import ELEMENTS
from decalesce.inventory.work import Bools, Floats, Work, repeatability_of, safe

if TYPE_CHECKING:
    from decalesce.inventory.certificates import Certificates


@dataclass(frozen=True)
class HeatMatch:
    """For each distinct heat text of a block: ``place`` in the certificates (-1: none), whether zeros at its start had
    to be added or dropped, and whether only a damaged number fits."""

    place: NDArray[np.int64]
    by_zeros: Bools
    doubtful: Bools


@dataclass(frozen=True)
class _Joined:
    """The contents of the certificate beside each row of the block (n, 19); ``doubtful`` its analyses disagree."""

    rows: NDArray[np.int64]
    values: Floats
    half_width: Floats
    status: NDArray[np.uint8]
    doubtful: Bools

    @property
    def stated(self) -> Bools:
        stated: Bools = self.status <= BELOW_LIMIT
        return stated


def match_heats(certificates: Certificates, texts: tuple[str, ...]) -> HeatMatch:
    """Exact but for blanks and case; then but for zeros at the start, where one heat fits. A number in powers of ten
    has lost digits: it fits nothing, and is doubtful where certificates hold a heat it may have been."""
    from decalesce.inventory.certificates import heat_key

    by_key = certificates.by_key
    by_zeros: dict[str, list[int]] = {}
    numbers: list[str] = [key for key in by_key if key.isdecimal()]
    for key in numbers:
        by_zeros.setdefault(key.lstrip("0"), []).append(by_key[key])
    match = HeatMatch(
        np.full(max(len(texts), 1), -1), np.zeros(max(len(texts), 1), bool), np.zeros(max(len(texts), 1), bool)
    )
    for i, text in enumerate(texts):
        if not text:
            continue
        key = heat_key(text)
        zeros = by_zeros.get(key.lstrip("0"), []) if key.isdecimal() else []
        if identifier_became_number(text):
            match.doubtful[i] = any(_may_have_been(number, key) for number in numbers)
        elif key in by_key:
            match.place[i] = by_key[key]
        elif len(zeros) == 1:
            match.place[i], match.by_zeros[i] = zeros[0], True
        elif zeros:
            match.doubtful[i] = True
    if certificates.two_grades is not None and len(certificates):
        blocked = (match.place >= 0) & certificates.two_grades[np.maximum(match.place, 0)]
        match.place[blocked], match.doubtful[blocked] = -1, True
    return match


def _may_have_been(number: str, mangled: str) -> bool:
    """``123456780412`` may have become ``1.23457E+11``."""
    mantissa, _, exponent = mangled.replace(",", ".").partition("e")
    digits = len(mantissa.partition(".")[2])
    return (
        len(number) == int(exponent) + 1
        and f"{float(number):.{digits}e}" == f"{float(mangled.replace(',', '.')):.{digits}e}"
    )


@rule(
    CAUTION, "row",
    read="a heat number that fits certificates only in part: digits or zeros are lost, or they name two grades",
    assumed="nothing is joined",
    do="type the heat number from the certificate or from the bar",
)  # fmt: skip
def certificate_heat_doubtful(work: Work, match: HeatMatch) -> None:
    """Two heats that fit a damaged number are two steels, and one that fits may not be the only one."""
    rows = match.doubtful[safe(work.heat)] & (work.heat >= 0)
    work.strike(certificate_heat_doubtful, work.columns.get("heat_number", -1), rows & _bars(work))


@rule(
    NOTE, "row",
    read="a heat number that differs from the certificate's by zeros at its start",
    assumed="the same heat: a spreadsheet drops such zeros, and no other heat fits",
    do="format the column as text",
)  # fmt: skip
def certificate_heat_zeros(work: Work, match: HeatMatch) -> None:
    """``123`` for heat 00123."""
    rows = match.by_zeros[safe(work.heat)] & (work.heat >= 0)
    work.strike(certificate_heat_zeros, work.columns.get("heat_number", -1), rows & _bars(work))


@rule(
    NOTE, "row",
    read="no grade here, but the certificate of the heat names one",
    assumed="the grade of the certificate",
    do="write it on the bar",
)  # fmt: skip
def grade_from_certificate(work: Work, given: Bools) -> None:
    """A heat has one grade."""
    work.strike(grade_from_certificate, work.columns.get("heat_number", -1), given)


@rule(
    CAUTION, "row",
    read="a certificate of this heat that names another grade",
    assumed="two different steels: nothing is joined",
    do="correct the heat number or the grade",
)  # fmt: skip
def certificate_other_grade(work: Work, other: Bools) -> None:
    """Two mills may use one number."""
    work.strike(certificate_other_grade, work.columns.get("grade", -1), other)


@rule(
    CAUTION, "row",
    read="a content that the certificate of this heat contradicts",
    assumed="the row's own content, with a half-width that covers both",
    do="find out which of the two belongs to the bar",
)  # fmt: skip
def certificate_conflict(work: Work, joined: _Joined) -> None:
    """They differ by more than two analyses of one heat may (EN ISO 683-1, from memory)."""
    for element, column in enumerate(work.column_of):
        apart, difference = _apart(work, joined, element)
        rows = joined.rows[apart]
        work.half_width[rows, element] = np.maximum(work.half_width[rows, element], difference[apart])
        work.strike(certificate_conflict, column, rows)


@rule(
    NOTE, "row",
    read="a content stated as a limit, a range, or more coarsely than on the certificate",
    assumed="the content of the certificate, which it holds",
    do="nothing",
)  # fmt: skip
def certificate_sharper(work: Work, joined: _Joined) -> None:
    """``0.8`` in the rack and 0.81 on the certificate; ``max 0.30`` and 0.11."""
    for element, column in enumerate(work.column_of):
        value, half = work.values[joined.rows, element], work.half_width[joined.rows, element]
        status = work.status[joined.rows, element]
        measured = joined.status[:, element] == MEASURED
        coarse = (status == MEASURED) & (half >= limit("coarse_ratio") * joined.half_width[:, element])
        held = np.abs(value - joined.values[:, element]) <= half + 1e-9
        sharper = measured & held & (coarse | (status == BELOW_LIMIT) | (status == FILLED))
        _write(work, joined, element, sharper)
        work.strike(certificate_sharper, column, joined.rows[sharper])


@rule(
    NOTE, "row",
    read="no content here, but a certificate of this heat states one",
    assumed="the content of the certificate",
    do="nothing",
)  # fmt: skip
def filled_from_certificate(work: Work, joined: _Joined) -> None:
    """The heat number leads to the analysis (EN 10204, type 3.1)."""
    filled = np.zeros(len(joined.rows), dtype=bool)
    for element in range(len(ELEMENTS)):
        gap = (work.status[joined.rows, element] == NOT_STATED) & joined.stated[:, element]
        _write(work, joined, element, gap)
        filled |= gap
    work.strike(filled_from_certificate, work.columns.get("heat_number", -1), joined.rows[filled])


@rule(
    CAUTION, "row",
    read="no content here, and certificates of this heat that contradict each other",
    assumed="the product analysis where there is one, else their middle, with a half-width that covers them",
    do="find out which certificate belongs to the bar",
)  # fmt: skip
def certificates_disagree(work: Work, joined: _Joined) -> None:
    """Two laboratories, one heat, 0.09 % carbon apart."""
    struck = np.zeros(len(joined.rows), dtype=bool)
    for element in range(len(ELEMENTS)):
        struck |= joined.doubtful[:, element] & (work.status[joined.rows, element] == NOT_STATED)
    work.strike(certificates_disagree, work.columns.get("heat_number", -1), joined.rows[struck])


def join(work: Work, certificates: Certificates, match: HeatMatch, grade_codes: NDArray[np.int32]) -> None:
    """Join the certificates to the rows of the block. ``grade_codes`` gives the certificate's grade of each heat text
    as an index into the block's grades (-1: none)."""
    certificate_heat_doubtful(work, match)
    place = np.where(work.heat >= 0, match.place[safe(work.heat)], -1)
    theirs = grade_codes[safe(work.heat)]
    reached = (place >= 0) & _bars(work)
    same = work.grade_same[safe(work.grade_code)] == work.grade_same[safe(theirs)]
    other = reached & work.graded & (theirs >= 0) & ~same
    certificate_other_grade(work, other)
    rows = np.flatnonzero(reached & ~other)
    if not len(rows) or certificates.chemistry is None:
        return
    certificate_heat_zeros(work, match)
    of, chemistry = place[rows], certificates.chemistry
    joined = _Joined(rows, chemistry.values[of], chemistry.half_width[of], chemistry.status[of], chemistry.doubtful[of])
    certificate_sharper(work, joined)
    certificate_conflict(work, joined)
    certificates_disagree(work, joined)
    filled_from_certificate(work, joined)


def _bars(work: Work) -> Bools:
    bars: Bools = ~np.isin(work.role, (MINIMUM_ROW, MAXIMUM_ROW))
    return bars


def _apart(work: Work, joined: _Joined, element: int) -> tuple[Bools, Floats]:
    value, half = work.values[joined.rows, element], work.half_width[joined.rows, element]
    stated = (work.status[joined.rows, element] <= BELOW_LIMIT) & ~np.isnan(value) & joined.stated[:, element]
    difference = np.abs(value - joined.values[:, element])
    allowed = repeatability_of(element, np.fmax(value, joined.values[:, element]))
    allowed = np.maximum(allowed, half + joined.half_width[:, element])
    apart: Bools = stated & (difference > allowed + 1e-9)
    return apart, difference


def _write(work: Work, joined: _Joined, element: int, where: Bools) -> None:
    rows = joined.rows[where]
    work.values[rows, element] = joined.values[where, element]
    work.half_width[rows, element] = joined.half_width[where, element]
    work.status[rows, element] = joined.status[where, element]
    work.from_certificate[rows, element] = True
