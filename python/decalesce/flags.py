"""Flags: what an answer has to say about itself, with a level and a sentence that says what to do."""

from decalesce import _core


def names(bits: int) -> tuple[str, ...]:
    """Ids of the flags in a set of bits (the ``flags`` of a batch answer hold one set a row)."""
    return _core.flag_names(int(bits))


def sentences(bits: int) -> dict[str, str]:
    """Sentence of each flag in a set of bits, by id."""
    return _core.flag_sentences(int(bits))


def level(bits: int) -> str:
    """Gravest level in a set of bits: ``note``, ``caution`` or ``stop``."""
    return _core.flag_level(int(bits))


def bit(flag: str) -> int:
    """The bit of one flag. Raises ValueError for an unknown id."""
    return _core.flag_bit(flag)


def table() -> list[tuple[str, str, str]]:
    """Every flag: id, level, sentence."""
    return _core.flag_table()
