"""Steels, bodies and random cases for the tests of the conduction solver."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from decalesce.conduction import Material, Mesh, Trace, heat
from decalesce.histories import History, hold

Floats = NDArray[np.float64]

STEFAN_BOLTZMANN = 5.670374419e-8  #: W/m2K4, CODATA 2018
ZERO_C = 273.15
DENSITY = 7850.0  #: kg/m3, EN 1993-1-2

CONDUCTIVITY, HEAT_CAPACITY = 30.0, 600.0
CONSTANT = Material.constant(CONDUCTIVITY, HEAT_CAPACITY, DENSITY)
DIFFUSIVITY = CONDUCTIVITY / HEAT_CAPACITY / DENSITY


def en1993_heat_capacity(temperature_C: Floats) -> Floats:
    """EN 1993-1-2, 3.4.1.2, J/kgK, 20 to 1200 degC."""
    t = temperature_C
    below, above = np.minimum(t, 734.99999), np.maximum(t, 735.0)
    return np.select(
        [t < 600.0, t < 735.0, t < 900.0],
        [
            425.0 + 0.773 * t - 1.69e-3 * t**2 + 2.22e-6 * t**3,
            666.0 + 13002.0 / (738.0 - below),
            545.0 + 17820.0 / (above - 731.0),
        ],
        650.0,
    )


def en1993_enthalpy(temperature_C: Floats) -> Floats:
    """The integral of `en1993_heat_capacity` from 20 degC, J/kg: polynomial and logarithms."""

    def ferrite(t: Floats) -> Floats:
        return 425.0 * t + 0.773 / 2.0 * t**2 - 1.69e-3 / 3.0 * t**3 + 2.22e-6 / 4.0 * t**4

    t = temperature_C
    first = ferrite(np.clip(t, 20.0, 600.0)) - ferrite(np.asarray(20.0))
    second = np.clip(t, 600.0, 735.0)
    third = np.clip(t, 735.0, 900.0)
    return (
        first
        + 666.0 * (second - 600.0)
        - 13002.0 * np.log((738.0 - second) / (738.0 - 600.0))
        + 545.0 * (third - 735.0)
        + 17820.0 * np.log((third - 731.0) / (735.0 - 731.0))
        + 650.0 * (np.maximum(t, 900.0) - 900.0)
    )


def en1993_conductivity(temperature_C: Floats) -> Floats:
    """EN 1993-1-2, 3.4.1.3, W/mK, 20 to 1200 degC."""
    return np.where(temperature_C < 800.0, 54.0 - 3.33e-2 * temperature_C, 27.3)


_GRID = np.arange(20.0, 1200.1, 0.5)
EN1993 = Material(_GRID, en1993_enthalpy(_GRID), en1993_conductivity(_GRID), DENSITY)

#: One body of each shape, a few cells each.
BODIES = {
    "lumped": Mesh("lumped", 3.0),
    "plate": Mesh("plate", 25.0, cells=12),
    "plate on the hearth": Mesh("plate", 25.0, cells=12, below=0.2),
    "round": Mesh("round", 40.0, cells=12),
    "sphere": Mesh("sphere", 40.0, cells=12),
    "rectangle": Mesh("rectangle", 20.0, 45.0, cells=6, below=0.5, sides=0.7),
    "hexagon": Mesh("hexagon", 30.0, cells=6),
    "short cylinder": Mesh("short_cylinder", 40.0, 0.0, 30.0, cells=6, ends=0.6),
    "block": Mesh("block", 40.0, 60.0, 50.0, cells=4),
    "wedge": Mesh("wedge", 5.0, 30.0, 0.0, 0.4, cells=3),
}


def furnace(temperature_C: float, time_s: float) -> History:
    return hold(temperature_C, time_s)


def swing(mean_C: float, amplitude_K: float, period_s: float, periods: int, corners: int = 120) -> History:
    """A sine about a mean, in straight pieces."""
    times = np.linspace(0.0, periods * period_s, periods * corners + 1)
    return History(times, mean_C + amplitude_K * np.sin(2.0 * np.pi * times / period_s))


@dataclass(frozen=True)
class Case:
    """A body, its steel, what it stands in and how exactly it is wanted."""

    shape: str
    mesh: Mesh
    material: Material
    history: History
    film_W_m2K: float
    emissivity: float
    start_C: float
    tolerance_K: float

    def run(self, share_of_tolerance: float = 1.0) -> Trace:
        return heat(
            self.mesh,
            self.material,
            self.history,
            film_W_m2K=self.film_W_m2K,
            emissivity=self.emissivity,
            start_C=self.start_C,
            tolerance_K=share_of_tolerance * self.tolerance_K,
        )


def random_case(random: np.random.Generator) -> Case:
    """Any shape, 1.5 to 100 mm, still air to salt, holds and programmes, heating and cooling, coarse and fine."""
    shape = str(random.choice(BODY_SHAPES))
    thickness = float(np.exp(random.uniform(np.log(1.5), np.log(100.0))))
    line = shape in ("plate", "round", "sphere")
    mesh = Mesh(
        shape,
        thickness,
        thickness * random.uniform(1.0, 5.0),
        thickness * random.uniform(1.0, 4.0),
        thickness * random.uniform(0.0, 1.0),
        cells=int(random.choice([20, 40])) if line else 3 if shape == "block" else 6,
        below=float(random.choice([1.0, 1.0, 0.3, 0.0])),
        ends=float(random.uniform(0.2, 1.0)),
    )
    steel = EN1993
    if random.random() < 0.3:
        steel = Material.constant(random.uniform(15.0, 50.0), random.uniform(450.0, 700.0), 7800.0)
    span = random.uniform(300.0, 8000.0)
    corners = np.sort(random.uniform(0.0, span, random.integers(0, 7)))
    times = np.concatenate([[0.0], corners, [span]])
    temperatures = random.uniform(20.0, 1150.0, len(times))
    if random.random() < 0.4:
        temperatures[:] = random.uniform(500.0, 1150.0)
    return Case(
        shape,
        mesh,
        steel,
        History(times, temperatures),
        film_W_m2K=float(np.exp(random.uniform(np.log(5.0), np.log(3000.0)))),
        emissivity=float(random.uniform(0.0, 0.9)),
        start_C=float(random.uniform(20.0, 700.0)),
        tolerance_K=float(np.exp(random.uniform(np.log(0.01), np.log(1.0)))),
    )


BODY_SHAPES = ("lumped", "plate", "round", "sphere", "rectangle", "hexagon", "short_cylinder", "block", "wedge")
