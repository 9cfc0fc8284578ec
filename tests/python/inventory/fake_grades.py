"""Grades for the reader's tests: a small stand-in for the grade table, limits as the standards print them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Limits:
    minimum: float | None
    maximum: float | None


@dataclass(frozen=True)
class Middle:
    value: float
    half_width: float


@dataclass(frozen=True)
class Grade:
    designation: str
    limits: dict[str, Limits]
    relation: str = "own"

    def mid_range(self) -> dict[str, Middle]:
        out = {}
        for symbol, limit in self.limits.items():
            if limit.maximum is not None:
                low = limit.minimum or 0.0
                out[symbol] = Middle((low + limit.maximum) / 2, (limit.maximum - low) / 2)
        return out


@dataclass(frozen=True)
class Match:
    grade: Grade | None


def _grade(designation: str, **limits: tuple[float | None, float | None]) -> Grade:
    return Grade(designation, {symbol: Limits(*pair) for symbol, pair in limits.items()})


_1095: dict[str, tuple[float | None, float | None]] = {
    "C": (0.90, 1.03),
    "Mn": (0.30, 0.50),
    "P": (None, 0.040),
    "S": (None, 0.050),
}
GRADES = {
    "1095": _grade("1095", **_1095),  # SAE J403
    "AISI 1095": replace(_grade("1095", **_1095), relation="equal"),
    "W1": _grade("W1", C=(0.70, 1.50), Mn=(0.10, 0.40)),  # ASTM A686
    "5160": _grade("5160", C=(0.56, 0.64), Mn=(0.75, 1.00), Si=(0.15, 0.35), Cr=(0.70, 0.90)),  # SAE J404
    "4340": _grade(
        "4340", C=(0.38, 0.43), Mn=(0.60, 0.80), Si=(0.15, 0.35), Cr=(0.70, 0.90), Ni=(1.65, 2.00), Mo=(0.20, 0.30)
    ),  # SAE J404
    "100Cr6": _grade("100Cr6", C=(0.93, 1.05), Mn=(0.25, 0.45), Si=(0.15, 0.35), Cr=(1.35, 1.60)),  # EN ISO 683-17
    "D2": _grade("D2", C=(1.40, 1.60), Mn=(None, 0.60), Si=(None, 0.60), Cr=(11.0, 13.0), Mo=(0.70, 1.20)),  # ASTM A681
    "90MnCrV8": _grade(
        "90MnCrV8", C=(0.85, 0.95), Mn=(1.90, 2.10), Si=(0.10, 0.40), Cr=(0.20, 0.50), V=(0.05, 0.20)
    ),  # EN ISO 4957
    "1.2510": replace(
        _grade("O1", C=(0.85, 1.00), Mn=(1.00, 1.40), Cr=(0.40, 0.60), W=(0.40, 0.60)), relation="nearest"
    ),  # ASTM A681
}


def find_many(designations: Iterable[object]) -> list[Match]:
    return [Match(GRADES.get(str(d))) for d in designations]
