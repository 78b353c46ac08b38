"""What a program takes away, seen from above at a named depth.

1. Every move is clipped to where it runs at or below the depth: z goes in proportion along it, so that the
   clip is a share of its sweep. Rapids count too: a bit cuts whatever it is called.
2. Moves that cover the same ground again, as passes do, are kept once.
3. Arcs become chords. A chord lies inside its arc, so the corners between are pushed outward by half the
   sagitta: the error is then split to both sides. Where a piece ends, its round end adds as much again,
   so that the edge lies within FLATNESS of the true one, to neither side on the whole.
4. Runs of moves are grown by the bit's radius, a few corners at a time, and united. A grown run that does
   not even hold its own line, or has an opening beside it, as GEOS makes of some that fold back on themselves
   or run in rounds, is grown chord by chord.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from core.program.read.program import Program
from core.proof.sweeps import SAME_PLACE, places_at, radii_of, sweeps_of

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

#: mm by which a chord may leave its arc: a twentieth of the 0.01 mm that the proof must see.
FLATNESS = 5e-4
#: mm; a level move at the depth counts as reaching it, whatever the last digit of the file.
LEVEL_SLACK = 1e-6
#: Corners in one piece that is grown; more cost more than their union saves (measured).
PIECE_CORNERS = 200
#: mm; moves whose ends and centres differ by less are the same one.
SAME_MOVE = 1e-6
#: mm above the crest of a tab at which the edge is judged, as if the tab had been cut flush.
ABOVE_CREST = 1e-3


@dataclass(frozen=True, eq=False)
class Cuts:
    """Shares first to last (m,) of moves rows (m,) of a program, those at or below a depth."""

    rows: Ints
    first: Floats
    last: Floats


def cuts_below(program: Program, depth_z: float) -> Cuts:
    """The stretches of the moves that run at or below depth_z (mm, program); unknown starts are left out."""
    z0, z1 = program.starts[:, 2], program.ends[:, 2]
    limit = depth_z + LEVEL_SLACK
    with np.errstate(invalid="ignore", divide="ignore"):
        crossing = (limit - z0) / (z1 - z0)
        starts_below, ends_below = z0 <= limit, z1 <= limit
    first = np.where(starts_below, 0.0, crossing)
    last = np.where(ends_below, 1.0, crossing)
    known = ~np.isnan(program.starts).any(axis=1)
    rows = np.nonzero(known & (starts_below | ends_below))[0]
    return Cuts(rows, first[rows], last[rows])


def without_repeats(program: Program, cuts: Cuts) -> Cuts:
    """The same ground with every stretch that lies over an earlier one left out."""
    key: Floats = np.column_stack(
        (
            places_at(program, cuts.rows, cuts.first)[:, :2],
            places_at(program, cuts.rows, cuts.last)[:, :2],
            np.nan_to_num(program.centres[cuts.rows]),
            program.turns[cuts.rows],
        )
    )
    steps = np.rint(key / SAME_MOVE).astype(np.int64)
    _, kept = np.unique(steps, axis=0, return_index=True)
    kept.sort()
    return Cuts(cuts.rows[kept], cuts.first[kept], cuts.last[kept])


def corners_of(program: Program, cuts: Cuts, flatness: float = FLATNESS) -> tuple[Floats, Ints]:
    """Corners (k, 2) mm of the stretches as chords, and for each (k,) the stretch that it belongs to."""
    sweeps = np.abs(sweeps_of(program)[cuts.rows]) * (cuts.last - cuts.first)
    radii = radii_of(program)[cuts.rows]
    counts = _chord_counts(sweeps, radii, flatness)
    stretch = np.repeat(np.arange(counts.size), counts + 1)
    begin = np.cumsum(counts + 1) - (counts + 1)
    within = np.arange(stretch.size) - begin[stretch]
    done = within / counts[stretch]
    share = cuts.first[stretch] + done * (cuts.last - cuts.first)[stretch]
    corners = places_at(program, cuts.rows[stretch], share)[:, :2]
    is_inner = (done > 0.0) & (done < 1.0)
    sagitta = radii * (1.0 - np.cos(sweeps / (2.0 * counts)))
    return _pushed(
        program, corners, cuts.rows[stretch], np.where(is_inner, sagitta[stretch] / 2.0, 0.0)
    ), stretch


def _chord_counts(sweeps: Floats, radii: Floats, flatness: float) -> Ints:
    step = 2.0 * np.arccos(1.0 - np.clip(flatness / np.maximum(radii, flatness), 0.0, 0.5))
    return np.maximum(np.ceil(sweeps / step), 1.0).astype(np.int64)


def _pushed(program: Program, corners: Floats, rows: Ints, by: Floats) -> Floats:
    moved = by > 0.0
    arms = corners[moved] - program.centres[rows[moved]]
    pushed = corners.copy()
    pushed[moved] += arms * (by[moved] / np.hypot(arms[:, 0], arms[:, 1]))[:, None]
    return pushed


def swept(program: Program, cuts: Cuts, bit_mm: float, flatness: float = FLATNESS) -> BaseGeometry:
    """The ground (mm, program) that a bit of diameter bit_mm covers along the cuts."""
    if not cuts.rows.size:
        return shapely.Polygon()
    corners, stretch = corners_of(program, cuts, flatness)
    lines = _pieces(corners, stretch)
    radius = bit_mm / 2.0
    return shapely.union_all(_grown(lines, radius, quarter_steps(radius, flatness)))


def _grown(lines: NDArray[np.object_], radius: float, quarter: int) -> NDArray[np.object_]:
    """Each line grown by radius mm."""
    grown = np.asarray(shapely.buffer(lines, radius, quad_segs=quarter))
    for row in np.flatnonzero(~shapely.covers(grown, lines) | _have_false_holes(grown, lines, radius)):
        corners = shapely.get_coordinates(lines[row])
        chords = shapely.linestrings(np.stack((corners[:-1], corners[1:]), axis=1))
        grown[row] = shapely.union_all(shapely.buffer(chords, radius, quad_segs=quarter))
    return grown


def _have_false_holes(
    grown: NDArray[np.object_], lines: NDArray[np.object_], radius: float
) -> NDArray[np.bool_]:
    """(n,) whether an opening of a grown line lies within radius of it, as of some that run in rounds."""
    is_false = np.zeros(len(grown), dtype=np.bool_)
    for row in np.flatnonzero(shapely.get_num_interior_rings(grown) > 0):
        rings = [shapely.Polygon(ring) for ring in grown[row].interiors]
        middles = np.array([ring.representative_point() for ring in rings], dtype=object)
        is_false[row] = bool((shapely.distance(lines[row], middles) < radius - FLATNESS).any())
    return is_false


def _pieces(corners: Floats, stretch: Ints) -> NDArray[np.object_]:
    """Lines of at most PIECE_CORNERS chords along the path, broken where it is."""
    chords = np.nonzero(stretch[1:] == stretch[:-1])[0]
    starts, ends = corners[chords], corners[chords + 1]
    is_break = np.append(True, (np.abs(starts[1:] - ends[:-1]) > SAME_PLACE).any(axis=1))
    begins = np.nonzero(is_break)[0][np.cumsum(is_break) - 1]
    is_new = is_break | ((np.arange(chords.size) - begins) % PIECE_CORNERS == 0)
    piece = np.cumsum(is_new) - 1
    last = np.nonzero(np.append(is_new[1:], True))[0]
    places = np.insert(starts, last + 1, ends[last], axis=0)
    return np.asarray(shapely.linestrings(places, indices=np.insert(piece, last + 1, piece[last])))


def quarter_steps(radius: float, flatness: float = FLATNESS) -> int:
    """Chords in a quarter circle of radius mm that stay within half of flatness."""
    step = 2.0 * np.arccos(1.0 - min(flatness / (2.0 * max(radius, flatness)), 0.5))
    return int(np.ceil(np.pi / (2.0 * step)))


def swept_below(program: Program, bit_mm: float, depth_z: float, flatness: float = FLATNESS) -> BaseGeometry:
    """What is gone at depth_z (mm, program): the union of the bit along every stretch at or below it."""
    return swept(program, without_repeats(program, cuts_below(program, depth_z)), bit_mm, flatness)


def swept_flush(
    program: Program, bit_mm: float, bottom_z: float, tab_height_mm: float, flatness: float = FLATNESS
) -> BaseGeometry:
    """What is gone when the tabs have been cut flush; bottom_z is the stock's true bottom, mm.

    It is seen just above the tabs' crests, where the lap that lifts over them still runs along the edge.
    """
    return swept_below(program, bit_mm, bottom_z + tab_height_mm + ABOVE_CREST, flatness)
