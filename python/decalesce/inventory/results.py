"""The result columns of a block: a parsed rack walked through the plan, in words where words are wanted."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from decalesce import _core, plan, quench
from decalesce._core import Composition, Estimate
from decalesce.grade import Grade
from decalesce.inventory.rack import ParsedRack
from decalesce.inventory.words import ELEMENTS, SHAPES
from decalesce.plan.hardening_facts import published_as_quenched
from decalesce.temper.fallback import fallback
from decalesce.temper.published import usual_range

_NOT_STATED = 3
_LEVELS = ("", "note", "caution", "stop")
_SHAPE_CODES = np.array([max(_core.shape_names.index(s), 0) if s in _core.shape_names else 0 for s in SHAPES], np.uint8)
_SECONDS_A_MINUTE = 60.0

#: Result columns that hold numbers with a band: name, key of the plan, factor.
_BANDED = (
    ("ac1_C", "ac1", 1.0),
    ("ac3_C", "ac3", 1.0),
    ("acm_C", "acm", 1.0),
    ("ms_C", "ms", 1.0),
    ("austenitize_C", "aim", 1.0),
    ("hold_min", "hold_s", 1.0 / _SECONDS_A_MINUTE),
    ("as_quenched_HRC", "as_quenched_HRC", 1.0),
    ("temper_C", "temper_C", 1.0),
)
#: Those a smith works by: their flags make the row's level.
_WORKED_BY = ("aim", "hold_s", "temper_C")


def composition_of(rack: ParsedRack) -> Composition:
    """The contents of a rack as a batch composition; elements that no row states are left out."""
    stated = (rack.status != _NOT_STATED).any(axis=0)
    kept = [(i, e) for i, e in enumerate(ELEMENTS) if stated[i] or e == "C"]
    return Composition(
        **{e: rack.values[:, i] for i, e in kept},
        half_width={e: np.nan_to_num(rack.half_width[:, i]) for i, e in kept if rack.half_width[:, i].any()},
        status={e: rack.status[:, i] for i, e in kept},
    )


@lru_cache(maxsize=4096)
def _media(grade: Grade) -> str:
    return ", ".join(quench.line(grade).media) or "not evaluated here"


_FROM = {"table": "published table", "published range": "published range"}


@lru_cache(maxsize=65536)
def _published_temper(
    grade: Grade, target: float, total_s: float, aim: float
) -> tuple[float, float, float, str, np.uint64] | None:
    """Value, ends, origin and flag bits of what is published for a grade."""
    found = fallback(grade, target, total_s, aim)
    if found is None:
        return None
    e = found.temperature_C
    bits = sum(_core.flag_bit(flag) for flag in e.flags)
    return e.value, e.low, e.high, "" if np.isnan(e.value) else _FROM[found.used], np.uint64(bits)


def _published_quench(
    rack: ParsedRack, grade_index: NDArray[np.int64], columns: dict[str, Any]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """As-quenched hardness: computed, and the grade's published figure where nothing can be computed."""
    estimate, aim = columns["as_quenched_HRC"], columns["aim"].value
    value, low, high = (np.array(a) for a in (estimate.value, estimate.low, estimate.high))
    for row in np.flatnonzero(np.isnan(value) & ~np.isnan(aim) & (grade_index >= 0)):
        found = published_as_quenched(rack.grades[grade_index[row]], float(aim[row]))
        if found is not None:
            value[row], low[row], high[row] = found.value, found.low, found.high
    return value, low, high


@lru_cache(maxsize=65536)
def _said(bits: int) -> tuple[str, str, int]:
    """Flag ids, sentences and level number of a set of bits."""
    if bits == 0:
        return "", "", 0
    level = _LEVELS.index(_core.flag_level(bits))
    sentences = _core.flag_sentences(bits)
    return "; ".join(sentences), " | ".join(sentences.values()), level


class _Temper:
    """The temper column: the model's, and the grade's table or range where the model does not know the steel."""

    def __init__(
        self,
        rack: ParsedRack,
        grade_index: NDArray[np.int64],
        columns: dict[str, Any],
        target: NDArray[np.float64],
        time_s: float,
    ) -> None:
        estimate: Estimate = columns["temper_C"]
        self.value, self.low, self.high = (np.array(a) for a in (estimate.value, estimate.low, estimate.high))
        self.flags = np.array(estimate.flags)
        self.source = np.where(np.isnan(self.value), "", "model").astype(object)
        self._compare_with_published(rack.grades, grade_index)
        no_model = (self.flags & np.uint64(_core.flag_bit("no_model"))) != 0
        above = (self.flags & np.uint64(_core.flag_bit("target_above_reach"))) != 0
        wanted = no_model & ~above & ~np.isnan(target) & (grade_index >= 0)
        aim = columns["aim"].value
        for row in np.flatnonzero(wanted):
            grade = rack.grades[grade_index[row]]
            total_s = time_s * int(columns["tempers"][row])
            found = _published_temper(grade, float(target[row]), total_s, float(aim[row]))
            if found is not None:
                self.value[row], self.low[row], self.high[row], self.source[row], self.flags[row] = found

    def _compare_with_published(self, grades: Any, grade_index: NDArray[np.int64]) -> None:
        """Flags the model's tempers that lie outside every range published for the grade."""
        everything = (-np.inf, np.inf)
        ends = np.array([*(usual_range(grade.designation) or everything for grade in grades), everything])[grade_index]
        outside = (self.value < ends[:, 0]) | (self.value > ends[:, 1])
        self.flags |= np.where(outside, np.uint64(_core.flag_bit("differs_from_published")), np.uint64(0))


