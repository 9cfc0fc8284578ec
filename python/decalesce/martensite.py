"""Martensite: where it starts, how much austenite is retained, how hard it is. All from what is IN SOLUTION.

Every function takes an :class:`~decalesce.Austenite` (or the carbon in solution) and refuses the composition of a
bar: of a steel with carbide left the two are not the same.

One pair of laws serves all steels, Ms and rate of van Bohemen 2012. On published retained austenite of 0.6 to 1.4 %C,
all in solution, it misses by 2 vol % rms; Andrews' Ms with the rate of Koistinen and Marburger by 45, and mixed pairs
turn a measured 8 % into anything from 3 to 19.

>>> import decalesce as dc
>>> a = dc.Austenite.all_dissolved(dc.Composition(C=1.0, Mn=0.3))
>>> round(dc.martensite.retained_austenite(a).value, 2)
0.15
"""

from typing import Any

from numpy.typing import ArrayLike

from decalesce import _core, units
from decalesce._core import Austenite, Estimate

__all__ = ["cooled_to", "full_hardness", "half_hardness", "retained_austenite", "start"]

cooled_to: dict[str, float] = dict(_core.cooled_to_C)
"""Temperatures (degC) by name: room, freezer, dry_ice, liquid_nitrogen."""


def retained_austenite(a: Austenite, cooled_to_C: Any = 20.0) -> Estimate:
    """Retained austenite, fraction of the whole steel with its carbide, after cooling to a temperature without delay.

    ``cooled_to_C`` is degC, a string such as ``"-100F"``, or one of ``room``, ``freezer``, ``dry_ice``,
    ``liquid_nitrogen``. Cold treatment more than 110 K below room temperature gains nothing more; a cold treatment
    that comes late gains less, which the upper end of the band holds. Valid for 0.3-1.9 %C, at most 2 %Mn and 1.7 %Cr
    in solution: NaN with ``no_model`` beyond the alloy limits, where the law reads far too low. 90 % band 5 vol %
    below 20 % retained, in proportion above. A batch gives arrays. Raises TypeError for the composition of a bar.
    """
    named = cooled_to.get(cooled_to_C) if isinstance(cooled_to_C, str) else None
    temperature = named if named is not None else units.temperature_C(cooled_to_C, "cooled_to_C")
    return _core.martensite_retained(a, float(temperature))


def start(a: Austenite) -> Estimate:
    """Martensite start Ms (degC) of this austenite, the one that belongs to `retained_austenite`. Band 35 K.

    `decalesce.critical.temperatures` joins the published Ms formulas for a bar with everything in solution; this one
    counts for the quench. Range and errors as `retained_austenite`.
    """
    return _core.martensite_start(a)


def full_hardness(carbon_wt: ArrayLike, half_width: float = 0.0) -> Estimate:
    """Hardness of full martensite (HRC) for carbon in solution (wt %) and its half-width; array in, arrays out.

    ASTM A255 up to 0.70 %C, above it one ceiling of 66 HRC for every steel: the printed polynomials turn down there.
    Valid from 0.10 %C. 90 % band 2.5 HRC, 1.4 on the ceiling, plus what the half-width leaves open; its upper end
    stops at 67.4 HRC, that of the ceiling. NaN in, NaN out.
    """
    return _core.martensite_hardness(carbon_wt, half_width)


def half_hardness(carbon_wt: ArrayLike, half_width: float = 0.0) -> Estimate:
    """Hardness of 50 % martensite (HRC) for carbon in solution (wt %). ASTM A255, 0.10 to 0.70 %C.

    Above, the last value is held and flagged ``outside_table``. Band 2.5 HRC. NaN in, NaN out.
    """
    return _core.half_martensite_hardness(carbon_wt, half_width)
