"""The 25 mm plate of the conduction bench in SciPy: the speed rival of the solver.

The same mesh (points evenly from centre to surface, half cells at the ends), the same steel (EN 1993-1-2, from finely
divided tables), film and grey radiation. In two forms, both as quick as NumPy lets them be (a right-hand side costs
about 10 us): of temperature, whose heat capacity has the peak, and of enthalpy, which has none; the Kirchhoff integral
of conductivity gives the flows in both. Each runs under LSODA with a banded Jacobian and under BDF with a sparse one,
and keeps its dense output: the solver too answers at any time. Tolerances are tried from loose to tight, and what is
exact enough competes: the fastest is the rival.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy import sparse
from scipy.integrate import solve_ivp

Floats = NDArray[np.float64]
RightHandSide = Callable[[float, Floats], Floats]

STEFAN_BOLTZMANN = 5.670374419e-8  #: W/m2K4, CODATA 2018
ZERO_C = 273.15
DENSITY = 7850.0  #: kg/m3, EN 1993-1-2
METHODS = ("LSODA", "BDF")
FORMS = ("enthalpy", "temperature")


def en1993(step_K: float) -> tuple[Floats, Floats, Floats]:
    """Temperature (degC, 20 to 1200), heat capacity (J/kgK) and conductivity (W/mK) of EN 1993-1-2, 3.4.1."""
    t = np.arange(20.0, 1200.0 + step_K / 2.0, step_K)
    heat_capacity = np.select(
        [t < 600.0, t < 735.0, t < 900.0],
        [
            425.0 + 0.773 * t - 1.69e-3 * t**2 + 2.22e-6 * t**3,
            666.0 + 13002.0 / (738.0 - np.minimum(t, 737.0)),
            545.0 + 17820.0 / (np.maximum(t, 732.0) - 731.0),
        ],
        650.0,
    )
    return t, heat_capacity, np.where(t < 800.0, 54.0 - 3.33e-2 * t, 27.3)


def integral(of: Floats, along: Floats) -> Floats:
    """Running trapezoids from the first point."""
    return np.concatenate([[0.0], np.cumsum(0.5 * (of[1:] + of[:-1]) * np.diff(along))])


@dataclass(frozen=True)
class Plate:
    """Half a plate, one temperature a point, centre first."""

    thickness_mm: float
    cells: int
    film: float
    emissivity: float
    furnace_C: float

    def right_hand_side(self, form: str) -> RightHandSide:
        """Of the ODE in degC, or in enthalpy per (density times 650 J/kgK), K, so that one tolerance serves both."""
        t, heat_capacity, conductivity = en1993(0.05)
        theta = integral(conductivity, t)
        # equal steps of the unknown, so that a place in the table is a multiplication away
        unknown = t if form == "temperature" else integral(heat_capacity, t) / 650.0
        grid = np.linspace(unknown[0], unknown[-1], 20_001)
        theta_at = np.interp(grid, unknown, theta)
        t_at = np.interp(grid, unknown, t).tolist()
        first, per_step = float(grid[0]), 1.0 / float(grid[1] - grid[0])
        step = self.thickness_mm * 0.5e-3 / self.cells
        per_volume = np.full(self.cells + 1, 1.0 / (step * step * DENSITY * 650.0))
        per_volume[[0, -1]] *= 2.0
        faster = 650.0 / np.interp(grid, unknown, heat_capacity)
        film, radiation = self.film * step, self.emissivity * STEFAN_BOLTZMANN * step
        furnace, furnace_4 = self.furnace_C, (self.furnace_C + ZERO_C) ** 4
        last = len(grid) - 2
        flow = np.zeros(self.cells + 2)
        inner = flow[1:-1]
        place = np.empty(self.cells + 1)
        whole = np.empty(self.cells + 1, dtype=np.intp)

        def surface(x: float) -> float:
            here = (x - first) * per_step
            k = min(max(int(here), 0), last)
            low = t_at[k]
            return low + (t_at[k + 1] - low) * (here - k)

        theta_slope = np.diff(theta_at, append=2.0 * theta_at[-1] - theta_at[-2])

        def both(_: float, y: Floats) -> Floats:
            np.subtract(y, first, out=place)
            np.multiply(place, per_step, out=place)
            whole[:] = place
            here = theta_at.take(whole, mode="clip")
            here += theta_slope.take(whole, mode="clip") * (place - whole)
            np.subtract(here[1:], here[:-1], out=inner)
            t_surface = surface(y[-1])
            flow[-1] = film * (furnace - t_surface) + radiation * (furnace_4 - (t_surface + ZERO_C) ** 4)
            slope = flow[1:] - flow[:-1]
            slope *= per_volume
            if form == "temperature":
                slope *= faster.take(whole, mode="clip")
            return slope

        return both

    def temperature_C(self, form: str, y: Floats) -> Floats:
        """Of the unknowns, degC."""
        if form == "temperature":
            return y
        t, heat_capacity, _ = en1993(0.05)
        return np.interp(y, integral(heat_capacity, t) / 650.0, t)

    def start(self, form: str, start_C: float) -> Floats:
        """The unknowns of a uniform temperature; 20 degC has no enthalpy."""
        if form == "temperature":
            return np.full(self.cells + 1, start_C)
        t, heat_capacity, _ = en1993(0.05)
        return np.full(self.cells + 1, np.interp(start_C, t, integral(heat_capacity, t) / 650.0))


def options(method: str, points: int) -> dict[str, Any]:
    """What tells the method that only neighbours are linked."""
    if method == "LSODA":
        return {"lband": 1, "uband": 1}
    return {"jac_sparsity": sparse.diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(points, points), format="csc")}


def solver(plate: Plate, form: str, method: str, tolerance: tuple[float, float], span_s: float) -> Callable[[], Any]:
    """Ready to run from 20 degC, with (relative, absolute K) tolerance; only the call itself is to be timed."""
    rhs, begin = plate.right_hand_side(form), plate.start(form, 20.0)
    extra = options(method, plate.cells + 1)
    relative, absolute = tolerance
    return lambda: solve_ivp(
        rhs, (0.0, span_s), begin, method=method, rtol=relative, atol=absolute, dense_output=True, **extra
    )
