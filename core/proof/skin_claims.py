"""The skin that the bytes leave under every slot, against the one that the report claims.

Seen at four heights: just below the stock's top everything has been begun; just above the skin's claimed top
all of that must be gone, else the skin is thicker; just below it nothing may be gone, else it is thinner; and
at the stock's bottom nothing, else it is cut through. Marks, and openings of the part that are gone wholly,
go to the board on purpose.
"""

from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.claims import SkinClaim
from core.proof.readback import EDGE_WITHIN, breach
from core.proof.standing import CHIP

#: mm below the stock's top at which a cut counts as begun.
BEGUN = 0.01
#: mm; half the width of a sliver between two flattened edges, which is nothing.
SLIVER = 5e-3


@dataclass(frozen=True)
class Skinned:
    """In the frame, mm: the part as it is left, the marks, and what is gone at the four heights."""

    part: BaseGeometry
    marks: BaseGeometry
    begun: BaseGeometry
    above: BaseGeometry
    below: BaseGeometry
    through: BaseGeometry


def skin_findings(path: str, gone: Skinned, claim: SkinClaim) -> tuple[Finding, ...]:
    """A stop for each way in which the skin is not as claimed, at its largest place."""
    open_ones = [hole for hole in _openings(gone.part) if _is_gone(hole, gone.through)]
    meant = shapely.union_all([gone.marks, *open_ones]).buffer(EDGE_WITHIN)
    cut, thin = _beyond(gone.through, meant), _beyond(gone.below, meant)
    rest = _beyond(gone.begun, gone.above)
    size = f"{claim.thickness_mm:.3f} mm"
    found = []
    if cut is not None:
        found.append(breach("skin-cut-through", f"{path} cuts through the skin that holds the part.", cut))
    elif thin is not None:
        found.append(breach("skin-differs", f"{path} leaves a thinner skin than the {size} claimed.", thin))
    if rest is not None:
        found.append(breach("skin-not-reached", f"{path} does not cut down to the skin of {size}.", rest))
    if len(open_ones) != claim.openings_through:
        text = f"{path} cuts {len(open_ones)} openings right through; {claim.openings_through} are claimed."
        found.append(breach("skin-openings", text))
    return tuple(found)


def _openings(part: BaseGeometry) -> list[BaseGeometry]:
    rings = [ring for piece in shapely.get_parts(part) for ring in piece.interiors]
    return [shapely.Polygon(ring) for ring in rings]


def _is_gone(hole: BaseGeometry, gone: BaseGeometry) -> bool:
    """Whether nothing but chips is left of it."""
    return bool((shapely.area(shapely.get_parts(shapely.difference(hole, gone))) <= CHIP).all())


def _beyond(area: BaseGeometry, allowed: BaseGeometry) -> tuple[float, float] | None:
    """A point of the largest piece of area that lies outside allowed, slivers apart; None without one."""
    rest = shapely.get_parts(shapely.buffer(shapely.difference(area, allowed), -SLIVER))
    if not len(rest) or rest[0].is_empty:
        return None
    inside = max(rest, key=shapely.area).representative_point()
    return (inside.x, inside.y)
