"""The whole window with the real building process: from a picture to a kit, and a real X server."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from tests.support.hands import LONG_MS, built, dropped, file_of

ROOT = Path(__file__).parents[3]
TURTLE = ROOT / "assets" / "demo" / "turtle.png"


def test_a_picture_becomes_a_kit_in_three_actions(whole_window, qtbot, tmp_path):
    shutil.copy(TURTLE, tmp_path / "turtle.png")
    dropped(whole_window, file_of(tmp_path / "turtle.png"))
    built(whole_window, qtbot)
    field = whole_window.popover.controls["shape.height"].field
    qtbot.keyClicks(field, "118")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    built(whole_window, qtbot)
    assert whole_window.desk.shown.size_mm[1] == pytest.approx(118.0)
    qtbot.keyClick(whole_window, Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    with qtbot.waitSignal(whole_window.desk.kit_written, timeout=LONG_MS) as heard:
        qtbot.keyClick(whole_window.popover.go, Qt.Key.Key_Space)
    folder = Path(heard.args[0])
    assert folder == tmp_path / "turtle-118mm-kit"
    report = json.loads((folder / "report.json").read_text())
    assert report["height_mm"] == pytest.approx(118.0)
    assert "from what was asked" in whole_window.popover.proof.text()
    whole_window.close()
    assert not list((tmp_path / "state").glob("*/kept.samecut"))  # the work is in the kit: nothing to offer


def test_a_bad_picture_is_one_sentence(whole_window, qtbot, tmp_path):
    (tmp_path / "bad.png").write_bytes(b"this is no picture")
    with qtbot.waitSignal(whole_window.desk.failed, timeout=LONG_MS):
        dropped(whole_window, file_of(tmp_path / "bad.png"))
    assert "bad.png" in whole_window.notice.text
    assert whole_window.first.isVisible()


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
