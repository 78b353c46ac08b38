"""One corner made sharp or round, on lines and arcs, exactly; the two patches go on sharing the Chain.

Sharp: the arc that rounds the corner is dropped, and both its neighbours are run on to where they meet.
Round: an arc of that radius, tangent to both sides, is put into the corner; one that is round already is
made sharp first. Lines and arcs are treated alike, by their equations (core/outline/curve.py): a meeting
point, or a fillet's centre, is where the signed distances from both sides are 0, or the radius (Newton).

Plot: the corners of all Chains (corners_of) -> the one nearest to the point -> the edit on its Chain, run
from a joint that is not concerned -> refused where that would make Chains cross.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.findings import Finding, Level, Point
from core.outline.chain import Chain
from core.outline.curve import distances_between, fractions_of, part_between, picked, sideways, slopes_at
from core.outline.outline import Outline
from core.outline.segments import Floats, Segments
from core.touch.edit import Corner
from core.trace.planar import crossing

#: rad; joints that turn less, and arcs that sweep less, are no corners.
LEAST_TURN = np.radians(8.0)
#: rad; an arc that sweeps more rounds the end of a bar and no corner.
MOST_SWEEP = np.radians(172.0)
#: Share of the outline's larger side beyond which a corner is not the one that was meant.
NEAR = 0.05
#: px; a meeting point is found when it is known this well.
FOUND_WITHIN = 1e-10
#: Steps in which Newton finds any meeting point that is worth having.
STEPS = 40
#: Share of a side that must be left beside a fillet.
LEAST_LEFT = 1e-6
#: Rounds in which a radius in mm and the scale, which the rounded shape sets, come to agree.
ROUNDS = 12


@dataclass(frozen=True, eq=False)
class Cornered:
    """The Outline with its corners as asked; findings have their place in its unit."""

    outline: Outline
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class Spot:
    """A corner of a Chain: the joint before segment ``at``, or where is_arc the segment ``at`` itself.

    is_node: other Chains end there too, so it cannot be changed alone.
    """

    chain: int
    at: int
    is_arc: bool
    is_node: bool
    away: float


def settled(outline: Outline, edits: Sequence[Corner], scale_of: Callable[[Outline], float]) -> Cornered:
    """The Outline with all edits made, radii in mm at the scale (mm per px) that the result itself has."""
    if not edits:
        return Cornered(outline)
    scale = scale_of(outline)
    made = cornered(outline, edits, scale)
    for _ in range(ROUNDS):
        if not any(edit.is_mm for edit in edits) or scale_of(made.outline) == scale:
            break
        scale = scale_of(made.outline)
        made = cornered(outline, edits, scale)
    return made


def cornered(outline: Outline, edits: Sequence[Corner], mm_per_px: float) -> Cornered:
    """The Outline (px, y up, as the edits' places) with all edits made, one after another."""
    findings = []
    for edit in edits:
        radius = edit.radius / mm_per_px if edit.is_mm else edit.radius
        made = _edited(outline, edit.at, radius)
        if isinstance(made, str):
            findings.append(_told(edit, made))
        else:
            outline = made
    return Cornered(outline, tuple(findings))


def _edited(outline: Outline, at: Point, radius: float) -> Outline | str:
    """The Outline with one corner changed, or the code of what keeps it from being so."""
    spot = nearest_corner(outline, at)
    if spot is None:
        return "corner-not-found"
    if spot.is_node:
        return "corner-shared"
    chain = outline.chains[spot.chain]
    if spot.is_arc:
        sharp = sharpened(chain, spot.at)
        if sharp is None:
            return "corner-unmade"
        chain, joint = sharp
    elif radius == 0.0:
        return "corner-idle"
    else:
        joint = spot.at
    changed = rounded(chain, joint, radius) if radius > 0.0 else chain
    if changed is None:
        return "corner-unmade"
    chains = list(outline.chains)
    chains[spot.chain] = changed
    others = set(crossing(outline.chains))
    return (
        "corner-unmade" if set(crossing(tuple(chains))) - others else replace(outline, chains=tuple(chains))
    )


def nearest_corner(outline: Outline, at: Point) -> Spot | None:
    """The corner nearest to a point, none when it is far from all."""
    spots = [spot for index, chain in enumerate(outline.chains) for spot in _spots(index, chain, at)]
    if not spots:
        return None
    ends = np.vstack([chain.points for chain in outline.chains])
    reach = NEAR * float(np.ptp(ends, axis=0).max())
    best = min(spots, key=lambda spot: spot.away)
    return best if best.away <= reach else None


def _spots(index: int, chain: Chain, at: Point) -> list[Spot]:
    segments = chain.segments()
    count = len(segments)
    point = np.tile(np.array(at), (count, 1))
    joints = np.hypot(*(chain.points - np.array(at)).T)
    turns = _turns(segments)
    inner = range(0 if chain.is_ring else 1, count)
    found = [Spot(index, k, False, False, float(joints[k])) for k in inner if abs(turns[k]) > LEAST_TURN]
    if not chain.is_ring:
        found += [Spot(index, k, False, True, float(joints[k])) for k in (0, count)]
    sweeps = 2.0 * np.abs(segments.half_sweeps())
    off = distances_between(segments, point)
    has_sides = range(count) if chain.is_ring else range(1, count - 1)
    return found + [
        Spot(index, k, True, False, float(off[k]))
        for k in has_sides
        if count > 2 and LEAST_TURN < sweeps[k] < MOST_SWEEP and _is_smooth(turns, k)
    ]


def _turns(segments: Segments) -> Floats:
    """(n,) rad, the turn at the joint before each segment, of a ring's first one at its start."""
    unit = np.ones(len(segments))
    turn = segments.headings_at(0.0 * unit) - np.roll(segments.headings_at(unit), 1)
    return np.asarray((turn + np.pi) % (2.0 * np.pi) - np.pi)


def _is_smooth(turns: Floats, at: int) -> bool:
    """Whether an arc goes over into both its neighbours."""
    return bool(abs(turns[at]) < LEAST_TURN and abs(turns[(at + 1) % len(turns)]) < LEAST_TURN)


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
    turn = float(_turns(segments)[joint])
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
        if not np.isfinite(slopes).all() or abs(float(np.linalg.det(slopes))) < 1e-9:
            return None
        step = np.linalg.solve(slopes, off)
        at = at - step
        if np.hypot(*step) < FOUND_WITHIN * max(1.0, float(np.abs(at).max())):
            return at
    return None


_SENTENCES = {
    "corner-not-found": ("lies near no corner", "Put it on the corner that was meant."),
    "corner-shared": (
        "lies where more than two patches meet, and no corner can be changed there alone",
        "Drop it, or join two of the patches.",
    ),
    "corner-idle": ("finds a corner here that is sharp already", "Drop it."),
    "corner-unmade": (
        "does not fit here: its sides are too short or never meet",
        "Take a smaller radius, or drop it.",
    ),
}


def _told(edit: Corner, code: str) -> Finding:
    text, remedy = _SENTENCES[code]
    name = "round corner" if edit.radius else "sharp corner"
    return Finding(Level.CAUTION, code, f"The {name} asked for here {text}.", remedy, edit.at)
