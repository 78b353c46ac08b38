"""The cut so far on the part page: slots as deep as they are, and the bit's way by the chip it took.

Both are kept as pictures that are only added to while the bit runs on. Going back begins them anew; what
takes longer than a frame is made over several, so that the hand is never held.
"""

from time import perf_counter
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap

from app.desk.cut_paint import LINE_PX, chip_colour, paint_bit, slot_colours
from app.desk.theme import Theme
from app.desk.view import Seen, transform_of
from core.router.played import Chip

if TYPE_CHECKING:
    from app.desk.page import Page
    from app.desk.play import Play
    from core.router.played import Played
    from core.shown import Shown

#: s of a frame that may go into catching up; pieces painted between two looks at the clock.
BUDGET_S, CHUNK = 0.010, 400
#: px; corners nearer together than this are drawn as one.
NEAR_PX = 0.7
#: Steps of depth that are told apart in a slot, beside the one through the stock.
DEPTHS = 10


class CutLayer:
    """What the bit has done until the second that is played."""

    def __init__(self, page: "Page", play: "Play") -> None:
        self._page, self._play = page, play
        self._slots, self._lines = QPixmap(), QPixmap()
        self._key: object = None
        self._done = 0
        self._second = 0.0
        self._levels, self._cells = np.zeros(0, np.int8), np.zeros(0, np.int64)
        self._bit = QRectF()
        play.moved.connect(self._moved)
        play.changed.connect(page.update)

    @property
    def is_behind(self) -> bool:
        """Whether what is painted is not yet what is played."""
        return self._second < self._play.second

    def paint(self, painter: QPainter, seen: Seen, theme: Theme) -> None:
        """Everything until now, and the bit; the painter stands in px."""
        shown = self._play.shown
        if shown is None:
            return
        self._catch_up(shown, seen, theme)
        painter.drawPixmap(0, 0, self._slots)
        painter.drawPixmap(0, 0, self._lines)
        stand = shown.run.stand(self._play.second)
        paint_bit(painter, seen.of(*stand.at[:2]), shown.setup.bit.radius_mm * seen.scale, stand.at[2], theme)

    def _moved(self) -> None:
        """Paint on, and ask the page for no more than what has changed."""
        shown, page = self._play.shown, self._page
        if shown is None or not page.isVisible():
            return
        seen = page.seen()
        if self._key != self._key_of(shown, seen, page.theme) or self._play.second < self._second:
            page.update()
            return
        touched = self._catch_up(shown, seen, page.theme)
        x, y, _ = shown.run.stand(self._play.second).at
        reach = shown.setup.bit.diameter_mm * seen.scale + 6.0
        before, self._bit = (
            self._bit,
            QRectF(seen.of(x, y), seen.of(x, y)).adjusted(-reach, -reach, reach, reach),
        )
        page.update(touched.united(before).united(self._bit).toAlignedRect())

    def _key_of(self, shown: "Shown", seen: Seen, theme: Theme) -> object:
        page = self._page
        return id(shown.run), seen, theme.name, page.size().toTuple(), page.devicePixelRatioF()

    def _begin(self, shown: "Shown", seen: Seen) -> None:
        ratio, size = self._page.devicePixelRatioF(), self._page.size()
        for name in ("_slots", "_lines"):
            picture = QPixmap(size * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(Qt.GlobalColor.transparent)
            setattr(self, name, picture)
        self._done, self._second = 0, 0.0
        self._levels = levels_of(shown)
        steps = np.hypot(*np.diff(shown.run.points[:, :2], axis=0).T) * seen.scale / NEAR_PX
        self._cells = np.concatenate(([0.0], np.cumsum(steps))).astype(np.int64)

    def _catch_up(self, shown: "Shown", seen: Seen, theme: Theme) -> QRectF:
        """Paint what was cut since the last time, as far as a frame allows; the px touched."""
        key = self._key_of(shown, seen, theme)
        if key != self._key or self._play.second < self._second:
            self._begin(shown, seen)
            self._key = key
        run, begun, first = shown.run, perf_counter(), self._done
        wanted = min(int(np.searchsorted(run.seconds, self._play.second, "right")) - 1, run.moves.size)
        brush = _Brush(self._slots, self._lines, seen, theme, shown)
        while self._done < wanted and perf_counter() - begun < BUDGET_S:
            upto = min(self._done + CHUNK, wanted)
            brush.draw(run, self._levels, self._cells, slice(self._done, upto))
            self._done = upto
        is_behind = self._done < wanted
        self._second = float(run.seconds[self._done]) if is_behind else self._play.second
        if not is_behind and wanted < run.moves.size:
            brush.draw_part(run, self._levels, wanted, run.stand(self._play.second).at)
        brush.end()
        touched = _box(run, first, min(self._done + 1, run.moves.size), seen, shown.setup.bit.diameter_mm)
        if is_behind:
            self._page.update(touched.toAlignedRect())
        return touched


class _Brush:
    """Draws pieces of the path on both pictures."""

    def __init__(self, slots: QPixmap, lines: QPixmap, seen: Seen, theme: Theme, shown: "Shown") -> None:
        self._onto = QPainter(slots), QPainter(lines)
        for painter in self._onto:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setTransform(transform_of(seen))
        self._slots = [_round(colour, shown.setup.bit.diameter_mm) for colour in slot_colours(theme, DEPTHS)]
        self._lines = {kind: _thin(chip_colour(theme, kind), px) for kind, px in LINE_PX.items()}

    def draw(self, run: "Played", levels: np.ndarray, cells: np.ndarray, which: slice) -> None:
        """Some pieces in a row, corners left out that lie in one cell with the one before."""
        first, kinds = which.start, run.kinds[which]
        for begin, end in _runs(np.where(kinds == Chip.AIR, -1, levels[which])):
            if kinds[begin] != Chip.AIR:
                corners = _corners(run.points, cells, first + begin, first + end)
                self._stroke(0, self._slots[levels[first + begin]], corners)
        for begin, end in _runs(kinds):
            if kinds[begin] != Chip.AIR:
                corners = _corners(run.points, cells, first + begin, first + end)
                self._stroke(1, self._lines[Chip(int(kinds[begin]))], corners)

    def draw_part(
        self, run: "Played", levels: np.ndarray, piece: int, at: tuple[float, float, float]
    ) -> None:
        """The piece that the bit is on, as far as it has come."""
        kind = Chip(int(run.kinds[piece]))
        if kind is not Chip.AIR:
            points = np.vstack((run.points[piece], at))
            self._stroke(0, self._slots[levels[piece]], points)
            self._stroke(1, self._lines[kind], points)

    def _stroke(self, which: int, pen: QPen, points: np.ndarray) -> None:
        self._onto[which].setPen(pen)
        self._onto[which].drawPolyline([QPointF(x, -y) for x, y, _ in points.tolist()])

    def end(self) -> None:
        """No more."""
        for painter in self._onto:
            painter.end()


def levels_of(shown: "Shown") -> np.ndarray:
    """(n,) int8: the depth of each piece in DEPTHS steps, one more where it is through the stock."""
    z, bed = shown.run.points, shown.setup.bed_z
    deepest = np.minimum(z[:-1, 2], z[1:, 2])
    steps = np.clip(np.round(deepest / bed * DEPTHS), 0, DEPTHS - 1)
    return np.asarray(np.where(deepest < bed, DEPTHS, steps), dtype=np.int8)


def _corners(points: np.ndarray, cells: np.ndarray, first: int, last: int) -> np.ndarray:
    """The corners first to last, both kept, without those that no pixel tells from the one before."""
    is_kept = np.diff(cells[first : last + 1], prepend=-1) > 0
    is_kept[-1] = True
    return np.asarray(points[first : last + 1][is_kept])


def _runs(values: np.ndarray) -> list[tuple[int, int]]:
    """First and one past the last index of each run of equal values."""
    if not values.size:
        return []
    ends = np.flatnonzero(np.diff(values)) + 1
    return list(zip([0, *ends.tolist()], [*ends.tolist(), values.size], strict=True))


def _box(run: "Played", first: int, last: int, seen: Seen, bit_mm: float) -> QRectF:
    points = run.points[first : last + 1, :2]
    (left, low), (right, high) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    return QRectF(seen.of(left - bit_mm, high + bit_mm), seen.of(right + bit_mm, low - bit_mm))


def _round(colour: QColor, width_mm: float) -> QPen:
    join, cap = Qt.PenJoinStyle.RoundJoin, Qt.PenCapStyle.RoundCap
    return QPen(colour, width_mm, Qt.PenStyle.SolidLine, cap, join)


def _thin(colour: QColor, px: float) -> QPen:
    pen = QPen(colour, px)
    pen.setCosmetic(True)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen
