"""One case (or more) for each reading rule: what must be struck, what it becomes, and what must be left alone.

Expected values are arithmetic on the printed text or a practice of the trade; ``source`` says which. The tables are
read through the whole reader, from bytes.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd

from decalesce.inventory import Table, read_table

NAN = float("nan")
PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Case:
    """``make`` gives the table; the rule must strike exactly ``rows`` (-1: the file) and none of ``quiet``'s rows.
    ``expect`` maps (attribute or element, row) to a value."""

    rule: str
    make: Callable[[], Table]
    rows: tuple[int, ...]
    quiet: Callable[[], Table]
    source: str
    column: str | None = None
    expect: dict[tuple[str, int], Any] = field(default_factory=dict)


def _csv(text: str | bytes) -> Callable[[], Table]:
    data = text.encode("utf-8") if isinstance(text, str) else text
    return lambda: read_table(data)


def table(  # noqa: PLR0917
    rule: str,
    text: str | bytes,
    rows: tuple[int, ...],
    quiet: str | bytes,
    source: str = PRACTICE,
    column: str | None = None,
    **expect: Any,
) -> Case:
    """``expect`` names are ``attribute_row`` (``C_0``, ``thickness_mm_2``)."""
    pairs = {tuple(name.rsplit("_", 1)): value for name, value in expect.items()}
    return Case(rule, _csv(text), rows, _csv(quiet), source, column, {(a, int(r)): v for (a, r), v in pairs.items()})


def cell(  # noqa: PLR0917
    rule: str,
    element: str,
    text: str,
    value: float,
    half: float,
    status: int,
    quiet: str,
    source: str = PRACTICE,
    header: str | None = None,
) -> Case:
    """A cell of one element's column."""
    head = header or element
    expect = {(element, 0): value, (f"half {element}", 0): half, (f"status {element}", 0): status}
    make = _csv(f"piece id\t{head}\nA1\t{text}\n")
    return Case(rule, make, (0,), _csv(f"piece id\t{head}\nA1\t{quiet}\n"), source, head, expect)


def one(rule: str, header: str, text: str, quiet: str, source: str = PRACTICE, **expect: Any) -> Case:
    """A cell of any other column, ``expect`` names attributes of row 0."""
    make = _csv(f"piece id\t{header}\tC\nA1\t{text}\t0.95\n")
    wanted = {(name, 0): value for name, value in expect.items()}
    return Case(rule, make, (0,), _csv(f"piece id\t{header}\tC\nA1\t{quiet}\t0.95\n"), source, header, wanted)


def _workbook(**sheets: pd.DataFrame) -> Callable[[], Table]:
    def make() -> Table:
        buffer = io.BytesIO()
        with pd.ExcelWriter(buffer, engine="openpyxl") as writer:
            for name, frame in sheets.items():
                frame.to_excel(writer, sheet_name=name, index=False)
        return read_table(buffer.getvalue())

    return make


_RACK = pd.DataFrame({"piece id": ["A1"], "C": ["0.95"]})
_NOTES = pd.DataFrame({"remark": ["call the mill"]})

