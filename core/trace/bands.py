"""Which bands of a colour tell where an edge lies: all alike, unless those that carry hue are softer.

Common still and moving picture formats keep the hue of a picture at half its resolution (ITU-T T.871 gives
the bands: Y = 0.299 R + 0.587 G + 0.114 B, Cb and Cr the rest). Then lightness leads, and hue is listened
to only where two colours hardly differ in lightness.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools, Framed
from core.trace.samples import first_samples
from core.trace.strips import Strips, beside, seen_by, shares

#: ITU-T T.871: rows Y, Cb, Cr of R, G, B.
BANDS = np.array(
    [[0.299, 0.587, 0.114], [-0.168736, -0.331264, 0.5], [0.5, -0.418688, -0.081312]], dtype=np.float64
)
LIGHTNESS = np.outer(BANDS[0], BANDS[0])
HUE = BANDS[1:].T @ BANDS[1:]

#: All bands alike; and lightness leading, hue soft: its error counts as five times as large.
ALIKE = np.eye(3)
LED_BY_LIGHTNESS = LIGHTNESS + HUE / 25.0

#: px^2 by which the spread of hue exceeds that of lightness when its resolution is halved (about 1/2).
SOFTER = 0.2

#: Least difference of two colours in lightness and in hue, 0..1, for their edge to be asked.
ASKED = 0.12

#: Strips that answer reliably, and chains that are asked at most.
ENOUGH, MOST_CHAINS = 40, 12


@dataclass(frozen=True, eq=False)
class Bands:
    """metric (3, 3) by which colours are told apart; hue_blur, sigma in px by which hue is softer."""

    metric: Floats
    hue_blur: float


def bands_of(frame: Framed, strips: Strips) -> Bands:
    """How lightness and hue are to be listened to in this picture."""
    count = strips.rows.count
    asked = np.nonzero((count >= ENOUGH) & _differ(frame, strips))[0]
    asked = asked[np.argsort(-count[asked], kind="stable")][:MOST_CHAINS]
    if not asked.size:
        return Bands(ALIKE, 0.0)
    some = strips.of_chains(asked)
    lightness, hue = (_spread(frame, seen_by(some, frame, metric)) for metric in (LIGHTNESS, HUE))
    softer = float(np.median(hue) - np.median(lightness)) if hue.size and lightness.size else 0.0
    return Bands(LED_BY_LIGHTNESS, float(np.sqrt(softer))) if softer > SOFTER else Bands(ALIKE, 0.0)


def _spread(frame: Framed, strips: Strips) -> Floats:
    """(n,) px^2, of the strips that are whole."""
    spread = first_samples(strips, shares(strips, frame.pixels), 0.0).spread
    return spread[np.isfinite(spread)]


def _differ(frame: Framed, strips: Strips) -> Bools:
    """(c,) whether the two colours of each chain differ both in lightness and in hue."""
    low, high = (frame.palette[labels[strips.rows.first]] for labels in beside(strips, frame))
    lightness, *hue = BANDS @ (low - high).T
    return np.asarray((np.abs(lightness) > ASKED) & (np.hypot(*hue) > ASKED))
