"""C++ tables of the simple stages: austenitizing, heating, martensite."""

from __future__ import annotations

from collections.abc import Sequence

Row = dict[str, str]


def _number(cell: str) -> str:
    return repr(float(cell)) if cell.strip() else "nan"


def _text(cell: str) -> str:
    return f'"{cell}"'


def _array(name: str, struct: str, comment: str, columns: Sequence[tuple[str, str]], table: list[Row]) -> str:
    """A struct with one member a column and a constexpr array of it; a column is text, a number or the source."""
    types = {"text": "std::string_view", "number": "double", "citation": "Citation"}
    members = "\n".join(f"  {types[kind]} {column};" for column, kind in columns)
    form = {"text": _text, "number": _number, "citation": lambda cell: f"Citation::{cell}"}
    body = ",\n".join("    {" + ", ".join(form[kind](row[column]) for column, kind in columns) + "}" for row in table)
    return (
        f"/// {comment}\nstruct {struct} {{\n{members}\n}};\n\n"
        f"inline constexpr std::array<{struct}, {len(table)}> {name}{{{{\n{body}}}}};"
    )


def named_numbers(table: list[Row], space: str) -> str:
    """One constant a row of a table of named numbers, with its unit, source and status beside it."""
    lines = [
        f"inline constexpr double {row['name']} = {_number(row['value'])};"
        f"  // {row['unit']}, {row['source']}, {row['status']}"
        for row in table
    ]
    return f"namespace {space} {{\n\n" + "\n".join(lines) + f"\n\n}}  // namespace {space}"


def alloy_austenite(table: list[Row]) -> str:
    """Computed austenite of high-alloy steels at hardening heats, one row a steel and temperature."""
    names = ["C", "Cr", "Mo", "V", "W", "temperature_C"]
    names += [f"{element}_in_solution" for element in ("C", "Cr", "Mo", "V", "W")]
    names += ["carbide_left_wt_pct"]
    return _array(
        "alloy_austenite",
        "AlloyAustenite",
        "What is in solution at equilibrium, wt %; temperatures rise within a steel, the steels follow one another.",
        [*((name, "number") for name in names), ("source", "citation")],
        table,
    )


def heat_up(table: list[Row]) -> str:
    """Heat-up of each furnace against the computed one, in the order of the enumeration."""
    return _array(
        "heat_up",
        "HeatUp",
        "Heat-up time over that of the still electric furnace, with the ends of its band.",
        [
            ("furnace", "text"),
            *((name, "number") for name in ("factor", "low_factor", "high_factor")),
            ("source", "citation"),
        ],
        table,
    )


def heat_up_set_point(table: list[Row]) -> str:
    """How the heat-up goes with the set point."""
    return _array(
        "heat_up_set_point",
        "HeatUpSetPoint",
        "Heat-up time over that at 850 degC, by set point, in a furnace that radiates and in a bath.",
        [("set_point_C", "number"), ("radiating", "number"), ("bath", "number")],
        table,
    )


def hold_families(table: list[Row]) -> str:
    """Which soak rule speaks for which family; the first row that fits counts."""
    return _array(
        "hold_families",
        "HoldFamily",
        "Ids of soak_rules; rows count from their carbon and chromium (wt %) up, the hold grows from thin to thick.",
        [
            ("family", "text"),
            ("carbon_min", "number"),
            ("chromium_min", "number"),
            ("thin_rule", "text"),
            ("thin_up_to_mm", "number"),
            ("rule", "text"),
            ("thick_from_mm", "number"),
            ("preheat_rule", "text"),
        ],
        table,
    )
