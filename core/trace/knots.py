"""Where the fit starts: every joint and node from crossings of its pieces, every bulge from its circle."""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools, Ints
from core.trace.joints import Curves, turns_at
from core.trace.pieces import Run
from core.trace.refine import WIDEST_HALF, Bends, Knots
from core.trace.rows import Rows, rows_of
from core.trace.seams import Seams, seams_of

#: rad; joints that turn more are corners without asking.
SMOOTH_BELOW = np.radians(35.0)

#: px; a chain that passes further from a node's lattice corner says nothing about its place.
NODE_REACH = 3.0

#: Rounds to where the curves at a node cross, and what keeps it where it is if they are parallel: the square
#: of the sine of some 3 degrees.
CROSSING_ROUNDS, LEAST_CROSSING = 3, 3e-3

#: Nodes beyond which all stay where their chains first say: such a web is a photograph, not a drawing, and
#: to solve it as a whole takes long.
MOST_NODES = 250


@dataclass(frozen=True, eq=False)
class Knotted:
    """Knots, and for every run its points and its segments in order.

    maybe are the joints that may be smooth; frozen (p,) are points that stay where they are.
    """

    knots: Knots
    points_of: tuple[Ints, ...]
    segments_of: tuple[Ints, ...]
    maybe: Bends
    frozen: Bools


def knots_of(runs: tuple[Run, ...]) -> Knotted:
    """Points and segments of all runs, and the joints that may be smooth."""
    seams = seams_of(runs)
    nodes = nodes_of(runs, seams)
    inner = [_inner_points(run, seams.points[seams.rows.own(at)]) for at, run in enumerate(runs)]
    points = np.concatenate((nodes.points, *inner))
    places = rows_of(tuple(inner))
    starts = (len(nodes.points) + places.first).tolist()
    points_of = tuple(
        _in_order(at, start, len(own), nodes)
        for at, (start, own) in enumerate(zip(starts, inner, strict=True))
    )
    rows = Rows(np.array([len(own) - 1 for own in points_of]))
    tails = np.concatenate([own[:-1] for own in points_of])
    heads = np.concatenate([own[1:] for own in points_of])
    bulges, is_arc = _drawn(runs, seams, rows, points[tails], points[heads])
    return Knotted(
        Knots(points, tails, heads, bulges, is_arc),
        points_of,
        tuple(np.arange(first, first + count) for first, count in zip(rows.first, rows.count, strict=True)),
        _maybe_smooth(runs, seams, rows),
        np.arange(len(points)) < (len(nodes.points) if len(nodes.points) > MOST_NODES else 0),
    )


@dataclass(frozen=True, eq=False)
class Nodes:
    """points (k, 2) px, and for every run the nodes (r,) where it starts and ends, -1 for a ring."""

    points: Floats
    tail: Ints
    head: Ints


def nodes_of(runs: tuple[Run, ...], seams: Seams) -> Nodes:
    """Every node first lies at the mean of where its chains pass nearest to its lattice corner."""
    open_runs = np.nonzero([not run.chain.is_ring for run in runs])[0]
    tail, head = np.full(len(runs), -1), np.full(len(runs), -1)
    if not open_runs.size:
        return Nodes(np.empty((0, 2)), tail, head)
    names = np.array([(runs[at].chain.tail, runs[at].chain.head) for at in open_runs]).T.ravel()
    corners = np.array([runs[at].corners[end] for end in (0, -1) for at in open_runs])
    first, count = seams.pieces.first[open_runs], seams.pieces.count[open_runs]
    speaks = np.nonzero(np.tile(count > 0, 2))[0]
    near = corners.copy()
    ends = np.concatenate((first, first + count - 1))[speaks]
    near[speaks] = seams.curves[ends].nearest(corners[speaks])
    _, where, which = np.unique(names, return_index=True, return_inverse=True)
    tail[open_runs], head[open_runs] = np.split(which, 2)
    believed = (np.hypot(*(near - corners).T) < NODE_REACH).astype(np.float64)
    many = np.bincount(which, weights=believed)
    sums = np.column_stack([np.bincount(which, weights=believed * side) for side in near.T])
    points = np.where(many[:, None] > 0.0, sums / np.maximum(many, 1.0)[:, None], corners[where])
    heard = speaks[believed[speaks] > 0.0]
    drawn = seams.curves[np.concatenate((first, first + count - 1))[heard]]
    return Nodes(crossed(points, drawn, which[heard]), tail, head)


