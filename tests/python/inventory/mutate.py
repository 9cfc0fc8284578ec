"""A seeded generator of damaged certificates: one certificate a line, one batch a file.

``certificates`` writes clean ones for standard grades and damages most: characters and bytes replaced, dropped,
doubled or swapped, cells emptied, moved or exchanged, delimiters lost or added, lines in another encoding. Line breaks
are never inserted, so the number of lines is the number of rows that must come back. Run as a script it prints a few.
"""

from __future__ import annotations

import random
from collections.abc import Callable

HEADERS = (
    "piece id",
    "grade",
    "heat no",
    "size",
    "condition",
    "target HRC",
    "harden °C",
    "C",
    "Mn %",
    "Si",
    "Cr",
    "Ni",
    "Mo",
    "N ppm",
    "P max",
    "remark",
)
STEELS = {
    "1095": "0.95 0.40 0.20 0.05 0.04 0.01 70 0.03",
    "5160": "0.60 0.85 0.25 0.80 0.06 0.02 80 0.03",
    "4340": "0.40 0.70 0.25 0.80 1.80 0.25 75 0.03",
    "100Cr6": "0.98 0.35 0.25 1.45 0.08 0.02 60 0.03",
}
SIZES = ('3/16"', "4,8 x 40", "Ø 25", "25 rd", "1-1/2 in", "40x8x1000", "SW 17", ".187", "6 mm")
ALPHABET = list(
    "0123456789.,-+<>%‰ OolIeE\"'*()[]/\\x×ØµäöéßΩ"
    "漢٣½²nNaAtTrRmMpP=#~|^_?!&$@;:\t\0\x01\x1c\x7f\u00a0\u2028\u200b\ufeff"
)
ENCODINGS = ("cp1252", "latin-1", "cp850", "cp437", "utf-16-le", "mac_roman")


def clean(rng: random.Random, number: int) -> list[str]:
    """The cells of an undamaged certificate."""
    grade = rng.choice(list(STEELS))
    cells = [
        f"B{number:06d}",
        grade,
        f"{rng.randrange(10**5):05d}",
        rng.choice(SIZES),
        rng.choice(("annealed", "geglüht", "+AC")),
    ]
    return [*cells, str(rng.randint(56, 64)), str(rng.randint(780, 860)), *STEELS[grade].split(), "für den Hof"]


def _text(change: Callable[[random.Random, str], str]) -> Callable[[random.Random, list[str]], None]:
    def damage(rng: random.Random, cells: list[str]) -> None:
        at = rng.randrange(len(cells))
        cells[at] = change(rng, cells[at])

    return damage


def _replace(rng: random.Random, text: str) -> str:
    at = rng.randrange(len(text)) if text else 0
    return text[:at] + rng.choice(ALPHABET) + text[at + 1 :]


def _insert(rng: random.Random, text: str) -> str:
    at = rng.randrange(len(text) + 1)
    return text[:at] + rng.choice(ALPHABET) + text[at:]


def _drop(rng: random.Random, text: str) -> str:
    at = rng.randrange(len(text)) if text else 0
    return text[:at] + text[at + 1 :]


def _double(rng: random.Random, text: str) -> str:
    return text * rng.choice((2, 2, 3, 40))


def _noise(rng: random.Random, text: str) -> str:
    return "".join(rng.choice(ALPHABET) for _ in range(rng.randrange(9)))


def _word(rng: random.Random, text: str) -> str:
    return rng.choice(
        (
            "tr.",
            "<" + text,
            "max " + text,
            text + " %",
            "nan",
            "inf",
            "1e308",
            "-" + text,
            "n.d.",
            "0",
            text + "-" + text,
            "#REF!",
            "9" * 400,
            text.replace(".", ","),
            text.replace("0", "O"),
            "±",
            "1.05.2024",
            "",
        )
    )


def _exchange(rng: random.Random, cells: list[str]) -> None:
    a, b = rng.randrange(len(cells)), rng.randrange(len(cells))
    cells[a], cells[b] = cells[b], cells[a]


def _delete(rng: random.Random, cells: list[str]) -> None:
    del cells[rng.randrange(len(cells))]


def _add(rng: random.Random, cells: list[str]) -> None:
    cells.insert(rng.randrange(len(cells) + 1), rng.choice(("", "0.95", "x")))


def _scale(rng: random.Random, cells: list[str]) -> None:
    at = rng.randrange(len(cells))
    try:
        cells[at] = repr(float(cells[at]) * rng.choice((10.0, 100.0, 1e4)))
    except ValueError:
        cells[at] = cells[at].swapcase()


DAMAGES: tuple[Callable[[random.Random, list[str]], None], ...] = (
    *(_text(change) for change in (_replace, _replace, _insert, _insert, _drop, _double, _noise, _word, _word)),
    _exchange,
    _delete,
    _add,
    _scale,
)


def _line(rng: random.Random, cells: list[str], delimiter: str) -> bytes:
    text = delimiter.join(cells).replace("\n", " ").replace("\r", " ")
    data = text.encode("utf-8")
    if rng.random() < 0.05:
        data = text.encode(rng.choice(ENCODINGS), errors="replace")
    if rng.random() < 0.05 and data:
        at = rng.randrange(len(data))
        data = data[:at] + bytes([rng.randrange(256)]) + data[at + 1 :]
    return data.replace(b"\n", b" ").replace(b"\r", b" ") or b"?"


def certificates(count: int, seed: int, delimiter: str = ";") -> bytes:
    """A file of ``count`` certificates below one good header; nine of ten are damaged, some several times."""
    rng = random.Random(seed)
    lines = [delimiter.join(HEADERS).encode("utf-8")]
    for number in range(count):
        cells = clean(rng, number)
        for _ in range(rng.choice((0, 1, 1, 1, 1, 2, 2, 3, 4, 8))):
            if cells:
                rng.choice(DAMAGES)(rng, cells)
        line = _line(rng, cells, delimiter)
        lines.append(line if line.strip(b" ") else b"?")
    return b"\n".join(lines) + b"\n"


def damaged_file(seed: int) -> bytes:
    """A small file damaged as a whole: header cells, columns dropped or exchanged, delimiter, encoding, stray bytes."""
    rng = random.Random(seed)
    rows = [list(HEADERS), *(clean(rng, i) for i in range(rng.randrange(6)))]
    for _ in range(rng.randrange(5)):
        a, b = rng.randrange(len(rows[0])), rng.randrange(len(rows[0]))
        kind = rng.randrange(4)
        for row in rows:
            if kind == 0 and len(row) > 1:
                del row[min(a, len(row) - 1)]
            elif kind == 1 and max(a, b) < len(row):
                row[a], row[b] = row[b], row[a]
        if kind == 2:
            rng.choice(DAMAGES)(rng, rows[0]) if rows[0] else None
        if kind == 3:
            rows[0] = [h.upper() for h in rows[0]]
        if not rows[0]:
            break
    text = rng.choice(("\n", "\r\n", "\r")).join(rng.choice(";,\t|").join(row) for row in rows)
    data = bytearray(text.encode(rng.choice(("utf-8", "utf-8-sig", "utf-16", "utf-32", *ENCODINGS)), errors="replace"))
    for _ in range(rng.choice((0, 0, 1, 5))):
        if data:
            data[rng.randrange(len(data))] = rng.randrange(256)
    return bytes(data)


if __name__ == "__main__":
    print(certificates(12, seed=1).decode("utf-8", "replace"))