def result_columns(
    rack: ParsedRack,
    *,
    shop: plan.Shop | str | None = None,
    target: float | None = None,
    temper_time_s: float,
) -> pd.DataFrame:
    """The results of one block, one row a row of the rack, in its order."""
    wanted = np.array(rack.target_HRC, dtype=float)
    if target is not None:
        wanted = np.where(np.isnan(wanted), float(target), wanted)
    # where the chemistry is not that of the grade, nothing published for the grade may be used
    trusted = np.where(rack.findings.mask("grade_chemistry_mismatch"), -1, rack.grade_index).astype(np.int64)
    columns = plan.batch(
        composition_of(rack),
        grades=rack.grades,
        grade_index=trusted,
        shape=_SHAPE_CODES[rack.shape],
        thickness_mm=rack.thickness_mm,
        width_mm=rack.width_mm,
        length_mm=rack.length_mm,
        target_HRC=wanted,
        shop=shop,
        temper_time=temper_time_s,
    )
    trusted = np.where(columns["standing"] == plan.NOT_THIS_GRADE, -1, trusted)
    temper = _Temper(rack, trusted, columns, wanted, temper_time_s)
    out: dict[str, Any] = {
        "grade_found": _of_grade(rack, rack.grade_index, lambda grade: grade.designation, "none"),
        "family": np.array(_core.family_names, dtype=object)[columns["family"]],
        "carbon_wt": np.where(rack.status[:, 0] == _NOT_STATED, np.nan, rack.values[:, 0]),
    }
    closed = {
        "temper_C": (temper.value, temper.low, temper.high),
        "as_quenched_HRC": _published_quench(rack, trusted, columns),
    }
    for name, key, factor in _BANDED:
        value, low, high = closed.get(key) or (columns[key].value, columns[key].low, columns[key].high)
        out[name], out[f"{name}_low"], out[f"{name}_high"] = value * factor, low * factor, high * factor
    out["austenitize_coolest_C"] = columns["coolest"].value
    out["austenitize_hottest_C"] = columns["hottest"].value
    out["austenitize_from"] = np.select(
        [np.isnan(columns["aim"].value), columns["window_published"]], ["", "published"], "computed"
    ).astype(object)
    out["heat_up_min"] = (columns["heat_up_s"].value + columns["equalize_s"].value) / _SECONDS_A_MINUTE
    out["quench"] = _of_grade(rack, trusted, _media, "not evaluated here")
    out["retained_austenite_percent"] = columns["retained_austenite"].value * 100.0
    out["target_used_HRC"] = wanted
    out["temper_from"] = temper.source
    out["temper_stays_from_C"], out["temper_stays_to_C"] = columns["stays_from_C"], columns["stays_to_C"]
    out["tempers"] = columns["tempers"]
    bits = temper.flags * ~np.isnan(wanted)
    for key in _WORKED_BY[:-1]:
        bits = bits | columns[key].flags
    bits = bits | (columns["as_quenched_HRC"].flags & np.uint64(_core.flag_bit("middle_stays_soft")))
    numbers = {name: _rounded(name, column) for name, column in out.items()}
    return _worded(rack, pd.DataFrame(numbers, copy=False), bits)


def _rounded(name: str, column: Any) -> Any:
    """To a tenth of a degree, a point or a minute and a thousandth of a per cent: what is beyond is no information."""
    if getattr(column, "dtype", None) != np.float64:
        return column
    return np.round(column, 3 if name.startswith("carbon") else 1)


def _of_grade(rack: ParsedRack, index: NDArray[np.integer], word: Any, without: str) -> NDArray[np.object_]:
    words = np.array([*(word(grade) for grade in rack.grades), without], dtype=object)
    return words[index]  # type: ignore[no-any-return]


def _worded(rack: ParsedRack, results: pd.DataFrame, bits: NDArray[np.uint64]) -> pd.DataFrame:
    """Adds level, flags and message: of the reading and of the plan."""
    sets, at = np.unique(bits, return_inverse=True)
    said = [_said(int(b)) for b in sets]
    reading = rack.findings.worst_level()
    level = np.maximum(np.array([s[2] for s in said], dtype=np.uint8)[at], reading)
    results["level"] = np.array(["clean", *_LEVELS[1:]], dtype=object)[level]
    results["reading_level"] = np.array(["clean", *_LEVELS[1:]], dtype=object)[reading]
    results["flags"] = np.array([s[0] for s in said], dtype=object)[at]
    sentences = np.array([s[1] for s in said], dtype=object)[at].tolist()
    parts = [pd.Series(part, dtype=str) for part in rack.findings.message_parts(sentences)]
    results["message"] = pd.concat(parts, ignore_index=True) if parts else pd.Series([], dtype=str)
    return results