FILE_CASES = [
    table("empty_file", "", (-1,), "C\n0.95\n"),
    table("empty_file", " \n\n", (-1,), "C\n0.95\n"),
    table("no_rows", "piece id;C\n", (-1,), "piece id;C\nA1;0.95\n"),
    table("no_header", "A1;0.95;0.40\nA2;0.96;0.41\n", (-1,), "id;C;Mn\nA1;0.95;0.40\n"),
    # the first row holds a known grade (SAE J403, ASTM A681) or a content: it is a bar, and stays one
    table("no_header", "A1,1095,round,annealed\nA2,O1,round,annealed\n", (-1,), "piece,grade\nA1,1095\n", "SAE J403"),
    table("no_header", "A1;round;0.95\nA2;round;0.96\n", (-1,), "id;shape;2024;C\nA1;round;1;0.95\n"),
    table("no_header", "A1,O1,rd 25\nA2,,round\n", (-1,), "piece,grade,form\nA1,O1,round\n", "ASTM A681"),
    Case(
        "names_are_data",
        lambda: read_table(pd.read_csv(io.StringIO("A1,1095,0.95\nA2,1095,0.96\n"))),
        (-1,),
        lambda: read_table(pd.read_csv(io.StringIO("piece,grade,C\nA1,1095,0.95\n"))),
        PRACTICE,
    ),
    Case(
        "no_header",
        lambda: read_table(pd.read_csv(io.StringIO("A1,1095,0.95\nA2,1095,0.96\n"), header=None)),
        (-1,),
        lambda: read_table(pd.DataFrame({"C": ["0.95"]})),
        PRACTICE,
    ),
    table("repeated_name", "id;remark;C;remark\nA1;x;0.95;y\n", (-1,), "id;remark;C;C\nA1;x;0.95;0.95\n", C_0=0.95),
    table("columns_not_used", "id;C;owner\nA1;0.95;me\n", (-1,), "id;grade;C;heat;size\nA1;1095;0.95;1;6 mm\n"),
    table("columns_not_used", "id;grade;steel;C\nA1;O1;W1;0.95\n", (-1,), "id;grade;C;C\nA1;O1;0.95;0.95\n"),
    table(
        "lines_above_header",
        "Works certificate 3.1\n\npiece id;C\nA1;0.95\n",
        (-1,),
        "piece id;C\nA1;0.95\n",
        "EN 10204 type 3.1: a certificate has a letterhead",
        C_0=0.95,
    ),
    table(
        "unit_row_below_header", "piece id;C;N\n;%;ppm\nA1;0.95;80\n", (-1,), "piece id;C;N\nA1;0.95;0.008\n", N_0=0.008
    ),
    table("blank_lines", "piece id;C\n\nA1;0.95\n", (-1,), "piece id;C\nA1;0.95\n", C_0=0.95),
    table(
        "encoding_guessed",
        "piece id;Härte HRC;C\nA1;60;0.95\n".encode("cp1252"),
        (-1,),
        "piece id;Härte HRC;C\nA1;60;0.95\n",
        "RFC 3629: the bytes are no valid UTF-8",
        C_0=0.95,
        hardness_0=60.0,
    ),
    table("delimiter_doubtful", "piece id;remark,C;Mn,Si\nA1;x,0.95;0.4,0.2\n", (-1,), "piece id;C\nA1;0.95\n"),
    Case(
        "other_sheets",
        _workbook(notes=_NOTES, rack=_RACK),
        (-1,),
        _workbook(rack=_RACK),
        PRACTICE,
        None,
        {("C", 0): 0.95},
    ),
    table("duplicate_header", "piece id;C;C\nA1;0.95;0.95\n", (-1,), "piece id;C;Mn\nA1;0.95;0.40\n", C_0=0.95),
    table(
        "duplicate_header",
        "id;grade;C;steel\nA1;O1;0.95;W1\n",
        (-1,),
        "id;grade;C\nA1;O1;0.95\n",
        grade_text_0="O1",
    ),
    table(
        "ambiguous_header",
        "piece id;D mm;C\nA1;6;0.95\n",
        (-1,),
        "piece id;Dicke mm;C\nA1;6;0.95\n",
        thickness_mm_0=6.0,
    ),
    table("guessed_header", "piece id;Kohlenstof\nA1;0.95\n", (-1,), "piece id;Kohlenstoff\nA1;0.95\n", C_0=0.95),
    table(
        "soluble_aluminium", "piece id;C;Al sol\nA1;0.95;0.02\n", (-1,), "piece id;C;Al tot\nA1;0.95;0.02\n", Al_0=0.02
    ),
    table("scaled_column", "piece id;C x100;N ppm\nA1;95;80\n", (-1,), "piece id;C %\nA1;0.95\n", C_0=0.95, N_0=0.008),
    table("nothing_recognised", "remark;colour\nx;red\n", (-1,), "remark;grade\nx;1095\n"),
    Case(
        "identifier_from_numbers",
        lambda: read_table(pd.DataFrame({"heat": [123], "C": [0.95]})),
        (-1,),
        lambda: read_table(pd.DataFrame({"heat": ["00123"], "C": [0.95]})),
        PRACTICE,
    ),
]

