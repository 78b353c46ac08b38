"""A film's plot: what is cut when the file is sent to a cutter as it is, against the film's proven drawing.

The runs of the lowered pen are read from the bytes and brought back to the frame: the shift taken off, a
stated correction and mirror undone. Where the plot steers the knife, the tip of a simulated blade is judged
and not the path. Each run is then one contour of the drawing, in the drawing's order, with its overcut.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, inf

import numpy as np
import shapely
from numpy.typing import NDArray

from core.drawing.read.hpgl import PenRun, ReadPlot, read_hpgl
from core.findings import Finding
from core.proof.blade import Blade, closed_tip, tips_along
from core.proof.claims import Claims, FilmClaim, KnifeClaim, MarkClaim
from core.proof.edges import EdgeDistance
from core.proof.layers import Contour, NamedLayers
from core.proof.lines import closed, lines_distance
from core.proof.marks import round_area
from core.proof.polygons import flat_ring, narrowed
from core.proof.readback import breach

Points = NDArray[np.float64]

#: mm in a plotter unit (HP-GL: 1016 units in an inch).
UNIT_MM = 0.025
#: mm: a unit's rounding each way (0.0177), the chord of an arc (0.005), and what the drawing itself is off.
PLOT_WITHIN = 0.03
#: mm: the tip of a steered knife, root mean square along the edge, and at the worst corner.
TIP_RMS, TIP_WITHIN = 0.02, 0.05
#: mm: half a unit; of a diameter also what chords take from a circle.
PLOT_MARK_WITHIN, PLOT_DIAMETER_WITHIN = 0.013, 0.03
#: mm by which an overcut may differ from the stated one, and the box round a run from its contour's.
OVERCUT_WITHIN, BOX_WITHIN = 0.15, 0.1
#: mm that the run which turns the knife keeps from everything that is cut: it lies in the waste.
CLEAR_OF = 1.0
#: The overcut is at most this share of a contour.
OVERCUT_SHARE = 0.1
#: rad from the first way to where the simulated knife points at first: nearly the worst there is.
WORST_START = 3.0
#: What a coordinate may be: nothing left of or below the zero, no more than older controllers hold.
LEAST, MOST = 0.0, 32767.0
#: Corners, the first one again at the end, of the least that bounds anything.
CLOSED_CORNERS = 4
#: Pens with their layers ({} is the film's name), in the order in which they cut.
LAYERS = {2: "marks", 1: "film-{}", 3: "weeding"}
FILM_PEN, MARKS_PEN, WEEDING_PEN = 1, 2, 3


@dataclass(frozen=True)
class PlotProof:
    """Distances to the film's drawing and of the marks from their places, mm."""

    edge: EdgeDistance
    mark_error_mm: float
    findings: tuple[Finding, ...]


@dataclass(frozen=True, eq=False)
class _Cut:
    """What one run cuts, in the frame: line (n, 2) mm."""

    pen: int
    line: Points


@dataclass(frozen=True, eq=False)
class _Pair:
    """A cut and the contour it should be; ring is the cut once round, empty where the contour is open."""

    cut: _Cut
    wanted: Points
    ring: Points
    overcut_mm: float


def prove_plot(
    path: str,
    data: bytes,
    film: FilmClaim,
    drawing: tuple[NamedLayers, EdgeDistance | None],
    claims: Claims,
) -> PlotProof:
    """The plot against the film's drawing, which holds all copies. Raises UnreadableFile.

    What the drawing is off itself is added to the film's distance: it is then no less than the true one.
    """
    plot, (named, drawn) = read_hpgl(data), drawing
    cuts = _cuts(plot, film.knife, claims)
    turning = cuts[:1] if film.knife.is_steered and cuts and cuts[0].pen == WEEDING_PEN else []
    cuts = cuts[len(turning) :]
    contours = {pen: named.layers.of(name.format(film.name)) for pen, name in LAYERS.items()}
    findings = [*_form_findings(path, plot, cuts), *_turning_findings(path, turning, contours)]
    pairs = {pen: _pairs(pen, cuts, contours[pen], film.knife) for pen in LAYERS}
    edges = {pen: _distance(pairs[pen], len(contours[pen])) for pen in LAYERS}
    if drawn is not None:
        edges[FILM_PEN] = _added(edges[FILM_PEN], drawn)
    for pen, edge in edges.items():
        findings += _edge_findings(path, LAYERS[pen].format(film.name), edge, film.knife)
        findings += _round_findings(path, pairs[pen], film.knife)
    findings += _order_findings(path, pairs[FILM_PEN])
    marks = _mark_error([pair.ring for pair in pairs[MARKS_PEN]], claims.marks, claims.cutter_wider_mm)
    off_grid = any(mark.kind == "edge" for mark in claims.marks)  # every corner of a strip is rounded
    if marks > (PLOT_WITHIN if off_grid else PLOT_MARK_WITHIN):
        how = "are not all there, or of another size" if marks == inf else f"lie {marks:.4f} mm off"
        findings.append(breach("marks-differ", f"The marks in {path} {how}."))
    return PlotProof(edges[FILM_PEN], marks, tuple(findings))


