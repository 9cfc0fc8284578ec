"""Heat-up computed along the history of a furnace, and the time a hot piece has in air."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import nan
from typing import Any

from decalesce import _core, units
from decalesce._composition import composition_of
from decalesce._core import Composition, Estimate, History, Section, Trace
from decalesce.conduction import WhatLimits, what_limits
from decalesce.histories import hold
from decalesce.thermal import Film

FURNACES: tuple[str, ...] = tuple(_core.furnace_kinds)
"""Kinds of furnace: still_electric, forced_air, gas_fired, neutral_salt, fluidized_bed."""

FOIL = "foil_wrapped"
"""Declared scenario beside `FURNACES`: work in a steel foil envelope in a still electric furnace."""

REFERENCE_C: float = _core.heating_reference_C
"""Set point where none is given, degC: that of the stored heat-up cases."""

_SIDES = ("above", "below", "sides", "ends")

Causes = dict[str, tuple[float, float]]
"""By cause (film, emissivity, enthalpy, conductivity, load): what it alone takes off and adds, s."""


@dataclass(frozen=True, slots=True, eq=False)
class HeatUp:
    """A heat-up: times in s from loading, differences in K, surface less middle.

    ``surface_s`` is when the surface is there (the edge of a wedge, the corner of a bar or block), ``equalize_s`` how
    much later all of it is, ``through_s`` both together. ``difference_K`` is the largest on the way, at
    ``difference_s``; ``difference_K_mm`` the same over the distance between the two. ``rate_K_min`` is that of the
    surface just below Ac1, NaN where it does not get there. ``trace`` has the temperatures (``surface_C``,
    ``centre_C``, ``field_C`` of a time); None where there is no answer.
    """

    through_s: Estimate
    surface_s: Estimate
    equalize_s: Estimate
    causes: Causes
    furnace: str
    set_point_C: float
    difference_K: float
    difference_s: float
    difference_K_mm: float
    limits: WhatLimits
    Ac1_C: float
    rate_K_min: float
    trace: Trace | None
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class InAir:
    """Times in s from leaving the furnace: ``first_s`` until the surface (edge, corner) has fallen to ``to_C``,
    ``last_s`` until the middle has. ``causes``, ``trace`` and ``flags`` as in `HeatUp`."""

    first_s: Estimate
    last_s: Estimate
    causes: Causes
    from_C: float
    to_C: float
    trace: Trace | None
    flags: tuple[str, ...]


def section_of(piece: Any) -> Section:
    """The section of a piece."""
    section = piece if isinstance(piece, Section) else getattr(piece, "section", None)
    if not isinstance(section, Section):
        raise TypeError(f"piece = {piece!r}; expected a Section or a Bar, e.g. decalesce.Section('plate', 4)")
    return section


def exposure_of(exposure: Mapping[str, float] | None) -> list[float]:
    """How much of the furnace each side sees, in the order of the core."""
    given = {} if exposure is None else dict(exposure)
    unknown = [side for side in given if side not in _SIDES]
    if unknown:
        raise ValueError(f"exposure names {unknown[0]!r}; expected some of {', '.join(_SIDES)}, such as {{'below': 0}}")
    return [float(given.get(side, 1.0)) for side in _SIDES]


def set_point_of(temperature_C: Any) -> float:
    """A set point, degC; NaN for None."""
    return nan if temperature_C is None else float(units.temperature_C(temperature_C))


def _ranges(film: Film | None) -> list[float] | None:
    return None if film is None else [*film.convection_W_m2K, *film.emissivity]


def computed(
    piece: Any,
    furnace: str | Film,
    temperature_C: Any,
    w: Composition,
    *,
    history: History | None,
    start_C: Any,
    within_K: Any,
    exposure: Mapping[str, float] | None,
    tolerance_K: Any,
    cells: int | None,
) -> Any:
    """The core's own answer, from arguments as `heat_up` takes them."""
    if not isinstance(furnace, Film) and furnace not in (*FURNACES, FOIL):
        raise ValueError(f"furnace = {furnace!r}; expected {', '.join(FURNACES)}, {FOIL} or a decalesce.thermal.Film")
    set_point = set_point_of(temperature_C)
    within = float(units.difference_K(within_K, "within_K"))
    if not within > 0.0:
        raise ValueError(f"within_K = {within_K!r}; expected a difference above zero, K")
    if history is None:
        history = hold(REFERENCE_C if temperature_C is None else set_point, 1.0)
    return _core.heating_heat_up(
        section_of(piece),
        w,
        furnace.furnace if isinstance(furnace, Film) else furnace,
        _ranges(furnace if isinstance(furnace, Film) else None),
        history,
        set_point,
        float(units.temperature_C(start_C, "start_C")),
        within,
        exposure_of(exposure),
        float(units.difference_K(tolerance_K, "tolerance_K")),
        0 if cells is None else cells,
    )


def told(found: Any, furnace: str | Film) -> HeatUp:
    """The core's answer as a `HeatUp`."""
    return HeatUp(
        through_s=found.through_s,
        surface_s=found.surface_s,
        equalize_s=found.equalize_s,
        causes=found.causes,
        furnace=furnace.furnace if isinstance(furnace, Film) else furnace,
        set_point_C=found.set_point_C,
        difference_K=found.difference_K,
        difference_s=found.difference_s,
        difference_K_mm=found.difference_K_mm,
        limits=what_limits(found.biot),
        Ac1_C=found.Ac1_C,
        rate_K_min=found.rate_K_min,
        trace=found.trace,
        flags=found.flags,
    )


