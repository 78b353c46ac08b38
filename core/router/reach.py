"""What a round bit really leaves of a part, and where that differs from what was asked.

The centre runs on the edge of the part grown by the bit's radius r; the edge it leaves is that shrunk by r
again: the closing of the part by a disc (J. Serra, Image Analysis and Mathematical Morphology, 1982). A
corner of interior angle t keeps r (1 / sin(t / 2) - 1) of what should have gone.
"""

from dataclasses import dataclass

import numpy as np

from core.errors import BadShape
from core.findings import Finding, Level, Point
from core.outline.loop import Loop
from core.outline.measure import Nearest, all_loops, contains, distances
from core.outline.offset import grown, shrunk
from core.outline.region import Region, Regions, mapped
from core.outline.segments import Floats, Segments
from core.router.bit import Bit
from core.router.narrower import USUAL_BITS_MM, Narrower, Solid
from core.router.unrolled import without_specks

#: mm by which an opening must be wider than the bit, else the bit only plunges (bench practice).
SPARE_MM = 0.1
#: mm; an edge within this of what was asked is as asked: the promise of one outline.
AS_ASKED_MM = 0.01
#: Share of the bit's radius between two looks at the edge, besides all its corners.
LOOK_SHARE = 0.25
#: Bit radii left in a place above which it is a slit that closes rather than a corner that is rounded: a
#: corner of 60 degrees keeps one radius.
SLIT = 1.0


#: Diameters, mm, the widest first.
Bits = tuple[float, ...]


@dataclass(frozen=True, eq=False)
class AsCut:
    """The parts as the bit leaves them, and centres: where its centre may not be; their edge is its path."""

    regions: Regions
    findings: tuple[Finding, ...]
    centres: Regions


def as_cut(part: Regions, bit: Bit, at_hand_mm: tuple[float, ...] = USUAL_BITS_MM) -> AsCut:
    """The part as the bit leaves it; BadShape when there is no part.

    at_hand_mm: the diameters of the bits, of which the widest that would do a place is named.
    """
    if not part:
        raise BadShape("there is no part to cut")
    at_hand = tuple(sorted(at_hand_mm, reverse=True))
    part = mapped(part, without_specks)
    centres = grown(part, bit.radius_mm)
    left = shrunk(centres, bit.radius_mm)
    findings = (
        *_several(part),
        *_merged(part, centres, bit, at_hand),
        *_too_narrow(part, bit, at_hand),
        *_unreached(part, left, bit, at_hand),
    )
    return AsCut(left, findings, centres)


def _several(part: Regions) -> tuple[Finding, ...]:
    if len(part) == 1:
        return ()
    return (
        Finding(
            Level.NOTE,
            "several-parts",
            f"The shape is in {len(part)} pieces: each is a part of its own, held by tabs of its own.",
            "Join them by bridges, or set them on a base plate, if they should be one.",
        ),
    )


def _merged(part: Regions, centres: Regions, bit: Bit, at_hand: Bits) -> tuple[Finding, ...]:
    """Parts so close that the bit does not fit between them."""
    if len(part) == 1:
        return ()
    corners = np.array([region.outer.points[0] for region in part])
    findings = []
    for centre in centres:
        inside = np.flatnonzero(contains((Region(centre.outer),), corners))
        held = [part[index] for index in inside if not _is_in_opening(part[index], centre)]
        findings += [_close(held[0], other, bit, at_hand) for other in held[1:]]
    return tuple(findings)


def _is_in_opening(region: Region, centre: Region) -> bool:
    corner = region.outer.points[:1]
    return any(bool(contains((Region(hole.reversed()),), corner)[0]) for hole in centre.openings)


def _close(one: Region, other: Region, bit: Bit, at_hand: Bits) -> Finding:
    spots = _looked_at(one.outer, bit.radius_mm)
    gaps = distances((other.outer,), spots)
    nearest = int(np.argmin(gaps))
    return Finding(
        Level.STOP,
        "parts-too-close",
        f"Two parts lie {float(gaps[nearest]):.2f} mm apart: too close for a {bit.called_mm:g} mm bit.",
        _narrower(float(gaps[nearest]), bit, at_hand),
        _point(spots[nearest]),
    )


