"""The C++ header of the joined critical temperatures, from critical_*.csv, acm_shift_fit and eutectoid_shift."""

from __future__ import annotations

from collections.abc import Callable

Row = dict[str, str]

_SAFE = ["plain_hypo", "plain_hyper", "low_alloy", "hyper_low_alloy", "silicon_spring"]


def _number(cell: str, blank: str) -> str:
    return repr(float(cell)) if cell.strip() else blank


def _constants(rows: Callable[[str], list[Row]]) -> list[str]:
    return [
        f"inline constexpr double {row['name']} = {float(row['value'])!r};  "
        f"// {row['unit']}, {row['source']}, {row['status']}"
        for row in rows("tables/critical_constants.csv")
    ]


def _coverage(rows: Callable[[str], list[Row]], elements: list[str]) -> list[str]:
    table = rows("tables/critical_coverage.csv")
    body = ",\n".join(
        f'    {{"{row["formula"]}", {elements.index(row["element"])}, {_number(row["minimum_wt_pct"], "-1.0")}, '
        f"{_number(row['maximum_wt_pct'], '101.0')}}}"
        for row in table
    )
    return [
        "/// Range of one element inside which a formula votes, wt %; -1 and 101 where one side is open.",
        "struct CoverageRow {\n  std::string_view formula;\n  int element;\n  double minimum;\n  double maximum;\n};",
        f"inline constexpr CoverageRow coverage[] = {{\n{body}}};",
    ]


def _scatter(rows: Callable[[str], list[Row]]) -> list[str]:
    table: dict[str, dict[str, str]] = {}
    for row in rows("tables/critical_family_rms.csv"):
        table.setdefault(row["formula"], {})[row["family"]] = row["scatter_C"]
    body = ",\n".join(
        f'    {{"{formula}", {{{", ".join(repr(float(scatter[family])) for family in _SAFE)}}}}}'
        for formula, scatter in table.items()
        if all(family in scatter for family in _SAFE)
    )
    return [
        "/// Scatter of a formula in each family that has safe formulas, K: published error, or rms on seen rows.",
        f"struct ScatterRow {{\n  std::string_view formula;\n  double family[{len(_SAFE)}];\n}};",
        f"inline constexpr ScatterRow scatter[] = {{\n{body}}};",
    ]


_RELATION = {"<=": "at_most", ">=": "at_least", "<": "below", ">": "above"}
_WORDS = {"largest of Mn Si Cr Ni Mo V W Cu Co Al": "largest", "sum of Mn Si Cr Ni Mo V W Cu Co Al": "sum"}


def _families(rows: Callable[[str], list[Row]]) -> list[str]:
    lines = ["/// Borders of the families, wt %, named family_amount_relation."]
    for row in rows("tables/critical_families.csv"):
        if row["value_wt_pct"] == "eutectoid" or row["family"] == "plain_hyper":
            continue
        what = _WORDS.get(row["what"], row["what"].replace(" + ", "_"))
        name = f"{row['family']}_{what}_{_RELATION[row['relation']]}"
        lines.append(
            f"inline constexpr double {name} = {float(row['value_wt_pct'])!r};  // {row['source']}, {row['status']}"
        )
    return lines


def _slopes(rows: Callable[[str], list[Row]]) -> list[str]:
    plain = next(float(r["value"]) for r in rows("tables/critical_constants.csv") if r["name"] == "eutectoid_carbon")
    lines = ["/// How the eutectoid carbon moves with 1 wt % of an element, wt %; computed."]
    for row in rows("tables/eutectoid_shift.csv"):
        if row["kind"].startswith("computed") and float(row["wt_pct"]) == 1.0:
            slope = float(row["eutectoid_carbon_wt_pct"]) - plain
            lines.append(f"inline constexpr double eutectoid_slope_{row['element']} = {slope!r};")
    return lines


def _shift(rows: Callable[[str], list[Row]], elements: list[str]) -> list[str]:
    keys = ["a0", "a1", "a2", "b0", "b1", "b2"]
    body = ",\n".join(
        f"    {{{elements.index(row['element'])}, {{{', '.join(repr(float(row[key])) for key in keys)}}}}}"
        for row in rows("tables/acm_shift_fit.csv")
    )
    return [
        "/// Shift of saturated carbon by an element: sum over k of (a_k w + b_k w^2) t^k, t = (T - 850)/100.",
        "struct ShiftRow {\n  int element;\n  double term[6];\n};",
        f"inline constexpr ShiftRow shift[] = {{\n{body}}};",
    ]


def critical(rows: Callable[[str], list[Row]], elements: list[str]) -> str:
    """Body of the header."""
    lines = ["namespace critical {", ""]
    parts = (
        _constants(rows),
        _coverage(rows, elements),
        _scatter(rows),
        _families(rows),
        _slopes(rows),
        _shift(rows, elements),
    )
    for part in parts:
        lines += [*part, ""]
    return "\n".join([*lines, "}  // namespace critical"])