def _cuts(plot: ReadPlot, knife: KnifeClaim, claims: Claims) -> list[_Cut]:
    """What the runs cut: the path itself, or the tip's way where the plot steers the knife."""
    ways = [_in_frame(run, claims) for run in plot.runs]
    if knife.is_steered and ways:
        first = ways[0][1] - ways[0][0]
        heading = float(np.arctan2(first[1], first[0])) + WORST_START
        ways = tips_along(ways, Blade(knife.offset_mm, heading))
    if claims.mirror_x is not None:
        ways = [way * np.array([-1.0, 1.0]) + np.array([2.0 * claims.mirror_x, 0.0]) for way in ways]
    return [_Cut(run.pen, way) for run, way in zip(plot.runs, ways, strict=True)]


def _in_frame(run: PenRun, claims: Claims) -> Points:
    """The run in mm, shift and correction undone; a mirror stays, since the knife works in it."""
    points = run.points * UNIT_MM - np.array(claims.plot_shift)
    return points if claims.cutter is None else claims.cutter.undone(points)


def _pairs(pen: int, cuts: Sequence[_Cut], contours: Sequence[Contour], knife: KnifeClaim) -> list[_Pair]:
    """Cuts and contours of one pen, in order, as far as there are both."""
    of_pen = [cut for cut in cuts if cut.pen == pen]
    return [_pair(cut, contour, knife) for cut, contour in zip(of_pen, contours, strict=False)]


def _pair(cut: _Cut, contour: Contour, knife: KnifeClaim) -> _Pair:
    if not contour.is_closed:
        return _Pair(cut, contour.points, np.empty((0, 2)), 0.0)
    wanted = closed(flat_ring(contour.points, contour.bulges))
    overcut = min(knife.overcut_mm, OVERCUT_SHARE * _length(wanted))
    if knife.is_steered:
        ring = closed_tip(cut.line, overcut, OVERCUT_WITHIN + knife.offset_mm)
    else:
        same = np.flatnonzero((cut.line == cut.line[0]).all(axis=1))
        ring = cut.line[: int(same[-1]) + 1]
    return _Pair(cut, wanted, ring, overcut)


def _length(line: Points) -> float:
    return float(np.hypot(*np.diff(line, axis=0).T).sum())


def _distance(pairs: Sequence[_Pair], count: int) -> EdgeDistance:
    """Between all cuts of a pen and all its contours; infinite where their numbers or boxes differ."""
    strays = [pair for pair in pairs if _box_off(pair) > BOX_WITHIN]
    if len(pairs) != count or strays:
        at = strays[0].wanted[0] if strays else None
        return EdgeDistance(inf, inf, None if at is None else (float(at[0]), float(at[1])))
    return lines_distance([pair.cut.line for pair in pairs], [pair.wanted for pair in pairs])


def _added(one: EdgeDistance, other: EdgeDistance) -> EdgeDistance:
    return EdgeDistance(one.rms_mm + other.rms_mm, one.max_mm + other.max_mm, one.at)


def _box_off(pair: _Pair) -> float:
    boxes = [np.concatenate((line.min(axis=0), line.max(axis=0))) for line in (pair.cut.line, pair.wanted)]
    return float(np.abs(boxes[0] - boxes[1]).max())


def _edge_findings(path: str, layer: str, edge: EdgeDistance, knife: KnifeClaim) -> tuple[Finding, ...]:
    within = TIP_WITHIN if knife.is_steered else PLOT_WITHIN
    if edge.max_mm <= within and (edge.rms_mm <= TIP_RMS or not knife.is_steered):
        return ()
    is_known = edge.max_mm < inf
    how = f"lies up to {edge.max_mm:.4f} mm off the drawing" if is_known else "is not what the drawing has"
    what = "What the knife cuts" if knife.is_steered else "What is drawn"
    return (breach("plot-differs", f"{what} of {layer} in {path} {how}.", edge.at),)


