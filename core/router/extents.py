"""How far the bit's centre goes, and how much of its way is cutting."""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Segments
from core.router.strand import lengths_of
from core.router.toolpath import Motion, Toolpath


@dataclass(frozen=True)
class Extents:
    """The box of the bit's centre, bellies of arcs and the start included: mm, z as the Toolpath's."""

    x_min: float
    y_min: float
    z_min: float
    x_max: float
    y_max: float
    z_max: float


def extents_of(toolpath: Toolpath) -> Extents:
    """The extents of all moves, rapids too."""
    segments = Segments(toolpath.starts()[:, :2], toolpath.ends[:, :2], toolpath.bulges)
    flat = np.vstack((toolpath.start[None, :2], toolpath.ends[:, :2], segments.turning_points()))
    z = np.append(toolpath.ends[:, 2], toolpath.start[2])
    (x_min, y_min), (x_max, y_max) = flat.min(axis=0).tolist(), flat.max(axis=0).tolist()
    return Extents(x_min, y_min, float(z.min()), x_max, y_max, float(z.max()))


def cut_length_mm(toolpath: Toolpath) -> float:
    """Length of the fed path below the stock's bare top, mm; a move through the top counts in part."""
    starts = toolpath.starts()
    lengths = lengths_of(np.vstack((starts[:1], toolpath.ends)), toolpath.bulges)
    high = np.maximum(starts[:, 2], toolpath.ends[:, 2])
    low = np.minimum(starts[:, 2], toolpath.ends[:, 2])
    spans = high - low
    below = np.clip(-low / np.where(spans > 0.0, spans, 1.0), 0.0, 1.0)
    share = np.where(spans > 0.0, below, (low < 0.0).astype(np.float64))
    return float((lengths * share)[toolpath.motions == Motion.FEED].sum())
