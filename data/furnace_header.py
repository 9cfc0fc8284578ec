"""C++ tables of shop/furnace: linings, their conductivity against mean temperature, constants."""

from __future__ import annotations

from collections.abc import Callable

from stage_headers import named_numbers

Row = dict[str, str]
Reader = Callable[[str], list[Row]]


def _number(cell: str) -> str:
    return repr(float(cell)) if cell.strip() else "nan"


def furnace(read: Reader) -> str:
    """All tables of the room in one namespace."""
    points = read("tables/lining_conductivity.csv")
    names = [row["lining"] for row in points]
    linings = []
    for row in read("tables/linings.csv"):
        figures = ", ".join(_number(row[c]) for c in ("density_kg_m3", "heat_capacity_J_kgK", "service_limit_C"))
        where = f"{names.index(row['name'])}, {names.count(row['name'])}"
        linings.append(f'    {{"{row["name"]}", {figures}, {where}, Citation::{row["source"]}}}')
    pairs = [f"    {{{_number(row['mean_C'])}, {_number(row['conductivity_W_mK'])}}}" for row in points]
    return "\n".join(
        [
            "namespace furnace {",
            "",
            "/// degC, mean of hot and cold face, and W/mK.",
            "struct LiningPoint {\n  double mean_C;\n  double conductivity_W_mK;\n};",
            f"inline constexpr std::array<LiningPoint, {len(pairs)}> lining_points{{{{\n" + ",\n".join(pairs) + "}};",
            "",
            "/// `count` points from `first` on, temperature rising; the service limit is NaN where none was seen.",
            "struct LiningRow {\n  std::string_view name;\n  double density_kg_m3;\n  double heat_capacity_J_kgK;\n"
            "  double service_limit_C;\n  std::size_t first;\n  std::size_t count;\n  Citation source;\n};",
            f"inline constexpr std::array<LiningRow, {len(linings)}> linings{{{{\n" + ",\n".join(linings) + "}};",
            "",
            named_numbers(read("tables/furnace_constants.csv"), "constants"),
            "",
            "}  // namespace furnace",
        ]
    )
