"""The whole window with the real building process: from a picture to a kit, a monkey, and a real X server."""

import json
import os
import random
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QWheelEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit

from app.desk.desk import Desk
from app.desk.window import DeskWindow
from app.worker import Worker

ROOT = Path(__file__).parents[3]
TURTLE = ROOT / "assets" / "demo" / "turtle.png"
LONG_MS = 60_000
LEFT = Qt.MouseButton.LeftButton
#: Not pressed by the monkey: they open a window of the system's own, or another program.
NOT_FOR_MONKEYS = ("Open one…", "Another picture…", "choose…", "Open the folder", "Write")


@pytest.fixture
def window(themed, _nothing_is_left, qtbot, tmp_path):  # noqa: ARG001 - both stand round it
    made = DeskWindow(Desk(Worker), tmp_path / "state")
    qtbot.addWidget(made)
    made.show()
    qtbot.waitActive(made).__enter__()
    yield made
    made.close()
    made.close()  # the first time it asks about unsaved work


def dropped(window, path):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    none, copy = Qt.KeyboardModifier.NoModifier, Qt.DropAction.CopyAction
    QApplication.sendEvent(window, QDragEnterEvent(QPoint(400, 400), copy, data, LEFT, none))
    QApplication.sendEvent(window, QDropEvent(QPointF(400, 400), copy, data, LEFT, none))


def built(window, qtbot):
    def is_built():
        assert window.notice.text == ""
        assert window.desk.shown is not None
        assert not window.desk.is_old

    qtbot.waitUntil(is_built, timeout=LONG_MS)


