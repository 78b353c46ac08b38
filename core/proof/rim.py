"""A rim, the line of a film along the part's edge, against what was asked for it: moved, thinned or dropped.

The report claims where on the patch's edge each run of the rim begins and ends. From the patch and the part
of the part drawing this says what the film's patch then is: moved, all within the inset of those runs too;
dropped, without what lies between them and the part's edge. It also says whether each run is a rim, and
whether there is one that nothing was claimed of.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from core.findings import Finding
from core.proof.claims import RimClaim, RimRunClaim
from core.proof.polygons import Points, quarter_steps
from core.proof.readback import Excepted, Why, breach

#: mm between two places of an edge that are looked at.
STEP = 0.1
#: mm within which a claimed end must lie on the patch's edge.
ON_EDGE = 0.005
#: mm round the end of a run where its band may end in this way or that, and that rays may stray there.
END_SLACK = 0.03
#: mm that film may lack on the way out to the part's edge, and degrees by which a rim may lean.
COVER_SLACK, MOST_LEAN, SURE_LEAN = 0.03, 50.0, 40.0
#: Share of a run's places that may look like no rim: those at its corners.
ODD_SHARE = 0.05
#: Times the widest rim that one place may be wide; widths that a rim is long; mm that are surely more.
WIDEST_TIMES, LEAST_LENGTHS, SURELY = 2.0, 2.0, 1.0
#: mm: nearer to the part's edge an edge is that edge, and so near to another film it adjoins it.
LEAST_WIDTH, ADJOINING = 0.1, 0.05
#: mm; what is left of a corner beside a shorter other edge is the rim's own.
OTHER_EDGE = 0.05
NOTHING = shapely.Polygon()

Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Asked:
    """The patch as its rim asks for it; where runs end, and least and most that film may have there.

    free: of a stencil, what it is without its bridges.
    """

    patch: BaseGeometry
    ends: BaseGeometry = NOTHING
    least: BaseGeometry = NOTHING
    most: BaseGeometry = NOTHING
    excepted: tuple[Excepted, ...] = ()
    free: BaseGeometry = NOTHING
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True)
class _Ground:
    """A film's patch, the part, and the other films' patches."""

    patch: BaseGeometry
    part: BaseGeometry
    others: BaseGeometry


def asked_patch(
    name: str,
    patch: BaseGeometry,
    part: BaseGeometry,
    others: Sequence[BaseGeometry],
    claim: RimClaim,
    inset_mm: float,
) -> Asked:
    """What the film's patch is to be; patch and part as they were drawn."""
    patch = shapely.make_valid(patch)
    ground = _Ground(patch, part, shapely.union_all([shapely.make_valid(other) for other in others]))
    found: list[Finding] = []
    runs: list[shapely.LineString] = []
    for run in claim.runs:
        line = _line_of(patch, run)
        if line is None or not _is_rim(line, ground, claim.widest_mm):
            text = f"What the report calls a rim of the film {name} is no line along the part's edge."
            found.append(breach("rim-strange", text, run.start))
        else:
            runs.append(line)
    # A rim that the inset thins is what the face leaves of it, whether anything is said of it or not.
    if claim.how != "thinned" and (at := _missed(ground, runs, claim.widest_mm)) is not None:
        text = f"The film {name} has a line along the part's edge that the report says nothing of."
        found.append(breach("rim-missed", text, at))
    if not runs or claim.how == "thinned":
        return Asked(patch, findings=tuple(found))
    made = _moved(ground, runs, inset_mm) if claim.how == "moved" else _dropped(ground, runs)
    excepted = tuple(Excepted(_start(line), Why.RIM, float(line.length)) for line in runs)
    return Asked(made.patch, made.ends, made.least, made.most, excepted, findings=tuple(found))


def _start(line: shapely.LineString) -> tuple[float, float]:
    x, y = line.coords[0]
    return float(x), float(y)


def _line_of(patch: BaseGeometry, run: RimRunClaim) -> shapely.LineString | None:
    """The patch's edge from one end of a run to the other, the patch on its left; None where none is."""
    ends = [shapely.Point(run.start), shapely.Point(run.end)]
    for ring in _rings(patch):
        if max(ring.distance(end) for end in ends) > ON_EDGE:
            continue
        first, last = (ring.project(end) for end in ends)
        if run.start == run.end:
            return ring
        ways = [(first, last)] if last > first else [(first, ring.length), (0.0, last)]
        corners = [np.asarray(substring(ring, *way).coords) for way in ways if way[1] > way[0]]
        return shapely.LineString(np.vstack(corners)) if corners else None
    return None