LINE_CASES = [
    table(
        "row_too_short",
        "piece id;C;Mn\nA1;0.95\nA2;0.95;0.4\n",
        (0,),
        "piece id;C;Mn\nA2;0.95;0.4\n",
        "RFC 4180 section 2.4",
        C_0=0.95,
        Mn_0=0.0,
    ),
    table(
        "row_too_long",
        "piece id,C,Mn\nA1,0,95,0.40\nA2,0.95,0.40\n",
        (0,),
        "piece id,C,Mn\nA2,0.95,0.40,,\n",
        "RFC 4180 section 2.4",
        C_0=NAN,
        Mn_0=NAN,
        C_1=0.95,
    ),
    table(
        "broken_quotes",
        'piece id;C\n"A1;0.95\nA2;0.96\n',
        (0,),
        'piece id;size;C\n"A1";3/16";0.95\nA2;"1 x 3";0.96\n',
        "RFC 4180 section 2.5",
        C_0=0.95,
        C_1=0.96,
    ),
    table("empty_row", "piece id;C\nA1;0.95\n;\nA2;0.96\n", (1,), "piece id;C\nA1;\n", C_2=0.96),
]

CELL_CASES = [
    cell("foreign_digits", "C", "０.９５", 0.95, 0.005, 0, "0.95", "Unicode: decimal digit values"),
    cell("letters_for_digits", "C", "O.95", 0.95, 0.005, 0, "0.95"),
    cell("letters_for_digits", "Cr", "l.20", 1.20, 0.005, 0, "1.20"),
    cell("stray_space", "C", "0. 95", 0.95, 0.005, 0, "0.95"),
    cell("thousands_separator", "C", "9 500 ppm", 0.95, 0.00005, 0, "9500 ppm", "ISO 80000-1, 7.3.1: groups of three"),
    cell("thousands_separator", "C", "9,500 ppm", 0.95, 0.00005, 0, "0,950"),
    cell("decimal_comma", "C", "0,95", 0.95, 0.005, 0, "0.95", "ISO 80000-1, 7.3.2: comma or point"),
    cell("raised_point", "C", "0·95", 0.95, 0.005, 0, "0.95"),
    cell("bare_decimal_point", "Cr", ".42", 0.42, 0.005, 0, "0.42"),
    cell("scientific_notation", "C", "9.5E-1", 0.95, 0.005, 0, "0.95"),
    cell("not_determined", "Ni", "n.d.", 0.0, 0.0, 3, "0.02"),
    cell("not_determined", "Ni", "-", 0.0, 0.0, 3, ""),
    cell("not_determined", "Ni", "k.A.", 0.0, 0.0, 3, "0.02"),
    cell("not_a_number_text", "C", "nan", NAN, NAN, 0, "0.95"),
    cell("not_a_number_text", "C", "-inf", NAN, NAN, 0, ""),
    cell("spreadsheet_error", "C", "#DIV/0!", NAN, NAN, 0, "0.95"),
    cell("spreadsheet_error", "C", "####", NAN, NAN, 0, "0.95"),
    cell("became_date", "C", "01.05.2024", NAN, NAN, 0, "1.05"),
    cell("became_date", "C", "2024-05-01 00:00:00", NAN, NAN, 0, "1.05"),
    cell("trace", "Cu", "tr.", 0.005, 0.005, 1, "0.01"),
    cell("trace", "Cu", "Spuren", 0.005, 0.005, 1, "0.01"),
    cell("footnote_mark", "C", "0.95*", 0.95, 0.005, 0, "0.95"),
    cell("footnote_mark", "C", "0.95 ¹", 0.95, 0.005, 0, "0.95"),
    cell("footnote_mark", "C", "(0.95)", 0.95, 0.005, 0, "0.95"),
    cell("approximate", "C", "ca. 0.95", 0.95, 0.01, 0, "0.95"),
    cell("plus_minus", "C", "0.95 ± 0.02", 0.95, 0.02, 0, "0.95"),
    cell("plus_minus", "C", "0,95+/-0,02 %", 0.95, 0.02, 0, "0,95 %"),
    cell("below_limit", "Cu", "<0.01", 0.005, 0.005, 1, "0.01"),
    cell("below_limit", "Cu", "< 0,01 %", 0.005, 0.005, 1, "0,01 %"),
    cell("below_unstated_limit", "V", "<LOD", 0.025, 0.025, 1, "<0.05"),
    cell("below_unstated_limit", "W", "< NWG", 0.025, 0.025, 1, "n.d."),
    cell("upper_limit_residual", "P", "max 0.03", 0.015, 0.015, 1, "0.03"),
    cell("upper_limit_residual", "Cu", "0.30 max.", 0.15, 0.15, 1, "<0.30"),
    cell("upper_limit", "Cr", "max 0.30", 0.15, 0.15, 1, "0.30"),
    cell("upper_limit", "Ni", "0.30 max.", 0.15, 0.15, 1, "<0.30"),
    cell("carbon_upper_limit", "C", "≤1.03", 0.0, 0.0, 3, "1.03"),
    cell("lower_limit_only", "C", "min 0.90", NAN, NAN, 0, "0.90"),
    cell("lower_limit_only", "Cr", ">0.90", NAN, NAN, 0, "0.90"),
    cell("range_in_cell", "C", "0.90-1.03", 0.965, 0.065, 2, "0.95"),
    cell("range_in_cell", "C", "0,90 bis 1,03 %", 0.965, 0.065, 2, "0,95 %"),
    cell("percent_in_cell", "C", "0,95 %", 0.95, 0.005, 0, "0,95"),
    cell("ppm_in_cell", "N", "80 ppm", 0.0080, 0.00005, 0, "0.0080", "arithmetic: 1 ppm = 1e-4 %"),
    cell("per_mille_in_cell", "C", "9,5 ‰", 0.95, 0.005, 0, "0,95 %", "arithmetic: 1 per mille = 0.1 %"),
    cell("negative_near_zero", "As", "-0.002", 0.005, 0.005, 1, "0.002"),
    cell("negative_number", "Cr", "-0.95", NAN, NAN, 0, "0.95"),
    cell("negative_number", "C", "-0.002", NAN, NAN, 0, "0.95"),
    cell("unreadable_cell", "C", "0.950.40", NAN, NAN, 0, "0.95"),
    cell("unreadable_cell", "C", "1.05 mm", NAN, NAN, 0, "1.05"),
    cell("unreadable_cell", "C", "siehe Anlage", NAN, NAN, 0, "n.d."),
    cell("ppm_assumed", "N", "85", 0.0085, 0.00005, 0, "0.0085", "arithmetic; no steel holds 85 % nitrogen"),
    cell("over_60_percent", "C", "95", NAN, NAN, 0, "0.95"),
    cell("impossible_zero", "C", "0.00", 0.0, 0.0, 3, "0.02"),
    cell("impossible_zero", "Mn", "0", 0.0, 0.0, 3, "0.40"),
    cell("bare_zero", "Cr", "0", 0.0, 0.0, 3, "0.00"),
    cell("one_digit_carbon", "C", "0.9", 0.9, 0.05, 0, "0.90", "arithmetic: 0.9 is rounded from 0.85 to 0.95"),
]

