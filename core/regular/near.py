"""Which lines and arcs are nearly regular, and by how much they would have to give.

Every candidate says a length in px by which it is off, and how much of that the noise explains. A line of
length L whose places scatter by s leans by about 2 sqrt(2) s over its length; an arc of chord c and sagitta
q has radius c^2 / 8q + q / 2, so that s in q makes r s / q of it.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.curve import picked
from core.outline.segments import Floats
from core.regular.frame import Frame
from core.regular.relation import (
    Relations,
    concentric,
    equal_radii,
    equidistant,
    level,
    smooth,
    square,
    upright,
)
from core.regular.rule import Rule
from core.regular.solve import Values

#: Standard deviations up to which a difference is noise.
WITHIN = 4.0
#: How many times the noise a difference may be and still look meant: then it is left, and said.
MEANT = 8.0
#: Noise makes a line lean by this many times itself over its length: 2 sqrt(2).
LEANING = 2.0 * 2.0**0.5
#: rad; a line that noise alone may turn by more has no direction to compare.
MOST_LEAN = np.radians(4.0)
#: Share of a radius from which its noise makes it no radius to compare.
VAGUE = 0.05
#: Share of a radius by which radii, or centres, differ at most to be taken for one, whatever the noise.
LIKE = 0.02
#: The same from which on a difference beyond the noise says nothing.
CLEAR = 0.01
#: rad; joints that turn less were made smooth by the trace, and stay so.
SMOOTH = 1e-5


@dataclass(frozen=True, eq=False)
class Candidate:
    """One thing that may be made regular: segments concerned, px off, px that noise explains, relations.

    freed are lines that may become arcs for it; is_vague: nothing can be said of it beyond its noise.
    """

    rule: Rule
    segments: tuple[int, ...]
    off: float
    noise: float
    relations: tuple[Relations, ...]
    freed: tuple[int, ...] = ()
    is_vague: bool = False

    @property
    def is_within(self) -> bool:
        """Whether the noise explains it."""
        return self.off <= WITHIN * self.noise

    @property
    def is_near(self) -> bool:
        """Whether it looks meant, but is more than noise."""
        return not self.is_within and self.off <= MEANT * self.noise and not self.is_vague


def candidates(values: Values, rules: frozenset[Rule]) -> list[Candidate]:
    """All that the rules but the mirror ask for."""
    found: list[Candidate] = []
    if Rule.LEVEL in rules:
        found += _level(values)
    if Rule.SQUARE in rules:
        found += _square(values)
    if Rule.RADII in rules:
        found += _radii(values)
    if Rule.CENTRES in rules:
        found += _centres(values)
    return found


def _lines(frame: Frame) -> list[int]:
    """The lines that have a direction worth keeping: noise alone must not turn them by much."""
    lengths = frame.segments().chord_lengths()
    known = WITHIN * LEANING * frame.noise < MOST_LEAN * lengths
    return [int(row) for row in np.flatnonzero(frame.is_line & known)]


def _leaning(frame: Frame, row: int) -> float:
    """Px over its whole length by which noise may make a line lean."""
    return float(LEANING * frame.noise[row])


def _level(values: Values) -> list[Candidate]:
    frame, found = values.frame, []
    chords = np.abs(frame.segments().chords())
    for row in _lines(frame):
        across, says = (
            (chords[row, 1], level) if chords[row, 0] > chords[row, 1] else (chords[row, 0], upright)
        )
        relation = Relations(says, values.segment(np.array([row])))
        found.append(Candidate(Rule.LEVEL, (row,), float(across), _leaning(frame, row), (relation,)))
    return found


def _square(values: Values) -> list[Candidate]:
    """Lines that meet, or that one arc joins."""
    frame, found = values.frame, []
    lines = set(_lines(frame))
    lengths = frame.segments().chord_lengths()
    for row in sorted(lines):
        other = frame.after(row)
        if other is not None and not frame.is_line[other]:
            other = frame.after(other)
        if other is None or other == row or other not in lines:
            continue
        relation = _pair(values, square, row, other)
        shorter = min(lengths[row], lengths[other])
        noise = np.hypot(*(_leaning(frame, k) / lengths[k] for k in (row, other))) * shorter
        off = float(np.abs(relation.off(values.first))[0])
        found.append(Candidate(Rule.SQUARE, (row, other), off, float(noise), (relation,)))
    return found


def _pair(values: Values, says: object, one: int, other: int) -> Relations:
    where = np.hstack((values.segment(np.array([one])), values.segment(np.array([other]))))
    return Relations(says, where)  # type: ignore[arg-type]


@dataclass(frozen=True, eq=False)
class Arcs:
    """Arcs with a radius worth comparing: rows (n,), radii (n,) px, centres (n, 2), noise (n,) px of both."""

    rows: np.ndarray
    radii: Floats
    centres: Floats
    noise: Floats


def arcs_of(frame: Frame) -> Arcs:
    """One for each circle or arc; a ring that is a circle counts once."""
    segments = frame.segments()
    sagittas = np.abs(segments.bulges) * segments.chord_lengths() / 2.0
    with np.errstate(divide="ignore", invalid="ignore"):
        noise = frame.noise * segments.radii() / sagittas
    # beyond a half turn the circle is held from all round
    noise = np.maximum(noise, frame.noise)
    kept = ~frame.is_line & (noise < VAGUE * segments.radii())
    for index in circle_chains(frame):
        kept[np.flatnonzero(frame.owner == index)[1:]] = False
    rows = np.flatnonzero(kept)
    own = picked(segments, rows)
    return Arcs(rows, own.radii(), own.centres(), noise[rows])


def circle_chains(frame: Frame) -> list[int]:
    """The Chains that are one circle in two arcs, whose joints lie anywhere on it."""
    return [
        index
        for index, chain in enumerate(frame.outline.chains)
        if chain.is_ring and len(chain.bulges) == 2 and _is_circle(frame, index)
    ]


def _is_circle(frame: Frame, chain: int) -> bool:
    bulges = frame.bulges[frame.owner == chain]
    sweep = float(np.abs(4.0 * np.arctan(bulges)).sum())
    return bool(bulges[0] * bulges[1] > 0.0 and abs(sweep - 2.0 * np.pi) < SMOOTH)


def _radii(values: Values) -> list[Candidate]:
    arcs = arcs_of(values.frame)
    found = []
    for one, other in _alike(arcs.radii[:, None], arcs):
        rows = int(arcs.rows[one]), int(arcs.rows[other])
        off = abs(float(arcs.radii[one] - arcs.radii[other]))
        noise = float(np.hypot(arcs.noise[one], arcs.noise[other]))
        relation = _pair(values, equal_radii, *rows)
        vague = noise > CLEAR * float(arcs.radii[other])
        found.append(Candidate(Rule.RADII, rows, off, noise, (relation,), is_vague=vague))
    return found


def _centres(values: Values) -> list[Candidate]:
    arcs = arcs_of(values.frame)
    found = []
    for one, other in _alike(arcs.centres, arcs):
        rows = int(arcs.rows[one]), int(arcs.rows[other])
        off = float(np.hypot(*(arcs.centres[one] - arcs.centres[other])))
        noise = float(np.hypot(arcs.noise[one], arcs.noise[other]))
        relations = (_pair(values, equidistant, *rows), _pair(values, concentric, *rows))
        vague = noise > CLEAR * float(arcs.radii[other])
        found.append(Candidate(Rule.CENTRES, rows, off, noise, relations, is_vague=vague))
    return found


def _alike(places: Floats, arcs: Arcs) -> list[tuple[int, int]]:
    """Pairs to compare: each with the nearest of those known better that it may be the same as."""
    found: list[tuple[int, int]] = []
    leads: list[int] = []
    for row in np.argsort(arcs.noise, kind="stable").tolist():
        apart = np.linalg.norm(places[leads] - places[row], axis=1)
        noise = np.hypot(arcs.noise[leads], arcs.noise[row])
        limits = np.minimum(MEANT * noise, LIKE * np.minimum(arcs.radii[leads], arcs.radii[row]))
        close = np.flatnonzero(apart <= limits)
        best = int(close[apart[close].argmin()]) if close.size else -1
        if close.size:
            found.append((leads[best], row))
        if not close.size or apart[best] > WITHIN * noise[best]:
            leads.append(row)
    return found


def smooth_joints(values: Values) -> Relations:
    """That every joint which the trace made smooth stays so."""
    frame = values.frame
    pairs = [
        (row, after) for row in range(len(frame.tails)) if (after := frame.after(row)) not in (None, row)
    ]
    where = np.array(pairs, dtype=np.int64).reshape(-1, 2)
    says = Relations(smooth, np.hstack((values.segment(where[:, 0]), values.segment(where[:, 1]))))
    segments = frame.segments()
    shorter = np.minimum(*(segments.lengths()[where[:, side]] for side in (0, 1)))
    return says.chosen(np.abs(says.off(values.first)) < SMOOTH * shorter)
