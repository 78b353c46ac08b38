"""From a guess to the place: trimmed least squares between the edges of both pictures, nearer and nearer.

The distance of a placed point from the nearest edge, along that edge's normal, is linear in (along, across,
shift x, shift y), so every step is one small linear system. What lies too far, or runs another way, is left
out; the reach shrinks from what a guess may miss to what two readings of one edge may differ. In the rough
steps the nearest edge is looked up in a raster of labels; at the end it is exact, for arcs too.
"""

from cmath import phase
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely

from core.outline.curve import dot, picked, sideways, slopes_at
from core.outline.segments import Floats, Segments
from core.second.guesses import CELLS
from core.second.pose import Pose
from core.second.traced import Edge, Samples, samples_of

#: Cells of the raster along the first picture's edges, and free cells round them.
RASTER, MARGIN = 512, 24
#: Cosine between two edges' normals from which they run alike: 25 degrees.
ALIKE = 0.906
#: px of the coarser picture within which two readings of one edge agree: a grown pixel is taken off before.
REACH = 0.75
#: px that an edited picture's edges may have grown to one side; more is another edge.
MOST_GROWTH = 2.5
#: Cells that a guess may miss by, and by how much of it the reach shrinks at every step.
FIRST_REACH, SHRINK = 2.5, 0.65
#: Steps at the last reach, points in the rough steps and in the exact ones.
LAST_STEPS, ROUGH_POINTS, FINE_POINTS = 4, 400, 2000
#: Share of the trace that keeps a shape which cannot tell its turn (a disc) where it was guessed.
HOLD = 1e-7
#: px: what is known of growth beforehand; a lone disc cannot tell growth from scale, and then has not grown.
USUAL_GROWTH = 1.0
#: Weight of that beside the weight of all edge: far below what any other shape tells.
UNGROWN = 1e-4
#: Reach in standard deviations of the residuals (1.4826 median), and the least of it, px.
TRIM, LEAST_TRIM = 3.0, 0.05
#: Share of the scale, and rad of turn, by which steps may leave their guess: the next is half as far.
MOST_STRAYED = 0.15
#: Exact steps at most, and least-squares steps between two of them; px by which the last one moves a point.
FINE_STEPS, STEPS_BETWEEN, SETTLED = 6, 2, 1e-3
#: px within which an arc is flattened to find the nearest edge; the distance itself is exact.
FLAT = 0.02


@dataclass(frozen=True, eq=False)
class Lookup:
    """For every cell of a raster over the first picture the nearest sample of its edge."""

    samples: Samples
    nearest: np.ndarray
    low: Floats
    cell: float

    def at(self, points: Floats) -> tuple[Floats, Floats]:
        """(n, 2) offset from the nearest sample, infinite beyond the raster, and (n, 2) its normal."""
        columns, rows = np.floor((points - self.low) / self.cell).astype(np.int64).T
        height, width = self.nearest.shape
        within = (columns >= 0) & (columns < width) & (rows >= 0) & (rows < height)
        found = self.nearest[np.where(within, rows, 0), np.where(within, columns, 0)]
        off = points - self.samples.at[found]
        off[~within] = np.inf
        return off, self.samples.to_light[found]


def lookup_of(edge: Edge, size: tuple[int, int]) -> Lookup:
    """The raster of a picture's edges."""
    import cv2  # noqa: PLC0415 - only a second picture needs it

    points = edge.segments.corners(1.0)
    span = float((points.max(axis=0) - points.min(axis=0)).max())
    cell = max(span / RASTER, 0.5)
    samples = samples_of(edge, size, cell)
    low = samples.at.min(axis=0) - MARGIN * cell
    columns, rows = np.floor((samples.at - low) / cell).astype(np.int64).T
    free = np.ones((int(rows.max()) + MARGIN, int(columns.max()) + MARGIN), dtype=np.uint8)
    free[rows, columns] = 0
    _, labels = cv2.distanceTransformWithLabels(
        free, cv2.DIST_L2, cv2.DIST_MASK_5, labelType=cv2.DIST_LABEL_PIXEL
    )
    of_label = np.zeros(int(labels.max()) + 1, dtype=np.int64)
    of_label[labels[rows, columns]] = np.arange(len(rows))
    return Lookup(samples, of_label[labels], low, cell)


@dataclass(frozen=True, eq=False)
class Fit:
    """A Pose; growth px of the first; held (n,) the samples that agree; off (n,) px, growth taken off."""

    pose: Pose
    growth: float
    held: np.ndarray
    off: Floats

    @property
    def rms(self) -> float:
        """Px of the first picture, over the samples that agree."""
        return float(np.sqrt((self.off[self.held] ** 2).mean())) if self.held.any() else np.inf


