"""Hardness scales: HRC, HV, HBW and tensile strength, from the printed tables.

Straight lines between the printed points, which are met exactly; nothing beyond them. Above 238 HV the answer rests on
ASTM E140, below on ISO 18265, tensile strength on ISO 18265 throughout. Rockwell C ends at 20 and at 68: a value off a
scale is NaN with ``off_scale``, never the end of the scale.

`convert` turns numbers of one scale into another; `wanted` reads a hardness as people write it, such as "700HV".
"""

import re
from dataclasses import dataclass
from typing import Any

import numpy as np

from decalesce import _core
from decalesce._core import Estimate
from decalesce._values import Comparable

#: Accepted names of a scale, folded to upper case without blanks.
_SCALES = {
    "HRC": "HRC",
    "HV": "HV",
    "HBW": "HBW",
    "HB": "HBW",
    "MPA": "tensile_MPa",
    "TENSILE_MPA": "tensile_MPa",
    "N/MM2": "tensile_MPa",
}
_TABLES = ("joined", "astm_e140", "iso18265")
_EXPECTED = "'HRC', 'HV', 'HBW' (or 'HB'), 'MPa' (tensile strength)"
_WANTED = 'a hardness from 20 to 68 HRC, such as 62 (HRC), "62HRC" or "746HV"'
_TAGGED = re.compile(r"\s*(?P<number>\d+(?:[.,]\d*)?|[.,]\d+)\s*(?P<scale>[A-Za-z]*)\s*")
#: Scales that a hardness may be written on; a tensile strength is none.
_TAGS = ("HRC", "HV", "HBW", "HB")


def _scale(argument: str, name: Any) -> str:
    if not isinstance(name, str):
        raise TypeError(f"{argument} = {name!r}; expected one of {_EXPECTED}")
    found = _SCALES.get(name.strip().upper().replace("²", "2"))
    if found is None:
        raise ValueError(f"{argument} = {name!r}; expected one of {_EXPECTED}")
    return found


def convert(value: Any, from_: str, to: str, *, table: str = "joined") -> Estimate:
    """Convert a hardness, or tensile strength in MPa, from one scale to another.

    Args:
        value: a number or an array; shape in, shape out. NaN gives NaN with ``nan_input``.
        from_: ``"HRC"``, ``"HV"``, ``"HBW"`` (or ``"HB"``) or ``"MPa"``.
        to: the same names.
        table: ``"joined"`` (default), or one table alone: ``"astm_e140"`` or ``"iso18265"``.

    Returns:
        An Estimate in the unit of ``to``. Its band is what the conversion leaves open (1 HRC, 3 % of HV and HBW, 8 % of
        the strength, from memory of ISO 18265), not the error of the reading. Range: 20 to 68 HRC, 80 to 940 HV, 76 to
        739 HBW, 255 to 2180 MPa; off it NaN with ``off_scale``. Above 615 HBW the answer carries ``beyond_brinell``.

    Raises:
        ValueError: an unknown scale or table.
        TypeError: ``value`` is not a number or an array of numbers.

    >>> import decalesce as dc
    >>> dc.scales.convert(62, "HRC", "HV").value
    746.0
    """
    if table not in _TABLES:
        raise ValueError(f"table = {table!r}; expected one of {', '.join(map(repr, _TABLES))}")
    array = np.asarray(value)
    if isinstance(value, bool) or array.dtype.kind not in "fiu":
        raise TypeError(f"value = {value!r}; expected a number or an array of numbers")
    return _core.convert_hardness(array.astype(float), _scale("from_", from_), _scale("to", to), table)


@dataclass(frozen=True, slots=True, eq=False)
class Hardness(Comparable):
    """A hardness that somebody asks for, in HRC.

    ``converted`` is None where it was given in HRC; else the Estimate of the conversion, with its band and sources.
    ``text`` is what was written, and ``sentence`` says how it was read.
    """

    HRC: float
    text: str = ""
    converted: Estimate | None = None

    def __float__(self) -> float:
        """Return the number, HRC."""
        return self.HRC

    @property
    def sentence(self) -> str:
        """How a hardness on another scale was read; empty for HRC."""
        if self.converted is None:
            return ""
        band = f"{self.converted.low:.1f} to {self.converted.high:.1f}"
        sources = ", ".join(self.converted.sources)
        return (
            f"{self.text} is read as {self.HRC:.1f} HRC ({band}) by the printed table ({sources}): a conversion, not a "
            "reading. Measure on the scale you want."
        )


def wanted(value: Any, argument: str = "target_HRC") -> Hardness:
    """Read one wanted hardness: a number (HRC), or a string such as ``"62HRC"``, ``"62 HRC"`` or ``"700HV"``.

    A `Hardness` is returned as it is, and NaN stays NaN. Other scales go through `convert` and keep its band. Raises
    ValueError (a string without a scale, an unknown scale, off the Rockwell C scale of 20 to 68) and TypeError (no
    single number), naming the argument, the value and what was expected.

    >>> import decalesce as dc
    >>> dc.scales.wanted("746HV").HRC
    62.0
    """
    if isinstance(value, Hardness):
        return value
    if isinstance(value, str):
        return _written(value, argument)
    if isinstance(value, bool) or np.ndim(value) or np.asarray(value).dtype.kind not in "fiu":
        raise TypeError(f"{argument} = {value!r}; expected {_WANTED}")
    number = float(value)
    if not np.isnan(number) and np.isnan(convert(number, "HRC", "HV").value):
        raise ValueError(f"{argument} = {value!r} lies off the Rockwell C scale; expected {_WANTED}")
    return Hardness(number)


def _written(text: str, argument: str) -> Hardness:
    match = _TAGGED.fullmatch(text)
    if match is None:
        raise ValueError(f"{argument} = {text!r} is no hardness; expected {_WANTED}")
    if not match["scale"]:
        number = text.strip()
        raise ValueError(
            f"{argument} = {text!r} has no scale; write {number + 'HRC'!r} or give the number {number}; "
            f"expected {_WANTED}"
        )
    scale = match["scale"].upper()
    if scale not in _TAGS:
        raise ValueError(f"{argument} = {text!r} is on no known scale; expected {_WANTED}")
    value = float(match["number"].replace(",", "."))
    if scale == "HRC":
        return Hardness(wanted(value, argument).HRC, text.strip())
    converted = convert(value, scale, "HRC")
    if np.isnan(converted.value):
        raise ValueError(f"{argument} = {text!r} lies off the Rockwell C scale; expected {_WANTED}")
    return Hardness(float(converted.value), text.strip(), converted)
