"""The grade tables: limits, published facts, and the check rows that need no model.

Outside sources: the naming rules of EN 10027-1 (carbon and alloy content in the name), EN ISO 4957 (HS names: W, Mo, V,
Co), SAE J402 (last two digits are the mean carbon), UNS practice (G + SAE number + 0), and the pages named in the rows
of data/checks/grades.csv.
"""

import csv
import re

import pytest

from check_files import DATA
from decalesce import grades

STATUSES = {"two-pages", "page", "memory"}


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


GRADES = rows("grades.csv")
ALIASES = rows("grade_aliases.csv")
FACTS = rows("tables/grade_heat_treat.csv")
CHECKS = rows("checks/grades.csv")
ALLOWANCE = rows("tables/machining_allowance.csv")
RULES = rows("tables/trade_rules.csv")


@pytest.mark.parametrize("row", GRADES, ids=lambda row: row["designation"])
def test_limits_make_sense(row: dict[str, str]) -> None:
    grade = grades.find(row["designation"])
    for element, limit in grade.limits.items():
        assert limit.minimum is not None or limit.maximum is not None, element
        for edge in (limit.minimum, limit.maximum):
            assert edge is None or 0.0 < edge < 25.0, element
        if limit.minimum is not None and limit.maximum is not None:
            assert limit.minimum <= limit.maximum, element
    middle = grade.mid_range()
    assert sum(part.value for part in middle.values()) <= 60.0
    assert all(part.value - part.half_width >= 0.0 for part in middle.values())
    assert row["status"] in STATUSES
    assert row["source"]
    assert row["source_note"]
    remembered = set(grade.memory_fields)
    assert remembered == {"all"} or remembered <= set(grade.limits)
    assert row["status"] != "memory" or remembered


def test_names_collide_nowhere() -> None:
    keys = [re.sub(r"[\s\-_()/]+", "", row["designation"]).upper() for row in GRADES]
    assert len(keys) == len(set(keys)) == 140
    assert {row["grade"] for row in ALIASES} <= {row["designation"] for row in GRADES}
    assert {row["relation"] for row in ALIASES} == {"equal", "nearest"}
    assert {row["status"] for row in ALIASES} <= STATUSES


SAE = [row for row in GRADES if row["system"] == "SAE/AISI" and re.fullmatch(r"\d{4}", row["designation"])]


@pytest.mark.parametrize("row", SAE, ids=lambda row: row["designation"])
def test_sae_number_states_the_mean_carbon_and_the_uns_number(row: dict[str, str]) -> None:
    """SAE J402: the last two digits are the mean carbon in 0.01 %; UNS: G, the SAE number, and a last digit."""
    mean = (float(row["C_min"]) + float(row["C_max"])) / 2.0
    assert mean == pytest.approx(float(row["designation"][2:]) / 100.0, abs=0.035)
    assert re.fullmatch(f"G{row['designation']}[06]", row["uns"])


EN_CARBON = [row for row in GRADES if row["system"] == "EN" and re.match(r"(C|X)?\d{2,3}[A-Z]", row["designation"])]


@pytest.mark.parametrize("row", EN_CARBON, ids=lambda row: row["designation"])
def test_en_name_states_the_carbon(row: dict[str, str]) -> None:
    """EN 10027-1: the first number is 100 times the mean carbon. Old names (100Cr6) keep a rounded number."""
    match = re.match(r"(?:C|X)?(\d+)", row["designation"])
    assert match
    stated = float(match[1]) / 100.0
    assert float(row["C_min"]) - 0.005 <= stated <= float(row["C_max"]) + 0.005


ORDER = [row for row in GRADES if re.fullmatch(r"HS[\d-]+C?", row["designation"])]


@pytest.mark.parametrize("row", ORDER, ids=lambda row: row["designation"])
def test_high_speed_name_states_tungsten_molybdenum_vanadium_cobalt(row: dict[str, str]) -> None:
    """EN ISO 4957: HS names give W-Mo-V-Co as whole per cents; the limits must round to them."""
    numbers = [int(part) for part in re.findall(r"\d+", row["designation"])]
    for element, stated in zip(("W", "Mo", "V", "Co"), numbers, strict=False):
        low, high = row[f"{element}_min"], row[f"{element}_max"]
        if stated == 0:
            assert low == ""
        else:
            assert float(low) - 0.5 <= stated <= float(high) + 0.5, element


LEADING = re.compile(r"X\d+([A-Z][A-Za-z]*?)(\d+)(?:-(\d+))?$")


def test_high_alloy_en_names_state_the_leading_element() -> None:
    """EN 10027-1: after X the numbers are whole per cents of the elements in the order named."""
    seen = 0
    for row in GRADES:
        match = LEADING.match(row["designation"])
        if not match:
            continue
        element = re.findall(r"[A-Z][a-z]?", match[1])[0]
        stated = float(match[2])
        assert float(row[f"{element}_min"]) - 1.0 <= stated <= float(row[f"{element}_max"]) + 1.0, row["designation"]
        seen += 1
    assert seen >= 15


def test_facts_are_whole_and_sane() -> None:
    names = {row["designation"] for row in GRADES}
    assert len({tuple(row.items()) for row in FACTS}) == len(FACTS)
    for row in FACTS:
        assert row["grade"] in names
        assert row["role"] == "product"
        assert row["status"] in STATUSES
        assert row["source"]
        if not row["unit"]:
            assert row["quantity"] in {"quench_medium", "normalize"}
            assert set(row["value"].split("; ")) <= {"water", "brine", "oil", "air", "salt", "plate", "do not"}
            continue
        value = float(row["value"])
        if row["unit"] == "C":
            assert 90.0 <= value <= 1310.0
        if row["unit"] == "HRC":
            assert 14.0 <= value <= 70.0
        if row["quantity"].startswith("tempered_HRC"):
            assert 90.0 <= float(row["temper_C"]) <= 700.0
    assert "from memory" not in " ".join(row["source_note"] for row in FACTS if row["status"] != "memory")


