"""The ruler with its height, and the handle that closes the book."""

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest


def top(opened):
    ruler = opened.ruler
    return QPointF(ruler.width() / 2.0, ruler.y_of(ruler.height_mm))


def test_a_mm_on_the_ruler_is_a_mm_on_both_pages(opened):
    foot = opened.part.shown.layout.shape_at[1]
    for page in (opened.part, opened.film):
        on_page = page.mapToGlobal(page.seen().of(0.0, foot + 50.0)).y()
        on_ruler = opened.ruler.mapToGlobal(QPointF(0.0, opened.ruler.y_of(50.0))).y()
        assert on_page == pytest.approx(on_ruler)


def test_the_top_tick_stands_at_the_shapes_height(opened):
    assert opened.ruler.height_mm == pytest.approx(80.0)


def test_dragging_the_top_tick_scales_the_pages_at_once_and_then_becomes_the_jobs_height(opened, drag):
    start = top(opened)
    up = QPointF(0.0, -20.0 / opened.view.mm_per_px)
    drag(opened.ruler, start, start + up, lets_go=False)
    assert opened.desk.scale == pytest.approx(100.0 / 80.0)
    assert opened.desk.job.text("shape.height") == "80 mm"
    drag(opened.ruler, top(opened), top(opened))
    assert opened.desk.job.shape.height.value == pytest.approx(100.0)


def test_escape_gives_a_dragged_height_up(opened, drag):
    start = top(opened)
    drag(opened.ruler, start, start - QPointF(0.0, 40.0), lets_go=False)
    QTest.keyClick(opened.ruler, Qt.Key.Key_Escape)
    assert opened.desk.scale == 1.0
    assert opened.desk.job.text("shape.height") == "80 mm"


def test_a_height_is_typed_on_the_ruler_as_people_write_it(opened):
    opened.ruler.setFocus()
    QTest.keyClicks(opened.ruler, "4")
    field = opened.ruler._field
    assert field.isVisible()
    QTest.keyClicks(field, " in")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert opened.desk.job.shape.height.value == pytest.approx(101.6)
    assert not field.isVisible()


def test_what_is_no_height_is_refused_in_words_and_the_last_one_stays(opened, qtbot):
    opened.ruler.type_height("")
    opened.ruler._field.setText("tall")
    with qtbot.waitSignal(opened.view.told) as said:
        QTest.keyClick(opened.ruler._field, Qt.Key.Key_Return)
    assert "shape.height" in said.args[0]
    assert opened.desk.job.text("shape.height") == "80 mm"
    opened.ruler.grab()


def test_escape_gives_a_typed_height_up(opened):
    opened.ruler.type_height("9")
    QTest.keyClick(opened.ruler._field, Qt.Key.Key_Escape)
    assert opened.desk.job.text("shape.height") == "80 mm"


def test_arrow_keys_change_the_height(opened):
    opened.ruler.setFocus()
    QTest.keyClick(opened.ruler, Qt.Key.Key_Up)
    assert opened.desk.job.shape.height.value == pytest.approx(81.0)


def test_a_press_on_the_handle_closes_the_book_and_another_opens_it(opened, qtbot):
    for wanted in (1.0, 0.0):
        QTest.mouseClick(opened.spine.handle, Qt.MouseButton.LeftButton)
        qtbot.waitUntil(lambda wanted=wanted: opened.view.closed == wanted)


def test_the_film_follows_the_handle_and_shows_the_misfit_only_while_it_is_held_there(opened, drag, qtbot):
    handle = opened.spine.handle
    start = QPointF(handle.rect().center())
    drag(handle, start, start - QPointF(80.0, 0.0), lets_go=False)
    assert 0.0 < opened.view.closed < 1.0
    assert not opened.view.has_misfit
    drag(handle, start, start - QPointF(400.0, 0.0), lets_go=False)
    assert opened.view.closed == 1.0
    assert opened.view.has_misfit
    opened.part.grab()
    QTest.mouseRelease(handle, Qt.MouseButton.LeftButton)
    assert not opened.view.has_misfit
    qtbot.waitUntil(lambda: opened.view.closed == 1.0)


def test_the_book_is_closed_by_the_keyboard_too(opened, qtbot):
    QTest.keyClick(opened.spine.handle, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: opened.view.closed == 1.0)


def test_a_closed_book_has_the_film_on_the_part_and_not_on_its_own_page(opened):
    before = opened.film.grab().toImage()
    opened.view.close_book(1.0)
    opened.view.point_at(None)
    at = opened.part.seen().of(40.0, 60.0).toPoint()
    middle = opened.part.shown.size_mm
    x, y = opened.part.shown.layout.shape_at
    at = opened.part.seen().of(x + middle[0] / 2.0, y + middle[1] / 2.0).toPoint()
    film = {one.name: one.colour for one in opened.part.shown.films.films}
    assert opened.part.grab().toImage().pixelColor(at).name() in film.values()
    assert opened.film.grab().toImage() != before


def test_controls_of_the_spine_have_names_and_are_reached_by_tab(opened):
    for widget in (opened.part, opened.film, opened.ruler, opened.spine.handle):
        assert widget.accessibleName()
        assert widget.focusPolicy() & Qt.FocusPolicy.TabFocus


def measured(opened, drag, low, high, **how):
    x = opened.ruler.width() / 2.0
    drag(opened.ruler, QPointF(x, opened.ruler.y_of(low)), QPointF(x, opened.ruler.y_of(high)), **how)


def test_a_drag_on_the_ruler_measures_between_two_hands_on_both_pages(opened, drag):
    before = [page.grab().toImage() for page in (opened.part, opened.film)]
    measured(opened, drag, 10.0, 44.0)
    low, high = opened.view.hands
    assert high - low == pytest.approx(34.0, abs=2.0 * opened.view.mm_per_px)
    assert opened.desk.job.text("shape.height") == "80 mm"
    foot = opened.part.shown.layout.shape_at[1]
    for page, was in zip((opened.part, opened.film), before, strict=True):
        is_now, y = page.grab().toImage(), round(page.seen().of(0.0, foot + 30.0).y())
        assert is_now.pixelColor(20, y) != was.pixelColor(20, y)


def test_a_hand_is_taken_again_and_goes_away_with_escape_or_a_press(opened, drag):
    measured(opened, drag, 10.0, 44.0)
    measured(opened, drag, opened.view.hands[1], 60.0)
    low, high = opened.view.hands
    assert (low, high) == pytest.approx((10.0, 60.0), abs=2.0 * opened.view.mm_per_px)
    QTest.keyClick(opened.ruler, Qt.Key.Key_Escape)
    assert opened.view.hands is None
    measured(opened, drag, 10.0, 44.0)
    measured(opened, drag, 25.0, 25.0)
    assert opened.view.hands is None


def test_hands_are_placed_and_moved_by_keys(opened, qtbot):
    QTest.keyClick(opened.ruler, Qt.Key.Key_H)
    assert opened.view.hands == pytest.approx((0.0, 80.0))
    with qtbot.waitSignal(opened.view.told) as said:
        QTest.keyClick(opened.ruler, Qt.Key.Key_PageDown)
    assert said.args[0] == "79.90 mm from 0.00 to 79.90"
    QTest.keyClick(opened.ruler, Qt.Key.Key_PageUp, Qt.KeyboardModifier.ShiftModifier)
    assert opened.view.hands == pytest.approx((0.1, 79.9))
    QTest.keyClick(opened.ruler, Qt.Key.Key_H)
    assert opened.view.hands is None
