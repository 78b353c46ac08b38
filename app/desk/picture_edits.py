"""What a press or a drag on the picture makes of the Job: touch-ups, corners, level, crop, a slanted sheet.

Places come in the frame, mm; what the Job keeps of them is in px of the upright source picture.
"""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from app.desk.picture_tools import Tool
from core.job.choice import AUTO

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from core.findings import Point
    from core.job.job import Job
    from core.shown import Shown
    from core.touch.edit import Corner, Touch

#: deg; half of a right angle: what leans more should be upright.
MOST_LEVEL = 45.0
#: px of the picture between two corners of a crop, and of a bar, at least.
LEAST_PX = 1.0
#: mm of the frame within which two edits are of one corner.
SAME_CORNER_MM = 0.5


@dataclass(frozen=True)
class Stroke:
    """From a press to where the hand is, frame, mm; is_press: it has not moved. width_mm is a bar's."""

    start: "Point"
    now: "Point"
    is_press: bool
    width_mm: float = 3.0

    @property
    def length_mm(self) -> float:
        """How far the hand is from where it pressed."""
        return math.dist(self.start, self.now)


@dataclass(frozen=True)
class Edit:
    """One choice of the Job anew, and how the history calls it."""

    key: str
    value: Any
    words: str


def edit_of(tool: Tool, shown: "Shown", job: "Job", stroke: Stroke) -> Edit | None:
    """What the stroke makes; None where it makes nothing."""
    make = _MAKERS.get(tool)
    return make(shown, job, stroke) if make is not None else None


def px_of(shown: "Shown", point: "Point") -> "Point":
    """A place of the frame in px of the source picture, kept within it, to a hundredth."""
    x, y = shown.place.back(point)
    width, height = shown.picture_size
    return round(min(max(x, 0.0), width), 2), round(min(max(y, 0.0), height), 2)


def px_per_mm(shown: "Shown", point: "Point") -> float:
    """Px of the source picture to a mm of the frame, here."""
    return 1.0 / (shown.place.plane.scale_at(shown.place.back(point)) * shown.place.scale)


def sheet_corners(shown: "Shown", job: "Job") -> "tuple[Point, ...]":
    """The corners of the slanted sheet, frame: those given, else found, else the picture's."""
    if isinstance(job.picture.corners, tuple) and job.picture.corners:
        return tuple(shown.place.of(point) for point in job.picture.corners)
    if job.picture.crop or job.picture.level.value:
        return tuple(shown.place.of(point) for point in _corners_of(shown.picture_size))
    back = shown.place.plane.back
    return tuple(shown.place.of(back(point)) for point in _corners_of(shown.squared_size))


def _corners_of(size: tuple[int, int]) -> "tuple[Point, ...]":
    width, height = map(float, size)
    return (0.0, 0.0), (width, 0.0), (width, height), (0.0, height)


def with_sheet_corner(shown: "Shown", job: "Job", index: int, at: "Point") -> Edit:
    """One corner of the slanted sheet elsewhere; the others stay."""
    corners = list(sheet_corners(shown, job))
    corners[index] = at
    words = f"corner {index + 1} of the slanted sheet moved"
    return Edit("picture.corners", tuple(px_of(shown, point) for point in corners), words)


def with_touch(job: "Job", index: int, touch: "Touch | None", words: str) -> Edit:
    """One touch-up anew, or taken away."""
    touches = job.picture.touches
    return Edit(
        "picture.touches", (*touches[:index], *((touch,) if touch else ()), *touches[index + 1 :]), words
    )


def _rub(shown: "Shown", job: "Job", stroke: Stroke) -> Edit:
    from core.touch.edit import Touch, Way  # noqa: PLC0415 - something is shown by now

    at = px_of(shown, stroke.start)
    if stroke.is_press:
        touch, words = Touch(Way.FILL, at), f"speck filled at {at[0]:.0f}, {at[1]:.0f}"
    else:
        radius = max(round(stroke.length_mm * px_per_mm(shown, stroke.start), 1), LEAST_PX)
        touch, words = Touch(Way.RUB, at, size=radius), f"rubbed out at {at[0]:.0f}, {at[1]:.0f}"
    return Edit("picture.touches", (*job.picture.touches, touch), words)


def _bar(way: str) -> "Callable[[Shown, Job, Stroke], Edit | None]":
    def make(shown: "Shown", job: "Job", stroke: Stroke) -> Edit | None:
        from core.touch.edit import Touch, Way  # noqa: PLC0415 - something is shown by now

        at, to = px_of(shown, stroke.start), px_of(shown, stroke.now)
        if stroke.is_press or math.dist(at, to) < LEAST_PX:
            return None
        width = max(round(stroke.width_mm * px_per_mm(shown, stroke.start), 1), LEAST_PX)
        words = {"bridge": "bridged", "part": "parted"}[way] + f" at {at[0]:.0f}, {at[1]:.0f}"
        return Edit("picture.touches", (*job.picture.touches, Touch(Way(way), at, to, width)), words)

    return make


