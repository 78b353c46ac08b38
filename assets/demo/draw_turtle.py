"""Draw the demo picture: a sea turtle from above, in four flat colours with soft edges.

Run it to write turtle.png beside it. All is drawn eight times as large and scaled down by exact means,
so the same pixels come out everywhere. Traps on purpose: the thin necks of the hind flippers, the tight
inside corners where flippers meet the shell, plates that lie 1 mm apart, glints in the eyes that are islands
of 7 px. Measures are mm of a turtle 118 mm tall: x to the right and y to the tail, from the shell's middle.
"""

import io
from itertools import pairwise
from pathlib import Path

import cv2
import numpy as np
import numpy.typing as npt
import shapely
from PIL import Image
from shapely import affinity
from shapely.geometry.base import BaseGeometry

Points = npt.NDArray[np.float64]
Area = BaseGeometry

#: px: a side of the picture, and how much of it is the turtle; a tenth and more is margin on every side.
SIDE, TALL = 900, 708
#: mm from nose to tail, and from the nose to the shell's middle.
TALL_MM, NOSE_MM = 118.0, 62.0
#: Sub-pixels a pixel: an edge is right to 1/16 px before it is blurred.
FINE = 8
#: px, sigma of a Gaussian: a drawing that was made smaller once.
SOFTNESS = 0.6
#: Points that a smooth curve gets from one knot to the next.
STEPS = 32

PAPER, SKIN, SHELL, PLATE = (252, 250, 244), (68, 152, 128), (104, 66, 44), (228, 192, 130)
GAP = 1.0  # mm between two plates
RIM = 4.6  # mm of shell round the plates

HEAD = [(0, -62), (6.4, -60.4), (10.2, -55.6), (10.8, -49.6), (8.6, -43.6), (7.2, -38), (10, -26), (0, -20)]
BODY = [(0, -37), (13, -35), (24.5, -27), (31, -13), (31.6, 3), (27, 19), (18, 32), (8, 40.5), (0, 43)]
FRONT = [
    (10, -27),
    (21, -33.6),
    (33, -36.2),
    (44, -32.6),
    (52, -24),
    (56.6, -12),
    (57.6, 1),
    (55.6, 6.6),
    (51.4, 3.6),
    (46.6, -6),
    (40.4, -13.4),
    (32.6, -16.4),
    (25, -15),
    (16, -12),
]
HIND = [
    (13, 28),
    (18.6, 31.4),
    (21.8, 34.6),
    (27.6, 36.4),
    (33, 42),
    (35, 49.6),
    (32.4, 54.6),
    (26.6, 53),
    (21.4, 47),
    (18.6, 39.8),
    (16, 36.6),
    (10, 33),
]
TAIL = [(5, 36), (4.4, 44), (2.6, 50.4), (0, 56)]
EYE, GLINT = (6.5, -53.0, 2.0), (5.9, -53.7, 0.58)  # x, y, radius
FRONT_SPOTS = [
    (30.6, -27.8, 2.2),
    (37.8, -27.2, 3.0),
    (44.8, -21.8, 2.7),
    (49.4, -14.4, 2.2),
    (52.8, -7.0, 1.6),
]
HIND_SPOTS = [(26.4, 42.6, 2.2), (29.6, 47.8, 1.6)]
#: Middles of the plates along the back, where they are widest, and half their widths there and between.
BACK, WIDE, NARROW = (-24.5, -9.0, 6.5, 21.5, 34.5), (9.0, 10.6, 10.6, 9.2, 5.0), 6.2


def smooth(knots: list[tuple[float, float]]) -> Points:
    """Return a closed curve through the knots (n, 2), as a Catmull-Rom spline."""
    here = np.array(knots, dtype=np.float64)
    before, after, beyond = (np.roll(here, by, axis=0) for by in (1, -1, -2))
    t = np.linspace(0.0, 1.0, STEPS, endpoint=False)[:, np.newaxis, np.newaxis]
    curve = 2 * here + (after - before) * t + (2 * before - 5 * here + 4 * after - beyond) * t**2
    curve = curve + (3 * here - before - 3 * after + beyond) * t**3
    return np.swapaxes(curve / 2.0, 0, 1).reshape(-1, 2)


def half(knots: list[tuple[float, float]]) -> Area:
    """Return a shape that is its own mirror image, from the knots of its right half."""
    left = [(-x, y) for x, y in reversed(knots) if x > 0]
    return shapely.Polygon(smooth([*knots, *left]))


def mirrored(area: Area) -> Area:
    """Return it on the other side of the back."""
    return affinity.scale(area, -1.0, 1.0, origin=(0, 0))


def disc(x: float, y: float, radius: float) -> Area:
    """Return a disc."""
    return shapely.Point(x, y).buffer(radius, quad_segs=STEPS)


def rounded(area: Area, radius: float) -> Area:
    """Take the points off outside corners."""
    return area.buffer(-radius, quad_segs=STEPS).buffer(radius, quad_segs=STEPS)


