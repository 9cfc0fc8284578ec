"""Numbers in words: metric or shop units, temperatures as temperatures and differences as differences.

Inside, everything is degC, K, s and mm. Only this module turns them into what is printed, and a number that is not
there is never printed as one: it reads "no answer".
"""

import re
from dataclasses import dataclass
from decimal import Decimal
from math import isfinite, isnan
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decalesce._core import Estimate

NO_ANSWER = "no answer"

_KELVIN_PER_FAHRENHEIT = 1.8
_FREEZING_F = 32.0
_MM_PER_INCH = 25.4
_MINUTE_S = 60.0
_HOUR_S = 3600.0

_ONE = r"-?\d+(?:\.\d+)?"
_RUN = rf"{_ONE}(?:(?: to | and | or |-|–){_ONE})?"
#: "the last 10 degC" speaks of a difference, so it is left as written.
_TEMPERATURE = re.compile(rf"(?<!last )(?<![\d.-])({_RUN}) ?°C")
#: "+-10 °C" and "14 °C higher" are differences, whatever their unit says.
_TOLERANCE = re.compile(rf"(?:\+-|±) ?({_ONE}) ?°C")
_COMPARED = re.compile(rf"(?<![\d.-])({_ONE}) ?°C (?=higher|lower|hotter|cooler)")
_BARE_CELSIUS = re.compile(r"(?<=\d) C\b")
#: Tables printed in degF keep their round numbers: the roundest number within half a kelvin is taken.
_ROUND_F = (25.0, 10.0, 5.0)
_HALF_KELVIN_F = 0.9
_DIFFERENCE = re.compile(rf"(?<![\d.-])({_RUN}) K\b")
_LENGTH = re.compile(rf"(?<![\d.-])({_RUN}) mm\b")
#: What a user wrote, quoted in a sentence; it may hold inch marks of its own.
_QUOTED = re.compile(r'((?:(?<=\s)|^)".*?"(?=: |, |[.;)]|$))')
_JOINED = re.compile(rf"(?<=\d)-(?={_ONE})")


def fahrenheit(celsius: float) -> float:
    """A temperature in degF."""
    return celsius * _KELVIN_PER_FAHRENHEIT + _FREEZING_F


def fahrenheit_difference(kelvin: float) -> float:
    """A difference of temperature in degrees of Fahrenheit: 15 K are 27."""
    return kelvin * _KELVIN_PER_FAHRENHEIT


def amount_in_words(value: float, digits: int) -> str:
    """An amount with so many digits that count, never in powers of ten."""
    return f"{Decimal(f'{value:.{digits}g}'):f}"


def _plain(value: float, digits: int) -> str:
    """A number without a minus before zero."""
    text = f"{value:.{digits}f}"
    return text.removeprefix("-") if not float(text) else text


