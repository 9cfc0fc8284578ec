"""How values of the package behave in a notebook: made, compared, printed and completed."""

import re
from typing import Any

import numpy as np
import pytest

import decalesce as dc
from cli_runs import run
from decalesce.cli.measures import Measures

RACK = b"piece;grade;C;Mn;Si\nA1;1095;0.95;0.40;0.20\n"


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"grade": "1095"}, r"grade = '1095'; expected a Grade, such as decalesce\.grades\.find"),
        ({"certificate": {"C": 0.95}}, r"certificate = .*; expected a Composition"),
        ({"grade": dc.grades.find("1095"), "section": "4mm"}, r"section = '4mm'; expected a Section"),
    ],
)
def test_a_bar_names_what_it_cannot_take(given: dict[str, Any], said: str) -> None:
    with pytest.raises(TypeError, match=said):
        dc.Bar(**given)


def test_evaluations_compare_and_print_short() -> None:
    one, again = dc.inventory.evaluate(RACK), dc.inventory.evaluate(RACK)
    assert one == again
    assert one != dc.inventory.evaluate(RACK.replace(b"0.95", b"0.96"))
    assert one != dc.inventory.evaluate(RACK + b"A2;1095;0.95;0.40;0.20\n")
    assert one != "a rack"
    assert repr(one).startswith("<Evaluation of 1 rows: ") and len(repr(one)) < 200


def test_published_answers_of_a_batch_compare() -> None:
    w = dc.Composition(C=np.array([0.9, np.nan]), Mn=np.array([0.4, 0.4]))
    one = dc.published.evaluate("ms_andrews_1965_linear", w)
    assert one == dc.published.evaluate("ms_andrews_1965_linear", w)
    assert one != dc.published.evaluate("ms_andrews_1965_linear", dc.Composition(C=np.array([0.9, 1.0])))


def test_rooms_are_listed_before_they_are_loaded() -> None:
    assert set(dc.__all__) <= set(dir(dc))


def test_the_temper_error_shows_what_exists() -> None:
    w = dc.Composition(C=0.95, Mn=0.40)
    with pytest.raises(TypeError) as problem:
        dc.temper.hardness(w, ("200C", "2h"))
    named = re.findall(r"decalesce((?:\.\w+)+)", str(problem.value))
    assert ".austenite.dissolve" in named
    for path in named:
        found: Any = dc
        for name in path.split(".")[1:]:
            found = getattr(found, name)
    assert isinstance(dc.austenite.dissolve(w, dc.hold(800, 600)), dc.Austenite)


def test_a_users_own_text_is_not_converted() -> None:
    said = Measures(shop=True).sentence('PH-07: size "6 x 50 x 1 050 mm": Read 25.4 mm; note "3/16" x 50 mm": 800 °C')
    assert said == 'PH-07: size "6 x 50 x 1 050 mm": Read 1.00 in [25.4 mm]; note "3/16" x 50 mm": 1472 °F [800 °C]'


def test_a_rack_takes_a_target_as_a_plan_does() -> None:
    """ASTM E140 table 1: 746 HV is 62 HRC."""
    for target in (62, "62HRC", "746HV"):
        assert dc.inventory.evaluate(RACK, target=target).results["target_used_HRC"][0] == 62.0
    for target in (620, -5, "62", "hard"):
        with pytest.raises(ValueError, match=f"target = {target!r} .*expected a hardness from 20 to 68 HRC"):
            dc.inventory.evaluate(RACK, target=target)
        with pytest.raises(ValueError, match="target = "):
            next(iter(dc.inventory.evaluate_blocks(RACK, target=target)))


def test_a_source_is_found_however_its_key_is_typed() -> None:
    wanted = run("sources", "Andrews1965")
    assert wanted.code == 0 and "Andrews1965" in wanted.out
    assert run("sources", "andrews1965") == wanted
    assert run("sources", "AC1_ANDREWS_1965") == run("sources", "ac1_andrews_1965")


def test_no_answer_prints_without_a_sign() -> None:
    assert repr(dc.critical.temperatures(dc.Composition(C=9.5)).ms).startswith("Estimate(nan degC")
