"""The JSON document of an answer: plain data, every number with its band, flags and sources, the cautions inside."""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from math import isfinite
from typing import Any, TextIO

from decalesce import _core
from decalesce._core import Estimate
from decalesce._visible import in_json
from decalesce.cli import bibliography, keys, words
from decalesce.plan import Caution

_LEVEL: dict[str, str] = {flag: level for flag, level, _ in _core.flag_table()}
_SENTENCE: dict[str, str] = {flag: sentence for flag, _, sentence in _core.flag_table()}


def flag_level(flag: str) -> str:
    """Level of a flag."""
    return _LEVEL[flag]


def flag_sentence(flag: str) -> str:
    """Sentence of a flag."""
    return _SENTENCE[flag]


#: Flags whose sentence speaks of a number, said anew where there is none.
_WITHOUT_NUMBER = {
    "outside_range": "No formula here covers this composition.",
}


def why_none(estimate: Estimate) -> str:
    """Why an estimate has no value: the sentence of its gravest flag."""
    gravest = max(estimate.flags, key=lambda flag: words.LEVELS.index(_LEVEL[flag]), default=None)
    # "does not exist for this steel" explains more than any range that the formulas have
    if "not_applicable" in estimate.flags:
        gravest = "not_applicable"
    if gravest is None:
        return "Nothing here answers this."
    return _WITHOUT_NUMBER.get(gravest, _SENTENCE[gravest])


@dataclass(frozen=True)
class Rows:
    """A list of plain objects that are made and written one after the other: a long rack is never held as a whole."""

    made: Callable[[], Iterable[Mapping[str, Any]]]


class _Collector:
    """Turns answers into plain data and remembers the flags and sources it met on the way."""

    def __init__(self) -> None:
        self.flags: dict[str, list[str]] = {}
        self.sources: dict[str, None] = {}

    def plain(self, value: Any, path: str = "") -> Any:
        if isinstance(value, Estimate):
            return self._number(value, path)
        if isinstance(value, bool) or value is None or isinstance(value, (int, str, Rows)):
            return value
        if isinstance(value, float):
            return value if isfinite(value) else None
        if isinstance(value, Mapping):
            return {str(key): self.plain(item, f"{path}.{key}" if path else str(key)) for key, item in value.items()}
        if is_dataclass(value):
            members = {field.name: getattr(value, field.name) for field in fields(value)}
            self._source(members.get("source"))
            for key in members.get("sources") or ():
                self._source(key)
            return self.plain(members, path)
        if isinstance(value, Sequence):
            return [self.plain(item, f"{path}[{i}]") for i, item in enumerate(value)]
        raise TypeError(f"{path} = {value!r} cannot be written as JSON")

    def _source(self, key: Any) -> None:
        if isinstance(key, str) and key:
            self.sources.setdefault(key)

    def _number(self, estimate: Estimate, path: str) -> dict[str, Any]:
        for flag in estimate.flags:
            self.flags.setdefault(flag, []).append(path)
        for key in estimate.sources:
            self._source(key)
        number = {
            "value": self.plain(estimate.value),
            "low": self.plain(estimate.low),
            "high": self.plain(estimate.high),
            "unit": estimate.unit,
            "flags": list(estimate.flags),
            "level": estimate.level,
            "parts": self.plain(estimate.parts),
            "sources": list(estimate.sources),
        }
        if number["value"] is None:
            number["no_answer"] = why_none(estimate)
        return number


def document(
    command: str,
    body: Mapping[str, Any],
    cautions: Sequence[Caution],
    *,
    levels: Sequence[str] = (),
    cite: Sequence[str] = (),
    flags: Mapping[str, list[str]] | None = None,
) -> dict[str, Any]:
    """The document of a command.

    Args:
        command: its name.
        body: the answers by key; estimates, dataclasses, mappings and sequences become plain data.
        cautions: of the work.
        levels: of findings that are no flag of a number, counted in ``level``.
        cite: bibliography keys that stand in plain text of the body.
        flags: flags that no estimate of the body carries, with the names of what carries them.
    """
    import decalesce

    collector = _Collector()
    plain = collector.plain(body)
    for key in cite:
        collector.sources.setdefault(key)
    listed = [
        {"id": flag, "level": _LEVEL[flag], "sentence": _SENTENCE[flag], "numbers": numbers}
        for flag, numbers in (collector.flags | dict(flags or {})).items()
    ]
    listed.sort(key=lambda flag: -words.LEVELS.index(str(flag["level"])))
    return {
        "schema": keys.SCHEMA,
        "command": command,
        "version": decalesce.__version__,
        **plain,
        "flags": listed,
        "level": words.gravest([*(str(flag["level"]) for flag in listed), *levels]),
        "sources": {key: bibliography.text_of(key) for key in sorted(collector.sources)},
        "cautions": collector.plain(list(cautions)),
    }


_ENCODER = json.JSONEncoder(indent=2, ensure_ascii=False, allow_nan=False)


def pieces(content: Mapping[str, Any]) -> Iterator[str]:
    """The document as text, piece by piece."""
    for i, (key, value) in enumerate(content.items()):
        yield f"{',' if i else '{'}\n  {json.dumps(key)}: "
        if isinstance(value, Rows):
            yield from _list_of(value)
        else:
            yield from (_set_in(piece, 1) for piece in _ENCODER.iterencode(value))
    yield "\n}" if content else "{}"


def _list_of(rows: Rows) -> Iterator[str]:
    before = "["
    for row in rows.made():
        yield f"{before}\n    {_set_in(_ENCODER.encode(row), 2)}"
        before = ","
    yield "[]" if before == "[" else "\n  ]"


def _set_in(text: str, depth: int) -> str:
    """Text of JSON that stands ``depth`` levels deep; no string of it holds an end of a line."""
    return in_json(text).replace("\n", "\n" + "  " * depth)


def dump(content: Mapping[str, Any]) -> str:
    """The document as text."""
    return "".join(pieces(content))


def write(content: Mapping[str, Any], stream: TextIO) -> None:
    """The document to a stream, piece by piece, and the end of its last line."""
    for piece in pieces(content):
        stream.write(piece)
    stream.write("\n")
