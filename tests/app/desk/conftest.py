"""A small picture with a square, a disc in it and a flag at its side, and the two pages that show it."""

import io
from types import SimpleNamespace

import pytest
from PIL import Image, ImageDraw
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from core.job.job import Job, Source
from tests.support.hands import answers


def small_picture():
    image = Image.new("RGB", (640, 640), "#ffffff")
    draw = ImageDraw.Draw(image)
    draw.rectangle((120, 120, 520, 520), fill="#2e7d5b")
    draw.ellipse((240, 240, 400, 400), fill="#e0b050")
    kept = io.BytesIO()
    image.resize((160, 160), Image.Resampling.BOX).save(kept, "PNG")
    return Source("square.png", kept.getvalue())


@pytest.fixture(scope="session")
def small():
    """The small picture's Source, and what is shown of it at 80 mm."""
    from core.build import build  # noqa: PLC0415 - slow to import
    from core.shown import shown_of  # noqa: PLC0415

    source = small_picture()
    job = Job(source=source.name).with_choice("shape.height", "80 mm")
    return SimpleNamespace(source=source, job=job, shown=shown_of(build(job, source)))


@pytest.fixture
def shows(desk, stand_ins, qtbot):
    """Let a Desk show something, as if it had just been built."""

    def do(small, shown=None):
        if desk.source is not small.source:
            desk.take_up(small.job, small.source, "square.png opened")
        stand_ins[-1].says(shown or small.shown)
        qtbot.waitUntil(lambda: desk.shown is not None and not desk.is_old)

    return do


@pytest.fixture
def window(desk, qtbot, tmp_path):
    """The whole window, empty, its pages ready."""
    from app.desk.window import DeskWindow  # noqa: PLC0415 - needs a QApplication

    made = DeskWindow(desk, tmp_path / "state")
    qtbot.addWidget(made, before_close_func=DeskWindow.close)  # the first time it asks about unsaved work
    made.show()
    qtbot.waitActive(made).__enter__()
    qtbot.waitUntil(lambda: made.spread is not None and not desk.errands.are_running)
    return made


@pytest.fixture
def at_work(window, stand_ins, shown_of_turtle, qtbot):
    """The whole window with the demo on its desk, the height given."""
    window.doors.open_demo()
    window.desk.propose("shape.height", "118 mm")
    answers(window, stand_ins[-1], shown_of_turtle(window.desk.job), qtbot)
    return window


@pytest.fixture
def opened(themed, qtbot, desk, small, shows):  # noqa: ARG001 - light first
    """A window with both pages and the spine, 1000 x 640, showing the small picture."""
    from app.desk.film_page import FilmPage  # noqa: PLC0415 - needs a QApplication
    from app.desk.part_page import PartPage  # noqa: PLC0415
    from app.desk.spine import Spine  # noqa: PLC0415
    from app.desk.view import CommonView  # noqa: PLC0415

    window, view = QWidget(), CommonView()
    part, film, spine = PartPage(desk, view), FilmPage(desk, view), Spine(desk, view)
    row = QHBoxLayout(window)
    row.setSpacing(0)
    row.addWidget(part, 1)
    row.addWidget(spine)
    row.addWidget(film, 1)
    window.resize(1000, 640)
    qtbot.addWidget(window)
    window.show()
    shows(small)
    return SimpleNamespace(
        window=window, view=view, part=part, film=film, spine=spine, desk=desk, ruler=spine.ruler
    )


@pytest.fixture
def drag():
    """Press, move in steps and, unless told otherwise, let go of the left button; places in px."""

    def send(widget, kind, at, buttons):
        button = Qt.MouseButton.NoButton if kind is QEvent.Type.MouseMove else Qt.MouseButton.LeftButton
        where = widget.mapToGlobal(at)
        event = QMouseEvent(kind, at, where, button, buttons, Qt.KeyboardModifier.NoModifier)
        from PySide6.QtWidgets import QApplication  # noqa: PLC0415

        QApplication.sendEvent(widget, event)

    def do(widget, start, end, *, lets_go=True, steps=8, presses=True):
        left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
        start, end = QPointF(start), QPointF(end)
        if presses:
            send(widget, QEvent.Type.MouseButtonPress, start, left)
        for number in range(1, steps + 1):
            send(widget, QEvent.Type.MouseMove, start + (end - start) * (number / steps), left)
        if lets_go:
            send(widget, QEvent.Type.MouseButtonRelease, end, none)

    return do


@pytest.fixture
def whole_window(themed, _nothing_is_left, qtbot, tmp_path):  # noqa: ARG001 - both stand round it
    """The whole window with the real building process."""
    from app.desk.desk import Desk  # noqa: PLC0415 - needs a QApplication
    from app.desk.window import DeskWindow  # noqa: PLC0415
    from app.worker import Worker  # noqa: PLC0415

    made = DeskWindow(Desk(Worker), tmp_path / "state")
    qtbot.addWidget(made)
    made.show()
    qtbot.waitActive(made).__enter__()
    yield made
    made.close()
    made.close()  # the first time it asks about unsaved work
