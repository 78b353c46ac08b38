"""Lengths, feeds, angles and the like: read as people type them, printed as people read them.

A number may be written with a point or a comma (both are decimal signs), with spaces between groups
of three digits, as a fraction (5/8, 5 1/2, 5½), and with a unit behind it. Exponents are refused:
nobody writes a length that way, and a slip of the hand must not become a million.
"""

import math
import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from core.errors import BadValue

#: Characters of the longest text taken for a number: any float64 in full digits, and a unit.
LONGEST_NUMBER = 400
#: In any unit. More is no size of anything on a bench; it keeps what follows within float64.
LARGEST_NUMBER = 10**12


@dataclass(frozen=True)
class Measure:
    """A number in the inside unit of its family, and the text that a person typed for it."""

    value: float
    typed: str


@dataclass(frozen=True)
class Unit:
    """One way to write a unit; a number times factor is the number in the family's inside unit."""

    factor: float | Fraction
    spellings: tuple[str, ...]

    def inside(self, number: Fraction) -> float:
        """The number in the inside unit, rounded once."""
        return float(number * self.factor)


@dataclass(frozen=True)
class Family:
    """What can be measured in the same units; the first unit is meant when none is written.

    noun and example stand in sentences: "'abc' is no length; write it like 118 mm".
    """

    noun: str
    example: str
    units: tuple[Unit, ...]

    @property
    def bare_unit(self) -> str:
        """The unit of a number that stands alone."""
        return self.units[0].spellings[0]

    def unit_named(self, spelling: str) -> Unit | None:
        """The unit written so, upper or lower case and spaces aside, or None."""
        wanted = spelling.replace(" ", "").lower()
        if not wanted:
            return self.units[0]
        return next((unit for unit in self.units if wanted in unit.spellings), None)

    def no_such(self, text: str) -> BadValue:
        """The error for text that is nothing of this family."""
        return BadValue(f"'{text}' is no {self.noun}; write it like {self.example}")


_INCH = Fraction("25.4")
_MINUTE = Fraction(60)

LENGTH = Family(
    "length",
    '118, 118 mm, 152,4 mm, 4 5/8 in or 4.625"',
    (
        Unit(Fraction(1), ("mm", "millimeter", "millimetre", "millimeters", "millimetres")),
        Unit(_INCH, ("in", "in.", '"', "inch", "inches", "''")),
        Unit(Fraction(10), ("cm",)),
        Unit(Fraction(1000), ("m",)),
        Unit(Fraction(1_000_000), ("km",)),
        Unit(Fraction("0.001"), ("µm", "um")),
        Unit(_INCH / 1000, ("thou",)),
        Unit(_INCH * 12, ("ft", "'", "foot", "feet")),
    ),
)
AREA = Family(
    "area",
    "0.5 or 0.5 mm2",
    (
        Unit(Fraction(1), ("mm2", "mm^2", "sqmm")),
        Unit(Fraction(100), ("cm2", "cm^2")),
        Unit(Fraction(1_000_000), ("m2", "m^2")),
        Unit(_INCH**2, ("in2", "in^2", "sqin")),
    ),
)
FEED = Family(
    "feed",
    "400 mm/min, 8 mm/s or 16 in/min",
    (
        Unit(Fraction(1), ("mm/min", "mm/minute", "mmpm")),
        Unit(_MINUTE, ("mm/s", "mm/sec")),
        Unit(_INCH, ("in/min", '"/min', "ipm", "inch/min")),
        Unit(_INCH * _MINUTE, ("in/s", '"/s', "ips")),
        Unit(Fraction(1000), ("m/min",)),
        Unit(1000 * _MINUTE, ("m/s",)),
    ),
)
ANGLE = Family(
    "angle",
    "2.5, 2.5 deg or 2.5°",
    (
        Unit(math.pi / 180.0, ("deg", "°", "degree", "degrees")),
        Unit(Fraction(1), ("rad",)),
    ),
)
SPEED = Family(
    "spindle speed",
    "10000 or 10 000 rpm",
    (
        Unit(Fraction(1), ("rpm", "1/min", "rev/min", "u/min")),
        Unit(Fraction(1000), ("krpm",)),
    ),
)
TIME = Family(
    "time",
    "5, 5 s or 500 ms",
    (
        Unit(Fraction(1), ("s", "sec", "second", "seconds")),
        Unit(Fraction("0.001"), ("ms",)),
        Unit(_MINUTE, ("min", "minute", "minutes")),
    ),
)
ACCELERATION = Family(
    "acceleration",
    "50 or 50 mm/s2",
    (
        Unit(Fraction(1), ("mm/s2", "mm/s^2", "mm/sec2", "mm/sec^2")),
        Unit(Fraction(1000), ("m/s2", "m/s^2")),
        Unit(_INCH, ("in/s2", "in/s^2")),
    ),
)
PERCENT = Family(
    "percentage",
    "80 or 80 %",
    (Unit(Fraction(1, 100), ("%", "percent")),),
)

