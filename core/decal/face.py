"""The face: where film may lie."""

from core.outline.offset import shrunk
from core.outline.region import Regions


def face_of(as_cut: Regions, inset_mm: float) -> Regions:
    """The as-cut part less inset_mm (>= 0) along its edge and its openings."""
    return shrunk(as_cut, inset_mm) if inset_mm > 0.0 else as_cut
