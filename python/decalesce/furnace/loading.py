"""Loading a furnace: the computation behind `load`."""

import csv
from collections.abc import Callable
from math import isnan, nan, prod
from typing import Any

from decalesce import _core, conduction, data_files, flags, thermal, units
from decalesce._core import History, Material, Mesh, Section
from decalesce.furnace.box import Furnace
from decalesce.furnace.result import Loaded

_FIRST_GUESS_S = 1800.0
_REST = 1.25
"""An answer whose length was not asked for goes on this much longer than it takes."""


def open_share(gap_mm: Any, depth_mm: Any) -> float:
    """Share of the furnace (0 to 1) that a face sees which looks at its like across a gap.

    ``depth_mm`` is how far the face reaches, the shorter way out of the gap. One less the view factor between two long
    parallel strips, by crossed strings: 0 touching, 0.59 at a gap as wide as the face is deep, 1 far away. Neighbours
    are as hot as the piece, so what it sees of them gives it nothing. Raises ValueError for a negative gap or a depth
    that is not above zero.
    """
    gap, depth = float(units.length_mm(gap_mm, "gap_mm")), float(units.length_mm(depth_mm, "depth_mm"))
    if not gap >= 0.0:
        raise ValueError(f"gap_mm = {gap_mm!r}; expected zero or more, mm")
    if not depth > 0.0:
        raise ValueError(f"depth_mm = {depth_mm!r}; expected a length above zero, mm")
    return float(_core.open_share(gap, depth))


def load(
    furnace: Furnace,
    set_point_C: Any,
    piece: Any,
    *,
    w: Any = None,
    pieces: int = 1,
    length_mm: Any = None,
    width_mm: Any = None,
    gap_mm: Any = None,
    door_open: Any = "10s",
    door_switch: bool = True,
    start_C: Any = 20.0,
    duration: Any = None,
    within_K: Any = None,
    cells: int | None = None,
    finer: int = 1,
) -> Loaded:
    """Open a furnace that stands at its set point, put the pieces in side by side, close it, and wait.

    Args:
        furnace: a `Furnace`.
        set_point_C: degC, true temperature of the chamber.
        piece: a Section, or a Bar, which brings its steel.
        w: the steel: a Composition, a Grade, a grade's name, a `thermal` family or a `thermal.ThermalSteel`; a Material
            is taken as it is.
        pieces: how many.
        length_mm: of each piece; a block has its own.
        width_mm: of a piece that is given as a plate.
        gap_mm: between neighbours, whose broad faces look at one another. None: they stand too far apart to see one
            another. 0: they touch and heat as one block (rounds and hexagons touch along their sides only).
        door_open: s, or a string. ``door_switch``: it cuts the power meanwhile, as it should on mains.
        start_C: temperature of the steel. Hotter than the set point: flagged ``not_heating``.
        duration: of the history, s; None: until steel and chamber are there, at most two days.
        within_K: what counts as at temperature, K; 10 if not given.
        cells: of the mesh, as `conduction.body`.
        finer: how many times finer in time and in the lining than usual; 2 shows what the usual costs.

    Returns:
        A `Loaded`. A steel that is not there at the end of the history has ``steel_within_s`` NaN and the flag
        ``not_at_temperature``.

    Every piece is counted to draw as much as the one in the middle. The chamber is taken to be much larger than the
    load: a full one heats slower than this says. The shelf is taken to shade nothing. The sensor is the chamber
    itself: a slow sheath shows less of the fall. The furnace has stood long enough for its lining to be
    hot through; after an hour's heating the lining still takes heat and recovery is slower.

    Raises TypeError for no steel or no section, ValueError naming the argument for sizes that cannot be and for a
    furnace without the power to hold its set point empty.
    """
    if not isinstance(furnace, Furnace):
        raise TypeError(f"furnace = {furnace!r}; expected a decalesce.furnace.Furnace")
    if isinstance(pieces, bool) or not isinstance(pieces, int) or pieces < 1:
        raise ValueError(f"pieces = {pieces!r}; expected a whole number, one or more")
    section = _section(piece, width_mm)
    material, thermal_flags, thermal_sources = _steel(piece if w is None else w)
    set_point = float(units.temperature_C(set_point_C, "set_point_C"))
    start = float(units.temperature_C(start_C, "start_C"))
    within = _core.furnace_steel_within_K if within_K is None else float(units.difference_K(within_K, "within_K"))
    film = thermal.film(furnace.kind)
    convection, emissivity = film.convection_W_m2K[1], film.emissivity[1]
    gap = nan if gap_mm is None else float(units.length_mm(gap_mm, "gap_mm"))
    if gap < 0.0:
        raise ValueError(f"gap_mm = {gap_mm!r}; expected zero or more, mm, or None")
    asked = None if duration is None else float(units.time_s(duration, "duration"))
    _fits(furnace, section, _length(section, length_mm), pieces)
    contents = furnace.contents_J_K
    assert contents is not None  # a furnace has filled it in
    around = {"film_W_m2K": convection, "emissivity": emissivity, "start_C": start, "within_K": within}
    alone = _alone(conduction.body(section, cells=cells), material, set_point, around)

    def run(seconds: float) -> dict[str, Any]:
        found: dict[str, Any] = _core.furnace_load(
            furnace.inside_mm, furnace.lining, furnace.lining_mm, furnace.power_W, contents,
            furnace.room_C, convection, emissivity, material, section, _length(section, length_mm), pieces, gap,
            0 if cells is None else cells, start, float(units.time_s(door_open, "door_open")), door_switch, set_point,
            seconds, within, finer,
        )  # fmt: skip
        return found

    found = _until_there(run, alone) if asked is None else run(asked)
    bits = int(found["flags"])
    return Loaded(
        set_point_C=set_point,
        chamber=found["chamber"],
        steel=found["steel"],
        recovered_s=found["recovered_s"],
        steel_within_s=found["steel_within_s"],
        alone_s=alone,
        drop_K=max(set_point - found["lowest_chamber_C"], 0.0),
        within_K=within,
        recovered_within_K=_core.furnace_recovered_within_K,
        energy_J=found["energy_J"],
        into_load_J=found["into_load_J"],
        lost_J=found["lost_J"],
        stored_J=found["stored_J"],
        resting_loss_W=found["resting_loss_W"],
        mass_kg=found["volume_m3"] * material.density_kg_m3,
        pieces=pieces,
        gap_mm=None if isnan(gap) else gap,
        arrangement=found["row"],
        open_share=found["open_share"],
        units=found["units"],
        cautions=_cautions(furnace, set_point),
        flags=tuple(dict.fromkeys((*flags.names(bits), *thermal_flags, *film.flags))),
        sources=tuple(dict.fromkeys((*furnace.sources, *thermal_sources, *film.sources))),
    )


