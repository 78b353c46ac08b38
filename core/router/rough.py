"""The path of the passes beside each exact path, where the bit fits with its allowance on the wall."""

import numpy as np

from core.outline.loop import Loop
from core.outline.measure import distances
from core.outline.offset import grown
from core.outline.region import Regions
from core.outline.segments import Floats
from core.router.setup import Setup

#: mm; farther than any allowance.
FAR_MM = 1e3
#: mm between places at which two paths are compared.
COMPARED_MM = 1.0


def passes_paths(exact: tuple[Loop, ...], parts: Regions, setup: Setup) -> tuple[Loop | None, ...]:
    """For each exact centre path that of its passes, or None where they run on the exact path itself.

    They do where the last lap would take more at full depth than it may, as in a sharp inside corner.
    """
    if not setup.allowance_mm > 0.0:
        return (None,) * len(exact)
    wider = grown(parts, setup.bit.radius_mm + setup.allowance_mm)
    beside = [loop for region in wider for loop in region.loops()]
    kinds = np.array([_kind(loop) for loop in beside]).reshape(-1, 5)
    limit = setup.deepest_side_cut_mm
    return tuple(_partner(loop, beside, kinds, limit) for loop in exact)


def _kind(loop: Loop) -> tuple[float, float, float, float, float]:
    """The box of a Loop, mm, and a number that is far another one for an opening."""
    return (*loop.bounds(), FAR_MM if loop.signed_area() > 0.0 else 0.0)


def _partner(loop: Loop, beside: list[Loop], kinds: Floats, limit: float) -> Loop | None:
    near = np.flatnonzero((np.abs(kinds - np.array(_kind(loop))) <= limit).all(axis=1))
    for other in (beside[index] for index in near.tolist()):
        if _apart(loop, other) <= limit and _apart(other, loop) <= limit:
            return other
    return None


def _apart(loop: Loop, other: Loop) -> float:
    """The farthest that loop goes from other, mm, at places COMPARED_MM apart."""
    return float(distances((other,), _places(loop)).max())


def _places(loop: Loop) -> Floats:
    segments = loop.segments()
    counts = np.maximum(np.ceil(segments.lengths() / COMPARED_MM).astype(np.int64), 1)
    rows = np.repeat(np.arange(len(segments)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    picked = type(segments)(segments.starts[rows], segments.ends[rows], segments.bulges[rows])
    return picked.points_at(within / counts[rows])
