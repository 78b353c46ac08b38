"""What hands do to a window: drop, type, save; and the building process's stand-in answering."""

from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication

LEFT = Qt.MouseButton.LeftButton
NONE, SHIFT = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier
CONTROL = Qt.KeyboardModifier.ControlModifier


def answers(window, process, shown, qtbot):
    """The stand-in says what was built."""
    with qtbot.waitSignal(window.desk.shown_changed):
        process.says(shown)


def file_of(path):
    """A file, as a hand carries it."""
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    return data


def dropped(window, data, modifiers=NONE):
    """Whether the window took what was dropped on it."""
    spot, copy = QPoint(300, 300), Qt.DropAction.CopyAction
    QApplication.sendEvent(window, enter := QDragEnterEvent(spot, copy, data, LEFT, modifiers))
    if enter.isAccepted():
        QApplication.sendEvent(window, QDropEvent(QPointF(spot), copy, data, LEFT, modifiers))
    return enter.isAccepted()


def typed(control, text, qtbot):
    """Text in place of what stood in a control's field, and Return."""
    field = control.field
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def saves(window, qtbot, modifiers=CONTROL):
    """Ctrl+S, and what it does done."""
    with qtbot.waitSignal(window.desk.saved):
        qtbot.keyClick(window, Qt.Key.Key_S, modifiers)


#: ms that a picture may take to be built, on a machine that others use too.
LONG_MS = 60_000


def built(window, qtbot):
    """Wait until the real building process has made what the Job asks for."""

    def is_built():
        assert window.notice.text == ""
        assert window.desk.shown is not None
        assert not window.desk.is_old
        assert not window.desk.shown.is_first_look

    qtbot.waitUntil(is_built, timeout=LONG_MS)