def heat_up(
    piece: Any,
    furnace: str | Film = "still_electric",
    temperature_C: Any = None,
    *,
    w: Any = None,
    history: History | None = None,
    start_C: Any = 20.0,
    within_K: Any = 10.0,
    exposure: Mapping[str, float] | None = None,
    tolerance_K: Any = 0.1,
    cells: int | None = None,
) -> HeatUp:
    """When is the steel at temperature all the way through? Solved in space and time, with radiation and the steel's
    own transformation heat.

    Args:
        piece: a Bar, or a Section of the steel ``w``.
        furnace: one of `FURNACES`, ``"foil_wrapped"``, or a `decalesce.thermal.Film` of your own.
        temperature_C: the set point, degC; None: the last temperature of the history, or 850 degC.
        w: a Composition, a Grade or its name; None: that of the bar.
        history: of the furnace, true temperature: a ramp from cold, programmed segments, a swing. After its end its
            last temperature holds. None: the furnace stands at the set point when loaded, and does not fall.
        start_C: of the steel when loaded, degC.
        within_K: of the set point counts as there, K.
        exposure: how much of the furnace ``above``, ``below``, ``sides`` and ``ends`` see, 0 (covered) to 1 (free):
            a blade flat on the hearth is ``{"below": 0.2}``.
        tolerance_K: of the time stepping, K.
        cells: along half the least thickness; None: as many as leave less than 0.2 % in the time.

    Returns:
        A HeatUp. The 90 % bands hold film, emissivity, heat and conductivity of the steel, each at its ends and joined
        in quadrature, and on the long side pieces a diameter apart. They do not hold pieces that touch, a furnace that
        falls when loaded (`decalesce.furnace` computes that), nor a controller that is wrong.
        Flags: ``not_heating`` (the furnace is not hotter than the work), ``not_at_temperature`` (never gets there),
        ``outside_range`` (above 1200 degC properties are read on), ``size_impossible``, ``nan_input``.

    Accuracy: within 5 % of the heat-up of structural steel with the properties of EN 1993-1-2 (tests), which has its
    transformation elsewhere. Raises TypeError for a piece without
    steel, ValueError for what cannot be, naming it.
    """
    steel = composition_of(piece if w is None else w)
    found = computed(
        piece, furnace, temperature_C, steel, history=history, start_C=start_C, within_K=within_K,
        exposure=exposure, tolerance_K=tolerance_K, cells=cells,
    )  # fmt: skip
    return told(found, furnace)


def heat_through(
    piece: Any,
    furnace: str = "still_electric",
    temperature_C: Any = None,
    *,
    w: Any = None,
    detail: str = "full",
    **how: Any,
) -> Estimate:
    """Time (s) from loading until all of a piece is within 10 K of the set point.

    ``"full"``: ``through_s`` of `heat_up`, with its arguments; a Section without ``w`` is taken as plain steel of no
    stated carbon. ``"screen"``: read between computed cases (850 degC, emissivity 0.8) by volume over surface, times
    factors for the set point (780 to 1200 degC) and the furnace; its band holds loads that take twice as long; up to
    25 mm plate and 50 mm round, ``thick_section`` beyond. Raises ValueError for an unknown furnace or ``detail``.
    """
    section = section_of(piece)
    if detail == "screen":
        if how:
            raise TypeError(f"{next(iter(how))} moves nothing in the screen; use detail='full'")
        return _core.heating_through(section, furnace, set_point_of(temperature_C))
    if detail != "full":
        raise ValueError(f"detail = {detail!r}; expected 'full' or 'screen'")
    if w is None and isinstance(piece, Section):
        w = Composition()
    return heat_up(piece, furnace, temperature_C, w=w, **how).through_s


def time_in_air(
    piece: Any,
    from_C: Any,
    to_C: Any = None,
    *,
    w: Any = None,
    room_C: Any = 20.0,
    exposure: Mapping[str, float] | None = None,
    film: Film | None = None,
) -> InAir:
    """How long from furnace to tank: s until the surface, or the edge, has cooled in still air to a temperature.

    Args:
        piece: a Bar, or a Section of the steel ``w``; hot through.
        from_C: its temperature, degC.
        to_C: degC; None: Ac1, above which no austenite is lost however slowly it cools. Hardenable steel has longer:
            its austenite is undercooled by an unknown amount before it starts to go.
        w: a Composition, a Grade or its name; None: that of the bar.
        room_C: of air and walls, degC.
        exposure: as in `heat_up`; tongs and touching pieces cover.
        film: of your own; None: ``still_air``. A piece swung through the air cools faster.

    Returns:
        An InAir; its bands hold film, emissivity and properties. Below Ms ``outside_range``: the heat of martensite is
        not in it. Raises ValueError unless ``from_C`` > ``to_C`` > ``room_C``.
    """
    steel = composition_of(piece if w is None else w)
    hot = float(units.temperature_C(from_C, "from_C"))
    first, last, causes, reached, trace, flags = _core.heating_in_air(
        section_of(piece),
        steel,
        hot,
        nan if to_C is None else float(units.temperature_C(to_C, "to_C")),
        float(units.temperature_C(room_C, "room_C")),
        _ranges(film),
        exposure_of(exposure),
    )
    return InAir(first, last, causes, hot, reached, trace, flags)
