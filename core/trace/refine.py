"""All joints and bulges at once: Gauss-Newton on the distance of every sample to its line or arc.

Unknowns are the joints (nodes among them, shared by all chains that meet there, so ends stay equal to the
last bit) and the bulges of the arcs; lines have none. A segment with chord c from P0 and half sweep h runs
through P0 + c z(t), z(t) = sin(t h) / sin(h) e^{i (t - 1) h} (core/outline/segments.py), as complex numbers;
so moving P1 moves the point by z, moving P0 by 1 - z, and turning h by c dz/dh. Only what that moves across
the edge counts: with a = t h and b = (1 - t) h these are, along and across the chord,
sin a / sin h (-sin a, cos a), sin b / sin h (sin b, cos b), and - |c| sin a sin b / sin^2 h.
Where two pieces run on smoothly, their headings at the joint are held equal (smooth).
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.equations import Layout, laid_out, solved
from core.trace.faces import Bools, Ints

#: rad; half sweeps nearer 0 are computed here: the sagitta is then under 1e-5 px on any picture.
LEAST_HALF = 1e-7
#: sigmas beyond which a sample pulls with constant force only (Huber).
HUBER = 3.0
#: px; joints and sagittas that no samples pin stay near where they were, with this standard deviation.
LEASH = 1.0
#: px; what no sample says moves a joint by little more than this in one round (Levenberg and Marquardt).
CAUTION = 0.3
#: px; no round moves a joint further.
LONGEST_STEP = 2.0
#: rad; no round changes half the sweep of an arc by more.
LONGEST_SWING = 0.5
#: Share of the last step that the next would take back, from which on both are a swing to and fro.
SWING_BACK = 0.5
#: px; standard deviation of a point that is to stay where it is.
FROZEN = 1e-7
#: px; chords are taken for no shorter, so that a segment without length has a direction to be moved in, and
#: the heading of a very short one does not outweigh all samples.
LEAST_CHORD = 1e-6
LEAST_HELD_CHORD = 0.05
#: Share added to every diagonal, so that rounding leaves no set of equations without an answer.
RIDGE = 1e-12
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


@dataclass(frozen=True, eq=False)
class Effort:
    """Gauss-Newton takes so many rounds at most, for what hangs together only while a round still gains.

    first is the most of them until it is settled which joints are smooth, rounds after that; gain is the
    least to go on for, in squared sigmas; held rad is the standard deviation of smooth joints.
    """

    first: int
    rounds: int
    gain: float
    held: float


@dataclass(frozen=True, eq=False)
class Misfits:
    """off (n,) px by which each sample lies too far left; change (5, n) of it with P0, P1 and the bulge."""

    off: Floats
    change: Floats


def _half(bulges: Floats) -> Floats:
    half = 2.0 * np.arctan(bulges)
    return np.where(np.abs(half) < LEAST_HALF, LEAST_HALF, half)


def misfits(knots: Knots, pull: Pull) -> Misfits:
    """How far every sample lies from its segment."""
    chord = knots.points[knots.head] - knots.points[knots.tail]
    length = np.maximum(np.hypot(chord[:, 0], chord[:, 1]), LEAST_CHORD)
    along = chord / length[:, None]
    half = _half(knots.bulges)
    per_segment = np.column_stack(
        (
            along,
            length,
            half,
            np.sin(half),
            0.5 / np.tan(half),
            2.0 / (1.0 + knots.bulges**2) * knots.is_arc,
            knots.points[knots.tail],
        )
    )
    ux, uy, long, h, sin, rise, swell, x0, y0 = per_segment.T.take(pull.segment, axis=1)
    x, y = pull.places[:, 0] - x0, pull.places[:, 1] - y0
    # In the frame of the chord the centre is 1/2 + i cot(h)/2 and the radius 1/(2 |sin h|).
    u, v = (x * ux + y * uy) / long - 0.5, (y * ux - x * uy) / long - rise
    left = (0.5 / sin - np.copysign(np.hypot(u, v), sin)) * long
    share = np.clip(0.5 + np.arctan2(u, -v * np.sign(sin)) * np.sign(sin) / (2.0 * h), -0.5, 1.5)
    a, b = share * h, (1.0 - share) * h
    sin_a, sin_b = np.sin(a) / sin, np.sin(b) / sin
    head_along, head_across = -sin_a * sin_a * sin, sin_a * np.cos(a)
    tail_along, tail_across = sin_b * sin_b * sin, sin_b * np.cos(b)
    change = np.stack(
        (
            tail_across * uy - tail_along * ux,
            -tail_across * ux - tail_along * uy,
            head_across * uy - head_along * ux,
            -head_across * ux - head_along * uy,
            sin_a * sin_b * long * swell,
        )
    )
    return Misfits(left - pull.bend * 2.0 * sin / long, change)


@dataclass(frozen=True, eq=False)
class Bends:
    """Smooth joints: the segment before and the segment after, (j,) each."""

    before: Ints
    after: Ints


def turns(knots: Knots, bends: Bends) -> Floats:
    """(j,) rad, how much the heading jumps at each joint."""
    chord = knots.points[knots.head] - knots.points[knots.tail]
    half = 2.0 * np.arctan(knots.bulges)
    heading = np.arctan2(chord[:, 1], chord[:, 0])
    jump = heading[bends.after] - half[bends.after] - heading[bends.before] - half[bends.before]
    return np.asarray((jump + np.pi) % (2.0 * np.pi) - np.pi)


def _turn_changes(knots: Knots, bends: Bends) -> Floats:
    """(j, 10) change of each turn with the numbers that Equations.bends names."""
    chord = knots.points[knots.head] - knots.points[knots.tail]
    slope = np.column_stack((-chord[:, 1], chord[:, 0]))
    slope /= np.maximum(np.sum(chord**2, axis=1), LEAST_HELD_CHORD**2)[:, None]
    swell = np.where(knots.is_arc, 2.0 / (1.0 + knots.bulges**2), 0.0)[:, None]
    before, after = bends.before, bends.after
    return np.hstack(
        (slope[before], -slope[before], -swell[before], -slope[after], slope[after], -swell[after])
    )


@dataclass(frozen=True, eq=False)
class Equations:
    """The unknowns of knots: x and y of every point, then every bulge, and where their products are kept.

    segments (s, 5) and bends (j, 10) name the unknowns of each; group (points,) tells which points hang
    together.
    """

    layout: Layout
    segments: Ints
    bends: Ints
    segment_store: Ints
    bend_store: Ints
    own_store: Ints
    group: Ints
    frozen: Bools


def equations(knots: Knots, bends: Bends, frozen: Bools) -> Equations:
    """Laid out once for knots whose places and bulges change, and for any subset of the bends.

    Points that are frozen (p,) stay where they are, so that what meets there need not be solved together.
    """
    bulge = 2 * len(knots.points) + np.arange(len(knots.tail))
    tail, head = 2 * knots.tail, 2 * knots.head
    segments = np.column_stack((tail, tail + 1, head, head + 1, bulge))
    both = np.hstack((segments[bends.before], segments[bends.after]))
    count = 2 * len(knots.points) + len(bulge)
    short = np.hstack((segments[:, ::-1], np.full_like(segments, -1)))  # bulges first: they never freeze
    links = np.vstack((short, both[:, ::-1]))
    still = np.append(np.repeat(frozen, 2), np.zeros(len(bulge), dtype=bool))
    layout = laid_out(count, np.where(still[links], -1, links))
    every = np.arange(count)
    return Equations(
        layout,
        segments,
        both,
        _products(layout, segments),
        _products(layout, both),
        layout.addresses(every, every),
        layout.group[: 2 * len(knots.points) : 2],
        frozen,
    )


def _products(layout: Layout, unknowns: Ints) -> Ints:
    """(m, k, k) where the products of each row of unknowns (m, k) are kept."""
    shape = (*unknowns.shape, unknowns.shape[1])
    rows = np.broadcast_to(unknowns[:, :, None], shape).ravel()
    columns = np.broadcast_to(unknowns[:, None, :], shape).ravel()
    return layout.addresses(rows, columns).reshape(shape)


@dataclass(frozen=True, eq=False)
class Refined:
    """The knots found, and chi2 (s,): the mean squared misfit in sigmas of every segment's samples."""

    knots: Knots
    chi2: Floats


