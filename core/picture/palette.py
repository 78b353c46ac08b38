"""The flat colours that a picture is made of, proposed or as many as are asked for.

The plot. Flat pixels are tallied by colour. The commonest colour leads; whatever is hardly apart from it
follows it; the next commonest leads the rest, and so on. Soft edges are not flat, so they lead nothing.
Strokes of two or three pixels are flat nowhere: a colour of the other pixels that is no blend of two
leaders leads too, the one farthest from all others first. A picture whose pixels all this cannot explain
is a photograph: its colours are merged, nearest first, until only a few that are well apart remain.
"""

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from core.picture.oklab import Floats
from core.picture.picture import Pixels
from core.picture.plateau import Bytes, Mask, Plateaus
from core.picture.strokes import with_strokes
from core.picture.tally import Tally, apart, off_blend, tally_of

#: Pixels looked at: enough for an island of 30 px in a picture of 1500 x 1000.
_LOOKED_AT = 1_500_000
#: Distances by ``apart``. Colours nearer than this are one: twice what is just seen, and JPEG's ripple.
SAME = 0.05
#: A noisy picture spreads every colour: so much more for each grey level of its flat range over the usual.
_SAME_PER_LEVEL = 0.0012
#: Deviations of grain by which a colour is spread, as a distance of R, G and B alike; and the most of that:
#: with more, colours that differ would be one.
_GRAINS, _MOST_GRAIN = 3.0 * 3.0**0.5, 0.3
#: Times ``same`` within which a colour may be the rim of the grain of another; and the share of the way
#: between two colours, on either side of a place, that counts as being there.
_RIM, _ABOUT = 2.5, 0.15
#: Flat pixels that a colour needs: what a disc of 30 px keeps when its soft rim is taken off.
_FEWEST_FLAT = 4
#: Colours that are proposed for flat art, and for a photograph.
MOST_FLAT_COLOURS = 12
_MOST_PHOTO_COLOURS = 6
#: Colours of a photograph nearer than this are merged: a third of the way from black to white at most.
_PHOTO_APART = 0.16
#: Flat art is flat at least here, as a share of the picture, and so much of it has one of its colours.
_FLAT_ART = 0.35
_EXPLAINED = 0.9
#: Share of the flat pixels that are close to their colour: all but 1 % in flat art with noise of 25 levels or
#: a JPEG of quality 30, at most 86 % in photographs and scans under uneven light (measured).
_GATHERED = 0.92
#: Share of the picture below which nothing is called flat, and every pixel is tallied instead.
_HARDLY_FLAT = 0.02
#: Leaders that are told apart before they are merged.
_MOST_LEADERS = 96


@dataclass(frozen=True, eq=False)  # no ==: arrays have no single truth value
class Proposal:
    """rgb (k, 3) in 0..1, and whether the picture is more of a photograph than of flat colours."""

    rgb: Floats
    is_photograph: bool


@dataclass(frozen=True, eq=False)
class Sample:
    """Every so many pixels of a picture: colours (m, 3), which are flat (m,), and what one stands for."""

    colours: Bytes
    flat: Mask
    pixels_each: float


def propose(plateaus: Plateaus, count: int | None) -> Proposal:
    """Find the colours, count of them when it is given."""
    sample = sampled(plateaus)
    noise = _SAME_PER_LEVEL * max(0, plateaus.flat_range - 6)
    same = SAME + max(noise, min(_GRAINS * plateaus.grain, _MOST_GRAIN))
    everything = tally_of(sample.colours, sample.pixels_each)
    hardly_flat = bool(sample.flat.mean() < _HARDLY_FLAT)
    flat = everything if hardly_flat else tally_of(sample.colours[sample.flat], sample.pixels_each)
    leaders = without_grain(led(flat, same), flat, same) if plateaus.grain else led(flat, same)
    is_shaded = plateaus.grain > 0.0 and len(leaders) < 2
    if len(leaders) < MOST_FLAT_COLOURS:
        leaders = with_strokes(leaders, plateaus, same, MOST_FLAT_COLOURS)
    if count is not None:
        return Proposal(counted(leaders, everything, count).rgb, is_photograph=False)
    if (
        hardly_flat
        or is_shaded
        or not is_gathered(flat, leaders, same)
        or is_photograph(sample, leaders, everything, same)
    ):
        return Proposal(few(led(everything, SAME + noise)).rgb, is_photograph=True)
    return Proposal(leaders.rgb, is_photograph=False)


def sampled(plateaus: Plateaus) -> Sample:
    """Look at every pixel of a small picture, at some of a large one; smoothed where there is noise."""
    rows, columns = plateaus.spread.shape
    step = max(1, int(np.ceil(np.sqrt(rows * columns / _LOOKED_AT))))
    seen = cv2.blur(plateaus.bytes, (3, 3)) if plateaus.is_noisy else plateaus.bytes
    colours = np.asarray(seen[::step, ::step], dtype=np.uint8).reshape(-1, 3)
    flat = plateaus.spread[::step, ::step].ravel() <= plateaus.flat_range
    return Sample(colours, flat, float(step * step))


