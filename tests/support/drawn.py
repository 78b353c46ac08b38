"""Pictures of known geometry: patches bounded by lines and arcs, drawn by exact area coverage, then spoilt.

Everything is in picture px, x right, y up. A Shape lists its patches from the ground up; each patch is a
set of closed outlines (outer counter-clockwise, holes clockwise). Patches may share edges but do not
overlap, so coverages add up and every pixel reads the area-weighted mean of its colours.
"""

import io
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from PIL import Image

from core.outline.segments import Floats, Segments
from core.picture.colours import Colours
from core.picture.picture import Picture

#: px; arcs are flattened this finely before their coverage is taken.
FLAT = 2e-5

#: A patch that covers less of a pixel's neighbourhood than this is not asked for its colour.
LEAST_SHARE = 0.08

BLACK_ON_WHITE = np.array([[255, 255, 255], [25, 25, 25]]) / 255
GREY_ON_GREY = np.array([[170, 170, 170], [110, 110, 110]]) / 255
BLUE_ON_BEIGE = np.array([[222, 205, 170], [25, 35, 85]]) / 255
FOUR = np.array([[255, 255, 255], [25, 25, 25], [200, 40, 50], [30, 90, 200]]) / 255


@dataclass(frozen=True, eq=False)
class Ring:
    """A closed run of lines and arcs: points (n, 2) and bulges (n,)."""

    points: Floats
    bulges: Floats

    def segments(self) -> Segments:
        return Segments.between(self.points, self.bulges)

    def reversed(self) -> "Ring":
        return Ring(np.roll(self.points[::-1], 1, axis=0), -self.bulges[::-1])

    def moved(self, x: float, y: float) -> "Ring":
        return Ring(self.points + np.array([x, y]), self.bulges)

    def scaled(self, factor: float) -> "Ring":
        return Ring(self.points * factor, self.bulges)

    def turned(self, angle: float) -> "Ring":
        cos, sin = np.cos(angle), np.sin(angle)
        return Ring(self.points @ np.array([[cos, sin], [-sin, cos]]), self.bulges)


@dataclass(frozen=True, eq=False)
class Patch:
    colour: int
    rings: tuple[Ring, ...]


@dataclass(frozen=True, eq=False)
class Shape:
    """What is drawn, on a page of width x height px. primitives is the fewest lines and arcs that say it."""

    name: str
    width: int
    height: int
    patches: tuple[Patch, ...]
    primitives: int

    def truth(self) -> Segments:
        """Every edge once: an edge shared by two patches is taken from the first."""
        parts = [ring.segments() for patch in self.patches for ring in patch.rings]
        starts, ends = (np.vstack([getattr(p, side) for p in parts]) for side in ("starts", "ends"))
        bulges = np.concatenate([p.bulges for p in parts])
        seen: set[tuple[float, ...]] = set()
        keep = []
        for row in range(len(bulges)):
            forth = tuple(np.round((*starts[row], *ends[row], bulges[row]), 6))
            back = tuple(np.round((*ends[row], *starts[row], -bulges[row]), 6))
            keep.append(forth not in seen and back not in seen)
            seen.add(forth)
        return Segments(starts[keep], ends[keep], bulges[keep])


def coverage(rings: tuple[Ring, ...], width: int, height: int) -> Floats:
    """(height, width), row 0 at the top: the share of every pixel inside the rings, exact to 1e-4.

    Green's theorem, pixel by pixel: a piece of edge that climbs dy inside a pixel covers dy times what lies
    to the right of it there, and dy of every pixel further right. Left of an upward edge is inside, so the
    signs are turned.
    """
    total = np.zeros((height, width + 2))
    for ring in rings:
        corners = ring.segments().corners(FLAT)
        _accumulate(total, _split(corners, np.roll(corners, -1, axis=0)))
    return -np.cumsum(total, axis=1)[::-1, :width]