def reach_of(pose: Pose) -> float:
    """Px of the first picture: REACH of the coarser of both."""
    return REACH * max(pose.scale, 1.0)


def settled(lookup: Lookup, samples: Samples, guess: Pose, *, near: bool = False) -> Fit:
    """The Fit that a guess leads to, by the raster; near: it misses by little more than edges may grow."""
    thin = samples.thinned(ROUGH_POINTS)
    last = max(reach_of(guess), lookup.cell)
    rough = 2.0 * MOST_GROWTH if near else FIRST_REACH * lookup.cell * RASTER / CELLS
    pose, growth = guess, 0.0
    for reach in _shrinking(rough, last):
        pull = _pulled(lookup, thin, pose, growth, reach)
        pose, growth = stepped(pose, growth, pull, may_grow=reach <= last + MOST_GROWTH)
        if _has_strayed(pose, guess):
            return _nowhere(guess, samples)
    return judged(lookup, samples, pose, growth)


def _has_strayed(pose: Pose, guess: Pose) -> bool:
    """Whether scale or turn have left what the guess stood for: edges shrunk to a point fit any edge."""
    ratio = complex(pose.along, pose.across) / complex(guess.along, guess.across)
    return abs(abs(ratio) - 1.0) > MOST_STRAYED or abs(phase(ratio)) > MOST_STRAYED


def _nowhere(guess: Pose, samples: Samples) -> Fit:
    """A Fit that nothing agrees with."""
    none = np.zeros(len(samples.at))
    return Fit(guess, 0.0, none > 0.0, none)


def _shrinking(reach: float, last: float) -> Iterator[float]:
    """Shorter and shorter, then the last one a few times."""
    while reach > last:
        yield reach
        reach *= SHRINK
    yield from [last] * LAST_STEPS


def _pulled(lookup: Lookup, thin: Samples, pose: Pose, growth: float, reach: float) -> "Pull":
    """What the samples say that lie within reach of an edge that runs alike."""
    off, normal, alike = _against(lookup, thin, pose)
    across = dot(np.where(np.isfinite(off), off, 0.0), normal)
    held = alike & (np.hypot(*off.T) <= reach + abs(growth)) & (np.abs(across - growth) <= reach)
    return Pull(thin.at[held], normal[held], across[held], thin.weight[held])


def judged(lookup: Lookup, samples: Samples, pose: Pose, growth: float) -> Fit:
    """Which samples agree at this place, by the raster."""
    off, normal, alike = _against(lookup, samples, pose)
    across = dot(np.where(np.isfinite(off), off, 0.0), normal) - growth
    reach = max(reach_of(pose), lookup.cell)
    near = np.hypot(*off.T) <= reach + abs(growth) + lookup.cell
    return Fit(pose, growth, alike & near & (np.abs(across) <= reach), across)


def _against(lookup: Lookup, samples: Samples, pose: Pose) -> tuple[Floats, Floats, np.ndarray]:
    off, normal = lookup.at(pose.of(samples.at))
    turned = pose.directions(samples.to_light) / pose.scale
    return off, normal, np.abs(dot(turned, normal)) >= ALIKE


@dataclass(frozen=True, eq=False)
class Pull:
    """What draws the second picture: at (n, 2) its px, across (n,) px off along normal (n, 2), weight."""

    at: Floats
    normal: Floats
    across: Floats
    weight: Floats


def stepped(pose: Pose, growth: float, pull: Pull, *, may_grow: bool) -> tuple[Pose, float]:
    """One least-squares step of the Pose, and of growth where edges may have grown."""
    if len(pull.at) < 5:
        return pose, growth
    x, y = (-pull.at[:, 0] if pose.is_mirrored else pull.at[:, 0]), pull.at[:, 1]
    middle = complex(x.mean(), y.mean())
    span = max(float(np.hypot(x - x.mean(), y - y.mean()).mean()), 1.0)
    u, v, (p, q) = (x - x.mean()) / span, (y - y.mean()) / span, pull.normal.T
    rows = np.column_stack((u * p + v * q, u * q - v * p, p, q, -np.ones(len(u))))[:, : 5 if may_grow else 4]
    change = _solved(rows, growth - pull.across, pull.weight, growth)
    # the change scales and turns about the middle, the Pose about the origin
    factor = complex(change[0], change[1]) / span
    shift = complex(*pose.shift) + complex(change[2], change[3]) - factor * middle
    along, across = pose.along + factor.real, pose.across + factor.imag
    grown = growth + float(change[4]) if may_grow else growth
    moved = replace(pose, along=along, across=across, shift=(shift.real, shift.imag))
    return moved, float(np.clip(grown, -MOST_GROWTH, MOST_GROWTH))


