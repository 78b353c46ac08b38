"""How much of every pixel a polygon covers, exactly: what is painted so has its edge where it was asked."""

from dataclasses import dataclass

import cv2
import numpy as np
import shapely
from numpy.typing import NDArray

from core.outline.segments import Floats

#: px between two looks along an edge: with their neighbours, no pixel that it runs through is missed.
STEP = 0.5


@dataclass(frozen=True, eq=False)
class Cover:
    """share (rows, columns) in 0..1 of the pixels from row top and column left on; y down."""

    top: int
    left: int
    share: Floats

    @property
    def window(self) -> tuple[slice, slice]:
        """Where in the picture it lies."""
        rows, columns = self.share.shape
        return slice(self.top, self.top + rows), slice(self.left, self.left + columns)

    def centres(self) -> Floats:
        """(rows, columns, 2) px, the middles of its pixels, x first."""
        rows, columns = self.share.shape
        x, y = np.meshgrid(self.left + np.arange(columns) + 0.5, self.top + np.arange(rows) + 0.5)
        return np.stack((x, y), axis=-1)


def covered(ring: Floats, height: int, width: int) -> Cover:
    """What the polygon through ring (n, 2) px covers of a picture; of no pixel where it lies outside."""
    low = np.clip(np.floor(ring.min(axis=0)), 0, (width, height)).astype(int)
    high = np.clip(np.ceil(ring.max(axis=0)), 0, (width, height)).astype(int)
    left, top = low.tolist()
    columns, rows = np.maximum(high - low, 0).tolist()
    cover = Cover(top, left, np.zeros((rows, columns)))
    if not cover.share.size:
        return cover
    polygon = shapely.Polygon(ring)
    shapely.prepare(polygon)
    x, y = np.moveaxis(cover.centres(), -1, 0)
    share = shapely.contains_xy(polygon, x, y).astype(np.float64)
    row, column = np.nonzero(_along_edge(ring, cover))
    cells = shapely.box(left + column, top + row, left + column + 1, top + row + 1)
    share[row, column] = shapely.area(shapely.intersection(polygon, cells))
    return Cover(top, left, share)


def _along_edge(ring: Floats, cover: Cover) -> NDArray[np.bool_]:
    """The pixels that the edge runs through, and their neighbours."""
    edge = shapely.segmentize(shapely.LinearRing(ring), STEP)
    places = np.floor(shapely.get_coordinates(edge)).astype(int) - (cover.left, cover.top)
    rows, columns = cover.share.shape
    marked = np.zeros((rows + 2, columns + 2), np.uint8)
    inside = ((places >= -1) & (places <= (columns, rows))).all(axis=1)
    marked[places[inside, 1] + 1, places[inside, 0] + 1] = 1
    return np.asarray(cv2.dilate(marked, np.ones((3, 3), np.uint8))[1:-1, 1:-1] > 0)
