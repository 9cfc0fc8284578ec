"""What is typed: units on the edge and the steel.

Conversions of units are checked against NIST SP 811 (degF = 1.8 degC + 32, 1 in = 25.4 mm), hardness against ASTM E140.
"""

import math

import pytest
import typer
from hypothesis import given, settings
from hypothesis import strategies as st

import decalesce as dc
from cli_runs import document, run
from decalesce.cli import arguments
from decalesce.cli.measures import Measures

# --- units on the edge ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("call", "fix"),
    [
        (("austenitize", "O1", "--at", "1475"), "'--at': '1475' has no unit; write 1475F if it is Fahrenheit, 1475C"),
        (("temper", "O1", "--at", "400"), "write 400F if it is Fahrenheit, 400C if it is Celsius"),
        (("temper", "O1", "--at", "400F", "--for", "2"), "write 2min or 2h"),
        (("temper", "O1", "--at", "400F", "--swing", "27"), "it is a difference, so 27F are 15K"),
        (("temper", "--convert", "400", "2h"), "'--convert': '400' has no unit"),
        (("temper", "--convert", "400F", "2h", "--to", "1"), "write 1h or 1min for a time, 1F or 1C for a temperature"),
        (("plan", "O1", "--thickness", "4.8"), "write 4.8mm or 4.8in"),
        (("plan", "O1", "--size", "4x30"), "write 4x30mm or 4x30in"),
        (("plan", "O1", "--thickness", "3/16"), "write 3/16mm or 3/16in"),
    ],
)
def test_bare_numbers_are_refused_with_the_fix(call: tuple[str, ...], fix: str) -> None:
    result = run(*call)
    assert result.code == 2 and result.out == ""
    assert fix in result.err


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (("austenitize", "O1", "--at", "4mm"), "'--at': '4mm' is no temperature; expected one such as 1475F"),
        (("austenitize", "O1", "--at", "-300C"), "'-300C' is below absolute zero; expected one such as 1475F"),
        (("plan", "O1", "--thickness", "800C"), "'--thickness': '800C' is no length; expected one such as 4.8mm"),
        (("plan", "O1", "--thickness", "0mm"), "'0mm' is no length above zero"),
        (("plan", "O1", "--temper-time", "0h"), "'0h' is no time above zero"),
        (("plan", "O1", "--target", "99HRC"), "'99HRC' lies off the Rockwell C scale; expected 20 to 68 HRC"),
        (("plan", "O1", "--target", "62HRB"), "'62HRB' is on no known scale; expected one such as 62HRC"),
        (("plan", "O1", "--size", "4x"), "'4x' lacks a length beside an x; expected a size such as 4x30mm"),
        (("plan", "O1", "--size", "x30mm"), "'x30mm' lacks a length beside an x; expected a size such as 4x30mm"),
        (("plan", "O1", "--units", "imperial"), "expected metric (°C and mm) or shop (°F and inch)"),
        (("critical", "Mn="), "'Mn=' holds no amount; expected wt %, such as Mn=0.40"),
        (("critical", "=", "0.4"), "'=0.4' is no amount; expected an element and wt %, such as Mn=0.40"),
        (("plan", "O1", "--size", "1x2x3x4mm"), "more than three lengths; expected a size such as 4x30mm"),
        (("plan", "O1", "--size", "4x30mm", "--thickness", "4mm"), "give one of them"),
        (("plan", "O1", "--width", "30mm"), "add --thickness 4mm, or --size 4x30mm"),
        (("soak", "O1", "--size", "4mm", "--ramp", "300/h"), "'300' has no unit; write 300F"),
        (("soak", "O1", "--size", "4mm", "--ramp", "300C"), "write it as 300C/h"),
        (("soak", "O1", "--size", "4mm", "--at", "1475"), "write 1475F if it is Fahrenheit"),
        (("soak", "O1"), "a soak depends on the section; add --size 4x30mm"),
        (("temper", "O1"), "ask one thing: --at 400F (hardness), --target 60HRC (temperature)"),
        (("temper", "--at", "400F"), "name it, such as decalesce temper 1095 --at 400F"),
        (("temper", "O1", "--at", "400F", "--target", "60"), "--at and --target given; ask one thing"),
        (("temper", "O1", "--target", "60", "--swing", "27F"), "use it with --at"),
        (("temper", "O1", "--at", "400F", "--to", "1h"), "--to belongs to --convert"),
        (("temper", "--convert", "400F", "2h", "--to", "1h", "--constant", "carbon"), "add C=0.95 or a grade"),
        (("temper", "--convert", "400F", "2h", "--to", "1h", "--constant", "2"), "expected the constant for hours"),
    ],
)
def test_what_cannot_be_used_ends_with_two_and_a_sentence(call: tuple[str, ...], said: str) -> None:
    result = run(*call)
    assert result.code == 2 and result.out == ""
    assert said in result.err


