"""Headers in English, German and French. The words are those in daily use (common practice, no source)."""

from __future__ import annotations

import pytest

from decalesce.inventory import CONDITIONS, SHAPES
from decalesce.inventory.fields import read_condition
from decalesce.inventory.headers import recognise
from decalesce.inventory.sizes import read_size

ELEMENT_HEADERS = {
    "C": ("C", ""),
    "C %": ("C", "%"),
    "Mn [wt.%]": ("Mn", "%"),
    "N ppm": ("N", "ppm"),
    "Cr_pct": ("Cr", "%"),
    "Kohlenstoff": ("C", ""),
    "Mangan": ("Mn", ""),
    "Silizium": ("Si", ""),
    "Carbone": ("C", ""),
    "Manganèse": ("Mn", ""),
    "Silicium": ("Si", ""),
    "% C": ("C", "%"),
    "Chrom (Gew.-%)": ("Cr", "%"),
    "Soufre ‰": ("S", "‰"),
    "C x100": ("C", "x100"),
    "Mn ×1000": ("Mn", "x1000"),
    "Schwefel": ("S", ""),
    "Azote ppm": ("N", "ppm"),
    "MN": ("Mn", ""),
    "CO": ("Co", ""),
    "Al tot.": ("Al", ""),
    "Kohlenstoff in %": ("C", "%"),
    "N mg/kg": ("N", "ppm"),
    "Cb": ("Nb", ""),
    "Si o/oo": ("Si", "‰"),
}
OTHER_HEADERS = {
    "Piece ID": "piece_id",
    "Stück-Nr.": "piece_id",
    "N° barre": "piece_id",
    "Heat No.": "heat_number",
    "Schmelzen-Nr.": "heat_number",
    "N° coulée": "heat_number",
    "Numéro de coulée": "heat_number",
    "Steel grade": "grade",
    "Werkstoff-Nr.": "grade",
    "Nuance": "grade",
    "Size": "size",
    "Abmessung [mm]": "size",
    "Thickness (in)": "thickness",
    "Dicke in mm": "thickness",
    "Épaisseur mm": "thickness",
    "Breite": "width",
    "Largeur": "width",
    "B [mm]": "width",
    "W mm": "width",
    "Ø mm": "diameter",
    "Durchmesser": "diameter",
    "Length": "length",
    "Longueur": "length",
    "Condition": "condition",
    "Lieferzustand": "condition",
    "État de livraison": "condition",
    "Hardness HB": "hardness",
    "Härte [HRC]": "hardness",
    "Dureté HV": "hardness",
    "Target HRC": "target_hardness",
    "Zielhärte": "target_hardness",
    "gewünschte Härte": "target_hardness",
    "Gewuenschte Haerte HRC": "target_hardness",
    "Hardening temp °C": "temperature",
    "Anlasstemperatur °C": "temperature",
    "Température de trempe (°C)": "temperature",
    "Analysis kind": "analysis_kind",
    "Analyseart": "analysis_kind",
    "C eq": "unknown",
    "CEV": "unknown",
    "Cr+Ni+Mo": "unknown",
    "Remark": "unknown",
    "weight kg": "unknown",
    "Fe": "other_element",
}


@pytest.mark.parametrize(("header", "meaning"), ELEMENT_HEADERS.items())
def test_element_headers(header: str, meaning: tuple[str, str]) -> None:
    role = recognise(header)
    assert (role.kind, role.element, role.unit, role.bound) == ("element", *meaning, "")


@pytest.mark.parametrize(("header", "kind"), OTHER_HEADERS.items())
def test_other_headers(header: str, kind: str) -> None:
    assert recognise(header).kind == kind


@pytest.mark.parametrize("header", ["C min", "Cmin", "C (min)", "min. C", "C Mindest"])
def test_lower_limit_headers(header: str) -> None:
    assert (recognise(header).element, recognise(header).bound) == ("C", "min")


