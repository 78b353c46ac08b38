"""Starts the window: nothing slow is imported before it is on the screen."""

import signal
import sys
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from app.desk.desk import Desk
from app.desk.theme import put_on, system_theme
from app.desk.window import DeskWindow


def run_window(arguments: Sequence[str]) -> int:
    """The window until it is closed, with the picture or Job that was named; gives the exit code."""
    application = QApplication([sys.argv[0], *arguments[1:]])
    application.setApplicationName("samecut")
    application.setApplicationDisplayName("Samecut")
    signal.signal(signal.SIGINT, signal.SIG_DFL)  # Qt's loop would not let Python hear it
    put_on(application, system_theme())
    application.styleHints().colorSchemeChanged.connect(lambda _scheme: put_on(application, system_theme()))
    window = DeskWindow(Desk())
    window.show()
    if arguments:
        QTimer.singleShot(0, window, lambda: window.desk.open_path(Path(arguments[0])))
    return application.exec()
