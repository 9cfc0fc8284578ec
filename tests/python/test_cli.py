"""The command line: what comes out, what is answered, and how it ends.

The temper parameter is checked against the formula of Hollomon and Jaffe (1945); other numbers against the library,
which has its own checks.
"""

import csv
import math
import re
import subprocess
import sys
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import decalesce as dc
from cli_runs import document, process, run
from decalesce import _core
from decalesce.cli import bibliography, keys, options
from decalesce.cli.measures import Measures
from decalesce.cli.waiting import waiting

DATA = Path(__file__).resolve().parents[2] / "data"
COMMANDS = ("critical", "soak", "austenitize", "temper", "plan", "inventory", "grades", "sources")
RACK = str(DATA / "demo" / "bar_rack.csv")

# One good call of each command, and of each thing that `temper` answers.
CALLS = [
    ("critical", "1095"),
    ("critical", "C=0.95", "Mn=0.40"),
    ("critical", "M2"),
    ("soak", "1084", "--size", "3/16inx1-1/2in", "--check", "2h"),
    ("austenitize", "O1", "--at", "1475F", "--at", "1300F"),
    ("temper", "1095", "--at", "400F", "--swing", "27F"),
    ("temper", "O1", "--target", "60HRC"),
    ("temper", "--convert", "400F", "2h", "--to", "1h"),
    ("plan", "O1", "--size", "4x30mm", "--target", "62HRC"),
    ("plan", "D2", "--thickness", "3/16in", "--target", "60"),
    ("plan", "440C"),
    ("plan",),
    ("inventory", RACK),
    ("grades",),
    ("grades", "1.3505"),
    ("sources",),
    ("sources", "Andrews1965"),
]
IDS = [" ".join(call).replace(RACK, "rack") for call in CALLS]


# --- what every command does ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("call", CALLS, ids=IDS)
@pytest.mark.parametrize("units", ["metric", "shop"])
@pytest.mark.parametrize("columns", [80, 120])
def test_a_page_is_plain_and_fits(call: tuple[str, ...], units: str, columns: int) -> None:
    result = run(*call, "--units", units, columns=columns)
    assert result.code == 0, result.err
    assert not re.search(r"\bnan\b|\binf\b", result.out, re.IGNORECASE)
    assert "\x1b" not in result.out, "colour on something that is no terminal"
    for line in result.out.splitlines():
        assert len(line) <= columns, line
        assert line == line.rstrip()


@pytest.mark.parametrize("call", CALLS, ids=IDS)
def test_documents_hold_the_documented_keys(call: tuple[str, ...]) -> None:
    found = document(*call)
    assert set(found) == set(keys.COMMON) | set(keys.KEYS[call[0]])
    assert found["schema"] == keys.SCHEMA == 1
    assert found["command"] == call[0]
    assert found["level"] in ("note", "caution", "stop")
    assert found["cautions"][-1]["id"] == "local_codes"
    for flag in found["flags"]:
        assert flag["sentence"].endswith(".") and flag["level"] in ("note", "caution", "stop") and flag["numbers"]


@pytest.mark.parametrize("command", COMMANDS)
def test_help_lists_the_keys_of_the_document(command: str) -> None:
    said = run(command, "--help").out
    for key in (*keys.COMMON, *keys.KEYS[command]):
        assert re.search(rf"^\s+{key}\s", said, re.MULTILINE), key


@pytest.mark.parametrize("command", COMMANDS)
def test_examples_of_the_help_run(command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "bar_rack.csv").symlink_to(RACK)
    (tmp_path / "certificates").symlink_to(DATA / "demo" / "certificates")
    monkeypatch.chdir(tmp_path)
    said = run(command, "--help").out
    examples = re.findall(r"^ {4}decalesce (.+)$", said, re.MULTILINE)
    assert examples
    for example in examples:
        result = run(*example.split())
        assert result.code == 0, (example, result.err)


def test_numbers_carry_band_flags_and_sources() -> None:
    ac1 = document("critical", "1095")["critical"]["ac1"]
    same = dc.critical.temperatures(dc.grades.find("1095")).ac1
    assert (ac1["value"], ac1["low"], ac1["high"], ac1["unit"]) == (same.value, same.low, same.high, "degC")
    assert ac1["flags"] == list(same.flags) and ac1["sources"] == list(same.sources)
    assert ac1["low"] < ac1["value"] < ac1["high"]


def test_no_answer_says_why_instead_of_a_number() -> None:
    found = document("critical", "M2")["critical"]["ms"]
    assert found["value"] is None and "No published formula is safe" in found["no_answer"]
    said = " ".join(run("critical", "M2").out.split())
    assert "Ac1, Ac3, Acm, Ms, Mf, Bs no answer No published formula is safe for this family of steel" in said


