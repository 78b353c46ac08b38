"""What both pages have in common: one view, one hair-cross, and nothing shown that is not there."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.desk.misfit import misfit_of
from app.desk.theme import DARK, put_on
from core.outline.region import mapped


@pytest.mark.usefixtures("themed")
def test_pages_without_anything_to_show_are_empty_and_calm(qtbot, desk):
    from app.desk.part_page import PartPage  # noqa: PLC0415
    from app.desk.view import CommonView  # noqa: PLC0415

    page = PartPage(desk, CommonView())
    qtbot.addWidget(page)
    page.show()
    QTest.mouseClick(page, Qt.MouseButton.LeftButton)
    QTest.keyClick(page, Qt.Key.Key_Return)
    QTest.mouseDClick(page, Qt.MouseButton.LeftButton)
    page.grab()


def test_a_wheel_over_one_page_zooms_both_about_the_pointer(opened):
    at = QPointF(100.0, 200.0)
    before = opened.film.seen().back(at)
    wheel = QWheelEvent(
        at,
        opened.film.mapToGlobal(at),
        QPointF(0, 0).toPoint(),
        QPointF(0, 120).toPoint(),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(opened.film, wheel)
    assert opened.film.seen().back(at) == pytest.approx(before)
    assert opened.part.seen().scale == opened.film.seen().scale


def test_dragging_bare_ground_moves_both_pages(opened, drag):
    before = opened.film.seen()
    drag(opened.part, QPointF(20.0, 90.0), QPointF(60.0, 120.0))
    now = opened.film.seen()
    assert (now.left - before.left, now.top - before.top) == pytest.approx((40.0, 30.0))


def test_the_hair_cross_stands_at_the_same_place_on_both_pages_and_goes_with_the_pointer(opened):
    at = QPointF(130.0, 210.0)
    QTest.mouseMove(opened.part, at.toPoint())
    assert opened.view.hair == pytest.approx(opened.part.seen().back(at), abs=1e-6)
    before = opened.film.grab().toImage()
    QTest.mouseMove(opened.part, QPointF(160.0, 260.0).toPoint())
    assert opened.film.grab().toImage() != before


def test_zero_shows_everything_again_and_t_shows_true_size(opened):
    whole = opened.view.mm_per_px
    QTest.keyClick(opened.part, Qt.Key.Key_T)
    assert opened.view.is_true_size(opened.part.screen().physicalDotsPerInch())
    QTest.keyClick(opened.part, Qt.Key.Key_0)
    assert opened.view.mm_per_px == pytest.approx(whole)


def test_a_place_that_is_asked_for_is_ringed_until_the_next_press(opened):
    before = opened.part.grab().toImage()
    opened.view.show_place((30.0, 40.0))
    assert opened.part.grab().toImage() != before
    QTest.mouseClick(opened.part, Qt.MouseButton.LeftButton, pos=QPointF(5, 100).toPoint())
    assert opened.view.place is None


def test_the_still_layer_is_painted_once_however_often_the_hair_cross_moves(opened, monkeypatch):
    opened.part.grab()
    painted = []
    monkeypatch.setattr(opened.part, "paint_still", lambda *_: painted.append(1))
    for x in range(10):
        opened.view.point_at((float(x), 3.0))
        opened.part.repaint()
    assert painted == []


def test_both_pages_look_different_in_the_dark(opened):
    light = opened.part.grab().toImage()
    put_on(QApplication.instance(), DARK)
    assert opened.part.grab().toImage() != light


def test_dots_and_films_say_what_they_are(opened):
    shown, film = opened.film.shown, opened.film
    key = next(mark for mark in shown.layout.marks if mark.is_key)
    assert film.named_at(film.seen().of(*key.at)).startswith("key dot · 6 mm, lies in a hole of 7")
    x, y = shown.layout.shape_at
    said = film.named_at(film.seen().of(x + shown.size_mm[0] / 2.0, y + shown.size_mm[1] / 2.0))
    assert said.startswith("film ")
    assert said.endswith("mm²")


def with_films_moved(shown, by):
    films = shown.films.films
    moved = tuple(replace(film, regions=mapped(film.regions, lambda loop: loop.moved(*by))) for film in films)
    return replace(shown, films=replace(shown.films, films=moved))


def test_films_as_they_are_made_fit_the_face(small):
    misfit = misfit_of(small.shown)
    assert misfit.largest_mm < 1e-6
    assert misfit.blades == ()


def test_films_that_lie_askew_are_seen_by_how_much(small):
    misfit = misfit_of(with_films_moved(small.shown, (0.06, 0.0)))
    assert misfit.largest_mm == pytest.approx(0.06, abs=1e-6)
    assert len(misfit.blades) >= 2


def test_a_place_out_of_sight_that_is_asked_for_is_moved_into_sight(opened):
    opened.view.zoom_at((0.0, 0.0), 8.0)
    place = (70.0, 90.0)
    assert not opened.part.rect().contains(opened.part.seen().of(*place).toPoint())
    opened.view.show_place(place)
    assert opened.part.rect().contains(opened.part.seen().of(*place).toPoint())


def test_a_typed_height_stays_whole_in_sight_and_a_dragged_one_keeps_its_scale(opened):
    opened.desk.propose("shape.height", "160 mm")
    x, y = opened.part.shown.layout.shape_at
    top = opened.part.seen().of(x, y + opened.part.shown.size_mm[1])
    assert opened.part.rect().contains(top.toPoint())
    before = opened.view.mm_per_px
    opened.view.is_held = True
    opened.desk.height_preview(200.0)
    assert opened.view.mm_per_px == before


def test_the_band_that_films_may_lie_in_is_told_with_the_misfit(small):
    from app.desk.band import band_of  # noqa: PLC0415 - brings Qt

    band = band_of(small.shown)
    assert band.off_mm == small.shown.off_mm
    assert not band.on_part.isEmpty()
    assert f"{band.off_mm:.2f} mm off" in band.words()
    far = band_of(replace(small.shown, off_mm=2.0))
    assert not far.over_edge.isEmpty()
    assert "over the edge" in far.words()
    assert band_of(replace(small.shown, off_mm=None)) is None
