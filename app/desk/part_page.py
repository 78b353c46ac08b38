"""The part page: the sheet on its board, and the part as the router leaves it, with its tabs in the hand."""

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter

from app.desk.film_sheet import OVER_PART, FilmSheet, paint_film_over
from app.desk.label import paint_label
from app.desk.page import REACH_PX, Page
from app.desk.part_paint import paint_bare, paint_misfit, paint_part, paint_tabs, paint_unfit
from app.desk.picture_layer import PictureLayer
from app.desk.sheet_things import SheetThings
from app.desk.theme import Theme
from app.desk.view import CommonView, Seen
from app.desk.walk import Walk

if TYPE_CHECKING:
    from app.desk.band import Band
    from app.desk.cut_layer import CutLayer
    from app.desk.desk import Desk
    from app.desk.misfit import Misfit
    from app.desk.part_look import PartLook
    from app.desk.play import Play
    from app.desk.tab_hand import Moved, TabHand

#: mm of one press of an arrow key, and with Shift.
STEP_MM, LONG_STEP_MM = 0.1, 1.0
#: Keys of what lies on the sheet, also while a tab is chosen: the next one, a clamp, a mark.
THING_KEYS = (Qt.Key.Key_S, Qt.Key.Key_C, Qt.Key.Key_M)
#: px that a pressed hand may tremble without moving anything.
STILL_PX = 3.0
#: Room between the pointer and the words beside it, px.
BESIDE = QPointF(14.0, -12.0)


