"""Corners put to the question: sharp, rounded, or as the samples had it, whichever the pixels bear out.

Beside a corner blur and noise leave room for chamfers and tiny arcs that the samples alone cannot tell from
the corner itself or from a small rounding. The pixels can. Wherever two long pieces meet, or would meet near
by without the short ones between them, three outlines are forecast: as it is, with a sharp corner, and with
one arc that runs on smoothly at both ends. Its radius follows from the area by which the picture falls short
of the sharp corner, which no blur changes. The cheapest way to say it, within the pixels' noise, is taken.
"""

from dataclasses import dataclass
from enum import Enum

import numpy as np

from core.outline.segments import Floats
from core.trace.breaks import ARC_PRICE, LEAST_RADIUS, LINE_PRICE
from core.trace.ends import rebuilt
from core.trace.faces import Bools, Ints
from core.trace.joints import Curves, nearest_crossings, together, turns_at
from core.trace.pieces import Run
from core.trace.seams import seams_of

#: px a short piece is shorter than, and for every px of blur; and the most of them between two others.
SHORT, SHORT_PER_BLUR = 5.0, 4.0
MOST_SHORT = 3

#: Strips to either side of a short piece that tell for or against it.
ROUND = 4

#: A share of contrast; pixels are never known better than half a grey level in 200.
LEAST_NOISE = 1.0 / 400.0

#: rad; corners that turn less or more than this are not tried with an arc.
LEAST_TURN, MOST_TURN = np.radians(6.0), np.radians(150.0)


#: How much better the corner as it is must read the picture than the other two.
LEEWAY = 4.0

#: Standard deviations by which a corner must fall short of a sharp one for an arc to be tried.
SHORTFALL = 2.0


class Corner(Enum):
    """What may stand between two pieces."""

    AS_IT_IS = 0
    SHARP = 1
    ROUNDED = 2


@dataclass(frozen=True)
class Doubtful:
    """The pieces of a run before and after a corner (in a ring the latter may run past its end).

    first and last are the cracks between which its short pieces lie, price their cost in squared sigmas; at
    px is where its neighbours meet, turning by turn rad from the heading into to the heading out; radius px
    is that of the arc to try, 0 for none.
    """

    run: int
    before: int
    after: int
    first: int
    last: int
    price: float
    at: tuple[float, float]
    turn: float
    into: tuple[float, float]
    out: tuple[float, float]
    radius: float = 0.0

    def short(self) -> range:
        """The short pieces at the corner; there may be none."""
        return range(self.before + 1, self.after)


def doubtful(runs: tuple[Run, ...], blur: float) -> tuple[Doubtful, ...]:
    """Every corner between two long pieces, at most MOST_SHORT short ones between them."""
    longest = SHORT + SHORT_PER_BLUR * blur
    seams = seams_of(runs)
    steps = seams.places[seams.last] - seams.places[seams.first]
    is_long = np.hypot(steps[:, 0], steps[:, 1]) >= longest
    asked = [
        (index, one, other)
        for index, run in enumerate(runs)
        for one, other in _neighbours(is_long[seams.pieces.own(index)], is_ring=run.chain.is_ring)
    ]
    if not asked:
        return ()
    run, before, after = np.array(asked).T
    first, count = seams.pieces.first[run], seams.pieces.count[run]
    one, other = seams.curves[first + before], seams.curves[first + after % count]
    middles = [_middle(runs[index], *pair) for index, *pair in asked]
    met = nearest_crossings(one, other, seams.places[seams.tracks.first[run] + middles])
    there = np.nonzero(met.away <= 2.0 * longest)[0]
    at = met.at[there]
    corners = Meetings(
        at, turns_at(one[there], other[there], at), one[there].headings(at), other[there].headings(at)
    )
    return tuple(_doubt(runs, asked[k], corners, row) for row, k in enumerate(there.tolist()))


def _neighbours(is_long: Bools, *, is_ring: bool) -> list[tuple[int, int]]:
    """Long pieces of one run and the next long one after each."""
    long_ones = np.nonzero(is_long)[0].tolist()
    if len(long_ones) < 2:
        return []
    gaps = list(zip(long_ones, [*long_ones[1:], long_ones[0] + len(is_long)], strict=True))
    return [gap for gap in (gaps if is_ring else gaps[:-1]) if gap[1] - gap[0] - 1 <= MOST_SHORT]


@dataclass(frozen=True, eq=False)
class Meetings:
    """Where the neighbours of groups meet (n, 2), how much they turn there (n,) rad, and their headings."""

    at: Floats
    turn: Floats
    into: Floats
    out: Floats


def _doubt(runs: tuple[Run, ...], asked: tuple[int, int, int], met: Meetings, row: int) -> Doubtful:
    index, one, other = asked
    run = runs[index]
    assert run.pieces is not None  # noqa: S101 - doubtful asks only runs in pieces
    count, size = len(run.curves), _size(run)
    first, last = (int(run.track.step[at % size]) for at in _span(run, one, other))
    kinds = [bool(run.pieces.is_arc[k % count]) for k in range(one + 1, other)]
    price = sum(ARC_PRICE if kind else LINE_PRICE for kind in kinds)
    at, into, out = ((float(side[row, 0]), float(side[row, 1])) for side in (met.at, met.into, met.out))
    return Doubtful(index, one, other, first, last, price, at, float(met.turn[row]), into, out)


def _size(run: Run) -> int:
    """Samples of a run; a ring's first counts once."""
    return len(run.track) - 1 if run.chain.is_ring else len(run.track)


