"""The path of a dragged knife's shaft, so that its trailing tip runs along the film's edge.

The tip trails the shaft by the offset e. Where the tip runs along a curve with the unit direction t, the
shaft runs along the curve moved by e t: a line moved along itself, an arc about the same centre with the
same sweep. At a corner the shaft swings about the vertex, on which the tip stands, by an arc of radius e:
it has overrun the vertex by e, and comes out e along the new direction. The same swing turns the knife
from where it points when it is lowered (entry). After closing, the cut goes on a little (overcut).
"""

from dataclasses import dataclass
from math import pi, tan

import numpy as np

from core.outline.loop import Loop
from core.outline.segments import Floats, Segments

#: The overcut is no more than this share of a contour, so that small letters are spared (common practice).
OVERCUT_SHARE = 0.1
#: rad; two directions that agree so well need no swing: at an offset of 1 mm it is 0.0001 mm long.
NO_SWING = 1e-4


@dataclass(frozen=True)
class Knife:
    """offset_mm from the shaft's axis to the tip; the plot does what it needs only if is_compensated.

    overcut_mm is how far the cut goes on after a contour is closed, at most a tenth of the contour.
    """

    offset_mm: float = 0.25
    is_compensated: bool = False
    overcut_mm: float = 0.0

    def overcut_of(self, loop: Loop) -> float:
        """How far the knife goes on along this contour, mm."""
        return min(self.overcut_mm, OVERCUT_SHARE * loop.length())


@dataclass(frozen=True, eq=False)
class ShaftPath:
    """segments that the shaft runs along; heading: where the knife then points, rad."""

    segments: Segments
    heading: float


def shaft_path(loop: Loop, knife: Knife, heading: float) -> ShaftPath:
    """The shaft round a contour from its first point; heading: where the lowered knife points, rad."""
    return along(tip_run(loop, knife.overcut_of(loop)), knife, heading)


def along(run: Segments, knife: Knife, heading: float) -> ShaftPath:
    """The shaft for a run of the tip; the run itself where the cutter compensates its knife."""
    last = float(run.headings_at(np.ones(len(run)))[-1])
    if not knife.is_compensated:
        return ShaftPath(run, last)
    return ShaftPath(_with_swings(run, heading, knife.offset_mm), last)


def tip_run(loop: Loop, overcut_mm: float) -> Segments:
    """The contour once round, then on along it by overcut_mm, less than its length."""
    whole = loop.segments()
    reach = np.cumsum(whole.lengths())
    if overcut_mm <= 0.0:
        return whole
    last = int(np.searchsorted(reach, overcut_mm))
    share = 1.0 - float(reach[last] - overcut_mm) / float(whole.lengths()[last])
    tail = Segments(whole.starts[: last + 1], whole.ends[: last + 1], whole.bulges[: last + 1])
    return _joined(whole, _cut_short(tail, share))


def _cut_short(run: Segments, share: float) -> Segments:
    """The run with only a share (0 to 1) of its last segment."""
    end = Segments(run.starts[-1:], run.ends[-1:], run.bulges[-1:]).points_at(np.array([share]))
    ends = np.vstack((run.ends[:-1], end))
    bulges = np.append(run.bulges[:-1], tan(share * float(run.half_sweeps()[-1]) / 2.0))
    return Segments(run.starts, ends, bulges)


def _with_swings(run: Segments, heading: float, offset: float) -> Segments:
    """The run moved ahead of the tip, with a swing before every segment that sets off in a new direction."""
    first, last = run.headings_at(np.zeros(len(run))), run.headings_at(np.ones(len(run)))
    before = np.concatenate(([heading], last[:-1]))
    turns = (first - before + pi) % (2.0 * pi) - pi
    moved = Segments(run.starts + _ahead(first, offset), run.ends + _ahead(last, offset), run.bulges)
    swings = Segments(run.starts + _ahead(before, offset), moved.starts, np.tan(turns / 4.0))
    rows = np.column_stack((np.abs(turns) > NO_SWING, np.ones(len(run), bool))).ravel()
    return Segments(
        np.stack((swings.starts, moved.starts), axis=1).reshape(-1, 2)[rows],
        np.stack((swings.ends, moved.ends), axis=1).reshape(-1, 2)[rows],
        np.column_stack((swings.bulges, moved.bulges)).ravel()[rows],
    )


def _ahead(headings: Floats, offset: float) -> Floats:
    return offset * np.column_stack((np.cos(headings), np.sin(headings)))


def _joined(one: Segments, other: Segments) -> Segments:
    return Segments(
        np.vstack((one.starts, other.starts)),
        np.vstack((one.ends, other.ends)),
        np.concatenate((one.bulges, other.bulges)),
    )
