"""What the window is about: the Job and its history, what was last built of it, and what is being done.

Widgets listen to the Desk and propose the next Job; none of them is the only home of a number. Everything
long is done elsewhere: building in a process (link.py), the disk beside the window (errand.py).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from app.desk.carried import carried
from app.desk.errand import Errands
from app.desk.history import History, Step
from app.desk.homes import Home, home_of, save
from app.desk.link import Builds, Link
from app.desk.names import name_of
from app.opened import Opened, opened, second_picture
from app.stages import doing
from app.worker import Answer, Wanted, Worker
from core.errors import LostPicture
from core.files import write_folder
from core.job.job import Job, Source
from core.kit.older_kit import is_older_kit

if TYPE_CHECKING:
    from core.kit.kit import Kit
    from core.shown import Shown

#: Scales nearer to 1 than this are the rounding of a height, far below a pixel.
SAME_SCALE = 1e-9

_DIED = "The building process stopped by itself; it was started again."
_DIES = (
    "The building process stops at this every time; the last change is the likely cause. Please report it."
)


@dataclass(frozen=True)
class _Wanted:
    """A kit that was asked for, and where it is to go; step is None for a gauge's."""

    folder: Path
    step: Step | None


class Desk(QObject):
    """job_changed(Job); shown_changed(Shown or None, is_old); stage_changed(words, empty: nothing is done);
    failed(sentence, is_defect); kit_written(folder, Kit), or gauge_written; saved(Job's file);
    history_changed(); stepping() before a step is undone or done again;
    picture_lost(Job's file, sentence); told(words) of what may be passed by;
    preview_changed(scale), where scale is the height wanted over the height shown.
    """  # noqa: D205 - the signals are the summary

    job_changed = Signal(object)
    shown_changed = Signal(object, bool)
    stage_changed = Signal(str)
    failed = Signal(str, bool)
    kit_written = Signal(str, object)
    gauge_written = Signal(str, object)
    saved = Signal(str)
    picture_lost = Signal(object, str)
    told = Signal(str)
    history_changed = Signal()
    stepping = Signal()
    preview_changed = Signal(float)

    def __init__(self, start: Callable[[], Builds] = Worker, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._history = History()
        self._shown: Shown | None = None
        self._shown_step: Step | None = None
        self._is_old = self._is_stuck = False
        self._preview_mm: float | None = None
        self._scale = 1.0
        self._kit: _Wanted | None = None
        self._safe: list[Step] = []
        self._homes: dict[tuple[str, ...], Home] = {}
        self._is_closed = False
        #: Called before other work takes the place of what lies here, with what is to follow.
        self.make_room: Callable[[Callable[[], None]], None] = _at_once
        self._errands = Errands(self)
        self._link = Link(start, self)
        self._link.answered.connect(self._answered)
        self._link.looked.connect(lambda look: self._look(look.result))
        self._link.stage_changed.connect(lambda stage: self.stage_changed.emit(doing(stage)))
        self._link.died.connect(self._died)

    def start(self) -> None:
        """Start the building process; call it when the window is on the screen."""
        self._link.open()

    def close(self) -> None:
        """End the building process and wait for what the disk is doing."""
        self._is_closed = True
        self._errands.close()
        self._link.close()

    @property
    def job(self) -> Job:
        """The present Job."""
        return self._history.now.job

    @property
    def step(self) -> Step:
        """The present step of the history."""
        return self._history.now

    @property
    def source(self) -> Source | None:
        """The present picture, or None."""
        return self._history.now.source

    @property
    def shown(self) -> "Shown | None":
        """What was last built; is_old tells whether it is what the Job asks for now."""
        return self._shown

    @property
    def is_old(self) -> bool:
        """Whether what is shown belongs to an earlier Job."""
        return self._is_old

    @property
    def is_stuck(self) -> bool:
        """Whether what is shown is old and nothing newer is on its way: making it failed."""
        return self._is_stuck

    @property
    def scale(self) -> float:
        """The height wanted over the height shown: pages draw what is shown so much larger, marked old."""
        return self._scale

    @property
    def undo_words(self) -> str:
        """What undo would take back; empty when there is nothing."""
        return "" if self._history.is_at_first_picture else self._history.undo_words

    @property
    def redo_words(self) -> str:
        """What redo would do again; empty when there is nothing."""
        return self._history.redo_words

    @property
    def is_writing(self) -> bool:
        """Whether a kit is being made or written."""
        return self._kit is not None

    @property
    def has_unsaved(self) -> bool:
        """Whether the present Job is neither as it was opened nor saved nor in a kit."""
        now = self._history.now
        return self.source is not None and not any(step is now for step in self._safe)

    @property
    def home(self) -> Home:
        """Where the present Job and its picture lie."""
        return self._homes.get(self.source.digests, Home()) if self.source is not None else Home()

    @property
    def errands(self) -> Errands:
        """What the disk does for this window."""
        return self._errands

    def open_path(self, path: Path | str, pointed: Path | None = None) -> None:
        """Open a picture or a saved Job; failed() says why not, picture_lost() that its picture is away.

        pointed: where the maker says that the picture lies.
        """
        place = Path(path)
        self.stage_changed.emit(f"opening {place.name}")
        self._errands.run(
            lambda: _opened_or_lost(place, pointed), lambda found: self._found(place, found), self._fail
        )

    def open_bytes(self, name: str, data: bytes) -> None:
        """Open a picture that is no file: pasted, or dropped from another program."""
        found = Opened(Job(source=name), Source(name, data))
        self.make_room(lambda: self._opened(found, Home()))

    def open_face(self, path: Path | str) -> None:
        """Take a second picture, which gives the films, from this file; failed() says why not."""
        place = Path(path)
        self.stage_changed.emit(f"opening {place.name}")
        self._errands.run(lambda: second_picture(place), lambda face: self.take_face(face, place), self._fail)

    def take_face(self, face: Source | None, place: Path | None = None) -> None:
        """Let this second picture give the films; None: the first gives them again."""
        if self.source is None or (face is None and self.source.face is None):
            return
        job = replace(self.job, face=face.name if face else "")
        words = f"{face.name} gives the films" if face else "the second picture taken away"
        home, source = self.home, replace(self.source, face=face)
        self._homes.setdefault(source.digests, replace(home, face=place.absolute() if place else None))
        self._adopt(self._history.with_step(Step(job, source, words)))

    def take_up(self, job: Job, source: Source, words: str) -> None:
        """Go on with a Job and its picture, such as one that a crash left."""
        self._adopt(self._history.with_step(Step(job, source, words)))

    def propose(self, key: str, text: str, words: str = "") -> None:
        """Make GROUP.CHOICE what the text says. Raises BadValue or WrongCall, and then nothing changes."""
        self.propose_job(self.job.with_choice(key, text), words or _words_of(key, text))

    def propose_value(self, key: str, value: Any, words: str = "") -> None:
        """Make GROUP.CHOICE this value, already read. Raises WrongCall."""
        job = self.job.with_value(key, value)
        self.propose_job(job, words or _words_of(key, job.text(key)))

    def propose_default(self, key: str) -> None:
        """Give GROUP.CHOICE its default back, as if nobody had said it. Raises WrongCall."""
        job = self.job.with_default(key)
        self.propose_job(job, _words_of(key, job.text(key)))

    def propose_job(self, job: Job, words: str) -> None:
        """Make this the Job, as one step of undo; the same Job again is no step."""
        self._preview_mm = None
        if job == self.job:
            self._rescale()
            return
        self._adopt(self._history.with_step(Step(job, self.source, words)))

    def undo(self) -> None:
        """Take the last step back; nothing where there is none."""
        self.stepping.emit()
        if self.undo_words:
            self._adopt(self._history.back())

    def redo(self) -> None:
        """Do again what was undone; nothing where there is none."""
        self.stepping.emit()
        if self.redo_words:
            self._adopt(self._history.forth())

    def height_preview(self, height_mm: float | None) -> None:
        """While a hand drags: what is shown is scaled to this height, mm; None goes back to the Job's."""
        self._preview_mm = height_mm
        self._rescale()

    def write_kit(self, folder: Path | str) -> None:
        """Make the present Job's kit and write it to this folder; kit_written() or failed() follows."""
        if self.source is None or self._kit is not None:
            return
        self._kit = _Wanted(Path(folder), self._history.now)
        self.stage_changed.emit("making the kit")
        self._link.ask(Wanted.KIT, self.job, self.source, self._kit.folder)

    def write_gauge(self, folder: Path | str) -> None:
        """Make a gauge's kit on the present machines, sheet and bit; gauge_written() or failed() follows."""
        if self._kit is not None:
            return
        wanted = self._kit = _Wanted(Path(folder), None)
        job = self.job
        self.stage_changed.emit("making the gauge's kit")

        def made(gauge: tuple[Job, Source]) -> None:
            if self._kit is wanted:
                self._link.ask(Wanted.KIT, *gauge)

        self._errands.run(
            lambda: _gauge_of(job), made, lambda said, is_defect: self._kit_failed(said, is_defect=is_defect)
        )

    @property
    def can_be_given_up(self) -> bool:
        """Whether something is being made that may be stopped; files that are being written may not."""
        return self._link.is_asked

    def give_up(self) -> None:
        """Stop what is being made: a kit, or what the last change looks like, which stays in the history."""
        if not self.can_be_given_up:
            return
        if self._kit is not None:
            self._kit = None
            self.stage_changed.emit("")
            self._ask()
            return
        self._link.give_up()
        self.stage_changed.emit("")
        if not self._step_back_from_picture():
            self._stick()

    def save(self, path: Path) -> None:
        """Save the present Job in this file; saved() or failed() follows."""
        source, step, home = self.source, self._history.now, self.home
        if source is None:
            return

        def done(now: Home) -> None:
            self._homes[source.digests] = now
            self._safe.append(step)
            self.saved.emit(str(now.job))

        self._errands.run(lambda: save(path, step.job, source, home), done, self._fail)

    def _found(self, place: Path, found: Opened | str) -> None:
        self.stage_changed.emit("")
        if isinstance(found, str):
            self.picture_lost.emit(place, found)
            return
        self.make_room(lambda: self._opened(found, home_of(place, found)))
        if found.has_moved and found.picture is not None:
            self.told.emit(f"{found.picture.name} was found in {found.picture.parent}")

    def _opened(self, found: Opened, home: Home) -> None:
        is_new = self.source is not None and home.job is None
        job = carried(self.job, found.job.source) if is_new else found.job
        self._homes[found.source.digests] = home
        step = Step(job, found.source, f"{found.source.name} opened")
        self._safe.append(step)
        self._adopt(self._history.with_step(step))
        if found.unknown:
            keys = ", ".join(found.unknown)
            self.failed.emit(f"Not known here, kept and not followed: {keys}.", False)

    def _adopt(self, history: History) -> None:
        self._history = history
        self._preview_mm = None
        self._mark_old()
        self._rescale()
        self.job_changed.emit(self.job)
        self.history_changed.emit()
        self._ask()

    def _mark_old(self) -> None:
        was_old = self._is_old and not self._is_stuck
        self._is_old, self._is_stuck = self._shown is not None, False
        if self._is_old and not was_old:
            self.shown_changed.emit(self._shown, True)

    def _ask(self) -> None:
        """Ask for what the present Job looks like, unless a kit is being made: that is not given up."""
        if self._kit is not None:
            return
        if self.source is None:
            self._link.give_up()
            self._show(None)
        elif self._history.now is self._shown_step and not self._is_first_look:
            self._link.give_up()
            self._show(self._shown)
        else:
            self._link.ask(Wanted.SHOWN, self.job, self.source)

    @property
    def _is_first_look(self) -> bool:
        return self._shown is not None and self._shown.is_first_look

    def _show(self, shown: "Shown | None") -> None:
        self.stage_changed.emit("")
        self._look(shown)

    def _look(self, shown: "Shown | None") -> None:
        """Show it; where it is a first look, what is exact is still being made."""
        self._shown, self._is_old, self._is_stuck = shown, False, False
        self._shown_step = self._history.now if shown is not None else None
        self._rescale()
        self.shown_changed.emit(shown, False)

    def _answered(self, answer: Answer) -> None:
        if answer.wanted is Wanted.KIT:
            self._kit_answered(answer)
        elif answer.result is not None:
            self._show(answer.result)
        else:
            self._refused(answer)

    def _refused(self, answer: Answer) -> None:
        """A picture that shows nothing is taken off the desk again; a choice that fails stays."""
        if not self._step_back_from_picture():
            self._stick()
        self._fail(answer.sentence, answer.is_defect)

    def _step_back_from_picture(self) -> bool:
        """Take a picture off the desk again that nothing was made of; False where it is none."""
        if not self._is_new_picture():
            return False
        self._history = self._history.without_now()
        self.job_changed.emit(self.job)
        self.history_changed.emit()
        if self.source is None or self._history.now is self._shown_step:
            self._show(self._shown)
        return True

    def _is_new_picture(self) -> bool:
        at = self._history.at
        has_look = self._history.now is self._shown_step
        return at > 0 and not has_look and self._history.steps[at - 1].source is not self.source

    def _kit_answered(self, answer: Answer) -> None:
        wanted = self._kit
        if wanted is None:
            return
        if answer.result is None:
            self._kit_failed(answer.sentence, is_defect=answer.is_defect)
            return
        kit: Kit = answer.result
        self.stage_changed.emit("writing the files")
        self._errands.run(
            lambda: write_folder(wanted.folder, _plain(kit.files), is_older_kit),
            lambda _: self._kit_done(wanted, kit),
            lambda said, is_defect: self._kit_failed(said, is_defect=is_defect),
        )

    def _kit_done(self, wanted: _Wanted, kit: "Kit") -> None:
        self._kit = None
        self.stage_changed.emit("")
        if wanted.step is None:
            self.gauge_written.emit(str(wanted.folder), kit)
        else:
            self._safe.append(wanted.step)
            self.kit_written.emit(str(wanted.folder), kit)
        self._ask()

    def _kit_failed(self, said: str, *, is_defect: bool) -> None:
        self._kit = None
        self._fail(said, is_defect)
        self._ask()

    def _stick(self) -> None:
        if self._is_old:
            self._is_stuck = True
            self.shown_changed.emit(self._shown, True)

    def _fail(self, said: str, is_defect: bool) -> None:  # noqa: FBT001 - a signal's second argument
        self.stage_changed.emit("")
        self.failed.emit(said, is_defect)

    def _died(self, is_hopeless: bool) -> None:  # noqa: FBT001 - a signal's argument
        if is_hopeless and self._kit is not None:
            self._kit_failed(_DIES, is_defect=True)
        elif is_hopeless:
            self._stick()
            self._fail(_DIES, True)
        else:
            self.failed.emit(_DIED, True)

    def _rescale(self) -> None:
        scale = self._wanted_scale()
        if scale != self._scale:
            self._scale = scale
            self.preview_changed.emit(scale)

    def _wanted_scale(self) -> float:
        step = self._shown_step
        if self._shown is None or step is None or step.source is not self.source:
            return 1.0
        scale = self._wanted_mm(self._shown.size_mm[1]) / self._shown.size_mm[1]
        return 1.0 if abs(scale - 1.0) < SAME_SCALE else scale

    def _wanted_mm(self, shown_mm: float) -> float:
        from core.job.resolve import height_foretold  # noqa: PLC0415 - brings numpy; something is shown already

        if self._preview_mm is not None:
            return self._preview_mm
        foretold = height_foretold(self.job)
        return shown_mm if foretold is None else foretold


def _gauge_of(job: Job) -> tuple[Job, Source]:
    """The Job of a gauge on machines, bit and sheet of this one. Raises errors of core/errors.py."""
    from core.kit.gauge import gauge_job, on_machines_of  # noqa: PLC0415 - brings what papers need

    return gauge_job(on_machines_of(job))


def _at_once(go_on: Callable[[], None]) -> None:
    go_on()


def _opened_or_lost(place: Path, pointed: Path | None) -> Opened | str:
    """What the file holds, or a sentence about its picture, which is nowhere. Raises UnreadableFile."""
    try:
        return opened(place, pointed)
    except LostPicture as lost:
        return str(lost)


def _words_of(key: str, text: str) -> str:
    """What a change of this choice is called in the history."""
    return f"{name_of(key)} {text.strip() or 'none'}"


def _plain(files: Mapping[str, bytes]) -> dict[str, bytes]:
    return dict(files)