@dataclass(frozen=True, eq=False)
class Damped:
    """The step (unknowns,) that is taken, and what share (g,) of its own each group takes.

    A group that takes back what it did a round ago swings about its answer: from then on it takes half.
    """

    group: Ints
    step: Floats
    share: Floats

    def after(self, step: Floats) -> "Damped":
        """What is taken of the next step."""
        back, taken = (
            np.bincount(self.group, weights=self.step * one, minlength=len(self.share))
            for one in (step, self.step)
        )
        swings = back < -SWING_BACK * taken
        share = np.where(swings, self.share / 2.0, self.share)
        return Damped(self.group, step * share[self.group], share)


def refined(knots: Knots, pull: Pull, bends: Bends, put: Equations, held: Bools, effort: Effort) -> Refined:
    """The knots nearest to the samples, the headings equal at those of the bends that are held (j,)."""
    start, left = knots, pull
    stiff = np.where(held, 1.0 / effort.held, 0.0)
    moving = np.ones(int(put.layout.group.max(initial=0)) + 1, dtype=bool)
    damped = Damped(put.layout.group, np.zeros(len(put.layout.group)), np.ones(len(moving)))
    for _ in range(effort.rounds):
        system = _system(knots, left, bends, put, stiff)
        off = np.concatenate(((start.points - knots.points).ravel(), start.bulges - knots.bulges))
        system.right[:] += off * _leash(knots) ** 2
        step = solved(put.layout, system.store, system.right, moving)
        gain = np.bincount(put.layout.group, weights=step * system.right, minlength=len(moving))
        damped = damped.after(_shortened(step, knots.points.size))
        knots = _moved(knots, damped.step)
        still_moving = gain > effort.gain
        if not still_moving.any():
            break
        if not (still_moving == moving).all():
            moving = still_moving
            left = _of_segments(pull, moving[put.group[knots.tail]])
    off = misfits(knots, pull).off
    count = np.bincount(pull.segment, minlength=len(knots.tail))
    total = np.bincount(pull.segment, weights=(off / pull.sigma) ** 2, minlength=len(knots.tail))
    return Refined(knots, total / np.maximum(count, 1))