def filleted(area: Area, radius: float) -> Area:
    """Fill inside corners up to a radius."""
    return area.buffer(radius, quad_segs=STEPS).buffer(-radius, quad_segs=STEPS)


def body() -> Area:
    """Return the skin: head, four flippers and tail, under the shell."""
    limbs = swum([shapely.Polygon(smooth(FRONT))], [shapely.Polygon(smooth(HIND))])
    skin = shapely.union_all([half(HEAD), half(TAIL), half(BODY), *limbs])
    return rounded(filleted(skin, 0.5), 1.2)


def swum(front: list[Area], hind: list[Area]) -> list[Area]:
    """Return what belongs to the right limbs on all four, each turned about its own root."""
    turns = [(front, FRONT, 0.0, 7.0), (hind, HIND, -4.0, 5.0)]
    right = [affinity.rotate(area, turn, root[0]) for areas, root, turn, _ in turns for area in areas]
    left = [affinity.rotate(area, turn, root[0]) for areas, root, _, turn in turns for area in areas]
    return [*right, *(mirrored(area) for area in left)]


def plates() -> list[Area]:
    """Return the plates: honeycomb along the back, its seams running out to the rim."""
    field = half(BODY).buffer(-RIM)
    return [rounded(cell.intersection(field).buffer(-GAP / 2, join_style="mitre"), 1.1) for cell in cells()]


def cells() -> list[Area]:
    """Return the cells that the seams part, larger than the shell."""
    between = [(low + high) / 2 for low, high in pairwise(BACK)]
    tops, bottoms = [-60.0, *between], [*between, 60.0]
    back = [
        shapely.Polygon([(-NARROW, top), (NARROW, top), (wide, y), (NARROW, low), (-NARROW, low), (-wide, y)])
        for y, wide, top, low in zip(BACK, WIDE, tops, bottoms, strict=True)
    ]
    right = [shapely.Polygon(side(at)) for at in range(len(BACK) + 1)]
    whole_back = shapely.union_all(back)
    flanks = [cell.difference(whole_back) for cell in right]
    return [*back, *flanks, *(mirrored(flank) for flank in flanks)]


def side(at: int) -> list[tuple[float, float]]:
    """Return the corners of the strip between two seams that run out from the widest places of the back."""
    seams = [(0.0, -70.0, 70.0), *((y, y, y * 1.12 - 2.0) for y in BACK), (0.0, 70.0, 70.0)]
    upper, lower = seams[at], seams[at + 1]
    first = (-70.0, -70.0) if at == 0 else upper[1:]
    last = (70.0, 70.0) if at == len(BACK) else lower[1:]
    return [(0.0, first[0]), (40.0, first[1]), (40.0, last[1]), (0.0, last[0])]


def painted() -> npt.NDArray[np.uint8]:
    """Return the picture, (SIDE, SIDE, 3)."""
    canvas = np.full((SIDE * FINE, SIDE * FINE, 3), PAPER, dtype=np.uint8)
    eyes, glints = ([disc(*spot), mirrored(disc(*spot))] for spot in (EYE, GLINT))
    spots = swum([disc(*spot) for spot in FRONT_SPOTS], [disc(*spot) for spot in HIND_SPOTS])
    layers = [
        (SKIN, [body()]),
        (PLATE, spots),
        (SHELL, [half(BODY), *eyes]),
        (PLATE, [*plates(), *glints]),
    ]
    for colour, areas in layers:
        for area in areas:
            paint(canvas, area, colour)
    return softened(canvas)


def paint(canvas: npt.NDArray[np.uint8], area: Area, colour: tuple[int, int, int]) -> None:
    """Fill it on the enlarged picture."""
    for polygon in shapely.get_parts(area):
        if polygon.is_empty:
            continue
        corners = np.asarray(polygon.exterior.coords) * (TALL / TALL_MM)
        place = corners + np.array([SIDE / 2, (SIDE - TALL) / 2 + NOSE_MM * TALL / TALL_MM])
        cv2.fillPoly(canvas, [np.round(place * FINE - 0.5).astype(np.int32)], colour)


def softened(canvas: npt.NDArray[np.uint8]) -> npt.NDArray[np.uint8]:
    """Scale the enlarged picture down by the mean of each square, then blur it a little."""
    squares = canvas.reshape(SIDE, FINE, SIDE, FINE, 3)
    sums = squares.sum(axis=1, dtype=np.uint16).sum(axis=2, dtype=np.uint16)
    means = sums / float(FINE * FINE)
    reach = np.arange(-4, 5)
    weights = np.exp(-(reach**2) / (2 * SOFTNESS**2))
    weights /= weights.sum()
    for axis in (0, 1):
        shifted = [np.roll(means, int(by), axis) for by in reach]
        means = np.tensordot(weights, np.stack(shifted), axes=1)
    return np.asarray(np.round(means), dtype=np.uint8)


def png(pixels: npt.NDArray[np.uint8]) -> bytes:
    """Return the file's bytes."""
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "PNG", optimize=True)
    return out.getvalue()


if __name__ == "__main__":
    Path(__file__).with_name("turtle.png").write_bytes(png(painted()))
