"""The clearance lap: it shows where the part program will go, so it must go round just that.

What the bit's edge sweeps, from the work zero on, is measured from the part program's moves. The lap, as
read from its own bytes, must run along all four sides of that rectangle, reach no further, and pass each
clamp as near as the part program does.
"""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.program.read.program import Program
from core.proof.claims import Claims, ClampClaim, Pair
from core.proof.readback import breach
from core.proof.removal import corners_of, cuts_below

#: mm; both files are rounded, and arcs of a corrected program are chords. A hand sees no difference so small.
ROUND_WITHIN = 0.03
#: mm; the lap passes a clamp at one of the places, half a millimetre apart, that the path was looked at.
CLAMP_WITHIN = 0.3

#: Where the bit stands before either program begins.
ZERO = shapely.Point(0.0, 0.0)


def lap_findings(path: str, lap: Program, part: Program, claims: Claims) -> tuple[Finding, ...]:
    """Stops where the lap of this name does not show what the part program sweeps.

    Both programs are as they lie on the sheet, corrections and a found place undone, mm from the zero.
    """
    assert claims.program is not None  # noqa: S101 - the caller has a program to prove
    found = [*round_findings(path, lap, part, claims.program.bit_mm)]
    shown, swept = _lines(lap), _lines(part)
    for clamp in claims.clamps:
        shape = _clamp(clamp, claims.zero_at)
        if shapely.distance(shown, shape) > shapely.distance(swept, shape) + CLAMP_WITHIN:
            text = f"{path} does not pass the clamp as near as the part program does."
            found.append(breach("lap-differs", text, clamp.at))
    return tuple(found)


def round_findings(path: str, lap: Program, cut: Program, bit_mm: float) -> tuple[Finding, ...]:
    """A stop where a lap does not go round what the bit's edge sweeps in the program that it goes before."""
    shown, swept = _lines(lap), _lines(cut)
    if shown.is_empty or swept.is_empty:
        return ()  # rules of their own tell of a program that never moves
    wanted = _grown(shapely.union(swept.envelope, ZERO), bit_mm / 2.0)
    off = np.abs(np.subtract(shapely.bounds(shown), shapely.bounds(wanted))).max()
    if off <= ROUND_WITHIN and shapely.covers(shapely.buffer(shown, ROUND_WITHIN), wanted.exterior):
        return ()
    text = f"{path} does not go round the rectangle that the bit's edge sweeps in the program after it."
    return (breach("lap-differs", text),)


def _lines(program: Program) -> BaseGeometry:
    """All moves seen from above, arcs as chords."""
    corners, stretch = corners_of(program, cuts_below(program, np.inf))
    return shapely.GeometryCollection(np.asarray(shapely.linestrings(corners, indices=stretch)).tolist())


def _grown(lines: BaseGeometry, radius: float) -> shapely.Polygon:
    """The box round all, grown by radius, mm."""
    x_min, y_min, x_max, y_max = shapely.bounds(lines).tolist()
    left, near, right, far = x_min - radius, y_min - radius, x_max + radius, y_max + radius
    return shapely.Polygon([(left, near), (right, near), (right, far), (left, far)])


def _clamp(clamp: ClampClaim, zero_at: Pair) -> BaseGeometry:
    """The clamp seen from above, mm from the zero."""
    (x, y), (wide, deep) = np.subtract(clamp.at, zero_at).tolist(), clamp.size_mm
    if clamp.is_round:
        return shapely.buffer(shapely.Point(x, y), wide / 2.0)
    return _grown(shapely.box(x - wide / 2.0, y - deep / 2.0, x + wide / 2.0, y + deep / 2.0), 0.0)
