"""What the commands share on the command line, and what a page says beside its numbers."""

import pytest

import decalesce as dc
from cli_runs import document, run


def test_version() -> None:
    said = run("--version")
    assert (said.code, said.out) == (0, f"decalesce {dc.__version__}\n")
    assert "--version" in run("--help").out


def test_a_plan_says_what_gave_the_temper_and_what_must_be_known() -> None:
    """440C is tempered at 150 to 370 degC (ASM Handbook vol. 4, from memory)."""
    said = " ".join(run("plan", "440C", "--target", "653HV", columns=120).out.split())
    assert "by the grade's published temper range" in said
    assert "653HV is read as 58" in said and "Published temper range of 440C, 150 to 370 °C" in said
    temper = document("plan", "440C", "--target", "653HV")["temper"]
    assert temper["used"] == "published range" and len(temper["notes"]) == 2
    table = " ".join(run("plan", "M2", "--target", "64HRC", columns=120).out.split())
    assert "by the grade's published table" in table and "Published table of M2" in table
    read = " ".join(run("temper", "O1", "--target", "697HV", columns=120).out.split())
    assert "Temper for 60 HRC" in read and "697HV is read as 60.0 HRC" in read


def test_a_size_that_no_bar_has_is_a_stop() -> None:
    result = run("plan", "1095", "--size", "5m", "--strict")
    assert result.code == 1 and "No bar or die block is this thick" in " ".join(result.out.split())
    assert "5000 mm" in result.out and document("plan", "1095", "--size", "5m")["level"] == "stop"


def test_sources_count_the_remembered_ranges() -> None:
    found = document("sources")
    count = sum(f["range_from_memory"] and f["status"] != "memory" for f in found["formulas"])
    assert found["range_remembered"] == count > 0
    assert f"seen, but the range remembered: {count}" in run("sources", columns=120).out
    one = run("sources", "ms_andrews_1965_linear", columns=120).out
    assert "seen, but the range remembered: 1" in one and "(remembered)" in one


def test_commands_declare_only_what_is_their_own() -> None:
    """Options that belong together stand in one bundle; what the command line shows is the options."""
    for name in ("critical", "soak", "austenitize", "temper", "plan", "grades"):
        said = run(name, "--help").out
        assert all(option in said for option in ("--json", "--units metric|shop", "--strict"))
        assert ("--thickness" in said) == (name in ("soak", "plan"))
    assert "--strict" not in run("sources", "--help").out


@pytest.mark.parametrize("designation", ["410", "420"])
def test_stainless_with_one_limit_of_carbon_is_not_told_that_it_does_not_harden(designation: str) -> None:
    """ASTM A276 gives 410 no least and 420 no highest carbon; both are martensitic (EN 10088-3, from memory)."""
    assert "martensitic stainless steel" in run("plan", designation).out
    assert document("plan", designation)["steel"]["family"] == "martensitic_stainless"
    soft = document("plan", "C=0.02", "Cr=13")["steel"]
    assert soft["family"] == "austenitic_other"
