"""One corner made sharp or round, on lines and arcs, exactly; the two patches go on sharing the Chain.

Sharp: the arc that rounds the corner is dropped, and both its neighbours are run on to where they meet.
Round: an arc of that radius, tangent to both sides, is put into the corner; one that is round already is
made sharp first (core/outline/fillet.py).

Plot: the corners of all Chains (corners_of) -> the one nearest to the point -> the edit on its Chain, run
from a joint that is not concerned -> refused where that would make Chains cross.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.findings import Finding, Level, Point
from core.outline.chain import Chain
from core.outline.curve import distances_between
from core.outline.fillet import rounded, sharpened, turns
from core.outline.outline import Outline
from core.outline.segments import Floats
from core.touch.edit import Corner
from core.trace.planar import crossing

#: rad; joints that turn less, and arcs that sweep less, are no corners.
LEAST_TURN = np.radians(8.0)
#: rad; an arc that sweeps more rounds the end of a bar and no corner.
MOST_SWEEP = np.radians(172.0)
#: Share of the outline's larger side beyond which a corner is not the one that was meant.
NEAR = 0.05
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


@dataclass(frozen=True)
class Found:
    """Where a corner is, and whether an arc rounds it."""

    at: Point
    is_round: bool


def corner_at(outline: Outline, at: Point) -> Found | None:
    """The corner that an edit at this point would change; None where there is none near."""
    spot = nearest_corner(outline, at)
    if spot is None or spot.is_node:
        return None
    chain = outline.chains[spot.chain]
    x, y = (chain.segments().midpoints()[spot.at] if spot.is_arc else chain.points[spot.at]).tolist()
    return Found((x, y), spot.is_arc)


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
    turn = turns(segments)
    inner = range(0 if chain.is_ring else 1, count)
    found = [Spot(index, k, False, False, float(joints[k])) for k in inner if abs(turn[k]) > LEAST_TURN]
    if not chain.is_ring:
        found += [Spot(index, k, False, True, float(joints[k])) for k in (0, count)]
    sweeps = 2.0 * np.abs(segments.half_sweeps())
    off = distances_between(segments, point)
    has_sides = range(count) if chain.is_ring else range(1, count - 1)
    return found + [
        Spot(index, k, True, False, float(off[k]))
        for k in has_sides
        if count > 2 and LEAST_TURN < sweeps[k] < MOST_SWEEP and _is_smooth(turn, k)
    ]


def _is_smooth(turn: Floats, at: int) -> bool:
    """Whether an arc goes over into both its neighbours."""
    return bool(abs(turn[at]) < LEAST_TURN and abs(turn[(at + 1) % len(turn)]) < LEAST_TURN)


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
