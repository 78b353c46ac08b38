"""The depth strip: the cut from its first second to its last, seen from the side, and the bit led along it.

From left to right runs the time of the cut; downward lies the depth, drawn larger. Tabs stand as bumps in the
last passes, with a mark below them; what comes free is marked above. A band tells the chip.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFocusEvent, QHideEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from app.desk.icons import icon
from app.desk.label import lettering, paint_label
from app.desk.layer import Layer
from app.desk.part_paint import tinted
from app.desk.play import Play
from app.desk.strip_levels import StripLevels
from app.desk.strip_paint import StripLook, paint_head, paint_strip, section_of
from app.desk.theme import Theme, theme_of
from app.desk.view import Seen

if TYPE_CHECKING:
    from app.desk.desk import Desk
    from core.shown import Shown

HIGH_PX = 96
#: px for the words at the left, and for the buttons at the right.
WORDS_PX, BUTTONS_PX = 252.0, 132.0
#: px about the playhead that are painted anew when it moves, and within which a mark is told.
HEAD_PX, MARK_PX = 9.0, 5.0
#: s of one press of an arrow key, and with Shift.
STEP_S, LONG_STEP_S = 1.0, 10.0
#: The strip stands still: it is seen from where it is.
UNMOVED = Seen(1.0, 0.0, 0.0)


class DepthStrip(QWidget):
    """Press or drag: the bit stands there. Space runs, holds it; arrows, Home, End lead it; Escape ends.

    Return chooses a level, the tabs' or the skim's, and up and down move it.
    """

    def __init__(self, desk: "Desk", play: Play | None = None) -> None:
        super().__init__()
        self.desk = desk
        self.play = play or Play(desk, self)
        self._look: StripLook | None = None
        self.levels = StripLevels(self)
        self._layer = Layer()
        self._pointer: QPointF | None = None
        self._head = QRect()
        self.setAccessibleName("depth strip, the cut by its time")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._make_buttons()
        desk.shown_changed.connect(self._take)
        desk.stepping.connect(self.levels.end_walk)
        self.play.moved.connect(self._moved)
        self.play.changed.connect(self._changed)
        self._take(desk.shown, is_old=False)
        self._changed()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Low and wide."""
        return QSize(600, HIGH_PX)

    def box(self) -> QRectF:
        """Where the cut is drawn, px."""
        return QRectF(self.rect()).adjusted(WORDS_PX, 16.0, -BUTTONS_PX, -14.0)

    def x_of(self, second: float) -> float:
        """Px of a second."""
        box = self.box()
        return box.left() + second / max(self.play.total, 1e-9) * box.width()

    def second_at(self, x: float) -> float:
        """The second at px from the left."""
        box = self.box()
        return (x - box.left()) / max(box.width(), 1.0) * self.play.total

    def section(self) -> tuple[QRectF, float]:
        """Where the stock is seen in section, px, and px per mm of depth; 0 where nothing is shown."""
        shown = self.play.shown
        return section_of(self.box(), shown) if shown is not None else (self.box(), 0.0)

    def is_by_tab(self, x: float, reach_px: float) -> bool:
        """Whether a tab stands within reach of px from the left."""
        look = self.look
        return look is not None and any(abs(self.x_of(second) - x) <= reach_px for second in look.tabs)

    # buttons

    def _make_buttons(self) -> None:
        self.run = _button("", "run the bit along its path, or hold it", self.play.toggle)
        self.speed = _button("", "", self.play.faster)
        self.done = _button("whole part", "show the finished part again", self.play.leave)
        for button in (self.run, self.speed, self.done):
            button.setParent(self)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """The buttons stay at the right."""
        super().resizeEvent(event)
        left, wide = self.width() - round(BUTTONS_PX) + 14, round(BUTTONS_PX) - 26
        self.run.setGeometry(left, 14, 40, 32)
        self.speed.setGeometry(left + 44, 14, wide - 44, 32)
        self.done.setGeometry(left, 52, wide, 32)

    def _changed(self) -> None:
        theme, play = theme_of(self), self.play
        self.run.setIcon(icon("hold" if play.is_running else "run", theme.accent, theme.page, 22))
        self.run.setIconSize(QSize(22, 22))
        self.run.setAccessibleName("hold the bit" if play.is_running else "run the bit along its path")
        self.run.setToolTip(f"{self.run.accessibleName()}: B")
        self.speed.setText(f"{play.speed}\u00d7")
        self.speed.setAccessibleName(f"{play.speed} times as fast as the machine; press for another speed")
        self.speed.setToolTip("times as fast as the machine; press for another speed")
        self.done.setVisible(play.is_on)
        for button in (self.run, self.speed):
            button.setEnabled(play.total > 0.0)
        self._tell_stand()
        self.update()

    # what is shown

    def _take(self, shown: "Shown | None", is_old: bool) -> None:  # noqa: FBT001 - a signal's argument
        if not is_old or shown is None:
            self._look = None
            self.levels.take_up(shown)
            self.setAccessibleDescription("" if shown is None else ", ".join(words_of(shown)))
            self._layer.forget()
        self.update()

    @property
    def look(self) -> StripLook | None:
        """What is drawn of what is shown."""
        shown, wide = self.play.shown, round(self.box().width() * self.devicePixelRatioF())
        if shown is None or wide < 1:
            return None
        if self._look is None or not self._look.is_of(shown, wide):
            self._look = StripLook.of(shown, wide)
        return self._look

    def _moved(self) -> None:
        before, self._head = self._head, self._head_rect()
        self.update(before.united(self._head))
        self.update(0, 0, round(WORDS_PX), self.height())
        if not self.play.is_running:
            self._tell_stand()

    def _head_rect(self) -> QRect:
        x = self.x_of(self.play.second)
        return QRectF(x - HEAD_PX, 0.0, 2.0 * HEAD_PX, self.height()).toAlignedRect()

    def _tell_stand(self) -> None:
        """For those who have it read to them."""
        if self.play.shown is not None:
            self.setAccessibleDescription(", ".join(self._words(self.play.shown)))

    def _words(self, shown: "Shown") -> tuple[str, ...]:
        if not self.play.is_on:
            return words_of(shown)
        from app.desk.play_words import at_second  # noqa: PLC0415 - brings numpy; something is shown by now

        return at_second(shown, self.play.second)

    # painting

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """The cut is painted once, until something else is shown; words, head and label over it."""
        theme, painter = theme_of(self), QPainter(self)
        painter.setClipRect(event.rect())
        self._layer.ground = theme.colour("page")
        what = (theme.name, id(self.play.shown))
        self._layer.draw(painter, self, UNMOVED, what, self._paint_layer, is_hurried=False)
        shown = self.play.shown
        if shown is not None:
            self._paint_words(painter, theme, self._words(shown))
            if self.desk.is_old:
                painter.fillRect(self.rect(), tinted(theme, "veil", 120))
            if self.play.is_on:
                paint_head(painter, self.box(), self.x_of(self.play.second), theme)
            self.levels.paint(painter, theme, self._pointer)
            self._paint_pointed(painter, theme)
        if self.hasFocus():
            painter.setPen(theme.colour("accent"))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        painter.end()

    def _paint_layer(self, painter: QPainter) -> None:
        look = self.look
        if look is not None and self.play.shown is not None:
            paint_strip(painter, self.box(), look, self.play.shown, theme_of(self))

    def _paint_words(self, painter: QPainter, theme: Theme, words: tuple[str, ...]) -> None:
        painter.setFont(lettering(self))
        high = painter.fontMetrics().height() + 3.0
        top = (self.height() - high * len(words)) / 2.0
        room = WORDS_PX - 28.0
        for index, line in enumerate(words):
            painter.setPen(theme.colour("ink" if index == 0 else "quiet"))
            box = QRectF(18.0, top + index * high, room, high)
            fitting = painter.fontMetrics().elidedText(line, Qt.TextElideMode.ElideRight, int(room))
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, fitting)

    def _paint_pointed(self, painter: QPainter, theme: Theme) -> None:
        if self._pointer is None or self.play.is_running or self.levels.level_at(self._pointer) is not None:
            return
        if words := self.named_at(self._pointer):
            paint_label(painter, self, QPointF(self._pointer.x() + 12.0, self.height() - 8.0), words, theme)

    def named_at(self, at: QPointF) -> str:
        """What is done at the second under the pointer; or the tab, or what comes free."""
        shown, look, box = self.play.shown, self.look, self.box()
        if shown is None or look is None or not box.left() <= at.x() <= box.right():
            return ""
        from app.desk.play_words import at_second, clock  # noqa: PLC0415 - see above

        near = MARK_PX / box.width() * self.play.total
        if mark := look.mark_at(self.second_at(at.x()), near):
            return f"{clock(mark[0])} \u00b7 {mark[1]}"
        _, name, doing = at_second(shown, self.second_at(at.x()))
        return f"{clock(self.second_at(at.x()))} \u00b7 {name} \u00b7 {doing}"

    # the hand

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Stand the bit here, on a mark where one is near."""
        x, box = event.position().x(), self.box()
        if event.button() is not Qt.MouseButton.LeftButton or self.play.total == 0.0:
            return
        if self.levels.pressed(event.position()):
            self.update()
            return
        if not box.left() - HEAD_PX <= x <= box.right() + HEAD_PX:
            return
        self._stand_at(x)

    def _stand_at(self, x: float) -> None:
        near, look = MARK_PX / self.box().width() * self.play.total, self.look
        mark = look.mark_at(self.second_at(x), near) if look is not None else None
        self.play.hold()
        self.play.seek(mark[0] if mark else self.second_at(x))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """The playhead follows a held button; else the words follow the pointer."""
        self._pointer = event.position()
        if self.levels.is_dragged:
            self.levels.dragged(event.position())
        elif event.buttons() & Qt.MouseButton.LeftButton and self.play.is_on:
            self.play.seek(self.second_at(event.position().x()))
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """A level that was dragged becomes the Job's; a mere press on a tab stands the bit there."""
        was_level, was_moved = self.levels.is_dragged, self.levels.released()
        if was_level and not was_moved and self.is_by_tab(event.position().x(), MARK_PX):
            self.levels.leave()
            self._stand_at(event.position().x())
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """A walk ends where the hand goes elsewhere."""
        self.levels.end_walk()
        super().focusOutEvent(event)

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Nothing is pointed at any more."""
        del event
        self._pointer = None
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Space runs or holds; arrows lead the bit; Home and End; Escape shows the whole part."""
        play, key = self.play, Qt.Key(event.key())
        if self.levels.keyed(key, event.modifiers()):
            return
        step = LONG_STEP_S if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else STEP_S
        places = {
            Qt.Key.Key_Left: play.second - step,
            Qt.Key.Key_Right: play.second + step,
            Qt.Key.Key_Home: 0.0,
            Qt.Key.Key_End: play.total,
        }
        if key in places:
            play.hold()
            play.seek(places[key])
        elif key is Qt.Key.Key_Space:
            play.toggle()
        elif key is Qt.Key.Key_Escape and play.is_on:
            play.leave()
        else:
            super().keyPressEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Nothing runs that is not seen."""
        self.play.hold()
        super().hideEvent(event)

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Another theme: its icons."""
        super().changeEvent(event)
        if event.type() is QEvent.Type.PaletteChange and hasattr(self, "done"):
            self._changed()


def words_of(shown: "Shown") -> tuple[str, ...]:
    """Time, length of cut, passes and tabs."""
    minutes, seconds = divmod(round(shown.seconds), 60)
    tabs, skin = len(shown.path.tabs), shown.setup.tab_rule.skin_mm
    held = f"skin of {skin:g} mm" if skin else f"{tabs} tab{'' if tabs == 1 else 's'}"
    return (
        f"{minutes} min {seconds:02d} s of cutting",
        f"{shown.path.cut_length_mm / 1000.0:.2f} m in {shown.path.passes} passes",
        f"{held} · skim {shown.setup.cutting.skim_mm:g} mm",
    )


def _button(words: str, tip: str, pressed: object) -> QPushButton:
    button = QPushButton(words)
    button.setToolTip(tip)
    button.clicked.connect(lambda _checked=False: pressed())  # type: ignore[operator]
    return button