def _solved(rows: Floats, wanted: Floats, weight: Floats, growth: float) -> Floats:
    """The least change that brings rows to what is wanted; growth, the fifth, stays near what is usual."""
    left, right = normal_equations(rows, wanted, weight)
    hold = np.full(rows.shape[1], HOLD * float(np.trace(left)))
    if len(hold) == 5:
        hold[4] += float(weight.sum()) * UNGROWN / USUAL_GROWTH**2
        right[4] -= hold[4] * growth
    return np.asarray(np.linalg.solve(left + np.diag(hold), right))


def normal_equations(rows: Floats, wanted: Floats, weight: Floats) -> tuple[Floats, Floats]:
    """(k, k) and (k,) of least squares with rows (n, k); by einsum, whose sums no number of cores changes."""
    weighed = rows * weight[:, None]
    left = np.einsum("ni,nj->ij", weighed, rows)
    return np.asarray(left), np.asarray(np.einsum("ni,n->i", weighed, wanted))


def refined(edge: Edge, samples: Samples, fit: Fit) -> Fit:
    """The Fit with exact distances to the first picture's lines and arcs, trimmed by their own scatter."""
    thin = samples.thinned(FINE_POINTS)
    pose, growth = fit.pose, fit.growth
    if not fit.held.any():
        return fit
    for _ in range(FINE_STEPS):
        rows, before = _nearest_rows(edge.segments, pose.of(thin.at)), pose.of(thin.at)
        for _ in range(STEPS_BETWEEN):
            across, normal, held = _exact(edge, thin, rows, pose, growth)
            off = across - growth
            held &= np.abs(off) <= _trim(off[held])
            pull = Pull(thin.at[held], normal[held], across[held], thin.weight[held])
            pose, growth = stepped(pose, growth, pull, may_grow=True)
        if _has_strayed(pose, fit.pose):
            return _nowhere(fit.pose, samples)
        if float(np.abs(pose.of(thin.at) - before).max()) < SETTLED:
            break
    return measured(edge, samples, pose, growth)


def measured(edge: Edge, samples: Samples, pose: Pose, growth: float) -> Fit:
    """Which samples agree at this place, exactly."""
    rows = _nearest_rows(edge.segments, pose.of(samples.at))
    across, _, held = _exact(edge, samples, rows, pose, growth)
    return Fit(pose, growth, held, across - growth)


def _trim(off: Floats) -> float:
    return max(TRIM * 1.4826 * float(np.median(np.abs(off))), LEAST_TRIM) if len(off) else LEAST_TRIM


def _nearest_rows(segments: Segments, points: Floats) -> np.ndarray:
    """(n,) the segment nearest to each point."""
    counts = segments.steps(FLAT)
    rows = np.repeat(np.arange(len(segments)), counts + 1)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts + 1) - counts - 1, counts + 1)
    corners = picked(segments, rows).points_at(within / counts[rows])
    tree = shapely.STRtree(np.asarray(shapely.linestrings(corners, indices=rows)))
    which, near = tree.query_nearest(shapely.points(points), all_matches=False)
    found = np.zeros(len(points), dtype=np.int64)
    found[which] = near
    return found


def _exact(
    edge: Edge, samples: Samples, rows: np.ndarray, pose: Pose, growth: float
) -> tuple[Floats, Floats, np.ndarray]:
    """(n,) px towards the lighter side, (n, 2) normals to it, (n,) whether the sample agrees."""
    placed = pose.of(samples.at)
    each = picked(edge.segments, rows)
    side = edge.lighter[rows]
    across = sideways(each, placed) * side
    normal = _lefts_at(each, placed) * side[:, None]
    turned = pose.directions(samples.to_light) / pose.scale
    beyond = np.minimum(dot(placed - each.starts, each.chords()), dot(each.ends - placed, each.chords()))
    reach = reach_of(pose)
    minor = np.abs(each.bulges) < 0.3
    within = ~minor | (beyond >= -each.chord_lengths() * (reach + abs(growth)))
    alike = np.abs(dot(turned, normal)) >= ALIKE
    return across, normal, alike & within & (np.abs(across - growth) <= reach)


def _lefts_at(segments: Segments, points: Floats) -> Floats:
    """(n, 2) the unit normal to the left of each segment at the place nearest to a point."""
    slopes = slopes_at(segments, points)
    return np.asarray(slopes / np.maximum(np.hypot(*slopes.T), 1e-12)[:, None])
