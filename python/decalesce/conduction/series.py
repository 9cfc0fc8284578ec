"""Plate, cylinder and sphere heated or cooled all round by one film, as the textbooks write it.

``theta`` is what is left of the difference: (T - surroundings) / (start - surroundings). ``biot`` is h L / k and
``fourier`` is diffusivity times time over L squared, with L half the thickness of a plate (all of it when one side is
insulated), the radius of a cylinder or sphere. ``position`` is the distance from the centre over L. ``biot`` may be
infinite: the surface is then at the temperature of the surroundings at once.

Eigenfunction series with every term that counts, for any Fo: below 1e-6 the wave from the surface alone, exact for
plate and sphere and within Fo / 4 of the change for the cylinder. Sources: Incropera, Cengel, Carslaw and Jaeger
(data/bibliography.bib); the mean over the volume is written from memory and checked against quadrature.
"""

from typing import Any, NamedTuple

from decalesce import _core
from decalesce.conduction import _numbers as args
from decalesce.conduction._numbers import Value

__all__ = [
    "BODIES",
    "LEAST_FOURIER",
    "ONE_TERM_LEAST_FOURIER",
    "OneTerm",
    "Term",
    "fourier_at",
    "fourier_at_mean",
    "heat_fraction",
    "mean",
    "one_term",
    "term",
    "theta",
]

BODIES = ("plate", "cylinder", "sphere")
ONE_TERM_LEAST_FOURIER: float = _core.one_term_least_fourier
"""One term is enough above this Fo (0.2, Incropera)."""
LEAST_FOURIER: float = _core.series_least_fourier
"""Below this Fo (1e-6) the series gives way to the wave from the surface."""


class Term(NamedTuple):
    """A root zeta and its coefficient C."""

    root: Value
    coefficient: Value


class OneTerm(NamedTuple):
    """The answer of the first term, and whether it was asked where one term is not enough (Fo of 0.2 or less)."""

    theta: Value
    outside: Value


def _body(body: Any) -> str:
    if body not in BODIES:
        raise ValueError(f"body = {body!r}; expected 'plate', 'cylinder' or 'sphere'")
    return str(body)


def _biot(biot: Any) -> Value:
    return args.zero_or_more("biot", biot, "a Biot number")


def _fourier(fourier: Any) -> Value:
    return args.zero_or_more("fourier", fourier, "a Fourier number")


def _position(position: Any) -> Value:
    expected = "a distance from the centre over the half thickness or radius, 0 to 1"
    value = args.number("position", position, expected)
    if isinstance(value, float) and abs(value) > 1.0:
        raise ValueError(f"position = {position!r}; expected {expected}")
    return value


def term(body: str, biot: Any, n: int = 0) -> Term:
    """Root zeta_n and coefficient C_n, n from 0. Relative accuracy about 1e-14. Raises ValueError, TypeError."""
    if isinstance(n, bool) or not isinstance(n, int) or n < 0:
        raise ValueError(f"n = {n!r}; expected a whole number, 0 or more")
    return Term(*_core.conduction_term(_body(body), _biot(biot), n))


def theta(body: str, biot: Any, fourier: Any, position: Any = 0.0) -> Value:
    """What is left of the difference at a position (0 centre, 1 surface). Raises ValueError, TypeError.

    >>> round(theta("plate", 10.0, 0.6183), 3)
    0.357
    """
    return _core.conduction_theta(_body(body), _biot(biot), _fourier(fourier), _position(position))


def mean(body: str, biot: Any, fourier: Any) -> Value:
    """What is left of the difference in the mean over the volume. Raises ValueError, TypeError."""
    return _core.conduction_mean(_body(body), _biot(biot), _fourier(fourier))


def heat_fraction(body: str, biot: Any, fourier: Any) -> Value:
    """Share of all the heat that will be exchanged, so far: 1 - `mean`. Raises ValueError, TypeError."""
    return 1.0 - mean(body, biot, fourier)


def one_term(body: str, biot: Any, fourier: Any, position: Any = 0.0) -> OneTerm:
    """The first term alone, for checks by hand; ``outside`` is true where Fo is 0.2 or less.

    Above that, at the centre, it lies within 0.02 of `theta` (measured:
    tests/python/test_conduction_closed.py). Raises ValueError, TypeError.
    """
    left, outside = _core.conduction_one_term(_body(body), _biot(biot), _fourier(fourier), _position(position))
    return OneTerm(left, outside != 0.0)


def fourier_at(body: str, biot: Any, theta: Any, position: Any = 0.0) -> Value:
    """Fo at which ``theta`` is left at a position; NaN where Bi is 0. Raises ValueError, TypeError."""
    left = args.share("theta", theta, "a share of the difference")
    return _core.conduction_fourier_at(_body(body), _biot(biot), left, _position(position))


def fourier_at_mean(body: str, biot: Any, mean: Any) -> Value:
    """Fo at which ``mean`` is left in the mean over the volume; NaN where Bi is 0. Raises ValueError, TypeError."""
    return _core.conduction_fourier_at_mean(_body(body), _biot(biot), args.share("mean", mean, "a share"))
