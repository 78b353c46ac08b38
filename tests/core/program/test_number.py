import re

from hypothesis import given
from hypothesis import strategies as st

from core.program.write.number import decimal_text, rounded_text

NUMBER = re.compile(r"-?(?:[0-9]+\.?[0-9]*|\.[0-9]+)")  # NISTIR 6556 3.3.2.1


@given(st.integers(-(10**9), 10**9), st.integers(2, 6))
def test_what_is_written_is_a_number_of_the_standard_with_the_same_value(steps, places):
    text = decimal_text(steps, places)
    assert NUMBER.fullmatch(text)
    assert round(float(text) * 10**places) == steps


def test_no_minus_stands_before_a_zero_and_no_exponent_anywhere():
    assert rounded_text(-0.00001, 4) == "0"
    assert rounded_text(1e-5, 4) == "0"
    assert rounded_text(-12.5, 4) == "-12.5"
    assert rounded_text(1e6, 1) == "1000000"
