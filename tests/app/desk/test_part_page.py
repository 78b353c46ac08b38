"""The part page as a hand uses it: tabs along the edge, by pointer and by keys."""

import math
import time
from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

KEY = "part.tabs"


def px(page, point):
    return page.seen().of(*point)


def placed(opened):
    """Where the Job has its tabs, in the frame."""
    return [opened.part.shown.place.of(point) for point in opened.desk.job.part.tabs]


def edge_gap(opened, point):
    on = opened.part.hand.edge.nearest(point)
    return math.dist(on.at, point)


def bridge(opened, index):
    """The middle of a tab on the page, px."""
    tab = opened.part.hand.tabs[index]
    half = opened.part.hand.edge.setup.bit.radius_mm
    return px(
        opened.part,
        (tab.at[0] + half * math.cos(tab.outward), tab.at[1] + half * math.sin(tab.outward)),
    )


def test_a_dragged_tab_settles_on_the_edge_and_becomes_one_step_of_undo(opened, drag):
    count, words = len(opened.part.hand.tabs), opened.desk.undo_words
    start = bridge(opened, 0)
    drag(opened.part, start, start + QPointF(25.0, 30.0))
    now = placed(opened)
    assert len(now) == count
    assert max(edge_gap(opened, point) for point in now) < 0.01
    assert opened.desk.undo_words != words
    assert opened.desk.undo_words.startswith("tab moved to")
    opened.desk.undo()
    assert opened.desk.job.part.tabs == opened.part.shown.job.part.tabs


def test_tabs_that_were_not_taken_stay_where_they_were(opened, drag):
    before = [tab.at for tab in opened.part.shown.path.tabs]
    start = bridge(opened, 1)
    drag(opened.part, start, start + QPointF(-20.0, 20.0))
    now = placed(opened)
    assert [math.dist(*pair) < 0.01 for pair in zip(before, now, strict=True)].count(False) == 1


def test_a_tab_before_nothing_says_so_and_settles_elsewhere(opened):
    hand = opened.part.hand
    mark = opened.part.shown.layout.marks[0]
    beside = replace(opened.part.shown.layout, marks=(replace(mark, at=_behind(hand, 20.0)),))
    edge = replace(hand.edge, setup=replace(hand.edge.setup, layout=beside))
    spot = edge.place(0, 20.0)
    assert not hand.edge.fault(spot)
    assert edge.fault(spot) == "nothing behind it to hold on to"
    assert not edge.fault(edge.settled(spot))


def _behind(hand, along):
    """The middle of the footing that a tab so far along would stand on."""
    spot, out = hand.edge.place(0, along), hand.edge.setup.bit.diameter_mm + 1.0
    return spot.at[0] + out * math.cos(spot.outward), spot.at[1] + out * math.sin(spot.outward)


def test_a_tab_settles_on_a_run_that_is_straight_enough(opened, drag):
    hand = opened.part.hand
    corner = min((stretch for stretch in hand.edge.unfit), key=lambda one: one.first_mm)
    middle = hand.edge.place(corner.contour, (corner.first_mm + corner.last_mm) / 2.0)
    assert not hand.edge.may_stand(middle)
    drag(opened.part, bridge(opened, 0), px(opened.part, middle.at), lets_go=False)
    assert hand.edge.may_stand(hand.tabs[0])


def test_its_number_is_shown_while_it_is_dragged(opened, drag):
    start = bridge(opened, 0)
    drag(opened.part, start, start + QPointF(10.0, 10.0), lets_go=False)
    said = opened.part.hand.said_of(0)
    assert "mm along" in said
    assert "to the next" in said
    opened.part.grab()


def test_escape_gives_a_drag_up(opened, drag):
    before = opened.part.hand.tabs
    start = bridge(opened, 0)
    drag(opened.part, start, start + QPointF(15.0, 15.0), lets_go=False)
    assert opened.part.hand.tabs != before
    QTest.keyClick(opened.part, Qt.Key.Key_Escape)
    assert opened.part.hand.tabs == before
    assert opened.part.hand.drop() is None


def test_a_press_that_moves_nothing_is_no_step(opened, drag):
    words = opened.desk.undo_words
    start = bridge(opened, 0)
    drag(opened.part, start, start)
    assert opened.desk.undo_words == words


@pytest.mark.parametrize(
    ("modifier", "step"), [(Qt.KeyboardModifier.NoModifier, 0.1), (Qt.KeyboardModifier.ShiftModifier, 1.0)]
)
def test_arrow_keys_walk_the_chosen_tab_and_the_walk_is_one_step(opened, qtbot, modifier, step):
    opened.part.setFocus()
    QTest.keyClick(opened.part, Qt.Key.Key_Return)
    chosen = opened.part.hand.chosen
    before = opened.part.hand.tabs[chosen].along_mm
    for _ in range(3):
        QTest.keyClick(opened.part, Qt.Key.Key_Right, modifier)
    qtbot.waitUntil(lambda: opened.desk.undo_words.startswith("tab moved"))
    length = opened.part.hand.edge.contours[0].length
    moved = (opened.part.hand.edge.nearest(placed(opened)[chosen]).along_mm - before) % length
    assert moved == pytest.approx(3.0 * step, abs=0.02)
    opened.desk.undo()
    assert not opened.desk.undo_words.startswith("tab moved")


