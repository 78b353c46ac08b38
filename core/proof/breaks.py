"""Break cuts, as the program's bytes leave them, against what the report claims of them.

1. Along each the bit goes down to what is to be left and no lower, over its whole width: a cut that goes
   through frees a piece of frame while the part still needs it, one too shallow does not snap.
2. Each begins at a part's slot and ends at the stock's edge or at another slot, clear of marks, tabs and
   hinge.
3. All come while the sheet is whole: after the marks, before anything else is cut through.
4. Nothing else runs off the sheet.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.program.read.program import Program
from core.proof.claims import BreakClaim, Claims, Pair
from core.proof.polygons import closed_by
from core.proof.program_rows import in_marks, picked
from core.proof.readback import TAB_WITHIN, breach
from core.proof.removal import corners_of, cuts_below
from core.proof.tabs_left import lowest_over
from core.proof.verdict import IN_STOCK

#: mm that hold a frame until it is snapped (bench.md, section 2), and the share of a sheet too thin for it.
LEAST_LEFT, LEFT_SHARE = 1.0, 0.5
#: mm along a cut between two looks at its depth.
LOOK_EVERY = 0.5
#: Bit radii to either side at which its depth is looked at too.
ASIDE = 0.9
#: Bit diameters from a part within which its slot may lie, allowance of the passes and all.
SLOT_WIDTHS = 1.45
#: mm by which an end may miss the stock's edge, and a move the line it is claimed for.
END_WITHIN, ON_LINE = 0.01, 0.05
#: mm of wall that must stay between a break cut and a mark's hole, and a tab's stub: less than is planned.
TO_MARK, TO_TAB = 1.0, 0.5

Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class _Sheet:
    """A program, its claims, every part as a round bit leaves it; shift: program to frame, mm."""

    path: str
    program: Program
    claims: Claims
    parts: BaseGeometry
    bit_mm: float
    shift: Pair

    @property
    def bottom_z(self) -> float:
        """The stock's true bottom in the program."""
        return self.claims.top_z_mm - self.claims.stock.thickness_mm

    def in_frame(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """(n, 2) mm."""
        return np.asarray(points + np.array(self.shift))


def break_findings(
    path: str, program: Program, claims: Claims, outlines: BaseGeometry
) -> tuple[Finding, ...]:
    """A stop for each break cut that is not as claimed, and for what runs off the sheet unclaimed.

    outlines: those of all copies, in the frame, mm; program: as it lies on the sheet.
    """
    claim = claims.program
    assert claim is not None  # noqa: S101 - the caller has a program to prove
    filled = shapely.union_all([shapely.Polygon(piece.exterior) for piece in shapely.get_parts(outlines)])
    parts = closed_by(filled, claim.bit_mm / 2.0) if claim.breaks else filled
    shapely.prepare(parts)
    sheet = _Sheet(path, program, claims, parts, claim.bit_mm, claims.zero_at)
    found = [one for cut in claim.breaks for one in (*_placed(cut, sheet), *_deep(cut, sheet))]
    return (*found, *_in_order(claim.breaks, sheet), *_off_the_sheet(claim.breaks, sheet))


def line_of(cut: BreakClaim) -> shapely.LineString:
    """The way of the bit's middle, in the frame."""
    return shapely.LineString([cut.start, cut.end])


def _placed(cut: BreakClaim, sheet: _Sheet) -> Iterator[Finding]:
    """Where it begins and ends, and what it keeps clear of."""
    line, bit, stock = line_of(cut), sheet.bit_mm, sheet.claims.stock
    border = shapely.box(0.0, 0.0, stock.width_mm, stock.depth_mm).boundary
    begins, ends = (shapely.distance(sheet.parts, shapely.Point(at)) for at in (cut.start, cut.end))
    if begins > bit:
        yield breach("break-begins-nowhere", f"{sheet.path}: a break cut begins at no slot.", cut.start)
    if ends > bit and shapely.distance(border, shapely.Point(cut.end)) > END_WITHIN:
        text = f"{sheet.path}: a break cut ends neither at the sheet's edge nor at a slot."
        yield breach("break-ends-nowhere", text, cut.end)
    for mark in sheet.claims.bored:
        if shapely.distance(line, shapely.Point(mark.at)) < (mark.diameter_mm + bit) / 2.0 + TO_MARK:
            yield breach("break-crosses-mark", f"{sheet.path}: a break cut crosses a mark.", mark.at)
    for tab in sheet.claims.program.tabs if sheet.claims.program else ():
        if shapely.distance(line, shapely.Point(tab.at)) < (tab.wall_mm + bit) / 2.0 + TO_TAB:
            yield breach("break-crosses-tab", f"{sheet.path}: a break cut takes a tab's root.", tab.at)
    if shapely.distance(line, _hinge(sheet.claims)) < bit / 2.0 - END_WITHIN:
        text = f"{sheet.path}: a break cut runs through the strip kept for the hinge."
        yield breach("break-crosses-hinge", text, cut.end)


def _hinge(claims: Claims) -> BaseGeometry:
    """The strip that the tape needs, in the frame; empty where there is none."""
    if claims.hinge is None:
        return shapely.Polygon()
    wide, deep, strip = claims.stock.width_mm, claims.stock.depth_mm, claims.hinge.width_mm
    boxes = {
        "left": (0.0, 0.0, strip, deep),
        "right": (wide - strip, 0.0, wide, deep),
        "near": (0.0, 0.0, wide, strip),
        "far": (0.0, deep - strip, wide, deep),
    }
    return shapely.box(*boxes[claims.hinge.side])


def _deep(cut: BreakClaim, sheet: _Sheet) -> tuple[Finding, ...]:
    """How deep it is outside slots, along its middle and near both walls."""
    places = _places(cut, sheet)
    if not places.size:
        text = f"{sheet.path}: a break cut has no length outside the slots."
        return (breach("break-too-short", text, cut.start),)
    if (wrong := _said_wrongly(cut, sheet)) is not None:
        return (wrong,)
    rows = _rows_near(sheet, cut)
    near = picked(sheet.program, rows)
    points = [(float(x), float(y)) for x, y in places - np.array(sheet.shift)]
    left = np.array([lowest_over(near, sheet.bit_mm, point) for point in points]) - sheet.bottom_z
    low, high = int(left.argmin()), int(left.argmax())
    if left[low] < cut.left_mm - TAB_WITHIN:
        through = "goes through" if left[low] <= 0.0 else f"leaves {left[low]:.3f} mm"
        text = f"{sheet.path}: a break cut {through} where {cut.left_mm:g} mm are to be left."
        return (breach("break-too-deep", text, (float(places[low][0]), float(places[low][1]))),)
    if left[high] > cut.left_mm + TAB_WITHIN:
        told = f"leaves {left[high]:.3f} mm" if np.isfinite(left[high]) else "is missing"
        text = f"{sheet.path}: a break cut {told} where {cut.left_mm:g} mm are to be left."
        return (breach("break-too-shallow", text, (float(places[high][0]), float(places[high][1]))),)
    return ()


def _said_wrongly(cut: BreakClaim, sheet: _Sheet) -> Finding | None:
    """A stop when it is not even to leave what it should: a frame's hold, as much as the tabs, no more.

    With less than the tabs it would go through in a thinner sheet for which these are still good.
    """
    heights = [tab.height_mm for tab in sheet.claims.program.tabs] if sheet.claims.program else []
    least = min(LEAST_LEFT, LEFT_SHARE * sheet.claims.stock.thickness_mm)
    low, high = max(least, min(heights, default=0.0)), max(LEAST_LEFT, max(heights, default=0.0))
    told = f"{sheet.path}: a break cut is to leave {cut.left_mm:g} mm"
    if cut.left_mm < low - TAB_WITHIN:
        return breach("break-too-deep", f"{told}, where {low:g} mm are to hold the frame.", cut.start)
    if cut.left_mm > high + TAB_WITHIN:
        return breach("break-too-shallow", f"{told}, and {high:g} mm are the most that snap.", cut.start)
    return None


def _places(cut: BreakClaim, sheet: _Sheet) -> NDArray[np.float64]:
    """(n, 2) mm in the frame, on three tracks, those outside all slots."""
    start, end = np.array(cut.start), np.array(cut.end)
    length = max(float(np.hypot(*(end - start))), END_WITHIN)
    along = (end - start) / length
    aside = np.array([-along[1], along[0]]) * (ASIDE * sheet.bit_mm / 2.0)
    steps = np.linspace(0.0, 1.0, int(np.ceil(length / LOOK_EVERY)) + 1)
    track = start + steps[:, None] * (end - start)
    places = np.vstack((track, track + aside, track - aside))
    away = shapely.distance(sheet.parts, shapely.points(places))
    return np.asarray(places[away > SLOT_WIDTHS * sheet.bit_mm])


def _rows_near(sheet: _Sheet, cut: BreakClaim) -> Ints:
    """Moves whose box comes near the cut's."""
    starts, ends = sheet.in_frame(sheet.program.starts[:, :2]), sheet.in_frame(sheet.program.ends[:, :2])
    radius = np.nan_to_num(np.hypot(*(sheet.program.starts[:, :2] - sheet.program.centres).T))
    reach = 2.0 * radius + sheet.bit_mm
    low = np.minimum(starts, ends) - reach[:, None]
    high = np.maximum(starts, ends) + reach[:, None]
    box_low, box_high = np.minimum(cut.start, cut.end), np.maximum(cut.start, cut.end)
    return np.flatnonzero(((low <= box_high) & (high >= box_low)).all(axis=1))


def on_cuts(places: NDArray[np.float64], cuts: Sequence[BreakClaim]) -> NDArray[np.bool_]:
    """(n,) whether places (n, 2), mm in the frame, lie on the way of a break cut; unknown ones not."""
    found = np.zeros(len(places), dtype=bool)
    known = np.flatnonzero(np.isfinite(places).all(axis=1))
    if cuts and known.size:
        tree = shapely.STRtree([line_of(cut) for cut in cuts])
        rows, _ = tree.query(shapely.points(places[known]), predicate="dwithin", distance=ON_LINE)
        found[known[rows]] = True
    return found


def _in_order(cuts: Sequence[BreakClaim], sheet: _Sheet) -> tuple[Finding, ...]:
    """After the marks, and before anything that is no mark is cut through."""
    if not cuts:
        return ()
    program = sheet.program
    lowest = np.fmin(program.starts[:, 2], program.ends[:, 2])
    ends = sheet.in_frame(program.ends[:, :2])
    marked = in_marks(ends, sheet.claims.bored)
    fed = ~program.is_rapid & (lowest < sheet.claims.top_z_mm - IN_STOCK)
    starts = sheet.in_frame(program.starts[:, :2])
    on_cut = np.flatnonzero(on_cuts(ends, cuts) & on_cuts(starts, cuts) & fed)
    # Where a cut begins the part's own passes run too: what lies in their slot is none of it.
    away = shapely.distance(sheet.parts, shapely.points((starts[on_cut] + ends[on_cut]) / 2.0))
    through = fed & (lowest <= sheet.bottom_z) & ~marked
    rows = on_cut[away > sheet.bit_mm]
    if not rows.size:
        return ()
    frees = np.flatnonzero(through)
    bores = np.flatnonzero(marked & fed)
    is_late = bool(frees.size and rows[-1] > frees[0])
    is_early = bool(bores.size and rows[0] < bores[-1])
    if not (is_late or is_early):
        return ()
    told = "after the sheet is cut through" if is_late else "before the marks are bored"
    line = int(program.lines[rows[-1] if is_late else rows[0]])
    return (breach("break-out-of-order", f"{sheet.path}, line {line}: a break cut is made {told}."),)


def _off_the_sheet(cuts: Sequence[BreakClaim], sheet: _Sheet) -> tuple[Finding, ...]:
    """Cuts into the stock's edge where none is claimed."""
    below = cuts_below(sheet.program, sheet.claims.top_z_mm - IN_STOCK)
    if not below.rows.size:
        return ()
    corners, stretch = corners_of(sheet.program, below)
    places = sheet.in_frame(corners)
    stock = np.array((sheet.claims.stock.width_mm, sheet.claims.stock.depth_mm))
    inside = np.minimum(places, stock - places).min(axis=1)
    runs_off = np.flatnonzero(inside < sheet.bit_mm / 2.0 - END_WITHIN)
    runs_off = runs_off[~on_cuts(places[runs_off], cuts)]
    if not runs_off.size:
        return ()
    first = int(runs_off[0])
    line = int(sheet.program.lines[below.rows[stretch[first]]])
    x, y = places[first].tolist()
    text = f"{sheet.path}, line {line}: the bit runs off the sheet where no break cut is claimed."
    return (breach("runs-off-the-sheet", text, (x, y)),)
