"""Which narrower bit would do a place that this one leaves, by the shape round it and not by its angle.

The part near the place is closed by the disc of each bit (Serra 1982), widest first; the first closing whose
edge runs through the place does it. A sharp inside corner is done by none: then the least that one leaves.
"""

from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Point
from core.outline.polygon import to_polygon
from core.outline.region import Regions

#: mm; bits that a maker is likely to have, where nobody said which are at hand: those of the table that comes
#: along (assets/tables/bits.toml).
USUAL_BITS_MM = (3.175, 3.0, 2.0, 1.5, 1.0)
#: mm to which the part is flattened here, and by how much the edge may miss a place that is done.
FLAT_MM, DONE_MM = 1e-3, 0.015
#: Diameters of the bit that are looked at on each side of a place, so that no narrower disc meets their end.
AROUND = 2.5
#: Steps of a quarter circle: a disc of 1.6 mm is then within 5e-4 mm.
QUARTER = 64


@dataclass(frozen=True)
class Narrower:
    """The widest narrower bit that does a place, mm, or None; else the narrowest one and what it leaves."""

    does_mm: float | None
    narrowest_mm: float
    leaves_mm: float


@dataclass(frozen=True, eq=False)
class Solid:
    """The part, flattened once, to be asked about places."""

    area: BaseGeometry

    @classmethod
    def of(cls, part: Regions) -> "Solid":
        """Of any part."""
        return cls(shapely.union_all(shapely.get_parts(to_polygon(part, FLAT_MM))))

    def narrower(
        self, at: Point, bit_mm: float, bits_mm: tuple[float, ...] = USUAL_BITS_MM
    ) -> Narrower | None:
        """What a narrower one of bits_mm would do at a place that this one leaves; None without one."""
        widths = sorted((width for width in bits_mm if width < bit_mm), reverse=True)
        if not widths:
            return None
        half = AROUND * bit_mm
        near = shapely.intersection(self.area, shapely.Point(at).buffer(half))
        left = 0.0
        for width in widths:
            closed = near.buffer(width / 2.0, QUARTER).buffer(-width / 2.0, QUARTER)
            left = float(shapely.distance(shapely.boundary(closed), shapely.Point(at)))
            if left <= DONE_MM:
                return Narrower(width, width, 0.0)
        return Narrower(None, widths[-1], left)
