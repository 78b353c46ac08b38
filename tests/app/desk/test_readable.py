"""The window as it is read: names, the order of Tab, and no text cut off."""

from itertools import pairwise

import pytest
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit, QScrollArea, QWidget

from app.desk.cards import CARDS
from app.desk.theme import DARK, LIGHT, put_on

LEFT = Qt.MouseButton.LeftButton


def test_everything_that_takes_the_keyboard_has_a_name(at_work):
    at_work.open_choice("cutting.skim")
    for widget in at_work.findChildren(QAbstractButton) + at_work.findChildren(QLineEdit):
        if widget.isVisible() and widget.focusPolicy() != Qt.FocusPolicy.NoFocus:
            assert widget.accessibleName() or getattr(widget, "text", str)(), widget


def test_tab_reaches_every_bracket_in_the_order_of_the_sentence(at_work, qtbot):
    at_work.strip.brackets["picture"].setFocus()
    order = []
    for _ in CARDS:
        order.append(QApplication.focusWidget())
        qtbot.keyClick(order[-1], Qt.Key.Key_Tab)
    assert order == list(at_work.strip.brackets.values())


def test_nothing_flashes_up_as_a_window_of_its_own(at_work, qapp):
    class Watch(QObject):
        def __init__(self):
            super().__init__()
            self.seen = []

        def eventFilter(self, one, event):  # noqa: N802 - Qt's name
            if event.type() is QEvent.Type.Show and isinstance(one, QWidget) and one.isWindow():
                self.seen.append(one)
            return False

    watch = Watch()
    qapp.installEventFilter(watch)
    for card in CARDS:
        at_work.open_card(card.name)
    for open_one in (at_work.list_keys, at_work.find_choice, at_work.ask_for_kit, at_work.doors.show_recent):
        open_one()
        qapp.processEvents()
    qapp.removeEventFilter(watch)
    assert watch.seen == []


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize("size", [(1100, 700), (1600, 1000)], ids=str)
def test_no_text_is_cut_off(at_work, themed, theme, size):
    put_on(themed, theme)
    at_work.resize(*size)
    cards = [lambda card=card: at_work.open_choice(card.choices[-1]) for card in CARDS]
    for open_one in (
        lambda: None,
        *cards,
        at_work.list_keys,
        at_work.list_words,
        at_work.find_choice,
        at_work.ask_for_kit,
        at_work.set_true_size,
    ):
        open_one()
        for _ in range(5):  # a layout asks for another one when a text wraps
            themed.processEvents()
        assert cut_off(at_work) == []
    put_on(themed, LIGHT)


def cut_off(window):
    """Texts that are wider or higher than what they stand in, and words of the sentence that overlap."""
    found = []
    for widget in window.findChildren(QLabel) + window.findChildren(QAbstractButton):
        if not widget.isVisible() or not widget.text():
            continue
        needed = widget.sizeHint()
        wraps = isinstance(widget, QLabel) and widget.wordWrap()
        too_high = widget.height() < widget.heightForWidth(widget.width()) - 1 if wraps else False
        if too_high or (not wraps and widget.width() < needed.width() - 1):
            found.append(
                (
                    widget.text(),
                    widget.size().toTuple(),
                    needed.toTuple(),
                    widget.heightForWidth(widget.width()),
                )
            )
    areas = [area for area in window.findChildren(QScrollArea) if area.isVisible()]
    found += [area.size() for area in areas if area.widget().width() > area.viewport().width()]
    words = [word for word in window.strip._words if word.isVisible()]
    for one, other in pairwise(words):
        if one.geometry().intersects(other.geometry()):
            found.append((one.text(), other.text()))
    return found
