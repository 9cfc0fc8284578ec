"""One case (or more) for each rule about certificates: what is struck, what it becomes, what is left alone."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

NAN = float("nan")
PRACTICE = "common practice, no source"
_3_1 = "EN 10204: an inspection certificate 3.1 states the analysis of the heat it names"
_SCATTER = "EN ISO 683-1 permits 0.03 % C between two analyses (from memory)"


@dataclass(frozen=True)
class JoinCase:
    """A rack beside certificates: the rule must strike exactly ``rows`` of the rack, and no row with ``quiet``.
    ``expect`` maps (element, "half C" or "status C", row) to a value."""

    rule: str
    rack: str
    certificates: tuple[str, ...]
    rows: tuple[int, ...]
    quiet: tuple[str, ...]
    source: str
    expect: dict[tuple[str, int], Any] = field(default_factory=dict)


@dataclass(frozen=True)
class FileCase:
    """A certificate file: the rule must strike it and not ``quiet``; ``used`` rows can be joined."""

    rule: str
    file: bytes
    quiet: bytes
    used: int
    source: str


_RACK = "piece;grade;heat;C;Mn\n"
JOIN_CASES = [
    JoinCase(
        "filled_from_certificate",
        _RACK + "A1;1095;H1;;\nA2;1095;H2;;\nA3;1095;H1;0.95;0.40\n",
        ("heat;C;Mn;N ppm\nH1;0.97;0.41;80\n",),
        (0, 2),
        ("heat;C;Mn\nH9;0.97;0.41\n",),
        _3_1 + "; of H2 only the grade is left, the middle of 0.90-1.03 (SAE J403)",
        {
            ("C", 0): 0.97,
            ("half C", 0): 0.005,
            ("status C", 0): 0,
            ("N", 0): 0.008,
            ("C", 1): 0.965,
            ("status C", 1): 2,
            ("C", 2): 0.95,
            ("N", 2): 0.008,
        },
    ),
    JoinCase(
        "filled_from_certificate",
        _RACK + "A1;1095;h 1;;\n",
        ("heat;C;V\nH1;0.97;<0.01\n",),
        (0,),
        ("heat;C\n;0.97\n",),
        _3_1 + "; blanks and case of a heat number mean nothing",
        {("C", 0): 0.97, ("V", 0): 0.005, ("status V", 0): 1},
    ),
    JoinCase(
        "certificate_conflict",
        _RACK + "A1;1095;H1;0.95;0.40\nA2;1095;H2;0.95;0.40\n",
        ("heat;C;Mn\nH1;1.02;0.41\nH2;0.97;0.40\n",),
        (0,),
        ("heat;C;Mn\nH1;0.97;0.41\n",),
        _SCATTER,
        {("C", 0): 0.95, ("half C", 0): 0.07, ("Mn", 0): 0.40, ("half C", 1): 0.005},
    ),
    JoinCase(
        "certificate_sharper",
        "piece;heat;C;Cu;Cr\nA1;H1;0.8;max 0.30;0.1-0.3\n",
        ("heat;C;Cu;Cr\nH1;0.81;0.11;0.12\n",),
        (0,),
        ("heat;C;Cu;Cr\nH1;0.95;0.45;0.50\n",),
        "arithmetic: 0.81 rounds to 0.8, 0.11 is below 0.30, 0.12 lies in 0.1 to 0.3",
        {("C", 0): 0.81, ("Cu", 0): 0.11, ("Cr", 0): 0.12, ("status Cu", 0): 0, ("status Cr", 0): 0},
    ),
    JoinCase(
        "certificate_other_grade",
        _RACK + "A1;1095;H1;;\nA2;5160;H1;;\n",
        ("heat;grade;C;Mn\nH1;1095;0.97;0.41\n",),
        (1,),
        ("heat;grade;C;Mn\nH2;1095;0.97;0.41\n",),
        "EN 10021: a cast is the product of one melting and has one grade; the middle of 0.56-0.64 is left (SAE J404)",
        {("C", 0): 0.97, ("C", 1): 0.60},
    ),
    JoinCase(
        "grade_from_certificate",
        _RACK + "A1;;H1;;\nA2;;H2;;\n",
        ("heat;grade;C\nH1;1095;0.97\nH2;;0.60\n",),
        (0,),
        ("heat;C\nH1;0.97\n",),
        _3_1 + "; manganese is the middle of 0.30-0.50 (SAE J403)",
        {("C", 0): 0.97, ("Mn", 0): 0.40, ("Mn", 1): 0.0},
    ),
    JoinCase(
        "certificate_heat_zeros",
        _RACK + "A1;1095;123;;\n",
        ("heat;C\n00123;0.97\n",),
        (0,),
        ("heat;C\n123;0.97\n00123;0.60\n",),
        "a spreadsheet drops zeros at the start of a number",
        {("C", 0): 0.97},
    ),
    JoinCase(
        "certificate_heat_doubtful",
        _RACK + "A1;1095;1.23457E+11;;\nA2;1095;5.00E+12;;\n",
        ("heat;C\n123456780412;0.97\n", "heat;C\n123456781206;0.92\n"),
        (0,),
        ("heat;C\n999999999999;0.97\n",),
        "arithmetic: both numbers round to 1.23457E+11",
        {("C", 0): 0.965, ("status C", 0): 2},
    ),
    JoinCase(
        "certificate_heat_doubtful",
        _RACK + "A1;1095;7;;\n",
        ("heat;C\n007;0.97\n0007;0.92\n",),
        (0,),
        ("heat;C\n7;0.97\n007;0.92\n",),
        "two heats fit the number with its zeros lost",
        {("C", 0): 0.965},
    ),
    JoinCase(
        "certificate_heat_doubtful",
        _RACK + "A1;1095;H1;;\n",
        ("heat;grade;C\nH1;1095;0.97\n", "heat;grade;C\nH1;5160;0.60\n"),
        (0,),
        ("heat;grade;C\nH1;1095;0.97\n", "heat;grade;C\nH1;AISI 1095;0.97\n"),
        "EN 10021: one cast, one grade",
        {("C", 0): 0.965},
    ),
    JoinCase(
        "certificates_disagree",
        _RACK + "A1;1095;H1;;\nA2;1095;H1;0.95;\n",
        ("heat;C\nH1;0.90\n", "heat;C\nH1;1.00\n"),
        (0,),
        ("heat;C\nH1;0.96\n", "heat;C\nH1;0.98\n"),
        _SCATTER,
        {("C", 0): 0.95, ("half C", 0): 0.05, ("C", 1): 0.95},
    ),
]

_GOOD = b"heat;C;Mn\nH1;0.95;0.40\n"
FILE_CASES = [
    FileCase("certificate_unreadable", b"%PDF-1.7\n", _GOOD, 0, PRACTICE),
    FileCase("certificate_unreadable", b"PK\x03\x04 and no workbook", _GOOD, 0, PRACTICE),
    FileCase("certificate_empty", b"", _GOOD, 0, PRACTICE),
    FileCase("certificate_empty", b"\n \n", _GOOD, 0, PRACTICE),
    FileCase("certificate_no_rows", b"heat;C;Mn\n", _GOOD, 0, PRACTICE),
    FileCase("certificate_without_heat", b"C;Mn\n0.95;0.40\n", _GOOD, 0, _3_1),
    FileCase("certificate_without_heat", b"heat;C;Mn\n1.23E+08;0.95;0.40\n", _GOOD, 0, _3_1),
    FileCase(
        "certificate_limits_only",
        b"heat;row;C;Mn\nH1;min;0.90;0.30\nH1;max;1.03;0.50\n",
        b"heat;row;C;Mn\nH1;min;0.90;0.30\nH1;actual;0.95;0.40\n",
        0,
        "EN 10204: types 2.1 and 2.2 are not specific to the heat",
    ),
    FileCase("certificate_limits_only", b"heat;C min;C max\nH1;0.90;1.03\n", _GOOD, 0, "EN 10204, type 2.1"),
    FileCase(
        "certificate_analyses_conflict",
        b"heat;C;Mn\nH1;0.80;0.70\nH1;0.92;0.70\n",
        b"heat;C;Mn\nH1;0.80;0.70\n",
        2,
        _SCATTER,
    ),
    FileCase(
        "certificate_without_carbon",
        b"heat;Mn;Cr\nH1;0.40;1.45\n",
        b"heat;Mn;Cr;C\nH1;0.40;1.45;0.98\n",
        1,
        "X-ray fluorescence does not see carbon",
    ),
]