def test_temperatures_and_differences_are_not_mixed() -> None:
    assert arguments.temperature("27F") == pytest.approx((27 - 32) / 1.8)
    assert arguments.difference("27F") == pytest.approx(15.0)
    assert arguments.difference("15K") == arguments.difference("15C") == 15.0
    shop = Measures(shop=True)
    assert shop.difference(15.0) == "27 °F"
    assert shop.temperature(15.0) == "59 °F"


def test_swing_widens_the_band_as_a_difference() -> None:
    given_F, given_K, none = (
        document("temper", "1095", "--at", "400F", *swing)["answer"]["hardness"]
        for swing in (("--swing", "27F"), ("--swing", "15K"), ())
    )
    assert (given_F["low"], given_F["high"]) == pytest.approx((given_K["low"], given_K["high"]))
    assert given_F["value"] == none["value"]
    assert given_F["high"] - given_F["low"] > none["high"] - none["low"]


@pytest.mark.parametrize(
    ("text", "lengths"),
    [
        ("4x30mm", (4.0, 30.0)),
        ("3/16inx1-1/2in", (4.7625, 38.1)),
        ("3/16 x 1-1/2in", (4.7625, 38.1)),
        ("4mm x 1in", (4.0, 25.4)),
        ("4,8mm", (4.8,)),
        ("2x3x10mm", (2.0, 3.0, 10.0)),
    ],
)
def test_sizes(text: str, lengths: tuple[float, ...]) -> None:
    assert arguments.size(text).lengths_mm == pytest.approx(lengths)


def test_hardness_is_read_on_its_scale() -> None:
    assert arguments.hardness("62") == arguments.hardness("62HRC") == 62.0
    assert arguments.wanted("62") == dc.scales.wanted(62)
    # ASTM E140 table 1 prints 62 HRC beside 746 HV
    assert arguments.hardness("746HV") == pytest.approx(62.0)


@pytest.mark.parametrize("read", [arguments.temperature, arguments.difference, arguments.time, arguments.length])
@given(text=st.text(max_size=12) | st.from_regex(r"[-+]?[0-9./, x-]{1,6} ?[a-zA-Z°\"]{0,4}", fullmatch=True))
@settings(max_examples=300, deadline=None)
def test_any_text_is_a_number_or_refused(read: object, text: str) -> None:
    assert callable(read)
    try:
        assert math.isfinite(read(text))
    except typer.BadParameter as refusal:
        assert repr(text) in refusal.message


def test_shop_units_convert_temperatures_and_lengths_in_sentences() -> None:
    shop = Measures(shop=True)
    assert shop.sentence("Anneal at 760 to 788 °C.") == "Anneal at 1400 to 1450 °F [760 to 788 °C]."
    assert shop.sentence("stay 28 K below") == "stay 50 °F [28 K] below"
    assert shop.sentence("-84 degC") == "-120 °F [-84 °C]"
    assert shop.sentence("25 mm thick") == "0.98 in [25 mm] thick"
    # a difference that is written in degC stays as it is
    assert shop.sentence("the last 10 degC") == "the last 10 °C"
    assert Measures().sentence("200 to 370 degC") == "200 to 370 °C"


