"""What a program does to a sheet, found without a line of the readers, the proof or the planner.

Own words, own arcs, no overlays: the path is laid out in places STEP apart, and all is asked of their
distances. A place deep enough may come no nearer to the part than the bit's radius (a gouge), and every edge
that a bit can reach must have one at the radius (else it stands uncut). What comes loose is seen in a raster
of the sheet's bottom: pieces that are no longer joined to its border.
"""

import re
from dataclasses import dataclass

import cv2
import numpy as np
import shapely
from numpy.typing import NDArray

Floats = NDArray[np.float64]

#: mm between two places of the path: the bit's edge between them is off by STEP^2 / 8 r, 4e-4 mm at r 0.25.
STEP = 0.03
#: mm by which a place may come too near: the 0.01 of the promise, and what places and flattening blur.
GOUGE = 0.011
#: mm to which edges are flattened here.
FLAT = 2e-4
#: Cells of the raster in a bit's radius, and the widest cell, mm.
CELLS, WIDEST = 6.0, 0.1
#: mm2; smaller crumbs are chips, and a cell's doubt round them.
CHIP = 0.2
#: mm; below its bare top the stock is cut.
IN_STOCK = 0.002
MM = {"G20": 25.4, "G21": 1.0}
WORD = re.compile(r"([A-Z])\s*([-+]?[0-9.]+)")


@dataclass(frozen=True, eq=False)
class Walked:
    """places (n, 3) mm in program coordinates along every move; is_rapid (n,): a rapid not straight up."""

    places: Floats
    is_rapid: NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Work:
    """What the program should do, in its own coordinates, mm.

    part: what must stand; reachable: the edges that a bit comes to, as lines; sheet: its box. crest_z: just
    above every tab; bottom_z: the stock's; floor_z: the lowest cut; top_z: the bare top; cover_z: that of
    masking. is_through: whether the part is cut free.
    """

    part: shapely.Geometry
    reachable: shapely.Geometry
    sheet: tuple[float, float, float, float]
    bit_mm: float
    crest_z: float
    bottom_z: float
    floor_z: float
    top_z: float
    cover_z: float
    is_through: bool


def walked(data: bytes) -> Walked:
    """The path of a program of G0 to G3, read by its words."""
    at, scale, mode, known = np.zeros(3), 1.0, 0, set()
    places, rapids = [], []
    for line in data.decode("ascii").splitlines():
        words = WORD.findall(re.sub(r"\([^)]*\)|;.*", "", line.upper()))
        codes = [letter + number.lstrip("0").zfill(1) for letter, number in words if letter == "G"]
        for code in codes:
            scale = MM.get(code, scale)
            mode = int(code[1:]) if code in {"G0", "G1", "G2", "G3"} else mode
        value = {letter: float(number) * scale for letter, number in words if letter in "XYZIJ"}
        if not {"X", "Y", "Z"} & set(value) or "G4" in codes:
            continue
        end = np.array([value.get(axis, here) for axis, here in zip("XYZ", at, strict=True)])
        if {"X", "Y", "Z"} <= known:
            laid = (
                _arc(at, end, (value.get("I", 0.0), value.get("J", 0.0)), mode)
                if mode > 1
                else _line(at, end)
            )
            places.append(laid)
            is_up = end[2] > at[2] and (end[:2] == at[:2]).all()
            rapids.append(np.full(len(laid), mode == 0 and not is_up))
        known |= set(value)
        at = end
    return Walked(np.vstack(places), np.concatenate(rapids))


def _line(start: Floats, end: Floats) -> Floats:
    share = np.linspace(0.0, 1.0, max(int(np.ceil(np.hypot(*(end - start)[:2]) / STEP)), 1) + 1)[:, None]
    return start + share * (end - start)