def _split(starts: Floats, ends: Floats) -> tuple[Floats, Floats]:
    """Pieces that each stay inside one pixel."""
    for axis in (0, 1):
        low = np.minimum(starts[:, axis], ends[:, axis])
        high = np.maximum(starts[:, axis], ends[:, axis])
        counts = np.maximum(np.ceil(high) - np.floor(low), 1).astype(int)
        rows = np.repeat(np.arange(len(starts)), counts)
        within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
        span = np.where(high > low, high - low, 1.0)[rows]
        first = (np.clip(np.floor(low[rows]) + within, low[rows], high[rows]) - low[rows]) / span
        last = (np.clip(np.floor(low[rows]) + within + 1, low[rows], high[rows]) - low[rows]) / span
        last = np.where((high == low)[rows], 1.0, last)
        back = (ends[:, axis] < starts[:, axis])[rows]
        first, last = np.where(back, 1 - last, first), np.where(back, 1 - first, last)
        step = (ends - starts)[rows]
        starts, ends = starts[rows] + first[:, None] * step, starts[rows] + last[:, None] * step
    return starts, ends


def _accumulate(total: Floats, pieces: tuple[Floats, Floats]) -> None:
    starts, ends = pieces
    middle, climb = (starts + ends) / 2, ends[:, 1] - starts[:, 1]
    height, width = total.shape
    row = np.floor(middle[:, 1]).astype(int)
    column = np.clip(np.floor(middle[:, 0]).astype(int), -1, width - 2)
    share = np.clip(middle[:, 0] - column, 0, 1)
    inside = (row >= 0) & (row < height)
    row, column, climb, share = row[inside], column[inside], climb[inside], share[inside]
    np.add.at(total, (row, np.maximum(column, 0)), np.where(column < 0, climb, climb * (1 - share)))
    np.add.at(total, (row, column + 1), np.where(column < 0, 0.0, climb * share))


def drawn(shape: Shape, palette: Floats) -> Floats:
    """(h, w, 3) in 0..1: palette[0] is the ground."""
    palette = np.asarray(palette, float)
    pixels = np.broadcast_to(palette[0], (shape.height, shape.width, 3)).copy()
    for patch in shape.patches:
        share = coverage(patch.rings, shape.width, shape.height)[..., None]
        pixels += share * (palette[patch.colour] - palette[0])
    return np.clip(pixels, 0, 1)


# Defects: each takes and gives (h, w, 3) in 0..1, all but the exact one as 8 bits would hold it.
Defect = Callable[[Floats], Floats]


def eight_bit(pixels: Floats) -> Floats:
    return np.round(np.clip(pixels, 0, 1) * 255) / 255


def blurred(sigma: float) -> Defect:
    def spoil(pixels: Floats) -> Floats:
        import cv2  # noqa: PLC0415 - only pictures with blur need it

        return eight_bit(cv2.GaussianBlur(pixels, (0, 0), sigma, borderType=cv2.BORDER_REPLICATE))

    return spoil


def noisy(sigma: float, seed: int = 7) -> Defect:
    def spoil(pixels: Floats) -> Floats:
        noise = np.random.default_rng(seed).normal(0, sigma / 255, pixels.shape)
        return eight_bit(pixels + noise)

    return spoil


