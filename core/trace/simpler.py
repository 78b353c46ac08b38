"""Corners put to the question: sharp, rounded, or as the samples had it, whichever the pixels bear out.

Beside a corner blur and noise leave room for chamfers and tiny arcs that the samples alone cannot tell from
the corner itself or from a small rounding. The pixels can. Wherever two long pieces meet, or would meet near
by without the short ones between them, three outlines are forecast: as it is, with a sharp corner, and with
one arc that runs on smoothly at both ends. Its radius follows from the area by which the picture falls short
of the sharp corner, which no blur changes. The cheapest way to say it, within the pixels' noise, is taken.
"""

from dataclasses import dataclass, replace
from enum import Enum

import numpy as np

from core.outline.segments import Floats
from core.trace.breaks import ARC_PRICE, LEAST_RADIUS, LINE_PRICE, Pieces
from core.trace.faces import Bools, Ints
from core.trace.joints import Curve, crossings, turn_at
from core.trace.pieces import Run

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
    px is where its neighbours meet, turning by turn rad; radius px is that of the arc to try, 0 for none.
    """

    run: int
    before: int
    after: int
    first: int
    last: int
    price: float
    at: tuple[float, float]
    turn: float
    radius: float = 0.0

    def short(self) -> range:
        """The short pieces at the corner; there may be none."""
        return range(self.before + 1, self.after)


def doubtful(runs: tuple[Run, ...], blur: float) -> tuple[Doubtful, ...]:
    """Every corner between two long pieces, at most MOST_SHORT short ones between them."""
    longest = SHORT + SHORT_PER_BLUR * blur
    return tuple(
        doubt
        for index, run in enumerate(runs)
        if run.pieces is not None
        for one, other in _neighbours(run, run.pieces, longest)
        if (doubt := _doubt(index, run, one, other, 2.0 * longest)) is not None
    )


def _neighbours(run: Run, pieces: Pieces, longest: float) -> list[tuple[int, int]]:
    """Long pieces and the next long one after each."""
    length = np.hypot(*np.diff(run.track.places[pieces.breaks], axis=0).T)
    long_ones = np.nonzero(length >= longest)[0].tolist()
    if len(long_ones) < 2:
        return []
    gaps = list(zip(long_ones, [*long_ones[1:], long_ones[0] + len(length)], strict=True))
    return [gap for gap in (gaps if run.chain.is_ring else gaps[:-1]) if gap[1] - gap[0] - 1 <= MOST_SHORT]


def _doubt(index: int, run: Run, one: int, other: int, reach: float) -> Doubtful | None:
    assert run.pieces is not None  # noqa: S101 - doubtful asks only runs in pieces
    met = _met(run, one, other, reach)
    if met is None:
        return None
    count, size = len(run.curves), _size(run)
    first, last = (int(run.track.step[at % size]) for at in _span(run, one, other))
    kinds = [bool(run.pieces.is_arc[k % count]) for k in range(one + 1, other)]
    price = sum(ARC_PRICE if kind else LINE_PRICE for kind in kinds)
    at = float(met.at[0]), float(met.at[1])
    return Doubtful(index, one, other, first, last, price, at, met.turn)


@dataclass(frozen=True, eq=False)
class Meeting:
    """Where the neighbours of a group meet, how much they turn there (rad), and their headings."""

    at: Floats
    turn: float
    into: Floats
    out: Floats


def _met(run: Run, before: int, after: int, reach: float) -> Meeting | None:
    count = len(run.curves)
    one, other = run.curves[before], run.curves[after % count]
    found = crossings(one, other)
    if not len(found):
        return None
    near = run.track.places[_middle(run, before, after)]
    away = np.hypot(*(found - near).T)
    at = found[int(np.argmin(away))]
    if float(away.min()) > reach:
        return None
    return Meeting(at, turn_at(one, other, at), one.heading(at), other.heading(at))


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
    starts = {k: int(run.pieces.breaks[k]) for k in range(count)}
    kinds = {k: bool(run.pieces.is_arc[k]) for k in range(count)}
    drawn = dict(enumerate(run.curves))
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
    return _strung(run, [starts[k] for k in order], [kinds[k] for k in order], [drawn[k] for k in order])


def _strung(run: Run, starts: list[int], kinds: list[bool], drawn: list[Curve]) -> Run:
    """The run with pieces that begin at samples starts; a ring is opened at the first of them."""
    assert run.pieces is not None  # noqa: S101 - as above
    if not run.chain.is_ring:
        breaks = np.array([*starts, len(run.track) - 1])
        return replace(run, pieces=Pieces(breaks, np.array(kinds), run.pieces.cost), curves=tuple(drawn))
    size = _size(run)
    names = ("places", "weight", "step", "bend")
    bare = replace(run.track, **{name: getattr(run.track, name)[:-1] for name in names})
    breaks = np.append((np.array(starts) - starts[0]) % size, size)
    pieces = Pieces(breaks, np.array(kinds), run.pieces.cost)
    return replace(run, track=bare.rolled(starts[0]), pieces=pieces, curves=tuple(drawn))


@dataclass(frozen=True, eq=False)
class Fillet:
    """An arc that touches both neighbours of a corner, and the samples it lies between."""

    curve: Curve
    first: int
    last: int


def _fillet(run: Run, doubt: Doubtful) -> Fillet | None:
    """The arc that both neighbours of a corner run into smoothly.

    A circle of radius r in a corner that turns by a touches its sides r tan(a / 2) from it.
    """
    met = _met(run, doubt.before, doubt.after, np.inf)
    if met is None:
        return None
    radius = doubt.radius
    inward = (met.out - met.into) / np.hypot(*(met.out - met.into))
    reach = radius * np.tan(abs(met.turn) / 2.0)
    centre = met.at + inward * (radius / np.cos(met.turn / 2.0))
    first, last = _touching(run, doubt, met.at - reach * met.into, met.at + reach * met.out)
    sense = np.array([np.sign(met.turn), 0.0])
    return Fillet(Curve(centre, sense, radius), first, last) if last - first >= 2 else None


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