def _rings(area: BaseGeometry) -> list[shapely.LineString]:
    parts = [part for part in shapely.get_parts(area) if isinstance(part, shapely.Polygon)]
    return [
        shapely.LineString(ring.coords)
        for part in shapely.orient_polygons(np.array(parts, dtype=object))
        for ring in (part.exterior, *part.interiors)
    ]


@dataclass(frozen=True)
class _Places:
    """Places along an edge (n, 2), the length each stands for, how wide the rim is there, how it leans."""

    points: Points
    lengths: Points
    widths: Points
    lean_deg: Points
    is_covered: Flags
    is_plainly_covered: Flags

    @classmethod
    def along(cls, line: shapely.LineString, ground: _Ground) -> "_Places":
        corners = shapely.get_coordinates(shapely.segmentize(line, STEP))
        ahead = np.diff(corners, axis=0)
        lengths = np.hypot(*ahead.T)
        points = (corners[:-1] + corners[1:]) / 2.0
        ways = np.asarray(
            shapely.shortest_line(np.asarray(shapely.points(points)), shapely.boundary(ground.part))
        )
        inward = points - shapely.get_coordinates(ways).reshape(-1, 2, 2)[:, 1]
        widths = np.hypot(*inward.T)
        right = np.column_stack((ahead[:, 1], -ahead[:, 0])) / np.maximum(lengths, 1e-12)[:, None]
        cosine = (right * inward).sum(axis=1) / np.maximum(widths, 1e-12)
        film = ground.patch.buffer(COVER_SLACK)
        plain = ground.patch.buffer(ON_EDGE)
        shapely.prepare([film, plain])
        return cls(
            points,
            lengths,
            widths,
            np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))),
            np.asarray(shapely.covers(film, ways)),
            np.asarray(shapely.covers(plain, ways)),
        )

    def looks(self, widest: float, lean: float) -> Flags:
        """(n,) whether each place is one of a rim."""
        near = (self.widths >= LEAST_WIDTH) & (self.widths <= WIDEST_TIMES * widest)
        return np.asarray(near & (self.lean_deg <= lean) & self.is_covered)


def _is_rim(line: shapely.LineString, ground: _Ground, widest: float) -> bool:
    places = _Places.along(line, ground)
    odd = places.lengths[~places.looks(widest + STEP, MOST_LEAN)].sum()
    return bool(
        odd <= ODD_SHARE * line.length + STEP and _middle(places.widths, places.lengths) <= widest + STEP
    )


def _middle(widths: Points, lengths: Points) -> float:
    order = np.argsort(widths)
    passed = np.cumsum(lengths[order])
    return float(widths[order][np.searchsorted(passed, passed[-1] / 2.0)])


def _missed(ground: _Ground, runs: Sequence[shapely.LineString], widest: float) -> tuple[float, float] | None:
    """Where an edge that nothing was claimed of is surely a rim's.

    A run that is one by the strictest reading counts where the loosest reading, which lets it go on farther,
    finds no wider line there: how far a run goes is a matter of degrees.
    """
    claimed = shapely.union_all(list(runs)).buffer(STEP)
    shapely.prepare(claimed)
    for ring in _rings(ground.patch):
        places = _Places.along(ring, ground)
        spots = np.asarray(shapely.points(places.points))
        free = ~shapely.covers(claimed, spots) & ~shapely.dwithin(spots, ground.others, ADJOINING)
        sure = places.looks(widest - STEP, SURE_LEAN) & places.is_plainly_covered & free
        perhaps = places.looks(widest + STEP, MOST_LEAN)
        for low, high in _spans(sure):
            wide = _middle(places.widths[low:high], places.lengths[low:high])
            around = _around(perhaps, low, places)
            is_long = places.lengths[low:high].sum() >= LEAST_LENGTHS * max(wide, around) + SURELY
            if max(wide, around) <= widest - STEP and is_long:
                x, y = places.points[low]
                return float(x), float(y)
    return None


