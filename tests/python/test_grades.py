"""Grades: every name leads to the right grade or to an error that helps; the grade is a plain value."""

import csv
import pickle
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from check_files import DATA
from decalesce import data_files, grades
from decalesce.grades import AmbiguousGradeError, UnknownGradeError


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


GRADES = rows("grades.csv")
ALIASES = rows("grade_aliases.csv")


# ---- names


@pytest.mark.parametrize(
    "name", ["1084", "AISI 1084", "SAE-1084", "sae 1084", "AISI/SAE 1084", "C1084", "G10840", "UNS G10840", " 1084 ",
             "AISI‑1084", "aisi_1084", "SAE – 1084", "１０８４", "1084.0"]
)  # fmt: skip
def test_all_names_of_1084(name: str) -> None:
    assert grades.find(name).designation == "1084"
    assert grades.find(name) == grades.find("1084")
    assert grades.find(name).matched_as == name


@pytest.mark.parametrize(
    ("name", "designation", "relation"),
    [
        ("1.3505", "100Cr6", "equal"),
        ("W.-Nr. 1.3505", "100Cr6", "equal"),
        ("WNr 1,3505", "100Cr6", "equal"),
        ("Werkstoffnummer 1.3505", "100Cr6", "equal"),
        ("100CR6", "100Cr6", "own"),
        ("EN 100Cr6", "100Cr6", "own"),
        ("aisi o1", "O1", "own"),
        ("ASTM A681 D2", "D2", "own"),
        ("ASTM A2", "A2", "own"),
        ("d-2", "D2", "own"),
        ("1.2379", "X153CrMoV12", "equal"),
        ("1.2080", "X210Cr12", "equal"),
        ("1.208", "X210Cr12", "equal"),
        ("1.4021", "420", "nearest"),
        ("T72301", "W1", "equal"),
        ("W1-10.5", "W1-10.5", "own"),
        ("T11302", "M2", "equal"),
        ("HS6-5-2C", "HS6-5-2C", "own"),
        ("hs 6 5 2", "HS6-5-2", "own"),
        ("EN31", "52100", "nearest"),
        ("BS1", "S1", "nearest"),
        ("ШХ15", "100Cr6", "nearest"),
        ("SK5", "SK85", "equal"),
        ("Type 420", "420", "own"),
        ("E52100", "52100", "equal"),
    ],
)
def test_names(name: str, designation: str, relation: str) -> None:
    grade = grades.find(name)
    assert (grade.designation, grade.relation) == (designation, relation)


@pytest.mark.parametrize("row", GRADES, ids=lambda row: row["designation"])
def test_every_designation_finds_itself(row: dict[str, str]) -> None:
    grade = grades.find(row["designation"])
    assert (grade.designation, grade.relation) == (row["designation"], "own")


@pytest.mark.parametrize("row", ALIASES, ids=lambda row: f"{row['alias']}-{row['grade']}")
def test_every_alias_resolves_to_its_grade_or_to_the_owner_of_the_number(row: dict[str, str]) -> None:
    shared = [other for other in ALIASES if other["alias"] == row["alias"]]
    equals = {other["grade"] for other in shared if other["relation"] == "equal"}
    nearest = {other["grade"] for other in shared if other["relation"] == "nearest"}
    if equals:
        assert len(equals) == 1
        assert {grades.find(row["alias"]).designation} == equals
    elif len(nearest) == 1:
        grade = grades.find(row["alias"])
        assert ({grade.designation}, grade.relation) == (nearest, "nearest")
    else:
        with pytest.raises(AmbiguousGradeError) as caught:
            grades.find(row["alias"])
        assert set(caught.value.candidates) == nearest


def test_shared_shorthand_is_ambiguous_and_lists_the_grades() -> None:
    with pytest.raises(AmbiguousGradeError) as caught:
        grades.find("AISI 440")
    assert caught.value.candidates == ("440A", "440B", "440C")
    assert "440A, 440B, 440C" in str(caught.value)
    assert isinstance(caught.value, LookupError)
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


@pytest.mark.parametrize(
    ("name", "expected"), [("1048", "1084"), ("52l00", "52100"), ("01", "O1"), ("X153CrMoV", "X153CrMoV12")]
)
def test_unknown_names_near_matches(name: str, expected: str) -> None:
    with pytest.raises(UnknownGradeError) as caught:
        grades.find(name)
    assert expected in caught.value.near
    assert expected in str(caught.value)
    assert str(caught.value).startswith("unknown grade ")
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


@pytest.mark.parametrize("name", ["", "   ", "-", "zzzzzzzzzzzz", "stainless of some kind", "x" * 100_000])
def test_nonsense_is_unknown(name: str) -> None:
    with pytest.raises(UnknownGradeError):
        grades.find(name)


def test_near_counts_and_order() -> None:
    assert grades.near("1084", n=1) == ("1084",)
    assert len(grades.near("W1", n=3)) == 3
    assert grades.near("1084", n=0) == ()


