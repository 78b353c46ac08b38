"""Edge samples: where the edge crosses each strip of pixels, to a small fraction of a pixel.

First reading (first_samples): the sum of the shares gives the place. For a straight edge that is exact
whatever the blur, as long as the strip reaches both plateaus (Green's theorem on one column). Curvature
moves such a place by a known amount (bend_shift); corners and nodes spoil the samples near them.

Second reading (second_samples), once there is a first outline: what is read is compared with what the
pixels should read if that outline were true (forecast.py). The difference, weighted by how much each pixel
would change if the edge moved, says how far the edge lies from the first outline: least squares on the
pixels themselves, so noise on the plateaus does not count, and whatever corners, nodes, thin neighbours,
bends and blur do to a sample they do to its forecast as well, and it drops out.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools, Ints
from core.trace.rows import Rows
from core.trace.strips import PLATEAU, Strips, middle

#: px; a second reading this far from the first outline says only where to.
FURTHEST = 1.5

#: px of blur from which corners spoil more than the samples that every piece leaves out at its ends.
SOFT = 0.3

#: rad; a chain that turns more than this within reach of the blur has a corner there.
CORNER_TURN = np.radians(30.0)

#: px per px of blur by which samples beside a sharp turn, and those between two edges, may be off; and how
#: deep a patch is on both sides where no other edge is near, in px and for every px of blur.
TURN_SPOILS, OTHER_SPOILS = 0.5, 0.3
CLOSE, CLOSE_PER_BLUR = 1.0, 2.5

#: Share of the strip's full change below which it says too little about its edge.
LEAST_CHANGE = 0.35


@dataclass(frozen=True, eq=False)
class Samples:
    """The samples of all chains in order: places (n, 2) px, step (n,) the crack of its chain each belongs to.

    rows tells whose each is; bend (n,) px per unit of curvature by which each lies on the hollow side of the
    true edge; spread (n,) px^2 the variance of the soft edge across itself (noise may make it negative; not
    finite: unknown); extra (n,) px the standard deviation to expect beyond noise, where a corner or node is
    near.
    """

    rows: Rows
    places: Floats
    step: Ints
    bend: Floats
    spread: Floats
    extra: Floats

    def __len__(self) -> int:
        return len(self.step)


def _changes(strips: Strips, share: Floats) -> Floats:
    """(n, 2 reach) what each pixel reads beyond a step at the crack."""
    low_side = np.arange(2 * strips.reach) < strips.reach
    near = middle(share)
    return np.asarray(np.where(low_side, near - 1.0, near) * strips.weights)


def sums(strips: Strips, share: Floats) -> Floats:
    """(n,) px from each crack along its strip to where the sum of its shares puts the edge."""
    return np.asarray(_changes(strips, share).sum(axis=1))


def first_samples(strips: Strips, share: Floats, blur: float) -> Samples:
    """Places from sums of shares (n, 2 m); none within reach of the chain's own nodes."""
    change = _changes(strips, share)
    shift = change.sum(axis=1)
    kept = (np.abs(shift) < strips.reach) & (_clear_of_ends(strips) | strips.is_ring[strips.rows.owner])
    reach = strips.reach
    out = np.abs(np.arange(2 * reach) - reach + 0.5)
    moment = 2.0 * change @ np.where(np.arange(2 * reach) < reach, -out, out)
    length = reach + PLATEAU
    whole = (strips.free_low >= length) & (strips.free_high >= length)
    # A sharp upright edge reads 1/12 for its pixel and 1/12 for sums in place of integrals.
    spread = strips.slant**2 * (moment - shift**2 - 1.0 / 12.0) - 1.0 / 12.0
    return Samples(
        rows=strips.rows.kept(kept),
        places=(strips.centre + strips.along * shift[:, None])[kept],
        step=strips.step[kept],
        bend=bend_shift(blur, strips.slant)[kept],
        spread=np.where(whole, spread, np.nan)[kept],
        extra=_near_others(strips, blur)[kept],
    )


