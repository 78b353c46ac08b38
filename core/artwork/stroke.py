"""A stroke as areas: bands along its lines and arcs, joins at corners, caps at ends (SVG 2, Painting).

Every area runs counter-clockwise (y up), so that all of them, filled by the nonzero rule, are the stroke.
Bands of lines and arcs are bounded by lines and arcs exactly; an arc of less radius than half the width
sweeps two sectors, one beyond its centre.
"""

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from core.artwork.edges import Bow, SubPath, polygon

#: rad; below it neighbours are tangent and nothing gapes between their bands.
TANGENT = 1e-9


@dataclass(frozen=True)
class Pen:
    """Half the width; cap "butt", "round" or "square"; join "miter", "round" or "bevel"; its limit."""

    half: float
    cap: str = "butt"
    join: str = "miter"
    limit: float = 4.0


def stroked(bows: Sequence[Bow], pen: Pen, *, is_closed: bool) -> tuple[SubPath, ...]:
    """The areas of a stroke along lines and arcs that follow one another."""
    real = [bow for bow in bows if bow.start != bow.end]
    if not real:
        return _dot(bows[0].start, pen) if bows else ()
    areas = [area for bow in real for area in _band(bow, pen.half)]
    pairs = list(pairwise(real)) + ([(real[-1], real[0])] if is_closed else [])
    for before, after in pairs:
        areas += _join(before.end, _heading(before, at_end=True), _heading(after, at_end=False), pen)
    if not is_closed:
        areas += _cap(real[0].start, -_heading(real[0], at_end=False), pen)
        areas += _cap(real[-1].end, _heading(real[-1], at_end=True), pen)
    return tuple(areas)


def _heading(bow: Bow, *, at_end: bool) -> complex:
    """The direction of travel at an end, of length 1."""
    chord = bow.end - bow.start
    half = 2.0 * math.atan(bow.bulge)
    return chord / abs(chord) * cmath.rect(1.0, half if at_end else -half)


def _band(bow: Bow, half: float) -> list[SubPath]:
    start, end = (1j * half * _heading(bow, at_end=at_end) for at_end in (False, True))
    right = bow.start - start, bow.end - end
    left = bow.start + start, bow.end + end
    if bow.bulge == 0.0:
        return [polygon([*right, *left[::-1]], is_closed=True)]
    radius = abs(bow.end - bow.start) * (1.0 + bow.bulge**2) / (4.0 * abs(bow.bulge))
    if radius > half:
        there, back = Bow(*right, bow.bulge), Bow(left[1], left[0], -bow.bulge)
        return [SubPath((there, Bow(right[1], left[1]), back, Bow(left[0], right[0])), is_closed=True)]
    centre = bow.oval().centre
    return [_sector(centre, *side, bow.bulge) for side in (right, left) if abs(side[0] - centre) > 0.0]


def _sector(centre: complex, first: complex, last: complex, bulge: float) -> SubPath:
    """Between two radii, counter-clockwise whichever way the arc runs."""
    if bulge < 0.0:
        first, last, bulge = last, first, -bulge
    return SubPath((Bow(centre, first), Bow(first, last, bulge), Bow(last, centre)), is_closed=True)


def _join(corner: complex, arriving: complex, leaving: complex, pen: Pen) -> list[SubPath]:
    turn = cmath.phase(leaving * arriving.conjugate())
    if abs(turn) <= TANGENT:
        return []
    side = -1j * math.copysign(pen.half, turn)  # the outside of the corner
    first, last = side * arriving, side * leaving
    if pen.join == "round":
        return [_sector(corner, corner + first, corner + last, math.tan(turn / 4.0))]
    around = [0j, first, last]
    if pen.join != "bevel" and math.cos(turn / 2.0) * pen.limit >= 1.0:
        around = [0j, first, (first + last) / (1.0 + math.cos(turn)), last]
    corners = [corner + spot for spot in around]
    return [polygon(corners if turn > 0.0 else [corners[0], *corners[:0:-1]], is_closed=True)]


def _cap(end: complex, outward: complex, pen: Pen) -> list[SubPath]:
    right, left = end - 1j * pen.half * outward, end + 1j * pen.half * outward
    if pen.cap == "round":
        return [SubPath((Bow(right, left, 1.0), Bow(left, right)), is_closed=True)]
    if pen.cap == "square":
        ahead = pen.half * outward
        return [polygon([right, right + ahead, left + ahead, left], is_closed=True)]
    return []


def _dot(spot: complex, pen: Pen) -> tuple[SubPath, ...]:
    """A stroke without length: nothing but its caps (SVG 2, Painting, zero length sub-paths)."""
    if pen.cap == "butt":
        return ()
    return (*_cap(spot, -1.0 + 0j, pen), *_cap(spot, 1.0 + 0j, pen))