#: What keyboards, phones and word processors make of the signs that we know.
_SAME_SIGN = str.maketrans(
    {
        **dict.fromkeys("\u2033\u201d\u201c\u201f\uff02", '"'),
        **dict.fromkeys("\u2032\u2019\u2018\u00b4`", "'"),
        **dict.fromkeys("\u00a0\u2009\u202f\u2007\t", " "),
        **dict.fromkeys("\u2212\u2013\ufe63\uff0d", "-"),
        **dict.fromkeys("\u2044\u2215", "/"),
        **dict.fromkeys("\u00d7\u2715", "x"),
        "\u00b2": "2",
        "\u00ba": "\u00b0",
        "\u03bc": "\u00b5",
    }
)
_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5",
    "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_WHOLE = r"[0-9]{1,3}(?:\ [0-9]{3})+|[0-9]+"
_NUMBER = re.compile(
    rf"""(?P<sign>[+-]?)\s*
    (?: (?:(?P<whole>{_WHOLE})(?:\ +|-))? (?P<over>[0-9]+)\ */\ *(?P<under>[0-9]+)
      | (?P<decimal>(?:{_WHOLE})(?:[.,][0-9]*)? | [.,][0-9]+) )
    (?P<unit>.*)""",
    re.VERBOSE | re.DOTALL,
)


def plain_signs(text: str) -> str:
    """The text with look-alike signs made one (quotes, spaces, dashes, crosses, ½), trimmed at both ends."""
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    return text.translate(_SAME_SIGN).strip()


def parsed(text: str, family: Family) -> Measure:
    """What the text says, in the family's inside unit (mm, mm2, mm/min, rad, rpm, s, mm/s2).

    Raises BadValue, in words, for anything that is no finite number with one of the family's units.
    """
    if not text.strip():
        raise BadValue(f"the {family.noun} is missing; write it like {family.example}")
    if len(text) > LONGEST_NUMBER:
        raise family.no_such(text[:40] + "…")
    found = _NUMBER.fullmatch(plain_signs(text))
    unit = family.unit_named(found["unit"]) if found else None
    number = _number(found) if found else None
    if unit is None or number is None:
        raise family.no_such(text)
    return Measure(unit.inside(number), text.strip())


def _number(found: re.Match[str]) -> Fraction | None:
    """The number that was matched; None where it divides by nothing or is beyond all measure."""
    if found["decimal"]:
        size = Fraction(found["decimal"].replace(" ", "").replace(",", "."))
    elif int(found["under"]):
        size = Fraction(int(found["over"]), int(found["under"])) + _whole(found["whole"])
    else:
        return None
    if size > LARGEST_NUMBER:
        return None
    return -size if found["sign"] == "-" else size


def _whole(text: str | None) -> int:
    return int(text.replace(" ", "")) if text else 0


def printed(value: float, family: Family, spelling: str = "", decimals: int | None = None) -> str:
    """The inside value in one of the family's units, with a point and without an exponent.

    With decimals None every digit is printed, and in the family's bare unit, where that is the
    inside unit too, parsed() gives the same value back to the last bit.
    """
    unit = family.unit_named(spelling)
    if unit is None:
        raise family.no_such(spelling)
    return f"{in_digits(value / float(unit.factor), decimals)} {unit.spellings[0]}"


def in_digits(number: float, decimals: int | None = None) -> str:
    """The number as plain digits, no exponent, no zeros at the end, never -0."""
    exact = repr(float(number)) if decimals is None else f"{number:.{decimals}f}"
    digits = format(Decimal(exact), "f")
    if "." in digits:
        digits = digits.rstrip("0").rstrip(".")
    return "0" if digits == "-0" else digits


def measured(value: float, family: Family) -> Measure:
    """The Measure of an inside value that a hand dragged or a program set: typed in full digits."""
    return parsed(printed(value, family), family)
