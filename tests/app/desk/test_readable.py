"""The window as it is read: names, the order of Tab, and no text cut off."""

from itertools import combinations, pairwise

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QObject, QRect, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit, QScrollArea, QWidget

from app.desk.card import Popover
from app.desk.cards import CARDS
from app.desk.theme import DARK, LIGHT, contrast, put_on
from core.job.job import CHOICES
from core.job.kinds import Word

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
def test_no_text_is_cut_off_or_laid_on_another_or_hard_to_read(at_work, themed, theme, size):
    put_on(themed, theme)
    at_work.resize(*size)
    cards = [lambda card=card: at_work.open_choice(card.choices[-1]) for card in CARDS]
    few = [lambda card=card: at_work.open_choice(card.few[0]) for card in CARDS]
    for open_one in (
        lambda: None,
        *cards,
        *few,
        lambda: at_work.popover.table or at_work.open_choice("bit.diameter"),
        lambda: at_work.popover.table.opener.setChecked(True),
        at_work.list_keys,
        at_work.list_words,
        at_work.find_choice,
        at_work.ask_for_kit,
        at_work.set_true_size,
        lambda: at_work.spread.play.seek(99.0),
    ):
        open_one()
        for _ in range(5):  # a layout asks for another one when a text wraps
            themed.processEvents()
        assert cut_off(at_work) == []
        assert laid_on_another(at_work) == []
        assert hard_to_read(at_work) == []
    put_on(themed, LIGHT)


def test_choices_that_differ_from_their_defaults_have_room_for_the_way_back(at_work, themed):
    job = at_work.desk.job.with_choice("shape.colours", "#ffffff ground; #47997f film shell; #e3c080 bare")
    for key, choice in CHOICES.items():
        if isinstance(choice.kind, Word):
            job = job.with_choice(key, next(one for one in choice.kind.words if one != choice.default_text))
    at_work.resize(1100, 700)
    at_work.desk.propose_job(job, "much is otherwise")
    for card in CARDS:
        at_work.open_choice(card.choices[-1])
        for _ in range(5):
            themed.processEvents()
        assert cut_off(at_work) == []
        assert laid_on_another(at_work) == []


def texts(window):
    """What is in sight and has words or can be pressed, with the card or page that it stands on."""
    kinds = (*window.findChildren(QLabel), *window.findChildren(QAbstractButton))
    for one in (*kinds, *window.findChildren(QLineEdit)):
        has_face = bool(one.text()) or isinstance(one, QAbstractButton)
        if one.isVisible() and has_face and not one.visibleRegion().isEmpty():
            yield one, next((up for up in ancestors(one) if isinstance(up, Popover)), window)


def ancestors(widget):
    while (widget := widget.parentWidget()) is not None:
        yield widget


def place(widget, window):
    """Where the part of a widget that is in sight lies on the window."""
    seen = widget.visibleRegion().boundingRect()
    return QRect(widget.mapTo(window, seen.topLeft()), seen.size())


def laid_on_another(window):
    """Pairs of texts on one card, or on the window itself, that share room."""
    stood = [(one, ground, place(one, window)) for one, ground in texts(window)]
    return [
        (one.text() or one.accessibleName(), other.text() or other.accessibleName())
        for (one, ground, here), (other, below, there) in combinations(stood, 2)
        if ground is below and here.intersects(there) and other not in ancestors(one)
    ]


def hard_to_read(window):
    """Texts whose letters stand out from what is behind them by less than 4.5:1 (WCAG 2.2, 1.4.3)."""
    image = window.grab().toImage()
    top = window.popover if window.popover is not None and window.popover.isVisible() else None
    found = []
    for one, ground in texts(window):
        is_whole = one.visibleRegion().boundingRect().size() == one.size()
        if not one.text() or not one.isEnabled() or not is_whole or (top is not None and ground is not top):
            continue  # what a card may cover, or is scrolled half away, is looked at when it is not
        ratio = contrast_of(image.copy(scaled(place(one, window), image.devicePixelRatio())))
        if ratio < 4.5:
            found.append((one.text()[:60], round(ratio, 2)))
    return found


def scaled(rect, ratio):
    corner = rect.topLeft() * ratio
    return QRect(corner.x(), corner.y(), round(rect.width() * ratio), round(rect.height() * ratio))


def contrast_of(image):
    """Between the commonest colour and that of the letters: the one that stands out most from it."""
    pixels = np.frombuffer(image.convertToFormat(QImage.Format.Format_RGB32).constBits(), np.uint32)
    colours, counts = np.unique(pixels & 0xFFFFFF, return_counts=True)
    ground = f"#{int(colours[np.argmax(counts)]):06x}"
    return max(contrast(ground, f"#{int(colour):06x}") for colour in colours)


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
