"""C++ tables of science/thermal: equations, conductivity against temperature, families, films, constants."""

from __future__ import annotations

from collections.abc import Callable

from stage_headers import named_numbers

Row = dict[str, str]
Reader = Callable[[str], list[Row]]


def _number(cell: str) -> str:
    return repr(float(cell)) if cell.strip() else "nan"


def _list(declaration: str, lines: list[str]) -> str:
    return f"inline constexpr std::array<{declaration.format(len(lines))}{{{{\n    " + ",\n    ".join(lines) + "}};"


def _branches(table: list[Row]) -> list[str]:
    columns = ("low_C", "high_C", "c0", "c1", "c2", "c3", "pole_numerator", "pole_C")
    parts = [
        "/// One printed equation: c0 + c1 T + c2 T^2 + c3 T^3 + pole_numerator / (T - pole_C), T in degC.\n"
        "struct ThermalBranch {\n" + "".join(f"  double {c};\n" for c in columns) + "};",
    ]
    for steel, quantity in dict.fromkeys((row["steel"], row["quantity"]) for row in table):
        chosen = [row for row in table if (row["steel"], row["quantity"]) == (steel, quantity)]
        lines = ["{" + ", ".join(_number(row[c]) for c in columns) + "}" for row in chosen]
        parts.append(_list("ThermalBranch, {}> en1993_" + f"{steel}_{quantity}", lines))
    return parts


def _conductivity(table: list[Row]) -> list[str]:
    chosen = [row for row in table if row["role"] == "family"]
    sets = list(dict.fromkeys(row["set"] for row in chosen))
    points, lines = [], []
    for name in sets:
        own = [row for row in chosen if row["set"] == name]
        memory = "true" if any(row["status"] == "memory" for row in own) else "false"
        lines.append(f'{{"{name}", {len(points)}, {len(own)}, {memory}, Citation::{own[0]["source"]}}}')
        points += ["{" + f"{_number(row['temperature_C'])}, {_number(row['conductivity_W_mK'])}" + "}" for row in own]
    return [
        "/// degC and W/mK.\nstruct ConductivityPoint {\n  double temperature_C;\n  double conductivity_W_mK;\n};",
        _list("ConductivityPoint, {}> conductivity_points", points),
        "/// `count` points from `first` on, temperature rising; whether any of them is from memory.\n"
        "struct ConductivitySet {\n  std::string_view name;\n  std::size_t first;\n  std::size_t count;\n"
        "  bool from_memory;\n  Citation source;\n};",
        _list("ConductivitySet, {}> conductivity_sets", lines),
    ]


def _families(table: list[Row]) -> list[str]:
    figures = ("conductivity_half_width", "enthalpy_half_width", "density_kg_m3", "density_half_width")
    figures += ("usual_Ac1_C", "usual_end_C")
    lines = [
        f'{{"{row["family"]}", "{row["conductivity_set"]}", '
        + ", ".join(_number(row[c]) for c in figures)
        + f", {'true' if row['pearlitic'] == 'yes' else 'false'}, Citation::{row['source']}}}"
        for row in table
    ]
    return [
        "/// What stands for a family; half-widths are shares of the value. `pearlitic`: pearlite turns at Ac1.\n"
        "struct ThermalFamily {\n  std::string_view family;\n  std::string_view conductivity_set;\n"
        + "".join(f"  double {c};\n" for c in figures)
        + "  bool pearlitic;\n  Citation source;\n};",
        _list("ThermalFamily, {}> families", lines),
    ]


def _films(table: list[Row]) -> list[str]:
    figures = ("convection_low", "convection", "convection_high", "emissivity_low", "emissivity", "emissivity_high")
    lines = [
        f'{{"{row["name"]}", '
        + ", ".join(_number(row[c]) for c in figures)
        + f", {'true' if row['radiates'] == 'yes' else 'false'}, Citation::{row['source']}, "
        f"Citation::{row['emissivity_source']}}}"
        for row in table
    ]
    return [
        "/// Film coefficient (W/m2K, convection alone) and emissivity (0 where nothing is added).\n"
        "struct FilmRow {\n  std::string_view name;\n"
        + "".join(f"  double {c};\n" for c in figures)
        + "  bool radiates;\n  Citation source;\n  Citation emissivity_source;\n};",
        _list("FilmRow, {}> films", lines),
    ]


def thermal(read: Reader) -> str:
    """All tables of the room in one namespace."""
    parts = [
        *_branches(read("tables/thermal_en1993.csv")),
        *_conductivity(read("tables/thermal_conductivity.csv")),
        *_families(read("tables/thermal_families.csv")),
        *_films(read("tables/thermal_films.csv")),
    ]
    constants = named_numbers(read("tables/thermal_constants.csv"), "constants")
    return "namespace thermal {\n\n" + "\n\n".join([*parts, constants]) + "\n\n}  // namespace thermal"
