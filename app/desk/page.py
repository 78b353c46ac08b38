"""A page of the open book: what it shows stands still in a cached picture, what moves is painted over it.

The still layer is painted anew when view, size, density, theme or what is shown change; a hand that drags
a tab or moves the hair-cross costs one copy of that layer and a few lines.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, QRectF, QSizeF, Qt, QTimer
from PySide6.QtGui import (
    QHideEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QRegion,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.desk.layer import Layer
from app.desk.page_paint import (
    COMING,
    STUCK,
    paint_corner,
    paint_focus,
    paint_fold,
    paint_hair,
    paint_place,
    paint_title,
    paint_veil,
)
from app.desk.ruler_hands import paint_levels
from app.desk.theme import Theme, theme_of
from app.desk.view import TITLE_PX, Box, CommonView, Seen, transform_of

if TYPE_CHECKING:
    from app.desk.desk import Desk
    from core.shown import Shown

#: Zoom of one notch of a wheel (120 eighths of a degree).
ZOOM_A_NOTCH = 1.2
NOTCH = 120.0
#: px above and below a level within which words, tab and ring of a hand lie; and about the hair-cross.
BAND_PX, HAIR_PX = 64.0, 7
#: px from a page's edge that a place which is asked for keeps at least.
SIGHT_PX = 30.0
#: ms that a new Shown may take before the last one is veiled as old.
PATIENCE_MS = 150
#: ms of a zoom that a page may be drawn scaled and soft before it is painted sharp.
HASTE_MS = 90
#: px of a pan by one press of an arrow key.
PAN_PX = 40.0
#: px within which two places are one to a hand.
REACH_PX = 10.0


class Page(QWidget):
    """Base of both pages. Subclasses paint the still layer and, over it, what moves."""

    def __init__(self, desk: "Desk", view: CommonView, name: str) -> None:
        super().__init__()
        self.desk, self.view = desk, view
        self.shown: Shown | None = desk.shown
        self.is_old = desk.is_old
        self._still = Layer()
        self._patience = QTimer(self, singleShot=True, interval=PATIENCE_MS)
        self._patience.timeout.connect(self.update)
        self._haste, self._is_sharp_due = QTimer(self, singleShot=True, interval=HASTE_MS), True
        self._haste.timeout.connect(self._sharpen)
        self._grabbed: QPointF | None = None
        self._hair_region, self._bands = QRegion(), QRegion()
        self.setAccessibleName(name)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumSize(240, 240)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        desk.shown_changed.connect(self._take)
        desk.stepping.connect(self.end_walks)
        desk.preview_changed.connect(self._rescaled)
        view.changed.connect(self.hurry)
        for signal in (view.book_changed, view.layers_changed):
            signal.connect(self.update)
        view.hair_moved.connect(self._hair_moved)
        view.place_shown.connect(self._bring_place)

    # what subclasses answer

    def end_walks(self) -> None:
        """What keys have walked so far becomes the Job's."""

    def title(self) -> tuple[str, str]:
        """What the page is, and of what, in words."""
        raise NotImplementedError

    def fold_side(self) -> Qt.Edge:
        """The side where the page runs into the book's fold."""
        raise NotImplementedError

    def shown_anew(self) -> None:
        """Something else is shown: whatever was made of the last is of no use."""

    def paint_still(self, painter: QPainter, theme: Theme) -> None:
        """Paint what stands still, in the scene: mm, y down."""
        raise NotImplementedError

    def paint_moving(self, painter: QPainter, seen: Seen, theme: Theme) -> None:
        """Paint what a hand moves, in px."""

    def paint_words(self, painter: QPainter, seen: Seen, theme: Theme) -> None:
        """Paint the words beside what is in the hand or under the pointer, in px."""

    def named_at(self, at: QPointF) -> str:
        """What lies under the pointer, in words; empty when nothing does."""
        raise NotImplementedError

    # the view

    @property
    def theme(self) -> Theme:
        """The colours the page stands in."""
        return theme_of(self)

    @property
    def size_f(self) -> QSizeF:
        """The page's size, px."""
        return QSizeF(self.size())

    def seen(self) -> Seen:
        """Where the frame stands on this page; a height that is still being made is shown by scaling."""
        seen, scale = self.view.seen_on(self.size_f), self.desk.scale
        if scale == 1.0 or self.shown is None:
            return seen
        x, y = self.shown.layout.shape_at
        foot = seen.of(x, y)
        return Seen(seen.scale * scale, foot.x() - x * seen.scale * scale, foot.y() + y * seen.scale * scale)

    def fit(self) -> None:
        """Show everything."""
        if self.shown is not None:
            self.view.fit(_whole_box(self.shown, self.desk.scale), self.size_f)

    def invalidate(self) -> None:
        """The still layer must be painted anew."""
        self._still.forget()
        self.update()

    @property
    def is_hurried(self) -> bool:
        """Whether the view is on the move, so that quick is better than sharp."""
        return self._haste.isActive() and not self._is_sharp_due

    def hurry(self) -> None:
        """The view moves: be quick now, and sharp in a moment."""
        if not self._haste.isActive() and self.isVisible():
            self._haste.start()
        self.update()

    def _sharpen(self) -> None:
        self._is_sharp_due = True
        self.update()

    def _take(self, shown: "Shown | None", is_old: bool) -> None:  # noqa: FBT001 - a signal's argument
        is_other = shown is not self.shown
        is_first = self.shown is None
        self.shown, self.is_old = shown, is_old
        self._patience.start() if is_old and self.isVisible() else self._patience.stop()
        if is_other or not is_old:
            self.shown_anew()  # also of the same one: what a hand had moved may have been undone
            self._still.forget()
        if shown is not None and (is_first or self.view.is_fitted):
            self.fit()
        self.update()

    def _rescaled(self, _scale: float) -> None:
        if self.view.is_fitted and not self.view.is_held:
            self.fit()
        self.hurry()

    def freshen(self, *levels: float) -> None:
        """Paint only what lies about these levels (px) anew, and about those of the last time."""
        before, self._bands = self._bands, QRegion()
        for y in levels:
            self._bands += QRect(0, round(y - BAND_PX), self.width(), round(2.0 * BAND_PX))
        self.update(self._bands.united(before))

    def _hair_moved(self) -> None:
        before, self._hair_region = self._hair_region, QRegion()
        if self.view.hair is not None:
            at = self.view.seen_on(self.size_f).of(*self.view.hair).toPoint()
            self._hair_region = QRegion(0, at.y() - HAIR_PX, self.width(), 2 * HAIR_PX)
            self._hair_region += QRect(at.x() - HAIR_PX, 0, 2 * HAIR_PX, self.height())
        self.update(self._hair_region.united(before))

    def _bring_place(self) -> None:
        """A place that is asked for is moved into sight."""
        place = self.view.place
        if place is not None and self.shown is not None:
            room = QRectF(self.rect()).adjusted(SIGHT_PX, TITLE_PX, -SIGHT_PX, -SIGHT_PX)
            at = self.seen().of(*place)
            if room.isValid() and not room.contains(at):
                away = room.center() - at
                self.view.pan(away.x(), away.y())
        self.update()

    # painting

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Copy the still layer, then paint what moves."""
        del event
        hurried = self.is_hurried
        painter = QPainter(self)
        try:  # a painter that an error leaves behind takes the whole process with it
            self._paint(painter, is_hurried=hurried)
        finally:
            painter.end()
        self._is_sharp_due = self._is_sharp_due and hurried

    def _paint(self, painter: QPainter, *, is_hurried: bool) -> None:
        theme, seen = self.theme, self.seen()
        self._still.ground = theme.colour("page")
        self._still.draw(
            painter, self, seen, self.still_key(), self._paint_still_layer, is_hurried=is_hurried
        )
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.shown is not None:
            self.paint_moving(painter, seen, theme)
        self._paint_frame(painter, theme)
        if self.shown is not None:
            self._paint_pointed(painter, theme)
            self.paint_words(painter, seen, theme)
        if self.hasFocus():
            paint_focus(painter, self, theme)

    def still_key(self) -> tuple[object, ...]:
        """What everything drawn in the frame depends on, beside the page's size and the view."""
        return (self.theme.name, id(self.shown), self.still_stamp())

    def still_stamp(self) -> object:
        """Whatever else the still layer depends on."""
        return None

    def _is_veiled(self) -> bool:
        """At once where a height is scaled, else when the new one is long in coming: no flicker."""
        is_late = self.is_old and not self._patience.isActive()
        return self.shown is not None and (is_late or self.desk.scale != 1.0)

    def _paint_still_layer(self, painter: QPainter) -> None:
        if self.shown is not None:
            painter.setTransform(transform_of(self.seen()))
            self.paint_still(painter, self.theme)

    def _paint_frame(self, painter: QPainter, theme: Theme) -> None:
        """What lies over everything of the frame: the veil of what is old, the title, the fold."""
        if self._is_veiled():
            paint_veil(painter, self, STUCK if self.desk.is_stuck else COMING, theme)
        elif self.shown is not None and self.shown.is_first_look:
            paint_corner(painter, self, "first look \u00b7 the exact edge follows", theme)
        if self.shown is not None:
            paint_title(painter, self, self.title(), theme)
        paint_fold(painter, self, self.fold_side(), theme)

    def _paint_pointed(self, painter: QPainter, theme: Theme) -> None:
        if self.view.hands is not None and self.shown is not None:
            seen, foot = self.view.seen_on(self.size_f), self.shown.layout.shape_at[1]
            first, second = (seen.of(0.0, foot + level).y() for level in self.view.hands)
            paint_levels(painter, float(self.width()), (first, second), theme)
        if self.view.hair is not None:
            at = self.view.seen_on(self.size_f).of(*self.view.hair)
            paint_hair(painter, self, at, theme)
        if self.view.place is not None:
            paint_place(painter, self.seen().of(*self.view.place), theme)

    # the hand

    def pressed(self, at: QPointF) -> bool:
        """Whether a press of the left button took something here; else the page is moved."""
        del at
        return False

    def dragged(self, at: QPointF) -> None:
        """What was taken is moved to here."""

    def released(self, at: QPointF) -> None:
        """What was taken is let go."""

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take what lies here, or the page itself."""
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        self.view.show_place(None)
        left = event.button() is Qt.MouseButton.LeftButton
        if not (left and self.shown is not None and self.pressed(event.position())):
            self._grabbed = event.position()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Move the hair-cross, and what was taken."""
        at = event.position()
        if self._grabbed is not None and event.buttons() != Qt.MouseButton.NoButton:
            step = at - self._grabbed
            self._grabbed = at
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            self.view.pan(step.x(), step.y())
        elif event.buttons() & Qt.MouseButton.LeftButton:
            self.dragged(at)
        self.view.point_at(self.view.seen_on(self.size_f).back(at))
        if event.buttons() == Qt.MouseButton.NoButton:
            self._tell(at)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Let go."""
        if self._grabbed is None:
            self.released(event.position())
        self._grabbed = None
        self.unsetCursor()

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """The hair-cross goes with the pointer."""
        del event
        self.view.point_at(None)
        self.view.told.emit("")

    def _tell(self, at: QPointF) -> None:
        if self.shown is None:
            return
        words = self.named_at(at)
        self.setAccessibleDescription(words)
        self.view.told.emit(words)

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """A wheel zooms about the pointer; two fingers on a pad move the page."""
        pixels, is_zoom = event.pixelDelta(), event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if pixels != QPoint() and not is_zoom:
            self.view.pan(pixels.x(), pixels.y())
        else:
            notches = event.angleDelta().y() / NOTCH
            self.view.zoom_at(self.view.seen_on(self.size_f).back(event.position()), ZOOM_A_NOTCH**notches)
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """P: picture; T: true size; 0: everything; + and -: zoom; arrows move the page."""
        if not self.keyed(event) and not self._view_key(Qt.Key(event.key())):
            super().keyPressEvent(event)

    def keyed(self, event: QKeyEvent) -> bool:
        """Whether the key meant something here."""
        del event
        return False

    def _view_key(self, key: Qt.Key) -> bool:
        steps = {
            Qt.Key.Key_Left: (PAN_PX, 0.0),
            Qt.Key.Key_Right: (-PAN_PX, 0.0),
            Qt.Key.Key_Up: (0.0, PAN_PX),
            Qt.Key.Key_Down: (0.0, -PAN_PX),
        }
        if key in steps:
            self.view.pan(*steps[key])
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.view.zoom_at(self.view.hair or self.view.centre, ZOOM_A_NOTCH)
        elif key is Qt.Key.Key_Minus:
            self.view.zoom_at(self.view.hair or self.view.centre, 1.0 / ZOOM_A_NOTCH)
        elif key is Qt.Key.Key_0:
            self.fit()
        elif key is Qt.Key.Key_T:
            self.view.true_size(self.screen().physicalDotsPerInch())
        elif key is Qt.Key.Key_P:
            self.view.show_picture(not self.view.has_picture)
        else:
            return False
        return True

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Nothing is waited for that is not seen."""
        self._patience.stop()
        self._haste.stop()
        super().hideEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """A view that shows everything goes on doing so."""
        super().resizeEvent(event)
        if self.view.is_fitted:
            self.fit()

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Another theme paints anew."""
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self.invalidate()
        super().changeEvent(event)


def _whole_box(shown: "Shown", scale: float) -> Box:
    """The stock and the sheet box, mm, scaled about the shape's foot as the page draws them."""
    stock, (x, y) = shown.layout.stock, shown.layout.shape_at
    left, near, right, far = shown.sheet_box.loop.bounds()
    low_x, low_y = min(left, 0.0), min(near, 0.0)
    high_x, high_y = max(right, stock.width_mm), max(far, stock.depth_mm)
    return (
        x + (low_x - x) * scale,
        y + (low_y - y) * scale,
        x + (high_x - x) * scale,
        y + (high_y - y) * scale,
    )
