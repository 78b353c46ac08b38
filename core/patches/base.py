"""A base plate: the pieces grown by a margin, and closed until they are one.

Closing by a disc of radius c (grown by c more, then shrunk by c) leaves a neck between two pieces that are
g apart. With the margin m its half width is sqrt((m + c)^2 - g^2 / 4) - c, that of two discs joined by
arcs of radius c; so a neck w wide asks for c = (g^2 + w^2 - 4 m^2) / (4 (2 m - w)). Bays come out no
tighter than c.
"""

import shapely

from core.outline.offset import grown, shrunk
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions

#: mm; the polygons that tell how far pieces are apart stray by this.
FLATNESS = 0.01
#: How much rounder the closing gets, and how often, where a piece stays apart all the same.
ROUNDER, ROUNDS = 1.5, 8


def base_round(pieces: Regions, margin_mm: float, neck_mm: float) -> Regions:
    """One Region, as a rule, without openings: margin_mm (> 0) round every piece, necks neck_mm at least.

    A neck wider than the margin would ask for a plate that is round everything: there it is the margin.
    """
    neck = min(neck_mm, margin_mm)
    gap = widest_gap(pieces)
    wanted = (gap**2 + neck**2 - 4.0 * margin_mm**2) / (4.0 * (2.0 * margin_mm - neck))
    closing = max(margin_mm, wanted)
    for _ in range(ROUNDS):
        plate = shrunk(_filled(grown(pieces, margin_mm + closing)), closing)
        if len(plate) <= 1:
            break
        closing *= ROUNDER
    return _filled(plate)


def _filled(regions: Regions) -> Regions:
    return tuple(Region(region.outer) for region in regions)


def widest_gap(pieces: Regions) -> float:
    """Mm, the longest of the shortest gaps that join all pieces; 0 for one piece."""
    solids = [to_polygon((piece,), FLATNESS) for piece in pieces]
    found, left, widest = [solids[0]], solids[1:], 0.0
    while left:
        gaps = [float(shapely.distance(shapely.GeometryCollection(found), solid)) for solid in left]
        nearest = min(range(len(left)), key=gaps.__getitem__)
        widest = max(widest, gaps[nearest])
        found.append(left.pop(nearest))
    return widest
