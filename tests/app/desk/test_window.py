"""The window as a whole: layers by one key, true size, the kit."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from app.worker import Wanted
from core.kit.kit import Kit

LEFT = Qt.MouseButton.LeftButton


def test_the_picture_is_shown_and_put_away_by_one_key(at_work, qtbot):
    for wanted in (True, False):
        qtbot.keyClick(at_work, Qt.Key.Key_P)
        assert at_work.spread.view.has_picture is wanted


def test_the_kit_is_written_where_it_is_told_and_the_proof_is_shown(at_work, stand_ins, qtbot, tmp_path):
    qtbot.keyClick(at_work, Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    place = at_work.popover.findChild(QLineEdit)
    assert Path(place.text()).name == "turtle-118mm-kit"
    place.setText(str(tmp_path / "kit"))
    qtbot.mouseClick(at_work.popover.go, LEFT)
    assert stand_ins[-1].asked[-1][0] is Wanted.KIT
    assert stand_ins[-1].over[-1] == tmp_path / "kit"
    since = {"changed": [{"name": "sheet", "was": 3.0, "now": 2.8}], "earlier_tabs_mm": [0.8, 0.6]}
    report = {"readback": {"mark_error_mm": 0.0}, "files": [], "since": since}
    with qtbot.waitSignal(at_work.desk.kit_written):
        stand_ins[-1].says(Kit({"a.txt": b"a"}, report, ()))
    assert "sheet was 3, now 2.8" in at_work.popover.since
    assert "use the new one" in at_work.popover.since
    assert (tmp_path / "kit" / "a.txt").is_file()
    assert "marks by 0.000 mm" in at_work.popover.proof.text()


def test_the_pages_at_true_size_say_so_and_a_press_sets_it_by_a_bank_card(at_work, qtbot):
    status = at_work.status
    assert status.scale.text().endswith("true size")
    at_work.spread.part.setFocus()
    qtbot.keyClick(at_work.spread.part, Qt.Key.Key_T)
    assert status.scale.text() == "true size"
    status.scale.click()
    assert at_work.popover.heading.text() == "True size"
    at_work.popover.wider.click()
    assert status.scale.text() == "true size"
