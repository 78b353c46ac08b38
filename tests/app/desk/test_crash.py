"""A crash in a real second process, and the work offered back by a third."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.hands import LONG_MS

ROOT = Path(__file__).parents[3]
TURTLE = ROOT / "assets" / "demo" / "turtle.png"

WORKS = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from app.desk.start import run_window
from app.desk.window import DeskWindow

made = DeskWindow.__init__

def watched(self, desk, state=None):
    made(self, desk, Path(sys.argv[1]))
    timer = QTimer(self)
    timer.timeout.connect(lambda: look(self))
    timer.start(50)

def look(window):
    if sys.argv[2] == "work":
        work(window)
    elif window.first.offered:
        print(window.first.offered, flush=True)
        window.go_on()
        print(window.desk.job.text("shape.height"), len(window.desk.source.data), flush=True)
        window._is_given_up = True
        window.close()

def work(window):
    if window.desk.source is None:
        return
    if window.desk.job.is_default("shape.height"):
        window.desk.propose("shape.height", "77 mm")
    kept = list(Path(sys.argv[1]).glob("*/kept.samecut"))
    if kept and "77 mm" in kept[0].read_text():
        print("kept", flush=True)

DeskWindow.__init__ = watched
if __name__ == "__main__":
    sys.exit(run_window(sys.argv[3:]))
"""


@pytest.mark.skipif(os.name == "nt", reason="a process is killed by a signal")
def test_what_a_killed_window_had_is_offered_by_the_next_one(tmp_path):
    script, state = tmp_path / "works.py", tmp_path / "state"
    script.write_text(WORKS)
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(ROOT)}
    command = [sys.executable, str(script), str(state)]
    with subprocess.Popen(
        [*command, "work", str(TURTLE)], stdout=subprocess.PIPE, env=environment
    ) as working:
        assert working.stdout.readline() == b"kept\n"
        working.send_signal(signal.SIGKILL)
    assert working.returncode == -signal.SIGKILL
    next_one = subprocess.run(
        [*command, "next"],
        capture_output=True,
        env=environment,
        timeout=LONG_MS / 1000,
        check=False,
        text=True,
    )
    told = [line for line in next_one.stdout.splitlines() if line]
    assert told[:2] == ["Go on with turtle.png", f"77 mm {TURTLE.stat().st_size}"], next_one.stderr
    assert next_one.returncode == 0
