"""The window: the sentence on top, the book in the middle, what is worth knowing beside it, a line below."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from app.desk.card import CardView, Popover
from app.desk.cards import card_named, card_of
from app.desk.desk import Desk
from app.desk.doors import Doors
from app.desk.errand import Errands
from app.desk.filing import ask_where, kit_place, work_name
from app.desk.finder import Finder
from app.desk.findings import FindingsColumn
from app.desk.first import FirstPage
from app.desk.icons import icon
from app.desk.incoming import can_take
from app.desk.keeping import Keeper, Kept, clear, state_folder
from app.desk.keys import KeyCard, bind
from app.desk.kit_card import KitCard, WriteCard
from app.desk.leave_card import LeaveCard
from app.desk.notice import Notice
from app.desk.sentence import to_answer
from app.desk.status import Status
from app.desk.strip import Strip
from app.desk.theme import theme_of
from app.desk.trade_words import WordsCard
from app.desk.true_size import TrueSize
from core.kit.kit import Kit

if TYPE_CHECKING:
    from app.desk.bench_view import BenchView
    from app.desk.bench_work import BenchWork
    from app.desk.gauge_page import GaugePage
    from app.desk.spread import Spread

SMALLEST_PX = (1100, 700)
FIRST_PX = (1280, 800)
#: ms between a change and its being kept; well under the five seconds that a crash may cost.
KEEP_MS = 2000
NO_KIT = "Write the kit first: the bench view shows its files and its numbers."


class DeskWindow(QMainWindow):
    """One window with one Desk; state is where its Job is kept (None: the user's state folder)."""

    def __init__(self, desk: Desk, state: Path | None = None) -> None:
        super().__init__()
        self.desk = desk
        self._keeper: Keeper | None = None
        self._state = state
        self._left: Kept | None = None
        self._popover: Popover | None = None
        self._is_started = self._is_leaving = self._is_given_up = False
        self._warmth = Errands(self)
        self._is_first_proposal = True
        self.spread: Spread | None = None
        self.gauge: GaugePage | None = None
        self.bench: BenchView | None = None
        self._bench_work: BenchWork | None = None
        self._bench_of: object = None
        self._make()
        self._connect()
        self._entitle()
        self.setMinimumSize(*SMALLEST_PX)
        self.resize(*FIRST_PX)
        self.setAcceptDrops(True)

    @property
    def popover(self) -> Popover | None:
        """The card that is open, if one is."""
        return self._popover

    def open_card(self, name: str, key: str = "") -> None:
        """Open a card under its bracket, at one of its choices; the same card again closes it."""
        card = card_named(name)
        opener = self.strip.brackets.get(name)
        if opener is None or (not key and self._close_if_open(card.title)):
            return
        view = CardView(self, opener, card, self.desk)
        view.gauge_asked.connect(self.show_gauge)
        self.stand(view)
        view.show_choice(key or card.few[0])

    def close_card(self) -> None:
        """Shut the card that is open, if one is."""
        if self._popover is not None:
            self._popover.shut()

    def open_choice(self, key: str) -> None:
        """Open the card that the choice lies in, at the choice."""
        self.open_card(card_of(key).name, key)

    def ask_for_kit(self) -> None:
        """Open the card that writes the kit."""
        if self.desk.source is None or self.desk.is_writing:
            return
        card = WriteCard(self, self.strip.kit, self.desk, kit_place(self.desk))
        self.stand(card)
        card.go.setFocus()

    def save(self) -> bool:
        """Save the Job where it lies, or where the maker says; False where nothing is said."""
        if self.desk.home.job is None:
            return self.save_elsewhere()
        self.desk.save(self.desk.home.job)
        return True

    def save_elsewhere(self) -> bool:
        """Save the Job where the maker says; False where nothing is said."""
        path = ask_where(self, self.desk) if self.desk.source is not None else None
        if path is not None:
            self.desk.save(path)
        return path is not None

    def find_choice(self) -> None:
        """Open the line that finds a choice by its name."""
        if self.desk.source is not None:
            finder = Finder(self, self.strip.brackets["picture"])
            finder.choice_asked.connect(self.open_choice)
            self.stand(finder)
            finder.line.setFocus()

    def show_picture(self) -> None:
        """The picture under the pages, or no longer."""
        if self.spread is not None:
            self.spread.view.show_picture(not self.spread.view.has_picture)

    def show_whole(self) -> None:
        """Everything on both pages."""
        if self.spread is not None:
            self.spread.part.fit()

    def run_bit(self) -> None:
        """Let the bit run along its path, or hold it."""
        if self.spread is not None and self.desk.shown is not None:
            self.spread.play.toggle()

    def show_true_size(self) -> None:
        """One mm of the frame as one mm of the screen."""
        if self.spread is not None and self.desk.shown is not None:
            self.true_size.show()

    def set_true_size(self) -> None:
        """The same, and let the maker set it right by a bank card."""
        if self.spread is not None and self.desk.shown is not None:
            self.true_size.show()
            card = self.true_size.card(self, self.strip.kit)
            self.stand(card)
            card.wider.setFocus()

    def list_keys(self) -> None:
        """Show what the keys do."""
        card = KeyCard(self, self.strip.kit)
        self.stand(card)
        card.setFocus()

    def list_words(self) -> None:
        """Show what the words of the trade mean."""
        card = WordsCard(self, self.strip.kit)
        self.stand(card)
        card.line.setFocus()

    def show_gauge(self) -> None:
        """The gauge's page in the place of the book."""
        self.close_card()
        if self.gauge is None:
            self._make_gauge()
        if self.gauge is not None:
            self._stack.setCurrentWidget(self.gauge)
            self.findings.hide()
            self.gauge.begin()

    def show_bench(self) -> None:
        """The work of the kit, step by step: of the one just written, or of the one that the Job lies in."""
        if self.is_at_bench:
            return
        if self._bench_work is not None and self._bench_of is self.desk.source:
            self._take_to_bench(self._bench_work)
            return
        folder = self.desk.home.job.parent if self.desk.home.job is not None else None
        if folder is None:
            self.notice.say(NO_KIT)
            return
        from app.desk.bench_work import bench_in  # noqa: PLC0415 - brings numpy

        self.desk.stage_changed.emit("reading the kit")
        self.desk.errands.run(lambda: bench_in(folder), self._take_to_bench, self._bench_failed)

    def leave_bench(self) -> None:
        """Back to the desk."""
        if self.is_at_bench:
            self._whole.setCurrentWidget(self._inside)
            self.setFocus()

    @property
    def is_at_bench(self) -> bool:
        """Whether the bench view is seen."""
        return self.bench is not None and self._whole.currentWidget() is self.bench

    def leave_gauge(self) -> None:
        """Back to the book, or to the empty desk."""
        if self.is_at_gauge:
            self._stack.setCurrentWidget(self.first)
            if self.desk.shown is not None:
                self._open_spread()
            (self.spread.part if self.desk.shown is not None and self.spread is not None else self).setFocus()

    @property
    def is_at_gauge(self) -> bool:
        """Whether the gauge's page is seen."""
        return self.gauge is not None and self._stack.currentWidget() is self.gauge

    def go_on(self) -> None:
        """Take up the work that was left."""
        if self._left is not None:
            left, self._left = self._left, None
            self.first.offer("")
            self.desk.take_up(left.job, left.source, f"{left.source.name} taken up again")
            self._keep()
            self.desk.errands.run(lambda: clear(left.folder), _ignore, self.fail)

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """The first time, begin what can wait until there is something to see."""
        super().showEvent(event)
        if not self._is_started:
            self._is_started = True
            QTimer.singleShot(0, self, self._start)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802 - Qt's name
        """Ask once about unsaved work; then end the building process, and go."""
        has_unsaved = self.desk.has_unsaved and not self._is_given_up
        if has_unsaved and not self._is_leaving and self.isVisible():
            event.ignore()
            self._ask_to_leave()
            return
        self._keep_timer.stop()
        self._warmth.close()
        if has_unsaved:  # closed a second time, or by the system: the next window offers it
            self._keep()
        self.desk.close()
        if self._keeper is not None:
            self._keeper.close(is_done=not has_unsaved)
        super().closeEvent(event)

    def _ask_to_leave(self) -> None:
        card = LeaveCard(self, self.strip.kit, work_name(self.desk))
        card.closed.connect(self._stay)
        card.save_asked.connect(self._save_and_leave)
        card.leave_asked.connect(self._give_up)
        self.stand(card)
        card.save.setFocus()
        self._is_leaving = True

    def _stay(self) -> None:
        self._is_leaving = False

    def _save_and_leave(self) -> None:
        self._is_leaving = True
        self.save()

    def _give_up(self) -> None:
        self._is_given_up = True
        self.close()

    def _saved(self, path: str) -> None:
        self._entitle()
        self.status.tell(f"saved as {Path(path).name}")
        if self._is_leaving:
            self.close()

    def _entitle(self) -> None:
        """The window's title: the work, and a star where it is not saved."""
        self.setWindowTitle(
            f"{work_name(self.desk)}[*] \u2014 Samecut" if self.desk.source is not None else "Samecut"
        )
        self.setWindowModified(self.desk.has_unsaved)

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Another theme: icons take its colours."""
        super().changeEvent(event)
        if event.type() is QEvent.Type.PaletteChange and hasattr(self, "findings"):
            self._colour()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802 - Qt's name
        """Files and pictures may be dropped anywhere."""
        if can_take(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802 - Qt's name
        """Open what was dropped; with Shift held it gives the films of the picture that lies there."""
        has_shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if self.doors.drop(event.mimeData(), is_second=has_shift):
            event.acceptProposedAction()

    def _make(self) -> None:
        self.strip = Strip(self.desk)
        self.first = FirstPage()
        self.notice = Notice()
        self.findings = FindingsColumn(self.desk)
        self.findings.hide()
        self.status = Status(self.desk)
        self.true_size = TrueSize(self, self.desk.errands)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.first)
        middle = QHBoxLayout()
        middle.setContentsMargins(12, 0, 4, 0)
        left = QVBoxLayout()
        left.addWidget(self.notice)
        left.addWidget(self._stack, 1)
        middle.addLayout(left, 1)
        middle.addWidget(self.findings)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.strip)
        column.addLayout(middle, 1)
        column.addWidget(self.status)
        self._inside, self._whole = inside, QStackedWidget()
        self._whole.addWidget(inside)
        self.setCentralWidget(self._whole)

    def _connect(self) -> None:
        desk = self.desk
        self.doors = Doors(self)
        desk.told.connect(self.status.tell)
        desk.shown_changed.connect(self._shown)
        desk.job_changed.connect(self._keep_soon)
        desk.history_changed.connect(self._entitle)
        desk.saved.connect(self._saved)
        desk.failed.connect(self.fail)
        desk.kit_written.connect(self._kit_written)
        desk.gauge_written.connect(self._gauge_written)
        self.strip.card_asked.connect(self.open_card)
        self.strip.kit_asked.connect(self.ask_for_kit)
        self.true_size.told.connect(self.status.show_scale)
        self.true_size.failed.connect(self.fail)
        self.status.scale_asked.connect(self.set_true_size)
        self.findings.choice_asked.connect(self.open_choice)
        self.findings.place_asked.connect(self._show_place)
        self.first.kept_asked.connect(self.go_on)
        self.first.gauge_asked.connect(self.show_gauge)
        self._keep_timer = QTimer(self)
        self._keep_timer.setSingleShot(True)
        self._keep_timer.setInterval(KEEP_MS)
        self._keep_timer.timeout.connect(self._keep)
        bind(self, {
            "open": self.doors.ask_for_file, "paste": self.doors.paste, "recent": self.doors.show_recent,
            "kit": self.ask_for_kit,
            "save": self.save, "save as": self.save_elsewhere,
            "undo": desk.undo, "redo": desk.redo, "find": self.find_choice,
            "next": self.findings.next_finding, "keys": self.list_keys, "words": self.list_words,
            "picture": self.show_picture, "whole": self.show_whole, "true": self.show_true_size,
            "run": self.run_bit, "gauge": self.show_gauge, "bench": self.show_bench,
        })  # fmt: skip

    def _start(self) -> None:
        self.desk.start()
        self._colour()
        state = self._state or state_folder()
        self._keeper = Keeper(state)
        self._warmth.run(_warm, self._make_spread, self.fail)
        self.desk.errands.run(self._keeper.left, self._offer, self.fail)
        self.doors.begin(state)
        self.true_size.recall(state)

    def _colour(self) -> None:
        theme = theme_of(self)
        self.setWindowIcon(icon("samecut", theme.accent, theme.desk, 64))
        self.first.colour()
        self.findings.colour()

    def _offer(self, left: Kept | None) -> None:
        self._left = left
        if left is not None:
            self.first.offer(f"Go on with {left.source.name}")

    def _shown(self, shown: object, is_old: bool) -> None:  # noqa: FBT001 - a signal's argument
        if self.is_at_gauge:
            return
        if shown is None:
            self._stack.setCurrentWidget(self.first)
            self.findings.hide()
            return
        if is_old:
            return
        self.notice.hide()
        self._open_spread()
        if self._is_first_proposal:
            self._is_first_proposal = False
            if to_answer(self.desk.job):
                self.open_card("height")

    def _make_spread(self, _nothing: object = None) -> "Spread":
        """The pages, made as soon as what they need has been imported; a first picture then finds them."""
        from app.desk.spread import Spread  # noqa: PLC0415 - brings numpy, after the window has been shown

        if self.spread is None:
            self.spread = Spread(self.desk)
            self.spread.view.hair_moved.connect(self._pointed)
            self.spread.view.told.connect(self.status.tell)
            self.true_size.take(self.spread.view)
            self._stack.addWidget(self.spread)
        return self.spread

    def _take_to_bench(self, work: "BenchWork") -> None:
        from app.desk.bench_view import BenchView  # noqa: PLC0415 - brings what papers need

        self.close_card()
        self.desk.stage_changed.emit("")
        if self.bench is None:
            self.bench = BenchView()
            self.bench.leave_asked.connect(self.leave_bench)
            self._whole.addWidget(self.bench)
        self._whole.setCurrentWidget(self.bench)
        self.bench.take(work)
        self.bench.setFocus()

    def _bench_failed(self, sentence: str, is_defect: bool) -> None:  # noqa: FBT001 - a callback's argument
        self.desk.stage_changed.emit("")
        self.fail(sentence, is_defect)

    def _make_gauge(self) -> None:
        from app.desk.gauge_page import GaugePage  # noqa: PLC0415 - brings numpy, and few need it

        made = self.gauge = GaugePage(self.desk)
        made.leave_asked.connect(self.leave_gauge)
        made.write_asked.connect(self.desk.write_gauge)
        made.work.told.connect(self._gauge_told)
        self._stack.addWidget(made)

    def _gauge_told(self, words: str, is_bad: bool) -> None:  # noqa: FBT001 - a signal's argument
        (self.notice.say if is_bad else self.status.tell)(words)

    def _gauge_written(self, folder: str, kit: Kit) -> None:
        self._kit_written(folder, kit)
        if self.gauge is not None:
            self.gauge.work.open(Path(folder))

    def _open_spread(self) -> None:
        self._stack.setCurrentWidget(self._make_spread())
        self.findings.show()

    def _pointed(self) -> None:
        if self.spread is not None:
            self.status.point(self.spread.view.hair)

    def _show_place(self, at: object) -> None:
        if self.spread is not None and isinstance(at, tuple):
            self.spread.view.show_place(at)

    def _kit_written(self, folder: str, kit: Kit) -> None:
        from app.desk.bench_work import bench_work  # noqa: PLC0415 - brings numpy, which is there by now

        self.notice.hide()
        self._entitle()
        has_order = bool(kit.report.get("order"))  # a kit of drawings alone may have none
        self._bench_work = bench_work(Path(folder).name, kit.report, kit.files) if has_order else None
        self._bench_of = self.desk.source
        card = KitCard(self, self.strip.kit, folder, kit)
        card.bench_asked.connect(self.show_bench)
        self.stand(card)
        card.open.setFocus()

    def stand(self, popover: Popover) -> None:
        """Open a card in the place of the one that is open."""
        if self._popover is not None:
            self._popover.shut()
        self._popover = popover
        popover.closed.connect(lambda: self._went(popover))
        popover.stand()

    def _went(self, popover: Popover) -> None:
        if self._popover is popover:
            self._popover = None

    def _close_if_open(self, title: str) -> bool:
        is_open = self._popover is not None and self._popover.heading.text() == title
        if is_open and self._popover is not None:
            self._popover.shut()
        return is_open

    def fail(self, sentence: str, _is_defect: bool = False) -> None:  # noqa: FBT001, FBT002 - a slot
        """Say it on the page."""
        self.notice.say(sentence)

    def _keep_soon(self, _job: object) -> None:
        if not self._keep_timer.isActive():
            self._keep_timer.start()

    def _keep(self) -> None:
        keeper, job, source = self._keeper, self.desk.job, self.desk.source
        if keeper is not None and source is not None:
            self.desk.errands.run(lambda: keeper.keep(job, source), _ignore, self.fail)


def _warm() -> None:
    """Import what the first thing shown needs while the window waits for a picture: half a second of work."""
    import app.desk.part_look  # noqa: PLC0415 - when there is time
    import app.desk.tab_hand  # noqa: F401, PLC0415
    import core.shown  # noqa: F401, PLC0415


def _ignore(_result: object) -> None:
    """Nothing follows."""
