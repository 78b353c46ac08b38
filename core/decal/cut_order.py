"""In which order the knife takes the contours of a film."""

from core.outline.loop import Loop
from core.outline.region import Regions


def in_cutting_order(regions: Regions) -> tuple[Loop, ...]:
    """Small before large, which is inside before outside too: what lies inside has less area."""
    loops = [loop for region in regions for loop in region.loops()]
    return tuple(sorted(loops, key=lambda loop: (abs(loop.signed_area()), loop.bounds())))