def test_times_are_said_as_a_shop_says_them() -> None:
    said = {45.0: "45 s", 90.0: "1.5 min", 3600.0: "1 h", 5400.0: "90 min", 7200.0: "2 h", 9000.0: "2 h 30 min"}
    assert {seconds: Measures().time(seconds) for seconds in said} == said
    assert Measures().times(300.0, 600.0) == "5 to 10 min"
    assert Measures().time(math.nan) == Measures().temperature(math.nan) == "no answer"


def test_document_is_metric_whatever_is_printed() -> None:
    assert document("critical", "1095", "--units", "shop") == document("critical", "1095")
    ac1 = document("critical", "1095")["critical"]["ac1"]["value"]
    assert f"{ac1 * 1.8 + 32:.0f} °F" in run("critical", "1095", "--units", "shop").out


# --- the steel ------------------------------------------------------------------------------------------------------


def test_amounts_win_over_the_grade() -> None:
    amounts = document("critical", "1095", "C=0.97")["steel"]["amounts"]
    assert amounts["C"] == {"value": 0.97, "half_width": pytest.approx(0.005), "unit": "wt %", "status": "measured"}
    assert amounts["Mn"]["status"] == "filled" and amounts["Mn"]["half_width"] > 0.05
    assert document("critical", "C=0.97", "1095") == document("critical", "1095", "C=0.97")


def test_amounts_are_read_as_certificates_are() -> None:
    found = document("critical", "C=0,95", "N=62ppm", "V=<0.01", "Mn=0.40±0.02", "Si=0")["steel"]
    amounts = found["amounts"]
    assert amounts["C"]["value"] == 0.95
    assert amounts["N"]["value"] == pytest.approx(0.0062)
    assert amounts["V"] == {"value": 0.005, "half_width": 0.005, "unit": "wt %", "status": "below_limit"}
    assert amounts["Mn"]["half_width"] == pytest.approx(0.02)
    assert "Si" not in amounts, "zero silicon means not stated"
    assert any("Si=0" in doubt["sentence"] and doubt["level"] == "caution" for doubt in found["doubts"])


@pytest.mark.parametrize("words", [("Mn", "=", "0.4"), ("Mn=", "0.4"), ("Mn", "=0.4"), ("Mn = 0.4",)])
def test_blanks_round_the_equals_sign_do_no_harm(words: tuple[str, ...]) -> None:
    assert document("critical", "1095", *words, "C=0.97") == document("critical", "1095", "Mn=0.4", "C=0.97")


def test_a_name_of_several_words_needs_no_quotes() -> None:
    assert document("critical", "AISI", "1084")["steel"]["grade"]["designation"] == "1084"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("1059",), "unknown grade '1059'; near: 1050, 1055, 1095"),
        (("Xx=3",), "'Xx' is no element"),
        (("1095", "C=a"), "'C=a' holds no usable amount; expected wt %"),
        (("C=0.9", "C=1.0"), "C is given twice"),
        (("Cr=99",), "more than 60 %"),
        (("Si=0",), "no steel was given"),
    ],
)
def test_unusable_steels_are_refused(words: tuple[str, ...], said: str) -> None:
    result = run("critical", *words)
    assert result.code == 2
    assert said in result.err


def test_a_nearest_grade_is_a_caution() -> None:
    # AFNOR 100C6 is near 100Cr6 of EN ISO 683-17, not equal to it
    result = run("grades", "100C6", "--json", "--strict")
    assert result.code == 1
    assert result.document["match"] == {"asked": "100C6", "grade": "100Cr6", "relation": "nearest"}
    assert "nearest to it, not equal" in run("critical", "100C6").out