def _fits(furnace: Furnace, section: Section, length_mm: float, pieces: int) -> None:
    """Refuse more steel than the chamber holds: a slip of units, mostly."""
    room = prod(furnace.inside_mm)
    steel = 1e9 * _core.furnace_piece_volume(section, length_mm) * pieces
    if steel > room:
        raise ValueError(
            f"pieces = {pieces!r} of {length_mm:g} mm come to {steel / 1e6:.1f} litres of steel; expected less than "
            f"the chamber's {room / 1e6:.1f} litres"
        )


def _until_there(run: Callable[[float], dict[str, Any]], alone_s: float) -> dict[str, Any]:
    """Twice as long until chamber and steel are there; then once more for just as long as that takes."""
    longest = float(_core.furnace_longest_s)
    seconds = 2.0 * (alone_s if alone_s > 0.0 else _FIRST_GUESS_S)
    while True:
        found = run(min(seconds, longest))
        there = max(found["steel_within_s"], found["recovered_s"])
        known = not (isnan(found["steel_within_s"]) or isnan(found["recovered_s"]))
        if known and _REST * there < 0.7 * seconds:
            return run(max(_REST * there, 1.0))
        if known or seconds >= longest:
            return found
        seconds *= 2.0


def _alone(body: Mesh, material: Material, set_point: float, around: dict[str, float]) -> float:
    """One free piece in a furnace that never falls, s; NaN if it takes longer than anybody waits."""
    steady = History.hold(set_point, _core.furnace_longest_s)
    found = conduction.heat_batch([body], material, steady, stop_within=True, **around)
    return float(found["time_within_s"][0])


def _section(piece: Any, width_mm: Any) -> Section:
    section = piece if isinstance(piece, Section) else getattr(piece, "section", None)
    if not isinstance(section, Section):
        raise TypeError(
            f"piece = {piece!r}; expected a Section or a Bar that has one, e.g. decalesce.Section('round', 20)"
        )
    if section.shape != "plate":
        if width_mm is not None:
            raise ValueError(f"width_mm = {width_mm!r}; expected none, as a {section.shape} has its own sizes")
        return section
    if width_mm is None:
        raise ValueError("width_mm is not given; expected the width of the plate, mm, or a rectangle as the piece")
    width = float(units.length_mm(width_mm, "width_mm"))
    return Section("rectangle", min(section.thickness_mm, width), max(section.thickness_mm, width))


def _length(section: Section, length_mm: Any) -> float:
    if section.shape == "block":
        return section.length_mm
    if length_mm is None:
        raise ValueError("length_mm is not given; expected the length of each piece, mm: its mass cools the furnace")
    length = float(units.length_mm(length_mm, "length_mm"))
    if not length > 0.0:
        raise ValueError(f"length_mm = {length_mm!r}; expected a length above zero, mm")
    return length


def _steel(w: Any) -> tuple[Material, tuple[str, ...], tuple[str, ...]]:
    if isinstance(w, Material):
        return w, (), ()
    steel = w if isinstance(w, thermal.ThermalSteel) else thermal.steel(w)
    material = Material(steel.temperature_C, steel.enthalpy_J_kg, steel.conductivity_W_mK, steel.density_kg_m3)
    return material, steel.flags, steel.sources


def _cautions(furnace: Furnace, set_point: float) -> tuple[str, ...]:
    """Of hot work, and of what heats this furnace; local codes last."""
    works = {"hot_work", "gas" if furnace.kind == "gas_fired" else "mains"}
    if furnace.kind == "gas_fired":
        works.add("carbon_monoxide")
    if furnace.kind == "neutral_salt":
        works.add("salt")
    with data_files.path("tables/cautions.csv").open(encoding="utf-8", newline="") as stream:
        rows = [row for row in csv.DictReader(stream) if row["level"] == "stop"]
    said = [
        row["text"]
        for row in rows
        if row["applies_to"] in works
        or (row["id"] == "ceramic_fibre" and "fibre" in furnace.lining)
        or row["id"] == "local_codes"
    ]
    limit = furnace.service_limit_C
    if limit is not None and set_point > limit:
        said.insert(0, f"{set_point:.0f} degC is above the {limit:.0f} degC that this lining is made for: stay below.")
    return tuple(said)