def _too_narrow(part: Regions, bit: Bit, at_hand: Bits) -> tuple[Finding, ...]:
    """Openings that the bit does not fit into."""
    openings = [loop.reversed() for region in part for loop in region.openings]
    needed = bit.radius_mm + SPARE_MM / 2.0
    return tuple(
        Finding(
            Level.STOP,
            "bit-too-wide",
            f"This opening is too narrow for a {bit.called_mm:g} mm bit.",
            _bit_for(loop, bit, at_hand),
            _centre(loop),
        )
        for loop in openings
        if not shrunk((Region(loop),), needed)
    )


def _bit_for(opening: Loop, bit: Bit, at_hand: Bits) -> str:
    fitting = [
        width
        for width in at_hand
        if width < bit.diameter_mm and shrunk((Region(opening),), (width + SPARE_MM) / 2.0)
    ]
    if fitting:
        return f"Use a bit of {fitting[0]:g} mm or narrower, or close the opening."
    return "Close the opening or make the part larger: no usual bit fits."


def _narrower(gap: float, bit: Bit, at_hand: Bits) -> str:
    fitting = [width for width in at_hand if width < min(bit.diameter_mm, gap)]
    if fitting:
        return f"Use a bit of {fitting[0]:g} mm or narrower, or move the parts apart."
    return "Move the parts apart or make them one: no usual bit fits between them."


def _unreached(part: Regions, left: Regions, bit: Bit, at_hand: Bits) -> tuple[Finding, ...]:
    """Corners that are rounded and slits that close: a finding for each run of edge that is not reached."""
    if not left:
        return ()
    kept = Nearest.of(all_loops(left))
    runs = [run for loop in all_loops(part) for run in _runs(_looked_at(loop, bit.radius_mm), kept)]
    if not runs:
        return ()
    solid = Solid.of(part)
    return tuple(_told(size, at, bit, solid.narrower(at, bit.diameter_mm, at_hand)) for size, at in runs)


def _runs(spots: Floats, kept: Nearest) -> list[tuple[float, Point]]:
    """For each unbroken run of places farther than AS_ASKED_MM from the kept edge: how far, and where."""
    far = kept.distances(spots)
    off = far > AS_ASKED_MM
    if not off.any():
        return []
    start = int(np.argmin(off))  # a place that is reached, so that no run goes over the end
    off, far, spots = np.roll(off, -start), np.roll(far, -start), np.roll(spots, -start, axis=0)
    edges = np.flatnonzero(np.diff(np.concatenate(([False], off, [False])).astype(np.int8)))
    found = []
    for first, last in edges.reshape(-1, 2).tolist():
        worst = first + int(np.argmax(far[first:last]))
        found.append((float(far[worst]), _point(spots[worst])))
    return found


def _told(size: float, at: Point, bit: Bit, narrower: Narrower | None) -> Finding:
    if size <= SLIT * bit.radius_mm:
        return Finding(
            Level.NOTE,
            "corner-rounded",
            f"The bit rounds this inside corner and leaves {size:.2f} mm in it.",
            f"Accept it{_narrower_words(narrower, ', or')}.",
            at,
        )
    return Finding(
        Level.CAUTION,
        "bit-too-wide",
        f"A {bit.called_mm:g} mm bit does not reach into this place: {size:.2f} mm stay uncut.",
        f"Open the place{_narrower_words(narrower, '; else')}.",
        at,
    )


def _narrower_words(narrower: Narrower | None, joined_by: str) -> str:
    """The bit of the table that would do it, or how little the narrowest one leaves."""
    if narrower is None:
        return ""
    if narrower.does_mm is not None:
        return f"{joined_by} use a narrower bit: a {narrower.does_mm:g} mm bit does it"
    if narrower.leaves_mm > narrower.narrowest_mm:
        return ""
    least = f"a {narrower.narrowest_mm:g} mm one leaves {narrower.leaves_mm:.2f} mm"
    return f"{joined_by} use a narrower bit: {least}"


def _looked_at(loop: Loop, radius: float) -> Floats:
    """(m, 2) mm: every corner of a Loop and places between, a share of the bit's radius apart."""
    segments = loop.segments()
    counts = np.maximum(np.ceil(segments.lengths() / (LOOK_SHARE * radius)).astype(np.int64), 1)
    rows = np.repeat(np.arange(len(segments)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    chosen = Segments(segments.starts[rows], segments.ends[rows], segments.bulges[rows])
    return chosen.points_at(within / counts[rows])


def _centre(loop: Loop) -> Point:
    x_min, y_min, x_max, y_max = loop.bounds()
    return ((x_min + x_max) / 2.0, (y_min + y_max) / 2.0)


def _point(spot: Floats) -> Point:
    return (float(spot[0]), float(spot[1]))