@pytest.mark.parametrize("call", [c for c in CALLS if c[0] in ("austenitize", "plan", "inventory")])
def test_cautions_stand_on_every_plan(call: tuple[str, ...]) -> None:
    said = " ".join(run(*call).out.split())
    # D2 is published for air alone: no oil, no cautions of oil
    assert ("quench oil" in said) == (call[:2] != ("plan", "D2"))
    for words in (
        "burns to the bone",
        "carbon monoxide",
        "Mains wiring",
        "local codes and licensed practice",
    ):
        assert words in said, words


@pytest.mark.parametrize("call", [c for c in CALLS if c[0] in ("critical", "soak", "temper", "sources")])
def test_no_caution_of_a_quench_where_nothing_is_quenched(call: tuple[str, ...]) -> None:
    said = " ".join(run(*call).out.split())
    assert "oil at least" not in said and "flash point" not in said
    found = document(*call)["cautions"]
    assert {"hot_work", "carbon_monoxide", "mains", "all"} <= {c["applies_to"] for c in found}
    assert not {"quench_oil", "foil", "cold"} & {c["applies_to"] for c in found}
    if call[0] == "soak" or call[:2] == ("temper", "O1"):
        assert "burns to the bone" in said and "Mains wiring" in said
    if call[0] == "soak":
        assert "Propane sinks" in run(*call, "--furnace", "gas_fired").out


@pytest.mark.parametrize("call", [c for c in CALLS if c[0] in ("austenitize", "plan")])
def test_the_document_of_a_plan_keeps_the_four(call: tuple[str, ...]) -> None:
    works = {c["applies_to"] for c in document(*call)["cautions"]}
    assert {"hot_work", "carbon_monoxide", "mains", "all"} <= works
    assert ("quench_oil" in works) == (call[:2] != ("plan", "D2"))


# --- the answers ----------------------------------------------------------------------------------------------------


def test_conversion_is_the_temper_parameter() -> None:
    found = document("temper", "1084", "--convert", "200C", "2h", "--to", "1h")["conversion"]
    carbon = dc.grades.find("1084").composition.C
    constants = {"practice": 20.0, "grange_baughman": 18.0, "carbon_dependent": 21.3 - 5.8 * carbon}
    by_hand = {name: 473.15 * (c + math.log10(2.0)) / c - 273.15 for name, c in constants.items()}
    assert found["equivalent"]["by_constant"] == pytest.approx(by_hand, abs=1e-6)
    assert found["equivalent"]["value"] == pytest.approx(by_hand["practice"], abs=1e-6)
    assert found["parameter_thousand_K"] == pytest.approx(473.15 * (20.0 + math.log10(2.0)) / 1000.0)
    at = document("temper", "--convert", "200C", "2h", "--to", f"{by_hand['practice']:.9f}C")["conversion"]
    assert at["equivalent"]["value"] == pytest.approx(3600.0, rel=1e-6)
    said = run("temper", "--convert", "200C", "2h", "--to", "1h", "--units", "shop").out
    assert f"{by_hand['practice'] * 1.8 + 32:.0f} °F in 1 h" in said
    assert "How much the constant matters" in said


def test_temper_answers_both_ways() -> None:
    at = document("temper", "1095", "--target", "60HRC")["answer"]["temperature"]["value"]
    back = document("temper", "1095", "--at", f"{at:.6f}C")["answer"]["hardness"]["value"]
    assert back == pytest.approx(60.0, abs=0.05)


def test_temper_takes_the_hardness_that_was_read() -> None:
    found = document("temper", "1095", "--at", "200C", "--as-quenched", "64HRC")
    assert found["quenched"]["measured"] and found["quenched"]["hardness"]["value"] == 64.0
    assert found["answer"]["hardness"]["value"] <= 64.0
    hardened = document("temper", "1095", "--at", "200C", "--hardened", "800C", "--soaked", "10min")
    assert hardened["quenched"]["hardened_from_C"] == 800.0