_ID = "piece id\tgrade\theat no\tC\tMn\tSi\tCr\tNi\tMo\n"
ROW_CASES = [
    table(
        "limits_row",
        "piece id;C;Mn\nmin;0.90;0.30\nmax;1.03;0.50\nA1;0.95;0.40\n",
        (0, 1),
        "piece id;C\nA1;0.95\n",
        "EN 10168: a certificate may print the required limits beside the analysis",
        C_0=NAN,
        Mn_1=NAN,
        C_2=0.95,
    ),
    table(
        "scale_slip",
        "piece id;grade;C\nA1;1095;9.5\nA2;1095;95\nA3;1095;9500\n",
        (0, 1, 2),
        "piece id;grade;C\nA1;1095;0.95\n",
        "SAE J403: 1095 holds 0.90 to 1.03 % C",
        "C",
        C_0=0.95,
        C_1=0.95,
        C_2=0.95,
    ),
    table(
        "scale_slip",
        "piece id;grade;C;Mn;Si;Cr;Ni;P\nA1;5160;6.0;8.5;2.5;8.0;0.8;0.12\nA2;5160;0.60;8.5;0.25;0.80;0.8;0.012\n",
        (0,),
        "piece id;grade;C;Mn;Si;Cr;Ni;P\nA1;5160;0.60;0.85;0.25;0.80;0.08;0.012\n",
        "SAE J404: four elements of 5160 fit at one tenth and none as printed, so the row is per mille; row A2 is not",
        "Ni",
        C_0=0.60,
        Ni_0=0.08,
        P_0=0.012,
        Ni_1=0.8,
        Mn_1=0.85,
    ),
    table(
        "scale_slip",
        "piece id;grade;C;Mn;Si;Cr;P;S\nA1;1095;9.5;4.0;2.0;0.5;0.12;<0.05\n",
        (0,),
        "piece id;grade;C;Mn;Si;Cr;P;S\nA1;1095;0.95;0.40;0.20;0.05;0.012;0.005\n",
        "SAE J403: 1095 sets both limits of carbon and manganese only; a certificate is printed in one unit",
        "S",
        C_0=0.95,
        Mn_0=0.40,
        Si_0=0.20,
        Cr_0=0.05,
        P_0=0.012,
        S_0=0.0025,
    ),
    table(
        "scale_slip",
        "piece id;grade;C;Mn;Si;Cr;Mo\nA1;D2;15.5;3;3;120;8\n",
        (0,),
        "piece id;grade;C;Mn;Si;Cr;Mo\nA1;D2;1.55;0.3;0.3;12.0;0.8\n",
        "ASTM A681: D2 holds 11 to 13 % Cr, so 120 is per mille and not an impossible per cent",
        "Cr",
        C_0=1.55,
        Mn_0=0.30,
        Cr_0=12.0,
        Mo_0=0.80,
    ),
    table(
        "mixed_units",
        "piece id;grade;C;Mn;Si;Cr\nA1;5160;6.0;8.5;0.25;0.80\nA2;5160;6.0;85;2.5;8.0\n",
        (0, 1),
        "piece id;grade;C;Mn;Si;Cr\nA1;5160;6.0;8.5;2.5;8.0\nA2;5160;0.60;8.5;0.25;0.80\n",
        "SAE J404: two contents of 5160 fit at one tenth and two as printed, or one at one hundredth",
        Mn_0=8.5,
    ),
    table(
        "carbon_above_steel",
        "piece id;C\nA1;9.50\n",
        (0,),
        "piece id;C\nA1;2.30\n",
        "EN ISO 4957: the richest grade, X210Cr12, stays below 2.3 % C",
        C_0=NAN,
    ),
    table(
        "swapped_columns",
        _ID + "A1\t4340\t\t0.40\t0.70\t0.25\t1.80\t0.80\t0.25\n",
        (0,),
        _ID + "A1\t4340\t\t0.40\t0.70\t0.25\t0.80\t1.80\t0.25\n",
        "SAE J404: 4340 holds 0.70-0.90 Cr, 1.65-2.00 Ni",
        Cr_0=0.80,
        Ni_0=1.80,
    ),
    table(
        "swapped_columns",
        "piece id;grade;C;Mn;Si;Cr;Cu\nA1;5160;0.60;0.85;0.25;0.03;0.80\n",
        (0,),
        "piece id;grade;C;Mn;Si;Cr;Cu\nA1;5160;0.60;0.85;0.25;0.80;0.03\nA2;5160;0.95;0.40;0.25;0.03;0.80\n",
        "SAE J404: 5160 holds 0.70-0.90 Cr; carbon and manganese of A2 are of another steel, so nothing is exchanged",
        Cr_0=0.80,
        Cu_0=0.03,
    ),
    table(
        "swapped_columns",
        "piece id;grade;C;Mn;Si;Cr;V\nA1;90MnCrV8;0.90;0.35;0.25;2.00;0.10\n",
        (0,),
        "piece id;grade;C;Mn;Si;Cr;V\nA1;90MnCrV8;0.90;2.00;0.25;0.35;0.10\n",
        "EN ISO 4957: 90MnCrV8 holds 1.90-2.10 Mn and 0.20-0.50 Cr; 2.00 at one tenth would fit, 0.35 would not",
        Mn_0=2.00,
        Cr_0=0.35,
    ),
    table(
        "outside_grade_limits",
        "piece id;grade;C;Mn\nA1;1095;0.95;0.60\n",
        (0,),
        "piece id;grade;C;Mn\nA1;1095;0.95;0.51\n",
        "SAE J403: 1095 holds 0.30-0.50 Mn; a product analysis may deviate by 0.03 (SAE J409, from memory)",
        "Mn",
        Mn_0=0.60,
    ),
    table(
        "grade_chemistry_mismatch",
        "piece id;grade;C;Mn\nA1;1095;0.45;0.40\n",
        (0,),
        "piece id;grade;C;Mn\nA1;1095;0.88;0.40\n",
        "SAE J403",
        C_0=0.45,
    ),
    table(
        "grade_chemistry_mismatch",
        "piece id;grade;C;Mn;Si;Cr\nA1;100Cr6;0.98;0.35;0.25;0.50\n",
        (0,),
        "piece id;grade;C;Mn;Si;Cr\nA1;100Cr6;0.98;0.35;0.25;1.25\n",
        "EN ISO 683-17: 100Cr6 holds 1.35-1.60 Cr; one element wrong by more than half of its limit is enough",
        Cr_0=0.50,
    ),
    table(
        "heat_two_grades",
        "piece id;grade;heat;C\nA1;1095;H1;0.95\nA2;5160;H1;0.60\n",
        (0, 1),
        "piece id;grade;heat;C\nA1;1095;H1;0.95\nA2;AISI 1095;H1;0.95\n",
        "EN 10021: a cast is the product of one melting; a grade has several names",
        C_0=0.95,
    ),
    table(
        "heat_analyses_joined",
        "piece id;heat;C\nA1;H1;0.94\nA2;H1;0.96\nA3;H2;0.50\n",
        (0, 1),
        "piece id;heat;C\nA1;H1;0.94\nA2;H2;0.96\n",
        "arithmetic mean; EN ISO 683-1 permits 0.03 between analyses at that carbon (from memory)",
        C_0=0.95,
        C_1=0.95,
        C_2=0.50,
    ),
    table(
        "heat_analyses_joined",
        "piece id;heat;C\nA1;H1;0.8\nA2;H1;0.81\nA3;H1;0.83\n",
        (1, 2),
        "piece id;heat;C\nA1;H1;0.8\nA2;H1;0.81\n",
        "arithmetic: 0.8 is 0.81 rounded, and moves no finer figure",
        C_0=0.80,
        C_1=0.82,
    ),
    table(
        "ladle_and_product",
        "piece id;heat;analysis kind;C\nA1;H1;ladle;0.94\nA1;H1;product;0.96\n",
        (0, 1),
        "piece id;heat;analysis kind;C\nA1;H1;ladle;0.96\nA1;H1;product;0.96\n",
        "EN 10021: cast and product analysis",
        C_0=0.96,
        C_1=0.96,
        role_0=1,
        role_1=2,
    ),
    table(
        "heat_analyses_conflict",
        "piece id;heat;C\nA1;H1;0.60\nA2;H1;0.95\n",
        (0, 1),
        "piece id;heat;C\nA1;H1;0.94\nA2;H1;0.95\n",
        "EN ISO 683-1 permits 0.03 (from memory)",
        C_0=0.60,
        C_1=0.95,
    ),
    table(
        "filled_from_heat",
        "piece id;heat;C;Mn\nA1;H1;0.95;0.40\nA2;H1;;\n",
        (1,),
        "piece id;heat;C;Mn\nA1;H1;0.95;0.40\nA2;H2;;\n",
        "EN 10021: one cast, one cast analysis",
        C_1=0.95,
        Mn_1=0.40,
    ),
    table(
        "duplicate_piece_id",
        "piece id;C\nA1;0.95\nA2;0.95\nA1;0.95\n",
        (0, 2),
        "piece id;C\nA1;0.95\nA2;0.95\n;0.9\n;0.9\n",
    ),
    table(
        "carbon_from_grade",
        "piece id;grade;Mn;Cr\nA1;5160;0.85;0.80\n",
        (0,),
        "piece id;grade;C;Mn;Cr\nA1;5160;0.60;0.85;0.80\n",
        "X-ray fluorescence does not see carbon; middle of 0.56-0.64 (SAE J404)",
        C_0=0.60,
    ),
    table("carbon_missing", "piece id;Mn;Cr\nA1;0.85;0.80\n", (0,), "piece id;C;Mn;Cr\nA1;0.60;0.85;0.80\n", C_0=0.0),
    table("sum_over_100", "piece id;C;Cr;Ni\nA1;0.95;55;50\n", (0,), "piece id;C;Cr;Ni\nA1;0.95;18;10\n", "arithmetic"),
    table(
        "ladle_and_product",
        "piece id;C ladle;C product;Mn ladle;Mn product\nA1;0.94;0.96;0.40;\n",
        (0,),
        "piece id;C ladle\nA1;0.94\n",
        "EN 10021: cast and product analysis",
        C_0=0.96,
        Mn_0=0.40,
    ),
    table(
        "ladle_product_differ",
        "piece id;C Schmelzenanalyse;C Stückanalyse\nA1;0.70;0.96\nA2;0.95;0.96\n",
        (0,),
        "piece id;C ladle;C product\nA1;0.95;0.96\n",
        "EN ISO 683-1 permits 0.03 (from memory)",
        C_0=0.96,
    ),
    table(
        "two_columns_joined",
        "piece id;C;C.1\nA1;0.94;0.96\nA2;0.95;\n",
        (0,),
        "piece id;C;C.1\nA1;0.95;0.95\n",
        "arithmetic mean",
        C_0=0.95,
        C_1=0.95,
    ),
    table(
        "two_columns_conflict",
        "piece id;C;C.1\nA1;0.60;0.96\n",
        (0,),
        "piece id;C;C.1\nA1;0.95;0.96\n",
        "EN ISO 683-1 permits 0.03 (from memory)",
        C_0=0.60,
    ),
    table(
        "two_columns_two_steels",
        "piece id;C;C.1\nA1;0.95;0.20\nA2;0.95;0.89\n",
        (0,),
        "piece id;C;C.1\nA1;0.95;0.89\n",
        "0.20 % C is a case-hardening steel (EN ISO 683-3), 0.95 % a tool steel; common practice, no source",
        C_0=0.95,
    ),
    table(
        "limit_columns",
        "piece id;C min;C max;P max\nA1;0.90;1.03;0.04\n",
        (0,),
        "piece id;C;C min;C max\nA1;0.95;0.90;1.03\n",
        "middle of the printed limits",
        C_0=0.965,
        P_0=0.02,
    ),
    table(
        "limits_reversed", "piece id;C min;C max\nA1;1.03;0.90\n", (0,), "piece id;C min;C max\nA1;0.90;1.03\n", C_0=0.0
    ),
    table(
        "outside_own_limits",
        "piece id;C;C min;C max\nA1;1.10;0.90;1.03\n",
        (0,),
        "piece id;C;C min;C max\nA1;0.95;0.90;1.03\n",
        C_0=1.10,
    ),
    table(
        "grade_unknown",
        "piece id;grade;C\nA1;Supersteel;0.95\n",
        (0,),
        "piece id;grade;C\nA1;1095;0.95\nA2;;0.95\n",
        C_0=0.95,
    ),
    table("grade_nearest", "piece id;grade;C\nA1;1.2510;0.95\n", (0,), "piece id;grade;C\nA1;1095;0.95\n"),
    table(
        "filled_from_grade",
        "piece id;grade;C;P\nA1;1095;0.95;\n",
        (0,),
        "piece id;C\nA1;0.95\n",
        "SAE J403: 0.30-0.50 Mn; P 0.040 max limits a residual, and half of it is no estimate of it",
        C_0=0.95,
        Mn_0=0.40,
        P_0=0.0,
    ),
    table(
        "wide_grade_range",
        "piece id;grade;C\nA1;W1;\nA2;W1;1.05\nA3;1095;\n",
        (0,),
        "piece id;grade;C\nA1;W1;1.05\n",
        "ASTM A686: W1 without suffix holds 0.70 to 1.50 % C",
        C_0=1.10,
    ),
]

