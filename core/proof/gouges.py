"""Whether a program cuts into the part it leaves, at any depth: a groove across its face is no edge.

The part's edge is judged at one height. What runs higher, and over the part, is seen here: no cut in the
stock may come nearer to the part, as it is left, than the bit's radius.
"""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.program.read.program import Program
from core.proof.readback import EDGE_WITHIN, breach
from core.proof.removal import corners_of, cuts_below, without_repeats
from core.proof.verdict import IN_STOCK


def gouge_findings(
    path: str, program: Program, part: BaseGeometry, bit_mm: float, top_z: float
) -> tuple[Finding, ...]:
    """A stop at the first cut into the part; all in the program's coordinates, mm, top_z the bare top's."""
    cuts = without_repeats(program, cuts_below(program, top_z - IN_STOCK))
    if part.is_empty or not cuts.rows.size:
        return ()
    corners, stretch = corners_of(program, cuts)
    lines = np.asarray(shapely.linestrings(corners, indices=stretch))
    shapely.prepare(part)
    hits = np.flatnonzero(shapely.dwithin(part, lines, bit_mm / 2.0 - EDGE_WITHIN))
    if not hits.size:
        return ()
    first = int(hits[np.argmin(cuts.rows[hits])])
    near = shapely.shortest_line(lines[first], part).coords[1]
    text = f"{path}, line {int(program.lines[cuts.rows[first]])}: the bit cuts into the part."
    return (breach("part-gouged", text, (float(near[0]), float(near[1]))),)
