"""How far an Outline lies from the lines and arcs a picture was drawn from."""

from dataclasses import dataclass

import numpy as np

from core.outline.outline import BEYOND, Outline
from core.outline.segments import Floats, Segments
from tests.support.drawn import Shape

#: px between the places along an edge where its distance is taken.
STRIDE = 0.5

#: px round a true corner that "no corners" leaves out; a corner is a turn of more than CORNER_TURN rad.
CORNER_REACH = 3.0
CORNER_TURN = np.radians(8.0)

#: px; straight edges at least this long are asked where they lie as a whole.
LEAST_STRETCH = 20.0


@dataclass(frozen=True)
class Score:
    """px: rms both ways, greatest (and away from corners), corner rms, mean signed offset; degrees: wobble.

    pieces is the number of lines and arcs over the true one; bias is positive where the outline lies left
    of the true edge as that is run. area is the share by which all that is not ground is too large; stretch
    px the rms, over straight edges, of how far each lies off as a whole.
    """

    rms: float
    greatest: float
    greatest_off_corners: float
    corner: float
    bias: float
    wobble: float
    pieces: float
    area: float
    stretch: float


def segments_of(outline: Outline) -> Segments:
    parts = [chain.segments() for chain in outline.chains]
    return Segments(
        np.vstack([part.starts for part in parts]),
        np.vstack([part.ends for part in parts]),
        np.concatenate([part.bulges for part in parts]),
    )


@dataclass(frozen=True, eq=False)
class Nearest:
    """distance (n,), row (n,) of the nearest segment, fraction (n,) of its sweep there."""

    distance: Floats
    row: Floats
    fraction: Floats


def nearest(points: Floats, segments: Segments) -> Nearest:
    best = np.full(len(points), np.inf)
    row, fraction = np.zeros(len(points), dtype=int), np.zeros(len(points))
    for index in range(len(segments)):
        one = Segments(
            *(part[index : index + 1] for part in (segments.starts, segments.ends, segments.bulges))
        )
        share = _fraction(points, one)
        rows = np.zeros(len(points), dtype=int)
        spread = Segments(one.starts[rows], one.ends[rows], one.bulges[rows])
        away = np.hypot(*(spread.points_at(share) - points).T)
        closer = away < best
        best[closer], row[closer], fraction[closer] = away[closer], index, share[closer]
    return Nearest(best, row, fraction)


def _fraction(points: Floats, one: Segments) -> Floats:
    """The fraction of the sweep nearest to each point, for one segment."""
    start, chord = one.starts[0], one.chords()[0]
    if abs(one.bulges[0]) < 1e-9:
        return np.clip((points - start) @ chord / (chord @ chord), 0, 1)
    centre, middle, half = one.centres()[0], one.midpoints()[0], one.half_sweeps()[0]
    spoke, axis = points - centre, middle - centre
    angle = np.arctan2(axis[0] * spoke[:, 1] - axis[1] * spoke[:, 0], spoke @ axis)
    return np.clip(0.5 + angle / (2 * half), 0, 1)


def _along(segments: Segments) -> tuple[Segments, Floats]:
    counts = np.maximum(np.ceil(segments.lengths() / STRIDE), 2).astype(int)
    rows = np.repeat(np.arange(len(segments)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    picked = Segments(segments.starts[rows], segments.ends[rows], segments.bulges[rows])
    return picked, (within + 0.5) / counts[rows]


def _picked(segments: Segments, rows: Floats) -> Segments:
    return Segments(segments.starts[rows], segments.ends[rows], segments.bulges[rows])


def true_corners(segments: Segments) -> Floats:
    """(k, 2) where two true segments meet at an angle, or more than two meet."""
    ends = np.vstack((segments.starts, segments.ends))
    outward = np.concatenate(
        (segments.headings_at(np.zeros(len(segments))), segments.headings_at(np.ones(len(segments))) + np.pi)
    )
    found = []
    keys = [tuple(np.round(end, 5)) for end in ends]
    for key in sorted(set(keys)):
        ways = outward[[other == key for other in keys]]
        if len(ways) != 2 or abs(np.angle(-np.exp(1j * (ways[0] - ways[1])))) > CORNER_TURN:
            found.append(key)
    return np.array(found).reshape(-1, 2)


def score(outline: Outline, shape: Shape) -> Score:
    ours, truth = segments_of(outline), shape.truth()
    (picked, share), (true_picked, true_share) = _along(ours), _along(truth)
    places, true_places = picked.points_at(share), true_picked.points_at(true_share)
    forth, back = nearest(places, truth), nearest(true_places, ours)
    corners = true_corners(truth)
    clear = np.ones(len(places), dtype=bool)
    true_clear = np.ones(len(true_places), dtype=bool)
    for corner in corners:
        clear &= np.hypot(*(places - corner).T) > CORNER_REACH
        true_clear &= np.hypot(*(true_places - corner).T) > CORNER_REACH
    there = _picked(truth, forth.row)
    heading = there.headings_at(forth.fraction)
    gap = places - there.points_at(forth.fraction)
    signed = np.cos(heading) * gap[:, 1] - np.sin(heading) * gap[:, 0]
    tilt = picked.headings_at(share) - heading
    tilt = (tilt + np.pi / 2) % np.pi - np.pi / 2
    at_corners = [np.hypot(*(ours_ends(ours) - corner).T).min() for corner in corners]
    return Score(
        rms=float(np.sqrt((np.mean(forth.distance**2) + np.mean(back.distance**2)) / 2)),
        greatest=float(max(forth.distance.max(), back.distance.max())),
        greatest_off_corners=float(
            max(forth.distance[clear].max(initial=0), back.distance[true_clear].max(initial=0))
        ),
        corner=float(np.sqrt(np.mean(np.square(at_corners)))) if at_corners else 0.0,
        bias=float(signed[clear].mean()),
        wobble=float(np.degrees(np.sqrt(np.mean(tilt[clear] ** 2)))),
        pieces=len(ours) / shape.primitives,
        area=drawn_area(outline) / sum(_area(ring.segments()) for p in shape.patches for ring in p.rings)
        - 1.0,
        stretch=_stretch(truth, forth.row[clear], signed[clear]),
    )


def _stretch(truth: Segments, row: Floats, signed: Floats) -> float:
    """px; the rms over long straight edges of their mean signed distance."""
    count = np.bincount(row, minlength=len(truth))
    means = np.bincount(row, weights=signed, minlength=len(truth)) / np.maximum(count, 1)
    long = (truth.bulges == 0.0) & (truth.lengths() >= LEAST_STRETCH) & (count > 0)
    return float(np.sqrt(np.mean(means[long] ** 2))) if long.any() else 0.0


def drawn_area(outline: Outline) -> float:
    """px^2 of all faces of another colour than the one beyond."""
    ground = outline.faces[BEYOND].colour
    is_drawn = [face.colour != ground for face in outline.faces]
    return sum(
        (is_drawn[chain.left] - is_drawn[chain.right]) * _area(chain.segments()) for chain in outline.chains
    )


def _area(segments: Segments) -> float:
    """px^2 to the left of segments, as Green's theorem counts it from the origin."""
    one, other = segments.starts, segments.ends
    cross = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    return float(cross.sum() / 2.0 + segments.cap_areas().sum())


def ours_ends(segments: Segments) -> Floats:
    return np.vstack((segments.starts, segments.ends))
