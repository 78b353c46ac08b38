"""What the readings over the marks say: where the sheet lies, or that they are still awaited."""

from dataclasses import dataclass

from core.findings import Finding, Level, Point
from core.sheet.layout import Layout
from core.sheet.pose import Pose, found_pose


@dataclass(frozen=True)
class Found:
    """pose is None where nothing was read; is_awaited: the program cannot be written before it is."""

    pose: Pose | None = None
    is_awaited: bool = False
    findings: tuple[Finding, ...] = ()


def find_sheet(layout: Layout, readings: tuple[Point, ...], *, is_film_first: bool) -> Found:
    """The pose by readings in the order of the layout's marks, mm by the controller from the work zero."""
    if len(readings) < 2:
        return _awaited(len(readings)) if is_film_first or readings else Found()
    x, y = layout.zero_at
    meant = [(mark.at[0] - x, mark.at[1] - y) for mark in layout.marks_on_sheet]
    pose, findings = found_pose(meant, readings)
    return Found(pose, pose is None, findings)


def _awaited(count: int) -> Found:
    text = "The film goes on the sheet first; the program is written when two marks have been read."
    if count:
        text = "One reading does not tell how the sheet is turned; the program is written when two are there."
    remedy = "Jog over marks 1 and 2, better 3 too, and give what the controller shows (fit.readings)."
    return Found(None, is_awaited=True, findings=(Finding(Level.NOTE, "readings-awaited", text, remedy),))
