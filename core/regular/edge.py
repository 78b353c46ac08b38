"""The whole edge of an outline, to be asked which segment is nearest to a point, and how far it is."""

import numpy as np
import shapely

from core.outline.curve import Ints, distances_between, picked
from core.outline.segments import Floats
from core.regular.frame import Frame

#: Places along the edge, about.
PLACES = 600
#: px; the polygons by which a nearest segment is found stray by this.
FLATNESS = 0.05
#: Looks along a segment when it is asked how far it is from the edge.
LOOKS = 9


class Edge:
    """The whole edge, to be asked which segment is nearest to a point, and places along it."""

    def __init__(self, frame: Frame) -> None:
        self.segments = frame.segments()
        counts = self.segments.steps(FLATNESS) + 1
        rows = np.repeat(np.arange(len(self.segments)), counts)
        within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
        corners = picked(self.segments, rows).points_at(within / (counts[rows] - 1))
        self._tree = shapely.STRtree(np.asarray(shapely.linestrings(corners, indices=rows)))
        lengths = self.segments.lengths()
        each = np.maximum(np.ceil(lengths / lengths.sum() * PLACES), 2).astype(np.int64)
        self.rows = np.repeat(np.arange(len(lengths)), each)
        inside = np.arange(self.rows.size) - np.repeat(np.cumsum(each) - each, each)
        self.places = picked(self.segments, self.rows).points_at((inside + 0.5) / each[self.rows])
        self.weight = (lengths / each)[self.rows]

    def nearest(self, points: Floats) -> Ints:
        """(n,) the segment nearest to each point."""
        (which, found) = self._tree.query_nearest(np.asarray(shapely.points(points)), all_matches=False)
        nearest = np.empty(len(points), dtype=np.int64)
        nearest[which] = found
        return nearest

    def centroid(self) -> Floats:
        """(2,) px, the middle of all edge."""
        return np.asarray(np.average(self.places, axis=0, weights=self.weight))

    def off(self, points: Floats) -> Floats:
        """(n,) px from each point to the edge."""
        return distances_between(picked(self.segments, self.nearest(points)), points)

    def strays(self, frame: Frame) -> Floats:
        """(s,) px, how far each segment of a Frame is from this edge at most."""
        segments = frame.segments()
        rows = np.repeat(np.arange(len(segments)), LOOKS)
        shares = np.tile(np.linspace(0.05, 0.95, LOOKS), len(segments))
        looked = picked(segments, rows).points_at(shares)
        return np.asarray(self.off(looked).reshape(-1, LOOKS).max(axis=1))
