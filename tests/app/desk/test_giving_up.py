"""What takes long can be stopped: a build, a new picture, a kit; what was there before stays."""

import pytest
from PySide6.QtCore import Qt

from core.job.job import Source

LEFT = Qt.MouseButton.LeftButton


def stopped(window, qtbot):
    """Press stop, as soon as it is offered."""
    window.status._long.timeout.emit()
    assert window.status.stop.isVisible()
    qtbot.mouseClick(window.status.stop, LEFT)
    assert window.status.stop.isHidden()
    assert not window.desk.can_be_given_up


@pytest.fixture
def busy(at_work, stand_ins, qtbot):
    """A change whose look is being made."""
    at_work.desk.propose("bit.diameter", "1 mm")
    stand_ins[-1].tells("path")
    qtbot.waitUntil(lambda: at_work.status._stage != "")
    return at_work


def test_what_is_quick_offers_nothing_to_stop(busy):
    assert busy.status.stop.isHidden()
    assert busy.status._long.isActive()


def test_a_build_that_is_stopped_leaves_the_last_one_marked_old_and_the_choice_as_it_is(busy, qtbot):
    shown = busy.desk.shown
    stopped(busy, qtbot)
    assert busy.desk.shown is shown
    assert busy.desk.is_stuck
    assert busy.desk.job.text("bit.diameter") == "1 mm"


def test_after_stopping_the_next_change_is_built(busy, stand_ins, qtbot):
    stopped(busy, qtbot)
    asked = len(stand_ins[-1].asked)
    busy.desk.propose("bit.diameter", "1.5 mm")
    assert len(stand_ins[-1].asked) == asked + 1
    assert not busy.desk.is_stuck


def test_a_picture_that_is_stopped_goes_off_the_desk_again(window, stand_ins, qtbot):
    window.doors.open(Source("large.png", b"of many pixels"))
    stand_ins[-1].tells("trace")
    qtbot.waitUntil(lambda: window.status._stage != "")
    stopped(window, qtbot)
    assert window.desk.source is None
    assert window.first.isVisible()


def test_a_kit_that_is_stopped_is_not_written_and_the_pages_come_back(at_work, stand_ins, qtbot, tmp_path):
    at_work.desk.write_kit(tmp_path / "kit")
    stand_ins[-1].tells("proof")
    qtbot.waitUntil(lambda: at_work.status._stage != "")
    at_work.status._long.timeout.emit()
    qtbot.mouseClick(at_work.status.stop, LEFT)
    assert not at_work.desk.is_writing
    assert not at_work.desk.is_old
    assert not at_work.desk.can_be_given_up
    assert not (tmp_path / "kit").exists()
