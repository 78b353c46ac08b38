"""What tests of the window share: nothing is quiet, nothing is left running, and a stand-in that builds."""

import gc
import threading
from pathlib import Path

import pytest
from PySide6.QtCore import QAbstractAnimation, QObject, QTimer, qInstallMessageHandler
from PySide6.QtWidgets import QApplication

from app.desk.desk import Desk
from app.desk.theme import LIGHT, put_on
from app.worker import Answer, FirstLook, Progress, Wanted
from core.job.job import Job, Source

TURTLE = Path(__file__).parents[2] / "assets" / "demo" / "turtle.png"
#: Said by the offscreen platform alone, about a wish that only a window manager could grant.
HARMLESS = ("This plugin does not support propagateSizeHints",)


@pytest.fixture(scope="session")
def qapp_cls():
    return QApplication


@pytest.fixture
def themed(qapp):
    put_on(qapp, LIGHT)
    return qapp


@pytest.fixture(autouse=True)
def _nothing_is_quiet():
    """Whatever Qt has to say fails the test."""
    said = []

    def hear(_kind, _context, message):
        if not message.startswith(HARMLESS):
            said.append(message)

    before = qInstallMessageHandler(hear)
    yield
    qInstallMessageHandler(before)
    assert said == []


@pytest.fixture
def _nothing_is_left(qapp):
    """No thread, timer or animation outlives the window of a test."""
    threads = set(threading.enumerate())
    yield
    gc.collect()
    running = [
        one
        for widget in qapp.topLevelWidgets()
        for one in (*widget.findChildren(QTimer), *widget.findChildren(QAbstractAnimation))
        if (one.isActive() if isinstance(one, QTimer) else one.state() is one.State.Running)
    ]
    assert running == []
    assert [one for one in set(threading.enumerate()) - threads if not one.daemon] == []


class StandIn(QObject):
    """In place of the building process: says what it is told to say, when it is told to."""

    def __init__(self):
        super().__init__()
        import socket  # noqa: PLC0415 - only here

        self._near, self._far = socket.socketpair()
        self._near.setblocking(False)
        self.connection = self._near
        self.asked, self.over = [], []
        self._said = []
        self.number = 0
        self.is_dead = self.is_closed = False

    def ask(self, wanted, job, source, over=None):
        self.number += 1
        self.over.append(over)
        self.asked.append((wanted, job, source))
        return self.number

    def give_up(self):
        self.number += 1

    def receive(self):
        if self.is_dead:
            raise EOFError
        if not self._said:
            return None
        self._near.recv(1)
        return self._said.pop(0)

    def close(self):
        self.is_closed = True
        self._near.close()
        self._far.close()

    def says(self, result, sentence="", number=None, *, is_defect=False):
        wanted = self.asked[-1][0] if self.asked else Wanted.SHOWN
        answer = Answer(self.number if number is None else number, wanted, result, sentence, is_defect)
        self._send(answer)

    def looks(self, result):
        self._send(FirstLook(self.number, result))

    def tells(self, stage):
        self._send(Progress(self.number, stage))

    def dies(self):
        self.is_dead = True
        self._far.send(b".")

    def _send(self, said):
        self._said.append(said)
        self._far.send(b".")


@pytest.fixture
def stand_ins():
    """Every process that was started, the newest last."""
    return []


@pytest.fixture
def desk(themed, stand_ins, _nothing_is_left):  # noqa: ARG001 - both stand round it
    """A Desk whose building process is a stand-in."""

    def start():
        stand_ins.append(StandIn())
        return stand_ins[-1]

    made = Desk(start)
    made.start()
    yield made
    made.close()
    made.deleteLater()


@pytest.fixture(scope="session")
def turtle():
    return Source("turtle.png", TURTLE.read_bytes())


@pytest.fixture(scope="session")
def shown_of_turtle(turtle):
    """What is shown of the demo at any height, built here and kept."""
    from core.build import build  # noqa: PLC0415 - slow to import
    from core.shown import shown_of  # noqa: PLC0415

    kept = {"": None}

    def made(job=Job()):  # noqa: B008 - frozen
        kept[""] = build(job, turtle, kept[""])
        return shown_of(kept[""])

    return made
