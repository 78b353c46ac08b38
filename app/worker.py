"""One warm process that builds, so that whoever asked is never held.

Tracing, overlay and proof hold the interpreter for longer than a frame of a screen lasts (measured by
tests/bench/holds.py), so a thread would not do. Requests are numbered; the newest one wins: a shared
number tells the process, between two stages, that what it is doing is no longer wanted. The process keeps
what every stage gave last, so that a new height traces nothing again. A picture that must be traced is
answered twice: a first look at once, then what is exact.
"""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from enum import StrEnum
from multiprocessing import get_context
from multiprocessing.connection import Connection
from pathlib import Path
from queue import SimpleQueue
from threading import Thread
from typing import TYPE_CHECKING, Any

from core.errors import Cancelled, SamecutError
from core.job.job import Job, Source

if TYPE_CHECKING:
    from multiprocessing.process import BaseProcess

    from core.build import Build, Look
    from core.cancel import CancelToken
    from core.kit.also import Also


class Wanted(StrEnum):
    """What a request asks for."""

    SHOWN = "shown"
    KIT = "kit"


@dataclass(frozen=True)
class Request:
    """source is None when it is the one of the request before; over: what a kit is to be compared with."""

    number: int
    wanted: Wanted
    job: Job
    source: Source | None
    over: Path | None = None


@dataclass(frozen=True)
class Progress:
    """The stage that a request has come to."""

    number: int
    stage: str


@dataclass(frozen=True)
class FirstLook:
    """Something to look at until the Answer comes: a Shown from a quick reading of the picture."""

    number: int
    result: Any


@dataclass(frozen=True)
class Answer:
    """result is a Shown or a Kit, or None where a sentence says why there is none.

    is_defect tells a mistake of ours from something wrong with a file or a call.
    """

    number: int
    wanted: Wanted
    result: Any
    sentence: str = ""
    is_defect: bool = False


class Worker:
    """Starts the process at once; ask() never waits; answers are taken by receive() when there are any."""

    def __init__(self) -> None:
        context = get_context("spawn")  # a fork would copy a window's threads and locks half-way
        self._ours, theirs = context.Pipe()
        # without a lock: only the window writes it, and a lock would be left behind when it is killed
        self._newest = context.Value("q", 0, lock=False)
        self._process: BaseProcess = context.Process(
            target=_serve, args=(theirs, self._newest), name="samecut-worker", daemon=True
        )
        self._process.start()
        theirs.close()
        self._digests: tuple[str, ...] = ()
        self._outgoing: SimpleQueue[Request | None] = SimpleQueue()
        self._sender = Thread(target=_send_all, args=(self._ours, self._outgoing), daemon=True)
        self._sender.start()

    @property
    def connection(self) -> Connection:
        """What becomes readable when there is something to receive."""
        return self._ours

    def ask(self, wanted: Wanted, job: Job, source: Source, over: Path | None = None) -> int:
        """Ask for a Job's Shown or Kit; the number of the request. Whatever was asked before is given up.

        over: the folder that the kit is for; one that lies there is compared with.
        """
        number = int(self._newest.value) + 1
        self._newest.value = number
        sent = None if source.digests == self._digests else source
        self._digests = source.digests
        self._outgoing.put(Request(number, wanted, job, sent, over))
        return number

    def give_up(self) -> None:
        """Whatever is being done is no longer wanted."""
        self._newest.value += 1

    def receive(self, timeout_s: float = 0.0) -> Progress | FirstLook | Answer | None:
        """The next thing the process has to say, or None. Raises EOFError when the process has died."""
        if not self._ours.poll(timeout_s):
            return None
        said: Progress | FirstLook | Answer = self._ours.recv()
        return said

    def is_alive(self) -> bool:
        """Whether the process is there."""
        return self._process.is_alive()

    def close(self) -> None:
        """End the process and wait for it."""
        self.give_up()
        self._outgoing.put(None)
        self._sender.join(CLOSE_S)
        if self._sender.is_alive():  # in the middle of a picture that nobody takes
            self._process.kill()
            self._sender.join()
        self._ours.close()
        self._process.join(CLOSE_S)
        if self._process.is_alive():
            self._process.kill()
            self._process.join()


