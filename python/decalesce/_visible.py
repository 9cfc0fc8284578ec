"""Text made safe to print: control characters of a cell must not steer a terminal or break a workbook."""

from __future__ import annotations

import re

# C0, DEL and C1 controls, line and paragraph separators, marks and overrides of writing direction, lone surrogates
_UNSEEN = re.compile("[\x00-\x1f\x7f-\x9f\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
_BLANKS = frozenset("\t\n\v\f\r\u2028\u2029")


def visible(text: str) -> str:
    """The text with tabs and line breaks as blanks and every other control character written out: ``\\x1b``."""
    return text if text.isascii() and text.isprintable() else _UNSEEN.sub(_written_out, text)


def in_json(text: str) -> str:
    """JSON text with the same characters as escapes; JSON itself escapes only those below the blank, and has ends of
    lines between its members, which stay."""
    return text if text.isascii() else _UNSEEN.sub(_as_escape, text)


def _as_escape(match: re.Match[str]) -> str:
    return match.group() if match.group() == "\n" else f"\\u{ord(match.group()):04x}"


def _written_out(match: re.Match[str]) -> str:
    character = match.group()
    if character in _BLANKS:
        return " "
    return f"\\x{ord(character):02x}" if ord(character) < 0x100 else f"\\u{ord(character):04x}"
