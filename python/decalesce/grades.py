"""Find a steel grade by any of its names.

``find("1084")``, ``find("AISI 1084")``, ``find("G10840")`` and ``find("1.3505")`` all answer. A number that several
grades share gives the grade whose own number it is; where there is none, the error lists the candidates. A name that
is only near a grade answers too, and the answer says ``relation="nearest"``: nearest is not equal.

Nothing is read at import; the tables are read on first use.
"""

import csv
import math
import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from decalesce import data_files
from decalesce.grade import Fact, Grade, Limits, MidRange

if TYPE_CHECKING:
    import pandas as pd

__all__ = [
    "AmbiguousGradeError",
    "Fact",
    "Grade",
    "GradeMatch",
    "Limits",
    "MidRange",
    "UnknownGradeError",
    "find",
    "find_many",
    "near",
    "table",
]

# Longer garbage on a certificate is a sentence, not a designation; scoring it against every name wastes time.
_LONGEST_NAME = 60
_DASHES = dict.fromkeys(map(ord, "‐‑‒–—―−﹘﹣-"), "-")
_LOOKALIKE = str.maketrans("OQILSB", "001158")
_PREFIX = re.compile(
    r"(?:AISI|SAE|UNS|DIN|EN[\s-]?ISO|ISO|EN|JIS|BS|AFNOR|GOST|TYPE|GRADE|STEEL|TOOL\s?STEEL"
    r"|ASTM(?:\s?A\s?\d{3,4}[A-Z]?(?=[\s:/-]+\S))?"
    r"|W\.?\s?-?\s?(?:NR|NO)\.?|WERKSTOFF(?:-?\s?(?:NUMMER|NR\.?))?|MAT\.?\s?-?\s?(?:NR|NO)\.?)[\s:./_-]*"
)
# A spreadsheet turns 1.2080 into 1.208 and 1095 into 1095.0.
_MATERIAL_NUMBER = re.compile(r"(?<![\d.,])1[.,]\s?(\d{3,4})(?!\d)")
_WHOLE_NUMBER = re.compile(r"(?<!\d)(\d{4,6})\.0+$")


class GradeLookupError(LookupError):
    """A name that does not lead to one grade."""


class UnknownGradeError(GradeLookupError):
    """No grade has this name; ``near`` holds the designations that look most like it."""

    def __init__(self, name: str, near: tuple[str, ...] = ()) -> None:
        """Make the error for ``name`` with its near matches."""
        self.name = name
        self.near = near
        hint = f"; near: {', '.join(near)}" if near else ""
        super().__init__(f"unknown grade {name!r}{hint}")

    def __reduce__(self) -> tuple[type["UnknownGradeError"], tuple[str, tuple[str, ...]]]:
        """Pickle by name and near matches, so that the error crosses a process pool."""
        return UnknownGradeError, (self.name, self.near)


class AmbiguousGradeError(GradeLookupError):
    """Several grades share this name and it is the own name of none; ``candidates`` lists them."""

    def __init__(self, name: str, candidates: tuple[str, ...]) -> None:
        """Make the error for ``name`` shared by ``candidates``."""
        self.name = name
        self.candidates = candidates
        super().__init__(f"grade {name!r} is shared by {', '.join(candidates)}: name one of them")

    def __reduce__(self) -> tuple[type["AmbiguousGradeError"], tuple[str, tuple[str, ...]]]:
        """Pickle by name and candidates."""
        return AmbiguousGradeError, (self.name, self.candidates)


@dataclass(frozen=True, slots=True)
class GradeMatch:
    """One answer of :func:`find_many`: the grade, or ``None``, and the reason in words (empty when all is well)."""

    grade: Grade | None
    reason: str


class _Name(NamedTuple):
    designation: str
    relation: str


def _key(text: str) -> str:
    """Reduce a name to what distinguishes grades: upper case, no blanks, hyphens, underscores or brackets."""
    folded = unicodedata.normalize("NFKC", text).translate(_DASHES).upper()
    folded = _WHOLE_NUMBER.sub(r"\1", folded.strip())
    folded = _MATERIAL_NUMBER.sub(lambda match: f"1.{match[1]:0<4}", folded)
    return re.sub(r"[\s\-_()/]+", "", folded)


def _keys(text: str) -> list[str]:
    """Give the keys to try, in order: the whole name first, then with the names of standards taken off the front."""
    keys = [_key(text)]
    rest = unicodedata.normalize("NFKC", text).translate(_DASHES).upper().strip()
    while (match := _PREFIX.match(rest)) and match.end() < len(rest):
        rest = rest[match.end() :]
        keys.append(_key(rest))
    return [key for key in keys if key]


def _limit(text: str) -> float | None:
    return float(text) if text else None


def _grade(row: dict[str, str]) -> Grade:
    limits = []
    for column, text in row.items():
        element, _, edge = column.partition("_")
        if edge == "min":
            low, high = _limit(text), _limit(row[f"{element}_max"])
            if low is not None or high is not None:
                limits.append((element, Limits(low, high)))
    return Grade(
        designation=row["designation"],
        system=row["system"],
        uns=row["uns"],
        wnr=row["wnr"],
        family=row["family"],
        element_limits=tuple(limits),
        source=row["source"],
        source_note=row["source_note"],
        status=row["status"],
        memory_fields=tuple(row["memory_fields"].split()),
        note=row["note"],
        matched_as=row["designation"],
    )


@lru_cache(maxsize=1)
def _grades() -> dict[str, Grade]:
    with data_files.path("grades.csv").open(encoding="utf-8", newline="") as stream:
        return {row["designation"]: _grade(row) for row in csv.DictReader(stream)}


