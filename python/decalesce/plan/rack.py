"""The plans of a rack held as arrays: one compiled call, the same numbers as `make` gives bar by bar."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from decalesce import _core, critical, scales, temper, units
from decalesce._core import Composition
from decalesce.grade import Grade
from decalesce.plan.hardening_facts import air_hardening, window_ends
from decalesce.plan.shop import Shop, shop_of
from decalesce.plan.standing import NOT_THIS_GRADE, standings

_SHAPE_CODE = {name: code for code, name in enumerate(_core.shape_names)}


def _numbers(name: str, given: Any, rows: int) -> NDArray[np.float64]:
    array = np.asarray(np.nan if given is None else given, dtype=float)
    if array.ndim == 0:
        return np.full(rows, float(array))
    if array.shape != (rows,):
        raise ValueError(f"{name} has shape {array.shape}; expected one number or {rows} of them")
    return np.ascontiguousarray(array)


def _targets(given: Any, rows: int) -> NDArray[np.float64]:
    if given is None:
        return np.full(rows, np.nan)
    if np.ndim(given) == 0:
        return np.full(rows, scales.wanted(given).HRC)
    array = np.asarray(given, dtype=object if isinstance(given, (list, tuple)) else None)
    if array.dtype.kind in "OU":
        # of numbers an off row is flagged; what is written with its scale is read one by one
        given = [
            scales.wanted(item, f"target_HRC[{row}]").HRC if isinstance(item, (str, scales.Hardness)) else item
            for row, item in enumerate(array.tolist())
        ]
    return _numbers("target_HRC", given, rows)


def _shapes(given: Any, rows: int) -> NDArray[np.uint8]:
    if given is None:
        return np.zeros(rows, np.uint8)
    array = np.asarray(given)
    if array.dtype.kind in "ui":
        return np.ascontiguousarray(np.broadcast_to(array, (rows,)), np.uint8)
    unknown = set(array.ravel().tolist()) - set(_SHAPE_CODE)
    if unknown:
        raise ValueError(f"shape holds {sorted(unknown)}; expected words among {', '.join(_SHAPE_CODE)}")
    return np.broadcast_to(np.vectorize(_SHAPE_CODE.__getitem__, otypes=[np.uint8])(array), (rows,)).copy()


def batch(
    w: Composition,
    *,
    grades: Sequence[Grade] = (),
    grade_index: Any = None,
    shape: Any = None,
    thickness_mm: Any = None,
    width_mm: Any = None,
    length_mm: Any = None,
    target_HRC: Any = None,
    shop: Shop | str | None = None,
    temper_time: Any = "2h",
    tempers: Any = None,
) -> dict[str, Any]:
    """The plans of a rack: a dict of columns, one row a steel, in the order of ``w``.

    Args:
        w: a batch composition of shape (n,).
        grades: the grades that occur; ``grade_index`` (n,) points into them, -1 for none. They give the published
            window where no rule from composition is safe or the aim lies far outside it (where the analysis is
            outside the grade's limits it is flagged ``differs_from_published`` instead), and how often to temper. Of an
            analysis that is another steel (flag ``not_this_grade``) nothing of the grade is used.
        shape: words or codes of the section, (n,); plates if not given.
        thickness_mm: and ``width_mm``, ``length_mm``, ``tempers``: a number or (n,); NaN is not known.
        target_HRC: wanted hardness, a number or (n,), or as written: ``"62HRC"``, ``"700HV"``; NaN is not known. An
            impossible number for the whole rack is refused, in a row it is flagged.
        shop: as in `make`, and so is ``temper_time``.

    Returns:
        Estimates ``ac1 ac3 acm ms coolest aim hottest heat_up_s equalize_s hold_s carbon as_quenched_HRC
        retained_austenite temper_C`` and plain columns ``family reasons window_published temper_hardness_HRC
        stays_from_C stays_to_C hardest_HRC softest_HRC tempers standing`` (0 inside the grade, 1 outside, 2 another
        steel). A bad row is NaN and flagged and stops nothing.

    Raises:
        ValueError: a single steel, columns of another length, an unknown furnace or shape, a target nobody can read.
    """
    if len(w.shape) != 1:
        raise ValueError(
            f"w has shape {w.shape}; expected a batch of shape (n,), or use decalesce.plan.make for one bar"
        )
    rows = w.shape[0]
    index = np.full(rows, -1) if grade_index is None else np.asarray(grade_index)
    judged = standings(w, grades, index)
    index = np.where(judged == NOT_THIS_GRADE, -1, index)
    ends = np.array([window_ends(g) for g in grades] + [(np.nan, np.nan)])
    in_air = np.array([air_hardening(g) for g in grades] + [False], dtype=np.uint8)
    back = np.array([temper.embrittles_back(g) for g in grades] + [False], dtype=np.uint8)
    usual = np.array([temper.tempers_usual(g) for g in grades] + [1], dtype=float)
    times = usual[index] if tempers is None else _numbers("tempers", tempers, rows)
    if tempers is None and (index < 0).any():  # no grade says how often: the family of the composition does
        by_family = np.array([temper.tempers_usual(None, name) for name in critical.family_names], dtype=float)
        bare = np.flatnonzero(index < 0)
        times[bare] = by_family[np.asarray(_core.critical_batch(w, False).family)[bare]]
    columns: dict[str, Any] = _core.plan_rows(
        w,
        _shapes(shape, rows),
        _numbers("thickness_mm", thickness_mm, rows),
        _numbers("width_mm", width_mm, rows),
        _numbers("length_mm", length_mm, rows),
        _targets(target_HRC, rows),
        times,
        np.ascontiguousarray(ends[index, 0]),
        np.ascontiguousarray(ends[index, 1]),
        np.ascontiguousarray(in_air[index]),
        np.ascontiguousarray(back[index]),
        judged,
        shop_of(shop).furnace,
        units.time_s(temper_time, "temper_time"),
    )
    columns["tempers"] = times.astype(int)
    columns["standing"] = judged
    return columns
