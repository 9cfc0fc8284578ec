"""Hardness scales: HRC, HV, HBW and tensile strength, from the printed tables.

Straight lines between the printed points, which are met exactly; nothing beyond them. Above 238 HV the answer rests on
ASTM E140, below on ISO 18265, tensile strength on ISO 18265 throughout. Rockwell C ends at 20 and at 68: a value off a
scale is NaN with ``off_scale``, never the end of the scale.
"""

from typing import Any

import numpy as np

from decalesce import _core
from decalesce._core import Estimate

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