def test_plan_is_the_library_s_plan_in_the_order_of_the_work() -> None:
    found = document("plan", "O1", "--size", "4x30mm", "--target", "62HRC")
    section = dc.Section("rectangle", 4, 30)
    plan = dc.plan.make(dc.Bar(grade=dc.grades.find("O1"), section=section), target=62.0)
    assert plan.temper is not None
    assert found["window"]["aim"]["value"] == plan.aim_C.value
    assert found["temper"]["temperature"]["value"] == plan.temper.temperature_C.value
    assert found["level"] == plan.level
    assert [step["name"] for step in found["steps"]] == [step.name for step in plan.steps]
    said = run("plan", "O1", "--size", "4x30mm", "--target", "62HRC").out
    order = ["Window", "Soak", "Quench", "Temper", "Order of work", "Reasons", "What would narrow it most", "Cautions"]
    places = [re.search(rf"^{heading}", said, re.MULTILINE) for heading in order]
    assert all(places) and [p.start() for p in places if p] == sorted(p.start() for p in places if p)
    assert "(if the middle is right): the oven may be off by" in " ".join(said.split())
    assert "above the coolest" in said


def test_a_bar_nobody_knows() -> None:
    said = " ".join(run("plan").out.split())
    assert all(sentence in said for sentence in dc.plan.without_grade_or_certificate())
    assert run("plan", "--strict").code == 1
    assert run("plan", "Mn=0.40", "--strict").code == 1, "no carbon, no plan"


def test_soak_judges_a_time() -> None:
    found = document("soak", "1084", "--size", "4x30mm", "--check", "2h")
    assert found["check"]["verdict"] == "far_too_long"
    assert found["level"] == "caution"


def test_soak_is_computed_at_the_set_point_and_from_a_cold_kiln() -> None:
    hot = document("soak", "1084", "--size", "4x30mm", "--at", "1475F")
    assert hot["soak"]["detail"] == "full"
    assert hot["set_point_C"] == pytest.approx(801.7, abs=0.1)
    assert hot["heat_up"]["what_limits"]["limit"] == "film"
    assert 2.0 < hot["in_air"]["first"]["value"] < hot["in_air"]["last"]["value"] < 30.0
    cold = document("soak", "1084", "--size", "4x30mm", "--at", "1475F", "--ramp", "540F/h")
    assert cold["ramp_K_h"] == pytest.approx(300.0)
    # 782 K at 300 K/h, less the last 10 K
    assert cold["heat_up"]["through"]["value"] == pytest.approx(772.0 / 300.0 * 3600.0, rel=0.02)
    shop = run("soak", "1084", "--size", "4x30mm", "--at", "1475F", "--units", "shop").out
    assert "°F/in" in shop and "Between furnace and tank" in shop
    assert "Between furnace and tank" not in run("soak", "1084", "--size", "4mm", "--at", "650C").out
    assert "The furnace is colder than the work" in " ".join(
        run("soak", "1084", "--size", "4mm", "--at", "10C").out.split()
    )


