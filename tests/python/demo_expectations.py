"""The demo rack and what was expected of it by hand (data/demo/README.md says how to read the columns).

``VOCABULARY`` is the one place where the plain words of the expectation meet the ids of the reader's rules.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from decalesce.inventory import Finding

DEMO = Path(__file__).resolve().parents[2] / "data" / "demo"
RACK = DEMO / "bar_rack.csv"
CERTIFICATES = DEMO / "certificates"
LEVELS = ("clean", "note", "caution", "stop")


@dataclass(frozen=True)
class Means:
    """The rules one expected word stands for, the words a finding's raw cell must then hold (any of them; none: any
    cell), and why."""

    rules: tuple[str, ...]
    why: str
    raw: tuple[str, ...] = ()

    def says(self, finding: Finding) -> bool:
        """True when the finding is what the word means."""
        return finding.rule.id in self.rules and (not self.raw or any(part in finding.raw for part in self.raw))


_PPM, _PER_MILLE = ("ppm",), ("‰",)
VOCABULARY: dict[str, Means] = {
    "decimal_comma": Means(("decimal_comma",), "the same"),
    "inch_size": Means(
        ("size_in_inches", "size_fraction_inch", "size_inch_assumed"), "written with the sign, as a fraction, or bare"
    ),
    "thousands_separator": Means(("thousands_separator",), "the same"),
    "no_thickness": Means(("size_length_only",), "the one number of the size is a length"),
    "range": Means(("field_range",), "the middle of a range of hardness"),
    "hb_in_hrc": Means(("brinell_in_rockwell_column",), "the same"),
    "fahrenheit_in_celsius": Means(("fahrenheit_in_celsius_column",), "the same"),
    "letter_for_digit": Means(
        ("letters_for_digits", "grade_zero_for_letter"), "O for 0 in a number, 0 for O in the name of a grade"
    ),
    "ppm": Means(("ppm_in_cell", "scaled_column"), "the unit stands in the cell or in the header", _PPM),
    "per_mille": Means(
        ("per_mille_in_cell", "scaled_column"), "the unit stands in the cell or in the header", _PER_MILLE
    ),
    "per_mille_slip": Means(("scale_slip",), "all figures ten times too large"),
    "one_digit_carbon": Means(("one_digit_carbon",), "the same"),
    "below_limit": Means(("below_limit", "below_unstated_limit"), "<0.01 and <LOD"),
    "trace": Means(("trace",), "the same"),
    "maximum_only": Means(
        ("upper_limit", "upper_limit_residual", "carbon_upper_limit"), "max before a number; residuals and carbon apart"
    ),
    "not_determined": Means(("not_determined",), "n.d., n.b.: with letters", ("n.",)),
    "dash_for_missing": Means(("not_determined",), "a dash alone", ("-",)),
    "impossible_zero": Means(("impossible_zero",), "the same"),
    "bare_zero": Means(("bare_zero",), "0 for an element that may be absent"),
    "missing": Means(
        ("filled_from_grade", "filled_from_heat", "filled_from_certificate"),
        "an empty cell is said by what closed it; one that nothing closes is a status and no finding",
    ),
    "filled_from_grade": Means(("filled_from_grade",), "the same"),
    "wide_grade_range": Means(("wide_grade_range",), "the same"),
    "unknown_grade": Means(("grade_unknown",), "the same"),
    "no_grade": Means(("carbon_missing",), "no grade gives the carbon"),
    "no_carbon": Means(
        ("carbon_missing", "carbon_from_grade", "certificate_without_carbon"),
        "nobody states it, or only the grade does; or no row of a certificate does",
    ),
    "no_grade_no_certificate": Means(("carbon_missing",), "its text names both"),
    "no_heat": Means(("certificate_without_heat",), "the same"),
    "grade_chemistry_mismatch": Means(
        ("grade_chemistry_mismatch", "outside_grade_limits"), "the row is said to mismatch, and each element that does"
    ),
    "swapped_columns": Means(("swapped_columns",), "the same"),
    "duplicate_piece_id": Means(("duplicate_piece_id",), "the same"),
    "heat_number_mangled": Means(
        ("identifier_became_number", "identifier_decimal", "identifier_from_numbers"),
        "powers of ten, a .0 tail, a number cell",
    ),
    "two_analyses": Means(
        ("heat_analyses_conflict", "certificate_analyses_conflict", "heat_analyses_joined"),
        "that contradict each other, or agree",
    ),
    "ladle_and_product": Means(("ladle_and_product",), "the same"),
    "limits_row": Means(("limits_row",), "the same"),
    "header_only": Means(("certificate_no_rows",), "the same"),
    "empty_file": Means(("certificate_empty",), "the same"),
}
# Where one word stands for a judgement and its details, the judgement itself must be there.
MUST = {"grade_chemistry_mismatch": "grade_chemistry_mismatch"}


@lru_cache(maxsize=4)
def rows_of(name: str) -> tuple[dict[str, str], ...]:
    """The rows of expected.csv, expected_certificates.csv or expected_loads.csv as texts; an empty file is an error."""
    with (DEMO / f"{name}.csv").open(encoding="utf-8", newline="") as lines:
        rows = tuple(csv.DictReader(lines))
    if not rows:
        raise ValueError(f"data/demo/{name}.csv holds no rows")
    return rows


def expected_bars() -> tuple[dict[str, str], ...]:
    """What is expected of each row of the rack, in its order."""
    return rows_of("expected")


def expected_certificates() -> tuple[dict[str, str], ...]:
    """What is expected of each certificate file."""
    return rows_of("expected_certificates")


def expected_loads() -> tuple[dict[str, str], ...]:
    """Pairs of bars that may or may not share a furnace."""
    return rows_of("expected_loads")


def number(text: str) -> float | None:
    """A number of the expectation; None where nothing is judged."""
    return float(text) if text else None


def heats_of(text: str) -> dict[str, float]:
    """``A=0.74 B=0.76`` as numbers by heat."""
    return {heat: float(value) for heat, value in (pair.split("=") for pair in text.split())}


def unsaid(words: str, findings: tuple[Finding, ...]) -> list[str]:
    """The expected words that no finding says."""
    out = []
    for word in words.split():
        must = MUST.get(word)
        if not any(VOCABULARY[word].says(f) and (must is None or f.rule.id == must) for f in findings):
            out.append(word)
    return out


def unexpected(words: str, findings: tuple[Finding, ...]) -> list[str]:
    """The findings that none of the words covers, as rule and cell."""
    meanings = [VOCABULARY[word] for word in words.split()]
    return sorted({f"{f.rule.id}: {f.raw}" for f in findings if not any(m.says(f) for m in meanings)})