FIELD_CASES = [
    one("field_not_stated", "hardness HB", "-", "217", hardness=NAN),
    one("field_range", "target HRC", "60-62", "61", target_HRC=61.0),
    one("field_range", "target HRC", "62+2", "63", target_HRC=63.0),
    one(
        "field_limit",
        "hardness HB",
        "max. 217",
        "217",
        "EN ISO 4957 prints annealed hardness as a maximum",
        hardness=217.0,
    ),
    one("unreadable_hardness", "target HRC", "hard", "61", target_HRC=NAN),
    one("hardness_scale_assumed", "hardness", "217", "217 HB", hardness=217.0, hardness_scale=2),
    one("brinell_in_rockwell_column", "target HRC", "217", "61", "ISO 6508-1: HRC 20 to 70", target_HRC=NAN),
    one("rockwell_in_brinell_column", "hardness HB", "60", "217", hardness=NAN),
    one("outside_hardness_scale", "target HRC", "15", "25", "ISO 6508-1: HRC 20 to 70", target_HRC=15.0),
    one(
        "target_not_rockwell",
        "target",
        "746 HV",
        "61 HRC",
        "ASTM E140 table 1: 746 HV is 62 HRC",
        target_HRC=62.0,
        target=746.0,
        target_scale=3,
    ),
    one("target_not_rockwell", "target", "200 HV", "61 HRC", "ASTM E140: 200 HV is below 20 HRC", target_HRC=NAN),
    one("unreadable_temperature", "hardening temp °C", "cherry red", "800", harden=NAN),
    one("temperature_unit_assumed", "hardening temp", "800", "800 °C", harden=800.0),
    one("fahrenheit_in_celsius_column", "hardening temp °C", "1475", "800", "(1475 - 32) / 1.8", harden=801.6667),
    one("celsius_in_fahrenheit_column", "hardening temp °F", "800", "1475", harden=800.0),
    one("temperature_implausible", "temper °C", "9000", "200", temper=NAN),
    one("condition_unknown", "condition", "pretty", "weichgeglüht", condition=8),
    one("identifier_became_number", "heat no", "1.23E+05", "1E5", heat_number="1.23E+05"),
    one("identifier_decimal", "heat no", "12345.0", "00123", heat_number="12345"),
    one("grade_lost_zero", "grade", "1.251", "1.2510", "EN 10027-2: four digits after the point", grade_text="1.2510"),
    one("grade_zero_for_letter", "grade", "01", "O1", "ASTM A681: O1, O2, O6, O7", grade_text="O1"),
    one("grade_comma", "grade", "1,2510", "1.2510", "EN 10027-2", grade_text="1.2510"),
]

