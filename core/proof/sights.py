"""Strips of film beside the part: the gap that is read by eye is the one that is stated, in every drawing.

Each strip is a ring that runs beside the part's edge as its program leaves it: nowhere nearer than the gap,
nowhere farther than gap and width, and along both of its sides just there.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.claims import MarkClaim
from core.proof.edges import distances_to, samples_along
from core.proof.layers import NamedLayers
from core.proof.readback import EDGE_WITHIN, breach

#: Share of a strip's border that runs along its two sides; its ends are short.
ALONG = 0.7


def sight_findings(
    drawing: NamedLayers, marks: Sequence[MarkClaim], left: BaseGeometry
) -> tuple[Finding, ...]:
    """left: the parts of all copies as their program leaves them, in the frame."""
    strips = [mark for mark in marks if mark.kind == "edge"]
    if not strips:
        return ()
    rings = drawing.layers.marks()
    wide, gap = strips[0].wide_mm, strips[0].gap_mm
    found = (_off(ring, left, gap, gap + wide) for ring in rings)
    return tuple(
        breach(
            "sight-differs",
            f"A sight edge in {drawing.path} is {off:.3f} mm off where it would be read.",
            (ring.centroid.x, ring.centroid.y),
        )
        for ring, off in zip(rings, found, strict=True)
        if off > EDGE_WITHIN
    )


def _off(ring: BaseGeometry, left: BaseGeometry, gap: float, far: float) -> float:
    """How far a strip leaves the band between two parallels of the edge, or its sides leave them, mm."""
    samples = samples_along(ring)
    away = np.where(shapely.contains_xy(left, samples.points), -1.0, distances_to(left, samples.points))
    beyond = float(np.maximum(np.maximum(gap - away, away - far), 0.0).max())
    from_sides = np.minimum(np.abs(away - gap), np.abs(away - far))
    order = np.argsort(from_sides)
    share = np.cumsum(samples.weights[order]) / samples.weights.sum()
    along = float(from_sides[order][np.searchsorted(share, ALONG)])
    return max(beyond, along)
