"""Figures of the played cut: `python tests/bench/played.py` prints them against what is asked.

The demo alone and a sheet of sixty, in a window of 1600 x 1000. The bit runs at every speed for some hundred
frames; a frame is what the window's thread does for one, painting included, in processor time. Then the bit
is sent from the end to the middle, the dearest way back.
"""

import os
import sys
import time
from pathlib import Path
from tempfile import mkdtemp

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication  # noqa: E402

from app.desk.desk import Desk  # noqa: E402
from app.desk.play import SPEEDS, Play  # noqa: E402
from app.desk.theme import LIGHT, put_on  # noqa: E402
from app.desk.window import DeskWindow  # noqa: E402
from core.job.job import Job, Source  # noqa: E402

FRAMES = 240
SIXTY = {
    "shape.height": "40 mm",
    "stock.copies": "60",
    "stock.width": "600 mm",
    "stock.depth": "500 mm",
    "machine.travel_x": "700 mm",
    "machine.travel_y": "600 mm",
}


def built(window: DeskWindow, choices: dict[str, str]) -> Play:
    """The demo with these choices, on the desk."""
    picture = (ROOT / "assets" / "demo" / "turtle.png").read_bytes()
    job = Job(source="turtle.png")
    for key, text in choices.items():
        job = job.with_choice(key, text)
    window.desk.take_up(job, Source("turtle.png", picture), "opened")
    while window.desk.shown is None or window.desk.is_old or window.desk.shown.is_first_look:
        QApplication.processEvents()
        time.sleep(0.005)
    assert window.spread is not None
    return window.spread.play


def frame(play: Play, second: float) -> float:
    """Processor seconds of one frame at this second of the cut."""
    begun = time.thread_time()
    play.second = second
    play.moved.emit()
    QApplication.processEvents()
    return time.thread_time() - begun


def figures(name: str, play: Play, asked_hz: float) -> None:
    """Frames a second at every speed, and the way back."""
    for speed in SPEEDS:
        play.seek(play.total * 0.3)
        settled(play)
        step = speed / 60.0
        spent = [frame(play, min(play.second + step, play.total)) for _ in range(FRAMES)]
        rate, worst = len(spent) / sum(spent), max(spent)
        verdict = "" if rate >= asked_hz else "   MISSED"
        told = f"{rate:7.0f} frames/s of {asked_hz:.0f}; worst {worst * 1000:5.1f} ms{verdict}"
        print(f"{name}, {speed:3}x: {told}")  # noqa: T201 - what it is for
    play.seek(play.total)
    settled(play)
    begun = time.thread_time()
    longest = frame(play, play.total * 0.99)
    count = 1
    while is_behind():
        longest, count = max(longest, frame(play, play.second)), count + 1
    told = f"{count} frames, longest {longest * 1000:.1f} ms, {1e3 * (time.thread_time() - begun):.0f} in all"
    print(f"{name}, back from the end: {told}")  # noqa: T201 - what it is for


def is_behind() -> bool:
    """Whether the page has not caught up yet."""
    page = next(one for one in QApplication.topLevelWidgets() if isinstance(one, DeskWindow)).spread.part
    return page._cut.is_behind


def settled(play: Play) -> None:
    """Let the page catch up."""
    frame(play, play.second)
    while is_behind():
        frame(play, play.second)


def main() -> None:
    """Both sheets."""
    application = QApplication([])
    put_on(application, LIGHT)
    window = DeskWindow(Desk(), Path(mkdtemp()))
    window.resize(1600, 1000)
    window.show()
    while window.spread is None:
        QApplication.processEvents()
    figures("the demo", built(window, {"shape.height": "118 mm"}), 60.0)
    figures("sixty", built(window, SIXTY), 30.0)
    window.close()
    window.close()


if __name__ == "__main__":
    main()