def _span(run: Run, before: int, after: int) -> tuple[int, int]:
    """The samples where one piece ends and another begins; in a ring they may run past the end."""
    assert run.pieces is not None  # noqa: S101 - corners are of runs in pieces
    count, size = len(run.curves), _size(run)
    first, last = int(run.pieces.breaks[before + 1]), int(run.pieces.breaks[after % count])
    return first, last if last >= first else last + size


def _middle(run: Run, before: int, after: int) -> int:
    first, last = _span(run, before, after)
    return (first + last) // 2 % _size(run)


def reshaped(run: Run, wanted: tuple[tuple[Doubtful, Corner], ...]) -> Run:
    """The run with some of its short pieces gone, or one arc in their place where such an arc exists."""
    assert run.pieces is not None  # noqa: S101 - only runs in pieces have corners
    count, size = len(run.curves), _size(run)
    starts = dict(enumerate(run.pieces.breaks[:-1].tolist()))
    kinds = dict(enumerate(run.pieces.is_arc.tolist()))
    drawn = {k: run.curves[k : k + 1] for k in range(count)}
    for doubt, corner in wanted:
        after = doubt.after % count
        arc = _fillet(run, doubt) if corner is Corner.ROUNDED and doubt.radius else None
        if corner is Corner.AS_IT_IS or (corner is Corner.ROUNDED and arc is None):
            continue
        for piece in doubt.short():
            del starts[piece % count], kinds[piece % count], drawn[piece % count]
        starts[after] = _middle(run, doubt.before, doubt.after)
        if arc is not None:
            put = count + doubt.before
            starts[put], kinds[put], drawn[put] = arc.first % size, True, arc.curve
            starts[after] = arc.last % size
    order = sorted(starts, key=lambda k: (k % count, k))
    return rebuilt(
        run, [starts[k] for k in order], [kinds[k] for k in order], together([drawn[k] for k in order])
    )


@dataclass(frozen=True, eq=False)
class Fillet:
    """An arc that touches both neighbours of a corner, and the samples it lies between."""

    curve: Curves
    first: int
    last: int


def _fillet(run: Run, doubt: Doubtful) -> Fillet | None:
    """The arc that both neighbours of a corner run into smoothly.

    A circle of radius r in a corner that turns by a touches its sides r tan(a / 2) from it.
    """
    radius, at = doubt.radius, np.array(doubt.at)
    into, out = np.array(doubt.into), np.array(doubt.out)
    inward = (out - into) / np.hypot(*(out - into))
    reach = radius * np.tan(abs(doubt.turn) / 2.0)
    centre = at + inward * (radius / np.cos(doubt.turn / 2.0))
    first, last = _touching(run, doubt, at - reach * into, at + reach * out)
    if last - first < 2:
        return None
    sense = np.array([[np.sign(doubt.turn), 0.0]])
    return Fillet(Curves(centre[None], sense, np.array([radius])), first, last)


def radius_of(area: float, turn: float) -> float:
    """px, the radius whose arc cuts area px^2 off a corner that turns by turn rad; 0 for none worth an arc.

    The two sides of the corner and the arc between them enclose r^2 (tan(a / 2) - a / 2).
    """
    turn = abs(turn)
    if area <= 0.0 or not LEAST_TURN < turn < MOST_TURN:
        return 0.0
    radius = float(np.sqrt(area / (np.tan(turn / 2.0) - turn / 2.0)))
    return radius if radius > LEAST_RADIUS else 0.0


def _touching(run: Run, doubt: Doubtful, one: Floats, other: Floats) -> tuple[int, int]:
    """The samples nearest to two points, before and after a corner, inside its neighbours."""
    assert run.pieces is not None  # noqa: S101 - as above
    count, size = len(run.curves), _size(run)
    first, last = _span(run, doubt.before, doubt.after)
    middle = (first + last) // 2
    own = np.diff(run.pieces.breaks)
    low = np.arange(first - int(own[doubt.before]) + 1, middle)
    high = np.arange(middle + 1, last + int(own[doubt.after % count]))
    return _nearest(run, low, one, size, first), _nearest(run, high, other, size, last)


def _nearest(run: Run, among: Ints, point: Floats, size: int, default: int) -> int:
    if not among.size:
        return default
    return int(among[np.argmin(np.hypot(*(run.track.places[among % size] - point).T))])


def strips_near(doubt: Doubtful, step: Ints, cracks: int) -> Bools:
    """Which strips, at crack steps (n,) of a chain of so many cracks, tell for or against a corner."""
    span = (doubt.last - doubt.first) % cracks + 2 * ROUND
    return np.asarray((step - doubt.first + ROUND) % cracks <= span)


def chosen(doubt: Doubtful, off: dict[Corner, float], noise: float) -> Corner:
    """The cheapest corner, off being its squared differences from the picture, noise the pixels' own.

    The corner as it is was fitted to the samples, the others were not yet: they are given some LEEWAY.
    """
    unit = max(noise, LEAST_NOISE) ** 2
    price = {Corner.AS_IT_IS: doubt.price, Corner.SHARP: 0.0, Corner.ROUNDED: ARC_PRICE}
    as_it_is = (LEEWAY if doubt.short() else 1.0) * off[Corner.AS_IT_IS]
    unfit = off | {Corner.AS_IT_IS: as_it_is}
    return min(off, key=lambda corner: (unfit[corner] / unit + price[corner], -corner.value))
