"""The cut being played: which second of it is shown, whether the bit runs, and how fast."""

from time import perf_counter
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QTimer, Signal

if TYPE_CHECKING:
    from app.desk.desk import Desk
    from core.findings import Point
    from core.router.played import Played
    from core.shown import Shown

#: How many times faster than the machine the bit runs.
SPEEDS = (1, 10, 60, 300)
#: ms between two pictures: sixty in a second.
FRAME_MS = 16


class Play(QObject):
    """moved(): the bit stands elsewhere; changed(): shown or not, running or held, another speed or path."""

    moved = Signal()
    changed = Signal()

    def __init__(self, desk: "Desk", parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.shown: Shown | None = None
        self.second = 0.0
        self.speed = SPEEDS[1]
        self.is_on = False
        self._last = 0.0
        self._timer = QTimer(self, interval=FRAME_MS, timerType=Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self._tick)
        desk.shown_changed.connect(self._take)
        self._take(desk.shown, is_old=False)

    @property
    def run(self) -> "Played | None":
        """The path by the clock."""
        return self.shown.run if self.shown is not None else None

    @property
    def is_running(self) -> bool:
        """Whether the bit moves by itself."""
        return self._timer.isActive()

    @property
    def total(self) -> float:
        """Seconds of the whole cut."""
        return self.run.total() if self.run is not None else 0.0

    def toggle(self) -> None:
        """Let the bit run, or hold it; from the end it begins anew."""
        if self.is_running:
            self._timer.stop()
        elif self.total > 0.0:
            self.is_on = True
            if self.second >= self.total:
                self.second = 0.0
            self._last = perf_counter()
            self._timer.start()
            self.moved.emit()
        self.changed.emit()

    def seek(self, second: float) -> None:
        """Stand the bit at this second."""
        if self.total == 0.0:
            return
        was_on, self.is_on = self.is_on, True
        self.second = min(max(second, 0.0), self.total)
        if not was_on:
            self.changed.emit()
        self.moved.emit()

    def seek_near(self, point: "Point", reach_mm: float) -> bool:
        """Stand the bit at this place of the path, on the next pass there; False where no path is near."""
        seconds = self.run.seconds_near(point, reach_mm) if self.run is not None else ()
        if not seconds:
            return False
        later = [second for second in seconds if second > self.second + 1e-6]
        self.seek(later[0] if later else seconds[0])
        return True

    def faster(self) -> None:
        """The next of the speeds, the slowest after the fastest."""
        self.speed = SPEEDS[(SPEEDS.index(self.speed) + 1) % len(SPEEDS)]
        self.changed.emit()

    def leave(self) -> None:
        """Show the finished part again."""
        if self.is_on:
            self._timer.stop()
            self.is_on = False
            self.changed.emit()

    def hold(self) -> None:
        """Let nothing run that is not seen."""
        if self.is_running:
            self._timer.stop()
            self.changed.emit()

    def _take(self, shown: "Shown | None", is_old: bool) -> None:  # noqa: FBT001 - a signal's argument
        """Another path: the bit stands as far along it as along the last."""
        if is_old or shown is self.shown:
            return
        share = self.second / self.total if self.total else 0.0
        self.shown = shown
        self.second = share * self.total
        if shown is None:
            self.leave()
        self.changed.emit()

    def _tick(self) -> None:
        now = perf_counter()
        gone, self._last = now - self._last, now
        self.second = min(self.second + gone * self.speed, self.total)
        if self.second >= self.total:
            self._timer.stop()
            self.changed.emit()
        self.moved.emit()
