"""What people type, against what it is worth, and print against parse."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BadValue
from core.units import (
    ACCELERATION,
    ANGLE,
    AREA,
    FEED,
    LENGTH,
    PERCENT,
    SPEED,
    TIME,
    in_digits,
    measured,
    parsed,
    printed,
)

FAMILIES = (LENGTH, AREA, FEED, ANGLE, SPEED, TIME, ACCELERATION, PERCENT)
BARE_IS_INSIDE = (LENGTH, AREA, FEED, SPEED, TIME, ACCELERATION)
NUMBERS = st.floats(min_value=-1e7, max_value=1e7, allow_nan=False, allow_subnormal=False)


@pytest.mark.parametrize(
    ("typed", "millimetres"),
    [
        ("118", 118.0),
        ("118mm", 118.0),
        (" 118 MM ", 118.0),
        ("152,4 mm", 152.4),
        ("4 5/8 in", 117.475),
        ("4-5/8 in", 117.475),
        ('4.625"', 117.475),
        ("4⅝ in", 117.475),
        ("4 ⅝″", 117.475),
        ("6 in", 152.4),
        ("6”", 152.4),
        ("6''", 152.4),
        ("5 1/2 in", 139.7),
        ("5½ inches", 139.7),
        ("½ in", 12.7),
        ("0.08in", 2.032),
        (".5", 0.5),
        (",5", 0.5),
        ("5.", 5.0),
        ("11.8 cm", 118.0),
        ("1 km", 1_000_000.0),
        ("2 m", 2000.0),
        ("1 000", 1000.0),
        ("1\u202f000,5", 1000.5),
        ("−3 mm", -3.0),  # noqa: RUF001 - the sign that word processors make of a hyphen
        ("+3", 3.0),
        ("1 ft", 304.8),
        ("5⁄8 in", 15.875),  # noqa: RUF001 - the fraction slash is what is tried
    ],
)
def test_a_length_is_worth_what_was_typed(typed, millimetres):
    assert parsed(typed, LENGTH).value == millimetres
    assert parsed(typed, LENGTH).typed == typed.strip()


@pytest.mark.parametrize(
    "typed",
    [
        "abc",
        "nan",
        "inf",
        "-inf",
        "1e3",
        "1e-1 mm",
        "0x10",
        "5/0",
        "5 1/2/3",
        "5 5",
        "1 00",
        "5..",
        ".",
        "-",
        "/",
        "\u0661",
        "5 mm mm",
        "mm",
        "5 lb",
        "5;6",
        "5,5,5",
        "1.000,5",
        "--5",
        "5 -",
        "9" * 14,
        "9" * 399,
        "9" * 401,
        "1\x00",
        "5 mm\n6",
    ],
)
def test_what_is_no_length_is_refused_with_an_example(typed):
    with pytest.raises(BadValue, match="is no length; write it like 118"):
        parsed(typed, LENGTH)


@pytest.mark.parametrize("typed", ["", " ", "\t\n"])
def test_nothing_typed_is_said_to_be_missing(typed):
    with pytest.raises(BadValue, match="length is missing"):
        parsed(typed, LENGTH)


@pytest.mark.parametrize(
    ("typed", "family", "inside"),
    [
        ("400", FEED, 400.0),
        ("8 mm/s", FEED, 480.0),
        ("16 in/min", FEED, 406.4),
        ("16 ipm", FEED, 406.4),
        ("10 000 rpm", SPEED, 10_000.0),
        ("2.5", ANGLE, math.radians(2.5)),
        ("90°", ANGLE, math.pi / 2),
        ("0.5 mm²", AREA, 0.5),
        ("1 cm2", AREA, 100.0),
        ("500 ms", TIME, 0.5),
        ("50 mm/s²", ACCELERATION, 50.0),
        ("80 %", PERCENT, 0.8),
    ],
)
def test_other_families_are_read_in_their_own_units(typed, family, inside):
    assert parsed(typed, family).value == pytest.approx(inside, rel=1e-15)


@given(NUMBERS, st.sampled_from(BARE_IS_INSIDE))
def test_full_digits_read_back_to_the_last_bit(value, family):
    text = printed(value, family)
    assert parsed(text, family).value == value
    assert parsed(text.replace(".", ","), family).value == value
    assert "e" not in in_digits(value)


@given(NUMBERS, st.sampled_from(FAMILIES), st.data())
def test_any_unit_reads_back_within_a_rounding(value, family, data):
    unit = data.draw(st.sampled_from(family.units))
    text = printed(value, family, unit.spellings[0])
    assert parsed(text, family).value == pytest.approx(value, rel=4e-16, abs=1e-300)


@given(st.integers(0, 99), st.integers(0, 64), st.integers(1, 64))
def test_a_mixed_fraction_is_its_whole_and_its_part(whole, over, under):
    exact = (whole + over / under) * 25.4
    assert parsed(f"{whole} {over}/{under} in", LENGTH).value == pytest.approx(exact, rel=1e-15, abs=1e-15)


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=70), st.sampled_from(FAMILIES))
def test_no_text_at_all_gives_anything_but_a_finite_number_or_a_sentence(text, family):
    try:
        value = parsed(text, family).value
    except BadValue as error:
        value, said = 0.0, str(error)
    else:
        said = "write it like"
    assert math.isfinite(value)
    assert "write it like" in said


@given(st.floats(0.001, 1e5))
def test_a_dragged_value_is_typed_in_full(value):
    assert measured(value, LENGTH).value == value
    assert measured(value, LENGTH).typed.endswith(" mm")


def test_digits_have_no_exponent_no_tail_and_no_negative_nothing():
    assert [in_digits(x) for x in (1e-7, 1e22, 2.50, 100.0, -0.0)] == [
        "0.0000001", "1" + "0" * 22, "2.5", "100", "0",
    ]  # fmt: skip
    assert (in_digits(2.3456, 2), in_digits(-0.001, 2), in_digits(3.0, 0)) == ("2.35", "0", "3")


def test_a_unit_that_does_not_exist_cannot_be_printed():
    with pytest.raises(BadValue):
        printed(1.0, LENGTH, "ell")
