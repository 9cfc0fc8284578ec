"""Rules for element cells that hold a limit instead of a content: ``<0.01``, ``<LOD``, ``max 0.03``, ``min 0.90``."""

from __future__ import annotations

import re

from decalesce.inventory.cell_words import set_below, set_not_stated, set_unusable
from decalesce.inventory.limits import limit
from decalesce.inventory.reading import Reading
from decalesce.inventory.rules import CAUTION, NOTE, STOP, rule
from decalesce.inventory.words import LOWER, UPPER

_RESIDUALS = frozenset({"Cu", "P", "S", "N", "As", "Sn"})


@rule(
    NOTE, "cell",
    read="less than the instrument's limit, which is not stated",
    assumed="below 0.05 %, so 0.025 ± 0.025: a hand-held X-ray analyser sees more than that",
    do="nothing",
)  # fmt: skip
def below_unstated_limit(reading: Reading) -> bool:
    """``<LOD``, ``< NWG``: the limit of detection, of quantification (French: LD, LQ; German: NWG, BG)."""
    if re.fullmatch(r"<=? *(lod|loq|l\.?d\.?|l\.?q\.?|dl|nwg|ng|bg|mdl)\.?", reading.text.casefold()) is None:
        return False
    set_below(reading, limit("analyser_limit"))
    return True


@rule(NOTE, "cell", read="less than a limit", assumed="half the limit, give or take half the limit", do="nothing")
def below_limit(reading: Reading) -> bool:
    """``<0.01``: the laboratory's reporting limit."""
    match = re.match(r"< *(?=[0-9.,Ol])", reading.text)
    if match is None:
        return False
    reading.text, reading.kind = reading.text[match.end() :], "below"
    return True


@rule(
    NOTE, "cell",
    read="an upper limit (max, ≤) of a residual element, which is a specification and no analysis",
    assumed="half the limit, give or take half the limit",
    do="nothing: the treatment does not hang on it",
)  # fmt: skip
def upper_limit_residual(reading: Reading) -> bool:
    """``P max 0.025``, ``Cu 0.30 max.``: a promise about an element nobody added."""
    return reading.element in _RESIDUALS and _take_upper(reading)


@rule(
    CAUTION, "cell",
    read="an upper limit (max, ≤), which is a specification and no analysis",
    assumed="half the limit, give or take half the limit; of carbon, nothing",
    do="get the analysis of the heat",
)  # fmt: skip
def upper_limit(reading: Reading) -> bool:
    """``Cr max 0.30``, ``≤0.30``, ``0.30 max.``."""
    return reading.element not in _RESIDUALS and _take_upper(reading)


@rule(
    CAUTION, "cell",
    read="an upper limit of carbon and no analysis",
    assumed="not stated: half of it would be another steel, so the grade must give the carbon",
    do="get the analysis of the heat",
)  # fmt: skip
def carbon_upper_limit(reading: Reading) -> bool:
    """``C max 1.03``."""
    return reading.element == "C" and reading.kind == "upper" and set_not_stated(reading)


@rule(
    STOP, "cell",
    read="a lower limit only (min, ≥, >)",
    assumed="unusable: the content may be anything above it",
    do="get the analysis of the heat",
)  # fmt: skip
def lower_limit_only(reading: Reading) -> bool:
    """``min 0.90``, ``>0.90``."""
    rest = _without(reading.text, LOWER, ">=|=>|>")
    return rest is not None and re.search("[0-9]", rest) is not None and set_unusable(reading)


def _take_upper(reading: Reading) -> bool:
    rest = _without(reading.text, UPPER, "<=|=<")
    if rest is None:
        return False
    reading.text, reading.kind = rest, "upper"
    return True


def _without(text: str, words: frozenset[str], signs: str) -> str | None:
    """The text without a limit word or sign at its start or end; None when there is none."""
    match = re.match(rf"({signs}) *", text)
    if match:
        return text[match.end() :]
    match = re.match(r"([^\W\d]+)[.: ]*(?=[0-9.,])", text)
    if match and match.group(1).casefold() in words:
        return text[match.end() :]
    match = re.search(r"(?<=[0-9%])[ .]*([^\W\d]+)\.?$", text)
    if match and match.group(1).casefold() in words:
        return text[: match.start()]
    return None
