"""Logged traces for the tests of the arrest: solver runs with scatter, uneven sampling, whole kelvins and gaps."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

import decalesce as dc
from decalesce.conduction import Material, Mesh

Floats = NDArray[np.float64]

STEELS = (
    dc.Composition(C=0.84, Mn=0.75, Si=0.20),
    dc.Composition(C=0.45, Mn=0.70, Si=0.25),
    dc.Composition(C=0.60, Mn=0.70, Si=0.30),
    dc.Composition(C=0.95, Mn=0.40, Si=0.20),
    dc.Composition(C=1.00, Mn=0.30, Si=0.25, Cr=1.5),
)
FURNACES = ("still_electric", "forced_air", "gas_fired", "neutral_salt", "fluidized_bed")
RAMPED = FURNACES[:3]  # a bath is hot when the work goes in


@dataclass(frozen=True)
class Log:
    """One trace: what it was made of, and what a logger wrote down."""

    kind: str
    swing_K: float
    times_s: Floats
    work_C: Floats
    furnace_C: Floats
    truth_C: float  # NaN without a transformation
    readings: float  # of the arrest
    steady: bool  # the furnace stood still, or rose on, through the arrest


def _programme(random: np.random.Generator, kind: str, span_s: float) -> tuple[Floats, Floats]:
    top = random.uniform(780.0, 900.0)
    if kind == "hot":
        return np.array([0.0, span_s]), np.array([top, top])
    if kind == "forge":
        return np.array([0.0, span_s]), np.full(2, random.uniform(950.0, 1150.0))
    rate = random.uniform(100.0, 1200.0) / 3600.0
    if kind == "ramp":
        end = (top - 20.0) / rate
        return np.array([0.0, end, end + 3600.0]), np.array([20.0, top, top])
    if kind == "preheat":
        first, hold = random.uniform(600.0, 740.0), random.uniform(0.3, 1.0) * span_s
        return np.array([0.0, hold, 1.1 * hold, hold + span_s]), np.array([first, first, top, top])
    first, hold = random.uniform(640.0, 760.0), random.uniform(300.0, 3600.0)
    second = rate * random.choice([1.0, 1.0, 0.5, 2.0])
    corners = np.cumsum([0.0, (first - 20.0) / rate, hold, (top - first) / second, 1800.0])
    return corners, np.array([20.0, first, first, top, top])


def _swung(random: np.random.Generator, times: Floats, furnace: Floats, swing_K: float) -> tuple[Floats, Floats]:
    if swing_K == 0.0:
        return times, furnace
    period = random.uniform(60.0, 900.0)
    fine = np.union1d(np.arange(0.0, times[-1], period / 16.0), times)
    mean = np.interp(fine, times, furnace)
    wave = np.sin(2.0 * np.pi * fine / period + random.uniform(0.0, 6.0))
    return fine, mean + swing_K * wave * np.clip(mean / 300.0, 0.0, 1.0)


def _inert(random: np.random.Generator) -> Material:
    """Steel that does not transform: constant properties, or ferrite by the first branch of EN 1993-1-2 read on."""
    if random.random() < 0.5:
        return Material.constant(random.uniform(25.0, 45.0), random.uniform(550.0, 750.0), 7800.0)
    t = np.arange(20.0, 1250.0, 5.0)
    enthalpy = 425.0 * t + 0.773 / 2.0 * t**2 - 1.69e-3 / 3.0 * t**3 + 2.22e-6 / 4.0 * t**4
    return Material(t, enthalpy, np.where(t < 800.0, 54.0 - 0.0333 * t, 27.3), 7850.0)


def transforming(steel: dc.thermal.ThermalSteel) -> Material:
    """The steel with its heat of transformation, as the solver takes it."""
    return Material(steel.temperature_C, steel.enthalpy_J_kg, steel.conductivity_W_mK, steel.density_kg_m3)


def logged(random: np.random.Generator, kind: str, *, transforms: bool, swing_K: float = 0.0) -> Log:
    """A piece of 3 to 50 mm heated in a furnace, read at its middle or its surface."""
    shape = str(random.choice(["plate", "round", "square"]))
    mesh = Mesh(shape, float(np.exp(random.uniform(np.log(3.0), np.log(50.0)))), cells=6 if shape == "square" else 12)
    film = dc.thermal.film(str(random.choice(RAMPED if kind.startswith("ramp") else FURNACES)))
    convection, emissivity = film.convection_W_m2K[1], film.emissivity[1]
    steel = dc.thermal.steel(STEELS[int(random.integers(len(STEELS)))])
    material = transforming(steel) if transforms else _inert(random)
    lag_s = 7000.0 * mesh.volume_to_surface_mm / (convection + 136.0 * emissivity)
    times, furnace = _swung(random, *_programme(random, kind, 12.0 * lag_s + 300.0), swing_K)
    run = dc._core.conduction_heat(material, mesh, dc.History(times, furnace), convection, emissivity, 20.0, 0.2)

    every = float(np.exp(random.uniform(0.0, np.log(10.0))))
    scatter = float(np.exp(random.uniform(np.log(0.2), np.log(2.0))))
    steps = (
        random.uniform(0.7, 1.3, int(times[-1] / every)) if random.random() < 0.4 else np.ones(int(times[-1] / every))
    )
    t = every * np.cumsum(steps)
    t = t[t < times[-1]]
    point = mesh.centre if random.random() < 0.6 else mesh.surface
    true = np.asarray(run.temperature_C(t, point))
    read = true + scatter * random.standard_normal(len(t))
    if random.random() < 0.5:
        read = np.round(read)
    if random.random() < 0.2:
        read[random.random(len(t)) < 0.05] = np.nan
    beside = np.interp(t, times, furnace)
    ac1 = steel.Ac1_C
    lasts = run.time_to_s(ac1 + 8.0, point) - run.time_to_s(ac1 - 2.0, point) if true.max() > ac1 + 10.0 else 0.0
    through = beside[(true > ac1 - 60.0) & (true < ac1 + 30.0)]
    steady = len(through) > 1 and (np.ptp(through) == 0.0 or float(through[-1]) < furnace.max() - 8.0)
    return Log(
        kind,
        swing_K,
        t,
        read,
        beside + 0.5 * random.standard_normal(len(t)),
        ac1 if transforms else np.nan,
        lasts / every if transforms else 0.0,
        steady,
    )
