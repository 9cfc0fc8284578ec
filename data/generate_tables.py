"""Write the C++ tables in cpp/include/decalesce/tables from the CSV files of data/.

    python data/generate_tables.py            write the headers
    python data/generate_tables.py --check    print a diff and exit 1 when a committed header is stale

The CSV files are the master. Each header names the file it came from.
"""

from __future__ import annotations

import argparse
import csv
import difflib
import re
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from critical_header import critical
from furnace_header import furnace
from stage_headers import alloy_austenite, heat_up, heat_up_set_point, hold_families, named_numbers
from thermal_header import thermal

DATA = Path(__file__).resolve().parent
HEADERS = DATA.parent / "cpp" / "include" / "decalesce" / "tables"
ELEMENTS = ["C", "Mn", "Si", "Cr", "Ni", "Mo", "V", "W", "Cu", "Co", "Al", "Nb", "Ti", "N", "B", "P", "S", "As", "Sn"]
Row = dict[str, str]
Field = tuple[str, str, Callable[[Row], str]]  # C++ type, C++ name, formatter of the row


def rows(name: str) -> list[Row]:
    """Rows of one CSV file of data/, as text."""
    with (DATA / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def number(cell: str) -> str:
    """A C++ double literal; a blank cell is NaN."""
    if not cell.strip():
        return "nan"
    return repr(float(cell))


def text(cell: str) -> str:
    """A C++ string literal."""
    return '"' + cell.replace("\\", "\\\\").replace('"', '\\"') + '"'


def citation(cell: str) -> str:
    """The enumerator of a bibliography key."""
    return f"Citation::{cell}"


def braces(items: Iterable[str]) -> str:
    """Items of an initializer in braces."""
    return "{" + ", ".join(items) + "}"


def doubles(name: str, cells: Sequence[str]) -> str:
    """A constexpr array of doubles."""
    return f"inline constexpr std::array<double, {len(cells)}> {name}{{{', '.join(number(c) for c in cells)}}};"


def grid(name: str, comment: str, lines: Sequence[Sequence[str]]) -> str:
    """A two-dimensional constexpr array, one line of cells a row."""
    body = ",\n".join(f"    std::array<double, {len(line)}>{{{', '.join(map(number, line))}}}" for line in lines)
    return (
        f"/// {comment}\n"
        f"inline constexpr std::array<std::array<double, {len(lines[0])}>, {len(lines)}> {name}{{{{\n{body}}}}};"
    )


def word(column: str) -> Field:
    """A text member named like its column."""
    return ("std::string_view", column, lambda row: text(row[column]))


def figure(column: str) -> Field:
    """A double member named like its column; NaN where the cell is blank."""
    return ("double", column, lambda row: number(row[column]))


def cited() -> Field:
    """The source of the row."""
    return ("Citation", "source", lambda row: citation(row["source"]))


def structs(name: str, struct: str, comment: str, fields: Sequence[Field], table: list[Row]) -> str:
    """A struct and a constexpr array of it, one element a row."""
    members = "\n".join(f"  {ctype} {field};" for ctype, field, _ in fields)
    body = ",\n".join("    {" + ", ".join(form(row) for _, _, form in fields) + "}" for row in table)
    return (
        f"/// {comment}\nstruct {struct} {{\n{members}\n}};\n\n"
        f"inline constexpr std::array<{struct}, {len(table)}> {name}{{{{\n{body}}}}};"
    )


def bibliography() -> list[tuple[str, str]]:
    """(key, status) of each entry, in file order."""
    entries = re.split(r"^@\w+\{", (DATA / "bibliography.bib").read_text(encoding="utf-8"), flags=re.M)[1:]
    found = []
    for entry in entries:
        status = re.search(r"^\s*status = \{(.*)\},$", entry, flags=re.M)
        key = entry.split(",")[0].strip()
        if status is None:
            raise ValueError(f"bibliography.bib: entry {key} has no line 'status = {{...}},'")
        found.append((key, status[1]))
    return found


def citations() -> str:
    """The bibliography as an enumeration with key and status."""
    entries = bibliography()
    names = "".join(f"  {key},\n" for key, _ in entries)
    body = ",\n".join(f"    {{{text(key)}, {text(status)}}}" for key, status in entries)
    return (
        f"/// One enumerator for each key of the bibliography.\nenum class Citation : std::uint16_t {{\n{names}}};\n\n"
        "/// How a source was seen: two-pages, page, memory, computed or derived.\n"
        "struct CitationEntry {\n  std::string_view key;\n  std::string_view status;\n};\n\n"
        f"inline constexpr std::array<CitationEntry, {len(entries)}> citation_entries{{{{\n{body}}}}};\n\n"
        "constexpr std::string_view citation_key(Citation citation) {\n"
        "  return citation_entries[static_cast<std::size_t>(citation)].key;\n}\n\n"
        "constexpr std::string_view citation_status(Citation citation) {\n"
        "  return citation_entries[static_cast<std::size_t>(citation)].status;\n}"
    )


def usual_residuals() -> str:
    """What a steel usually holds of an element nobody stated."""
    usual = {row["element"]: row["usual_wt_pct"] for row in rows("usual_residuals.csv")}
    return (
        f"/// Usual residual content, wt %, in element order {' '.join(ELEMENTS)}; NaN where no figure is known.\n"
        + doubles("usual_residual_wt_pct", [usual.get(element, "") for element in ELEMENTS])
    )


def fe_c_fits() -> str:
    """Short fits to the iron-carbon calculation."""
    table = rows("tables/fe_c_fits.csv")
    order = max(i for row in table for i in range(6) if float(row[f"c{i}"]) != 0) + 1
    parts = [
        "/// Polynomial in the argument, lowest power first. Own fits to the Fe-C calculation.",
        "struct PolynomialFit {",
        f"  std::array<double, {order}> coefficients;",
        "  double valid_min;\n  double valid_max;\n  double max_deviation;\n  Citation source;\n};",
    ]
    for row in table:
        cells = ", ".join(number(row[f"c{i}"]) for i in range(order))
        parts.append(
            f"\n/// {row['meaning'].capitalize()}: {row['result']} ({row['result_unit']}) as {row['form']} in "
            f"{row['argument']} ({row['argument_unit']}); deviation in {row['deviation_unit']}.\n"
            f"inline constexpr PolynomialFit {row['fit']}_fit{{{{{cells}}},\n    {number(row['valid_min'])}, "
            f"{number(row['valid_max'])}, {number(row['max_deviation'])}, {citation(row['source'])}}};"
        )
    return "\n".join(parts)


def acm_shift() -> str:
    """The shift of saturated carbon by alloy, as a regular grid."""
    table = {(r["element"], r["wt_pct_in_austenite"], r["temperature_C"]): r for r in rows("tables/acm_shift.csv")}
    elements, weights, temperatures = (list(dict.fromkeys(key[i] for key in table)) for i in range(3))
    plain = [table[elements[0], weights[0], t]["saturated_carbon_plain_wt_pct"] for t in temperatures]
    size = f"std::array<std::array<double, {len(temperatures)}>, {len(weights) + 1}>"
    blocks = []
    for element in elements:
        lines = [["0"] * len(temperatures)]
        lines += [[table[element, w, t]["carbon_shift_wt_pct"] for t in temperatures] for w in weights]
        body = ",\n".join(f"        {braces(map(number, line))}" for line in lines)
        blocks.append(f"    // {element}\n    {size}{{{{\n{body}}}}}")
    return (
        "/// Shift of the carbon of saturated austenite, wt %, by one element held by the austenite, not by the bar.\n"
        "/// The first weight, 0, shifts nothing by definition; the other nodes are those of the table.\n"
        f"inline constexpr std::array<std::string_view, {len(elements)}> acm_shift_elements"
        f"{{{', '.join(map(text, elements))}}};\n"
        + doubles("acm_shift_weights_wt_pct", ["0", *weights])
        + "\n"
        + doubles("acm_shift_temperatures_C", temperatures)
        + "\n/// Saturated carbon without alloy at those temperatures, wt %.\n"
        + doubles("acm_shift_plain_carbon_wt_pct", plain)
        + "\n/// [element][weight][temperature]\n"
        + f"inline constexpr std::array<{size}, {len(elements)}> acm_shift_wt_pct{{{{\n"
        + ",\n".join(blocks)
        + "}};"
    )


def hardness_scale(name: str, columns: Sequence[str], note: str) -> Callable[[], str]:
    """One array a scale; rows in the order of the printed table."""

    def body() -> str:
        table = rows(f"tables/{name}.csv")
        lines = [f"/// {note} NaN where the table is blank."]
        lines += [doubles(f"{name}_{column}", [row[column] for row in table]) for column in columns]
        return "\n".join(lines)

    return body


def temper_base_hv() -> str:
    """Base hardness of tempered plain carbon steel, as a regular grid."""
    table = rows("tables/temper_base_hv.csv")
    cells = {(row["carbon_wt_pct"], row["P18_kiloRankine"]): row["base_HV"] for row in table}
    carbons, parameters = (list(dict.fromkeys(key[i] for key in cells)) for i in range(2))
    return "\n".join(
        [
            doubles("temper_base_carbon_wt_pct", carbons),
            "/// Grange-Baughman parameter, thousand degrees Rankine: 1.8 T_K (18 + log10 hours) / 1000.",
            doubles("temper_base_P18", parameters),
            grid(
                "temper_base_HV",
                "Hardness of tempered plain carbon martensite, HV [carbon][parameter]; never rises with the parameter.",
                [[cells[carbon, p] for p in parameters] for carbon in carbons],
            ),
        ]
    )


def temper_alloy_increments() -> str:
    """Hardness that alloy adds after tempering, one grid for each published or fitted set."""
    table = rows("tables/temper_alloy_increments.csv")
    parts = [
        "/// HV for each wt % above the offset, by element and parameter P18. Elements in the order of the first line."
    ]
    for index, name in enumerate(dict.fromkeys(row["set"] for row in table)):
        chosen = {(row["element"], row["P18_kiloRankine"]): row for row in table if row["set"] == name}
        elements, parameters = (list(dict.fromkeys(key[i] for key in chosen)) for i in range(2))
        if index == 0:
            names = ", ".join(map(text, elements))
            parts.append(
                f"inline constexpr std::array<std::string_view, {len(elements)}> increment_elements{{{names}}};"
            )
        first = [chosen[element, parameters[0]] for element in elements]
        values = [[chosen[element, p]["HV_per_wt_pct"] for p in parameters] for element in elements]
        parts += [
            "",
            doubles(f"{name}_P18", parameters),
            doubles(f"{name}_offset_wt_pct", [row["offset_wt_pct"] for row in first]),
            doubles(f"{name}_max_wt_pct", [row["max_wt_pct"] for row in first]),
            grid(f"{name}_HV_per_wt_pct", f"Status {first[0]['status']} [element][parameter].", values),
            f"inline constexpr Citation {name}_source = {citation(first[0]['source'])};",
        ]
    return "\n".join(parts)


def as_quenched() -> str:
    """Hardness of martensite from carbon, and the ceiling for high carbon."""
    polynomials = structs(
        "as_quenched_polynomials",
        "AsQuenchedPolynomial",
        "HRC as a polynomial in carbon, lowest power first; held at C_hold above it.",
        [
            word("curve"),
            figure("martensite_percent"),
            ("std::array<double, 6>", "coefficients", lambda row: braces(number(row[f"c{i}"]) for i in range(6))),
            figure("C_min"),
            figure("C_hold"),
            cited(),
        ],
        rows("tables/astm_a255_initial_hardness.csv"),
    )
    high = rows("tables/as_quenched_high_carbon.csv")
    measured = [row for row in high if row["kind"] == "measured"]
    (ceiling,) = [row for row in high if row["kind"] == "ceiling"]
    return "\n".join(
        [
            polynomials,
            "\n/// Water-quenched discs of high-carbon steel.",
            doubles("as_quenched_high_carbon_wt_pct", [row["carbon_wt_pct"] for row in measured]),
            doubles("as_quenched_high_carbon_HRC", [row["HRC"] for row in measured]),
            "/// No steel is taken to be harder than this as quenched.",
            f"inline constexpr double as_quenched_ceiling_HRC = {number(ceiling['HRC'])};",
            f"inline constexpr double as_quenched_ceiling_half_width_HRC = {number(ceiling['half_width_HRC'])};",
        ]
    )


def temper_constants() -> str:
    """Constants of the temper parameter, always for hours."""
    table = rows("tables/temper_constants.csv")
    fields = [
        word("id"),
        *map(figure, ["constant_hours", "carbon_slope", "C_min", "C_max"]),
        word("status"),
        cited(),
    ]
    comment = "Constant of the temper parameter for hours: constant_hours + carbon_slope * wt % C."
    named = "\n".join(
        f"inline constexpr const TemperConstant& temper_constant_{row['id']} = temper_constants[{i}];"
        for i, row in enumerate(table)
    )
    return structs("temper_constants", "TemperConstant", comment, fields, table) + "\n\n" + named


def soak_rules() -> str:
    """Soak rules as an array of structs."""
    return structs(
        "soak_rules",
        "SoakRule",
        "Published and common-practice soak rules; grades are separated by blanks, NaN where a rule has no figure.",
        [
            *map(word, ["id", "phase", "family", "grades", "medium", "unit"]),
            *map(figure, ["low", "high", "section_min_mm", "section_max_mm"]),
            word("status"),
            cited(),
        ],
        rows("tables/soak_rules.csv"),
    )


def temper_model() -> str:
    """One constant a row: limits and switches of the tempered-hardness model."""
    lines = [
        f"/// {row['unit']}; {row['status']}. {row['note'][0].upper() + row['note'][1:]}.\n"
        f"inline constexpr double temper_model_{row['id']} = {number(row['value'])};"
        for row in rows("tables/temper_model.csv")
    ]
    return "\n".join(lines)


def temper_rules() -> str:
    """Rules of the trade about tempering, those with a temperature range among them."""
    return structs(
        "temper_rules",
        "TemperRule",
        "Rules of the trade about tempering; NaN where a rule has no temperature.",
        [word("id"), figure("low_C"), figure("high_C"), word("status"), cited()],
        rows("tables/temper_rules.csv"),
    )


def temper_bands() -> str:
    """Half-width of the tempered hardness by family and temper."""
    table = rows("tables/temper_bands.csv")
    cells = {(row["family"], row["one_hour_C"]): row["half_width_HRC"] for row in table}
    families, centres = (list(dict.fromkeys(key[i] for key in cells)) for i in range(2))
    names = ", ".join(map(text, families))
    return "\n".join(
        [
            f"inline constexpr std::array<std::string_view, {len(families)}> temper_band_families{{{names}}};",
            "/// Temper of one hour that softens as much, degC.",
            doubles("temper_band_one_hour_C", centres),
            grid(
                "temper_band_half_width_HRC",
                "Set to hold nine of ten rows of steels left out of the fit [family][temper].",
                [[cells[family, centre] for centre in centres] for family in families],
            ),
        ]
    )


def scale_uncertainty() -> str:
    """How far a converted hardness may be off."""
    lines = ["/// Half-width of one conversion: HRC absolute, the others a share of the value. Status memory."]
    for row in rows("tables/scale_uncertainty.csv"):
        lines.append(f"inline constexpr double uncertainty_{row['scale']}_{row['kind']} = {number(row['half_width'])};")
    lines.append("/// Hardest Brinell figure that E140 prints inside the range of the test.")
    normal = [float(row["HBW"]) for row in rows("tables/astm_e140_hrc.csv") if row["HBW_in_normal_range"] == "yes"]
    lines.append(f"inline constexpr double brinell_normal_range_HBW = {max(normal)!r};")
    return "\n".join(lines)


def plan_rules() -> str:
    """Values a plan falls back on."""
    lines = ["namespace plan {"]
    for row in rows("tables/plan_rules.csv"):
        lines.append(
            f"inline constexpr double {row['name']} = {number(row['value'])};  // {row['source']}, {row['status']}"
        )
    return "\n".join([*lines, "}  // namespace plan"])


# header name: (files it comes from, body)
TABLES: dict[str, tuple[str, Callable[[], str]]] = {
    "citations": ("data/bibliography.bib", citations),
    "usual_residuals": ("data/usual_residuals.csv", usual_residuals),
    "critical": (
        "critical_*.csv, eutectoid_shift.csv and acm_shift_fit.csv in data/tables",
        lambda: critical(rows, ELEMENTS),
    ),
    "fe_c_fits": ("data/tables/fe_c_fits.csv", fe_c_fits),
    "acm_shift": ("data/tables/acm_shift.csv", acm_shift),
    "astm_e140_hrc": (
        "data/tables/astm_e140_hrc.csv",
        hardness_scale("astm_e140_hrc", ["HRC", "HV", "HBW"], "ASTM E140, Rockwell C range, HRC falling."),
    ),
    "iso18265_a1": (
        "data/tables/iso18265_a1.csv",
        hardness_scale(
            "iso18265_a1", ["HV", "HB", "HRC", "HRA", "HRD", "tensile_MPa"], "ISO 18265 table A.1, HV rising."
        ),
    ),
    "temper_base_hv": ("data/tables/temper_base_hv.csv", temper_base_hv),
    "temper_alloy_increments": ("data/tables/temper_alloy_increments.csv", temper_alloy_increments),
    "as_quenched": (
        "astm_a255_initial_hardness.csv, as_quenched_high_carbon.csv",
        as_quenched,
    ),
    "temper_constants": ("data/tables/temper_constants.csv", temper_constants),
    "plan_rules": ("data/tables/plan_rules.csv", plan_rules),
    "soak_rules": ("data/tables/soak_rules.csv", soak_rules),
    "martensite_rules": (
        "data/tables/martensite_rules.csv",
        lambda: named_numbers(rows("tables/martensite_rules.csv"), "martensite_rules"),
    ),
    "austenitize_rules": (
        "data/tables/austenitize_rules.csv",
        lambda: named_numbers(rows("tables/austenitize_rules.csv"), "austenitize_rules"),
    ),
    "alloy_austenite": ("data/tables/alloy_austenite.csv", lambda: alloy_austenite(rows("tables/alloy_austenite.csv"))),
    "heat_up": ("data/tables/heat_up.csv", lambda: heat_up(rows("tables/heat_up.csv"))),
    "heat_up_set_point": (
        "data/tables/heat_up_set_point.csv",
        lambda: heat_up_set_point(rows("tables/heat_up_set_point.csv")),
    ),
    "hold_families": ("data/tables/hold_families.csv", lambda: hold_families(rows("tables/hold_families.csv"))),
    "arrest_rules": (
        "data/tables/arrest_rules.csv",
        lambda: named_numbers(rows("tables/arrest_rules.csv"), "arrest_rules"),
    ),
    "soak_model": ("data/tables/soak_model.csv", lambda: named_numbers(rows("tables/soak_model.csv"), "soak_model")),
    "thermal": ("thermal_*.csv in data/tables", lambda: thermal(rows)),
    "furnace": ("linings.csv, lining_conductivity.csv and furnace_constants.csv in data/tables", lambda: furnace(rows)),
    "temper_model": ("data/tables/temper_model.csv", temper_model),
    "temper_rules": ("data/tables/temper_rules.csv", temper_rules),
    "temper_bands": ("data/tables/temper_bands.csv", temper_bands),
    "scale_uncertainty": ("scale_uncertainty.csv and astm_e140_hrc.csv in data/tables", scale_uncertainty),
}

STANDARD_HEADERS = {
    "array": "std::array",
    "cstddef": "std::size_t",
    "cstdint": "std::uint16_t",
    "limits": "std::numeric_limits",
    "string_view": "std::string_view",
}


def header(name: str) -> str:
    """The whole text of one header."""
    source, body = TABLES[name]
    content = re.sub(r"\bnan\b", "std::numeric_limits<double>::quiet_NaN()", body())
    includes = "".join(f"#include <{lib}>\n" for lib, mark in STANDARD_HEADERS.items() if mark in content)
    if "Citation" in content and name != "citations":
        includes += '\n#include "citations.hpp"\n'
    return (
        f"// Generated by data/generate_tables.py from {source}.\n// Do not edit.\n#pragma once\n\n"
        f"// clang-format off\n{includes}\nnamespace decalesce::tables {{\n\n"
        f"{content}\n\n}}  // namespace decalesce::tables\n// clang-format on\n"
    )


def main(arguments: Sequence[str] | None = None) -> int:
    """Write the headers, or compare them; the exit code is 1 when --check finds a stale one."""
    parser = argparse.ArgumentParser(description="Write the C++ tables from data/.")
    parser.add_argument("--check", action="store_true", help="change nothing; exit 1 when a header is stale")
    check = parser.parse_args(arguments).check
    stale = False
    for name in TABLES:
        path = HEADERS / f"{name}.hpp"
        new, old = header(name), path.read_text(encoding="utf-8") if path.exists() else ""
        if new == old:
            continue
        stale = True
        if check:
            diff = difflib.unified_diff(
                old.splitlines(True), new.splitlines(True), f"{name}.hpp (committed)", "generated"
            )
            sys.stdout.writelines(diff)
        else:
            path.write_text(new, encoding="utf-8")
    return int(check and stale)


if __name__ == "__main__":
    sys.exit(main())
