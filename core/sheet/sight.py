"""Sight edges: short strips of waste film beside a loose part, along which its edge is laid by eye.

The gap to each strip is read along the normal of the edge alone, so a strip tells one number, its mean gap,
and the normals of all together must tell x, y and turn. With rows w = (n_x, n_y, moment of n), each the mean
along its strip, and
readings that err by s each, the least-squares pose errs by s2 (W' W)^-1 (Gauss 1823); at a place q of the
film that comes to s sqrt(trace(G (W' W)^-1 G')), G = ((1, 0, -q_y), (0, 1, q_x)).
"""

from dataclasses import dataclass

import numpy as np
import shapely

from core.findings import Point
from core.outline.boolean import difference, intersection
from core.outline.loop import Loop
from core.outline.offset import grown
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions
from core.outline.segments import Floats
from core.sheet.edge_places import EdgePlaces, Ints, RunRule, middles_of_runs
from core.sheet.fit_error import Doubts
from core.sheet.mark import Mark

#: mm between the part's edge as cut and the strip, how wide it is, how long at least and at most.
GAP_MM, WIDE_MM, SHORTEST_MM, LONGEST_MM = 0.4, 1.5, 12.0, 25.0
#: Share of the whole edge that a strip takes.
SHARE_OF_EDGE = 0.05
#: mm: no tighter bend along a strip, and how far it stays from a tab's stub.
LEAST_RADIUS_MM, FROM_STUB_MM = 5.0, 6.0
#: mm beyond the strip that stay free of other parts, so that each is seen for itself.
BEYOND_MM = 1.0
#: mm between the middles of two strips beyond their length.
BETWEEN_MM = 3.0
LEAST_STRIPS, MOST_STRIPS = 4, 6
#: Share by which one strip more must lower the error to be worth its weeding.
WORTH = 0.1
#: mm: how far an eye errs at a strip (bench practice), and as a share of how far it errs at a mark.
READING_MM, READING_SHARE = 0.15, 0.5
#: Of the turn as mm on a lever of reach: below this a set of strips does not tell the pose.
SINGULAR = 1e-6
#: The least of the squares by which a set of strips tells a motion; a sixth of a strip's own is told poorly.
UNTOLD = 1e-3
#: mm to which a strip's area and middle are reckoned.
FLATNESS_MM = 1e-4


@dataclass(frozen=True, eq=False)
class Sights:
    """Of one loose piece: marks are its strips; feet (n, k, 2) mm along the edge beside each, normals alike.

    error_mm: how far the worst place of the piece is off, root mean square; None where the pose is not told.
    """

    feet: Floats
    normals: Floats
    marks: tuple[Mark, ...]
    error_mm: float | None


def sights_of(outer: Loop, parts: Regions, stubs: tuple[tuple[Point, float], ...]) -> Sights:
    """For the piece with this outer edge (counter-clockwise), among all parts.

    stubs: of tabs, the middle of each on the wall and half its length there.
    """
    places = EdgePlaces.of(outer)
    hull = _hull(places.points)
    tabs = tuple((at, half + FROM_STUB_MM) for at, half in stubs)
    longest = float(np.clip(SHARE_OF_EDGE * places.length, SHORTEST_MM, LONGEST_MM))
    for length in dict.fromkeys((longest, SHORTEST_MM)):
        room = GAP_MM + WIDE_MM + BEYOND_MM
        middles = middles_of_runs(places, parts, RunRule(length, LEAST_RADIUS_MM, room, tabs))
        windows = _windows(places, middles, length)
        picks = chosen(places, windows, length + BETWEEN_MM, hull)
        if len(picks) >= LEAST_STRIPS:
            break
    band = difference(grown((Region(outer),), GAP_MM + WIDE_MM), grown((Region(outer),), GAP_MM))
    marks = tuple(_mark(_strip(windows[pick], places, band)) for pick in picks)
    feet, normals = places.points[windows[picks]], places.normals[windows[picks]]
    return Sights(feet, normals, marks, worst_error(feet, normals, hull, READING_MM))


def _windows(places: EdgePlaces, middles: Ints, length: float) -> Ints:
    """(m, k) the places along each run."""
    every = [places.window(middle, length) for middle in middles.tolist()]
    return np.array(every, dtype=np.int64) if every else np.empty((0, 1), dtype=np.int64)


