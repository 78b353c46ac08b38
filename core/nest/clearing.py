"""A pocket cleared down to its floor: rows there and back, one ring along their ends, then the wall.

Rows lie less than two bit radii apart, so nothing is left between them. Their ends stand on the inner ring:
a place nearer to the wall than the nearest row's foot lies nearer to that ring than the bit's radius.
"""

from collections.abc import Iterator

import numpy as np
import shapely

from core.outline.loop import Loop
from core.outline.polygon import to_polygon
from core.outline.region import Region
from core.outline.segments import Floats
from core.router.depths import descent
from core.router.passes import drop
from core.router.setup import Setup
from core.router.strand import Strand, strand_along, strand_of
from core.router.unrolled import Unrolled

#: Bit radii between two rows, and from the wall's path to the inner ring: under 2 and 1, with some in hand.
ROW_STEP, RING_IN = 1.6, 0.85
#: mm to which the inner ring follows its curves: it clears, and leaves no edge.
FLATNESS_MM = 0.02
#: Bit radii: a shorter row is covered by the ring that its ends stand on; a longer step starts a new run.
SHORTEST_ROW, LONGEST_STEP = 1.0, 4.0
#: mm run to and fro on the level before the next one is begun at the end of a run.
LEVEL_MM = 3.0


def cleared(name: str, centre: Region, setup: Setup) -> tuple[Strand, ...]:
    """Strands that clear one pocket; centre: where the bit's centre may be, without openings; mm."""
    radius = setup.bit.radius_mm
    area = to_polygon((centre,), FLATNESS_MM)
    inner = shapely.simplify(shapely.buffer(area, -RING_IN * radius), FLATNESS_MM)
    pieces = [piece for piece in shapely.get_parts(inner) if piece.area > 0.0]
    rows = [_rows(f"{name}, rows", piece, area, setup) for piece in pieces]
    edges = [ring for piece in pieces for ring in shapely.get_rings(piece).tolist()]
    rings = [_ring(f"{name}, inner ring", _loop(edge), setup) for edge in edges if edge.length > radius]
    return (
        *(strand for each in rows for strand in each),
        *rings,
        _ring(f"{name}, wall", centre.outer, setup),
    )


def _loop(ring: shapely.Geometry) -> Loop:
    corners = shapely.get_coordinates(ring)[:-1]
    loop = Loop(corners, np.zeros(len(corners)))
    return loop if loop.signed_area() > 0.0 else loop.reversed()


def _ring(name: str, loop: Loop, setup: Setup) -> Strand:
    path = Unrolled.of(loop if setup.rough_keeps_part_right else loop.reversed())
    return strand_along(name, path, descent(0.0, path.length, drop(setup)), setup.cutting)


def _rows(name: str, piece: shapely.Geometry, area: shapely.Geometry, setup: Setup) -> Iterator[Strand]:
    for run in _runs(_cut_rows(piece, setup.bit.radius_mm), area, setup.bit.radius_mm):
        yield _there_and_back(name, run, setup)


def _cut_rows(piece: shapely.Geometry, radius: float) -> list[list[Floats]]:
    """Row by row from near to far, the stretches (2, 2) mm of each that lie in the piece."""
    x_min, y_min, x_max, y_max = shapely.bounds(piece).tolist()
    count = max(1, int(np.ceil((y_max - y_min) / (ROW_STEP * radius))))
    heights = y_min + (np.arange(count) + 0.5) * (y_max - y_min) / count
    lines = shapely.linestrings([[(x_min - 1.0, y), (x_max + 1.0, y)] for y in heights])
    rows = []
    for cut in shapely.intersection(lines, piece).tolist():
        parts = [shapely.get_coordinates(part) for part in shapely.get_parts(cut) if part.length > 0.0]
        rows.append([part for part in parts if np.ptp(part[:, 0]) >= SHORTEST_ROW * radius])
    return rows


def _runs(rows: list[list[Floats]], area: shapely.Geometry, radius: float) -> Iterator[Floats]:
    """(n, 2) polylines through all stretches: each goes on in the next row where a short step leads there."""
    shapely.prepare(area)
    while any(rows):
        first = next(index for index, row in enumerate(rows) if row)
        run = rows[first].pop(0)
        for row in rows[first + 1 :]:
            following = _following(run[-1], row, area, LONGEST_STEP * radius)
            if following is None:
                break
            run = np.vstack((run, following))
        yield run


def _following(here: Floats, row: list[Floats], area: shapely.Geometry, longest: float) -> Floats | None:
    """The stretch of a row that a short step leads to without leaving the pocket; taken out of the row."""
    for index, stretch in enumerate(row):
        ends = stretch if np.hypot(*(stretch[0] - here)) <= np.hypot(*(stretch[-1] - here)) else stretch[::-1]
        step = shapely.LineString([here, ends[0]])
        if step.length <= longest and shapely.covers(area, step):
            del row[index]
            return ends
    return None


def _there_and_back(name: str, run: Floats, setup: Setup) -> Strand:
    """Down level by level: a ramp, back to its foot, then along; the next level the other way."""
    down = drop(setup)
    along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(run, axis=0).T))))
    length, here, z = float(along[-1]), 0.0, down.start_z
    points = [np.append(run[0], z)]
    for level in down.levels:
        begin, end = here, length - here
        if (
            z < down.start_z
        ):  # turning round in a dead end, the bit goes down on ground that is seen to be cut
            there = begin + float(np.sign(end - begin)) * min(LEVEL_MM, length)
            points += [*_leg(run, along, begin, there, z, z), *_leg(run, along, there, begin, z, z)]
        for goal, fall in _turns((z - level) / down.slope, begin, end):
            points += _leg(run, along, here, goal, z, max(level, z - fall * down.slope))
            here, z = goal, max(level, z - fall * down.slope)
        for goal in (begin, end):
            points += _leg(run, along, here, goal, level, level)
            here = goal
        z = level
    every = np.array(points)
    kept = np.append(True, np.abs(np.diff(every, axis=0)).max(axis=1) > 0.0)
    return strand_of(name, every[kept], np.zeros(int(kept.sum()) - 1), setup.cutting)


def _turns(ramp: float, begin: float, end: float) -> Iterator[tuple[float, float]]:
    """Where a ramp so long goes to, to and fro between both ends of a run: place and mm of each leg."""
    length, near, far = abs(end - begin), begin, end
    while ramp > 0.0:
        leg = min(ramp, length)
        yield near + float(np.sign(far - near)) * leg, leg
        ramp -= leg
        near, far = far, near


def _leg(run: Floats, along: Floats, start: float, end: float, z: float, to_z: float) -> list[Floats]:
    """The points after start up to end along a run, z in proportion."""
    low, high = min(start, end), max(start, end)
    inner = along[(along > low) & (along < high)]
    ways = np.append(inner if end > start else inner[::-1], end)
    share = np.abs(ways - start) / max(abs(end - start), np.finfo(float).tiny)
    flat = np.column_stack((np.interp(ways, along, run[:, 0]), np.interp(ways, along, run[:, 1])))
    return list(np.column_stack((flat, z + share * (to_z - z))))
