"""A monkey at the window: it presses, types, drags and turns at random, and finds no way to break it."""

import random

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit

from app import tables
from app.desk.cards import CARDS
from app.desk.theme import DARK, LIGHT, put_on
from tests.support.hands import LEFT, LONG_MS, built
from tests.support.memory import used_mb

#: Not pressed by the monkey: they open a window of the system's own, or another program.
NOT_FOR_MONKEYS = (
    "Open one…", "Write its kit…", "Another picture…", "choose…", "Open the folder", "Write",
    "Show where it is…",
    "Save the Job", "Close without saving", "Open the other without saving",
)  # fmt: skip
#: Actions of the quick run, of the whole one, and those after which memory is first looked at: by then every
#: card has been open once, and the pictures of both pages are as large as they get.
QUICK, WHOLE, SETTLED = 500, 3000, 150
#: MB that may be used above the start.
MOST_MB = 50.0


@pytest.fixture(autouse=True)
def _tables_of_its_own(tmp_path, monkeypatch):
    monkeypatch.setattr(tables, "own_folder", lambda: tmp_path / "tables")


class Monkey:
    """Presses, types, drags, turns wheels, plays and undoes at random, from a seed."""

    def __init__(self, window, qtbot, seed):
        self.window, self.qtbot, self.dice = window, qtbot, random.Random(seed)  # noqa: S311 - a test
        self.done = []

    def act(self):
        often = (self.press, self.type, self.drag, self.turn, self.key, self.undo, self.press_twice)
        act = self.dice.choice((*often, *often, self.resize, self.open_card, self.change_theme))
        self.done.append(act.__name__)
        act()
        QApplication.processEvents()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # as a loop that runs does by itself

    def press(self):
        buttons = [
            one
            for one in self.window.findChildren(QAbstractButton)
            if one.isVisible() and one.isEnabled() and one.text() not in NOT_FOR_MONKEYS
        ]
        self.qtbot.mouseClick(self.dice.choice(buttons), LEFT)

    def press_twice(self):
        page = self.page()
        self.qtbot.mouseDClick(page, LEFT, pos=self.spot(page))

    def open_card(self):
        self.window.open_card(self.dice.choice(CARDS).name)

    def type(self):
        fields = [one for one in self.window.findChildren(QLineEdit) if one.isVisible()]
        if fields and self.window.desk.is_writing is False:
            field = self.dice.choice(fields)
            field.setFocus()
            field.selectAll()
            texts = ("60", "80 mm", "3 in", "2,5", "x", "-1", "1e9", "2", "", "auto")
            self.qtbot.keyClicks(field, self.dice.choice(texts))
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
        names = "P 0 Tab Escape Slash F6 Delete Left Up T F1 F2 B S C Return Space End Home Plus M"
        keys = [getattr(Qt.Key, f"Key_{name}") for name in names.split()]
        page = self.page() if self.dice.random() < 0.3 else None
        target = page or QApplication.focusWidget() or self.window
        both = (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier)
        self.qtbot.keyClick(target, self.dice.choice(keys), self.dice.choice(both))

    def undo(self):
        self.dice.choice((self.window.desk.undo, self.window.desk.undo, self.window.desk.redo))()

    def resize(self):
        self.window.resize(self.dice.randint(1100, 1700), self.dice.randint(700, 1000))

    def change_theme(self):
        put_on(QApplication.instance(), self.dice.choice((LIGHT, DARK)))

    def page(self):
        spread = self.window.spread
        return self.dice.choice((spread.part, spread.film, spread.spine, spread.depth_strip))

    def spot(self, page):
        return QPoint(self.dice.randrange(page.width()), self.dice.randrange(page.height()))


def test_a_monkey_finds_no_way_to_break_it_and_nothing_piles_up(whole_window, qtbot, whole):
    whole_window.doors.open_demo()
    built(whole_window, qtbot)
    monkey, before = Monkey(whole_window, qtbot, 20), None
    for number in range(WHOLE if whole else QUICK):
        if number == SETTLED:
            before = used_mb()
        monkey.act()
        assert "mistake of its own" not in whole_window.notice.text, monkey.done[-5:]
    is_still = lambda: not whole_window.status.doing or whole_window.notice.text != ""  # noqa: E731
    qtbot.waitUntil(is_still, timeout=LONG_MS)
    assert "mistake of its own" not in whole_window.notice.text
    after = used_mb()
    assert before is None or after - before <= MOST_MB
