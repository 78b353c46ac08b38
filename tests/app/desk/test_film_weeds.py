"""Weed lines on the film page: dragged, walked, added, taken away, undone; and the same by keys."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

SHIFT = Qt.KeyboardModifier.ShiftModifier
#: mm: heights in the small picture's sheet box.
LOW, HIGH = 50.0, 100.0


@pytest.fixture
def lined(opened, shows, small):
    """The film page, with two weed lines placed by hand."""
    opened.desk.propose("film.weed_lines", f"{LOW:g} mm; {HIGH:g} mm")
    left, _, right, _ = small.shown.sheet_box.loop.bounds()
    lines = tuple(((left, y), (right, y)) for y in (LOW, HIGH))
    shown = replace(small.shown, job=opened.desk.job, weed_heights=(LOW, HIGH), weed_lines=lines)
    shows(small, shown)
    return opened


def px(page, at):
    return page.seen().of(*at)


def up_px(page, mm):
    return QPointF(0.0, -mm) * page.seen().scale


def at_end(page, y):
    """A place on a line, at the left end of the sheet box, where no film lies."""
    return px(page, (page.shown.sheet_box.loop.bounds()[0] + 3.0, y))


def heights(desk):
    return desk.job.text("film.weed_lines")


def test_a_line_follows_the_hand_on_its_grid_and_says_how_wide_the_strips_are(lined, drag):
    film = lined.film
    start = at_end(film, LOW)
    drag(film, start, start + up_px(film, 3.3), lets_go=False)
    (_, y), words = film._weeds.said_in_hand()
    assert y in {53.0, 53.5}
    near = film.shown.sheet_box.loop.bounds()[1]
    assert words == f"weed line \u00b7 {y:.1f} mm up \u00b7 strips of {y - near:.1f} and {HIGH - y:.1f} mm"
    drag(film, start, start + up_px(film, 3.3), presses=False, steps=1)
    assert heights(lined.desk) == f"{y:g} mm; 100 mm"
    assert lined.desk.undo_words == f"weed line moved to {y:g} mm"
    lined.desk.undo()
    assert heights(lined.desk) == "50 mm; 100 mm"


def test_escape_gives_it_up_and_a_mere_press_moves_nothing(lined, drag, qtbot):
    film = lined.film
    start = at_end(film, LOW)
    drag(film, start, start + up_px(film, 6.0), lets_go=False)
    qtbot.keyClick(film, Qt.Key.Key_Escape)
    drag(film, start, start, presses=False, steps=1)
    drag(film, start, start)
    assert heights(lined.desk) == "50 mm; 100 mm"


def test_a_strip_that_tears_is_told_while_it_is_dragged(lined, drag):
    film = lined.film
    start = at_end(film, LOW)
    drag(film, start, at_end(film, HIGH - 4.0), lets_go=False)
    assert film._weeds.said_in_hand()[1].endswith("so narrow that it tears")
    drag(film, start, start, presses=False)


def test_keys_choose_walk_and_remove_it(lined, qtbot):
    film = lined.film
    for _ in range(2):
        qtbot.keyClick(film, Qt.Key.Key_S)
    qtbot.keyClick(film, Qt.Key.Key_Up, SHIFT)
    qtbot.keyClick(film, Qt.Key.Key_Down)
    assert "weed line \u00b7 100.5 mm up" in film.accessibleDescription()
    QTest.qWait(600)
    assert heights(lined.desk) == "50 mm; 100.5 mm"
    qtbot.keyClick(film, Qt.Key.Key_Delete)
    assert heights(lined.desk) == "50 mm"
    assert lined.desk.undo_words.endswith("removed")
    for _ in range(2):
        lined.desk.undo()
    assert heights(lined.desk) == "50 mm; 100 mm"


def test_a_line_that_was_just_added_is_taken_away_and_said_by_its_height(lined, qtbot):
    film = lined.film
    film._pointer = at_end(film, 70.0)
    qtbot.keyClick(film, Qt.Key.Key_W)
    qtbot.keyClick(film, Qt.Key.Key_Delete)
    assert heights(lined.desk) == "50 mm; 100 mm"
    assert lined.desk.undo_words == "weed line at 70 mm removed"


def test_no_step_of_a_walk_is_lost_when_a_build_comes_in(lined, qtbot):
    film = lined.film
    qtbot.keyClick(film, Qt.Key.Key_S)
    qtbot.keyClick(film, Qt.Key.Key_Up, SHIFT)
    film._weeds.take_up(film.shown)
    qtbot.keyClick(film, Qt.Key.Key_Up, SHIFT)
    QTest.qWait(600)
    assert heights(lined.desk) == "52 mm; 100 mm"


def test_a_line_is_added_by_a_double_press_on_the_waste_or_by_a_key(opened, qtbot):
    film = opened.film
    spot = at_end(film, 45.2)
    event = QMouseEvent(
        QEvent.Type.MouseButtonDblClick, spot, film.mapToGlobal(spot), Qt.MouseButton.LeftButton,
        Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    QApplication.sendEvent(film, event)
    assert heights(opened.desk) == "45 mm"
    assert opened.desk.undo_words == "weed line added at 45 mm"
    film._pointer = at_end(film, 70.0)
    qtbot.keyClick(film, Qt.Key.Key_W)
    assert heights(opened.desk) == "45 mm; 70 mm"


def test_film_under_the_pointer_is_taken_before_a_line(lined):
    film = lined.film
    x, _ = film.shown.layout.shape_at
    middle = px(film, (x + 20.0, HIGH))
    inside = film._pieces.at(film.seen().back(middle)) is not None
    assert inside == (film._line_at(middle) is None)
    assert film._line_at(at_end(film, HIGH)) == 1
    assert film.named_at(at_end(film, HIGH)).startswith("weed line")
