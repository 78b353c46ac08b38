"""Pieces of film: chosen by a press, left out and taken in again, joined, given to another film."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from core.build import build
from core.shown import shown_of


def middle(opened):
    """A place on the disc in the square's middle, frame."""
    x, y = opened.part.shown.layout.shape_at
    width, height = opened.part.shown.size_mm
    return x + width / 2.0, y + height / 2.0


def press(opened, point):
    page = opened.film
    QTest.mouseClick(page, Qt.MouseButton.LeftButton, pos=page.seen().of(*point).toPoint())


@pytest.fixture
def built_again(opened, small, shows, qtbot):
    """Build the Job as it is now, and show it."""

    def do():
        shown = shown_of(build(opened.desk.job, small.source))
        shows(small, shown)
        qtbot.waitUntil(lambda: opened.film.shown is shown)

    return do


def test_a_chosen_piece_is_left_out_and_taken_in_again(opened, built_again):
    press(opened, middle(opened))
    pieces = opened.film._pieces
    names = [film.name for film in opened.film.shown.films.films]
    disc = pieces.pieces[pieces.chosen]
    QTest.keyClick(opened.film, Qt.Key.Key_Delete)
    (px,) = opened.desk.job.film.dropped
    assert max(abs(px[0] - 80.0), abs(px[1] - 80.0)) < 21.0  # px: the disc
    assert opened.desk.undo_words == f"piece of film {disc.film} left out"
    built_again()
    left = [film.name for film in opened.film.shown.films.films]
    assert left == [name for name in names if name != disc.film]


def test_a_piece_that_a_hand_left_out_is_taken_in_by_its_ring(opened, small, shows):
    shown = small.shown
    wide = shown.films.films[0]
    at = middle(opened)
    px = shown.place.back(at)
    from core.decal.left_out import DroppedPiece  # noqa: PLC0415

    films = (replace(wide, dropped=(DroppedPiece((at[0] - 30.0, at[1]), 4.0),)), *shown.films.films[1:])
    where = shown.place.back((at[0] - 30.0, at[1]))
    opened.desk.propose_value("film.dropped", (where, px), "two left out")
    empty = replace(shown.films, films=tuple(replace(one, regions=()) for one in films))
    shows(small, replace(shown, job=opened.desk.job, films=empty))
    press(opened, (at[0] - 30.0, at[1]))
    assert "Delete takes it in" in opened.film._pieces.said_of(opened.film._pieces.chosen)
    QTest.keyClick(opened.film, Qt.Key.Key_Delete)
    assert opened.desk.job.film.dropped == (px,)


def test_a_piece_is_joined_by_a_key(opened):
    press(opened, middle(opened))
    QTest.keyClick(opened.film, Qt.Key.Key_J)
    assert len(opened.desk.job.film.joined) == 1
    assert "joined" in opened.desk.undo_words


def test_a_patch_is_given_to_the_next_film(opened, built_again):
    before = [film.name for film in opened.film.shown.films.films]
    press(opened, middle(opened))
    own = opened.film._pieces.pieces[opened.film._pieces.chosen].film
    QTest.keyClick(opened.film, Qt.Key.Key_F)
    (wish,) = opened.desk.job.shape.patches
    assert wish.film in before
    assert wish.film != own
    built_again()
    assert [film.name for film in opened.film.shown.films.films] == [wish.film]


def test_a_press_beside_all_film_chooses_nothing_and_keys_do_nothing(opened):
    press(opened, middle(opened))
    assert opened.film._pieces.chosen is not None
    press(opened, (-300.0, -300.0))
    assert opened.film._pieces.chosen is None
    QTest.keyClick(opened.film, Qt.Key.Key_Delete)
    assert opened.desk.job.film.dropped == ()


def test_return_goes_from_piece_to_piece_and_says_so(opened, qtbot):
    with qtbot.waitSignal(opened.view.told) as said:
        QTest.keyClick(opened.film, Qt.Key.Key_Return)
    assert said.args[0].startswith("film ")
    first = opened.film._pieces.chosen
    QTest.keyClick(opened.film, Qt.Key.Key_Return)
    assert opened.film._pieces.chosen != first


def test_on_a_sheet_of_copies_a_piece_is_found_on_each(opened, small, shows, qtbot):
    job = small.job.with_choice("stock.copies", "2")
    shown = shown_of(build(job, small.source))
    opened.desk.propose_job(job, "two")
    shows(small, shown)
    qtbot.waitUntil(lambda: opened.film.shown is shown)
    (x, y), at = shown.layout.copies[1].at, middle(opened)
    pieces = opened.film._pieces
    there = (at[0] + x, at[1] + y) if not shown.layout.copies[1].is_turned else (x - at[0], y - at[1])
    assert pieces.at(there) == pieces.at(at) is not None
