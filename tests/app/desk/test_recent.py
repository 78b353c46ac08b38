"""Recent work: remembered with a picture, offered on the empty page and on a card, opened by a press."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QFileDialog

from app.desk.recent import MOST, forget, recents, remember
from app.desk.thumbnail import thumbnail
from app.opened import opened as read_opened
from core.job.saved import PictureEntry, write_job
from tests.support.hands import answers, dropped, file_of, saves

LEFT = Qt.MouseButton.LeftButton
PNG = b"\x89PNG"


def test_the_newest_comes_first_and_no_work_twice(tmp_path):
    for name in ("a.png", "b.png", "a.png"):
        remember(tmp_path, tmp_path / name, name, name, PNG)
    assert [one.words for one in recents(tmp_path)] == ["a.png", "b.png"]


def test_a_job_takes_the_place_of_its_bare_picture_and_keeps_it(tmp_path):
    remember(tmp_path, tmp_path / "a.png", "picture", "digest", PNG)
    remember(tmp_path, tmp_path / "a.samecut", "job", "digest", PNG)
    remember(tmp_path, tmp_path / "a.png", "picture", "digest", PNG)
    assert [one.words for one in recents(tmp_path)] == ["job"]


def test_the_list_stays_short_and_pictures_of_what_fell_off_go(tmp_path):
    for number in range(MOST + 3):
        remember(tmp_path, tmp_path / f"{number}.png", str(number), str(number), PNG)
    assert len(recents(tmp_path)) == MOST
    assert len(list((tmp_path / "recent").glob("*.png"))) == MOST
    forget(tmp_path, tmp_path / f"{MOST}.png")
    assert str(MOST) not in [one.words for one in recents(tmp_path)]


@pytest.mark.parametrize("text", ["", "nonsense", "{}", '[1, {"path": 3}]', '[{"path": ""}]', "\xff"])
def test_a_list_that_makes_no_sense_is_an_empty_one(tmp_path, text):
    (tmp_path / "recent").mkdir()
    (tmp_path / "recent" / "list.json").write_bytes(text.encode("latin-1"))
    assert recents(tmp_path) == ()


def test_the_small_picture_shows_part_and_films_on_nothing(themed, small):  # noqa: ARG001 - draws
    image = QImage.fromData(thumbnail(small.shown))
    assert image.pixelColor(0, 0).alpha() == 0
    colours = {
        image.pixelColor(x, y).name() for x in range(0, image.width(), 4) for y in range(0, image.height(), 4)
    }
    assert {film.colour for film in small.shown.films.films} <= colours


@pytest.fixture
def on_disk(tmp_path, small):
    """The small picture and a Job of it, in files."""
    folder = tmp_path / "work"
    folder.mkdir()
    (folder / small.source.name).write_bytes(small.source.data)
    entry = PictureEntry(small.source.name, small.source.digest)
    (folder / "square.samecut").write_text(write_job(small.job, entry))
    return folder


def brought(window, stand_ins, small, path, qtbot):
    with qtbot.waitSignal(window.desk.job_changed):
        dropped(window, file_of(path))
    answers(window, stand_ins[-1], small.shown, qtbot)
    qtbot.waitUntil(lambda: not window.desk.errands.are_running)


def test_what_was_opened_is_offered_by_the_next_window_and_opens_by_a_press(
    window, stand_ins, small, on_disk, qtbot, tmp_path
):
    brought(window, stand_ins, small, on_disk / "square.samecut", qtbot)
    (told,) = recents(tmp_path / "state")
    assert (told.path, told.words) == (on_disk / "square.samecut", "square, 80 mm")
    assert not QImage(str(told.picture)).isNull()
    window.doors.begin(tmp_path / "state")
    qtbot.waitUntil(lambda: len(window.first.recent.buttons) == 1)
    button = window.first.recent.buttons[0]
    assert "square, 80 mm" in button.accessibleName()
    with qtbot.waitSignal(window.desk.job_changed):
        button.click()
    assert window.desk.home.job == on_disk / "square.samecut"


def test_recent_work_comes_on_a_card_by_one_key(window, stand_ins, small, on_disk, qtbot):
    brought(window, stand_ins, small, on_disk / "square.samecut", qtbot)
    both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    qtbot.keyClick(window, Qt.Key.Key_O, both)
    qtbot.waitUntil(lambda: window.popover is not None and window.popover.heading.text() == "Recent work")
    (button,) = window.popover.row.buttons
    qtbot.waitUntil(button.hasFocus)
    with qtbot.waitSignal(window.desk.job_changed):
        qtbot.keyClick(button, Qt.Key.Key_Return)


def test_delete_takes_work_off_the_list_and_leaves_the_file(
    window, stand_ins, small, on_disk, qtbot, tmp_path
):
    brought(window, stand_ins, small, on_disk / "square.samecut", qtbot)
    window.doors.show_recent()
    qtbot.waitUntil(lambda: window.popover is not None)
    qtbot.keyClick(window.popover.row.buttons[0], Qt.Key.Key_Delete)
    qtbot.waitUntil(lambda: recents(tmp_path / "state") == ())
    assert (on_disk / "square.samecut").exists()


def test_a_kit_that_was_written_is_remembered_by_the_job_in_it(at_work, stand_ins, qtbot, tmp_path):
    from core.kit.kit import Kit  # noqa: PLC0415 - with the window

    report = {"files": [{"role": "job", "path": "turtle-118mm.samecut"}]}
    at_work.desk.write_kit(tmp_path / "kit")
    with qtbot.waitSignal(at_work.desk.kit_written):
        stand_ins[-1].says(Kit({"a.txt": b"a"}, report, ()))
    qtbot.waitUntil(lambda: len(recents(tmp_path / "state")) == 1)
    assert recents(tmp_path / "state")[0].path == tmp_path / "kit" / "turtle-118mm.samecut"


# a picture that is away


@pytest.fixture
def lost(window, on_disk, qtbot, small):
    """The window after a Job was dropped whose picture lies far away."""
    away = on_disk.parent / "far" / "away" / "renamed.png"
    away.parent.mkdir(parents=True)
    (on_disk / small.source.name).rename(away)
    with qtbot.waitSignal(window.desk.picture_lost):
        dropped(window, file_of(on_disk / "square.samecut"))
    return window, away


def test_a_lost_picture_is_asked_for_and_found_where_the_maker_shows_it(lost, monkeypatch, qtbot, small):
    window, away = lost
    assert window.popover.heading.text() == "Where is the picture?"
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(away), ""))
    with qtbot.waitSignal(window.desk.job_changed):
        qtbot.keyClick(window.popover.show_it, Qt.Key.Key_Space)
    assert window.desk.source.data == small.source.data
    assert window.desk.home.picture == away
    assert window.desk.home.job.name == "square.samecut"


def test_a_lost_picture_may_be_dropped_on_the_question(lost, qtbot):
    window, away = lost
    with qtbot.waitSignal(window.desk.job_changed):
        dropped(window, file_of(away))
    assert window.desk.home.job.name == "square.samecut"
    assert window.popover is None or window.popover.heading.text() != "Where is the picture?"


def test_another_picture_is_refused_and_asked_for_again(lost, qtbot, tmp_path):
    window, _ = lost
    (tmp_path / "other.png").write_bytes(b"another")
    with qtbot.waitSignal(window.desk.picture_lost):
        dropped(window, file_of(tmp_path / "other.png"))
    assert window.desk.source is None
    assert window.popover.heading.text() == "Where is the picture?"


def test_what_was_shown_is_kept_when_the_job_is_saved(lost, qtbot):
    window, away = lost
    with qtbot.waitSignal(window.desk.job_changed):
        dropped(window, file_of(away))
    saves(window, qtbot)
    again = read_opened(window.desk.home.job)
    assert again.picture.resolve() == away.resolve()


# other work in the place of unsaved work


def test_unsaved_work_is_asked_about_before_other_work_takes_its_place(at_work, qtbot, on_disk):
    before = at_work.desk.job
    dropped(at_work, file_of(on_disk / "square.png"))
    qtbot.waitUntil(lambda: at_work.popover is not None)
    assert at_work.popover.heading.text() == "Before you go"
    qtbot.keyClick(at_work.popover, Qt.Key.Key_Escape)
    assert at_work.desk.job == before
    dropped(at_work, file_of(on_disk / "square.png"))
    qtbot.waitUntil(lambda: at_work.popover is not None)
    with qtbot.waitSignal(at_work.desk.job_changed):
        at_work.popover.leave.click()
    assert at_work.desk.source.name == "square.png"
    at_work.desk.undo()
    assert at_work.desk.job == before  # it is one step back
    with qtbot.waitSignal(at_work.desk.job_changed):
        dropped(at_work, file_of(on_disk / "square.png"))  # and is not asked about again


def test_work_is_saved_first_where_the_maker_wants_it(at_work, monkeypatch, qtbot, on_disk, tmp_path):
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "kept"), ""))
    dropped(at_work, file_of(on_disk / "square.png"))
    qtbot.waitUntil(lambda: at_work.popover is not None)
    with qtbot.waitSignal(at_work.desk.saved):
        at_work.popover.save.click()
    qtbot.waitUntil(lambda: at_work.desk.source.name == "square.png")
    assert "118 mm" in (tmp_path / "kept.samecut").read_text()


def test_nothing_comes_where_saving_was_given_up(at_work, monkeypatch, qtbot, on_disk):
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("", ""))
    dropped(at_work, file_of(on_disk / "square.png"))
    qtbot.waitUntil(lambda: at_work.popover is not None)
    at_work.popover.save.click()
    assert at_work.desk.source.name == "turtle.png"
