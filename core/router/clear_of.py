"""What the bit, its nut and the spindle's nose would meet on their way: clamps, and the sheet itself.

Every drum above the tip is swept along the path where it hangs below a clamp's top, so that nothing is
taken for clear because of where the tip alone goes.
"""

import numpy as np

from core.findings import Finding, Level
from core.outline.segments import Floats, Segments
from core.router.setup import Setup
from core.router.toolpath import Toolpath
from core.sheet.beside_clamp import distances_to
from core.sheet.clamp import Clamp

#: mm apart at which the path is looked at; a clamp is missed by less than half of it at most.
LOOK_MM = 0.5
#: mm of room beside a clamp below which it is told (common practice, no source).
NEAR_MM = 5.0
#: mm that the nut stays above the sheet at the lowest cut (common practice, no source).
NUT_ROOM_MM = 1.0


def checked_clamps(toolpath: Toolpath, setup: Setup) -> tuple[Finding, ...]:
    """A stop for every clamp that is met, a caution for one passed closely, a note when all lift the path."""
    if not setup.layout.clamps:
        return ()
    places = places_along(toolpath)
    judged = (_judged(clamp, places, setup) for clamp in setup.layout.clamps)
    return (*(found for found in judged if found), *_lifted(setup))


def places_along(toolpath: Toolpath) -> Floats:
    """(n, 3) mm: the bit's tip along the whole path, every LOOK_MM at most."""
    starts, ends = toolpath.starts(), toolpath.ends
    segments = Segments(starts[:, :2], ends[:, :2], toolpath.bulges)
    counts = np.maximum(np.ceil(segments.lengths() / LOOK_MM), 1.0).astype(np.int64)
    rows = np.repeat(np.arange(counts.size), counts)
    share = (np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts) + 1.0) / counts[rows]
    picked = Segments(segments.starts[rows], segments.ends[rows], segments.bulges[rows])
    z = starts[rows, 2] + share * (ends - starts)[rows, 2]
    return np.vstack((toolpath.start, np.column_stack((picked.points_at(share), z))))


def _judged(clamp: Clamp, places: Floats, setup: Setup) -> Finding | None:
    room, what = _least_room(clamp, places, setup)
    x, y = clamp.at
    if room < 0.0:
        return Finding(
            Level.STOP,
            "clamp-in-the-way",
            f"The {what} runs into the clamp at {x:g}, {y:g} mm: {-room:.1f} mm missing.",
            f"Move the clamp {-room + NEAR_MM:.0f} mm further out, or take a lower one or a larger sheet.",
            clamp.at,
        )
    if room < NEAR_MM:
        return Finding(
            Level.CAUTION,
            "clamp-near",
            f"The {what} passes the clamp at {x:g}, {y:g} mm by only {room:.1f} mm.",
            "Watch it on the clearance lap, or move the clamp further out.",
            clamp.at,
        )
    return None


def _least_room(clamp: Clamp, places: Floats, setup: Setup) -> tuple[float, str]:
    """The least room, mm (below 0: it is met), and what has it."""
    found = (np.inf, "bit")
    for drum, what in zip(setup.drums(), ("bit", "nut", "spindle"), strict=True):
        low = places[places[:, 2] + drum.above_tip_mm < clamp.height_mm]
        if len(low):
            room = float(distances_to(clamp, low[:, :2]).min()) - drum.diameter_mm / 2.0
            found = min(found, (room, what))
    return found


def _lifted(setup: Setup) -> tuple[Finding, ...]:
    if setup.safe_z <= setup.top_z + setup.cutting.safe_height_mm:
        return ()
    text = f"The safe height is {setup.safe_z:.1f} mm above the stock, to pass over the highest clamp."
    return (Finding(Level.NOTE, "lifted-over-clamps", text, "Lower clamps make a quicker program."),)


def checked_nut(setup: Setup) -> tuple[Finding, ...]:
    """A stop when the nut would come down on the sheet at the lowest cut, with how much is missing."""
    needed = setup.top_z - setup.floor_z + NUT_ROOM_MM
    missing = needed - setup.layout.body.stick_out_mm
    if missing <= 0.0:
        return ()
    return (
        Finding(
            Level.STOP,
            "bit-sticks-out-too-little",
            f"The bit sticks out {setup.layout.body.stick_out_mm:g} mm and {needed:.1f} mm are needed: the "
            f"nut would rub on the sheet, {missing:.1f} mm missing.",
            "Let the bit stick out further, as far as its maker allows, or take a longer one.",
        ),
    )


def nearest_places(toolpath: Toolpath, clamps: tuple[Clamp, ...]) -> Floats:
    """(n, 2) mm: for each clamp the place of the path that comes nearest to it."""
    places = places_along(toolpath)[:, :2]
    return np.array([places[distances_to(clamp, places).argmin()] for clamp in clamps]).reshape(-1, 2)
