"""Where one line or arc ends and the next begins: the cheapest way to say a run of samples in pieces.

Plot:
  1. candidates: corners of a coarse polygon through the samples, dense enough that the true breaks lie near;
  2. every pair of candidates is a possible piece; its cost is a price for being there (an arc dearer than
     a line) and its misfit in sigmas, counted on at most MOST_COUNTED samples so that a larger picture does
     not buy more pieces (price_pieces);
  3. dynamic programming finds the cheapest chain of pieces (cheapest);
  4. breaks then slide, one parity at a time, to where the two neighbours cost least (slid);
  5. a ring is cut open at a candidate first, then again at a break of the first answer, so that no break is
     left where it was cut; a whole circle is tried against the pieces.
Samples next to a break feel both neighbours, so a piece is judged without TRIM samples at either end.
"""

from dataclasses import dataclass
from itertools import pairwise

import cv2
import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools, Ints
from core.trace.moments import Fits, fits, powers
from core.trace.track import Track

#: Price of one more line and of one more arc, in squared sigmas: BIC for 2 and 3 numbers and a break.
LINE_PRICE = 14.0
ARC_PRICE = 20.0

#: Misfit is the mean over a piece times at most this many samples.
MOST_COUNTED = 40

#: px; a candidate polygon lies this near the samples, or CANDIDATE_SIGMAS sigmas.
CANDIDATE_REACH = 0.2
CANDIDATE_SIGMAS = 2.5

#: More candidates than this make the table of pairs slow; the polygon is coarsened until they fit.
MOST_CANDIDATES = 220

#: px; no cut or plotted arc is smaller, and smaller ones fit any three samples.
LEAST_RADIUS = 0.7

#: Samples to either side in which a break may slide, and how often all of them do.
SLIDE = 40
SLIDES = 2


@dataclass(frozen=True, eq=False)
class Pieces:
    """breaks (k + 1,) sample indices, rising, and is_arc (k,); cost in squared sigmas."""

    breaks: Ints
    is_arc: Bools
    cost: float


def candidates(track: Track) -> Ints:
    """Rising sample indices, first and last among them, that a polygon near the samples needs."""
    reach = max(CANDIDATE_REACH, CANDIDATE_SIGMAS * track.sigma)
    places = track.places.astype(np.float32)
    while True:
        corners = cv2.approxPolyDP(places[:, None], reach, closed=False)[:, 0]
        if len(corners) <= MOST_CANDIDATES:
            break
        reach *= 1.5
    wanted = {tuple(corner) for corner in corners.tolist()}
    picked = [index for index, place in enumerate(places.tolist()) if tuple(place) in wanted]
    return np.unique([0, *picked, len(places) - 1])


def price(found: Fits, sigma: float) -> tuple[Floats, Bools]:
    """Cost of each run and whether its arc is the cheaper way to say it."""
    share = np.minimum(found.count, MOST_COUNTED) / np.maximum(found.count, 1e-12) / sigma**2
    line = LINE_PRICE + found.line * share
    arc = np.where(found.radius < LEAST_RADIUS, np.inf, ARC_PRICE + found.arc * share)
    return np.minimum(line, arc), arc < line


def price_pieces(track: Track, picked: Ints) -> Floats:
    """(m, m) cost of the piece between any two candidates; infinite where not forward."""
    size = len(picked)
    rows = [track.sums_from(int(start), picked[row + 1 :]) for row, start in enumerate(picked[:-1])]
    table = np.full((size, size), np.inf)
    table[np.triu_indices(size, 1)] = price(fits(np.vstack(rows)), track.sigma)[0]
    return table


def cheapest(table: Floats) -> Ints:
    """Indices of the candidates on the cheapest way from the first to the last."""
    size = len(table)
    best = np.full(size, np.inf)
    best[0] = 0.0
    before = np.zeros(size, dtype=np.int64)
    for end in range(1, size):
        ways = best[:end] + table[:end, end]
        before[end] = int(np.argmin(ways))
        best[end] = ways[before[end]]
    way = [size - 1]
    while way[-1] > 0:
        way.append(int(before[way[-1]]))
    return np.array(way[::-1], dtype=np.int64)


def open_pieces(track: Track) -> Pieces:
    """The cheapest pieces from the first of at least two samples to the last."""
    picked = candidates(track)
    way = cheapest(price_pieces(track, picked))
    return slid(track, picked[way])


def slid(track: Track, breaks: Ints) -> Pieces:
    """The same number of pieces, each inner break where its two neighbours cost least."""
    breaks = breaks.copy()
    for _ in range(SLIDES):
        moved = False
        for parity in (1, 2):
            inner = np.arange(parity, len(breaks) - 1, 2)
            moved |= _slide(track, breaks, inner) if inner.size else False
        if not moved:
            break
    rows = [track.sums_from(int(first), np.array([last])) for first, last in pairwise(breaks)]
    cost, is_arc = price(fits(np.vstack(rows)), track.sigma)
    return Pieces(breaks, is_arc, float(cost.sum()))


def _slide(track: Track, breaks: Ints, inner: Ints) -> bool:
    """Move each of the inner breaks (no two neighbours) to its best place; whether any moved."""
    sums, spans = [], []
    for at in inner.tolist():
        low, here, high = (int(b) for b in breaks[at - 1 : at + 2])
        there = np.arange(max(low + 1, here - SLIDE), min(high - 1, here + SLIDE) + 1)
        sums += [track.sums_from(low, there), track.sums_from(high, there)]
        spans.append(there)
    cost, _ = price(fits(np.vstack(sums)), track.sigma)
    first, moved = 0, False
    for at, there in zip(inner.tolist(), spans, strict=True):
        size = len(there)
        both = cost[first : first + size] + cost[first + size : first + 2 * size]
        first += 2 * size
        best = int(there[np.argmin(both)])
        moved |= best != int(breaks[at])
        breaks[at] = best
    return moved


def circle_cost(track: Track) -> float:
    """Cost of one full circle as two arcs of one radius."""
    middle = track.places.mean(axis=0)
    found = fits(powers(track.places - middle, track.weight).sum(axis=0)[None])
    cost, _ = price(found, track.sigma)
    return float(cost[0] + LINE_PRICE) if found.arc[0] < found.line[0] else np.inf


def ring_pieces(track: Track) -> tuple[Track, Pieces]:
    """The ring cut open where a break belongs, and its pieces; one arc piece means a full circle."""
    start = _sharpest(track.places)
    opened = track.rolled(start)
    found = open_pieces(opened)
    if len(found.breaks) > 2:
        again = (start + int(found.breaks[len(found.breaks) // 2])) % len(track)
        other = track.rolled(again)
        second = open_pieces(other)
        if second.cost <= found.cost:
            opened, found = other, second
    circle = circle_cost(track)
    if circle <= found.cost:
        return opened, Pieces(np.array([0, len(track)]), np.array([True]), circle)
    return opened, found


def _sharpest(places: Floats) -> int:
    """The sample where the ring turns most over a few samples."""
    width = max(min(6, len(places) // 6), 1)
    ahead = np.roll(places, -width, axis=0) - places
    behind = places - np.roll(places, width, axis=0)
    turn = np.arctan2(behind[:, 0] * ahead[:, 1] - behind[:, 1] * ahead[:, 0], np.sum(behind * ahead, axis=1))
    return int(np.argmax(np.abs(turn)))
