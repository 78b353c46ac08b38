"""A film's negative: all of the part's face that the film leaves free, what was film being open.

Its islands stay in place on transfer tape, so that bridges are made only when asked for: two an island, on
sides of it that lie apart, each over one opening only and within the face.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from core.decal.left_out import Polygon
from core.findings import Finding, Level, Point
from core.outline.boolean import difference, union
from core.outline.polygon import to_polygon, to_solid
from core.outline.region import Regions
from core.patches.bridges import Bridge, Ground, sound_bridges

#: mm that polygons stray from arcs.
FLATNESS_MM = 0.005
#: Cosine of the angle, seen from the island, that its two bridges make at least; then what is taken instead.
APART = (-0.5, 0.0, 0.7)
#: Widths that they lie apart at least where the island meets film on one side alone.
WIDTHS_APART = 3.0
#: mm of the face's edge that a bridge may touch.
TOUCH_MM = 0.01


@dataclass(frozen=True)
class StencilWish:
    """Which films are cut as negatives, by name, and how wide bridges to islands are, mm; 0 for none."""

    names: tuple[str, ...] = ()
    bridge_mm: float = 0.0


@dataclass(frozen=True, eq=False)
class Bridged:
    """A stencil with its bridges, and a point of each island that no sound bridges were found for."""

    regions: Regions
    bridges: tuple[Bridge, ...] = ()
    loose: tuple[Point, ...] = ()


def negative(patch: Regions, part: Regions) -> Regions:
    """The part without a film's patch; both in the frame, mm."""
    return difference(part, patch)


def bridged(regions: Regions, face: Regions, width_mm: float) -> Bridged:
    """The stencil with two bridges (width_mm > 0) from each island, the nearest island first."""
    whole = _solid(face)
    waiting: list[Polygon] = [
        shapely.make_valid(to_polygon((region,), FLATNESS_MM))
        for region in sorted(regions, key=lambda one: -one.area())
    ]
    fixed, bridges, loose = waiting[:1], list[Bridge](), list[Point]()
    waiting = waiting[1:]
    while waiting:
        held: Polygon = shapely.union_all([*fixed, *(_bar(bridge) for bridge in bridges)])
        gaps = np.asarray(shapely.distance(held, np.array(waiting, dtype=object)))
        island = waiting.pop(int(gaps.argmin()))
        found = _two(island, held, waiting, whole, width_mm)
        if len(found) < 2:
            at = shapely.point_on_surface(island)
            loose.append((float(at.x), float(at.y)))
        bridges += found
        fixed.append(island)
    made = regions
    for bridge in bridges:
        made = union(made, (bridge.bar(),))
    return Bridged(made, tuple(bridges), tuple(loose))


def _two(
    island: Polygon, held: Polygon, others: Sequence[Polygon], face: Polygon, width_mm: float
) -> list[Bridge]:
    """The shortest bridge, and the shortest on another side of the island; fewer where there are none."""
    ground = Ground([island, held, *others], width_mm)
    room = shapely.buffer(face, TOUCH_MM)
    shapely.prepare(room)
    sound = [bridge for bridge in sound_bridges(ground, 0, 1) if shapely.covers(room, _bar(bridge))]
    if not sound:
        return []
    first = sound[0]
    centre = shapely.get_coordinates(shapely.centroid(island))[0]
    cosines = [_cosine(centre, first, other) for other in sound]
    for apart in APART:
        for other, cosine in zip(sound, cosines, strict=True):
            if cosine <= apart and not shapely.intersects(_bar(other), _bar(first)):
                return [first, other]
    farthest = max(sound, key=lambda other: _away(first, other))
    return [first, farthest] if _away(first, farthest) >= WIDTHS_APART * width_mm else [first]


def _away(one: Bridge, other: Bridge) -> float:
    """Mm between the middles of two bridges."""
    return float(np.hypot(*(np.array(one.middle) - np.array(other.middle))))


def _cosine(centre: np.ndarray, one: Bridge, other: Bridge) -> float:
    """Of the angle between two bridges as seen from the island's centre."""
    ways = [np.array(bridge.middle) - centre for bridge in (one, other)]
    size = np.hypot(*ways[0]) * np.hypot(*ways[1])
    return float(ways[0] @ ways[1] / size) if size > 0.0 else 1.0


def _bar(bridge: Bridge) -> Polygon:
    return shapely.Polygon(bridge.corners())


def _solid(regions: Regions) -> Polygon:
    return to_solid(regions, FLATNESS_MM)


def stencil_findings(name: str, made: Bridged, bridge_mm: float) -> list[Finding]:
    """That the film is a negative, what its islands need, and which of them nothing could be led to."""
    islands = max(len(made.regions) - 1, 0)
    told = f"The film {name} is a stencil: what is film in the picture is open."
    if bridge_mm > 0.0:
        told += f" {len(made.bridges)} bridges of {bridge_mm:g} mm hold its islands."
    elif islands:
        told += f" {islands} of its pieces are islands, which transfer tape holds in place."
    remedy = "Use transfer tape, or ask for bridges (film.stencil_islands) where it is laid without."
    found = [Finding(Level.NOTE, "film-stencil", told, remedy)]
    return found + [
        Finding(
            Level.CAUTION,
            "island-loose",
            f"No two sound bridges of {bridge_mm:g} mm were found for an island of the stencil {name}.",
            "Make bridges narrower, or the shape larger; or lay the stencil with transfer tape.",
            at,
        )
        for at in made.loose
    ]


def stencil_name_findings(names: Sequence[str], known: Sequence[str]) -> list[Finding]:
    """A caution for each stencil that no film is called like."""
    have = ", ".join(known) or "none"
    return [
        Finding(
            Level.CAUTION,
            "stencil-unknown",
            f"A stencil of the film {name} is asked for, and no film is called so.",
            f"Name films of this picture: {have}.",
        )
        for name in names
        if name not in known
    ]