def grainy(pixels: Floats) -> Floats:
    """Grain of paper: noise in lumps of 1, 2 and 4 px, 10 grey levels in all."""
    import cv2  # noqa: PLC0415 - only pictures with grain need it

    dice = np.random.default_rng(5)
    height, width = pixels.shape[:2]
    grain = np.zeros((height, width), np.float32)
    for lump, sigma in ((1, 5), (2, 6), (4, 6)):
        coarse = dice.normal(0, sigma / 255, (height // lump, width // lump)).astype(np.float32)
        grain += cv2.resize(coarse, (width, height), interpolation=cv2.INTER_CUBIC)
    return eight_bit(pixels + grain[..., None])


def jpeg(quality: int) -> Defect:
    def spoil(pixels: Floats) -> Floats:
        store = io.BytesIO()
        Image.fromarray((eight_bit(pixels) * 255).round().astype(np.uint8)).save(
            store, "JPEG", quality=quality
        )
        return np.asarray(Image.open(io.BytesIO(store.getvalue())).convert("RGB"), float) / 255

    return spoil


def hardened(palette: Floats) -> Defect:
    """Every pixel the nearest colour of the palette: 1-bit for two colours."""

    def spoil(pixels: Floats) -> Floats:
        return np.asarray(palette, float)[nearest(pixels, palette)]

    return spoil


def nearest(pixels: Floats, palette: Floats) -> Floats:
    palette = np.asarray(palette, float)
    distance = ((pixels[..., None, :] - palette) ** 2).sum(-1)
    return distance.argmin(-1)


def picture_of(pixels: Floats) -> Picture:
    return Picture(pixels.astype(np.float32), None, None, "drawn.png", "PNG", "0" * 64)


def colours_of(pixels: Floats, palette: Floats) -> Colours:
    """The nearest palette colour everywhere; palette[0] is the ground."""
    labels = nearest(pixels, palette).astype(np.uint8)
    return Colours(np.asarray(palette, float), labels, 0)


def labelled(shape: Shape, pixels: Floats, palette: Floats) -> Colours:
    """The nearer of the two patches most present near every pixel: what a good eye for colours would say."""
    import cv2  # noqa: PLC0415 - only pictures of many patches need it

    share = [coverage(patch.rings, shape.width, shape.height) for patch in shape.patches]
    share = np.stack([cv2.GaussianBlur(s, (0, 0), 1.0) for s in (1.0 - sum(share), *share)])
    colour = np.array([0, *(patch.colour for patch in shape.patches)])
    off = ((pixels[None] - np.asarray(palette)[colour][:, None, None]) ** 2).sum(-1)
    first = np.argsort(-share, axis=0, kind="stable")[:2]
    off = np.take_along_axis(np.where(share > LEAST_SHARE, off, np.inf), first, 0)
    labels = colour[np.take_along_axis(first, off.argmin(0)[None], 0)[0]]
    return Colours(np.asarray(palette, float), labels.astype(np.uint8), 0)


# Shapes ---------------------------------------------------------------------------------------------


def circle(x: float, y: float, radius: float) -> Ring:
    return Ring(np.array([[x + radius, y], [x - radius, y]]), np.array([1.0, 1.0]))


def polygon(*corners: tuple[float, float]) -> Ring:
    return Ring(np.array(corners, float), np.zeros(len(corners)))


def rounded(corners: Floats, radii: Floats) -> Ring:
    """A polygon, either way round, whose corners are rounded tangentially; radius 0 stays sharp."""
    corners, radii = np.asarray(corners, float), np.broadcast_to(np.asarray(radii, float), len(corners))
    points, bulges = [], []
    for index, corner in enumerate(corners):
        before = corners[index - 1] - corner
        after = corners[(index + 1) % len(corners)] - corner
        before, after = before / np.hypot(*before), after / np.hypot(*after)
        if radii[index] == 0:
            points.append(corner)
            bulges.append(0.0)
            continue
        half = np.arccos(np.clip(before @ after, -1, 1)) / 2
        reach = radii[index] / np.tan(half)
        turn = np.pi - 2 * half
        side = -np.sign(before[0] * after[1] - before[1] * after[0])
        points += [corner + before * reach, corner + after * reach]
        bulges += [side * np.tan(turn / 4), 0.0]
    return Ring(np.array(points), np.array(bulges))


def star(x: float, y: float, outer: float, inner: float, tips: int, turn: float = 0.1) -> Ring:
    angles = turn + np.arange(2 * tips) * np.pi / tips
    radius = np.where(np.arange(2 * tips) % 2 == 0, outer, inner)
    return Ring(
        np.column_stack((x + radius * np.cos(angles), y + radius * np.sin(angles))), np.zeros(2 * tips)
    )


def lens(x: float, y: float, length: float, bulge: float, turn: float) -> Ring:
    ring = Ring(np.array([[-length / 2, 0], [length / 2, 0]]), np.array([bulge, bulge]))
    return ring.turned(turn).moved(x, y)


def _two_colour(name: str, size: int, primitives: int, *rings: Ring) -> Shape:
    return Shape(name, size, size, (Patch(1, rings),), primitives)


def shapes(size: int) -> tuple[Shape, ...]:
    """Eight two-colour shapes on a square page, features in proportion to size, places off the lattice."""
    u = size / 100.0
    at = 50 * u + 0.317, 50 * u - 0.183
    ring = circle(*at, 34.21 * u)
    hole = circle(at[0] + 5.1 * u, at[1] - 3.3 * u, 14.13 * u).reversed()
    slanted = rounded([[-30 * u, -18 * u], [30 * u, -18 * u], [30 * u, 18 * u], [-30 * u, 18 * u]], 7.3 * u)
    plate = rounded(
        [[-34 * u, -30 * u], [31 * u, -33 * u], [38 * u, 20 * u], [0, 37 * u], [-30 * u, 24 * u]],
        [5 * u, 0, 9 * u, 0, 3 * u],
    )
    slot = rounded([[-12 * u, -4 * u], [-12 * u, 4 * u], [12 * u, 4 * u], [12 * u, -4 * u]], 3.999 * u)
    gear = _gear(at, 30 * u, 37 * u, 11)
    return (
        _two_colour("washer", size, 4, ring, hole),
        _two_colour("star", size, 10, star(*at, 38 * u, 17 * u, 5)),
        _two_colour("rounded box", size, 8, slanted.turned(0.31).moved(*at)),
        _two_colour("plate", size, 8 + 4, plate.moved(*at), slot.turned(0.7).moved(*at)),
        _two_colour("lens", size, 2, lens(*at, 70 * u, 0.35, 0.4)),
        _two_colour("gear", size, 44 + 2, gear, circle(*at, 8 * u).reversed()),
        _two_colour(
            "upright box",
            size,
            4,
            polygon((20.3 * u, 25.7 * u), (79.1 * u, 25.7 * u), (79.1 * u, 71.45 * u), (20.3 * u, 71.45 * u)),
        ),
        _two_colour("leaf", size, 5, _leaf(u).moved(*at)),
    )


def _gear(at: tuple[float, float], low: float, high: float, teeth: int) -> Ring:
    points, bulges = [], []
    pitch = 2 * np.pi / teeth
    for tooth in range(teeth):
        for share, radius in ((0.0, low), (0.12, high), (0.38, high), (0.5, low)):
            angle = 0.05 + (tooth + share) * pitch
            points.append((at[0] + radius * np.cos(angle), at[1] + radius * np.sin(angle)))
        bulges += [0.0, np.tan(0.26 * pitch / 4), 0.0, np.tan(0.5 * pitch / 4)]
    return Ring(np.array(points), np.array(bulges))


def _leaf(u: float) -> Ring:
    """Arcs that meet in a tip, in an inside corner and tangentially."""
    points = np.array([[-32, -10], [0, -28], [34, 8], [6, 10], [-6, 30]]) * u
    return Ring(points, np.array([0.2, 0.31, 0.12, -0.25, 0.3]))


def pie(size: int) -> Shape:
    """Three sectors of a disc on the ground: four flat colours, four triple points and a centre."""
    at = np.array([size * 0.5 + 0.21, size * 0.5 + 0.37])
    radius, angles = size * 0.36, np.array([0.3, 2.2, 4.4])
    rim = at + radius * np.column_stack((np.cos(angles), np.sin(angles)))
    patches = []
    for index in range(3):
        sweep = (angles[(index + 1) % 3] - angles[index]) % (2 * np.pi)
        points = np.array([at, rim[index], rim[(index + 1) % 3]])
        patches.append(Patch(index + 1, (Ring(points, np.array([0.0, np.tan(sweep / 4), 0.0])),)))
    return Shape("pie", size, size, tuple(patches), 6)


def flag(size: int) -> Shape:
    """A box in a box in a frame, with straight seams that end on edges: T-junctions."""
    u = size / 100.0
    left, seam, right = 15.3 * u, 47.7 * u, 84.6 * u
    low, middle, high = 20.4 * u, 52.2 * u, 80.9 * u
    patches = (
        Patch(1, (polygon((left, low), (seam, low), (seam, middle), (seam, high), (left, high)),)),
        Patch(2, (polygon((seam, low), (right, low), (right, middle), (seam, middle)),)),
        Patch(3, (polygon((seam, middle), (right, middle), (right, high), (seam, high)),)),
    )
    turn = [
        replace(
            p,
            rings=tuple(r.moved(-50 * u, -50 * u).turned(0.17).moved(50 * u + 0.1, 50 * u) for r in p.rings),
        )
        for p in patches
    ]
    return Shape("flag", size, size, tuple(turn), 10)
