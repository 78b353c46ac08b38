"""Which bands of a colour tell where an edge lies: all alike, unless those that carry hue are softer.

Common still and moving picture formats keep the hue of a picture at half its resolution. Then lightness
leads, and hue is listened to only where two colours hardly differ in lightness. Where the pixels still show
how hue was thinned (hue.py), that is imitated; where they were scaled or turned since, only its blur is.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools, Framed
from core.trace.hue import BANDS, NO_PAIRS, Pairs, pairs_in
from core.trace.samples import first_samples
from core.trace.strips import Strips, beside, seen_by, shares

LIGHTNESS = np.outer(BANDS[0], BANDS[0])
HUE = BANDS[1:].T @ BANDS[1:]

#: All bands alike; and lightness leading, hue soft: its error counts as five times as large.
ALIKE = np.eye(3)
LED_BY_LIGHTNESS = LIGHTNESS + HUE / 25.0

#: Noise of an edge that thinned hue tells looks so many times too small: two pixels share a value, and
#: blocks twice as large an error.
SHARED = 2.0

#: px^2 by which the spread of hue exceeds that of lightness when its resolution is halved (about 1/2).
SOFTER = 0.2

#: Least difference of two colours in lightness and in hue, 0..1, for their edge to be asked.
ASKED = 0.12

#: Strips that answer reliably, and chains that are asked at most.
ENOUGH, MOST_CHAINS = 40, 12


@dataclass(frozen=True, eq=False)
class Bands:
    """metric (3, 3) by which colours are told apart; hue_blur, sigma in px by which hue is softer.

    pairs: of pixels that share one value of hue, where the picture shows them; hue_blur is then 0.
    """

    metric: Floats
    hue_blur: float = 0.0
    pairs: Pairs = NO_PAIRS


def bands_of(frame: Framed, strips: Strips) -> Bands:
    """How lightness and hue are to be listened to in this picture."""
    pairs = pairs_in(frame.pixels)
    if pairs:
        return Bands(LED_BY_LIGHTNESS, pairs=pairs)
    count = strips.rows.count
    asked = np.nonzero((count >= ENOUGH) & _differ(frame, strips))[0]
    asked = asked[np.argsort(-count[asked], kind="stable")][:MOST_CHAINS]
    if not asked.size:
        return Bands(ALIKE)
    some = strips.of_chains(asked)
    lightness, hue = (_spread(frame, seen_by(some, frame, metric)) for metric in (LIGHTNESS, HUE))
    softer = float(np.median(hue) - np.median(lightness)) if hue.size and lightness.size else 0.0
    return Bands(LED_BY_LIGHTNESS, float(np.sqrt(softer))) if softer > SOFTER else Bands(ALIKE)


def looks_small(bands: Bands, frame: Framed, strips: Strips) -> Floats:
    """(c,) how many times too small each chain's noise looks: SHARED where thinned hue tells its edge."""
    if not bands.pairs:
        return np.ones(len(strips.rows))
    low, high = _two_colours(frame, strips)
    by_lightness, by_all = (
        np.einsum("ci,ij,cj->c", low - high, metric, low - high) for metric in (LIGHTNESS, bands.metric)
    )
    return np.where(by_lightness < by_all / 2.0, SHARED, 1.0)


def _spread(frame: Framed, strips: Strips) -> Floats:
    """(n,) px^2, of the strips that are whole."""
    spread = first_samples(strips, shares(strips, frame.pixels), 0.0).spread
    return spread[np.isfinite(spread)]


def _differ(frame: Framed, strips: Strips) -> Bools:
    """(c,) whether the two colours of each chain differ both in lightness and in hue."""
    low, high = _two_colours(frame, strips)
    lightness, *hue = BANDS @ (low - high).T
    return np.asarray((np.abs(lightness) > ASKED) & (np.hypot(*hue) > ASKED))


def _two_colours(frame: Framed, strips: Strips) -> tuple[Floats, Floats]:
    """(c, 3) each, of every chain."""
    low, high = (frame.palette[labels[strips.rows.first]] for labels in beside(strips, frame))
    return low, high
