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
All chains take each step together. Samples next to a break feel both neighbours, so a piece is judged without
a few samples at either end.
"""

from dataclasses import dataclass

import cv2
import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools, Ints
from core.trace.moments import Fits, fits
from core.trace.strung import Strung, pairs, strung
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

#: Samples by which a break may slide: far and coarsely first, then near and once again near.
FAR = np.arange(-40, 41, 5)
NEAR = np.arange(-4, 5)
SLIDES = (FAR, NEAR, NEAR)

#: Sides of the tables of pairs; chains whose candidates fit the same one go together.
SIDES = (4, 8, 16, 32, 64, 128, MOST_CANDIDATES + 2)


@dataclass(frozen=True, eq=False)
class Pieces:
    """breaks (k + 1,) sample indices, rising, and is_arc (k,); cost in squared sigmas."""

    breaks: Ints
    is_arc: Bools
    cost: float


@dataclass(frozen=True, eq=False)
class Priced:
    """Cost (n,) in squared sigmas of each piece, and whether its arc is the cheaper way to say it."""

    cost: Floats
    is_arc: Bools


def candidates(track: Track) -> Ints:
    """Rising sample indices, first and last among them, that a polygon near the samples needs."""
    reach = max(CANDIDATE_REACH, CANDIDATE_SIGMAS * track.sigma)
    places = track.places.astype(np.float32)
    while True:
        corners = cv2.approxPolyDP(places[:, None], reach, closed=False)[:, 0]
        if len(corners) <= MOST_CANDIDATES:
            break
        reach *= 1.5
    names, wanted = (np.ascontiguousarray(side).view(np.int64)[:, 0].tolist() for side in (places, corners))
    kept = set(wanted)
    last = len(names) - 1
    found = np.array([at for at, name in enumerate(names) if name in kept or at in (0, last)])
    return (
        found
        if len(found) <= SIDES[-1]
        else np.unique(np.append(found[:: len(found) // SIDES[-1] + 1], found[-1]))
    )


def price(found: Fits, sigma: Floats) -> Priced:
    """What each run costs at its cheapest, sigma px being the noise of its samples."""
    share = np.minimum(found.count, MOST_COUNTED) / np.maximum(found.count, 1e-12) / sigma**2
    line = LINE_PRICE + found.line * share
    arc = np.where(found.radius < LEAST_RADIUS, np.inf, ARC_PRICE + found.arc * share)
    return Priced(np.minimum(line, arc), arc < line)


def cheapest_ways(tracks: tuple[Track, ...]) -> tuple[Ints, ...]:
    """For every track the breaks (k + 1,) between its cheapest pieces, candidates among its own samples."""
    row = strung(tracks)
    picked = tuple(candidates(track) for track in tracks)
    count = np.array([len(marks) for marks in picked])
    marks = np.concatenate(picked) + np.repeat(row.first, count)
    found = pairs(row, marks, count)
    owner = np.repeat(np.arange(len(tracks)), count)
    cost = price(fits(found.sums), row.sigma[owner[found.low]]).cost
    within = np.arange(len(marks)) - np.repeat(np.cumsum(count) - count, count)
    breaks: list[Ints] = [marks] * len(tracks)
    side_of = np.searchsorted(SIDES, count)
    for size in np.unique(side_of).tolist():
        here = np.nonzero(side_of == size)[0]
        slot = np.full(len(tracks), -1)
        slot[here] = np.arange(len(here))
        mine = np.nonzero(slot[owner[found.low]] >= 0)[0]
        low, high = found.low[mine], found.high[mine]
        table = np.full((len(here), SIDES[size], SIDES[size]), np.inf)
        table[slot[owner[low]], within[low], within[high]] = cost[mine]
        before = cheapest(table)
        for at, index in enumerate(here.tolist()):
            breaks[index] = picked[index][_way(before[at], int(count[index]) - 1)]
    return tuple(breaks)


def cheapest(table: Floats) -> Ints:
    """For costs (t, m, m) the candidate before each (t, m) on the cheapest way to it from the first."""
    count, size, _ = table.shape
    best = np.full((count, size), np.inf)
    best[:, 0] = 0.0
    before = np.zeros((count, size), dtype=np.int64)
    every = np.arange(count)
    for end in range(1, size):
        ways = best[:, :end] + table[:, :end, end]
        before[:, end] = np.argmin(ways, axis=1)
        best[:, end] = ways[every, before[:, end]]
    return before


def _way(before: Ints, last: int) -> Ints:
    way = [last]
    while way[-1] > 0:
        way.append(int(before[way[-1]]))
    return np.array(way[::-1], dtype=np.int64)


def slid(tracks: tuple[Track, ...], breaks: tuple[Ints, ...]) -> tuple[Pieces, ...]:
    """The same number of pieces, each inner break where its two neighbours cost least."""
    row = strung(tracks)
    count = np.array([len(own) for own in breaks])
    owner = np.repeat(np.arange(len(tracks)), count)
    within = np.arange(len(owner)) - np.repeat(np.cumsum(count) - count, count)
    all_breaks = np.concatenate(breaks) + row.first[owner]
    inner = (within > 0) & (within < count[owner] - 1)
    sigma = row.sigma[owner]
    for offsets in SLIDES:
        for parity in (1, 0):
            chosen = np.nonzero(inner & (within % 2 == parity))[0]
            if chosen.size:
                all_breaks[chosen] = _best_places(row, all_breaks, chosen, offsets, sigma[chosen])
    first = np.nonzero(within < count[owner] - 1)[0]
    found = price(fits(row.pieces(all_breaks[first], all_breaks[first + 1])), sigma[first])
    cost = np.bincount(owner[first], weights=found.cost, minlength=len(tracks))
    cuts = np.cumsum(count)[:-1]
    own_breaks = np.split(all_breaks - row.first[owner], cuts)
    kinds = np.split(found.is_arc, cuts - np.arange(1, len(tracks)))
    return tuple(Pieces(b, k, float(c)) for b, k, c in zip(own_breaks, kinds, cost, strict=True))


def _best_places(row: Strung, breaks: Ints, chosen: Ints, offsets: Ints, sigma: Floats) -> Ints:
    """Where each chosen break (no two neighbours) is best put, of the places offsets away."""
    low, high = breaks[chosen - 1], breaks[chosen + 1]
    there = np.clip(breaks[chosen, None] + offsets, (low + 1)[:, None], (high - 1)[:, None])
    shape = there.shape
    start, stop = (np.repeat(side, shape[1]) for side in (low, high))
    before = np.column_stack((low, there[:, :-1])).ravel()
    after = np.column_stack((there[:, 1:], high)).ravel()
    flat = there.ravel()
    left = row.runs(before, flat, row.places[start]).reshape(9, *shape).cumsum(axis=2).reshape(9, -1)
    right = row.runs(flat, after, row.places[stop]).reshape(9, *shape)[:, :, ::-1].cumsum(axis=2)[:, :, ::-1]
    left = row.trimmed(left, start, flat, row.places[start])
    right = row.trimmed(right.reshape(9, -1), flat, stop, row.places[stop])
    noise = np.repeat(sigma, shape[1])
    cost = price(fits(np.hstack((left, right))), np.concatenate((noise, noise))).cost
    best = np.argmin(cost.reshape(2, *shape).sum(axis=0), axis=1)
    return np.asarray(there[np.arange(len(best)), best])


@dataclass(frozen=True, eq=False)
class Split:
    """A track, a ring cut open where a break belongs, and its pieces; one arc in a ring is a full circle."""

    track: Track
    pieces: Pieces


def split(tracks: tuple[Track, ...], is_ring: tuple[bool, ...]) -> tuple[Split, ...]:
    """The fewest pieces for every track of at least three samples, at least five for a ring."""
    if not tracks:
        return ()
    starts = [_sharpest(track.places) if ring else 0 for track, ring in zip(tracks, is_ring, strict=True)]
    opened = [
        track.rolled(start) if ring else track
        for track, start, ring in zip(tracks, starts, is_ring, strict=True)
    ]
    pieces = list(slid(tuple(opened), cheapest_ways(tuple(opened))))
    again = [at for at, ring in enumerate(is_ring) if ring and len(pieces[at].breaks) > 2]
    if again:
        middles = [int(pieces[at].breaks[len(pieces[at].breaks) // 2]) for at in again]
        cuts = [(starts[at] + middle) % len(tracks[at]) for at, middle in zip(again, middles, strict=True)]
        turned = tuple(tracks[at].rolled(cut) for at, cut in zip(again, cuts, strict=True))
        for at, track, second in zip(again, turned, slid(turned, cheapest_ways(turned)), strict=True):
            if second.cost <= pieces[at].cost:
                opened[at], pieces[at] = track, second
    circles = circle_costs(tracks)
    return tuple(
        Split(track, _or_circle(own, len(track) - 1, circle) if ring else own)
        for track, own, ring, circle in zip(opened, pieces, is_ring, circles.tolist(), strict=True)
    )


def _or_circle(pieces: Pieces, last: int, circle: float) -> Pieces:
    if circle > pieces.cost:
        return pieces
    return Pieces(np.array([0, last]), np.array([True]), circle)


def circle_costs(tracks: tuple[Track, ...]) -> Floats:
    """Cost of one full circle as two arcs of one radius, for every track."""
    row = strung(tracks)
    stop = np.append(row.first[1:], len(row.places))
    found = fits(row.runs(row.first, stop, row.places[row.first]))
    return np.where(found.arc < found.line, price(found, row.sigma).cost + LINE_PRICE, np.inf)


def _sharpest(places: Floats) -> int:
    """The sample where the ring turns most over a few samples."""
    width = max(min(6, len(places) // 6), 1)
    ahead = np.roll(places, -width, axis=0) - places
    behind = places - np.roll(places, width, axis=0)
    turn = np.arctan2(behind[:, 0] * ahead[:, 1] - behind[:, 1] * ahead[:, 0], np.sum(behind * ahead, axis=1))
    return int(np.argmax(np.abs(turn)))
