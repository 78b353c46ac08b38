"""Words are measured before they are set."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.paper.lettering import POINT, printable, shortened, width_mm, wrapped
from core.paper.surface import Letters

LETTERS = Letters(10 * POINT)
WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=200)


@settings(deadline=None, max_examples=50)
@given(words=WORDS, room=st.floats(8, 180))
def test_no_line_is_wider_than_its_room_and_no_sign_is_lost(words, room):
    lines = wrapped(words, LETTERS, room)
    assert all(width_mm(line, LETTERS) <= room + 1e-9 for line in lines)
    assert "".join(lines).replace(" ", "") == printable(words).replace(" ", "")


@settings(deadline=None, max_examples=30)
@given(words=WORDS, room=st.floats(8, 180))
def test_what_is_shortened_fits(words, room):
    assert width_mm(shortened(words, LETTERS, room), LETTERS) <= room


def test_signs_that_the_face_lacks_are_said_otherwise():
    assert printable("2 → 3,\n ≤ 4\t亀") == "2 to 3, at most 4 ?"


def test_an_em_of_bold_is_wider():
    assert width_mm("Samecut", Letters(4.0, is_bold=True)) > width_mm("Samecut", Letters(4.0))
    assert width_mm("Samecut", Letters(8.0)) == pytest.approx(2 * width_mm("Samecut", Letters(4.0)))
