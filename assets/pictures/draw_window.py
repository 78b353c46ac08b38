"""Draws the README's picture of the window, with the demo's Job open.

QT_QPA_PLATFORM=offscreen python assets/pictures/draw_window.py
"""

import sys
from pathlib import Path
from tempfile import mkdtemp

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from PySide6.QtCore import QEventLoop, QTimer  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from app.desk.desk import Desk  # noqa: E402
from app.desk.theme import LIGHT, put_on  # noqa: E402
from app.desk.window import DeskWindow  # noqa: E402


def main() -> None:
    """Open, wait until all of it is exact, and take the picture."""
    application = QApplication([])
    put_on(application, LIGHT)
    window = DeskWindow(Desk(), Path(mkdtemp()))
    window.show()
    window.desk.open_path(ROOT / "assets" / "demo" / "turtle.samecut")
    tick = QTimer()
    tick.start(20)
    still = 0
    while still < 20:  # turns of the loop for layouts to settle in
        application.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
        shown = window.desk.shown
        still += shown is not None and not shown.is_first_look and not window.desk.is_old
    window.grab().save(str(Path(__file__).parent / "window.png"))
    window.close()


if __name__ == "__main__":
    main()
