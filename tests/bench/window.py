"""Figures of the window: `python tests/bench/window.py` prints them against what is asked.

1. Process start to usable: seven fresh processes, from before they are made to the first turn of the loop
   after the window is shown; median.
2. A picture dropped to its first proposal on both pages, painted; the building process warm.
3. The height changed: to the scaled pages, painted; to the true pages, painted.
4. The longest block of the event loop, by a timer of 1 ms: during a Build, and while a tab is dragged.
"""

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path
from tempfile import mkdtemp

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QElapsedTimer, QEvent, QEventLoop, QPointF, Qt, QTimer  # noqa: E402
from PySide6.QtGui import QMouseEvent  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from app.desk.desk import Desk  # noqa: E402
from app.desk.theme import LIGHT, put_on  # noqa: E402
from app.desk.window import DeskWindow  # noqa: E402

HEAVY = ("numpy", "cv2", "shapely", "scipy", "ezdxf")
STARTS = 7


def start() -> None:
    """The child: say when the window was usable, and what was imported before it was shown."""
    from app.desk.start import run_window  # noqa: PLC0415 - timed

    started = DeskWindow._start

    def timed(window: DeskWindow) -> None:
        heavy = [name for name in HEAVY if name in sys.modules]
        started(window)
        QTimer.singleShot(0, window, lambda: said(window, heavy))

    def said(window: DeskWindow, heavy: list[str]) -> None:
        print(time.monotonic(), *heavy, flush=True)  # noqa: T201 - this is what it is for
        window.close()
        QApplication.quit()

    DeskWindow._start = timed  # type: ignore[method-assign]
    run_window([])


def start_seconds() -> float:
    """One fresh process, s."""
    begun = time.monotonic()
    state = {"XDG_STATE_HOME": mkdtemp()}
    done = subprocess.run(
        [sys.executable, __file__, "start"], capture_output=True, check=True, env=os.environ | state
    )
    when, *heavy = done.stdout.decode().split()
    assert not heavy, heavy
    return float(when) - begun


class Loop:
    """Turns the event loop and knows the longest time that it stood still."""

    def __init__(self) -> None:
        self.longest = self.last = 0.0
        self.timer = QTimer()
        self.timer.setTimerType(Qt.TimerType.PreciseTimer)
        self.timer.timeout.connect(self._tick)
        self.timer.start(1)

    def _tick(self) -> None:
        now = time.perf_counter()
        self.longest, self.last = max(self.longest, now - self.last), now

    def reset(self) -> None:
        """Forget what was."""
        self.longest, self.last = 0.0, time.perf_counter()

    def until(self, is_done: object, longest_s: float = 60.0) -> float:
        """Turn until it is; s."""
        clock = QElapsedTimer()
        clock.start()
        while not is_done() and clock.elapsed() < longest_s * 1000:  # type: ignore[operator]
            QApplication.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)  # as a window waits
        return clock.nsecsElapsed() / 1e9


def painted(window: DeskWindow) -> None:
    """Paint both pages now."""
    assert window.spread is not None
    for page in (window.spread.part, window.spread.film):
        page.repaint()


def build_figures(window: DeskWindow, loop: Loop) -> None:
    """Drop, height, and the longest block meanwhile."""
    desk = window.desk
    loop.reset()
    begun = time.perf_counter()
    window.doors.open_demo()
    loop.until(lambda: desk.shown is not None)
    painted(window)
    tell("picture dropped to first proposal", time.perf_counter() - begun, 1.0)
    loop.until(lambda: desk.shown is not None and not desk.shown.is_first_look)
    painted(window)
    print(f"{'  to the exact one':42} {(time.perf_counter() - begun) * 1000:7.0f} ms", flush=True)  # noqa: T201
    tell("  longest block meanwhile", loop.longest, 0.05)
    for height in ("118 mm", "90 mm", "125 mm"):
        loop.reset()
        begun = time.perf_counter()
        desk.propose("shape.height", height)
        painted(window)
        tell(f"height {height}: scaled pages", time.perf_counter() - begun, 0.1)
        loop.until(lambda: not desk.is_old or bool(window.notice.text))
        if window.notice.text:
            print(f"height {height}: {window.notice.text}", flush=True)  # noqa: T201 - what it is for
            return
        painted(window)
        tell(f"height {height}: true pages", time.perf_counter() - begun, 0.5)
        tell("  longest block meanwhile", loop.longest, 0.05)


def drag_figures(window: DeskWindow, loop: Loop) -> None:
    """A tab dragged along the edge, in steps of a few px."""
    shown, spread = window.desk.shown, window.spread
    assert shown is not None
    assert spread is not None
    at = spread.part.seen().of(*shown.path.tabs[0].at)
    mouse(spread.part, QEvent.Type.MouseMove, at, Qt.MouseButton.NoButton)
    mouse(spread.part, QEvent.Type.MouseButtonPress, at, Qt.MouseButton.LeftButton)
    longest = 0.0
    for step in range(60):
        begun = time.perf_counter()
        mouse(spread.part, QEvent.Type.MouseMove, at + QPointF(step * 0.7, step), Qt.MouseButton.LeftButton)
        QApplication.processEvents()
        longest = max(longest, time.perf_counter() - begun)
    mouse(spread.part, QEvent.Type.MouseButtonRelease, at + QPointF(40, 60), Qt.MouseButton.LeftButton)
    tell("a tab dragged: longest step, painted", longest, 0.016)
    loop.reset()
    loop.until(lambda: not window.desk.is_old)
    tell("  longest block while it is built", loop.longest, 0.05)


def mouse(page: object, kind: QEvent.Type, at: QPointF, button: Qt.MouseButton) -> None:
    """Send what a mouse would."""
    held = Qt.MouseButton.NoButton if kind is QEvent.Type.MouseButtonRelease else button
    event = QMouseEvent(kind, at, at, button, held, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(page, event)  # type: ignore[arg-type]


def tell(what: str, seconds: float, asked: float) -> None:
    """One line."""
    verdict = "" if seconds <= asked else "   MISSED"
    print(f"{what:42} {seconds * 1000:7.0f} ms of {asked * 1000:.0f}{verdict}", flush=True)  # noqa: T201


def main() -> None:
    """All figures."""
    starts = sorted(start_seconds() for _ in range(STARTS))
    tell("process start to usable, median of 7", statistics.median(starts), 1.5)
    application = QApplication([])
    put_on(application, LIGHT)
    window = DeskWindow(Desk(), Path(mkdtemp()))
    window.show()
    loop = Loop()
    loop.until(lambda: window.spread is not None)
    loop.until(lambda: False, 2.0)  # the building process warms up too
    build_figures(window, loop)
    drag_figures(window, loop)
    window.close()
    window.close()  # the first time it asks about unsaved work


if __name__ == "__main__":
    start() if sys.argv[1:] == ["start"] else main()
