"""The picture in the hand: strokes of its tools, touch-ups that are chosen and moved, corners of a sheet."""

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from app.desk.picture_edits import (
    Edit,
    Stroke,
    corner_edit_near,
    edit_of,
    level_of,
    px_of,
    px_per_mm,
    sheet_corners,
    with_sheet_corner,
    with_touch,
)
from app.desk.picture_tools import KEYS, SAID, Tool
from app.desk.walk import Walk

if TYPE_CHECKING:
    from app.desk.page import Page
    from core.findings import Point
    from core.job.job import Job
    from core.shown import Shown
    from core.touch.edit import Touch

#: px that a pressed hand may tremble, and within which a handle is taken.
STILL_PX, REACH_PX = 3.0, 12.0
#: By how much a bar grows with one press of a key, and mm that it is at least wide.
GROWTH, LEAST_BAR_MM = 1.15, 0.2
#: px of the picture of one press of an arrow key, and with Shift.
STEP_PX, LONG_STEP_PX = 1.0, 10.0
_STEPS = {Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0), Qt.Key.Key_Up: (0, -1), Qt.Key.Key_Down: (0, 1)}
#: Tools whose touch-ups can be chosen and moved.
TOUCHING = (Tool.RUB, Tool.JOIN, Tool.PART)


class PictureHand:
    """stroke is what is being drawn; chosen the touch-up, or corner of the sheet, that was taken.

    corner is the one of the outline that is pointed at.
    """

    def __init__(self, page: "Page") -> None:
        self._page = page
        self.stroke: Stroke | None = None
        self._chosen: int | None = None
        self.moved_to: Point | None = None
        self.corner: Point | None = None
        self.bar_mm = 3.0
        self.tool = Tool(page.view.tool)
        self._walk = Walk(page.desk, self.released)
        page.view.layers_changed.connect(self._follow)

    @property
    def chosen(self) -> int | None:
        """The touch-up, or corner of the sheet, that keys act on; None where the Job has it no more."""
        return self._chosen if self._chosen is not None and self._chosen < len(self.handles()) else None

    @chosen.setter
    def chosen(self, index: int | None) -> None:
        self._chosen = index

    def _follow(self) -> None:
        """Another tool, or no picture: what was begun with the last one ends."""
        if self._page.view.tool != self.tool or not self._page.view.has_picture:
            self.leave()
            self.tool = Tool(self._page.view.tool)

    @property
    def job(self) -> "Job":
        """What its edits change."""
        return self._page.desk.job

    def forget(self) -> None:
        """Another Shown: a stroke goes on, a touch-up that is gone is chosen no more."""
        if self._chosen is not None and self.chosen is None:
            self.chosen = self.moved_to = None

    def handles(self) -> "tuple[Point, ...]":
        """Where what can be taken stands, frame: touch-ups, or the corners of the sheet."""
        shown = self._page.shown
        if shown is None:
            return ()
        if self.tool is Tool.SHEET:
            return sheet_corners(shown, self.job)
        if self.tool in TOUCHING:
            return tuple(shown.place.of(touch.at) for touch in self.job.picture.touches)
        return ()

    def near(self, point: "Point") -> int | None:
        """The handle within reach."""
        gaps = [math.dist(at, point) for at in self.handles()]
        reach = REACH_PX / self._page.seen().scale
        return gaps.index(min(gaps)) if gaps and min(gaps) <= reach else None

    # what the page asks

    def pressed(self, point: "Point") -> bool:
        """Take a handle, or begin a stroke; False with the tool for patches, and beside the picture."""
        self.end_walk()
        if self._page.shown is None or self.tool is Tool.ROLE:
            return False
        self.chosen, self.moved_to = self.near(point), None
        if self.chosen is None and self.tool is not Tool.SHEET and self._is_on_picture(point):
            self.stroke = Stroke(point, point, is_press=True, width_mm=self.bar_mm)
        return self.chosen is not None or self.stroke is not None

    def dragged(self, point: "Point") -> None:
        """The stroke, or the handle, follows the hand."""
        still_mm = STILL_PX / self._page.seen().scale
        if self.stroke is not None:
            is_press = self.stroke.is_press and math.dist(self.stroke.start, point) <= still_mm
            self.stroke = replace(self.stroke, now=point, is_press=is_press, width_mm=self.bar_mm)
        elif self.chosen is not None:
            at = self.handles()[self.chosen]
            if self.moved_to is not None or math.dist(at, point) > still_mm:
                self.moved_to = point

    def released(self) -> None:
        """What was drawn or moved becomes the Job's."""
        shown, stroke, self.stroke = self._page.shown, self.stroke, None
        if shown is None:
            return
        if stroke is not None:
            self._propose(edit_of(self.tool, shown, self.job, stroke))
        elif self.moved_to is not None:
            moved, self.moved_to = self._moved(shown), None
            self._propose(moved)

    def keyed(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """1 to 9 take a tool; Return chooses; arrows, Delete, Escape act on the chosen; Up, Down: a bar."""
        if (tool := _tool_of(key)) is not None:
            self.leave()
            self._page.view.take_tool(tool)
        elif key is Qt.Key.Key_Escape:
            return self._given_up()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            return self._choose_next()
        elif self.stroke is not None and key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._widen(GROWTH if key is Qt.Key.Key_Up else 1.0 / GROWTH)
        elif self.chosen is None:
            return False
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._take_away()
        elif key in _STEPS:
            long = bool(modifiers & Qt.KeyboardModifier.ShiftModifier)
            self._step(_STEPS[key], LONG_STEP_PX if long else STEP_PX)
        else:
            return False
        self._page.update()
        return True

    def leave(self) -> None:
        """Nothing is drawn or chosen any more; what was walked becomes the Job's."""
        self.end_walk()
        self.stroke = self.chosen = self.moved_to = None

    def end_walk(self) -> None:
        """One step of undo for one walk by the arrow keys."""
        self._walk.end()

    def said(self, point: "Point") -> str:
        """What the hand does, or would do here."""
        shown = self._page.shown
        if shown is None or self.tool is Tool.ROLE:
            return ""
        if self.stroke is not None:
            return self._said_stroke(shown, self.stroke)
        index = self.chosen if self.moved_to is not None else self.near(point)
        if index is not None and index < len(self.handles()):
            return self._said_handle(shown, index)
        return self._said_corner(shown, point) if self.tool is Tool.CORNER else SAID[self.tool].hint

    def _said_corner(self, shown: "Shown", point: "Point") -> str:
        from core.touch.corners import corner_at  # noqa: PLC0415 - brings numpy; something is shown by now

        found = corner_at(shown.outline, point)
        self.corner = found.at if found is not None else None
        edit = corner_edit_near(shown, self.job, self.corner or point)
        if edit is not None:
            is_now = f"round, {edit.radius:g} {'mm' if edit.is_mm else 'px'}" if edit.radius else "sharp"
            return f"corner made {is_now} · press: as the picture has it"
        if found is None:
            return SAID[Tool.CORNER].hint
        return SAID[Tool.CORNER].hint if found.is_round else "sharp corner · drag away: round"

    def _said_stroke(self, shown: "Shown", stroke: Stroke) -> str:
        if stroke.is_press or self.tool in (Tool.GROUND, Tool.SAME):
            return SAID[self.tool].hint
        if self.tool is Tool.LEVEL:
            return f"turned by {level_of(shown, self.job, stroke):.2f}°"
        if self.tool is Tool.CROP:
            (left, top), (right, low) = px_of(shown, stroke.start), px_of(shown, stroke.now)
            return f"{abs(left - right):.0f} \u00d7 {abs(top - low):.0f} px"
        if self.tool in (Tool.JOIN, Tool.PART):
            return f"{stroke.length_mm:.1f} mm long, {stroke.width_mm:.1f} wide · up, down: wider, narrower"
        return f"radius {stroke.length_mm:.1f} mm"

    def _said_handle(self, shown: "Shown", index: int) -> str:
        if self.tool is Tool.SHEET:
            at = px_of(shown, self.moved_to or self.handles()[index])
            return f"corner {index + 1} of the sheet · {at[0]:.0f}, {at[1]:.0f} px"
        touch = self.job.picture.touches[index]
        size = f", {touch.size / px_per_mm(shown, shown.place.of(touch.at)):.1f} mm" if touch.size else ""
        return f"touch-up {index + 1}: {touch.way}{size} · drag to move it, Delete takes it away"

    # how it is done

    def _is_on_picture(self, point: "Point") -> bool:
        assert self._page.shown is not None  # noqa: S101 - pressed asks so
        (x, y), (width, height) = self._page.shown.place.back(point), self._page.shown.picture_size
        return 0.0 <= x <= width and 0.0 <= y <= height

    def _moved(self, shown: "Shown") -> Edit | None:
        if self.chosen is None or self.moved_to is None:
            return None
        if self.tool is Tool.SHEET:
            return with_sheet_corner(shown, self.job, self.chosen, self.moved_to)
        touch = self.touch_in_hand(shown)
        return with_touch(self.job, self.chosen, touch, f"touch-up {self.chosen + 1} moved")

    def touch_in_hand(self, shown: "Shown") -> "Touch | None":
        """The chosen touch-up where the hand has it now; a bar goes as it is."""
        if self.chosen is None or self.tool not in TOUCHING:
            return None
        touch = self.job.picture.touches[self.chosen]
        if self.moved_to is None:
            return touch
        at = px_of(shown, self.moved_to)
        to = None
        if touch.to is not None:
            to = (max(touch.to[0] + at[0] - touch.at[0], 0.0), max(touch.to[1] + at[1] - touch.at[1], 0.0))
        return replace(touch, at=at, to=to)

    def _given_up(self) -> bool:
        had = self.stroke is not None or self.chosen is not None
        self._walk.give_up()
        self.stroke = self.chosen = self.moved_to = None
        self._page.update()
        return had

    def _choose_next(self) -> bool:
        count = len(self.handles())
        if not count:
            return False
        self.end_walk()
        self.chosen = 0 if self.chosen is None else (self.chosen + 1) % count
        if self._page.shown is not None:
            self._tell(self._said_handle(self._page.shown, self.chosen))
        self._page.update()
        return True

    def _take_away(self) -> None:
        index, self.chosen, self.moved_to = self.chosen, None, None
        self._walk.give_up()
        if index is None:
            return
        if self.tool is Tool.SHEET:
            self._propose(Edit("picture.corners", (), "no slanted sheet"))
        else:
            self._propose(with_touch(self.job, index, None, f"touch-up {index + 1} taken away"))

    def _step(self, way: tuple[int, int], step_px: float) -> None:
        shown = self._page.shown
        if shown is None or self.chosen is None:
            return
        x, y = shown.place.back(self.moved_to or self.handles()[self.chosen])
        self.moved_to = shown.place.of((x + way[0] * step_px, y + way[1] * step_px))
        self._walk.go_on()
        self._tell(self._said_handle(shown, self.chosen))

    def _widen(self, factor: float) -> None:
        self.bar_mm = max(self.bar_mm * factor, LEAST_BAR_MM)
        if self.stroke is not None:
            self.stroke = replace(self.stroke, width_mm=self.bar_mm)

    def _tell(self, words: str) -> None:
        self._page.setAccessibleDescription(words)
        self._page.view.told.emit(words)

    def _propose(self, edit: Edit | None) -> None:
        if edit is not None:
            self._page.desk.propose_value(edit.key, edit.value, edit.words)


def _tool_of(key: Qt.Key) -> Tool | None:
    """Keys of digits are the digits' own code points."""
    return KEYS.get(chr(key)) if int(key) < 128 else None
