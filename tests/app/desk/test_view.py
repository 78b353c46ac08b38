"""The view that both pages share."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QPointF, QSizeF

from app.desk.view import TITLE_PX, CommonView

SIZE = QSizeF(500.0, 600.0)
MM = st.floats(-500, 500)


@settings(max_examples=50)
@given(MM, MM, st.floats(0.01, 5.0), MM, MM)
def test_a_place_on_a_page_and_back_is_the_same_place(x, y, mm_per_px, at_x, at_y):
    view = CommonView()
    view.mm_per_px, view.centre = mm_per_px, (at_x, at_y)
    seen = view.seen_on(SIZE)
    assert seen.back(seen.of(x, y)) == pytest.approx((x, y), abs=1e-6)


@settings(max_examples=50)
@given(MM, MM, st.floats(0.3, 3.0))
def test_zooming_leaves_the_place_under_the_hand_where_it_is_on_every_page(x, y, factor):
    view = CommonView()
    pages = (SIZE, QSizeF(420.0, 600.0))
    before = [view.seen_on(size).of(x, y) for size in pages]
    view.zoom_at((x, y), factor)
    for size, was in zip(pages, before, strict=True):
        now = view.seen_on(size).of(x, y)
        assert math.dist(now.toTuple(), was.toTuple()) < 1e-6


def test_pages_of_one_height_have_every_place_on_one_line():
    view = CommonView()
    narrow, wide = view.seen_on(QSizeF(300.0, 600.0)), view.seen_on(QSizeF(500.0, 600.0))
    assert narrow.of(0.0, 31.0).y() == wide.of(99.0, 31.0).y()


def test_what_is_fitted_lies_within_the_page_and_below_its_title():
    view = CommonView()
    view.fit((10.0, 20.0, 140.0, 300.0), SIZE)
    seen = view.seen_on(SIZE)
    low, high = seen.of(10.0, 20.0), seen.of(140.0, 300.0)
    assert 0.0 < low.x() < high.x() < SIZE.width()
    assert TITLE_PX < high.y() < low.y() < SIZE.height()
    assert view.is_fitted


def test_true_size_is_an_inch_to_an_inch_of_screen_with_what_the_maker_measured():
    view = CommonView()
    view.true_size(96.0)
    seen = view.seen_on(SIZE)
    assert seen.of(25.4, 0.0).x() - seen.of(0.0, 0.0).x() == pytest.approx(96.0)
    view.screen_correction = 1.05
    view.true_size(96.0)
    assert view.mm_per_px == pytest.approx(25.4 / 96.0 / 1.05)
    assert view.is_true_size(96.0)


def test_panning_moves_what_is_shown_by_so_many_px():
    view = CommonView()
    before = view.seen_on(SIZE).of(3.0, 4.0)
    view.pan(12.0, -7.0)
    now = view.seen_on(SIZE).of(3.0, 4.0)
    assert (now - before).toTuple() == pytest.approx(QPointF(12.0, -7.0).toTuple())


def test_nothing_is_said_twice(qtbot):
    view = CommonView()
    with qtbot.waitSignals([view.hair_moved, view.book_changed, view.layers_changed]):
        view.point_at((1.0, 2.0))
        view.close_book(0.4)
        view.show_picture(True)
    with qtbot.assertNotEmitted(view.hair_moved), qtbot.assertNotEmitted(view.book_changed):
        view.point_at((1.0, 2.0))
        view.close_book(0.4)
    with qtbot.assertNotEmitted(view.layers_changed):
        view.show_picture(True)