_INCH = "1 inch = 25.4 mm exactly (ISO 31-1)"
SIZE_CASES = [
    one("size_not_stated", "size", "-", "6 mm", thickness_mm=NAN),
    one("size_became_date", "size", "16-Mar", '3/16"', thickness_mm=NAN),
    one("size_gauge", "size", "16 ga", "1.6 mm", thickness_mm=NAN),
    one("unsupported_shape", "size", "tube 25 x 2", "rd 25", thickness_mm=NAN),
    one("size_ambiguous_thousands", "size", "1.050 mm", "1050 mm", thickness_mm=NAN),
    one("unreadable_size", "size", "like the last one", "6 mm", thickness_mm=NAN),
    one("size_fraction_inch", "size", "1/4 x 1-1/2", '1/4" x 1-1/2"', _INCH, thickness_mm=6.35, width_mm=38.1, shape=5),
    one("size_inch_assumed", "size", ".187", "4.75", _INCH, thickness_mm=4.7498),
    one("size_inch_assumed", "thickness mm", ".187", "4.75", _INCH, thickness_mm=4.7498),
    table(
        "size_mm_assumed",
        "piece id;size;C\nA1;4,8 x 40;0.95\nA2;5 x 40;0.95\n",
        (-1,),
        "piece id;size;C\nA1;4,8 x 40 mm;0.95\n",
        "ISO 129-1: millimetres without symbol",
        thickness_mm_0=4.8,
        width_mm_0=40.0,
    ),
    one("size_in_inches", "size", "1/4 in x 2 in", "1/4 x 2", _INCH, thickness_mm=6.35, width_mm=50.8),
    one("size_in_inches", "size", ".187 in", "4.75 mm", _INCH, thickness_mm=4.7498),
    one("size_order_assumed", "size", "40x8x1000", "40 x 8", thickness_mm=8.0, width_mm=40.0, length_mm=1000.0),
    one("size_length_only", "size", "1 050 mm", "Ø 6 x 1050", thickness_mm=NAN, length_mm=1050.0),
    one("size_thickness_only", "size", "6 mm", "Ø 6 mm", thickness_mm=6.0, shape=1),
    one("size_implausible", "size", "Ø 2500 mm", "Ø 25 mm", thickness_mm=2500.0),
    table(
        "size_conflict",
        "piece id;size;thickness mm;C\nA1;6 x 40;8;0.95\n",
        (0,),
        "piece id;size;thickness mm;C\nA1;6 x 40;6;0.95\n",
        thickness_mm_0=8.0,
    ),
]


def blocks_case() -> np.ndarray:
    """The two rules about earlier blocks and the rule without findings have tests of their own."""
    return np.array(["piece_id_seen_before", "heat_seen_before", "empty_cell"])


CASES = [*FILE_CASES, *LINE_CASES, *CELL_CASES, *ROW_CASES, *FIELD_CASES, *SIZE_CASES]
