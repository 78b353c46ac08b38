"""All joints and bulges at once: Gauss-Newton on the distance of every sample to its line or arc.

Unknowns are the joints (nodes among them, shared by all chains that meet there, so ends stay equal to the
last bit) and the bulges of the arcs; lines have none. A segment with chord c from P0 and half sweep h runs
through P0 + c z(t), z(t) = sin(t h) / sin(h) e^{i (t - 1) h} (core/outline/segments.py), as complex numbers;
so moving P1 moves the point by z, moving P0 by 1 - z, and turning h by c dz/dh.
Where two pieces run on smoothly, their headings at the joint are held equal (smooth).
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools, Ints

#: Gauss-Newton rounds; quadratic near the end, the joints start within a fraction of a px.
ROUNDS = 8
#: px; a round that moves nothing more than this is the last.
STILL = 1e-6
#: rad; half sweeps nearer 0 are computed here: the sagitta is then under 1e-5 px on any picture.
LEAST_HALF = 1e-7
#: rad; how equal headings are held at a smooth joint: 0.0006 degrees.
HELD = 1e-5
#: sigmas beyond which a sample pulls with constant force only (Huber).
HUBER = 3.0
#: px; joints that the samples do not pin stay near where they were, with this standard deviation.
LEASH = 3.0
#: px; no round moves a joint further.
LONGEST_STEP = 2.0
#: No arc sweeps more than a full turn less this, as half sweep in rad.
WIDEST_HALF = 3.0


@dataclass(frozen=True, eq=False)
class Knots:
    """points (p, 2); tail and head (s,) the point indices of every segment; bulges (s,), is_arc (s,)."""

    points: Floats
    tail: Ints
    head: Ints
    bulges: Floats
    is_arc: Bools


@dataclass(frozen=True, eq=False)
class Pull:
    """What the samples say: segment (n,) rising, places (n, 2), sigma (n,) px, bend (n,) px per curvature."""

    segment: Ints
    places: Floats
    sigma: Floats
    bend: Floats


def _complex(points: Floats) -> np.ndarray:
    return points[:, 0] + 1j * points[:, 1]


def _half(bulges: Floats) -> Floats:
    half = 2.0 * np.arctan(bulges)
    return np.where(np.abs(half) < LEAST_HALF, LEAST_HALF, half)


def misfits(knots: Knots, pull: Pull) -> tuple[Floats, np.ndarray]:
    """(n,) px by which each sample lies too far left, and (n, 5) its change with P0, P1 and bulge."""
    points = _complex(knots.points)
    seg = pull.segment
    start, end = points[knots.tail][seg], points[knots.head][seg]
    half = _half(knots.bulges)[seg]
    chord = end - start
    unit = (_complex(pull.places) - start) / chord
    # In the frame of the chord the centre is 1/2 + i cot(h)/2 and the radius 1/(2 |sin h|).
    sin, cos = np.sin(half), np.cos(half)
    spoke = unit - (0.5 + 0.5j * cos / sin)
    length = np.abs(chord)
    left = (1.0 - np.abs(spoke) * 2.0 * np.abs(sin)) / (2.0 * sin) * length
    share = 0.5 + np.angle(spoke * np.where(sin > 0.0, 1j, -1j)) / (2.0 * half)
    share = np.clip(share, -0.5, 1.5)
    z = np.sin(share * half) / sin * np.exp(1j * (share - 1.0) * half)
    dz = (
        (share * np.cos(share * half) * sin - np.sin(share * half) * cos) / sin**2
        + 1j * (share - 1.0) * np.sin(share * half) / sin
    ) * np.exp(1j * (share - 1.0) * half)
    heading = chord / length * np.exp(1j * (2.0 * share - 1.0) * half)
    normal = np.conj(heading * 1j)
    curvature = 2.0 * sin / length
    turned = 2.0 / (1.0 + knots.bulges[seg] ** 2)
    change = np.column_stack(
        [
            -np.real(normal * (1.0 - z)),
            -np.real(normal * (1.0 - z) * 1j),
            -np.real(normal * z),
            -np.real(normal * z * 1j),
            -np.real(normal * chord * dz) * turned,
        ]
    )
    return left - pull.bend * curvature, change


@dataclass(frozen=True, eq=False)
class Bends:
    """Smooth joints: the segment before and the segment after, (j,) each."""

    before: Ints
    after: Ints


def turns(knots: Knots, bends: Bends) -> Floats:
    """(j,) rad, how much the heading jumps at each joint."""
    points = _complex(knots.points)
    chord = points[knots.head] - points[knots.tail]
    half = 2.0 * np.arctan(knots.bulges)
    jump = (
        chord[bends.after]
        * np.conj(chord[bends.before])
        * np.exp(-1j * (half[bends.after] + half[bends.before]))
    )
    return np.asarray(np.angle(jump))


def _turn_changes(knots: Knots, bends: Bends) -> tuple[Ints, Floats]:
    """Columns (j, 8) and derivatives (j, 8) of each turn by x and y of its four end points."""
    points = _complex(knots.points)
    rows, columns = [], []
    for seg, sign in ((bends.before, -1.0), (bends.after, 1.0)):
        chord = points[knots.head[seg]] - points[knots.tail[seg]]
        slope = 1j * chord / np.abs(chord) ** 2  # d arg(c) = Re(conj(slope) dc)
        for point, way in ((knots.head[seg], sign), (knots.tail[seg], -sign)):
            rows += [way * slope.real, way * slope.imag]
            columns += [2 * point, 2 * point + 1]
    return np.column_stack(columns), np.column_stack(rows)


@dataclass(frozen=True, eq=False)
class Refined:
    """The knots found, and chi2 (s,): the mean squared misfit in sigmas of every segment's samples."""

    knots: Knots
    chi2: Floats