def _round_findings(path: str, pairs: Sequence[_Pair], knife: KnifeClaim) -> list[Finding]:
    """Stops for contours that do not end where they began, or go on by another length than stated."""
    found = []
    for pair in pairs:
        if not len(pair.ring):
            continue
        at = (float(pair.wanted[0, 0]), float(pair.wanted[0, 1]))
        gap = hypot(*(pair.ring[-1] - pair.ring[0]))
        if len(pair.ring) < CLOSED_CORNERS or gap > (TIP_WITHIN if knife.is_steered else 0.0):
            found.append(breach("contour-open", f"A contour in {path} does not end where it began.", at))
        elif abs(_length(pair.cut.line) - _length(pair.ring) - pair.overcut_mm) > OVERCUT_WITHIN:
            found.append(
                breach("overcut-differs", f"A contour in {path} has another overcut than stated.", at)
            )
    return found[:1]


def _form_findings(path: str, plot: ReadPlot, cuts: Sequence[_Cut]) -> list[Finding]:
    """Stops for numbers that a controller does not hold, a pen left down, and pens out of order."""
    found = []
    if plot.least < LEAST or plot.most > MOST:
        text = f"{path} has numbers from {plot.least:g} to {plot.most:g}, beyond {LEAST:g} to {MOST:g}."
        found.append(breach("plot-out-of-range", text))
    if not plot.ends_up:
        found.append(breach("pen-down", f"{path} ends with the pen down."))
    pens = [cut.pen for cut in cuts]
    if sorted(pens, key=list(LAYERS).index if set(pens) <= set(LAYERS) else None) != pens:
        text = f"{path} does not cut the marks first, then the film, and the sheet box last."
        found.append(breach("plot-order", text))
    return found


def _order_findings(path: str, pairs: Sequence[_Pair]) -> list[Finding]:
    """A stop when a contour is cut before one inside it, which would then lie on a loose piece."""
    if len(pairs) < 2:
        return []
    pairs = [pair for pair in pairs if len(pair.wanted) >= CLOSED_CORNERS]
    solids = np.array([shapely.Polygon(pair.wanted) for pair in pairs], dtype=object)
    inner, outer = shapely.STRtree(solids).query(solids, predicate="within")
    late = np.flatnonzero(inner > outer)
    if not late.size:
        return []
    at = shapely.get_coordinates(solids[inner[late[0]]])[0]
    text = f"{path} cuts round a piece before what lies inside it."
    return [breach("plot-order", text, (float(at[0]), float(at[1])))]


def _turning_findings(
    path: str, turning: Sequence[_Cut], contours: dict[int, tuple[Contour, ...]]
) -> list[Finding]:
    """A stop when the run that turns the knife comes near anything that is kept, or lies in it."""
    kept = {
        pen: [flat_ring(one.points, one.bulges) for one in every if one.is_closed]
        for pen, every in contours.items()
    }
    lines = shapely.MultiLineString([closed(ring) for rings in kept.values() for ring in rings])
    pieces = [shapely.Polygon(ring) for pen in (FILM_PEN, MARKS_PEN) for ring in kept.get(pen, ())]
    for cut in turning:
        # Clear of every line, all of it lies where its first point does: in so many contours, openings too.
        around = np.count_nonzero(shapely.contains_xy(pieces, *cut.line[0])) if pieces else 0
        if around % 2 == 1 or shapely.distance(shapely.LineString(cut.line), lines) < CLEAR_OF:
            at = (float(cut.line[0, 0]), float(cut.line[0, 1]))
            return [breach("plot-order", f"The run that turns the knife in {path} is not in the waste.", at)]
    return []


def _mark_error(rings: Sequence[Points], marks: Sequence[MarkClaim], wider_mm: float) -> float:
    """How far the marks are from the claimed ones, mm; infinite when one is missing, or of another size."""
    if len(rings) != len(marks) or any(len(ring) < CLOSED_CORNERS for ring in rings):
        return inf
    # A tip turned on the spot draws a knot too small to see: the sums of area and middle bear it.
    found = [round_area(narrowed(shapely.Polygon(ring), wider_mm)) for ring in rings]
    return max((min(_mark_off(mark, *one) for one in found) for mark in marks), default=0.0)


def _mark_off(mark: MarkClaim, centre: tuple[float, float], diameter_mm: float) -> float:
    if abs(diameter_mm - mark.film_diameter_mm) > PLOT_DIAMETER_WITHIN:
        return inf
    return hypot(centre[0] - mark.at[0], centre[1] - mark.at[1])
