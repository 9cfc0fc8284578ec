"""Lines of a text file of unknown encoding.

A byte-order mark decides; else a file that is valid UTF-8 is UTF-8; else charset-normalizer looks at the lines that are
not ASCII. A file glued together from several sources is read line by line: a line that is valid UTF-8 is taken as such,
any other in the single-byte encoding found, so that no byte is lost.
"""

from __future__ import annotations

import codecs
import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from charset_normalizer import from_bytes

_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_SINGLE_BYTE = ["cp1252", "latin_1", "cp850", "cp437", "mac_roman", "cp1250"]
_USUAL = frozenset("äöüÄÖÜßéèêëàâçîïôûùœÉÈÀÇØø°±µ×²³½¼¾‰–…“”‘’·≤≥")
_TRUST = 0.6
_BINARY_SHARE, _FEW = 0.05, 8
_CONTROLS = [c for c in range(0x20) if c not in b"\t\n\v\f\r\x1b"]
_SAMPLE = 1 << 16
_CHUNK = 1 << 22


@dataclass(frozen=True)
class Encoding:
    """``name`` of the encoding, length of the byte-order mark, and whether it was guessed."""

    name: str
    bom: int
    guessed: bool

    @property
    def wide(self) -> bool:
        """True for UTF-16 and UTF-32, whose line ends are not single bytes."""
        return self.name.startswith(("utf-16", "utf-32"))


def detect_encoding(stream: BinaryIO) -> Encoding:
    """The encoding of a seekable byte stream; the stream is left at its start. Reads the file once, in chunks."""
    stream.seek(0)
    head = stream.read(_SAMPLE)
    for bom, name in _BOMS:
        if head.startswith(bom):
            stream.seek(0)
            return Encoding(name, len(bom), False)
    wide = _wide_without_mark(head)
    stream.seek(0)
    if wide:
        return Encoding(wide, 0, True)
    if _is_utf8(stream):
        return Encoding("utf-8", 0, False)
    name = _single_byte(_odd_lines(stream))
    stream.seek(0)
    return Encoding(name, 0, True)


def is_binary(head: bytes) -> bool:
    """True when the first bytes of a file are no text: more than one in twenty, and more than a few, are control
    characters. A text file holds next to none; noise and packed data hold one in nine. UTF-16 and UTF-32 are text."""
    if any(head.startswith(bom) for bom, _ in _BOMS) or _wide_without_mark(head):
        return False
    return sum(head.count(code) for code in _CONTROLS) > max(_FEW, _BINARY_SHARE * len(head))


def open_source(source: str | Path | bytes | BinaryIO) -> tuple[BinaryIO, str]:
    """A seekable byte stream and a name for it. Raises ``OSError`` when a path cannot be opened."""
    if isinstance(source, (str, Path)):
        return Path(source).open("rb"), Path(source).name
    if isinstance(source, bytes):
        return io.BytesIO(source), "bytes"
    return io.BytesIO(source.read()), str(getattr(source, "name", "stream"))


def lines_of(stream: BinaryIO, encoding: Encoding) -> Iterator[str]:
    """The lines of the stream without their ends. CR, LF and CR LF all end a line."""
    stream.seek(encoding.bom)
    if encoding.wide:
        reader = io.TextIOWrapper(stream, encoding=encoding.name, errors="replace", newline=None)
        try:
            for text in reader:
                yield text.rstrip("\n")
        finally:
            # The wrapper must let go: it would close the caller's stream, with a warning, when it is collected.
            if not stream.closed:
                reader.detach()
        return
    for raw in stream:
        line = _decode(raw, encoding.name).rstrip("\n")
        if line.endswith("\r"):
            line = line[:-1]
        if "\r" in line:
            yield from line.split("\r")
        else:
            yield line


def _decode(raw: bytes, single_byte: str) -> str:
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        name = "cp1252" if single_byte == "utf-8" else single_byte
        try:
            return raw.decode(name)
        except UnicodeDecodeError:
            return raw.decode("latin_1")


def _is_utf8(stream: BinaryIO) -> bool:
    decoder = codecs.getincrementaldecoder("utf-8")()
    try:
        while chunk := stream.read(_CHUNK):
            decoder.decode(chunk)
        decoder.decode(b"", final=True)
    except UnicodeDecodeError:
        stream.seek(0)
        return False
    stream.seek(0)
    return True


def _odd_lines(stream: BinaryIO) -> bytes:
    """Up to 64 kB of the lines that hold bytes outside ASCII and are not UTF-8."""
    out, size = [], 0
    for raw in stream:
        if raw.isascii() or _valid(raw):
            continue
        out.append(raw[:_SAMPLE])
        size += len(out[-1])
        if size > _SAMPLE:
            break
    return b"".join(out)[:_SAMPLE]


def _single_byte(sample: bytes) -> str:
    """The single-byte encoding under which most letters are those of a certificate; charset-normalizer when none stands
    out (its statistics need more text than the few accents of a rack)."""
    shares = [_share_of_usual(sample, name) for name in _SINGLE_BYTE]
    if max(shares) >= _TRUST:
        return _SINGLE_BYTE[shares.index(max(shares))]
    best = from_bytes(sample, cp_isolation=_SINGLE_BYTE).best()
    return best.encoding if best is not None else _SINGLE_BYTE[0]


def _share_of_usual(sample: bytes, name: str) -> float:
    try:
        odd = [c for c in sample.decode(name) if not c.isascii()]
    except UnicodeDecodeError:
        return 0.0
    return sum(c in _USUAL for c in odd) / max(len(odd), 1)


def _valid(raw: bytes) -> bool:
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def _wide_without_mark(head: bytes) -> str:
    """UTF-16 shows as NUL in every other byte of Latin text."""
    if len(head) < 8:
        return ""
    even, odd = head[0::2].count(0), head[1::2].count(0)
    half = len(head) / 2
    if odd > 0.5 * half and even < 0.1 * half:
        return "utf-16-le"
    return "utf-16-be" if even > 0.5 * half and odd < 0.1 * half else ""
