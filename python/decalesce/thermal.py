"""Thermal properties of steel, and how a furnace passes heat on.

Conductivity, heat capacity and enthalpy (the heat it takes from 20 degC) by family of steel. The heat of transformation
sits at the steel's own Ac1 and Ac3 or Acm, not at 735 degC for every alloy: ferrite and carbide follow the smooth first
branch of EN 1993-1-2, austenite has the enthalpy the standard gives above 900 degC, and what lies between the two lines
is the heat of transformation. Films are convection alone; radiation is added beside where a furnace radiates.

>>> import decalesce as dc
>>> s = dc.thermal.steel(dc.Composition(C=0.84, Mn=0.75, Si=0.20))
>>> s.family, round(s.transformation_J_kg / 1000)
('plain_hyper', 84)
>>> dc.thermal.film("neutral_salt").convection_W_m2K
(500.0, 1000.0, 1200.0)
"""

from dataclasses import dataclass
from math import nan
from typing import Any

import numpy as np
import numpy.typing as npt

from decalesce import _core, units
from decalesce._composition import composition_of
from decalesce._core import ThermalSteel

__all__ = ["FAMILIES", "SURROUNDINGS", "Film", "Properties", "ThermalSteel", "enthalpy", "film", "properties", "steel"]

FAMILIES: tuple[str, ...] = (*_core.thermal_families, "en1993_carbon", "en1993_stainless")
"""Families of steel that have properties, and the two reference cases of EN 1993-1-2."""

SURROUNDINGS: tuple[str, ...] = tuple(_core.thermal_surroundings)
"""The five furnaces of a shop, ``foil_wrapped`` (declared scenario: work in a foil envelope in a still electric
furnace) and ``still_air`` (for cooling)."""

_DIRECTIONS = ("heating", "cooling")


@dataclass(frozen=True, slots=True, eq=False)
class Properties:
    """Properties at temperatures, arrays in the shape of those. Half-widths are shares of the value (90 %)."""

    temperature_C: npt.NDArray[np.float64]
    conductivity_W_mK: npt.NDArray[np.float64]
    heat_capacity_J_kgK: npt.NDArray[np.float64]
    enthalpy_J_kg: npt.NDArray[np.float64]
    density_kg_m3: float
    conductivity_half_width: float
    enthalpy_half_width: float
    density_half_width: float
    family: str
    flags: tuple[str, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Film:
    """How a furnace passes heat on: low, value and high of the film coefficient and of the emissivity.

    ``emissivity`` is that of the exchange between walls and work, and zero where ``radiates`` is False.
    """

    furnace: str
    convection_W_m2K: tuple[float, float, float]
    radiates: bool
    emissivity: tuple[float, float, float]
    flags: tuple[str, ...]
    sources: tuple[str, ...]


def _temperature(value: Any) -> float:
    return nan if value is None else float(units.temperature_C(value))


def steel(w: Any, direction: str = "heating", *, Ac1_C: Any = None, end_C: Any = None) -> ThermalSteel:
    """The properties of a steel as arrays against temperature (20 to 1250 degC), for the conduction solver.

    Args:
        w: a Composition, a Grade, a Bar, a grade's name, or one of `FAMILIES`.
        direction: ``"heating"``, or ``"cooling"``: austenite down to Ms, without any transformation.
        Ac1_C: where the transformation begins, degC; None: computed from the composition.
        end_C: where it ends, Ac3 or Acm, degC; None: computed. What no formula knows is the family's usual value,
            from memory, with the flag ``from_memory``.

    Returns:
        A ThermalSteel: ``temperature_C``, ``enthalpy_J_kg`` and ``conductivity_W_mK`` (both increasing in temperature
        and enthalpy), ``density_kg_m3``, half-widths as shares of the value, ``transformation_J_kg``, ``flags`` and
        ``sources``; ``conductivity_at``, ``heat_capacity_at`` and ``enthalpy_at`` answer in closed form. True between
        ``low_C`` and ``high_C`` (1200 degC, the end of the standard); beyond, values are read on. Density is that of
        cold steel: a size is measured cold and mass does not change.

    Raises:
        ValueError: an unknown direction, a batch of steels, or a temperature outside 30 to 1240 degC.
        TypeError: ``w`` is no steel. LookupError: no grade of that name.
    """
    if direction not in _DIRECTIONS:
        raise ValueError(f"direction = {direction!r}; expected 'heating' or 'cooling'")
    begin, end = _temperature(Ac1_C), _temperature(end_C)
    if isinstance(w, str) and w in FAMILIES:
        return _core.thermal_family(w, direction, begin, end)
    return _core.thermal_steel(composition_of(w), direction, begin, end)


def properties(
    w: Any, temperatures_C: Any, direction: str = "heating", *, Ac1_C: Any = None, end_C: Any = None
) -> Properties:
    """Conductivity, heat capacity and enthalpy at temperatures (degC; number or array, shape in, shape out).

    ``w``, ``direction``, ``Ac1_C``, ``end_C`` and the errors as in `steel`, whose result is taken as it is too. NaN in,
    NaN out. ``outside_range`` is flagged when any temperature lies outside the range of the source, where values are
    read on. Accuracy: see the half-widths; 15 to 30 % of the conductivity, 4 to 10 % of the enthalpy.
    """
    found = w if isinstance(w, ThermalSteel) else steel(w, direction, Ac1_C=Ac1_C, end_C=end_C)
    temperature = np.asarray(units.temperature_C(temperatures_C), dtype=float)
    outside = bool(np.any((temperature < found.low_C) | (temperature > found.high_C)))
    return Properties(
        temperature_C=temperature,
        conductivity_W_mK=found.conductivity_at(temperature),
        heat_capacity_J_kgK=found.heat_capacity_at(temperature),
        enthalpy_J_kg=found.enthalpy_at(temperature),
        density_kg_m3=found.density_kg_m3,
        conductivity_half_width=found.conductivity_half_width,
        enthalpy_half_width=found.enthalpy_half_width,
        density_half_width=found.density_half_width,
        family=found.family,
        flags=(*found.flags, "outside_range") if outside else found.flags,
        sources=found.sources,
    )


def enthalpy(w: Any, temperatures_C: Any, **where: Any) -> npt.NDArray[np.float64]:
    """Heat (J/kg) that a steel takes from 20 degC to each temperature; arguments and errors as `properties`."""
    return properties(w, temperatures_C, **where).enthalpy_J_kg


def film(furnace: str) -> Film:
    """Film coefficient (W/m2K, convection alone) and emissivity of one of `SURROUNDINGS`.

    Raises ValueError for another name. All values are working values from memory with wide ranges, the emissivities
    from printed tables; calibrate against a thermocouple in the work.
    """
    if not isinstance(furnace, str):
        raise TypeError(f"furnace = {furnace!r}; expected one of {', '.join(SURROUNDINGS)}")
    return Film(*_core.thermal_film(furnace))
