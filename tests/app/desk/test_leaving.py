"""Work that is never lost: kept, saved, asked about once, offered again."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog

from app.desk.keeping import Keeper
from app.desk.window import DeskWindow
from app.opened import opened as read_opened
from core.job.job import Job
from tests.support.hands import saves

LEFT = Qt.MouseButton.LeftButton


def test_closing_twice_with_unsaved_work_leaves_it_for_the_next_window(at_work, tmp_path):
    at_work.close()
    assert at_work.isVisible()
    at_work.close()
    assert not at_work.isVisible()
    left = Keeper(tmp_path / "state").left()
    assert left.job == at_work.desk.job


def test_the_next_window_offers_what_was_left_and_goes_on_with_it(desk, turtle, qtbot, tmp_path):
    job = Job(source="turtle.png").with_choice("shape.height", "77 mm")
    keeper = Keeper(tmp_path / "state")
    keeper.keep(job, turtle)
    keeper.close(is_done=False)
    window = DeskWindow(desk, tmp_path / "state")
    qtbot.addWidget(window)
    window.show()
    qtbot.waitUntil(lambda: bool(window.first.offered))
    assert window.first.offered == "Go on with turtle.png"
    window.first._kept.click()
    assert desk.job == job
    qtbot.waitUntil(lambda: not desk.errands.are_running)
    assert len(list((tmp_path / "state").iterdir())) == 1
    window.close()
    window.close()


def test_a_change_is_kept_within_five_seconds(at_work, qtbot, tmp_path):
    at_work.desk.propose("bit.diameter", "1 mm")
    assert at_work._keep_timer.isActive()
    assert at_work._keep_timer.remainingTime() < 5000
    at_work._keep_timer.timeout.emit()
    qtbot.waitUntil(lambda: not at_work.desk.errands.are_running)
    (folder,) = (tmp_path / "state").iterdir()
    assert 'diameter = "1 mm"' in (folder / "kept.samecut").read_text()


@pytest.fixture
def says_where(monkeypatch, tmp_path):
    """The file that the maker names when asked where to save; counts how often that was."""
    asked = []

    def name(_window, _title, proposed, _kinds):
        asked.append(Path(proposed))
        return str(tmp_path / "work" / "hanger"), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", name)
    (tmp_path / "work").mkdir()
    return asked


def test_ctrl_s_asks_where_once_and_what_was_saved_opens_as_it_was(at_work, says_where, qtbot, tmp_path):
    assert at_work.isWindowModified()
    saves(at_work, qtbot)
    assert not at_work.isWindowModified()
    assert at_work.windowTitle().startswith("hanger")
    at_work.desk.propose("shape.height", "90 mm")
    assert at_work.isWindowModified()
    saves(at_work, qtbot)
    assert len(says_where) == 1
    assert says_where[0].name == "turtle.samecut"
    again = read_opened(tmp_path / "work" / "hanger.samecut")
    assert again.job == at_work.desk.job
    assert again.source.data == at_work.desk.source.data


def test_ctrl_shift_s_asks_again(at_work, says_where, qtbot):
    saves(at_work, qtbot)
    saves(at_work, qtbot, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert len(says_where) == 2


def test_undo_to_what_was_saved_has_nothing_left_to_save(at_work, says_where, qtbot):  # noqa: ARG001
    saves(at_work, qtbot)
    at_work.desk.propose("shape.height", "90 mm")
    at_work.desk.undo()
    assert not at_work.isWindowModified()


def test_unsaved_work_is_asked_about_and_saved_before_the_window_goes(at_work, says_where, qtbot, tmp_path):
    at_work.close()
    assert at_work.isVisible()
    with qtbot.waitSignal(at_work.desk.saved):
        at_work.popover.save.click()
    qtbot.waitUntil(lambda: not at_work.isVisible())
    assert len(says_where) == 1
    assert (tmp_path / "work" / "hanger.samecut").exists()
    assert Keeper(tmp_path / "state").left() is None


def test_unsaved_work_that_is_given_up_is_not_offered_again(at_work, tmp_path):
    at_work._keep()
    at_work.close()
    at_work.popover.leave.click()
    assert not at_work.isVisible()
    assert Keeper(tmp_path / "state").left() is None


def test_escape_stays_and_the_next_close_asks_again(at_work, qtbot):
    at_work.close()
    qtbot.keyClick(at_work.popover, Qt.Key.Key_Escape)
    at_work.close()
    assert at_work.isVisible()
    assert at_work.popover is not None