@dataclass(frozen=True, slots=True)
class Measures:
    """How numbers are printed: ``shop`` (degF, inch) or metric (degC, mm); times are minutes and hours in both."""

    shop: bool = False

    def temperature(self, celsius: float) -> str:
        """One temperature with its unit."""
        if isnan(celsius):
            return NO_ANSWER
        return f"{self._temperature(celsius)} {self.degree}"

    def temperatures(self, low_C: float, high_C: float) -> str:
        """A range of temperatures; one temperature where both ends are the same."""
        if isnan(low_C) or isnan(high_C):
            return NO_ANSWER
        low, high = self._temperature(low_C), self._temperature(high_C)
        return f"{low} {self.degree}" if low == high else f"{low} to {high} {self.degree}"

    def difference(self, kelvin: float) -> str:
        """A difference of temperature with its unit."""
        if isnan(kelvin):
            return NO_ANSWER
        return f"{_plain(fahrenheit_difference(kelvin), 0)} °F" if self.shop else f"{_plain(kelvin, 0)} K"

    def length(self, millimetres: float) -> str:
        """A length with its unit."""
        if isnan(millimetres):
            return NO_ANSWER
        number, unit = (millimetres / _MM_PER_INCH, "in") if self.shop else (millimetres, "mm")
        # three digits, and no power of ten however thick it is
        return f"{number:.3g} {unit}" if number < 1000.0 else f"{number:.0f} {unit}"

    def time(self, seconds: float) -> str:
        """A time with its unit: seconds below a minute, minutes below two hours, then hours and minutes."""
        if isnan(seconds):
            return NO_ANSWER
        if not isfinite(seconds):
            return "beyond all measure"
        minutes = seconds / _MINUTE_S
        if seconds < _MINUTE_S:
            return f"{seconds:.1f} s" if seconds < 10 else f"{seconds:.0f} s"
        if seconds < 2 * _HOUR_S and round(seconds) != _HOUR_S:
            return f"{minutes:.1f}".removesuffix(".0") + " min" if minutes < 10 else f"{minutes:.0f} min"
        hours, rest = divmod(round(minutes), 60)
        return f"{hours} h {rest} min" if rest and hours < 24 else f"{hours} h"

    def times(self, low_s: float, high_s: float) -> str:
        """A range of times; one time where both ends are printed alike."""
        (low, unit), (high, high_unit) = self.time(low_s).split(" ", 1), self.time(high_s).split(" ", 1)
        if unit != high_unit:
            return f"{low} {unit} to {high} {high_unit}"
        return f"{low} {unit}" if low == high else f"{low} to {high} {unit}"

    def value(self, estimate: "Estimate") -> str:
        """The value of an estimate with its unit."""
        return self._in_unit(estimate.value, estimate.unit)

    def band(self, estimate: "Estimate") -> str:
        """The band of an estimate as ``708 to 745``, without the unit where it is that of the value."""
        low, high = estimate.low, estimate.high
        if isnan(estimate.value) or isnan(low) or isnan(high):
            return ""
        (number, unit), (end, end_unit) = (self._in_unit(e, estimate.unit).split(" ", 1) for e in (low, high))
        return f"{number} to {end}" if unit == end_unit else f"{number} {unit} to {end} {end_unit}"

    def sentence(self, text: str) -> str:
        """A sentence of the library; in shop units the metric number stands in brackets behind the converted one.

        Text in double quotes is somebody's own and stays as it is.
        """
        parts = _QUOTED.split(text)
        return "".join(part if i % 2 else self._said(part) for i, part in enumerate(parts))

    def _said(self, text: str) -> str:
        said = _BARE_CELSIUS.sub(" °C", text.replace("degC", "°C").replace("degF", "°F"))
        said = _COMPARED.sub(r"\1 K ", _TOLERANCE.sub(r"±\1 K", said))
        if not self.shop:
            return said
        said = _TEMPERATURE.sub(lambda m: f"{_each(m[1], _round_fahrenheit, 0)} °F [{m[0]}]", said)
        said = _DIFFERENCE.sub(lambda m: f"{_each(m[1], _round_difference, 0)} °F [{m[0]}]", said)
        return _LENGTH.sub(lambda m: f"{_each(m[1], _inch, 2)} in [{m[0]}]", said)

    @property
    def degree(self) -> str:
        """The degree that temperatures are printed in."""
        return "°F" if self.shop else "°C"

    def _temperature(self, celsius: float) -> str:
        return _plain(fahrenheit(celsius) if self.shop else celsius, 0)

    def _in_unit(self, value: float, unit: str) -> str:
        if isnan(value):
            return NO_ANSWER
        match unit:
            case "degC":
                return self.temperature(value)
            case "K":
                return self.difference(value)
            case "s":
                return self.time(value)
            case "HRC":
                return f"{_plain(value, 1)} HRC"
            case "wt %":
                return f"{_plain(value, 2)} wt %"
            case "fraction":
                return f"{_plain(value * 100.0, 0)} %"
            case _:
                return f"{value:.4g} {unit}"


def _rounded(fahrenheit_degrees: float) -> float:
    """The round number that the metric one was converted from, where one lies within half a kelvin."""
    for step in _ROUND_F:
        nearest = step * round(fahrenheit_degrees / step)
        if abs(nearest - fahrenheit_degrees) <= _HALF_KELVIN_F and nearest:
            return nearest
    return fahrenheit_degrees


def _round_fahrenheit(celsius: float) -> float:
    return _rounded(fahrenheit(celsius))


def _round_difference(kelvin: float) -> float:
    return _rounded(fahrenheit_difference(kelvin))


def _inch(millimetres: float) -> float:
    return millimetres / _MM_PER_INCH


def _each(run: str, convert: "object", digits: int) -> str:
    assert callable(convert)
    return re.sub(_ONE, lambda m: _plain(convert(float(m[0])), digits), _JOINED.sub(" to ", run))