def test_a_picture_becomes_a_kit_in_three_actions(window, qtbot, tmp_path):
    shutil.copy(TURTLE, tmp_path / "turtle.png")
    dropped(window, tmp_path / "turtle.png")
    built(window, qtbot)
    field = window.popover.controls["shape.height"].field
    qtbot.keyClicks(field, "118")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    built(window, qtbot)
    assert window.desk.shown.size_mm[1] == pytest.approx(118.0)
    qtbot.keyClick(window, Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    with qtbot.waitSignal(window.desk.kit_written, timeout=LONG_MS) as heard:
        qtbot.keyClick(window.popover.go, Qt.Key.Key_Space)
    folder = Path(heard.args[0])
    assert folder == tmp_path / "turtle-118mm-kit"
    report = json.loads((folder / "report.json").read_text())
    assert report["height_mm"] == pytest.approx(118.0)
    assert "from what was asked" in window.popover.proof.text()
    window.close()
    assert not list((tmp_path / "state").glob("*/kept.samecut"))  # the work is in the kit: nothing to offer


def test_a_bad_picture_is_one_sentence(window, qtbot, tmp_path):
    (tmp_path / "bad.png").write_bytes(b"this is no picture")
    with qtbot.waitSignal(window.desk.failed, timeout=LONG_MS):
        dropped(window, tmp_path / "bad.png")
    assert "bad.png" in window.notice.text
    assert window.first.isVisible()


class Monkey:
    """Presses, types, drags, turns wheels and undoes at random, from a seed."""

    def __init__(self, window, qtbot, seed):
        self.window, self.qtbot, self.dice = window, qtbot, random.Random(seed)  # noqa: S311 - a test

    def act(self):
        self.dice.choice((self.press, self.type, self.drag, self.turn, self.key, self.undo, self.resize))()
        QApplication.processEvents()

    def press(self):
        buttons = [
            one
            for one in self.window.findChildren(QAbstractButton)
            if one.isVisible() and one.isEnabled() and one.text() not in NOT_FOR_MONKEYS
        ]
        self.qtbot.mouseClick(self.dice.choice(buttons), LEFT)

    def type(self):
        fields = [one for one in self.window.findChildren(QLineEdit) if one.isVisible()]
        if fields and self.window.desk.is_writing is False:
            field = self.dice.choice(fields)
            field.setFocus()
            field.selectAll()
            self.qtbot.keyClicks(field, self.dice.choice(("60", "80 mm", "3 in", "x", "-1", "1e9", "2", "")))
            if field.accessibleName() != "folder for the kit":
                self.qtbot.keyClick(field, Qt.Key.Key_Return)

    def drag(self):
        page = self.page()
        begin, end = self.spot(page), self.spot(page)
        self.qtbot.mousePress(page, LEFT, pos=begin)
        self.qtbot.mouseMove(page, (begin + end) / 2)
        self.qtbot.mouseMove(page, end)
        self.qtbot.mouseRelease(page, LEFT, pos=end)

    def turn(self):
        page = self.page()
        at = QPointF(self.spot(page))
        none = Qt.KeyboardModifier.NoModifier
        up, phase = QPoint(0, self.dice.choice((-240, 120))), Qt.ScrollPhase.NoScrollPhase
        QApplication.sendEvent(
            page, QWheelEvent(at, at, QPoint(), up, Qt.MouseButton.NoButton, none, phase, False)
        )

    def key(self):
        keys = (Qt.Key.Key_P, Qt.Key.Key_0, Qt.Key.Key_Tab, Qt.Key.Key_Escape, Qt.Key.Key_Slash)
        keys += (Qt.Key.Key_F6, Qt.Key.Key_Delete, Qt.Key.Key_Left, Qt.Key.Key_T, Qt.Key.Key_F1)
        target = QApplication.focusWidget() or self.window
        self.qtbot.keyClick(target, self.dice.choice(keys))

    def undo(self):
        self.dice.choice((self.window.desk.undo, self.window.desk.undo, self.window.desk.redo))()

    def resize(self):
        self.window.resize(self.dice.randint(1100, 1700), self.dice.randint(700, 1000))

    def page(self):
        spread = self.window.spread
        return self.dice.choice((spread.part, spread.film, spread.spine, spread.depth_strip))

    def spot(self, page):
        return QPoint(self.dice.randrange(page.width()), self.dice.randrange(page.height()))


def test_a_monkey_finds_no_way_to_break_it(window, qtbot, whole):
    window.doors.open_demo()
    built(window, qtbot)
    monkey = Monkey(window, qtbot, 20)
    for _ in range(3000 if whole else 500):
        monkey.act()
    qtbot.waitUntil(lambda: not window.status.doing or window.notice.text != "", timeout=LONG_MS)
    assert "mistake of its own" not in window.notice.text


REAL = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from app.desk.window import DeskWindow
from app.desk.start import run_window

def looked(window):
    if window.desk.shown is None or not window.isVisible():
        return
    grabbed = window.screen().grabWindow(0)
    grabbed.save(sys.argv[2])
    print(QApplication.platformName(), window.spread.isVisible(), grabbed.width() > 500, flush=True)
    window.close()

made = DeskWindow.__init__

def watched(self, desk, state=None):
    made(self, desk, Path(sys.argv[3]))
    timer = QTimer(self)
    timer.timeout.connect(lambda: looked(self))
    timer.start(300)

DeskWindow.__init__ = watched
if __name__ == "__main__":
    sys.exit(run_window([sys.argv[1]]))
"""


@pytest.mark.skipif(shutil.which("xvfb-run") is None, reason="needs xvfb")
def test_it_opens_a_picture_on_a_real_x_server(tmp_path):
    (tmp_path / "real.py").write_text(REAL)
    environment = {**os.environ, "QT_QPA_PLATFORM": "xcb", "PYTHONPATH": str(ROOT)}
    command = ["xvfb-run", "-a", "-s", "-screen 0 1400x900x24", sys.executable, str(tmp_path / "real.py")]
    done = subprocess.run(
        [*command, str(TURTLE), str(tmp_path / "x.png"), str(tmp_path / "state")],
        env=environment,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.stdout.split() == ["xcb", "True", "True"], done.stderr
    assert done.stderr == ""