def _of_segments(pull: Pull, wanted: Bools) -> Pull:
    kept = wanted[pull.segment]
    return Pull(pull.segment[kept], pull.places[kept], pull.sigma[kept], pull.bend[kept])


def _sums(knots: Knots, pull: Pull) -> tuple[Floats, Floats]:
    """(s, 5, 5) products and (s, 5) right sides of every segment, its samples together."""
    found = misfits(knots, pull)
    scaled = np.abs(found.off) / pull.sigma
    weight = np.where(scaled > HUBER, HUBER / np.maximum(scaled, HUBER), 1.0) / pull.sigma**2
    pulled = found.change * weight
    upper = np.triu_indices(5)
    rows = np.vstack((found.change[upper[0]] * pulled[upper[1]], pulled * -found.off))
    first = np.nonzero(np.diff(pull.segment, prepend=-1))[0]
    present = pull.segment[first]
    added = np.add.reduceat(rows, first, axis=1).T if present.size else np.empty((0, 20))
    products, sides = np.zeros((len(knots.tail), 5, 5)), np.zeros((len(knots.tail), 5))
    products[present[:, None], upper[0], upper[1]] = added[:, :15]
    products[present[:, None], upper[1], upper[0]] = added[:, :15]
    sides[present] = added[:, 15:]
    return products, sides


@dataclass(frozen=True, eq=False)
class System:
    """The sums of products as Layout keeps them, and the right sides (unknowns,)."""

    store: Floats
    right: Floats


def _system(knots: Knots, pull: Pull, bends: Bends, put: Equations, stiff: Floats) -> System:
    products, sides = _sums(knots, pull)
    change = _turn_changes(knots, bends) * stiff[:, None]
    jump = turns(knots, bends) * stiff
    points = knots.points.size
    ties = _leash(knots) ** 2 + 1e-9
    ties[:points] += np.where(np.repeat(put.frozen, 2), 1.0 / FROZEN**2, 1.0 / CAUTION**2)
    ties[points:] += ~knots.is_arc
    places = (put.segment_store, put.bend_store, put.own_store)
    amounts = (products, change[:, :, None] * change[:, None, :], ties)
    store = np.zeros(put.layout.size + 1, dtype=np.float64)
    for place, amount in zip(places, amounts, strict=True):
        store += np.bincount(place.ravel(), weights=amount.ravel(), minlength=len(store))
    store[put.own_store] *= 1.0 + RIDGE
    right = np.zeros(len(ties), dtype=np.float64)
    for unknowns, side in ((put.segments, sides), (put.bends, -change * jump[:, None])):
        right += np.bincount(unknowns.ravel(), weights=side.ravel(), minlength=len(ties))
    return System(store[:-1], right)


def _leash(knots: Knots) -> Floats:
    """(unknowns,) 1 / standard deviation with which each stays where it was; a bulge by its sagitta."""
    chord = knots.points[knots.head] - knots.points[knots.tail]
    sagittas = np.hypot(chord[:, 0], chord[:, 1]) / 2.0
    return np.concatenate((np.full(knots.points.size, 1.0 / LEASH), sagittas / LEASH))


def _shortened(step: Floats, points: int) -> Floats:
    """No point moves further than LONGEST_STEP; those that would are held back, each for itself."""
    moved = np.hypot(step[:points:2], step[1:points:2])
    step[:points] *= np.repeat(LONGEST_STEP / np.maximum(moved, LONGEST_STEP), 2)
    return step


def _moved(knots: Knots, step: Floats) -> Knots:
    points = knots.points + step[: knots.points.size].reshape(-1, 2)
    most = LONGEST_SWING / 2.0 * (1.0 + knots.bulges**2)
    swing = np.clip(step[knots.points.size :], -most, most)
    bulges = np.where(knots.is_arc, knots.bulges + swing, knots.bulges)
    widest = np.tan(WIDEST_HALF / 2.0)
    return Knots(points, knots.tail, knots.head, np.clip(bulges, -widest, widest), knots.is_arc)