def test_grades_are_the_table() -> None:
    with (DATA / "grades.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert [grade["designation"] for grade in document("grades")["grades"]] == [row["designation"] for row in rows]
    one = document("grades", "1084")["grades"][0]
    # SAE J403: 0.80 to 0.93 %C
    assert one["limits"]["C"] == {"minimum": 0.80, "maximum": 0.93, "unit": "wt %"}


def test_sources_tell_the_remembered_from_the_seen() -> None:
    with (DATA / "tables" / "formulas.csv").open(encoding="utf-8", newline="") as stream:
        rows = {row["id"]: row for row in csv.DictReader(stream)}
    found = document("sources")
    listed = {formula["id"]: formula for formula in found["formulas"]}
    assert set(listed) <= set(rows) and len(listed) > 40
    assert all(formula["status"] == rows[name]["status"] for name, formula in listed.items())
    assert found["remembered"] == sum(formula["status"] == "memory" for formula in found["formulas"]) > 0
    said = run("sources", "ms_andrews_1965_linear").out
    assert "seen in two places" in said and "The paper was not opened" in " ".join(said.split())


def test_every_publication_is_read() -> None:
    text = (DATA / "bibliography.bib").read_text(encoding="utf-8")
    assert set(bibliography.publications()) == set(re.findall(r"^@\w+\{([^,]+),", text, re.MULTILINE))
    assert all(p.text and p.status for p in bibliography.publications().values())
    assert text.count("  note = ") == sum(bool(p.note) for p in bibliography.publications().values())


def test_choices_are_those_of_the_core() -> None:
    assert tuple(options.Furnace) == tuple(_core.furnace_kinds)
    assert tuple(options.Shape) == tuple(_core.shape_names)


@given(
    words=st.lists(
        st.sampled_from(
            [
                "1095",
                "O1",
                "C=0.9",
                "Mn=x",
                "--at",
                "400F",
                "--target",
                "62",
                "--json",
                "2h",
                "°",
                "--size",
                "4x30mm",
                "--convert",
                "--to",
                "-x",
                "",
            ]
        ),
        max_size=6,
    ),
    command=st.sampled_from(COMMANDS),
)
@settings(max_examples=60, deadline=None)
def test_no_words_make_a_traceback(command: str, words: list[str]) -> None:
    assert run(command, *words).code in (0, 1, 2)


def test_shop_sentences_put_round_fahrenheit_first() -> None:
    """843 and 1066 degC are 1550 and 1950 degF, 28 K are 50 degF: the round numbers the tables were made from."""
    shop = Measures(shop=True)
    assert shop.sentence("between 843 and 1066 °C") == "between 1550 and 1950 °F [843 and 1066 °C]"
    assert shop.sentence("28 K below") == "50 °F [28 K] below"
    assert shop.sentence("15 K off") == "27 °F [15 K] off"
    assert shop.sentence("cool to 66-51 C") == "cool to 150 to 124 °F [66-51 °C]"
    assert shop.sentence("about 14 C higher") == "about 25 °F [14 K] higher"
    assert shop.sentence("+-10 C in the standard") == "±18 °F [10 K] in the standard"
    assert Measures().sentence("cool to 66 C") == "cool to 66 °C"


def test_a_quantity_without_coverage_does_not_raise_the_level() -> None:
    assert process("critical", "1084", "--strict").code == 0
    assert process("critical", "M2", "--strict").code == 1


@pytest.mark.parametrize("grade", ["A2", "D2", "M2", "H13", "S7"])
def test_plans_of_tool_steel_are_judged_by_what_a_smith_works_by(grade: str) -> None:
    assert document("plan", grade)["level"] == dc.plan.make(grade).level != "stop"


def test_published_preheat_and_hold_stand_in_the_plan() -> None:
    said = " ".join(run("plan", "H13", "--size", "25mm", columns=120).out.split())
    assert "preheat 704 to 760 °C published for the grade" in said
    said = " ".join(run("plan", "S7", "--size", "25mm", columns=120).out.split())
    assert "published 15 to 45 min hold, at temperature, 25 mm section" in said
    assert "14 K higher" in run("plan", "M2", columns=120).out


def test_rows_done_can_be_told_where_there_is_no_terminal() -> None:
    with waiting("reading") as told:
        told(5)


def test_a_condition_of_a_medium_stands_in_the_document() -> None:
    air, oil = document("plan", "S7")["quench"]["published"]
    assert (air["name"], air["conditions"], air["thickest_mm"]) == ("air", ["up to 63 mm"], 63.0)
    assert (oil["name"], oil["conditions"], oil["thickest_mm"]) == ("oil", [], None)


def test_loads_print_the_time_they_have_in_common() -> None:
    said = run("inventory", RACK, columns=120).out.split("Hardening loads")[1]
    assert re.search(r"\d °C, \d.* min +\d+ bars: ", said)
    load = max(dc.inventory.evaluate(RACK).harden, key=lambda load: len(load.rows))
    assert load.shortest_s <= load.longest_s


# --- as a process ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("plan", "D2", "--target", "60"), 0),
        (("plan", "O1", "--target", "60HRC", "--strict"), 1),
        (("critical", "1095", "C=0.97", "--json"), 0),
        (("critical", "1059"), 2),
        (("austenitize", "O1", "--at", "1475"), 2),
        (("inventory", "no_such_rack.csv"), 2),
        (("inventory", RACK, "--output", "rack.doc"), 2),
        (("nonsense",), 2),
    ],
)
def test_exit_codes(words: tuple[str, ...], code: int) -> None:
    result = process(*words)
    assert result.code == code, result.err
    assert "Traceback" not in result.err + result.out
    assert (result.err == "") == (code != 2)


def test_help_answers_at_once() -> None:
    times = []
    for _ in range(5):
        start = time.perf_counter()
        assert process("--help").code == 0
        times.append(time.perf_counter() - start)
    assert min(times) < 0.5, times


@pytest.mark.parametrize("words", [("--help",), ("plan", "--help"), ("inventory", "--help")])
def test_help_loads_nothing_heavy(words: tuple[str, ...]) -> None:
    script = (
        "import sys\nfrom decalesce.cli import main\ntry:\n    main()\nfinally:\n"
        "    heavy = {'numpy', 'pandas', 'pint', 'matplotlib', 'pyarrow', 'narwhals', 'scipy'} & set(sys.modules)\n"
        "    print('HEAVY', sorted(heavy))"
    )
    done = subprocess.run([sys.executable, "-c", script, *words], capture_output=True, text=True, check=True)
    assert "HEAVY []" in done.stdout