@lru_cache(maxsize=1)
def _names() -> dict[str, tuple[_Name, ...]]:
    names: defaultdict[str, list[_Name]] = defaultdict(list)
    for designation in _grades():
        names[_key(designation)].append(_Name(designation, "own"))
    with data_files.path("grade_aliases.csv").open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            names[_key(row["alias"])].append(_Name(row["grade"], row["relation"]))
    return {key: tuple(entries) for key, entries in names.items()}


def _choose(text: str, entries: tuple[_Name, ...]) -> _Name:
    """Pick the grade a shared name means: its own, else the only equal, else the only nearest."""
    for relation in ("own", "equal", "nearest"):
        candidates = sorted({entry.designation for entry in entries if entry.relation == relation})
        if len(candidates) == 1:
            return _Name(candidates[0], relation)
        if candidates:
            raise AmbiguousGradeError(text, tuple(candidates))
    raise UnknownGradeError(text)


def find(designation: str) -> Grade:
    """Return the grade a name means.

    Case, blanks, hyphens (also typographic ones), underscores and the names of standards in front are ignored:
    ``"SAE-1084"``, ``"aisi o1"``, ``"W.-Nr. 1,3505"``. The answer carries the name given (``matched_as``) and what
    that name means (``relation``: own, equal or nearest).

    Args:
        designation: any name of a grade.

    Raises:
        TypeError: ``designation`` is not text.
        UnknownGradeError: no grade has this name; the error lists near matches. A ``LookupError``.
        AmbiguousGradeError: several grades share the name and it is the own name of none. A ``LookupError``.
    """
    if not isinstance(designation, str):
        raise TypeError(f"designation: expected text such as '1084', got {designation!r}")
    return _resolve(designation)


@lru_cache(maxsize=4096)
def _resolve(designation: str) -> Grade:
    names = _names()
    entries = [names[key] for key in _keys(designation) if key in names]
    # "AISI O1" is listed as an alias and is also O1's own name behind a prefix: the own name counts.
    entries.sort(key=lambda found: all(entry.relation != "own" for entry in found))
    if entries:
        chosen = _choose(designation, entries[0])
        return replace(_grades()[chosen.designation], matched_as=designation, relation=chosen.relation)
    raise UnknownGradeError(designation, near(designation, n=5))


@lru_cache(maxsize=1)
def _lookalikes() -> dict[str, str]:
    """Every key of a grade with letters that pass for digits written as those digits."""
    return {key: key.translate(_LOOKALIKE) for key in _names()}


def near(designation: str, n: int = 5) -> tuple[str, ...]:
    """Return the designations of at most ``n`` grades whose names look most like ``designation``, best first.

    Both the grades' own names and their aliases are compared. Text that resembles nothing gives an empty tuple.
    """
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    keys = _keys(designation[:_LONGEST_NAME])
    if n < 1 or not keys:
        return ()
    # OSA counts two swapped digits as one slip, as a typist does.
    scored = process.extract(
        keys[-1].translate(_LOOKALIKE), _lookalikes(), scorer=OSA.normalized_similarity, limit=4 * n, score_cutoff=0.5
    )
    found: dict[str, None] = {}
    for _, _, key in scored:
        for entry in _names()[key]:
            found.setdefault(entry.designation)
    return tuple(found)[:n]


def find_many(designations: Iterable[object]) -> list[GradeMatch]:
    """Look up a whole rack: one answer for each input, in order, each distinct name resolved once.

    Never raises for a bad name: the answer then holds no grade and says why. A missing cell (``None``, NaN, blank)
    gives no grade and the reason ``no grade stated``. A nearest match holds the grade and says that it is nearest.
    """
    answers: dict[object, GradeMatch] = {}
    matches = []
    for item in designations:
        key: object = item if isinstance(item, str) else (type(item), repr(item))
        if key not in answers:
            answers[key] = _match(item)
        matches.append(answers[key])
    return matches


def _match(item: object) -> GradeMatch:
    # NaN is the empty cell of a number column.
    number = item if isinstance(item, (int, float)) and not isinstance(item, bool) else _plain_number(item)
    missing = item is None or (number is not None and math.isnan(number))
    if missing or (isinstance(item, str) and not item.strip()) or type(item).__name__ in {"NAType", "NaTType"}:
        return GradeMatch(None, "no grade stated")
    text = item if isinstance(item, str) else str(item)
    try:
        grade = find(text)
    except LookupError as error:
        return GradeMatch(None, str(error))
    if grade.relation == "nearest":
        return GradeMatch(grade, f"{text!r} read as {grade.designation}: the nearest grade, not an equal")
    return GradeMatch(grade, "")


def _plain_number(item: object) -> float | None:
    """Return a NumPy scalar as a plain number, anything else as ``None``."""
    value = item.item() if hasattr(item, "dtype") and hasattr(item, "item") and getattr(item, "ndim", 1) == 0 else None
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None


def table() -> "pd.DataFrame":
    """Return all grades, one row each: designation, systems, family, limits ``C_min``, ``C_max`` … in wt %, source.

    A limit the standard does not set is NaN. The frame is the caller's own copy.
    """
    import pandas as pd

    text = {name: "string" for name in ("designation", "system", "uns", "wnr", "family", "memory_fields", "note")}
    frame = pd.read_csv(data_files.path("grades.csv"), dtype=text, encoding="utf-8")
    columns = list(text)
    frame[columns] = frame[columns].fillna("")
    return frame
