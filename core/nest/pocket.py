"""The pocket of a nest: a little wider than the part, but where the part touches its wall.

Round the part WIDE_MM stay free, so that dust and stubs of tabs do not matter; the wall comes near where a
run of contact is. A round bit leaves its radius in every inside corner, so each sharp corner of the part
gets a disc. Lines and arcs stay lines and arcs, so that the wall is as exact as the part.
"""

import numpy as np
import shapely

from core.findings import Finding, Level, Point
from core.nest.contacts import CUT_CLEARANCE_MM, NOTCH_MM, Contact, Contacts
from core.outline.boolean import difference, union
from core.outline.loop import Loop
from core.outline.offset import grown, shrunk
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions

#: mm between part and wall where they do not touch.
WIDE_MM = 1.0
#: mm by which a relief disc is wider than the bit.
RELIEF_BEYOND_BIT_MM = 1.0
#: rad: an outside corner that turns more is sharp.
SHARP = np.radians(20.0)
#: mm by which the strip of a contact reaches into the part and out behind the wall.
INTO_MM, BEHIND_MM = 0.5, 1.5
#: mm2 of the part, grown by the clearance, that the bit may leave in a pocket: what flattening makes up.
NOTHING_MM2 = 1e-3
FLATNESS_MM = 1e-3
#: Rounds of relief where corners alone are not enough, as at tight bends.
ROUNDS = 3


def filled(region: Region) -> Region:
    """A part without its openings: it covers its pocket whole."""
    return Region(region.outer)


def pocket_of(region: Region, contacts: Contacts, bit_mm: float) -> tuple[Regions, tuple[Finding, ...]]:
    """What the bit takes away for one loose piece, mm; a stop where the piece would not go in."""
    solid = (filled(region),)
    near = grown(solid, CUT_CLEARANCE_MM)
    wide = grown(solid, WIDE_MM)
    for run in contacts.runs:
        wide = difference(wide, (strip(run),))
    pocket = union(wide, near)
    discs = [(at, (bit_mm + RELIEF_BEYOND_BIT_MM) / 2.0) for at in sharp_corners(region.outer)]
    discs += [(at, NOTCH_MM / 2.0) for at in contacts.notches]
    for at, radius in discs:
        pocket = union(pocket, (Region(Loop.circle(at, radius)),))
    return _relieved(pocket, near, bit_mm)


def strip(run: Contact) -> Region:
    """From inside the part to behind the wall along a run of contact."""
    inner, outer = run.points - INTO_MM * run.normals, run.points + BEHIND_MM * run.normals
    corners = np.vstack((inner[::-1], outer))
    loop = Loop(corners, np.zeros(len(corners)))
    return Region(loop if loop.signed_area() > 0.0 else loop.reversed())


def sharp_corners(outer: Loop) -> list[Point]:
    """The outside corners of a counter-clockwise edge that turn by more than SHARP."""
    segments = outer.segments()
    before = np.roll(segments.headings_at(np.ones(len(segments))), 1)
    turns = np.angle(np.exp(1j * (segments.headings_at(np.zeros(len(segments))) - before)))
    return [(float(x), float(y)) for x, y in outer.points[turns > SHARP].tolist()]


def _relieved(pocket: Regions, near: Regions, bit_mm: float) -> tuple[Regions, tuple[Finding, ...]]:
    """With a disc more wherever the bit does not reach what the part needs."""
    wanted = to_polygon(near, FLATNESS_MM)
    left: list[shapely.Geometry] = []
    for _ in range(ROUNDS):
        left = _uncut(pocket, wanted, bit_mm)
        for piece in left:
            at = shapely.point_on_surface(piece)
            disc = Region(Loop.circle((at.x, at.y), (bit_mm + RELIEF_BEYOND_BIT_MM) / 2.0))
            pocket = union(pocket, (disc,))
        if not left:
            return pocket, ()
    left = _uncut(pocket, wanted, bit_mm)
    return pocket, tuple(_stays(piece) for piece in left)


def _uncut(pocket: Regions, wanted: shapely.Geometry, bit_mm: float) -> list[shapely.Geometry]:
    """Pieces of what the part needs that a bit of this width does not reach."""
    reached = to_polygon(grown(shrunk(pocket, bit_mm / 2.0), bit_mm / 2.0), FLATNESS_MM)
    rest = shapely.get_parts(shapely.difference(wanted, shapely.buffer(reached, 2.0 * FLATNESS_MM)))
    return [piece for piece in rest if piece.area > NOTHING_MM2]


def _stays(piece: shapely.Geometry) -> Finding:
    at = shapely.point_on_surface(piece)
    return Finding(
        Level.STOP,
        "nest-too-tight",
        "The bit does not reach into this place of the nest, so the part would not go in.",
        "Use a narrower bit for the nest, or round the part's corner.",
        (float(at.x), float(at.y)),
    )
