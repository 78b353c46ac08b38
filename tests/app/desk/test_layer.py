"""A layer is painted when what it shows is new, scaled while the view moves, and sharp afterwards."""

import time

import pytest
from PySide6.QtGui import QColor, QPainter, QPixmap
from PySide6.QtWidgets import QWidget

from app.desk.layer import CHEAP_S, Layer
from app.desk.view import Seen

NEAR, FAR = Seen(1.0, 0.0, 0.0), Seen(2.0, 10.0, 20.0)


class Canvas:
    """A widget that a layer is drawn on, and how often it was painted for it."""

    def __init__(self, dear):
        self.widget, self.layer, self.times, self.dear = QWidget(), Layer(QColor("white")), 0, dear
        self.widget.resize(100, 100)

    def draw(self, seen, what="a", *, is_hurried=False):
        target = QPixmap(100, 100)
        painter = QPainter(target)
        self.layer.draw(painter, self.widget, seen, what, self._paint, is_hurried=is_hurried)
        painter.end()
        return target.toImage()

    def _paint(self, painter):
        self.times += 1
        painter.fillRect(10, 10, 20, 20, QColor("black"))
        if self.dear:
            time.sleep(2.0 * CHEAP_S)


@pytest.fixture
def canvas(themed):  # noqa: ARG001 - a QApplication
    return Canvas(dear=True)


def test_the_same_from_the_same_place_is_painted_once(canvas):
    assert canvas.draw(NEAR) == canvas.draw(NEAR)
    assert canvas.times == 1


def test_a_hurried_one_is_the_last_picture_where_the_view_has_moved_it(canvas):
    canvas.draw(NEAR)
    moved = canvas.draw(FAR, is_hurried=True)
    assert canvas.times == 1
    assert moved.pixelColor(50, 60) == QColor("black")  # the middle of the square, twice as large
    assert moved.pixelColor(20, 20) == QColor("white")


def test_it_is_sharp_when_nothing_moves_any_more(canvas):
    canvas.draw(NEAR)
    canvas.draw(FAR, is_hurried=True)
    canvas.draw(FAR)
    assert canvas.times == 2


def test_something_else_is_never_shown_by_the_last_picture(canvas):
    canvas.draw(NEAR)
    canvas.draw(FAR, "b", is_hurried=True)
    assert canvas.times == 2


def test_what_is_cheap_is_always_sharp(themed):  # noqa: ARG001 - a QApplication
    canvas = Canvas(dear=False)
    canvas.draw(NEAR)
    canvas.draw(FAR, is_hurried=True)
    assert canvas.times == 2