def refined(knots: Knots, pull: Pull, bends: Bends) -> Refined:
    """The knots nearest to the samples, the headings at bends equal."""
    start = knots
    for _ in range(ROUNDS):
        step = _step(knots, start, pull, bends)
        knots = _moved(knots, step)
        if np.abs(step).max(initial=0.0) < STILL:
            break
    off, _ = misfits(knots, pull)
    count = np.bincount(pull.segment, minlength=len(knots.tail))
    total = np.bincount(pull.segment, weights=(off / pull.sigma) ** 2, minlength=len(knots.tail))
    return Refined(knots, total / np.maximum(count, 1))


def _columns(knots: Knots) -> Ints:
    """(s, 5) where each segment's P0, P1 and bulge stand among the unknowns; lines share the last."""
    points = 2 * len(knots.points)
    arcs = np.where(knots.is_arc, points + np.cumsum(knots.is_arc) - 1, points + knots.is_arc.sum())
    return np.column_stack((2 * knots.tail, 2 * knots.tail + 1, 2 * knots.head, 2 * knots.head + 1, arcs))


def _step(knots: Knots, start: Knots, pull: Pull, bends: Bends) -> Floats:
    off, change = misfits(knots, pull)
    scaled = np.abs(off) / pull.sigma
    weight = np.where(scaled > HUBER, HUBER / np.maximum(scaled, 1e-12), 1.0) / pull.sigma**2
    columns = _columns(knots)
    size = 2 * len(knots.points) + int(knots.is_arc.sum()) + 1
    normal, right = np.zeros((size, size)), np.zeros(size)
    products = change[:, :, None] * change[:, None, :] * weight[:, None, None]
    segs = len(knots.tail)
    for a in range(5):
        right_a = np.bincount(pull.segment, weights=-change[:, a] * off * weight, minlength=segs)
        np.add.at(right, columns[:, a], right_a)
        for b in range(5):
            block = np.bincount(pull.segment, weights=products[:, a, b], minlength=segs)
            np.add.at(normal, (columns[:, a], columns[:, b]), block)
    if len(bends.before):
        _hold(normal, right, knots, bends, columns)
    ties = np.arange(2 * len(knots.points))
    normal[ties, ties] += 1.0 / LEASH**2
    right[ties] += (start.points - knots.points).ravel() / LEASH**2
    normal[-1, :] = normal[:, -1] = 0.0
    right[-1] = 0.0
    ends = np.arange(size)
    normal[ends, ends] += 1e-9 + 1e-12 * normal[ends, ends]
    normal[-1, -1] = 1.0
    step = np.linalg.solve(normal, right)
    longest = np.abs(step[ties]).max(initial=0.0)
    return np.asarray(step * min(1.0, LONGEST_STEP / max(longest, 1e-12)))


def _hold(normal: Floats, right: Floats, knots: Knots, bends: Bends, columns: Ints) -> None:
    jump = turns(knots, bends)
    where, change = _turn_changes(knots, bends)
    swell = np.where(knots.is_arc, 2.0 / (1.0 + knots.bulges**2), 0.0)
    where = np.column_stack((where, columns[bends.before, 4], columns[bends.after, 4]))
    change = np.column_stack((change, -swell[bends.before], -swell[bends.after]))
    for a in range(10):
        np.add.at(right, where[:, a], -change[:, a] * jump / HELD**2)
        for b in range(10):
            np.add.at(normal, (where[:, a], where[:, b]), change[:, a] * change[:, b] / HELD**2)


def _moved(knots: Knots, step: Floats) -> Knots:
    points = knots.points + step[: 2 * len(knots.points)].reshape(-1, 2)
    bulges = knots.bulges.copy()
    bulges[knots.is_arc] += step[2 * len(knots.points) : -1]
    widest = np.tan(WIDEST_HALF / 2.0)
    return Knots(points, knots.tail, knots.head, np.clip(bulges, -widest, widest), knots.is_arc)
