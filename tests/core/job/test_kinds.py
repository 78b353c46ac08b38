"""Each kind of choice: what it takes, what it refuses in words, and text against value."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadValue
from core.job.kinds import Colour, Count, Name, Quantity, Several, Word, YesNo
from core.units import LENGTH

HEIGHT = Quantity(LENGTH, "5 mm", "2 m")
PLACES = Several(Quantity(LENGTH, "0.2 mm", "30 mm"), least=1, most=3, items="places measured")


@pytest.mark.parametrize("text", ["5", "5 mm", "2 m", "78 in", "0.5 cm"])
def test_a_quantity_takes_both_its_limits_and_what_lies_between(text):
    assert 5.0 <= HEIGHT.read(text).value <= 2000.0


@pytest.mark.parametrize(
    ("text", "why"), [("0", "little"), ("-3", "little"), ("4.999", "little"), ("1 km", "much")]
)
def test_a_quantity_beyond_its_limits_is_refused_in_words(text, why):
    with pytest.raises(BadValue, match=f"{text} is too {why}; it takes 5 mm to 2 m"):
        HEIGHT.read(text)


def test_two_ways_to_type_one_length_mean_the_same():
    inches, millimetres = HEIGHT.read("4 5/8 in"), HEIGHT.read("117.475")
    assert inches != millimetres
    assert HEIGHT.is_same(inches, millimetres)
    assert Several(HEIGHT).is_same((inches,), (millimetres,))
    assert not Several(HEIGHT).is_same((inches,), ())


@pytest.mark.parametrize("text", ["1", "17", "-2", "2.0", "two", "", "²", "9" * 5000])
def test_a_count_takes_whole_numbers_within_its_limits_only(text):
    assert Count(2, 16).read(" 12 ") == 12
    with pytest.raises(BadValue, match="it takes 2 to 16"):
        Count(2, 16).read(text)


def test_a_word_is_known_in_any_case_and_what_comes_later_is_said_so():
    kind = Word(("frame", "sight edge"), later=("nest",))
    assert kind.read(" Sight  EDGE ") == "sight edge"
    with pytest.raises(BadValue, match="later version; for now it takes frame or sight edge"):
        kind.read("nest")
    with pytest.raises(BadValue, match="it takes frame or sight edge"):
        kind.read("glue")
    assert Word(("a", "b", "c")).limits() == "a, b or c"


@pytest.mark.parametrize(("text", "truth"), [("yes", True), ("ON", True), ("false", False), (" no ", False)])
def test_yes_and_no_are_known_by_several_words(text, truth):
    assert YesNo().read(text) is truth
    assert YesNo().read(YesNo().written(truth)) is truth


def test_maybe_is_neither_yes_nor_no():
    with pytest.raises(BadValue, match="yes or no"):
        YesNo().read("maybe")


def test_a_colour_is_three_or_six_digits_behind_a_hash():
    assert (Colour().read("#2E7d5B"), Colour().read("#fa0")) == ("#2e7d5b", "#ffaa00")
    for text in ("2e7d5b", "#2e7d5", "#", "#gg0000", "", "##fffff", "red"):
        with pytest.raises(BadValue, match="a colour like #2e7d5b"):
            Colour().read(text)


@pytest.mark.parametrize("text", ["", " ", "a/b", "a\\b", "..", ".hidden", "a\nb", "c:d", "x" * 61, "\x00"])
def test_a_name_that_no_file_may_have_is_refused(text):
    assert Name().read(" Sea turtle 2 ") == "Sea turtle 2"
    with pytest.raises(BadValue, match="cannot name a file"):
        Name().read(text)


def test_a_list_counts_its_items_and_names_the_wrong_one():
    assert [place.value for place in PLACES.read("3.02; 2,98 mm;;3 ")] == [3.02, 2.98, 3.0]
    with pytest.raises(BadValue, match="0 places measured were given"):
        PLACES.read(" ; ")
    with pytest.raises(BadValue, match="4 places measured were given"):
        PLACES.read("3;3;3;3")
    with pytest.raises(BadValue, match="'x' is no length"):
        PLACES.read("3; x")


@given(st.lists(st.floats(0.2, 30.0), min_size=1, max_size=3))
def test_a_list_reads_back_from_its_own_text(values):
    text = "; ".join(map(str, values))
    assert PLACES.read(PLACES.written(PLACES.read(text))) == PLACES.read(text)
