"""The job's sentence at the top, broken into lines."""

import pytest
from PySide6.QtWidgets import QLabel, QPushButton


@pytest.mark.parametrize("width", range(560, 1500, 47))
def test_no_line_of_the_sentence_begins_with_a_comma_or_a_full_stop(at_work, width):
    strip = at_work.strip
    strip.resize(width, strip.height())
    words = [word for word in strip.children() if isinstance(word, QLabel | QPushButton) and word.isVisible()]
    signs = [word for word in words if word.text() in {",", "."}]
    assert len(signs) == 5
    for sign in signs:
        beside = [word for word in words if word.geometry().right() + 1 == sign.x() and word.y() == sign.y()]
        assert beside, f"'{sign.text()}' stands alone at {sign.pos()}"