def test_facts_pair_lower_and_upper_edges() -> None:
    edges: dict[tuple[str, ...], dict[str, float]] = {}
    for row in FACTS:
        match = re.fullmatch(r"(\w+)_(min|max)_(C|minutes)|(\w+_range_HRC|working_HRC)_(min|max)", row["quantity"])
        if match:
            key = (row["grade"], match[1] or match[4], row["source"], row["source_note"])
            edges.setdefault(key, {})[match[2] or match[5]] = float(row["value"])
    assert len(edges) > 200
    assert all(edge["min"] < edge["max"] for edge in edges.values() if len(edge) == 2)
    windows = [key for key in edges if key[1] == "austenitize"]
    assert all(len(edges[key]) == 2 for key in windows)
    assert len(windows) == len({key[0] for key in windows})


def test_each_grade_ships_one_published_window() -> None:
    for row in GRADES:
        facts = [
            fact for fact in FACTS if fact["grade"] == row["designation"] and fact["quantity"].startswith("austenitize")
        ]
        assert sorted(fact["quantity"] for fact in facts) in (
            [], ["austenitize_C"], ["austenitize_max_C", "austenitize_min_C"]
        )  # fmt: skip


def test_no_shared_row_between_the_scores_and_the_shipped_table() -> None:
    shipped = {(row["grade"], row["quantity"], row["value"], row["temper_C"], row["austenitize_C"]) for row in FACTS}
    scored = [row for row in CHECKS if row["gate"] == "share"]
    assert len(scored) >= 120
    for row in scored:
        assert (row["grade"], row["quantity"], row["value"], row["temper_C"], row["austenitize_C"]) not in shipped


def test_check_rows_are_whole() -> None:
    assert len({row["case_id"] for row in CHECKS}) == len(CHECKS)
    names = {row["designation"] for row in GRADES}
    for row in CHECKS:
        assert row["gate"] in {"exact", "share", "report"}
        assert row["tolerance"] != ""
        assert row["tolerance_reason"]
        assert row["status"] in STATUSES
        assert row["gate"] == "report" or row["status"] != "memory"
        assert row["grade"] in names or row["composition"]


LIMIT_CHECKS = [row for row in CHECKS if row["kind"] == "limit_contains"]
ALIAS_CHECKS = [row for row in CHECKS if row["kind"] == "alias_resolves"]


@pytest.mark.parametrize("row", LIMIT_CHECKS, ids=lambda row: f"{row['case_id']}-{row['grade']}-{row['quantity']}")
def test_nominal_contents_lie_inside_the_limits(row: dict[str, str]) -> None:
    limit = grades.find(row["grade"]).limits[row["quantity"].removeprefix("limit_")]
    value = float(row["value"])
    assert limit.minimum is None or limit.minimum <= value
    assert limit.maximum is None or value <= limit.maximum


@pytest.mark.parametrize("row", ALIAS_CHECKS, ids=lambda row: f"{row['case_id']}-{row['value']}")
def test_cross_references_seen_on_a_page(row: dict[str, str]) -> None:
    grade = grades.find(row["value"])
    assert (grade.designation, f"alias_{grade.relation}") == (row["grade"], row["quantity"])


def test_allowance_rises_with_thickness_and_carries_both_units() -> None:
    faces = {}
    for row in ALLOWANCE:
        assert float(row["allowance_per_side_mm"]) == pytest.approx(
            25.4 * float(row["allowance_per_side_in"]), abs=0.006
        )
        assert float(row["thickness_to_mm"]) == pytest.approx(25.4 * float(row["thickness_to_in"]))
        assert float(row["thickness_over_in"]) < float(row["thickness_to_in"])
        if row["side"] == "faces":
            faces.setdefault(row["width_to_in"], []).append(
                (float(row["thickness_over_in"]), float(row["allowance_per_side_in"]))
            )
    for cells in faces.values():
        ordered = [allowance for _, allowance in sorted(cells)]
        assert ordered == sorted(ordered)


def test_trade_rules_are_whole() -> None:
    assert len({row["id"] for row in RULES}) == len(RULES)
    topics = {row["topic"] for row in RULES}
    assert {"order of work", "forge ceiling", "normalize", "stress relief", "temper", "cold treatment", "straighten",
            "target hardness"} <= topics  # fmt: skip
    ceilings = [
        float(row["value"]) for row in RULES if row["topic"] == "forge ceiling" and row["applies_to"].startswith("C=")
    ]
    assert ceilings == sorted(ceilings, reverse=True)
    assert len(ceilings) == 5
    for row in RULES:
        assert row["rule"].strip()
        assert row["status"] in STATUSES | {"common practice", "computed"}


def test_shipped_text_names_no_page() -> None:
    for name in ("grades.csv", "grade_aliases.csv", "tables/grade_heat_treat.csv", "checks/grades.csv",
                 "tables/machining_allowance.csv", "tables/trade_rules.csv"):  # fmt: skip
        text = (DATA / name).read_text(encoding="utf-8")
        assert not re.search(r"https?:|www\.|\.(com|org|net|de|pl|kr|my|co\.uk)\b", text)
