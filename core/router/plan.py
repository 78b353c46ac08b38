"""The path of the bit for a whole sheet.

The plot: centre paths of the parts as cut; beside each the path of the passes, where the bit fits with its
allowance; the waste that comes loose, milled away or held; tabs; then every mark, piece of waste and
contour becomes strands of cutting, put in order, and joined by moves through the air.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import chain

import numpy as np

from core.cancel import NEVER, CancelToken
from core.findings import Finding, worst_first
from core.outline.loop import Loop
from core.outline.measure import Inside, contains
from core.outline.region import Region, Regions
from core.router.bit import Bit
from core.router.bore import bored
from core.router.break_cut import BreakCut, break_task
from core.router.break_places import break_places
from core.router.checks import checked, checked_travel
from core.router.clear_of import checked_clamps, checked_nut
from core.router.contour import Begun, Cut, begun, contour_task
from core.router.copies import all_copies, checked_webs, copied_tabs
from core.router.cutting import Cutting, TabRule
from core.router.entered import Entered, entered, entry_findings, with_entries
from core.router.extents import Extents, cut_length_mm, extents_of
from core.router.freed import Within
from core.router.knife_access import access_findings
from core.router.limbs import limb_findings
from core.router.link import linked
from core.router.machine import Machine
from core.router.order import FREES_NOTHING, MARKS, Task, fixed
from core.router.passes import levels
from core.router.pocket import milled_away
from core.router.reach import AsCut
from core.router.rough import passes_paths
from core.router.setup import Setup
from core.router.skin import openings_through
from core.router.stair import Step, stair_tasks
from core.router.strand import Strand
from core.router.tab import Tab, tabs_left
from core.router.tab_grid import Contour
from core.router.tab_places import Tabbed, tab_places
from core.router.toolpath import Toolpath
from core.router.true_chip import chip_findings
from core.router.unrolled import Unrolled
from core.router.waste import Waste, loose_waste
from core.sheet.layout import Layout


@dataclass(frozen=True, eq=False)
class RouterPlan:
    """The path, in the frame with z from the stock's bare top, and the figures that follow from it; mm.

    passes counts depths, the last lap included; cut_length_mm is the fed path below the stock's top;
    openings_through counts those of one piece that are milled right through while a skin holds the rest;
    within are the contours of one piece that something is left in when they are cut through; stair are the
    steps of known depth; breaks the cuts that open the frame; entered where each contour of one piece is.
    """

    toolpath: Toolpath
    tabs: tuple[Tab, ...]
    passes: int
    cut_length_mm: float
    extents: Extents
    safe_z_mm: float
    bottom_z_mm: float
    findings: tuple[Finding, ...]
    openings_through: int = 0
    within: tuple[Within, ...] = ()
    stair: tuple[Step, ...] = ()
    breaks: tuple[BreakCut, ...] = ()
    entered: tuple[Entered, ...] = ()


@dataclass(frozen=True, eq=False)
class _Wasted:
    """All waste, the contour that each piece lies in (-1: a bay), and which contours go to the board."""

    wastes: tuple[Waste, ...]
    homes: list[int]
    cut_through: list[bool]

    def in_home(self, index: int) -> list[Waste]:
        """The pieces that lie in this contour."""
        return [waste for waste, home in zip(self.wastes, self.homes, strict=True) if home == index]


def plan(  # noqa: PLR0913, PLR0917 - one argument for each thing that lies on or under the machine
    as_cut: AsCut,
    layout: Layout,
    bit: Bit,
    cutting: Cutting,
    tab_rule: TabRule,
    machine: Machine,
    token: CancelToken = NEVER,
    stair: Sequence[Step] = (),
) -> RouterPlan:
    """The RouterPlan of all copies; as_cut is the first one, in the frame already. Raises Cancelled.

    stair: steps cut into waste, before all else.
    """
    setup = Setup(layout, bit, cutting, tab_rule, machine)
    contours, loops = _contours(as_cut.centres)
    beside = passes_paths(loops, as_cut.regions, setup)
    wastes = loose_waste(as_cut.regions, setup, is_tight=None in beside)
    token.check()
    tabbed = _held(contours, as_cut.regions, wastes, setup)
    token.check()
    tabs = _tabs(contours, tabbed, setup)
    opened = break_places(as_cut.regions, copied_tabs(tabs, layout.copies), stair, setup)
    homes = _homes(loops, wastes)
    cut_through = openings_through(loops, wastes, homes, setup)
    cuts = with_entries(_cuts(as_cut, contours, beside, tabbed), contours, cutting.entries)
    starts = _starts(cuts, cut_through, setup, token)
    openings = tuple(break_task(cut, setup) for cut in opened.cuts)
    shared = (*_mark_tasks(setup), *openings, *stair_tasks(stair, setup))
    tasks = _contour_tasks(starts, loops, _Wasted(wastes, homes, cut_through), setup)
    token.check()
    strands = all_copies(shared, tasks, layout.copies, np.array(layout.zero_at))
    toolpath = linked(strands, setup)
    made = _summed_up(toolpath, tabs, (*tabbed.findings, *opened.findings), setup)
    within = _within(contours, tabbed, _Wasted(wastes, homes, cut_through))
    places = tuple(chain.from_iterable(tabbed.places))
    access = access_findings(places, as_cut.regions, setup)
    limbs = limb_findings(as_cut.regions, tuple(place.at for place in places), setup)
    told = worst_first((*made.findings, *access, *limbs, *entry_findings(starts, cutting.entries)))
    made = replace(made, findings=told, within=within, stair=tuple(stair), breaks=opened.cuts)
    made = replace(made, entered=entered(starts, strands))
    return replace(made, openings_through=sum(cut_through)) if setup.has_skin else made


def _within(contours: tuple[Contour, ...], tabbed: Tabbed, wasted: _Wasted) -> tuple[Within, ...]:
    """Edges, since a part lies in each, and openings that a piece of waste is left in."""
    rows = zip(contours, _names(contours), tabbed.places, strict=True)
    return tuple(
        Within(name, len(places))
        for index, (contour, name, places) in enumerate(rows)
        if contour.is_edge or not all(waste.is_milled for waste in wasted.in_home(index))
    )


def _held(contours: tuple[Contour, ...], parts: Regions, wastes: tuple[Waste, ...], setup: Setup) -> Tabbed:
    """Tabs, where no skin holds part and waste."""
    if setup.has_skin:
        return Tabbed(((),) * len(contours), ())
    return tab_places(contours, parts, wastes, setup)


def _contours(centres: Regions) -> tuple[tuple[Contour, ...], tuple[Loop, ...]]:
    """All centre paths, and the Loops that they come from."""
    every = [(loop, loop is region.outer) for region in centres for loop in region.loops()]
    contours = tuple(Contour(Unrolled.of(loop), is_edge) for loop, is_edge in every)
    return contours, tuple(loop for loop, _ in every)


def _cuts(
    as_cut: AsCut, contours: tuple[Contour, ...], beside: tuple[Loop | None, ...], tabbed: Tabbed
) -> tuple[Cut, ...]:
    names, kept = _names(contours), Inside.of(as_cut.centres)
    return tuple(
        Cut(name, contour.path, Unrolled.of(rough) if rough else None, places, kept)
        for name, contour, rough, places in zip(names, contours, beside, tabbed.places, strict=True)
    )


def _starts(
    cuts: tuple[Cut, ...], cut_through: list[bool], setup: Setup, token: CancelToken
) -> tuple[Begun, ...]:
    """The contours with the places where they may be begun."""
    over, starts = setup.over_skin(), list[Begun]()
    for cut, is_through in zip(cuts, cut_through, strict=True):
        token.check()
        starts.append(begun(cut, setup if is_through else over))
    return tuple(starts)


def _names(contours: tuple[Contour, ...]) -> tuple[str, ...]:
    """Each contour in words, numbered where there are several of its kind."""
    kinds = ["edge" if contour.is_edge else "opening" for contour in contours]
    counts = [kinds[: index + 1].count(kind) for index, kind in enumerate(kinds)]
    several = {kind: kinds.count(kind) > 1 for kind in kinds}
    return tuple(
        f"{kind} {count}" if several[kind] else kind for kind, count in zip(kinds, counts, strict=True)
    )


def _mark_tasks(setup: Setup) -> tuple[Task, ...]:
    holes = [
        bored("key mark" if mark.is_key else "mark", mark.at, mark.diameter_mm, setup)
        for mark in setup.layout.marks
        if mark.kind == "hole"
    ]
    return tuple(fixed(strands, MARKS) for strands in holes if strands)


def _contour_tasks(
    starts: tuple[Begun, ...], loops: tuple[Loop, ...], wasted: _Wasted, setup: Setup
) -> tuple[Task, ...]:
    """Contours, each after the waste inside it that is milled away; then waste in bays, before edges."""
    around, over = _nesting(loops), setup.over_skin()
    tasks = []
    for index, (start, loop) in enumerate(zip(starts, loops, strict=True)):
        deep, name = setup if wasted.cut_through[index] else over, start.cut.name
        milled = [strand for waste in wasted.in_home(index) for strand in _milled(name, waste, deep)]
        task = contour_task(start, tuple(milled), deep)
        tasks.append(replace(task, size=abs(loop.signed_area()), number=index, within=around[index]))
    bays = [(_milled("bay", waste, over), waste.piece.area()) for waste in wasted.in_home(-1)]
    return (*tasks, *(fixed(strands, FREES_NOTHING, size) for strands, size in bays if strands))


def _milled(name: str, waste: Waste, setup: Setup) -> tuple[Strand, ...]:
    if not waste.is_milled:
        return ()
    return milled_away(f"{name}, waste milled away", waste.piece, setup)


def _nesting(loops: tuple[Loop, ...]) -> list[tuple[int, ...]]:
    """The numbers of the other Loops that each lies in, the smallest first."""
    corners = np.array([loop.points[0] for loop in loops]).reshape(-1, 2)
    around: list[tuple[int, ...]] = [()] * len(loops)
    for index in sorted(range(len(loops)), key=lambda each: abs(loops[each].signed_area())):
        for row in np.flatnonzero(contains((_solid(loops[index]),), corners)).tolist():
            around[row] += (index,) if row != index else ()
    return around


def _homes(loops: tuple[Loop, ...], wastes: tuple[Waste, ...]) -> list[int]:
    """The index of the opening that each piece of waste lies in, or -1 for a bay of an edge."""
    homes = [-1] * len(wastes)
    corners = np.array([waste.piece.outer.points[0] for waste in wastes]).reshape(-1, 2)
    sizes = [abs(loop.signed_area()) for loop in loops]
    for index in sorted(range(len(loops)), key=lambda each: -sizes[each]):
        if loops[index].signed_area() < 0.0 and len(wastes):
            held = contains((_solid(loops[index]),), corners)
            homes = [index if inside else home for inside, home in zip(held, homes, strict=True)]
    return homes


def _solid(loop: Loop) -> Region:
    return Region(loop if loop.signed_area() > 0.0 else loop.reversed())


def _tabs(contours: tuple[Contour, ...], tabbed: Tabbed, setup: Setup) -> tuple[Tab, ...]:
    """The tabs of one piece."""
    return tuple(
        tab
        for contour, places in zip(contours, tabbed.places, strict=True)
        for tab in tabs_left(contour.path, places, setup)
    )


def _summed_up(
    toolpath: Toolpath, tabs: tuple[Tab, ...], on_the_way: tuple[Finding, ...], setup: Setup
) -> RouterPlan:
    extents = extents_of(toolpath)
    in_the_way = (*checked_clamps(toolpath, setup), *checked_nut(setup), *checked_webs(setup))
    own = (*checked(setup), *checked_travel(extents, setup), *chip_findings(toolpath, setup))
    findings = (*own, *in_the_way, *on_the_way)
    return RouterPlan(
        toolpath,
        copied_tabs(tabs, setup.layout.copies),
        len(levels(setup.over_skin())) + int(setup.cutting.has_last_lap),
        cut_length_mm(toolpath),
        extents,
        setup.safe_z,
        extents.z_min if setup.has_skin else setup.floor_z,
        worst_first(findings),
    )
