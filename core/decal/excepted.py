"""Places where film or edge differ from the outline on purpose.

A tip: where the as-cut part is too sharp or too narrow for the face to follow, so that film ends short
of it by clearly more than the inset. Tips are found on polygons: they are told to a maker, and no edge is
made of them.
"""

from collections.abc import Sequence

import numpy as np
import shapely

from core.decal.face import NearerTip
from core.decal.film import Excepted
from core.findings import Finding, Level
from core.outline.polygon import to_polygon, to_solid, without_crossings
from core.outline.region import Regions

#: mm that the polygons stray from lines and arcs, and what is taken off so that this is never a place.
FLATNESS_MM, RESERVE_MM = 0.002, 0.005
#: A tip counts where film ends short by this share of the inset beyond the inset: at 63 degrees or less.
TIP_SHARE = 0.9
CHORDS_PER_QUARTER = 16
#: Tips told one by one.
MOST_PLACES = 12


def lost_tips(
    as_cut: Regions, covered: Regions, inset_mm: float, tips: Sequence[NearerTip] = ()
) -> tuple[Excepted, ...]:
    """Tips and necks of the part (mm, frame) that lie in ``covered``, the films' patches, but get no film."""
    if inset_mm <= 0.0:
        return ()
    part = _solid(as_cut)
    face: shapely.Geometry = shapely.buffer(part, -inset_mm, quad_segs=CHORDS_PER_QUARTER)
    nearer = [
        shapely.intersection(shapely.buffer(part, -tip.inset_mm), shapely.Point(tip.at).buffer(tip.reach_mm))
        for tip in tips
    ]
    face = shapely.union_all([face, *nearer]) if nearer else face
    within = shapely.buffer(face, inset_mm + RESERVE_MM, quad_segs=CHORDS_PER_QUARTER)
    pieces = shapely.get_parts(shapely.difference(part, within))
    patches = without_crossings(shapely.get_parts(to_polygon(covered, FLATNESS_MM))) if len(pieces) else []
    is_under_film = np.unique(shapely.STRtree(patches).query(pieces, predicate="intersects")[0])
    places = [
        _place(piece, part, face, "tip", inset_mm * (1.0 + TIP_SHARE)) for piece in pieces[is_under_film]
    ]
    return tuple(place for place in places if place is not None)


def tip_findings(lost: Sequence[Excepted], face: Regions) -> list[Finding]:
    """A note for each lost tip up to a dozen: how far the film ends from it, and what helps."""
    if not lost or not face:
        return []
    solid = _solid(face)
    return [
        Finding(
            Level.NOTE,
            "tip-lost",
            f"The film ends {shapely.distance(solid, shapely.Point(tip.at)):.1f} mm short of this tip.",
            "Accept it, or give this tip a smaller inset of its own (film.tips).",
            tip.at,
        )
        for tip in lost[:MOST_PLACES]
    ]


def _solid(regions: Regions) -> shapely.Geometry:
    return to_solid(regions, FLATNESS_MM)


def _place(
    piece: shapely.Geometry, whole: shapely.Geometry, kept: shapely.Geometry, why: str, least: float
) -> Excepted | None:
    """The point of the piece farthest from what is kept, where that is far enough to count."""
    # The middle of a neck is farther from the face than its ends, and no corner stands there.
    corners = shapely.get_coordinates(shapely.segmentize(piece, max(least / 2.0, RESERVE_MM)))
    if not len(corners):
        return None
    # Where nothing is kept there is no distance, and all of the piece counts.
    away = np.asarray(shapely.distance(kept, shapely.points(corners)))
    far = np.nan_to_num(away, nan=np.inf)
    index = int(far.argmax())
    if far[index] < least:
        return None
    edge = shapely.intersection(shapely.boundary(whole), shapely.buffer(piece, RESERVE_MM))
    return Excepted((float(corners[index, 0]), float(corners[index, 1])), why, float(shapely.length(edge)))
