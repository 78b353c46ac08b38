"""A second picture in the window: dropped with Shift, taken away, shown, saved. The process is a stand-in."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from app.desk.cards import card_named
from app.desk.second_row import SecondRow
from app.opened import opened as read_opened
from core.job.job import Source
from tests.support.hands import SHIFT, dropped, file_of

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def filled(window, small):
    """The window with the small picture on its desk, and nothing built yet."""
    window.desk.take_up(small.job, small.source, "square.png opened")
    return window


def answered(filled, stand_ins, small, qtbot):
    stand_ins[-1].says(small.shown)
    qtbot.waitUntil(lambda: filled.desk.shown is not None and not filled.desk.is_old)


@pytest.fixture
def with_second(filled, stand_ins, qtbot, tmp_path, small):
    (tmp_path / "painted.png").write_bytes(small.source.data)
    with qtbot.waitSignal(filled.desk.job_changed):
        dropped(filled, file_of(tmp_path / "painted.png"), SHIFT)
    answered(filled, stand_ins, small, qtbot)
    return filled


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


def test_a_second_picture_without_a_first_is_opened_as_the_first(window, stand_ins, qtbot, tmp_path, small):
    (tmp_path / "a.png").write_bytes(small.source.data)
    with qtbot.waitSignal(window.desk.job_changed):
        dropped(window, file_of(tmp_path / "a.png"), SHIFT)
    answered(window, stand_ins, small, qtbot)
    assert window.desk.source.name == "a.png"
    assert window.desk.source.face is None


def test_a_second_picture_that_cannot_be_read_changes_nothing(filled, qtbot, tmp_path):
    (tmp_path / "empty.png").write_bytes(b"")
    with qtbot.waitSignal(filled.desk.failed):
        dropped(filled, file_of(tmp_path / "empty.png"), SHIFT)
    assert filled.desk.source.face is None


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
    assert film.named_at(film.seen().of(x + 0.1 * width, y + 0.1 * height)).startswith(
        "film shell · piece of "
    )
    assert not film.named_at(film.seen().of(x + 0.5 * width, y + 0.5 * height))