@pytest.mark.parametrize(
    ("header", "kind"),
    [
        ("C ladle", "ladle"),
        ("Schmelzenanalyse C", "ladle"),
        ("C analyse de coulée", "ladle"),
        ("C product", "product"),
        ("C Stückanalyse", "product"),
        ("C analyse sur produit", "product"),
    ],
)
def test_kind_of_analysis_in_headers(header: str, kind: str) -> None:
    assert (recognise(header).element, recognise(header).analysis) == ("C", kind)


@pytest.mark.parametrize(
    ("header", "unit", "purpose"),
    [
        ("harden_C", "°C", "harden"),
        ("Austenitize (°F)", "°F", "harden"),
        ("temper_C", "°C", "temper"),
        ("Revenu °C", "°C", "temper"),
        ("forging temperature degF", "°F", "forge"),
        ("Glühtemperatur °C", "°C", "anneal"),
    ],
)
def test_temperature_headers(header: str, unit: str, purpose: str) -> None:
    assert (recognise(header).kind, recognise(header).unit, recognise(header).purpose) == ("temperature", unit, purpose)


@pytest.mark.parametrize(
    ("text", "condition"),
    [
        ("hot rolled", "hot rolled"),
        ("+AR", "hot rolled"),
        ("warmgewalzt", "hot rolled"),
        ("laminé à chaud", "hot rolled"),
        ("+A", "annealed"),
        ("weichgeglüht", "annealed"),
        ("recuit", "annealed"),
        ("+AC", "spheroidized"),
        ("GKZ", "spheroidized"),
        ("spheroidized annealed", "spheroidized"),
        ("+N", "normalized"),
        ("normalgeglüht", "normalized"),
        ("+QT", "quenched and tempered"),
        ("vergütet", "quenched and tempered"),
        ("ground", "ground"),
        ("geschliffen", "ground"),
        ("cold drawn", "cold drawn"),
        ("+C", "cold drawn"),
        ("pretty", "other"),
        ("", "not stated"),
    ],
)
def test_conditions(text: str, condition: str) -> None:
    """The marks +A, +AC, +N, +QT, +AR, +C are those of EN 10027-1 and EN ISO 683 (from memory)."""
    assert CONDITIONS[read_condition(text)[0]] == condition


@pytest.mark.parametrize(
    ("text", "shape", "lengths"),
    [
        ('3/16"', "unknown", (4.7625,)),
        ("3/16 in", "unknown", (4.7625,)),
        (".187", "unknown", (4.7498,)),
        ("4,8 x 40", "rectangle", (4.8, 40.0)),
        ("1 050 mm", "unknown", (float("nan"), float("nan"), 1050.0)),
        ("1\u202f050 mm", "unknown", (float("nan"), float("nan"), 1050.0)),
        ("Ø 25", "round", (25.0,)),
        ("25 rd", "round", (25.0,)),
        ("⌀25h9", "round", (25.0,)),
        ("1-1/2 in", "unknown", (38.1,)),
        ("1½ Zoll", "unknown", (38.1,)),
        ("40x8x1000", "rectangle", (8.0, 40.0, 1000.0)),
        ("1/4 x 1-1/2", "rectangle", (6.35, 38.1)),
        ("SW 17", "hexagon", (17.0,)),
        ("Vkt 20 mm", "square", (20.0,)),
        ("25 x 25", "square", (25.0,)),
        ("□ 20", "square", (20.0,)),
        ("rd 25 x 3000", "round", (25.0, float("nan"), 3000.0)),
        ("2 cm", "unknown", (20.0,)),
        ("1/4 in. x 2 in.", "rectangle", (6.35, 50.8)),
        ("1/4 by 2 inch", "rectangle", (6.35, 50.8)),
        ("O.25 in", "unknown", (6.35,)),
    ],
)
def test_sizes(text: str, shape: str, lengths: tuple[float, ...]) -> None:
    """1 inch = 25.4 mm exactly; the rest is arithmetic."""
    result = read_size(text)
    assert SHAPES[result.shape] == shape
    found = (result.thickness_mm, result.width_mm, result.length_mm)
    for value, wanted in zip(found, (*lengths, *[float("nan")] * 3), strict=False):
        assert value == pytest.approx(wanted, nan_ok=True)