#: s that the process is given to come to the end of a stage when the window closes.
CLOSE_S = 2.0


def _send_all(pipe: Connection, outgoing: "SimpleQueue[Request | None]") -> None:
    """Send until there is None to send: a pipe takes a whole picture only when the other end reads."""
    while (request := outgoing.get()) is not None:
        try:
            pipe.send(request)
        except OSError:  # the process has died; whoever receives will notice
            return


def _serve(pipe: Connection, newest: Any) -> None:
    """The process: takes requests until the pipe is closed, the newest first."""
    import signal  # noqa: PLC0415 - only in the process

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the window decides when to end
    bench = _Bench(pipe, newest)
    bench.warm()
    try:
        while True:
            request = pipe.recv()
            while pipe.poll():
                request = _newer(request, pipe.recv())
            bench.answer(request)
    except (EOFError, OSError):
        return


def _newer(one: Request, other: Request) -> Request:
    """The later request, with the picture that an earlier one brought."""
    if other.source is not None:
        return other
    return replace(other, source=one.source)


def _also(request: Request) -> "Also":
    """The earlier kit in the folder that this one is for, as `make` compares with it."""
    from app.opened import earlier_report  # noqa: PLC0415 - only in the process
    from core.kit.also import Also  # noqa: PLC0415

    return Also(earlier_report(None, request.over) if request.over is not None else None)


class _Bench:
    """What the process keeps between requests: the picture, and what every stage gave last."""

    def __init__(self, pipe: Connection, newest: Any) -> None:
        self.pipe, self.newest = pipe, newest
        self.source: Source | None = None
        self.kept: dict[str, Any] = {}

    def warm(self) -> None:
        """Get ready, unless somebody asks already."""
        from app.warm_up import warm_up  # noqa: PLC0415 - in the process, not in the window
        from core.cancel import CancelToken  # noqa: PLC0415

        with suppress(Cancelled):
            warm_up(CancelToken(self.pipe.poll))

    def answer(self, request: Request) -> None:
        if request.source is not None:
            self.source = request.source
        try:
            self.pipe.send(Answer(request.number, request.wanted, self._done(request)))
        except Cancelled:
            return
        except SamecutError as error:
            self.pipe.send(Answer(request.number, request.wanted, None, str(error)))
        except Exception as error:  # noqa: BLE001 - told to the maker, and the process lives on
            sentence = (
                f"Samecut made a mistake of its own ({type(error).__name__}: {error}); please report it."
            )
            self.pipe.send(Answer(request.number, request.wanted, None, sentence, is_defect=True))

    def _done(self, request: Request) -> Any:
        from time import perf_counter  # noqa: PLC0415 - with the rest of what only the process needs

        from core.build import Look  # noqa: PLC0415
        from core.cancel import CancelToken  # noqa: PLC0415
        from core.kit.make import kit_of  # noqa: PLC0415
        from core.shown import shown_of  # noqa: PLC0415

        begun, tell = perf_counter(), self._teller(request.number)
        token = CancelToken(lambda: self.newest.value != request.number)
        if request.wanted is Wanted.KIT:
            made = self._built(request, token, Look.EXACT)
            return kit_of(made, token, tell, begun, _also(request))
        made = self._built(request, token, Look.FIRST)
        if made.look is Look.FIRST:
            self.pipe.send(FirstLook(request.number, shown_of(made)))
            made = self._built(request, token, Look.EXACT)
        return shown_of(made)

    def _built(self, request: Request, token: "CancelToken", look: "Look") -> "Build":
        """The Build; stages that were finished are kept also when it is given up."""
        from core.build import build_by  # noqa: PLC0415
        from core.keep import Keeper  # noqa: PLC0415

        assert self.source is not None  # noqa: S101 - the first request brings one
        keeper = Keeper(token, request.job.woken_by, self.kept, self._teller(request.number))
        try:
            return build_by(keeper, request.job, self.source, look)
        finally:
            self.kept = {**self.kept, **keeper.kept}

    def _teller(self, number: int) -> Callable[[str], None]:
        def tell(stage: str) -> None:
            self.pipe.send(Progress(number, stage))

        return tell
