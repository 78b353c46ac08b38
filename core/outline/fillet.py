"""Corners of a Chain made sharp and round, exactly, whether their sides are lines or arcs.

Both kinds are treated alike, by their equations (curve.py): the place where two sides meet, or the centre
of a fillet between them, is where the signed distances from both are 0, or the radius; Newton finds it.
"""

import numpy as np

from core.outline.chain import Chain
from core.outline.curve import fractions_of, part_between, picked, sideways, slopes_at
from core.outline.segments import Floats, Segments

#: Share of the coordinates within which a meeting point is found.
FOUND_WITHIN = 1e-10
#: Steps in which Newton finds any meeting point that is worth having.
STEPS = 40
#: Share of a side that must be left beside a fillet.
LEAST_LEFT = 1e-6
#: Sine of the angle between two sides below which they run along one another and meet nowhere.
ALONGSIDE = 1e-9


def turns(segments: Segments) -> Floats:
    """(n,) rad, the turn at the joint before each segment, of a ring's first one at its start."""
    unit = np.ones(len(segments))
    turn = segments.headings_at(0.0 * unit) - np.roll(segments.headings_at(unit), 1)
    return np.asarray((turn + np.pi) % (2.0 * np.pi) - np.pi)


def _begun_at(chain: Chain, first: int) -> Chain:
    """A ring begun at another joint."""
    points = np.roll(chain.points[:-1], -first, axis=0)
    return Chain(np.vstack((points, points[:1])), np.roll(chain.bulges, -first), chain.left, chain.right)


def _apart(chain: Chain, at: int) -> tuple[Chain, int]:
    """The Chain, a ring begun far from joint or segment ``at``, and where that is now."""
    if not chain.is_ring:
        return chain, at
    count = len(chain.bulges)
    first = (at + count // 2 + 1) % count
    return _begun_at(chain, first), (at - first) % count


def sharpened(chain: Chain, arc: int) -> tuple[Chain, int] | None:
    """Without segment ``arc``, its neighbours run on to where they meet, and the joint they meet at."""
    chain, arc = _apart(chain, arc)
    segments = chain.segments()
    before, after = (picked(segments, np.array([k])) for k in (arc - 1, arc + 1))
    own = picked(segments, np.array([arc]))
    half = float(own.half_sweeps()[0])
    # from the arc's middle towards the side it bulges to
    middle, chord = own.midpoints()[0], own.chords()[0]
    out = np.array([chord[1], -chord[0]]) * np.sign(half) / np.hypot(*chord)
    guess = middle + out * float(own.radii()[0]) * (1.0 / np.cos(half / 2.0) - 1.0)
    meeting = met(before, after, guess, 0.0)
    if meeting is None:
        return None
    ahead = float(fractions_of(before, meeting[None])[0])
    behind = float(fractions_of(after, meeting[None])[0])
    if not (ahead > 1.0 and behind < 0.0):
        return None
    points = np.vstack((chain.points[:arc], meeting, chain.points[arc + 2 :]))
    bulges = np.concatenate((chain.bulges[:arc], chain.bulges[arc + 1 :]))
    bulges[arc - 1] = _part(before, 0.0, ahead)
    bulges[arc] = _part(after, behind, 1.0)
    return Chain(points, bulges, chain.left, chain.right), arc


def rounded(chain: Chain, joint: int, radius: float) -> Chain | None:
    """With an arc of this radius in the corner before segment ``joint``; None where it finds no room."""
    chain, joint = _apart(chain, joint)
    segments = chain.segments()
    before, after = (picked(segments, np.array([k])) for k in (joint - 1, joint))
    turn = float(turns(segments)[joint])
    left = radius * np.sign(turn)
    normals = [
        _normal(float(one.headings_at(np.array([end]))[0])) for one, end in ((before, 1.0), (after, 0.0))
    ]
    inward = normals[0] + normals[1]
    guess = chain.points[joint] + left * inward / max(1.0 + float(normals[0] @ normals[1]), 1e-9)
    centre = met(before, after, guess, left)
    if centre is None:
        return None
    feet = [centre - left * _slope(one, centre) for one in (before, after)]
    ends = [float(fractions_of(one, foot[None])[0]) for one, foot in zip((before, after), feet, strict=True)]
    if not all(LEAST_LEFT < end < 1.0 - LEAST_LEFT for end in ends):
        return None
    return _with_fillet(chain, joint, feet, ends)


def _with_fillet(chain: Chain, joint: int, feet: list[Floats], ends: list[float]) -> Chain:
    segments = chain.segments()
    before, after = (picked(segments, np.array([k])) for k in (joint - 1, joint))
    arriving = float(before.headings_at(np.array([ends[0]]))[0])
    leaving = float(after.headings_at(np.array([ends[1]]))[0])
    turn = (leaving - arriving + np.pi) % (2.0 * np.pi) - np.pi
    points = np.vstack((chain.points[:joint], *feet, chain.points[joint + 1 :]))
    bulges = np.concatenate((chain.bulges[:joint], [np.tan(turn / 4.0)], chain.bulges[joint:]))
    bulges[joint - 1] = _part(before, 0.0, ends[0])
    bulges[joint + 1] = _part(after, ends[1], 1.0)
    return Chain(points, bulges, chain.left, chain.right)


def _part(segment: Segments, first: float, last: float) -> float:
    return float(part_between(segment, np.array([first]), np.array([last]))[0])


def _normal(heading: float) -> Floats:
    return np.array([-np.sin(heading), np.cos(heading)])


def _slope(segment: Segments, at: Floats) -> Floats:
    """(2,) the unit vector along which the signed distance from a segment's whole curve grows."""
    slope = slopes_at(segment, at[None])[0]
    return np.asarray(slope / np.hypot(*slope))


def met(one: Segments, other: Segments, guess: Floats, left: float) -> Floats | None:
    """(2,) the point left px to the left of the whole line or circle of both, the one next to the guess."""
    at = guess
    for _ in range(STEPS):
        off = np.array([float(sideways(each, at[None])[0]) - left for each in (one, other)])
        slopes = np.array([_slope(each, at) for each in (one, other)])
        if not np.isfinite(slopes).all() or abs(float(np.linalg.det(slopes))) < ALONGSIDE:
            return None
        step = np.linalg.solve(slopes, off)
        at = at - step
        if np.hypot(*step) < FOUND_WITHIN * max(1.0, float(np.abs(at).max())):
            return at
    return None
