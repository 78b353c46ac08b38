"""The nest board: a pocket for every copy of the part, and pins for its film, in one program of its own."""

from dataclasses import dataclass, replace

import numpy as np
import shapely

from core.findings import Finding, Level, Point
from core.nest.clearing import cleared
from core.nest.contacts import LOOSE_MM, Beside, Contacts, Others, contacts_of
from core.nest.pocket import FLATNESS_MM, filled, pocket_of
from core.outline.measure import contains
from core.outline.offset import shrunk
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions
from core.outline.segments import Floats
from core.router.bore import bored
from core.router.copies import all_copies
from core.router.lap import clearance_lap
from core.router.link import linked
from core.router.order import CONTOURS, MARKS, fixed
from core.router.setup import Setup
from core.router.tab import Tab
from core.router.toolpath import Toolpath
from core.sheet.board import MARK_DEPTH_MM, Board, pocket_depth
from core.sheet.layout import Layout
from core.sheet.placement import Placement

#: mm by which a run of contact is longer than a tab's lifted path, both ends together.
BEYOND_TAB_MM = 2.0
#: mm: no copy farther away has a say in where fingers go.
NEARBY_MM = 20.0


@dataclass(frozen=True, eq=False)
class Nest:
    """pocket: of the first copy, in the frame; contacts: of each of its pieces; depths and play in mm.

    play_mm: how far the loosest piece can move at its worst place; None where one is not held.
    """

    board: Board
    pocket: Regions
    contacts: tuple[Contacts, ...]
    pocket_depth_mm: float
    mark_depth_mm: float
    play_mm: float | None
    toolpath: Toolpath
    safe_z_mm: float
    findings: tuple[Finding, ...]
    lap: Toolpath


def nest(as_cut: Regions, tabs: tuple[Tab, ...], layout: Layout, setup: Setup) -> Nest:
    """For the parts of the first copy as cut, in the frame; setup: bit and feeds for the board.

    layout has a board. The tabs are those of all copies.
    """
    board = layout.board
    assert board is not None  # noqa: S101 - asked for where the layout has one
    beside = _beside(as_cut, tabs, layout)
    contacts = tuple(contacts_of(region.outer, as_cut, beside) for region in as_cut)
    made = [
        pocket_of(region, own, setup.bit.diameter_mm) for region, own in zip(as_cut, contacts, strict=True)
    ]
    pocket = tuple(region for regions, _ in made for region in regions)
    depth = pocket_depth(layout.stock.thickness_mm)
    floor = _deep(setup, layout, board, depth)
    toolpath = _toolpath(pocket, layout, floor, _deep(setup, layout, board, MARK_DEPTH_MM))
    plays = [own.play_mm for own in contacts]
    play = None if None in plays else max(play for play in plays if play is not None)
    findings = (
        *(finding for _, found in made for finding in found),
        *_inside_others(as_cut),
        *_hold_findings(as_cut, contacts),
    )
    return Nest(
        board,
        pocket,
        contacts,
        depth,
        MARK_DEPTH_MM,
        play,
        toolpath,
        floor.safe_z,
        findings,
        clearance_lap(toolpath, floor),
    )


class _Copies(Others):
    """Other copies as seen from any of them."""

    def __init__(self, area: shapely.Geometry) -> None:
        self.area = area
        shapely.prepare(area)

    def distances(self, points: Floats) -> Floats:
        """(n,) mm; infinite where there is no other copy."""
        gaps = shapely.distance(shapely.points(points), self.area)
        return np.where(np.isnan(gaps), np.inf, gaps)


def _beside(as_cut: Regions, tabs: tuple[Tab, ...], layout: Layout) -> Beside:
    pins = [copy.back(np.array([mark.at])) for copy in layout.copies for mark in layout.marks]
    radius = max((mark.diameter_mm / 2.0 for mark in layout.marks), default=0.0)
    stubs = tuple((tab.at, (tab.wall_mm + BEYOND_TAB_MM) / 2.0) for tab in tabs)
    every = tuple(np.reshape(pins, (-1, 2)))
    return Beside(stubs, np.array(every).reshape(-1, 2), radius, _Copies(_others(as_cut, layout)))


