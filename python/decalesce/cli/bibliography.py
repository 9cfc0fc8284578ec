"""Reads the bibliography, so that a key on the screen leads to a publication and to the errata known of it."""

import re
from dataclasses import dataclass
from functools import cache

from decalesce import data_files

_ENTRY = re.compile(r"^@(?P<kind>\w+)\{(?P<key>[^,]+),\n(?P<body>.*?)^\}", re.MULTILINE | re.DOTALL)
_FIELD = re.compile(r"^\s*(?P<name>\w+)\s*=\s*\{(?P<value>.*)\},?\s*$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Publication:
    """One entry: key, the citation in words, how it was seen, and the note, where errata stand."""

    key: str
    text: str
    status: str
    note: str


def _words(value: str) -> str:
    return value.replace("--", "–").replace("{", "").replace("}", "").replace("\\&", "&")


def _text(entry: dict[str, str]) -> str:
    who = entry.get("author") or entry.get("organization") or ""
    where = entry.get("journal") or entry.get("number") or entry.get("booktitle") or entry.get("publisher") or ""
    place = " ".join(part for part in (where, entry.get("volume", "")) if part)
    if entry.get("pages"):
        place = f"{place}, {entry['pages']}" if place else entry["pages"]
    year = f"({entry['year']})" if entry.get("year") else ""
    head = " ".join(part for part in (who.replace(" and ", "; "), year) if part)
    return _words(". ".join(part for part in (head, entry.get("title", ""), place) if part))


@cache
def publications() -> dict[str, Publication]:
    """Every publication by key, in the order of the file."""
    content = data_files.path("bibliography.bib").read_text(encoding="utf-8")
    found = {}
    for match in _ENTRY.finditer(content):
        entry = {field["name"].lower(): field["value"] for field in _FIELD.finditer(match["body"])}
        key = match["key"].strip()
        found[key] = Publication(key, _text(entry), entry.get("status", ""), _words(entry.get("note", "")))
    return found


def text_of(key: str) -> str:
    """The citation of a key in words; empty for a key that the bibliography does not hold."""
    publication = publications().get(key)
    return "" if publication is None else publication.text
