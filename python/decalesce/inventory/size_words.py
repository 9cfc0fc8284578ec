"""Shapes of bars: the words and signs of a size text that name one."""

from __future__ import annotations

import re
from functools import lru_cache

from decalesce.inventory.reading import plain
from decalesce.inventory.words import SHAPE_WORDS, SHAPES, fold

UNKNOWN_SHAPE, PLATE, ROUND, SQUARE, HEXAGON, RECTANGLE = range(len(SHAPES))
_SHAPE_SIGNS = {"Ø": ROUND, "ø": ROUND, "⌀": ROUND, "∅": ROUND, "φ": ROUND, "Φ": ROUND, "□": SQUARE, "⬡": HEXAGON}


def take_shape(text: str, shape: int) -> tuple[str, int]:
    """The text without shape words and signs, and the shape: the one given, else the first one named."""
    for sign, code in _SHAPE_SIGNS.items():
        if sign in text:
            shape = code if shape == UNKNOWN_SHAPE else shape
            text = text.replace(sign, " ")
    for word in re.findall(r"[^\W_]*[^\W\d_]+[^\W\d_]*", re.sub(r"(?<=[0-9])(?=[^\W\d_])", " ", text)):
        code = _shape_of(fold(word))
        if code != UNKNOWN_SHAPE:
            shape = code if shape == UNKNOWN_SHAPE else shape
            text = re.sub(rf"(?<![^\W\d_]){re.escape(word)}\.?(?![^\W\d_])", " ", text, count=1)
    return re.sub(" +", " ", text).strip(" ,;:="), shape


@lru_cache(maxsize=1024)
def _shape_of(word: str) -> int:
    return next((SHAPES.index(shape) for shape, names in SHAPE_WORDS.items() if word in names), UNKNOWN_SHAPE)


def shape_code(text: str) -> int:
    """The shape a word names (a cell of a shape column), 0 when unknown."""
    return next((code for word in re.findall(r"[^\W_]+|[^\w\s]", fold(plain(text))) if (code := _shape_of(word))), 0)