def _others(as_cut: Regions, layout: Layout) -> shapely.Geometry:
    """Everything that lies near any copy, moved to where the first one is."""
    solid = to_polygon(tuple(map(filled, as_cut)), FLATNESS_MM)
    x_min, y_min, x_max, y_max = solid.bounds
    seen = {_seen_from(one, other) for one in layout.copies for other in layout.copies if other is not one}
    near = shapely.box(x_min - NEARBY_MM, y_min - NEARBY_MM, x_max + NEARBY_MM, y_max + NEARBY_MM)
    moved = [shapely.transform(solid, placement.points) for placement in seen]
    return shapely.union_all([area for area in moved if area.intersects(near)])


def _seen_from(one: Placement, other: Placement) -> Placement:
    """What takes the first copy to where other lies as seen from one: undo one, after other."""
    (x, y), (to_x, to_y) = one.at, other.at
    at = (x - to_x, y - to_y) if one.is_turned else (to_x - x, to_y - y)
    return Placement(at, one.is_turned is not other.is_turned)


def _toolpath(pocket: Regions, layout: Layout, floor: Setup, holes: Setup) -> Toolpath:
    """Holes for the pins, then every pocket; heights from the board's top."""
    pins = [
        bored("key pin" if mark.is_key else "pin", mark.at, mark.diameter_mm, holes) for mark in layout.marks
    ]
    marks = tuple(fixed(strands, MARKS) for strands in pins if strands)
    pockets = [cleared("pocket", Region(one.outer), floor) for one in shrunk(pocket, floor.bit.radius_mm)]
    tasks = tuple(fixed(strands, CONTOURS) for strands in pockets if strands)
    return linked(all_copies(marks, tasks, layout.copies, np.array(floor.layout.zero_at)), floor)


def _deep(setup: Setup, layout: Layout, board: Board, depth: float) -> Setup:
    """A cut to this depth below the board's top: as through a bare sheet so thick, with no skim."""
    stock = replace(
        layout.stock,
        width_mm=board.width_mm,
        depth_mm=board.depth_mm,
        thickness_mm=depth,
        masking_top_mm=0.0,
        masking_bottom_mm=0.0,
    )
    bare = replace(layout, stock=stock, clamps=(), zero_at=board.at)
    cutting = replace(setup.cutting, skim_mm=0.0, allowance_mm=0.0, has_last_lap=False)
    return replace(setup, layout=bare, cutting=cutting)


def _inside_others(as_cut: Regions) -> tuple[Finding, ...]:
    """Pieces that lie in an opening of another would lie loose in its pocket."""
    if len(as_cut) == 1:
        return ()
    corners = np.array([region.outer.points[0] for region in as_cut])
    found = []
    for index, region in enumerate(as_cut):
        inside = contains((filled(region),), corners)
        inside[index] = False
        found += [_loose_in(corners[row]) for row in np.flatnonzero(inside)]
    return tuple(found)


def _loose_in(at: Floats) -> Finding:
    return Finding(
        Level.STOP,
        "piece-in-opening",
        "This piece lies in an opening of another, and a nest would hold it nowhere.",
        "Fit film and part in the frame, or set the shape on a base plate.",
        (float(at[0]), float(at[1])),
    )


def _hold_findings(as_cut: Regions, contacts: tuple[Contacts, ...]) -> tuple[Finding, ...]:
    found = []
    for region, own in zip(as_cut, contacts, strict=True):
        x_min, y_min, x_max, y_max = region.outer.bounds()
        at = ((x_min + x_max) / 2.0, (y_min + y_max) / 2.0)
        found += [*_held(own, at), *_fingers(own, at)]
    return tuple(found)


def _held(own: Contacts, at: Point) -> tuple[Finding, ...]:
    if own.play_mm is None:
        text = (
            f"The nest touches this piece in {len(own.runs)} places, which do not hold it in x, y and turn."
        )
        remedy = "Turn it by eye to the film, or fit film and part in the frame."
        return (Finding(Level.CAUTION, "nest-does-not-hold", text, remedy, at),)
    if own.play_mm > LOOSE_MM:
        text = f"In its nest this piece can move by {own.play_mm:.2f} mm at its worst place."
        remedy = "Press it into one corner each time, or fit film and part in the frame."
        return (Finding(Level.CAUTION, "nest-loose", text, remedy, at),)
    return ()


def _fingers(own: Contacts, at: Point) -> tuple[Finding, ...]:
    if len(own.notches) == 2:
        return ()
    text = f"The nest of this piece has room for {len(own.notches)} finger notches, not for two."
    return (Finding(Level.NOTE, "few-notches", text, "Lift the piece out with a strip of tape.", at),)