class PartPage(Page):
    """Tabs: drag; Enter chooses the next; arrows move it; double press adds one; Delete removes it."""

    def __init__(self, desk: "Desk", view: CommonView) -> None:
        self._look: PartLook | None = None
        self._misfit: Misfit | None = None
        self._band: tuple[Band | None] | None = None
        self._hand: TabHand | None = None
        self._pointer: QPointF | None = None
        self._pressed_at, self._is_moving = QPointF(), False
        self._film = FilmSheet(OVER_PART)
        self._walk = Walk(desk, self._tab_walked)
        self._play: Play | None = None
        self._cut: CutLayer | None = None
        super().__init__(desk, view, "part page")
        self._picture = PictureLayer(self)
        self._things = SheetThings(self)
        self._things.take_up(self.shown)
        self._walked: Moved | None = None
        self._is_behind = False

    def follow(self, play: "Play") -> None:
        """Show the cut as far as it is played; a press on the path then leads the bit there."""
        from app.desk.cut_layer import CutLayer  # noqa: PLC0415 - brings numpy

        self._play, self._cut = play, CutLayer(self, play)

    @property
    def is_played(self) -> bool:
        """Whether the cut is shown as far as it has come, and not the finished part."""
        return self._play is not None and self._play.is_on and not self.view.has_picture

    def title(self) -> tuple[str, str]:
        """The part, and the sheet that it is cut from."""
        assert self.shown is not None  # noqa: S101 - a page without anything shown has no title
        if self.view.has_picture:
            return self._picture.title()
        stock = self.shown.layout.stock
        material = self.shown.job.stock.material
        return (
            "Part on your sheet",
            f"{stock.width_mm:g} \u00d7 {stock.depth_mm:g} mm, {material} {stock.thickness_mm:g}",
        )

    def fold_side(self) -> Qt.Edge:
        """The part lies on the left."""
        return Qt.Edge.RightEdge

    def shown_anew(self) -> None:
        """Another part, and its tabs; the one that was chosen stays so."""
        self._look = self._misfit = self._band = None
        self._film.forget()
        self._picture.forget()
        self._things.take_up(self.shown)
        self._is_behind = self._walk.is_on  # a tab that walks stays in the hand until it has come to its end
        if not self._is_behind:
            self._take_tabs_up()

    def _take_tabs_up(self) -> None:
        chosen, is_dragged = None, self._hand is not None and self._hand.is_dragged
        if self._hand is not None and self._hand.chosen is not None:
            chosen = self._hand.tabs[self._hand.chosen].at
        self._hand, self._is_behind = None, False
        if self.shown is not None:
            from app.desk.tab_hand import TabHand  # noqa: PLC0415 - brings numpy; something is shown by now

            self._hand = TabHand(self.shown, chosen)
            self._hand.is_dragged = is_dragged and chosen is not None

    @property
    def look(self) -> "PartLook":
        """The paths of what is shown, made when first painted."""
        if self._look is None:
            from app.desk.part_look import part_look  # noqa: PLC0415 - with the first Shown

            assert self.shown is not None  # noqa: S101 - nothing is painted without
            self._look = part_look(self.shown)
        return self._look

    @property
    def hand(self) -> "TabHand":
        """The tabs of what is shown."""
        if self._hand is None:
            from app.desk.tab_hand import TabHand  # noqa: PLC0415 - brings numpy; something is shown by now

            assert self.shown is not None  # noqa: S101 - nothing is taken without
            self._hand = TabHand(self.shown)
        return self._hand

    @property
    def misfit(self) -> "Misfit":
        """How far the films' edges lie from where the face and the inset put them."""
        if self._misfit is None:
            from app.desk.misfit import misfit_of  # noqa: PLC0415 - brings numpy; something is shown by now

            assert self.shown is not None  # noqa: S101 - nothing is painted without
            self._misfit = misfit_of(self.shown)
        return self._misfit

    @property
    def band(self) -> "Band | None":
        """Where edges of film may come to lie."""
        if self._band is None and self.shown is not None:
            from app.desk.band import band_of  # noqa: PLC0415 - brings numpy; something is shown by now

            self._band = (band_of(self.shown),)
        return self._band[0] if self._band else None

    # painting

    def still_stamp(self) -> object:
        """The picture is part of the still layer, and so is the stock before the cut."""
        return self.view.has_picture, self.is_played

    def paint_still(self, painter: QPainter, theme: Theme) -> None:
        """Board, stock and part; or the picture in their place."""
        assert self.shown is not None  # noqa: S101 - Page calls it so
        if self.view.has_picture:
            self._picture.paint(painter, theme, self.seen().scale)
        elif self.is_played:
            paint_bare(painter, self.look, self.shown, theme, self.seen().scale)
        else:
            paint_part(painter, self.look, self.shown, theme, self.seen().scale)

    def paint_moving(self, painter: QPainter, seen: Seen, theme: Theme) -> None:
        """Tabs, the film where the book is being closed, and what is in the hand in words."""
        assert self.shown is not None  # noqa: S101 - Page calls it so
        hand = self.hand
        if hand.is_dragged:
            paint_unfit(painter, hand.edge, seen, theme)
        if self.is_played and self._cut is not None:
            from app.desk.cut_paint import paint_legend  # noqa: PLC0415 - brings numpy

            self._cut.paint(painter, seen, theme)
            paint_legend(painter, self, self.shown, theme)
        elif not self.view.has_picture:
            paint_tabs(painter, hand, seen, theme, hovered=self._hovered())
        if not self.view.has_picture:
            spot = None if self._pointer is None or self._hovered() is not None else seen.back(self._pointer)
            self._things.paint(painter, seen, theme, spot, self._reach_mm())
        self._picture.paint_hovered(painter, self._pointer, seen, theme)
        if self.view.closed > 0.0:
            paint_film_over(painter, self, self._film)
        if self.view.has_misfit:
            if self.band is not None:
                from app.desk.band import paint_band  # noqa: PLC0415 - brings numpy; something is shown by now

                paint_band(painter, self.band, seen, theme)
            paint_misfit(painter, self.misfit, seen, theme)

    def _paint_misfit_words(self, painter: QPainter, seen: Seen, theme: Theme) -> None:
        misfit = self.misfit
        words = (
            f"films stay {misfit.inset_mm:g} mm inside the face, off by {misfit.largest_mm:.3f} mm at most"
        )
        if misfit.blades:
            paint_label(painter, self, seen.of(*misfit.at) + BESIDE, f"{misfit.largest_mm:.2f} mm", theme)
            words += " · drawn 20 times as large"
        paint_label(painter, self, QPointF(18.0, self.height() - 14.0), words, theme)
        if self.band is not None:
            paint_label(painter, self, QPointF(18.0, self.height() - 40.0), self.band.words(), theme)

    def paint_words(self, painter: QPainter, seen: Seen, theme: Theme) -> None:
        """Beside the tab in the hand, else beside the pointer."""
        hand = self.hand
        if self.view.has_misfit:
            self._paint_misfit_words(painter, seen, theme)
        elif hand.chosen is not None and (hand.is_dragged or self._walk.is_on):
            at = seen.of(*hand.tabs[hand.chosen].at)
            paint_label(painter, self, at + BESIDE, hand.said_of(hand.chosen), theme)
        elif (in_hand := self._things.said_in_hand()) is not None:
            paint_label(painter, self, seen.of(*in_hand[0]) + BESIDE, in_hand[1], theme)
        elif self._pointer is not None and (words := self.named_at(self._pointer)):
            paint_label(painter, self, self._pointer + BESIDE, words, theme)

    def _hovered(self) -> int | None:
        if self._pointer is None:
            return None
        return self.hand.tab_near(self.seen().back(self._pointer), self._reach_mm())

    # what lies where

    def named_at(self, at: QPointF) -> str:
        """The patch under the picture; else tab, mark, zero, edge."""
        if self.shown is None or self.view.closed >= 0.5:
            return ""
        point = self.seen().back(at)
        if self.view.has_picture:
            return self._picture.named_at(point)
        if self.is_played:
            return self._played_at(point) or self._mark_at(point)
        tab = self.hand.tab_near(point, self._reach_mm())
        if tab is not None:
            return f"tab · {self.hand.said_of(tab)}"
        thing = self._things.named_at(point, self._reach_mm() / 2.0)
        return thing or self._mark_at(point) or self._edge_at(point)

    def _played_at(self, point: tuple[float, float]) -> str:
        assert self.shown is not None  # noqa: S101 - named_at asks so
        passes = len(self.shown.run.seconds_near(point, self._reach_mm() / 2.0))
        if not passes:
            return ""
        return "path of the bit · press: it stands here" + (f" · {passes} times past" if passes > 1 else "")

    def _mark_at(self, point: tuple[float, float]) -> str:
        assert self.shown is not None  # noqa: S101 - named_at asks so
        for mark in self.shown.layout.marks:
            if math.dist(mark.at, point) <= max(mark.diameter_mm / 2.0, self._reach_mm() / 2.0):
                name = "key mark" if mark.is_key else "mark"
                return f"{name} · {mark.diameter_mm:g} mm at {mark.at[0]:g}, {mark.at[1]:g}"
        return ""

    def _edge_at(self, point: tuple[float, float]) -> str:
        on = self.hand.edge.nearest(point)
        if math.dist(on.at, point) > self._reach_mm() / 2.0:
            return ""
        return f"edge · {on.along_mm:.1f} mm along · press twice for a tab"

    def _reach_mm(self) -> float:
        return REACH_PX / self.seen().scale

    # the hand

    def pressed(self, at: QPointF) -> bool:
        """A patch of the picture, or a tab."""
        self._walk.end()
        point = self.seen().back(at)
        self._pressed_at, self._is_moving = at, False
        if self.view.has_picture:
            return self._picture.pressed(point)
        if self.is_played and self._play is not None:
            self._play.hold()
            return self._play.seek_near(point, self._reach_mm() / 2.0)
        was_taken = self.hand.take(point, self._reach_mm())
        self._things.leave()
        if not was_taken:
            was_taken = self._things.pressed(point, self._reach_mm() / 2.0)
        else:
            _ = self.hand.edge.hatching  # made now: the first step of the drag must not wait for it
        self.update()
        return was_taken

    def dragged(self, at: QPointF) -> None:
        """A tab along the edge."""
        if self.view.has_picture:
            self._picture.hand.dragged(self.seen().back(at))
            return
        self._is_moving = self._is_moving or (at - self._pressed_at).manhattanLength() > STILL_PX
        if self._is_moving and self._things.is_dragged:
            self._things.dragged(self.seen().back(at), self._reach_mm())
            self.update()
        elif self._is_moving:
            self.hand.drag(self.seen().back(at))

    def released(self, at: QPointF) -> None:
        """The tab's place becomes the Job's."""
        del at
        if self.view.has_picture:
            self._picture.hand.released()
        elif self.shown is not None:
            self._propose(self.hand.drop())
            self._things.released()
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Remember the pointer for the words beside it."""
        self._pointer = event.position()
        super().mouseMoveEvent(event)
        self.freshen(self._pointer.y(), *self._level_in_hand())
        if self.view.has_picture:
            self.update()  # another patch may be outlined, and patches are large

    def _level_in_hand(self) -> tuple[float, ...]:
        if self.shown is None or self.hand.chosen is None:
            return ()
        return (self.seen().of(*self.hand.tabs[self.hand.chosen].at).y(),)

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Nothing is under the pointer any more."""
        self._pointer = None
        self.update()
        super().leaveEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Another tab, where the edge is near."""
        point = self.seen().back(event.position())
        if self.shown is None or self.view.has_picture or self.is_played:
            self.mousePressEvent(event)
        elif math.dist(self.hand.edge.nearest(point).at, point) <= self._reach_mm():
            self._propose(self.hand.add(point))

    def keyed(self, event: QKeyEvent) -> bool:
        """Keys of the chosen tab."""
        if self.shown is None:
            return False
        key, hand = Qt.Key(event.key()), self.hand
        if self.view.has_picture:
            return self._picture.hand.keyed(key, event.modifiers())
        if self.is_played and self._play is not None:
            return self._keyed_played(key)
        spot = self.seen().back(self._pointer) if self._pointer is not None else None
        if (hand.chosen is None or key in THING_KEYS) and self._things.keyed(key, event.modifiers(), spot):
            hand.chosen = None
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._things.leave()
            hand.choose_next()
            self._say_chosen()
        elif hand.chosen is None:
            return False
        elif key is Qt.Key.Key_Escape:
            self._give_up()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._walk.give_up()
            self._propose(hand.remove())
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self._step(key, event.modifiers())
        else:
            return False
        self.update()
        return True

    def _keyed_played(self, key: Qt.Key) -> bool:
        assert self._play is not None  # noqa: S101 - keyed asks so
        if key is Qt.Key.Key_Escape:
            self._play.leave()
        elif key is Qt.Key.Key_Space:
            self._play.toggle()
        else:
            return False
        return True

    def _step(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> None:
        step = LONG_STEP_MM if modifiers & Qt.KeyboardModifier.ShiftModifier else STEP_MM
        self._walked = self.hand.step(-step if key is Qt.Key.Key_Left else step)
        self._walk.go_on()
        self._say_chosen()

    def _say_chosen(self) -> None:
        if self.hand.chosen is not None:
            words = f"tab · {self.hand.said_of(self.hand.chosen)}"
            self.setAccessibleDescription(words)
            self.view.told.emit(words)

    def _give_up(self) -> None:
        """Back to where the tab was, and no tab chosen."""
        self._walk.give_up()
        self.hand.give_up()
        self.hand.chosen = None

    def _tab_walked(self) -> None:
        self._propose(self._walked)
        if self._is_behind:
            self._take_tabs_up()

    def end_walks(self) -> None:
        """Of a tab, of what lies on the sheet, of what was drawn on the picture."""
        self._walk.end()
        self._things.end_walk()
        self._picture.hand.end_walk()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """A walk ends where the hand goes elsewhere."""
        self.end_walks()
        super().focusOutEvent(event)

    def _propose(self, moved: "Moved | None") -> None:
        if moved is None or self.shown is None:
            return
        back = self.shown.place.back
        points = tuple((max(x, 0.0), max(y, 0.0)) for x, y in (back(tab.at) for tab in moved.tabs))
        self.desk.propose_value("part.tabs", points, moved.words)