def crossed(points: Floats, curves: Curves, which: Ints) -> Floats:
    """Points (k, 2) px moved to where curves (n,), each through the point which (n,), pass nearest by.

    The least squares of the distances to all, by Gauss-Newton; one that would go further than NODE_REACH
    stays, because its curves hardly cross.
    """
    found = points
    for _ in range(CROSSING_ROUNDS):
        feet = curves.nearest(found[which])
        heading = curves.headings(feet)
        across = np.column_stack((-heading[:, 1], heading[:, 0]))
        square = np.zeros((len(points), 2, 2))
        np.add.at(square, which, across[:, :, None] * across[:, None, :])
        square += np.eye(2) * LEAST_CROSSING
        side = np.zeros((len(points), 2))
        np.add.at(side, which, across * np.sum(across * (feet - found[which]), axis=1)[:, None])
        found = found + np.linalg.solve(square, side[:, :, None])[:, :, 0]
    near = np.hypot(*(found - points).T) < NODE_REACH
    return np.where(near[:, None], found, points)


def _inner_points(run: Run, joints: Floats) -> Floats:
    """The points of one run that are no nodes; a ring of one piece or none has two, opposite each other."""
    if not run.chain.is_ring or len(joints):
        return joints
    if run.pieces is None:
        low, high = run.corners.min(axis=0), run.corners.max(axis=0)
        middle = (low + high) / 2.0
        return np.array([[low[0], middle[1]], [high[0], middle[1]]])
    start = run.curves.nearest(run.track.places[:1])[0]
    return np.array([start, 2.0 * run.curves.on[0] - start])


def _in_order(run: int, start: int, count: int, nodes: Nodes) -> Ints:
    """The points of one run, whose own are numbered from start; a ring ends where it begins."""
    own = np.arange(start, start + count)
    if nodes.tail[run] < 0:
        return np.append(own, start)
    return np.concatenate((nodes.tail[run : run + 1], own, nodes.head[run : run + 1]))


def _drawn(
    runs: tuple[Run, ...], seams: Seams, rows: Rows, starts: Floats, ends: Floats
) -> tuple[Floats, Bools]:
    """Bulges (s,), and which segments are arcs; rows tells whose each segment is."""
    bulges, is_arc = np.zeros(len(starts)), np.zeros(len(starts), dtype=bool)
    plain = seams.pieces.count == rows.count
    segments, pieces = np.nonzero(plain[rows.owner])[0], np.nonzero(plain[seams.pieces.owner])[0]
    steps = np.diff(seams.places, axis=0)
    along = np.append(0.0, np.cumsum(np.hypot(steps[:, 0], steps[:, 1])))
    length = along[seams.last[pieces]] - along[seams.first[pieces]]
    bulges[segments] = bulges_of(seams.curves[pieces], starts[segments], ends[segments], length)
    is_arc[segments] = seams.is_arc[pieces]
    for at in np.nonzero(~plain)[0].tolist():
        run = runs[at]
        if run.chain.is_ring:
            is_arc[rows.own(at)] = True
            bulges[rows.own(at)] = run.curves.along[0, 0] if len(run.curves) else _sense(run.corners)
    return bulges, is_arc


def bulges_of(curves: Curves, starts: Floats, ends: Floats, length: Floats) -> Floats:
    """(n,) of arcs from starts to ends on their circles, the way round that is nearest to length (n,) px.

    A sweep may come out a little backwards: a nearly empty arc.
    """
    a, b, sense = starts - curves.on, ends - curves.on, curves.along[:, 0]
    sweep = np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], np.sum(a * b, axis=1)) * sense
    expected = length / np.where(curves.radius > 0.0, curves.radius, 1.0)
    longer = np.minimum(sweep + 2.0 * np.pi, 2.0 * WIDEST_HALF)
    sweep = np.where(expected - sweep > np.pi, longer, sweep)
    return np.where(curves.radius > 0.0, sense * np.tan(sweep / 4.0), 0.0)


def _sense(ring: Floats) -> float:
    """1 for corners (n + 1, 2) that run counter-clockwise, else -1."""
    x, y = (ring - ring[0]).T
    return 1.0 if float(np.sum(x[:-1] * y[1:] - y[:-1] * x[1:])) >= 0.0 else -1.0


def _maybe_smooth(runs: tuple[Run, ...], seams: Seams, rows: Rows) -> Bends:
    """Pairs of segments whose joint turns little, an arc on one side at least; both joints of a circle."""
    turn = turns_at(seams.curves[seams.before], seams.curves[seams.after], seams.points)
    one, other = seams.is_arc[seams.before], seams.is_arc[seams.after]
    kept = (one | other) & (np.abs(turn) < SMOOTH_BELOW)
    shift = (rows.first - seams.pieces.first)[seams.rows.owner[kept]]
    circles = np.array([run.chain.is_ring for run in runs]) & (seams.rows.count == 0)
    first = rows.first[circles]
    return Bends(
        np.concatenate((seams.before[kept] + shift, first, first + 1)),
        np.concatenate((seams.after[kept] + shift, first + 1, first)),
    )
