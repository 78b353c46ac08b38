"""Ends of thin bars: where two edges run on side by side and only a pixel or two join them.

The samples at such an end feel both edges, so the search for pieces passes it over, and the two edges, nearly
parallel, would meet far off or nowhere. At a tip, edges that come together are hardly apart where the cracks
turn back; where they still are, the end is blunt, and a short line across is put there.
"""

from dataclasses import dataclass, replace

import numpy as np

from core.outline.segments import Floats
from core.trace.breaks import Pieces
from core.trace.joints import Curves, together
from core.trace.pieces import Run
from core.trace.seams import seams_of

#: rad; two edges that turn into each other by more than this may be the sides of a bar.
TURNED_BACK = np.radians(110.0)

#: px; how far apart the sides of a tip may be where its cracks turn back: a pixel and the doubt of it.
TIP_WIDTH = 1.6

#: px, and per px of blur: a stroke 2 sqrt(2) erfinv(1 / 2) sigmas wide sinks under half its contrast.
SUNK, SUNK_PER_BLUR = 0.4, 1.35

#: Cracks to either side of a break in which the furthest corner of an end is looked for, and for every px of
#: width; the widest bar whose end is passed over.
LOOK, LOOK_PER_WIDTH = 4, 1.5
WIDEST = 12.0


@dataclass(frozen=True, eq=False)
class Cap:
    """A short line across the end of a bar between two pieces, and the samples it lies between."""

    curve: Curves
    first: int
    last: int


def blunted(runs: tuple[Run, ...], blur: float) -> tuple[Run, ...]:
    """The runs with a line across every blunt end that their pieces pass over."""
    if not runs:
        return ()
    seams = seams_of(runs)
    one, other = seams.curves[seams.before], seams.curves[seams.after]
    out = one.headings(seams.near) - other.headings(seams.near)
    apart = one.nearest(seams.near) - other.nearest(seams.near)
    width = np.hypot(apart[:, 0], apart[:, 1])
    blunt = (width > _tip(blur)) & (width < WIDEST)
    blunt &= np.hypot(out[:, 0], out[:, 1]) >= 2.0 * np.sin(TURNED_BACK / 2.0)
    caps: dict[int, dict[int, Cap]] = {}
    for seam in np.nonzero(blunt)[0].tolist():
        run = int(seams.rows.owner[seam])
        piece = int(seams.after[seam] - seams.pieces.first[run])
        cap = _cap(runs[run], piece, out[seam] / np.hypot(*out[seam]), float(width[seam]), blur)
        if cap is not None:
            caps.setdefault(run, {})[piece] = cap
    return tuple(_capped(run, caps[at]) if at in caps else run for at, run in enumerate(runs))


def _tip(blur: float) -> float:
    """px; how far apart the sides of a tip may be."""
    return max(TIP_WIDTH, SUNK + SUNK_PER_BLUR * blur)


def _capped(run: Run, caps: dict[int, Cap]) -> Run:
    """The run with these caps before the pieces of these numbers."""
    assert run.pieces is not None  # noqa: S101 - only pieces have ends
    starts, kinds, drawn = [], [], []
    for piece, start in enumerate(run.pieces.breaks[:-1].tolist()):
        cap = caps.get(piece)
        if cap is not None:
            starts.append(cap.first)
            kinds.append(False)
            drawn.append(cap.curve)
        starts.append(cap.last if cap is not None else start)
        kinds.append(bool(run.pieces.is_arc[piece]))
        drawn.append(run.curves[piece : piece + 1])
    return rebuilt(run, starts, kinds, together(drawn))


def rebuilt(run: Run, starts: list[int], kinds: list[bool], drawn: Curves) -> Run:
    """The run with pieces that begin at samples starts; a ring is opened at the first of them."""
    assert run.pieces is not None  # noqa: S101 - only runs in pieces are given others
    if not run.chain.is_ring:
        breaks = np.array([*starts, len(run.track) - 1])
        return replace(run, pieces=Pieces(breaks, np.array(kinds), run.pieces.cost), curves=drawn)
    size = len(run.track) - 1
    names = ("places", "weight", "step", "bend")
    bare = replace(run.track, **{name: getattr(run.track, name)[:-1] for name in names})
    breaks = np.append((np.array(starts) - starts[0]) % size, size)
    pieces = Pieces(breaks, np.array(kinds), run.pieces.cost)
    return replace(run, track=bare.rolled(starts[0] % size), pieces=pieces, curves=drawn)


def _cap(run: Run, after: int, out: Floats, width: float, blur: float) -> Cap | None:
    """The cap before a piece, out (2,) being the way its bar points there."""
    assert run.pieces is not None  # noqa: S101 - as above
    count = len(run.curves)
    at = int(run.pieces.breaks[after])
    end = _furthest(run, int(run.track.step[at]), out, width)
    both = run.curves[np.array([(after - 1) % count, after])]
    left, right = both.nearest(np.array([end, end]))
    across = right - left
    apart = float(np.hypot(*across))
    if apart < _tip(blur):
        return None
    first, last = _between(run, at, (left + right) / 2.0, out, apart)
    return Cap(Curves(end[None], (across / apart)[None], np.zeros(1)), first, last)


def _furthest(run: Run, step: int, out: Floats, width: float) -> Floats:
    """The lattice corner near a crack that lies furthest along out."""
    reach = int(LOOK + LOOK_PER_WIDTH * width)
    index = np.arange(step - reach, step + reach + 1)
    count = len(run.corners) - 1
    index = index % count if run.chain.is_ring else np.clip(index, 0, count)
    corners = run.corners[index]
    return np.asarray(corners[int(np.argmax(corners @ out))])


def _between(run: Run, at: int, end: Floats, out: Floats, width: float) -> tuple[int, int]:
    """The last sample of one side and the last before the other: those in the middle third are the cap's."""
    size = len(run.track) - 1 if run.chain.is_ring else len(run.track)
    reach = int(LOOK + LOOK_PER_WIDTH * width)
    index = np.arange(at - reach, at + reach + 1)
    if not run.chain.is_ring:
        index = index[(index > 0) & (index < size - 1)]
    off = run.track.places[index % size] - end
    across = np.abs(off[:, 0] * out[1] - off[:, 1] * out[0])
    own = index[(across < width / 3.0) & (off @ out > -width / 2.0)]
    if not own.size:
        return at - 1, at
    return int(own[0]) - 1, int(own[-1])