def led(tally: Tally, same: float) -> Tally:
    """Let the commonest colour lead all that are the same within ``same``, and so on; the commonest first."""
    left = np.arange(len(tally))
    heads: list[int] = []
    while left.size and len(heads) < _MOST_LEADERS:
        head = int(left[0])
        heads.append(head)
        left = left[apart(tally.rgb[left], tally.rgb[head : head + 1])[:, 0] > same]
    leaders = _settled(tally, tally.chosen(np.array(heads, dtype=np.intp)))
    leaders = merged(leaders, same)
    return leaders.chosen(leaders.counts >= _FEWEST_FLAT)


def _settled(tally: Tally, leaders: Tally) -> Tally:
    """Move each leader to the mean of the colours nearest to it; the commonest first."""
    groups = apart(tally.rgb, leaders.rgb).argmin(axis=1)
    moved = tally.gathered(groups, len(leaders))
    return moved.chosen(np.argsort(-moved.counts, kind="stable"))


def merged(tally: Tally, distance: float, most: int | None = None) -> Tally:
    """Merge the two nearest colours until all are farther apart than distance and no more than most."""
    while len(tally) > 1:
        gaps = apart(tally.rgb, tally.rgb) + np.diag(np.full(len(tally), np.inf))
        first, last = sorted(int(at) for at in np.unravel_index(gaps.argmin(), gaps.shape))
        if gaps[first, last] > distance and (most is None or len(tally) <= most):
            break
        tally = _joined(tally, first, last)
    return tally


def _joined(tally: Tally, first: int, last: int) -> Tally:
    groups = np.arange(len(tally))
    groups[last] = first
    groups[last + 1 :] -= 1
    return tally.gathered(groups, len(tally) - 1)


def without_grain(leaders: Tally, flat: Tally, same: float) -> Tally:
    """Leave out leaders that are the rim of another one's grain: no gap in the tally lies between the two."""
    kept = [0] if len(leaders) else []
    for at in range(1, len(leaders)):  # the commonest first: what has grain is commoner than its rim
        near = [one for one in kept if apart(leaders.rgb[[at]], leaders.rgb[[one]])[0, 0] <= _RIM * same]
        if not any(_is_one(flat, leaders.rgb[one], leaders.rgb[at], same) for one in near):
            kept.append(at)
    return leaders.chosen(np.array(kept, dtype=np.intp))


def _is_one(flat: Tally, one: Floats, other: Floats, same: float) -> bool:
    """Whether the pixels half-way between two colours are at least as many as those at the rarer one."""
    run = other - one
    place = (flat.rgb - one) @ run / float(run @ run)
    off = np.linalg.norm(flat.rgb - one - place[:, np.newaxis] * run, axis=1)
    beside = flat.counts * (off <= same)
    half_way, there = (float(beside[np.abs(place - centre) <= _ABOUT].sum()) for centre in (0.5, 1.0))
    return half_way >= there


def is_gathered(flat: Tally, leaders: Tally, same: float) -> bool:
    """Tell whether the flat pixels keep close to their colours, and do not fill the shades between them."""
    close = apart(flat.rgb, leaders.rgb).min(axis=1) <= same / 2.0
    return bool(flat.counts[close].sum() >= _GATHERED * flat.counts.sum())


def is_photograph(sample: Sample, leaders: Tally, everything: Tally, same: float) -> bool:
    """Tell whether there are too many colours, too little is flat, or too much is none of the colours."""
    if len(leaders) > MOST_FLAT_COLOURS or sample.flat.mean() < _FLAT_ART:
        return True
    explained = apart(everything.rgb, leaders.rgb).min(axis=1) <= 1.5 * same
    explained |= off_blend(everything.rgb, leaders.rgb) <= same
    share = float(everything.counts[explained].sum() / everything.counts.sum())
    return share < _EXPLAINED


def few(leaders: Tally) -> Tally:
    """Merge the colours of a photograph until few remain, well apart, but two in any case."""
    for most in range(_MOST_PHOTO_COLOURS, 1, -1):
        left = merged(leaders, 0.0, most)
        if len(left) <= 2 or merged(left, _PHOTO_APART).rgb.shape == left.rgb.shape:
            return left
    return leaders


def counted(leaders: Tally, everything: Tally, count: int) -> Tally:
    """Merge down to count colours, or add the commonest that lie farthest from those found."""
    fewer = merged(leaders, 0.0, count)
    while len(fewer) < min(count, len(everything)):
        pull = apart(everything.rgb, fewer.rgb).min(axis=1) ** 2 * everything.counts
        best = everything.chosen(np.array([pull.argmax()]))
        fewer = Tally(np.vstack((fewer.rgb, best.rgb)), np.append(fewer.counts, best.counts))
    return fewer


def refined(palette: Floats, labels: npt.NDArray[np.uint8], pixels: Pixels, plateaus: Plateaus) -> Floats:
    """Move each colour to the mean of its own flat pixels, where it has some."""
    step = max(1, int(np.ceil(np.sqrt(labels.size / _LOOKED_AT))))
    flat = plateaus.spread[::step, ::step] <= plateaus.flat_range
    own = labels[::step, ::step][flat]
    counts = np.bincount(own, minlength=len(palette))
    sums = [np.bincount(own, pixels[::step, ::step, at][flat], len(palette)) for at in range(3)]
    means = np.stack(sums, axis=1) / np.maximum(counts, 1)[:, np.newaxis]
    better: Floats = np.where((counts >= _FEWEST_FLAT)[:, np.newaxis], means, palette)
    return better
