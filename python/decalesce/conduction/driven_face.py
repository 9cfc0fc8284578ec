"""A plate with one face driven as a sine."""

from typing import Any

from decalesce import _core, units
from decalesce.conduction import _numbers as args
from decalesce.conduction._numbers import Value


def sine_face_C(
    depth_mm: Any,
    time_s: Any,
    *,
    thickness_mm: Any,
    start_C: Any,
    amplitude_K: Any,
    period_s: Any,
    diffusivity: Any,
) -> Value:
    """Temperature (degC) at a depth below a face driven as start + amplitude sin(2 pi t / period) from time 0.

    All starts at ``start_C`` and the other face stays there. Any time; numbers and arrays are broadcast. Raises
    ValueError for a depth that is not in the plate (NaN in an array). Carslaw and Jaeger; the NAFEMS T3 case.
    """
    depth = args.length_m("depth_mm", depth_mm, zero=True)
    thickness = args.length_m("thickness_mm", thickness_mm)
    if isinstance(depth, float) and isinstance(thickness, float) and depth > thickness:
        raise ValueError(f"depth_mm = {depth_mm!r}; expected at most the thickness, {thickness * 1e3:g} mm")
    share = _core.sine_face(
        depth,
        args.time_s("time_s", time_s),
        thickness,
        args.time_s("period_s", period_s, zero=False),
        args.above_zero("diffusivity", diffusivity, "a diffusivity in m2/s"),
    )
    return units.temperature_C(start_C, "start_C") + units.difference_K(amplitude_K, "amplitude_K") * share