@pytest.mark.parametrize("bad", [1084, None, 1.3505, ["1084"]])
def test_find_wants_text(bad: object) -> None:
    with pytest.raises(TypeError, match="designation: expected text"):
        grades.find(bad)  # type: ignore[arg-type]


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=40))
def test_any_text_finds_or_raises_lookup_error(name: str) -> None:
    try:
        assert grades.find(name).designation
    except LookupError as error:
        assert str(error)


# ---- a whole rack


def test_find_many_keeps_order_and_never_raises() -> None:
    items: list[object] = [
        "1084",
        None,
        float("nan"),
        "",
        1084,
        1084.0,
        np.int64(1095),
        np.float64("nan"),
        1.208,
        "440",
        "nope!",
        pd.NA,
        "EN31",
        ["x"],
        True,
    ]
    matches = grades.find_many(items)
    found = [match.grade.designation if match.grade else None for match in matches]
    assert found == [
        "1084",
        None,
        None,
        None,
        "1084",
        "1084",
        "1095",
        None,
        "X210Cr12",
        None,
        None,
        None,
        "52100",
        None,
        None,
    ]
    assert [match.reason for match in matches[:4]] == ["", "no grade stated", "no grade stated", "no grade stated"]
    assert "shared by 440A, 440B, 440C" in matches[9].reason
    assert matches[10].reason.startswith("unknown grade 'nope!'")
    assert matches[11].reason == "no grade stated"
    assert "nearest grade, not an equal" in matches[12].reason
    assert grades.find_many([]) == []


def test_find_many_of_a_hundred_thousand_bars_is_quick() -> None:
    names = [row["designation"] for row in GRADES] + [row["alias"] for row in ALIASES]
    rack = pd.Series(np.resize(np.array(names, dtype=object), 100_000))
    grades.find_many(rack[:1000])
    start = time.perf_counter()
    assert len(grades.find_many(rack)) == 100_000
    assert time.perf_counter() - start < 1.0


# ---- the value


def test_grade_is_a_value() -> None:
    grade = grades.find("D2")
    again = pickle.loads(pickle.dumps(grade))
    assert again == grade
    assert hash(again) == hash(grade)
    assert (again.matched_as, again.relation) == ("D2", "own")
    assert grade != grades.find("A2")
    assert repr(grade).startswith("Grade(designation='D2'")
    with pytest.raises(AttributeError):
        grade.status = "page"  # type: ignore[misc]
    with pytest.raises(TypeError):
        grade.limits["C"] = grade.limits["Cr"]  # type: ignore[index]


def test_limits_and_mid_range_of_1084() -> None:
    grade = grades.find("1084")
    assert (grade.limits["C"].minimum, grade.limits["C"].maximum) == (0.80, 0.93)
    assert "Si" not in grade.limits
    middle = grade.mid_range()
    assert middle["C"].value == pytest.approx(0.865)
    assert middle["C"].half_width == pytest.approx(0.065)
    assert middle["C"].status == "two-pages"
    assert middle["P"][:2] == (0.02, 0.02)
    assert "Si" not in middle


def test_mid_range_where_only_one_limit_is_set() -> None:
    assert "C" not in grades.find("420").mid_range()
    assert grades.find("420").limits["C"].maximum is None
    vanadium = grades.find("6150").mid_range()["V"]
    assert (vanadium.value, vanadium.half_width, vanadium.status) == (0.15, 0.15, "memory")
    assert grades.find("HS6-5-2").mid_range()["C"].status == "memory"
    assert grades.find("HS6-5-2").mid_range()["Mo"].status == "page"
    assert grades.find("8670").mid_range() == {}


def test_table() -> None:
    frame = grades.table()
    assert len(frame) == 140
    assert frame.loc[frame.designation == "1084", "C_max"].item() == 0.93
    assert np.isnan(frame.loc[frame.designation == "1084", "Si_min"].item())
    frame.loc[0, "C_max"] = 99.0
    assert grades.table().loc[0, "C_max"] != 99.0


def test_published_facts() -> None:
    (window_low,) = grades.find("A2").published("austenitize_min_C")
    assert (window_low.value, window_low.unit, window_low.status) == (954.0, "C", "page")
    assert grades.find("A2").published("normalize")[0].value == "do not"
    grid = grades.find("M2").published("tempered_HRC")
    assert len(grid) == 50
    assert all(fact.temper_C and fact.temper_h == 2.0 and fact.austenitize_C for fact in grid)
    assert grades.find("1.3343").published("quench_medium")
    assert grades.find("8620").published() == ()
    assert grades.find("A2").published("no_such_quantity") == ()


# ---- lazy


def test_missing_data_file_is_named() -> None:
    with pytest.raises(FileNotFoundError, match=r"tables/none\.csv"):
        data_files.path("tables/none.csv")


def test_import_reads_nothing_and_loads_no_pandas() -> None:
    code = (
        "import sys, builtins\n"
        "import decalesce.grades as g\n"
        "assert g._grades.cache_info().currsize == 0\n"
        "assert not {'rapidfuzz'} & set(sys.modules), 'rapidfuzz'\n"
        "print('pandas' in sys.modules)\n"
    )
    folder = str(Path(data_files.__file__).resolve().parents[1])
    done = subprocess.run(
        [sys.executable, "-c", f"import sys; sys.path.insert(0, {folder!r})\n{code}"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == "False"
