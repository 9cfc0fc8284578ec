"""Austenitizing: how hot, how much carbon is then in solution, and what that means for the quench.

The question behind "what temperature, how long" is how much carbon is in solution when the steel goes into the
quench. Carbon left in carbide does not harden the martensite; too much carbon in solution retains austenite. At this
depth (``screen``) the answers come from stored fits and rules, not from a computed history.

>>> import decalesce as dc
>>> w = dc.Composition(C=0.95, Mn=0.40, Si=0.20)
>>> window = dc.austenite.window(w)
>>> round(window.aim.value), window.reasons
(798, ('carbide_kept',))
>>> a = dc.austenite.dissolve(w, dc.hold(800, "10 min"))
>>> round(a.in_solution.C, 2)
0.94
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from decalesce import _core, units
from decalesce._composition import composition_of
from decalesce._core import AsQuenched, Austenite, Estimate, History, Window

__all__ = ["Austenite", "Curves", "Window", "carbon_in_solution", "curves", "dissolve", "window"]


def window(w: Any) -> Window:
    """Aim with a recommended low and high end (degC) from composition and family, never from a grade's name.

    A composition, grade or bar; a batch gives arrays in its shape. Hypoeutectoid steel: above Ac3 and Ac1; steel near
    the eutectoid: above Acm; hypereutectoid: above Ac1, so that some cementite is kept. ``reasons`` and ``sentences``
    say which. 5 and 12 %Cr tool steels, stainless and high-speed steel have no rule that is safe: NaN with
    ``no_model``, and the grade's published range counts.

    Accuracy (data/fit/austenitize_rules.md): the middle of a published window is met within 15 K in 0.70 of the 71
    fitted ones and 0.76 of the 34 held out. Plain steel above the eutectoid is met in one of the five held out: for
    the water-hardening tool steels (C90U, C105U, C120U, SK85 to SK120) the aim is 19 to 30 K hotter than published.
    The band is set from the same misses: 30 K, 41 K for low-alloy steel, besides what the analysis leaves open. NaN in,
    NaN out. Raises TypeError for something that is no composition.
    """
    return _core.austenite_window(composition_of(w))


def dissolve(w: Any, history: History) -> Austenite:
    """What is in solution after a temperature history: composition of the austenite and the carbide left.

    The peak of the history (degC, true temperature of the steel) decides what can dissolve; with more than half a per
    cent of chromium the carbide follows slowly and the time counts too. High-alloy steel takes the computed
    equilibrium of the steel nearest to it, which needs 20 to 30 minutes. Accuracy of the carbon: 0.03 wt % plain,
    0.06 low-alloy, 0.08 to 0.15 high-alloy (``carbon_half_width``). Carbon is NaN where there is no answer;
    `carbon_in_solution` says why. A batch of steels is taken through the same history. Raises TypeError for something
    that is no composition.
    """
    if not isinstance(history, History):
        raise TypeError(f"history = {history!r}; expected a History, e.g. decalesce.hold(800, '10 min')")
    return _core.austenite_dissolve(composition_of(w), history)


def carbon_in_solution(w: Any, temperature_C: Any, soak_time: Any = 600.0) -> Estimate:
    """Carbon in solution (wt %) after a time (s, or ``"10 min"``) at a temperature (degC, or ``"1475F"``).

    A batch of steels gives arrays in its shape. NaN with ``ferrite_left`` below the critical temperature, with
    ``no_model`` for a high-alloy steel near none of the computed ones. Accuracy as `dissolve`. NaN in, NaN out.
    Raises ValueError for a time of zero or less, TypeError for something that is no composition.
    """
    time_s = float(units.time_s(soak_time, "soak_time"))
    if not time_s > 0.0:
        raise ValueError(f"soak_time = {soak_time!r}; expected a time above zero, such as 600 (s) or '10 min'")
    return _core.austenite_carbon(composition_of(w), float(units.temperature_C(temperature_C)), time_s)


@dataclass(frozen=True, slots=True)
class Curves:
    """What changes with the furnace temperature: arrays over ``temperature_C``, NaN where there is no answer."""

    temperature_C: NDArray[np.float64]
    carbon_in_solution_wt: NDArray[np.float64]
    carbide_left_wt: NDArray[np.float64]
    retained_austenite: NDArray[np.float64]
    as_quenched_HRC: NDArray[np.float64]


def curves(w: Any, temperatures_C: ArrayLike, soak_time: Any = 600.0) -> Curves:
    """Carbon in solution, carbide left (wt %), retained austenite (fraction) and as-quenched hardness (HRC) of one
    steel.

    Over furnace temperatures in degC, after the same time (s, or ``"10 min"``) at each. Raises as `dissolve`.
    """
    composition = composition_of(w)
    temperatures = np.atleast_1d(np.asarray(temperatures_C, dtype=float))
    time_s = float(units.time_s(soak_time, "soak_time"))
    columns = np.full((4, temperatures.size), np.nan)
    for i, temperature in enumerate(temperatures):
        a = _core.austenite_dissolve(composition, History.hold(float(temperature), time_s))
        q = AsQuenched.fully_hardened(a)
        columns[:, i] = (
            a.in_solution.C,
            a.cementite_wt + a.alloy_carbide_wt,
            q.retained_austenite.value,
            q.hardness_HRC.value,
        )
    return Curves(temperatures, *columns)
