"""Sheets of paper photographed at a slant, drawn by exact coverage: every edge is mapped, then its pixels.

Beyond the paper lies a table. The camera looks at the sheet's middle from a distance, and has turned and
tilted about it; a pixel of the photograph is about one of the shape's page.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.picture.plane import Plane, plane_of
from core.picture.square import Squared
from tests.support.drawn import FLAT, Patch, Ring, Shape, coverage, jpeg, polygon

TABLE = np.array([120, 92, 70]) / 255
#: Focal length over the longer side of the photograph.
FOCAL = 0.75
#: Share of the photograph that is left round the sheet.
MARGIN = 0.08


@dataclass(frozen=True, eq=False)
class Photograph:
    """pixels (h, w, 3), the map from the sheet (px, y down) to them, the sheet's corners (4, 2) there."""

    pixels: Floats
    onto: Plane
    corners: Floats


def seen(size: tuple[int, int], tilt: float, about: float, turn: float) -> tuple[Plane, tuple[int, int]]:
    """The map of a sheet of this size tilted by an angle about an axis and turned, all rad; and the page."""
    width, height = size
    side = max(size) * (1.0 + 4.0 * MARGIN)
    focal = FOCAL * side
    x, y, z = np.cos(about), np.sin(about), 0.0
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    tilted = np.eye(3) + np.sin(tilt) * cross + (1.0 - np.cos(tilt)) * cross @ cross
    cos, sin = np.cos(turn), np.sin(turn)
    spun = np.array([[cos, -sin, 0], [sin, cos, 0], [0, 0, 1]])
    pose = spun @ tilted
    middle = np.array([width / 2.0, height / 2.0])
    world = np.column_stack((pose[:, 0], pose[:, 1], -pose[:, :2] @ middle + np.array([0.0, 0.0, focal])))
    onto = plane_of(np.diag([focal, focal, 1.0]) @ world)
    corners = np.array([onto.of(c) for c in ((0, 0), (width, 0), (width, height), (0, height))])
    half = np.abs(corners).max(axis=0) + MARGIN * max(size)
    page = (int(2 * half[0]), int(2 * half[1]))
    return onto.then(Plane(((1, 0, page[0] / 2), (0, 1, page[1] / 2), (0, 0, 1)))), page


def photographed(shape: Shape, palette: Floats, tilt: float, about: float, turn: float) -> Photograph:
    """The shape on a sheet as large as its page, palette[0] the paper; angles in rad."""
    onto, (width, height) = seen((shape.width, shape.height), tilt, about, turn)
    sheet = polygon((0, 0), (shape.width, 0), (shape.width, shape.height), (0, shape.height))
    palette = np.asarray(palette, float)
    pixels = np.broadcast_to(TABLE, (height, width, 3)).copy()
    share = coverage((_mapped(sheet, shape.height, onto, height),), width, height)[..., None]
    pixels += share * (palette[0] - TABLE)
    for patch in shape.patches:
        rings = tuple(_mapped(ring, shape.height, onto, height) for ring in patch.rings)
        share = coverage(rings, width, height)[..., None]
        pixels += share * (palette[patch.colour] - palette[0])
    corners = ((0, 0), (shape.width, 0), (shape.width, shape.height), (0, shape.height))
    return Photograph(np.clip(pixels, 0, 1), onto, np.array([onto.of(corner) for corner in corners]))


def _mapped(ring: Ring, page: int, onto: Plane, height: int) -> Ring:
    """A ring, y up on a page, as a fine polygon in the photograph, y up."""
    flat = ring.segments().corners(FLAT)
    there = np.array([onto.of((x, page - y)) for x, y in flat.tolist()])
    points = np.column_stack((there[:, 0], height - there[:, 1]))
    return Ring(points, np.zeros(len(points)))


def drawn_where(shape: Shape, photograph: Photograph, made: Squared) -> Shape:
    """The shape where a squared picture should show it: a similarity of the sheet that ties its top left
    corner and its width to where the program puts those, so that its height and angles are judged."""
    whole = photograph.onto.then(made.plane)
    left, right = (np.array(whole.of(corner)) for corner in ((0.0, 0.0), (float(shape.width), 0.0)))
    scale = float(np.hypot(*(right - left))) / shape.width
    shift = (float(left[0]), made.picture.height - float(left[1]) - scale * shape.height)
    patches = tuple(
        Patch(patch.colour, tuple(ring.scaled(scale).moved(*shift) for ring in patch.rings))
        for patch in shape.patches
    )
    return Shape(shape.name, made.picture.width, made.picture.height, patches, shape.primitives)


def telephoned(pixels: Floats, seed: int = 0) -> Floats:
    """As a telephone takes it on a wooden table: falling light, a soft shadow, blur, grain, JPEG."""
    import cv2  # noqa: PLC0415 - only these pictures need it

    dice = np.random.default_rng(seed)
    height, width = pixels.shape[:2]
    x, y = np.arange(width) / width, np.arange(height)[:, None] / height
    light = (1.0 - 0.3 * x - 0.15 * y) * (1.0 - 0.25 / (1.0 + np.exp(-18.0 * (x - 0.6 * y - 0.35))))
    wood = 1.0 + 0.12 * np.sin(60.0 * x + 3.0 * np.sin(9.0 * y))
    is_table = np.abs(pixels - TABLE).max(axis=2) < 0.02
    seen = cv2.GaussianBlur(pixels * (np.where(is_table, wood, 1.0) * light)[..., None], (0, 0), 0.8)
    grain = dice.normal(0.0, 3 / 255, (height, width)).astype(np.float32)
    grain += cv2.resize(grain[::2, ::2], (width, height))
    return jpeg(88)(np.clip(seen + grain[..., None], 0, 1))
