"""Words that are painted, not laid out: each is whole in its box and on its page, and none is on another."""

from dataclasses import dataclass
from itertools import combinations

import pytest
from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtTest import QTest

from app.desk.gauge_figure import GaugeFigure
from app.desk.label import LETTERED
from app.desk.layer import Layer
from core.job.job import CHOICES
from tests.support.hands import answers

#: px that letters may reach over their box: the bearings of a face.
BEARING = 1.5
#: How words on cards of their own are set: labels, and the legend of the chips.
ON_CARDS = (LETTERED, Qt.AlignmentFlag.AlignVCenter)
SIZES = [(1100, 700), (1600, 1000), (3840, 2160)]


@dataclass(frozen=True)
class Painted:
    """Words, where they stand, px of what was painted on, and the box that they were to stand in."""

    words: str
    at: QRectF
    box: QRectF | None
    is_card: bool


@pytest.fixture
def painted(monkeypatch):
    """What a widget paints: every call of drawText while it is grabbed."""
    said = []
    draw = QPainter.drawText

    def record(painter, *arguments):
        said.append(_read(painter, arguments))
        return draw(painter, *arguments)

    monkeypatch.setattr(QPainter, "drawText", record)
    monkeypatch.setattr(Layer, "_kept", lambda *_: None)  # what was painted once is painted anew

    def of(widget):
        said.clear()
        widget.grab()
        return list(said)

    return of


def _read(painter, arguments):
    words, metrics = arguments[-1], painter.fontMetrics()
    turn = painter.combinedTransform()
    if isinstance(arguments[0], (QRect, QRectF)):
        box = QRectF(arguments[0])
        flags = arguments[1]
        at = QRectF(metrics.boundingRect(box.toRect(), flags, words))
        return Painted(words, turn.mapRect(at), turn.mapRect(box), flags in ON_CARDS)
    at = QRectF(metrics.boundingRect(words)).translated(QPointF(arguments[0]))
    return Painted(words, turn.mapRect(at), None, False)


def cut_off(told, widget):
    """Words wider or higher than their box, or beyond the widget's edge."""
    grown = QRectF(widget.rect()).adjusted(-BEARING, -BEARING, BEARING, BEARING)
    found = []
    for one in told:
        box = one.box.adjusted(-BEARING, -BEARING, BEARING, BEARING) if one.box is not None else None
        if (box is not None and not _inside(one.at, box)) or not grown.contains(one.at):
            found.append((one.words, one.at.toRect().getRect(), one.box and one.box.toRect().getRect()))
    return found


def _inside(at, box):
    """Wide and high enough; text that is centred in a box too low still counts as cut off."""
    return at.width() <= box.width() and at.height() <= box.height()


def laid_on_another(told):
    """Pairs that share room; a card hides what is below it, and is compared with other cards alone."""
    return [
        (one.words, other.words)
        for one, other in combinations(told, 2)
        if one.is_card is other.is_card and _shared(one.at, other.at) and one.words != other.words
    ]


def _shared(one, other):
    common = one.intersected(other)
    return common.width() > BEARING and common.height() > 2.0 * BEARING


def pages(window):
    spread = window.spread
    return (spread.part, spread.film, spread.spine.ruler, spread.spine.handle, spread.depth_strip)


def look(window, painted, size):
    """Everything that was found, at this size, with the pointer on strip and pages."""
    window.resize(*size)
    QTest.qWait(120)  # pages become sharp
    found, words = [], set()
    for page in pages(window):
        QTest.mouseMove(page, page.rect().center())
        told = painted(page)
        words |= {one.words for one in told}
        found += [(type(page).__name__, one) for one in (*cut_off(told, page), *laid_on_another(told))]
    assert len(words) > 16
    return found


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_words_on_pages_ruler_handle_and_strip_are_whole_and_apart(at_work, painted, size):
    assert look(at_work, painted, size) == []
    at_work.spread.play.seek(0.6 * at_work.spread.play.total)
    assert look(at_work, painted, size) == []
    at_work.spread.play.leave()
    at_work.spread.view.close_book(1.0)
    assert look(at_work, painted, size) == []


@pytest.mark.parametrize("size", SIZES[:2], ids=str)
def test_long_names_inches_and_commas_are_whole_too(
    at_work, stand_ins, shown_of_turtle, painted, size, qtbot
):
    job = at_work.desk.job.with_choice("shape.height", '4 21/32"')
    job = job.with_choice("files.name", "a-very-long-name-of-a-job-that-goes-on-and-on-to-the-end")
    job = job.with_choice("stock.thickness", "3,02 mm")
    assert "files.name" in CHOICES
    at_work.desk.propose_job(job, "in inches, with a long name")
    answers(at_work, stand_ins[-1], shown_of_turtle(job), qtbot)
    assert look(at_work, painted, size) == []
    at_work.spread.play.seek(0.3 * at_work.spread.play.total)
    assert look(at_work, painted, size) == []


@pytest.mark.parametrize("size", [(300, 200), (420, 330), (900, 700)], ids=str)
def test_letters_of_the_gauge_are_apart_at_every_size(themed, painted, qtbot, size):  # noqa: ARG001
    figure = GaugeFigure()
    qtbot.addWidget(figure)
    figure.resize(*size)
    figure.show()
    told = painted(figure)
    assert len(told) >= 20
    assert cut_off(told, figure) == []
    if size[0] > 400:  # in the smallest one, letters in the middle touch
        assert laid_on_another(told) == []


def test_words_that_do_not_fit_their_box_are_found(themed, painted, qtbot):  # noqa: ARG001 - the test itself is tested
    from PySide6.QtWidgets import QWidget  # noqa: PLC0415

    class Bad(QWidget):
        def paintEvent(self, _event):  # noqa: N802 - Qt's name
            painter = QPainter(self)
            painter.drawText(QRectF(0, 0, 20, 20), Qt.AlignmentFlag.AlignLeft, "too long for it")
            painter.drawText(QPointF(40, 60), "one")
            painter.drawText(QPointF(42, 62), "another")
            painter.drawText(QPointF(180, 30), "over the edge")
            painter.end()

    bad = Bad()
    bad.resize(200, 100)
    qtbot.addWidget(bad)
    told = painted(bad)
    assert [words for words, *_ in cut_off(told, bad)] == ["too long for it", "over the edge"]
    assert ("one", "another") in laid_on_another(told)