def _clear_of_ends(strips: Strips) -> Bools:
    """Whether each strip lies further from its chain's ends than it reaches, in cracks."""
    rows = strips.rows
    last = strips.step[np.maximum(rows.first + rows.count - 1, 0)][rows.owner]
    return np.asarray(np.minimum(strips.step, last - strips.step) > strips.reach)


def _near_others(strips: Strips, blur: float) -> Floats:
    """(n,) px to expect beyond noise where a sharp turn or another edge lies within reach of the blur."""
    if blur < SOFT:
        return np.zeros(len(strips))
    middle = strips.depth.shape[1] // 2
    deepest = np.minimum(strips.depth[:, :middle].max(axis=1), strips.depth[:, middle:].max(axis=1))
    close = deepest < CLOSE + CLOSE_PER_BLUR * blur
    return np.where(_turning(strips, blur), TURN_SPOILS, np.where(close, OTHER_SPOILS, 0.0)) * blur


def _turning(strips: Strips, blur: float) -> Bools:
    rows = strips.rows
    width = int(np.ceil(2.0 + 3.0 * blur))
    count, first, ring = rows.count[rows.owner], rows.first[rows.owner], strips.is_ring[rows.owner]
    ahead, behind = rows.within + width, rows.within - width
    ahead = first + np.where(ring, ahead % count, np.minimum(ahead, count - 1))
    behind = first + np.where(ring, behind % count, np.maximum(behind, 0))
    one, other = strips.centre - strips.centre[behind], strips.centre[ahead] - strips.centre
    cross = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    return np.asarray(np.abs(np.arctan2(cross, np.sum(one * other, axis=1))) > CORNER_TURN)


@dataclass(frozen=True, eq=False)
class Footing:
    """Where the first outline is: feet (n, 2) px on it, and how far off it its forecast is read.

    spoilt (n,) px is that distance, distrust the share of it that may still be wrong.
    """

    feet: Floats
    spoilt: Floats
    distrust: float


def second_samples(strips: Strips, share: Floats, forecast: Floats, footing: Footing) -> Samples:
    """Places from the difference between shares and forecast (n, 2 m), from where the first outline is."""
    near, told = middle(share), middle(forecast)
    sides = np.pad(told, ((0, 0), (1, 1)), mode="edge")
    slope = np.maximum(sides[:, :-2] - sides[:, 2:], 0.0) / 2.0
    weight = slope * strips.weights
    change = np.sum(weight * slope, axis=1)
    shift = np.sum(weight * (near - told), axis=1) / np.maximum(change, 1e-9)
    blind = np.sum(slope, axis=1) < LEAST_CHANGE
    shift = np.where(blind, 0.0, np.clip(shift, -FURTHEST, FURTHEST))
    lost = blind | (np.abs(shift) >= FURTHEST)
    return Samples(
        rows=strips.rows,
        places=footing.feet + strips.along * shift[:, None],
        step=strips.step,
        bend=np.zeros(len(strips)),
        spread=np.full(len(strips), np.nan),
        extra=np.where(lost, FURTHEST, footing.distrust * footing.spoilt),
    )


def blur_of(samples: Samples) -> float:
    """Sigma in px of the blur common to all edges: from the median spread of the strips that are whole."""
    spread = samples.spread[np.isfinite(samples.spread)]
    return float(np.sqrt(max(float(np.median(spread)), 0.0))) if spread.size else 0.0


def bend_shift(blur: float, slant: Floats) -> Floats:
    """Px per unit of curvature by which a sum of shares lies on the hollow side of the true edge.

    A column reads the mean of y(x) over its width and over the blur: y + y'' (1/24 + blur^2 / 2), with
    y'' = curvature / slant^3, seen across the edge: times slant.
    """
    return np.asarray((1.0 / 24.0 + blur**2 / 2.0) / np.maximum(slant, 0.5) ** 2)
