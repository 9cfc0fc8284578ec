"""Hardness after a temper: the model, and the grade's published table beside it."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from decalesce import _core, units
from decalesce._core import AsQuenched, Composition, Estimate
from decalesce.temper import published
from decalesce.temper.practice import Note, grade_of, practice
from decalesce.temper.tempers import Tempers, tempers_of

#: The softening model is written in the parameter with this constant, in thousand degrees Rankine.
_MODEL_CONSTANT = "grange_baughman"
_RANKINE_PER_KELVIN = 1.8


@dataclass(frozen=True, slots=True)
class TemperedHardness:
    """Hardness after a temper.

    ``estimate`` is the answer, ``used`` says where it comes from: ``"model"`` or ``"table"``. ``model`` and
    ``published`` hold both, the second None where no table was wanted or none exists. ``value low high unit flags level
    parts sources`` are those of the answer; ``notes`` are plain sentences, ``practice`` the rules of the trade.
    """

    estimate: Estimate
    used: str
    model: Estimate
    published: Estimate | None
    notes: tuple[str, ...]
    practice: tuple[Note, ...]

    @property
    def value(self) -> Any:
        """Hardness; NaN where there is none."""
        return self.estimate.value

    @property
    def low(self) -> Any:
        """Lower end of the band."""
        return self.estimate.low

    @property
    def high(self) -> Any:
        """Upper end of the band."""
        return self.estimate.high

    @property
    def unit(self) -> str:
        """HRC or HV."""
        return self.estimate.unit

    @property
    def flags(self) -> Any:
        """Flag ids; for arrays the bits of each place."""
        return self.estimate.flags

    @property
    def level(self) -> str:
        """The gravest level among the flags."""
        return self.estimate.level

    @property
    def parts(self) -> dict[str, Any]:
        """Half-widths by cause."""
        return self.estimate.parts

    @property
    def sources(self) -> tuple[str, ...]:
        """Keys of the bibliography."""
        return self.estimate.sources

    def flagged(self, flag: str) -> Any:
        """Whether the answer (each answer of a batch) carries the flag."""
        return self.estimate.flagged(flag)

    def __float__(self) -> float:
        """Return the value of one answer."""
        return float(self.estimate)


def quenched(q: Any) -> AsQuenched:
    """Return ``q`` when it is an AsQuenched; otherwise raise a TypeError that shows how to make one."""
    if isinstance(q, AsQuenched):
        return q
    if isinstance(q, Composition) or isinstance(getattr(q, "composition", None), Composition):
        what = "is the composition of a bar; a temper starts from the quenched steel: its hardness, and the carbon that"
        what += " was in solution"
    else:
        what = "is no AsQuenched"
    raise TypeError(
        f"q = {q!r} {what}. Make one: a = decalesce.Austenite.all_dissolved(w) (or"
        " decalesce.austenite.dissolve(w, decalesce.hold(800, 600))), then"
        " q = decalesce.AsQuenched.measured(64.5, a) or decalesce.AsQuenched.fully_hardened(a)"
    )


def places(steel_shape: tuple[int, ...], *columns: Any) -> tuple[Any, ...]:
    """Bring columns to one shape with a batch of steels: the row of the steel at each place, then the columns."""
    rows = np.arange(math.prod(steel_shape), dtype=np.int64).reshape(steel_shape)
    together = np.broadcast_arrays(rows, *(np.asarray(column, float) for column in columns))
    return tuple(np.array(column, dtype=column.dtype, order="C") for column in together)


def _model(q: AsQuenched, held: Tempers, scale: str, half_width_K: float) -> Estimate:
    constant = _core.temper_constant(_MODEL_CONSTANT, np.nan)["hours"]
    value, total_s, peak_C, _ = held.carried(constant)
    rows, P18, peaks, totals = places(q.shape, np.multiply(value, _RANKINE_PER_KELVIN), peak_C, total_s)
    return _core.temper_hardness(q, rows, P18, peaks, totals, scale, half_width_K)


def _scale(name: str) -> str:
    if name not in ("HRC", "HV"):
        raise ValueError(f"scale = {name!r}; expected 'HRC' or 'HV'")
    return name


def hardness(
    q: AsQuenched,
    hold: Any,
    *,
    tempers: int = 1,
    scale: str = "HRC",
    grade: Any = None,
    tables: str = "beside",
    austenitize_C: float | None = None,
    temperature_half_width_K: Any = 0.0,
) -> TemperedHardness:
    """Hardness of the quenched steel after a temper.

    The model is the screen model: tempered plain carbon martensite by carbon and temper parameter (constant 18), and so
    many HV for each per cent of Mn and Si above 0.75 and 0.20, Ni, Cr, Mo (half beside chromium) and V *in the
    martensite*. Never above the as-quenched hardness, never rising with temperature or time.

    Args:
        q: the quenched steel, one or a batch. A composition is refused: the error shows how to make one.
        hold: a History, a pair (temperature, time) that may hold arrays, or a list for several tempers.
        tempers: how often the temper is done.
        scale: ``"HRC"``, or ``"HV"`` (the only one below 20 HRC).
        grade: a Grade or its name: its published table and the rules of the trade for it.
        tables: ``"beside"``: the model answers, the grade's table stands in ``published``; ``"prefer"``: the table
            answers wherever it reaches; ``"ignore"``: no table.
        austenitize_C: hardening temperature, to choose among a grade's tables; else the longest is taken.
        temperature_half_width_K: how far the oven may be off, for the band.

    Returns:
        A TemperedHardness in the broadcast shape of ``q`` and ``hold``. Range: 0.35 to 1.00 %C (0.25 to 1.15 answered
        and flagged), Mn 2.1, Si 2.2, Ni 4.0, Cr 1.5, Mo 0.36, V 0.2, W 0.6 %, fully martensitic, 10 min to 32 h. Beyond
        the carbide formers' limits NaN with ``no_model`` (and ``secondary_hardening`` where the steel hardens again).
        At Ac1 and above NaN with ``temper_near_ac1``. Accuracy: the band held nine of ten measurements on steels left
        out of the fit (2.6 HRC rms, data/fit/temper_bands.py). Sources: RaiipaTempering2024, GrangeBaughman1956,
        ASTM_E140.

    Raises:
        TypeError: ``q`` is no AsQuenched, ``hold`` no temper. ValueError: a time of zero or less, an unknown scale or
        ``tables``. LookupError: an unknown grade.
    """
    steel = quenched(q)
    held = tempers_of(hold, tempers)
    half_width_K = float(units.difference_K(temperature_half_width_K, "temperature_half_width_K"))
    found = grade_of(grade)
    table = published.choose(found, tables, austenitize_C)
    if table is not None and _scale(scale) == "HV":
        raise ValueError("scale = 'HV': published tables are in HRC; use scale='HRC' or tables='ignore'")
    model = _model(steel, held, _scale(scale), half_width_K)
    peak = held.carried(_core.temper_constant(_MODEL_CONSTANT, np.nan)["hours"])[2]
    rules = practice(found, float(peak) if np.ndim(peak) == 0 else None)
    if table is None:
        return TemperedHardness(model, "model", model, None, (), rules)
    beside = table.after(held)
    # One table answers all places or none: an answer mixed from two origins could not say where it comes from.
    preferred = tables == "prefer" and not np.any(np.isnan(beside.value)) and steel.shape == ()
    notes = table.notes()
    if tables == "prefer" and not preferred:
        notes += ("The table does not reach this temper; the model answers.",)
    return TemperedHardness(
        beside if preferred else model, "table" if preferred else "model", model, beside, notes, rules
    )


def hardness_rows(
    *, in_solution: Composition, as_quenched_HRC: Any, temperature_C: Any, time_s: Any, scale: str = "HRC"
) -> Estimate:
    """Tempered hardness from columns, for racks of a million bars: the model of `hardness`, without objects between.

    Args:
        in_solution: composition of the *martensite*, one or a batch; not the bar's.
        as_quenched_HRC: as-quenched hardness, a number or an array in the shape of ``in_solution``.
        temperature_C: temper in degC; numbers or arrays that broadcast with the steels.
        time_s: time at temper in s, all tempers together; likewise.
        scale: ``"HRC"`` or ``"HV"``.

    Returns:
        An Estimate in the broadcast shape; range, accuracy and flags as `hardness`. A bad row is NaN and flagged.

    Raises:
        TypeError: ``in_solution`` is no Composition. ValueError: shapes that do not fit, an unknown scale.
    """
    if not isinstance(in_solution, Composition):
        raise TypeError(f"in_solution = {in_solution!r}; expected the Composition of the martensite")
    shape = in_solution.shape
    try:
        read = np.ascontiguousarray(np.broadcast_to(np.asarray(as_quenched_HRC, float), shape))
    except ValueError as problem:
        raise ValueError(
            f"as_quenched_HRC has shape {np.shape(as_quenched_HRC)}; expected a number or the shape {shape}"
            " of in_solution"
        ) from problem
    celsius = units.temperature_C(temperature_C)
    seconds = units.time_s(time_s)
    rows, peaks, totals = places(shape, celsius, seconds)
    return _core.temper_hardness_rows(in_solution, read, rows, peaks, totals, _scale(scale), 0.0)
