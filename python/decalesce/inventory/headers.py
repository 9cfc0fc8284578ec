"""Recognising columns: what a header means, in English, German or French, with its unit.

``recognise`` reads one header; ``recognise_all`` reads a header row and reports what was doubtful. A header nobody
recognises is no error: the column passes through.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz import fuzz, process

from decalesce.inventory import words
from decalesce.inventory.reading import plain
from decalesce.inventory.rules import CAUTION, NOTE, STOP, rule


@dataclass(frozen=True)
class ColumnRole:
    """What a column holds.

    ``kind``: element, other_element, a key of ``words.KINDS``, temperature, or unknown. ``element`` is the symbol;
    ``unit`` as the header states it; ``bound`` min or max for a column of limits; ``analysis`` ladle or product;
    ``purpose`` of a temperature; ``note`` how the header was recognised when not plainly (guessed, ambiguous, soluble).
    """

    kind: str
    element: str = ""
    unit: str = ""
    bound: str = ""
    analysis: str = ""
    purpose: str = ""
    note: str = ""

    @property
    def key(self) -> tuple[str, str, str, str, str]:
        """Columns with the same key hold the same thing."""
        return self.kind, self.element, self.bound, self.analysis, self.purpose


UNKNOWN = ColumnRole("unknown")
_SYMBOLS = {symbol.casefold(): symbol for symbol in (*words.ELEMENTS, *words.OTHER_ELEMENTS)}
_LETTER_DIMENSIONS = {
    "d": "thickness",
    "t": "thickness",
    "b": "width",
    "w": "width",
    "l": "length",
    "s": "thickness",
    "h": "thickness",
}
_WITHOUT_PLAN = frozenset({"unknown", "other_element", "hardness", "condition", "temperature"})
_AMBIGUOUS_LETTERS = frozenset("dsh")
_UNIT_PATTERN = re.compile(
    r"wt\.? ?-?%|mass ?-?%|massen ?-?%|gew\.? ?-?%|ma\.? ?-?%|%|‰|ppm ?w?|mg/kg|g/kg|"
    r"\b[o0]/[o0]{2}\b|[µμu]g/g|[x×*] ?10{1,4}\b|"
    r"\bpct\b|\bpercent\b|\bprozent\b|\bpour ?cent\b|\bpro ?mille\b|\bper ?mille\b|\bm/m\b",
    re.IGNORECASE,
)


@lru_cache(maxsize=4096)
def recognise(header: str) -> ColumnRole:
    """What one header means. Never raises; ``kind`` is unknown when nothing fits."""
    text = re.sub("(?<=[Nn])[°º]", "o ", plain(header)).replace("_", " ")
    unit, rest = _take_content_unit(text)
    tokens = _tokens(rest)
    element = _element(tokens, unit)
    if element is not None:
        return element
    return _other_column(tokens, bool(unit))


def _take_content_unit(text: str) -> tuple[str, str]:
    found = [words.element_unit(match) for match in _UNIT_PATTERN.findall(text)]
    known = [unit for unit in found if unit is not None]
    scaled = [unit for unit in known if unit != "%"]
    unit = scaled[0] if scaled else known[0] if known else ""
    return unit, _UNIT_PATTERN.sub(" ", text)


def _tokens(text: str) -> list[str]:
    spaced = re.sub(r"(?<=[a-zäöüéè])(?=[A-Z])", " ", text)
    folded = words.fold(re.sub(r'["″”]', " inch ", spaced)).replace("deg c", "degc").replace("deg f", "degf")
    return [t for t in re.split(r"[^0-9a-z°ø⌀+]+", folded) if t]


def _element(tokens: list[str], unit: str) -> ColumnRole | None:
    """The role when the tokens are one element and nothing but known company; None otherwise."""
    symbol = bound = analysis = note = ""
    for token in tokens:
        glued = re.fullmatch(r"([a-z]{1,2}?)(min|max)", token)
        if glued and glued.group(1) in _SYMBOLS and not symbol:
            symbol, bound = _SYMBOLS[glued.group(1)], glued.group(2)
        elif not symbol and (token in _SYMBOLS or token in words.ELEMENT_NAMES):
            symbol = _SYMBOLS.get(token) or words.ELEMENT_NAMES[token]
        elif token in words.MIN_WORDS:
            bound = "min"
        elif token in words.MAX_WORDS:
            bound = "max"
        elif token in words.LADLE:
            analysis = "ladle"
        elif token in words.PRODUCT:
            analysis = "product"
        elif token in words.SOLUBLE and symbol == "Al":
            note = "soluble"
        elif token not in words.NOISE and not re.fullmatch(r"[0-9]{1,2}", token):
            return None
    if not symbol:
        return None
    kind = "element" if symbol in words.ELEMENTS else "other_element"
    return ColumnRole(kind, symbol, unit, bound, analysis, note=note)


def _other_column(tokens: list[str], content_unit: bool) -> ColumnRole:
    unit, kept = _take_unit_tokens(tokens)
    if unit in ("mm", "cm", "m", "inch", "ft") and len(kept) == 1 and kept[0] in _LETTER_DIMENSIONS:
        note = "ambiguous" if kept[0] in _AMBIGUOUS_LETTERS else ""
        return ColumnRole(_LETTER_DIMENSIONS[kept[0]], unit=unit, note=note)
    temperature = _temperature(kept, unit)
    if temperature is not None:
        return temperature
    for phrase in dict.fromkeys((" ".join(tokens), " ".join(kept))):
        for kind, phrases in words.KINDS.items():
            if phrase in phrases:
                return ColumnRole(kind, unit=unit or _scale_in(tokens))
    if (
        unit in ("HRC", "HB", "HV")
        and kept
        and set(kept) & {"target", "aim", "wanted", "soll", "ziel", "required", "cible"}
    ):
        return ColumnRole("target_hardness", unit=unit)
    return UNKNOWN if content_unit else _guess(" ".join(kept), unit)


def _scale_in(tokens: list[str]) -> str:
    return next((words.UNIT_TOKENS[t] for t in tokens if words.UNIT_TOKENS.get(t) in ("HRC", "HB", "HV")), "")


def _take_unit_tokens(tokens: list[str]) -> tuple[str, list[str]]:
    units = [t for t in tokens if t in words.UNIT_TOKENS]
    kept = [t for t in tokens if t not in words.UNIT_TOKENS]
    if units:
        return words.UNIT_TOKENS[units[-1]], [t for t in kept if t not in ("in", "en")]
    if len(tokens) > 1 and tokens[-1] in ("in", "c", "f"):
        return {"in": "inch", "c": "°C", "f": "°F"}[tokens[-1]], tokens[:-1]
    return "", kept


def _temperature(tokens: list[str], unit: str) -> ColumnRole | None:
    named = bool(set(tokens) & words.TEMPERATURE_WORDS)
    if unit not in ("°C", "°F") and not named:
        return None
    purpose = next((p for p, names in words.TEMPERATURES.items() if set(tokens) & names), "other")
    if purpose == "other" and not named:
        return None
    return ColumnRole("temperature", unit=unit if unit in ("°C", "°F") else "", purpose=purpose)


_GUESSES: dict[str, ColumnRole] = {
    **{
        n: ColumnRole("element", s, note="guessed") for n, s in words.ELEMENT_NAMES.items() if len(n) >= 6 and s != "Fe"
    },
    **{
        phrase: ColumnRole(kind, note="guessed")
        for kind, phrases in words.KINDS.items()
        for phrase in phrases
        if len(phrase) >= 6
    },
}


def _guess(phrase: str, unit: str) -> ColumnRole:
    if len(phrase) < 6:
        return UNKNOWN
    found = process.extractOne(phrase, _GUESSES.keys(), scorer=fuzz.ratio, score_cutoff=88)
    if found is None:
        return UNKNOWN
    role = _GUESSES[found[0]]
    return ColumnRole(role.kind, role.element, unit, note="guessed")


def recognised(headers: Sequence[str]) -> int:
    """How many headers of a row are understood (the vote for delimiter and header row)."""
    return sum(recognise(h).kind != "unknown" for h in headers)


# --- rules about the header row: each returns the columns it strikes -------------------------------------------


@rule(
    CAUTION, "header",
    read="two columns with the same meaning",
    assumed="two analyses when they are elements; otherwise the first column is used and the later one is not",
    do="delete or rename one of them",
)  # fmt: skip
def duplicate_header(roles: Sequence[ColumnRole]) -> list[int]:
    """The later of two columns of one meaning: grade and steel, C and C."""
    seen: set[tuple[str, str, str, str, str]] = set()
    struck = []
    for i, role in enumerate(roles):
        if role.kind in ("unknown", "other_element", "analysis_kind"):
            continue
        if role.key in seen:
            struck.append(i)
        seen.add(role.key)
    return struck


@rule(
    NOTE, "header",
    read="a name that several columns carry",
    assumed="columns of their own, all kept; in a file the later ones get a number behind their name",
    do="give each column a name of its own",
)  # fmt: skip
def repeated_name(columns: Sequence[str], roles: Sequence[ColumnRole]) -> list[int]:
    """Two columns ``remark``. Where the columns mean something, ``duplicate_header`` says which is used."""
    doubled = duplicate_header(roles)
    return [i for i, name in enumerate(columns) if name in columns[:i] and i not in doubled]


@rule(
    NOTE, "header",
    read="columns from which nothing is computed",
    assumed="carried along as they are",
    do="rename one of them if it holds a grade, a heat, a content, a size or a wanted hardness",
)  # fmt: skip
def columns_not_used(roles: Sequence[ColumnRole]) -> list[int]:
    """Headers nobody understands, elements outside the list, what a plan does not ask for, and second columns."""
    doubled = [i for i in duplicate_header(roles) if roles[i].kind != "element" or roles[i].bound]
    return [i for i, role in enumerate(roles) if role.kind in _WITHOUT_PLAN or i in doubled]


@rule(
    CAUTION, "header",
    read="a header that may mean two things",
    assumed="S, D and H with a length unit are thicknesses",
    do="write the word in full",
)  # fmt: skip
def ambiguous_header(roles: Sequence[ColumnRole]) -> list[int]:
    """``D mm`` may be a diameter or a Dicke, ``S mm`` a Stärke."""
    return [i for i, role in enumerate(roles) if role.note == "ambiguous"]


@rule(CAUTION, "header", read="a misspelt header", assumed="the word nearest to it", do="correct the header")
def guessed_header(roles: Sequence[ColumnRole]) -> list[int]:
    """``Kohlenstof``."""
    return [i for i, role in enumerate(roles) if role.note == "guessed"]


@rule(
    NOTE, "header",
    read="acid-soluble aluminium",
    assumed="total aluminium (the rest is alumina and a few thousandths)",
    do="nothing",
)  # fmt: skip
def soluble_aluminium(roles: Sequence[ColumnRole]) -> list[int]:
    """``Al sol``."""
    return [i for i, role in enumerate(roles) if role.note == "soluble"]


@rule(
    NOTE, "header",
    read="a column of contents in another unit than per cent",
    assumed="10000 ppm, 10 per mille, or the printed power of ten, make 1 %",
    do="nothing",
)  # fmt: skip
def scaled_column(roles: Sequence[ColumnRole]) -> list[int]:
    """``N ppm``, ``C x100``."""
    return [i for i, role in enumerate(roles) if role.kind == "element" and role.unit not in ("", "%")]


@rule(
    STOP, "header",
    read="no column of contents and no grade column",
    assumed="nothing: no bar of this table has a chemistry",
    do="name the columns by element symbol, or add a grade column",
)  # fmt: skip
def nothing_recognised(roles: Sequence[ColumnRole]) -> list[int]:
    """A table that cannot be a rack or a certificate."""
    useful = any(role.kind in ("element", "grade") for role in roles)
    return [] if useful else [-1]


HEADER_RULES = (
    duplicate_header,
    ambiguous_header,
    guessed_header,
    soluble_aluminium,
    scaled_column,
    nothing_recognised,
)
