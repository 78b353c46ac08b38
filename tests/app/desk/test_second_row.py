"""A second picture in the window: dropped with Shift, taken away, shown, saved. The process is a stand-in."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication

from app.desk.cards import card_named
from app.desk.second_row import SecondRow
from app.desk.window import DeskWindow
from app.opened import opened as read_opened
from core.job.job import Source

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def empty(desk, qtbot, tmp_path):
    made = DeskWindow(desk, tmp_path / "state")
    qtbot.addWidget(made, before_close_func=DeskWindow.close)  # the first time it asks about unsaved work
    made.show()
    qtbot.waitActive(made).__enter__()
    qtbot.waitUntil(lambda: made.spread is not None and not desk.errands.are_running)
    return made


@pytest.fixture
def window(empty, small):
    empty.desk.take_up(small.job, small.source, "square.png opened")
    return empty


def answered(window, stand_ins, small, qtbot):
    stand_ins[-1].says(small.shown)
    qtbot.waitUntil(lambda: window.desk.shown is not None and not window.desk.is_old)


def dropped_with_shift(window, path):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    shift, copy = Qt.KeyboardModifier.ShiftModifier, Qt.DropAction.CopyAction
    QApplication.sendEvent(window, QDragEnterEvent(QPoint(300, 300), copy, data, LEFT, shift))
    QApplication.sendEvent(window, QDropEvent(QPointF(QPoint(300, 300)), copy, data, LEFT, shift))


@pytest.fixture
def with_second(window, stand_ins, qtbot, tmp_path, small):
    (tmp_path / "painted.png").write_bytes(small.source.data)
    with qtbot.waitSignal(window.desk.job_changed):
        dropped_with_shift(window, tmp_path / "painted.png")
    answered(window, stand_ins, small, qtbot)
    return window


def test_a_picture_dropped_with_shift_gives_the_films_and_the_first_one_stays(with_second, stand_ins, small):
    desk = with_second.desk
    assert desk.source.data == small.source.data
    assert desk.source.face.name == desk.job.face == "painted.png"
    assert stand_ins[-1].asked[-1][2].face is desk.source.face
    assert desk.undo_words == "painted.png gives the films"


def test_the_row_of_the_films_card_says_which_picture_gives_them_and_lets_it_go(
    with_second, stand_ins, small, qtbot
):
    with_second.open_card("films")
    row = with_second.popover.findChild(SecondRow)
    assert row.giver.text() == "painted.png"
    qtbot.mouseClick(row.leave, LEFT)
    answered(with_second, stand_ins, small, qtbot)
    assert with_second.desk.source.face is None
    assert with_second.desk.job.face == ""
    assert row.giver.text() == "this picture"
    assert "film.pairs" in card_named("films").choices


def test_a_second_picture_without_a_first_is_opened_as_the_first(empty, stand_ins, qtbot, tmp_path, small):
    (tmp_path / "a.png").write_bytes(small.source.data)
    with qtbot.waitSignal(empty.desk.job_changed):
        dropped_with_shift(empty, tmp_path / "a.png")
    answered(empty, stand_ins, small, qtbot)
    assert empty.desk.source.name == "a.png"
    assert empty.desk.source.face is None


def test_a_second_picture_that_cannot_be_read_changes_nothing(window, qtbot, tmp_path):
    (tmp_path / "empty.png").write_bytes(b"")
    with qtbot.waitSignal(window.desk.failed):
        dropped_with_shift(window, tmp_path / "empty.png")
    assert window.desk.source.face is None


def test_a_saved_job_keeps_the_second_picture_where_it_lies(with_second, qtbot, tmp_path):
    with qtbot.waitSignal(with_second.desk.saved):
        with_second.desk.save(tmp_path / "square.samecut")
    found = read_opened(tmp_path / "square.samecut")
    assert found.face == tmp_path / "painted.png"
    assert found.source.face.data == with_second.desk.source.face.data


def test_the_film_page_names_the_films_of_the_second_picture(opened, small, stand_ins, qtbot):
    from core.build import build  # noqa: PLC0415 - slow to import
    from core.shown import shown_of  # noqa: PLC0415

    job = replace(small.job, face="painted.png").with_choice(
        "film.colours", "#2e7d5b film shell; #e0b050 bare"
    )
    source = replace(small.source, face=Source("painted.png", small.source.data))
    opened.desk.take_up(job, source, "painted.png gives the films")
    stand_ins[-1].says(shown_of(build(job, source)))
    qtbot.waitUntil(lambda: not opened.desk.is_old)
    shown, film = opened.film.shown, opened.film
    x, y = shown.layout.shape_at
    width, height = shown.size_mm
    assert film.named_at(film.seen().of(x + 0.1 * width, y + 0.1 * height)) == "film shell · 1 piece"
    assert not film.named_at(film.seen().of(x + 0.5 * width, y + 0.5 * height))
