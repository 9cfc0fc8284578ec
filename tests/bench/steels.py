"""Invented steels for the benches and for comparing with the NumPy twin; seeded."""

import numpy as np
from critical_twin_tables import AT, ELEMENTS
from numpy.typing import NDArray

import decalesce as dc

Floats = NDArray[np.float64]
#: Most of each element in an invented certificate, wt %: nine elements measured, the rest measured as zero.
CERTIFICATE = {"C": 1.1, "Mn": 1.6, "Si": 0.5, "Cr": 1.6, "Ni": 1.8, "Mo": 0.4, "V": 0.2, "W": 0.25, "Cu": 0.3}
#: Wider, to leave every family and every range.
WIDE = {"C": 1.6, "Mn": 2.0, "Si": 1.2, "Cr": 4.0, "Ni": 3.0, "Mo": 1.0, "V": 0.4, "W": 0.5, "Cu": 0.3, "Al": 0.4}


def certificates(rows: int, seed: int = 5) -> tuple[Floats, dc.Composition]:
    """Full certificates as an (n, 19) array and as a composition whose measured elements are columns."""
    generator = np.random.default_rng(seed)
    w = np.zeros((rows, len(ELEMENTS)))
    for element, most in CERTIFICATE.items():
        w[:, AT[element]] = generator.uniform(0.02, most, rows)
    columns = {e: w[:, AT[e]] if e in CERTIFICATE else 0.0 for e in ELEMENTS}
    return w, dc.Composition(**columns)


def anything(rows: int, seed: int = 7) -> Floats:
    """Steels of every family, some amounts zero."""
    generator = np.random.default_rng(seed)
    w = np.zeros((rows, len(ELEMENTS)))
    for element, most in WIDE.items():
        present = generator.random(rows) < (1.0 if element in ("C", "Mn") else 0.6)
        w[:, AT[element]] = generator.uniform(0.0, most, rows) * present
    w[:, AT["Cr"]] += 12.0 * (generator.random(rows) < 0.05)
    return w


def doubts(w: Floats, seed: int = 9) -> tuple[Floats, NDArray[np.bool_]]:
    """Half-widths and not-stated marks for some amounts."""
    generator = np.random.default_rng(seed)
    half_width = np.where(generator.random(w.shape) < 0.3, generator.uniform(0.0, 0.05, w.shape), 0.0)
    return half_width, (generator.random(w.shape) < 0.2) & (w == 0.0)


def composition(
    w: Floats, half_width: Floats | None = None, not_stated: NDArray[np.bool_] | None = None
) -> dc.Composition:
    """The array as a composition, a column an element."""
    given: dict[str, object] = {e: w[:, i] for i, e in enumerate(ELEMENTS)}
    if half_width is not None:
        given["half_width"] = {e: half_width[:, i] for i, e in enumerate(ELEMENTS)}
    if not_stated is not None:
        given["status"] = {e: np.where(not_stated[:, i], 3, 0).astype(np.uint8) for i, e in enumerate(ELEMENTS)}
    return dc.Composition(**given)