def _corner(shown: "Shown", job: "Job", stroke: Stroke) -> Edit | None:
    """A press makes the corner sharp, and one that was edited as the picture has it again."""
    from core.touch.corners import corner_at  # noqa: PLC0415 - brings numpy; something is shown by now
    from core.touch.edit import Corner  # noqa: PLC0415 - something is shown by now

    found = corner_at(shown.outline, stroke.start)
    at = found.at if found is not None else stroke.start
    before = corner_edit_near(shown, job, at)
    others = tuple(one for one in job.shape.corners if one is not before)
    if stroke.is_press and before is not None:
        return Edit("shape.corners", others, "corner as the picture has it")
    if found is None or (stroke.is_press and not found.is_round):
        return None
    px = before.at if before is not None else px_of(shown, at)
    radius = 0.0 if stroke.is_press else max(round(stroke.length_mm, 1), 0.1)
    words = f"corner round, {radius:g} mm" if radius else "corner sharp"
    return Edit("shape.corners", (*others, Corner(px, radius, is_mm=radius > 0.0)), words)


def corner_edit_near(shown: "Shown", job: "Job", at: "Point") -> "Corner | None":
    """The edit of the corner here, where there is one."""
    for one in job.shape.corners:
        reach = SAME_CORNER_MM + (one.radius if one.is_mm else one.radius * shown.px_mm)
        if math.dist(shown.place.of(one.at), at) <= reach:
            return one
    return None


def level_of(shown: "Shown", job: "Job", stroke: Stroke) -> float | None:
    """Deg that the picture is to be turned by so that the stroke lies level, or stands upright."""
    del shown
    if stroke.is_press:
        return None
    leans = math.degrees(math.atan2(stroke.now[1] - stroke.start[1], stroke.now[0] - stroke.start[0]))
    off = (leans + MOST_LEVEL) % 90.0 - MOST_LEVEL
    turned = (math.degrees(job.picture.level.value) - off + MOST_LEVEL) % 90.0 - MOST_LEVEL
    return round(turned, 2) + 0.0


def _level(shown: "Shown", job: "Job", stroke: Stroke) -> Edit | None:
    from core.job.job import choice_named  # noqa: PLC0415 - something is shown by now

    turned = level_of(shown, job, stroke)
    if turned is None:
        return None
    key = "picture.level"
    return Edit(key, choice_named(key).read(f"{turned:.2f} deg"), f"picture turned by {turned:.2f}°")


def _crop(shown: "Shown", job: "Job", stroke: Stroke) -> Edit | None:
    if stroke.is_press:
        return Edit("picture.crop", (), "all of the picture") if job.picture.crop else None
    (left, top), (right, low) = px_of(shown, stroke.start), px_of(shown, stroke.now)
    if min(abs(left - right), abs(top - low)) < LEAST_PX:
        return None
    corners = ((min(left, right), min(top, low)), (max(left, right), max(top, low)))
    return Edit(
        "picture.crop", corners, f"picture cropped to {abs(left - right):.0f} \u00d7 {abs(top - low):.0f}"
    )


def _ground(shown: "Shown", job: "Job", stroke: Stroke) -> Edit | None:
    """The colour here is the ground; the one that is so already is looked for again."""
    colour = _colour_at(shown, stroke.start)
    if colour == shown.palette[shown.ground]:
        if job.picture.ground == AUTO:
            return None
        return Edit("picture.ground", AUTO, "ground as it is found")
    return Edit("picture.ground", colour, f"{colour} is the ground")


def _same(shown: "Shown", job: "Job", stroke: Stroke) -> Edit | None:
    """The colour where the stroke began goes into the one where it ends."""
    taken, taking = _colour_at(shown, stroke.start), _colour_at(shown, stroke.now)
    if taken == taking:
        return None
    return Edit("picture.merged", (*job.picture.merged, (taking, taken)), f"{taken} is one with {taking}")


def _colour_at(shown: "Shown", at: "Point") -> str:
    """#rrggbb of the patch here, and of the ground beyond all patches."""
    from core.patches.face_at import face_at  # noqa: PLC0415 - brings numpy; something is shown by now

    face = face_at(shown.outline, at)
    return shown.palette[shown.outline.faces[face].colour if face else shown.ground]


_MAKERS: "Mapping[Tool, Callable[[Shown, Job, Stroke], Edit | None]]" = {
    Tool.RUB: _rub,
    Tool.JOIN: _bar("bridge"),
    Tool.PART: _bar("part"),
    Tool.CORNER: _corner,
    Tool.LEVEL: _level,
    Tool.CROP: _crop,
    Tool.GROUND: _ground,
    Tool.SAME: _same,
}
