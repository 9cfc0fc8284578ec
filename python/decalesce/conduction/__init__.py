"""Transient conduction: how heat soaks into a section.

`body`, `heat`, `go_on` and `heat_batch` solve any section along any history with real properties and radiation.

Closed forms, for properties that do not change with temperature, stand by themselves for salt baths, tempers and first
estimates, and check the solver.

- `series`: plate, cylinder and sphere in Bi and Fo, as the textbooks write them.
- `Piece`: the same with sizes, times and degC, and the products (bar, block, short cylinder).
- `half_space`: the first moments in thick stock, and a surface that swings.
- `lumped`: thin stock at one temperature, with a film, with radiation, or both.
- `sine_face_C`: a plate with one face driven as a sine.

Lengths are mm; film coefficient W/m2K, conductivity W/mK, specific heat J/kgK, density kg/m3, diffusivity m2/s,
volumetric heat (density times specific heat) J/m3K. Numbers and arrays alike, broadcast; shape in, shape out; NaN in,
NaN out. A single impossible number raises ValueError naming the argument; in an array it gives NaN in its place.

>>> import decalesce as dc
>>> bar = dc.conduction.Piece.round(120, film=140, conductivity=21, diffusivity=6.11e-6)
>>> round(bar.time_s(800, start_C=20, surroundings_C=820))
3069
>>> dc.conduction.what_limits(bar.biot).limit
'both'
"""

from decalesce._core import Material, Mesh, Trace
from decalesce.conduction import half_space, lumped, series
from decalesce.conduction.driven_face import sine_face_C
from decalesce.conduction.lumped import biot_number, diffusivity
from decalesce.conduction.piece import Piece
from decalesce.conduction.solve import SHAPES, body, go_on, heat, heat_batch
from decalesce.conduction.what_limits import WhatLimits, what_limits

__all__ = [
    "SHAPES",
    "Material",
    "Mesh",
    "Piece",
    "Trace",
    "WhatLimits",
    "biot_number",
    "body",
    "diffusivity",
    "go_on",
    "half_space",
    "heat",
    "heat_batch",
    "lumped",
    "series",
    "sine_face_C",
    "what_limits",
]