def _around(perhaps: Flags, at: int, places: "_Places") -> float:
    """The middle width of the loosest run that holds a place, round the ring; mm."""
    if perhaps.all():
        return _middle(places.widths, places.lengths)
    turn = np.roll(np.arange(perhaps.size), -at)
    ahead = turn[: int(np.argmin(perhaps[turn]))]
    behind = turn[::-1][: int(np.argmin(perhaps[turn[::-1]]))]
    rows = np.concatenate((ahead, behind))
    return _middle(places.widths[rows], places.lengths[rows])


def _spans(flags: Flags) -> list[tuple[int, int]]:
    edges = np.diff(np.concatenate(([0], flags.astype(np.int8), [0])))
    return list(zip(np.flatnonzero(edges == 1).tolist(), np.flatnonzero(edges == -1).tolist(), strict=True))


def _tips(runs: Sequence[shapely.LineString]) -> list[shapely.Point]:
    return [shapely.Point(line.coords[at]) for line in runs if not line.is_closed for at in (0, -1)]


def _moved(ground: _Ground, runs: Sequence[shapely.LineString], inset: float) -> Asked:
    steps = quarter_steps(inset)
    bands = [line.buffer(inset, cap_style="flat", quad_segs=steps) for line in runs]
    patch = shapely.difference(shapely.union_all([ground.patch, *bands]), ground.others)
    tips = [tip.buffer(inset + END_SLACK, quad_segs=steps) for tip in _tips(runs)]
    ahead = [_ahead(line, inset) for line in runs if not line.is_closed]
    most = shapely.union_all([patch, *ahead])
    return Asked(patch, shapely.union_all(tips), patch, most)


def _ahead(line: shapely.LineString, inset: float) -> BaseGeometry:
    """Half-discs beyond the square ends of a run's band: how its ends may go round to the next edge."""
    corners = np.asarray(line.coords)
    halves = []
    for tip, before in ((corners[0], corners[1]), (corners[-1], corners[-2])):
        on = (tip - before) / np.hypot(*(tip - before)) * (inset + END_SLACK)
        aside = np.array([-on[1], on[0]])
        half = shapely.Polygon([tip - aside, tip - aside + on, tip + aside + on, tip + aside])
        disc = shapely.Point(tip).buffer(inset, quad_segs=quarter_steps(inset))
        halves.append(half.buffer(END_SLACK).intersection(disc))
    return shapely.union_all(halves)


def _dropped(ground: _Ground, runs: Sequence[shapely.LineString]) -> Asked:
    edge = shapely.boundary(ground.part)
    swept = shapely.union_all([_swept(line, edge) for line in runs])
    left = shapely.get_parts(shapely.difference(ground.patch, swept))
    other = _other_edges(ground.patch, runs, edge)
    beside = shapely.length(shapely.intersection(shapely.buffer(left, ON_EDGE), other))
    patch = shapely.union_all(left[beside >= OTHER_EDGE])
    rays = [shapely.shortest_line(tip, edge).buffer(END_SLACK) for tip in _tips(runs)]
    return Asked(patch, shapely.union_all(rays), shapely.Polygon(), ground.patch)


def _swept(line: shapely.LineString, edge: BaseGeometry) -> BaseGeometry:
    """All between an edge and the part's, a hair beyond both."""
    inner = shapely.get_coordinates(shapely.segmentize(line, STEP))
    ways = shapely.shortest_line(np.asarray(shapely.points(inner)), edge)
    outer = shapely.get_coordinates(ways).reshape(-1, 2, 2)[:, 1]
    gone = outer - inner
    hair = ON_EDGE * gone / np.maximum(np.hypot(*gone.T), ON_EDGE)[:, None]
    inner, outer = inner - hair, outer + hair
    quads = np.asarray(shapely.polygons(np.stack((inner[:-1], inner[1:], outer[1:], outer[:-1]), axis=1)))
    return shapely.union_all(shapely.make_valid(quads))


def _other_edges(patch: BaseGeometry, runs: Sequence[shapely.LineString], edge: BaseGeometry) -> BaseGeometry:
    near = shapely.union_all([edge, *runs]).buffer(4.0 * ON_EDGE)
    return shapely.difference(shapely.boundary(patch), near)