def test_delete_takes_the_chosen_tab_away(opened):
    count = len(opened.part.hand.tabs)
    opened.part.setFocus()
    QTest.keyClick(opened.part, Qt.Key.Key_Return)
    QTest.keyClick(opened.part, Qt.Key.Key_Delete)
    assert len(opened.desk.job.part.tabs) == count - 1
    assert "removed" in opened.desk.undo_words


def test_a_tab_that_was_walked_and_taken_away_stays_away(opened):
    count = len(opened.part.hand.tabs)
    opened.part.setFocus()
    QTest.keyClick(opened.part, Qt.Key.Key_Return)
    QTest.keyClick(opened.part, Qt.Key.Key_Right)
    QTest.keyClick(opened.part, Qt.Key.Key_Delete)
    QTest.qWait(600)
    opened.part.end_walks()
    assert len(opened.desk.job.part.tabs) == count - 1
    assert "removed" in opened.desk.undo_words


def test_no_step_of_a_tabs_walk_is_lost_when_a_build_comes_in(opened, qtbot):
    opened.part.setFocus()
    QTest.keyClick(opened.part, Qt.Key.Key_Return)
    chosen = opened.part.hand.chosen
    before = opened.part.hand.tabs[chosen].along_mm
    QTest.keyClick(opened.part, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    opened.part.shown_anew()
    QTest.keyClick(opened.part, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    qtbot.waitUntil(lambda: opened.desk.undo_words.startswith("tab moved"))
    length = opened.part.hand.edge.contours[0].length
    moved = (opened.part.hand.edge.nearest(placed(opened)[chosen]).along_mm - before) % length
    assert moved == pytest.approx(2.0, abs=0.02)


def test_a_double_press_on_the_edge_adds_a_tab_there(opened):
    hand = opened.part.hand
    count = len(hand.tabs)
    gaps = [
        (min(hand._gap(hand.edge.place(0, s), tab) or 0 for tab in hand.tabs), s) for s in range(0, 300, 5)
    ]
    on = hand.edge.place(0, max(gap for gap in gaps if hand.edge.may_stand(hand.edge.place(0, gap[1])))[1])
    QTest.mouseDClick(opened.part, Qt.MouseButton.LeftButton, pos=px(opened.part, on.at).toPoint())
    now = placed(opened)
    assert len(now) == count + 1
    assert math.dist(now[-1], on.at) < 1.0
    assert opened.desk.undo_words.startswith("tab added at")


def test_what_lies_under_the_pointer_says_so(opened):
    part = opened.part
    assert part.named_at(bridge(opened, 0)).startswith("tab · ")
    key = next(mark for mark in part.shown.layout.marks if mark.is_key)
    assert part.named_at(px(part, key.at)).startswith("key mark ⌀ 7 · ")
    assert part.named_at(px(part, part.shown.layout.zero_at)).startswith("work zero")


def test_an_undone_drag_is_shown_undone_also_before_it_was_built(opened, drag):
    before = [tab.at for tab in opened.part.hand.tabs]
    start = bridge(opened, 0)
    drag(opened.part, start, start + QPointF(25.0, 30.0))
    opened.desk.undo()
    assert [tab.at for tab in opened.part.hand.tabs] == before


def test_a_build_that_ends_during_a_drag_does_not_take_the_tab_out_of_the_hand(opened, drag, small):
    start = bridge(opened, 0)
    drag(opened.part, start, start + QPointF(12.0, 12.0), lets_go=False)
    opened.desk.shown_changed.emit(small.shown, False)
    assert opened.part.hand.is_dragged
    assert opened.part.hand.chosen is not None


def test_old_pages_are_marked_when_the_new_ones_are_long_in_coming(opened, qtbot):
    opened.desk.propose("bit.diameter", "3 mm")
    assert opened.desk.is_old
    qtbot.waitUntil(opened.part._is_veiled)


def test_a_wanted_height_scales_both_pages_at_once_about_the_shapes_foot(opened):
    x, y = opened.part.shown.layout.shape_at
    opened.view.is_held = True  # as while the ruler's top is dragged
    before = opened.part.seen()
    opened.desk.height_preview(160.0)
    now = opened.part.seen()
    assert now.scale == pytest.approx(2.0 * before.scale)
    assert now.of(x, y).toTuple() == pytest.approx(before.of(x, y).toTuple())
    assert opened.part._is_veiled()
    opened.desk.height_preview(None)
    assert opened.part.seen() == before


def test_a_drag_costs_less_than_a_frame(opened, drag):
    """16 ms of the window's own time at 1600 x 1000; the median, since the machine may be busy."""
    opened.window.resize(1600, 1000)
    QApplication.processEvents()
    start = bridge(opened, 0)
    drag(opened.part, start, start, lets_go=False)
    spent = []
    for number in range(40):
        at = start + QPointF(number, number / 2.0)
        begun = time.thread_time()
        drag(opened.part, at, at, lets_go=False, steps=1, presses=False)
        QApplication.processEvents()
        spent.append(time.thread_time() - begun)
    assert sorted(spent)[len(spent) // 2] < 0.016


def test_what_is_painted_in_bands_during_a_drag_is_what_a_whole_painting_gives(opened, drag):
    start = bridge(opened, 0)
    drag(opened.part, start, start + QPointF(40.0, 60.0), lets_go=False)
    QApplication.processEvents()
    screen = opened.part.screen().grabWindow(opened.window.winId()).toImage()
    opened.part.update()
    opened.film.update()
    QApplication.processEvents()
    assert opened.part.screen().grabWindow(opened.window.winId()).toImage() == screen