def _arc(start: Floats, end: Floats, off: tuple[float, float], mode: int) -> Floats:
    middle = start[:2] + off
    first, last = (np.arctan2(*(place[:2] - middle)[::-1]) for place in (start, end))
    sweep = (last - first) % (2.0 * np.pi) if mode == 3 else -((first - last) % (2.0 * np.pi))
    radii = np.hypot(*(start[:2] - middle)), np.hypot(*(end[:2] - middle))
    share = np.linspace(0.0, 1.0, max(int(np.ceil(abs(sweep) * radii[0] / STEP)), 1) + 1)
    turn, reach = first + share * sweep, radii[0] + share * (radii[1] - radii[0])
    z = start[2] + share * (end[2] - start[2])
    return np.column_stack((middle[0] + reach * np.cos(turn), middle[1] + reach * np.sin(turn), z))


def faults(data: bytes, work: Work) -> list[str]:
    """What the program does wrong, in words."""
    path = walked(data)
    found = [*_too_deep(path, work), *_gouges(path, work), *_uncut(path, work)]
    return [*found, *_loose(path, work)] if work.is_through else found


def _too_deep(path: Walked, work: Work) -> list[str]:
    low = float(path.places[:, 2].min())
    found = [f"cuts down to {low:.4f}, the floor is {work.floor_z:.4f}"] if low < work.floor_z - 1e-3 else []
    rapid = path.places[path.is_rapid, 2].min(initial=np.inf)
    return [*found, f"a rapid at {rapid:.3f}"] if rapid < work.cover_z else found


def _places_below(path: Walked, z: float) -> NDArray[np.object_]:
    below = path.places[path.places[:, 2] <= z + 1e-6, :2]
    return np.asarray(shapely.points(np.unique(np.rint(below / 1e-4), axis=0) * 1e-4))


def _gouges(path: Walked, work: Work) -> list[str]:
    places = _places_below(path, work.top_z - IN_STOCK)
    shapely.prepare(work.part)
    near = shapely.distance(work.part, places)
    deep = work.bit_mm / 2.0 - float(near.min())
    worst = places[int(near.argmin())]
    return [f"gouged {deep:.4f} mm at {worst.x:.3f}, {worst.y:.3f}"] if deep > GOUGE else []


def _uncut(path: Walked, work: Work) -> list[str]:
    """Edges that a bit can reach, looked at every 0.1 mm."""
    places = _places_below(path, work.crest_z)
    edge = shapely.get_coordinates(shapely.segmentize(work.reachable, 0.1))
    _, away = shapely.STRtree(places).query_nearest(
        shapely.points(edge), return_distance=True, all_matches=False
    )
    left = float(away.max()) - work.bit_mm / 2.0
    worst = edge[int(away.argmax())]
    return (
        [f"{left:.4f} mm left at {worst[0]:.3f}, {worst[1]:.3f}"]
        if left > GOUGE + STEP**2 / work.bit_mm
        else []
    )


def _loose(path: Walked, work: Work) -> list[str]:
    cell = min(WIDEST, work.bit_mm / 2.0 / CELLS)
    x_min, y_min, x_max, y_max = work.sheet
    size = (int((y_max - y_min) / cell) + 1, int((x_max - x_min) / cell) + 1)
    untouched = np.ones(size, np.uint8)
    below = path.places[path.places[:, 2] <= work.bottom_z + 1e-6, :2]
    column, row = np.rint((below - [x_min, y_min]) / cell).astype(int).T
    inside = (row >= 0) & (row < size[0]) & (column >= 0) & (column < size[1])
    untouched[row[inside], column[inside]] = 0
    away = cv2.distanceTransform(untouched, cv2.DIST_L2, cv2.DIST_MASK_PRECISE) * cell
    stands = (away > work.bit_mm / 2.0).astype(np.uint8)
    count, labels, stats, _ = cv2.connectedComponentsWithStats(stands, connectivity=8)
    held = np.unique(np.concatenate((labels[0], labels[-1], labels[:, 0], labels[:, -1])))
    areas = stats[:, cv2.CC_STAT_AREA] * cell**2
    loose = [one for one in range(1, count) if one not in held and areas[one] > CHIP]
    return [f"{areas[one]:.2f} mm2 come loose" for one in loose]