def chosen(places: EdgePlaces, windows: Ints, apart_mm: float, hull: Floats) -> list[int]:
    """The runs whose strips together tell the pose best: one by one, each the one that helps most."""
    if not windows.size:
        return []
    middle = places.points.mean(axis=0)
    reach = float(np.hypot(*(places.points - middle).T).max())
    rows = strip_rows(places.points[windows], places.normals[windows], middle, reach)
    at = places.points[windows[:, windows.shape[1] // 2]]
    levers = _levers(hull, middle, reach)
    free, picks, error = np.ones(len(windows), dtype=bool), list[int](), np.inf
    told = SINGULAR * np.eye(3)
    while free.any() and len(picks) < MOST_STRIPS:
        after = _worst(told[None] + rows[:, :, None] * rows[:, None, :], levers)
        pick = int(np.where(free, after, np.inf).argmin())
        if len(picks) >= LEAST_STRIPS and after[pick] > (1.0 - WORTH) * error:
            break
        picks.append(pick)
        told, error = told + np.outer(rows[pick], rows[pick]), float(after[pick])
        free &= np.hypot(*(at - at[pick]).T) >= apart_mm
    return picks


def strip_rows(feet: Floats, normals: Floats, middle: Floats, reach: float) -> Floats:
    """(n, 3) what a small motion (x, y, turn times reach) changes of the mean gap along each strip."""
    arms = feet - middle
    moments = arms[..., 0] * normals[..., 1] - arms[..., 1] * normals[..., 0]
    return np.asarray(np.concatenate((normals, moments[..., None] / reach), axis=2).mean(axis=1))


def _levers(places: Floats, middle: Floats, reach: float) -> Floats:
    """(m, 2, 3) how each place moves with a small motion."""
    arms = (places - middle) / reach
    ones, none = np.ones(len(arms)), np.zeros(len(arms))
    x = np.column_stack((ones, none, -arms[:, 1]))
    y = np.column_stack((none, ones, arms[:, 0]))
    return np.stack((x, y), axis=1)


def _worst(told: Floats, levers: Floats) -> Floats:
    """(k,) mm for readings that err by 1: at the worst place, for sums of rows (k, 3, 3)."""
    spread = np.linalg.inv(told)
    traces = np.einsum("mai,kij,maj->km", levers, spread, levers)
    return np.asarray(np.sqrt(traces.max(axis=1)))


def worst_error(feet: Floats, normals: Floats, places: Floats, reading_mm: float) -> float | None:
    """Root mean square, mm, at the worst of places (m, 2); None where x, y and turn are not all told."""
    if len(feet) < 3:
        return None
    middle = places.mean(axis=0)
    reach = float(np.hypot(*(places - middle).T).max())
    rows = strip_rows(feet, normals, middle, reach)
    told = rows.T @ rows
    if np.linalg.eigvalsh(told)[0] < UNTOLD:
        return None
    return reading_mm * float(_worst(told[None], _levers(places, middle, reach))[0])


def layings(sights: Sights, places: Floats, doubts: Doubts, count: int, rng: np.random.Generator) -> Floats:
    """(count,) mm: how far off the worst of places (m, 2) is in so many layings.

    As with marks (fit_error.py), the cutter's scale and skew are off too; strips are read more closely.
    """
    middle = places.mean(axis=0)
    reach = float(np.hypot(*(places - middle).T).max())
    rows = strip_rows(sights.feet, sights.normals, middle, reach)
    levers = _levers(places, middle, reach)
    scale, skew = (doubt * rng.standard_normal(count) for doubt in (doubts.scale, doubts.skew))
    scale_y = doubts.scale * rng.standard_normal(count) if doubts.has_own_axes else scale
    bent = _bent(sights.feet.reshape(-1, 2), scale, scale_y, skew)
    gaps = np.einsum("cpi,pi->cp", bent, sights.normals.reshape(-1, 2))
    gaps = gaps.reshape(count, *sights.feet.shape[:2]).mean(axis=2)
    gaps += READING_SHARE * doubts.eye_mm * rng.standard_normal(gaps.shape)
    motions = -gaps @ rows @ np.linalg.inv(rows.T @ rows)
    off = _bent(places, scale, scale_y, skew) + np.einsum("mai,ci->cma", levers, motions)
    return np.asarray(np.hypot(off[..., 0], off[..., 1]).max(axis=1))


def _bent(points: Floats, scale_x: Floats, scale_y: Floats, skew: Floats) -> Floats:
    """(count, n, 2) mm by which a cutter of these scales and skew puts points elsewhere."""
    x = scale_x[:, None] * points[:, 0] + skew[:, None] * points[:, 1]
    return np.stack((x, scale_y[:, None] * points[:, 1]), axis=2)


def _hull(points: Floats) -> Floats:
    return np.asarray(shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(points)))[:-1])


def _strip(window: Ints, places: EdgePlaces, band: Regions) -> Loop:
    """The strip beside a run of edge: between two parallels of it, lines and arcs as exact as the edge."""
    points, normals = places.points[window], places.normals[window]
    corners = np.vstack((points[::-1], points + (GAP_MM + 2.0 * WIDE_MM) * normals))
    loop = Loop(corners, np.zeros(len(corners)))
    sector = Region(loop if loop.signed_area() > 0.0 else loop.reversed())
    return max(intersection(band, (sector,)), key=Region.area).outer


def _mark(strip: Loop) -> Mark:
    area = to_polygon((Region(strip),), FLATNESS_MM)
    middle = shapely.centroid(area)
    at = (float(middle.x), float(middle.y))
    return Mark(at, WIDE_MM, WIDE_MM, is_key=False, kind="edge", seen="edge", strip=strip)
