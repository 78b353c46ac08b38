"""The one view that both pages and the ruler share: where the frame stands on the screen, and the hair-cross.

A page shows the view's centre in its own middle, so pages of one height have every place on one line. How
far the book is closed, and the picture under the pages, are of the view too: all leaves must agree. While a
hand drags what the view would be fitted to (is_held), it stays as it is.
"""

from dataclasses import dataclass

from PySide6.QtCore import QObject, QPointF, QSizeF, Signal
from PySide6.QtGui import QTransform

Box = tuple[float, float, float, float]

#: mm per px; nearer than this a pixel is below what any cutter does, farther the largest sheet is a dot.
NEAREST, FARTHEST = 0.002, 20.0
#: Share of a page that is left free round what is fitted into it.
MARGIN_SHARE = 0.06
#: px at a page's top that its title takes.
TITLE_PX = 56.0
#: mm in an inch, by definition.
INCH_MM = 25.4


@dataclass(frozen=True)
class Seen:
    """A view on one page: scene (x right, y down, mm) to the page's px is scale * point + (left, top)."""

    scale: float
    left: float
    top: float

    def of(self, x: float, y: float) -> QPointF:
        """The page's px of a place in the frame, mm, y up."""
        return QPointF(x * self.scale + self.left, -y * self.scale + self.top)

    def back(self, at: QPointF) -> tuple[float, float]:
        """The place in the frame, mm, of the page's px."""
        return (at.x() - self.left) / self.scale, (self.top - at.y()) / self.scale


def transform_of(seen: Seen) -> QTransform:
    """Scene (mm, y down) to px."""
    return QTransform(seen.scale, 0.0, 0.0, seen.scale, seen.left, seen.top)


class CommonView(QObject):
    """changed(): move or zoom; hair_moved(): the pointer's place; book_changed(): how far it is closed;
    layers_changed(): picture, tool, misfit, hands; place_shown(); told(words) of what is under the pointer.
    """  # noqa: D205 - the signals are the summary

    changed = Signal()
    hair_moved = Signal()
    book_changed = Signal()
    layers_changed = Signal()
    place_shown = Signal()
    told = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.mm_per_px = 0.25
        self.centre = (0.0, 0.0)
        self.is_fitted = True
        self.hair: tuple[float, float] | None = None
        self.closed = 0.0
        self.is_held = False
        self.has_picture = False
        self.tool = "role"
        self.has_misfit = False
        self.hands: tuple[float, float] | None = None
        self.place: tuple[float, float] | None = None
        self.screen_correction = 1.0

    def seen_on(self, size: QSizeF) -> Seen:
        """The view on a page of this size, px."""
        scale = 1.0 / self.mm_per_px
        middle_y = (size.height() + TITLE_PX) / 2.0
        return Seen(scale, size.width() / 2.0 - self.centre[0] * scale, middle_y + self.centre[1] * scale)

    def fit(self, box: Box, size: QSizeF) -> None:
        """Show all of box (x_min, y_min, x_max, y_max, mm) on a page of this size."""
        width, height = max(box[2] - box[0], 1e-6), max(box[3] - box[1], 1e-6)
        room = 1.0 - 2.0 * MARGIN_SHARE
        wide, high = max(size.width(), 50.0) * room, max(size.height() - TITLE_PX, 50.0) * room
        self._set(max(width / wide, height / high), ((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0))
        self.is_fitted = True

    def zoom_at(self, point: tuple[float, float], factor: float) -> None:
        """Show everything factor times as large; the place (mm) stays where it is on every page."""
        wanted = min(max(self.mm_per_px / factor, NEAREST), FARTHEST)
        share = wanted / self.mm_per_px
        x, y = (at + (middle - at) * share for at, middle in zip(point, self.centre, strict=True))
        self._set(wanted, (x, y))

    def pan(self, right_px: float, down_px: float) -> None:
        """Move what is shown by px."""
        x, y = self.centre
        self._set(self.mm_per_px, (x - right_px * self.mm_per_px, y + down_px * self.mm_per_px))

    def true_size(self, dots_per_inch: float) -> None:
        """Show one mm as one mm on a screen of this density; screen_correction is what the maker measured."""
        self._set(INCH_MM / dots_per_inch / self.screen_correction, self.centre)

    def correct_screen(self, correction: float, dots_per_inch: float) -> None:
        """Take the maker's word for how large a mm is; a view at true size stays one."""
        was_true = self.is_true_size(dots_per_inch)
        self.screen_correction = correction
        self.true_size(dots_per_inch) if was_true else self.changed.emit()

    def times_true_size(self, dots_per_inch: float) -> float:
        """How many times larger than true size everything is shown."""
        return INCH_MM / dots_per_inch / self.screen_correction / self.mm_per_px

    def is_true_size(self, dots_per_inch: float) -> bool:
        """Whether one mm is one mm on a screen of this density."""
        true = INCH_MM / dots_per_inch / self.screen_correction
        return abs(self.mm_per_px / true - 1.0) < 1e-9

    def point_at(self, point: tuple[float, float] | None) -> None:
        """Stand the hair-cross at this place of the frame, mm, on every page; None takes it away."""
        if point != self.hair:
            self.hair = point
            self.hair_moved.emit()

    def close_book(self, share: float) -> None:
        """0 leaves the film on its own page, 1 lays it on the part."""
        share = min(max(share, 0.0), 1.0)
        if share != self.closed:
            self.closed = share
            self.book_changed.emit()

    def show_picture(self, wanted: bool) -> None:  # noqa: FBT001 - the value itself
        """The picture under both pages, or not."""
        if wanted != self.has_picture:
            self.has_picture = wanted
            self.layers_changed.emit()

    def take_tool(self, tool: str) -> None:
        """What a press on the picture does, by the name of a Tool."""
        if tool != self.tool:
            self.tool = tool
            self.layers_changed.emit()

    def show_misfit(self, wanted: bool) -> None:  # noqa: FBT001 - the value itself
        """How far edges lie from where the outline has them, enlarged, or not."""
        if wanted != self.has_misfit:
            self.has_misfit = wanted
            self.layers_changed.emit()

    def measure(self, levels: tuple[float, float] | None) -> None:
        """Measure between two levels, mm above the shape's foot, on both pages; None takes them away."""
        if levels != self.hands:
            self.hands = levels
            self.layers_changed.emit()

    def show_place(self, point: tuple[float, float] | None) -> None:
        """Ring a place of the frame, mm, on both pages; None takes the ring away."""
        self.place = point
        self.place_shown.emit()

    def _set(self, mm_per_px: float, centre: tuple[float, float]) -> None:
        self.mm_per_px, self.centre, self.is_fitted = mm_per_px, centre, False
        self.changed.emit()
