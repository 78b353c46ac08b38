"""Drawings at random, edited copies of them with a known place, and strangers.

A drawing is layers of rings painted over each other, in px of its own page, y up. A copy is the same rings
scaled, turned and shifted (so its true place is known to the last digit), painted anew on a page of its own,
with parts removed or added and a piece of the page cut off.
"""

from dataclasses import dataclass, replace

import numpy as np

from core.cancel import NEVER
from core.outline.segments import Floats
from core.picture.colours import ColourWish, find_colours
from core.picture.oklab import to_oklab
from core.second.pose import Pose
from core.second.traced import Traced
from core.trace.trace import trace
from tests.support import drawn as d

PALETTE = np.array([[255, 255, 255], [40, 60, 70], [220, 170, 60], [190, 60, 50]]) / 255


@dataclass(frozen=True, eq=False)
class Drawing:
    """layers: colour and rings, painted in their order on a page (width, height) px."""

    layers: tuple[tuple[int, d.Ring], ...]
    page: tuple[int, int]


def painted(drawing: Drawing) -> Floats:
    """(h, w, 3) in 0..1, exact coverage, layer over layer, as 8 bits hold it."""
    width, height = drawing.page
    pixels = np.tile(PALETTE[0], (height, width, 1))
    for colour, ring in drawing.layers:
        share = np.clip(d.coverage((ring,), width, height), 0.0, 1.0)[..., None]
        pixels = pixels * (1.0 - share) + share * PALETTE[colour]
    return d.eight_bit(pixels)


def traced(drawing: Drawing, *, only_silhouette: bool = False) -> Traced:
    """The drawing as the program sees it."""
    picture = d.picture_of(painted(drawing))
    colours = find_colours(picture, ColourWish())
    lightness = tuple(float(light) for light in to_oklab(colours.palette)[:, 0])
    outline = trace(picture, colours, NEVER)
    return Traced(outline, drawing.page, lightness, colours.ground, only_silhouette)


def any_drawing(rng: np.random.Generator, size: int = 320) -> Drawing:
    """A body with three to seven things in it."""
    middle = np.array([size / 2.0, size / 2.0]) + rng.uniform(-5.0, 5.0, 2)
    layers = [(1, _body(rng, 0.4 * size).moved(*middle))]
    for _ in range(int(rng.integers(3, 8))):
        reach, angle = 0.2 * size * np.sqrt(rng.random()), rng.uniform(0.0, 2.0 * np.pi)
        at = middle + reach * np.array([np.cos(angle), np.sin(angle)])
        layers.append((int(rng.integers(0, 4)), _thing(rng, size * rng.uniform(0.03, 0.09)).moved(*at)))
    return Drawing(tuple(layers), (size, size))


def _body(rng: np.random.Generator, reach: float) -> d.Ring:
    corners = int(rng.integers(5, 9))
    turn = (np.arange(corners) + rng.uniform(0.2, 0.8, corners)) / corners * 2.0 * np.pi
    away = reach * rng.uniform(0.65, 1.0, corners)
    points = away[:, None] * np.column_stack((np.cos(turn), np.sin(turn)))
    if rng.random() < 0.5:
        return d.rounded(points, rng.uniform(0.02, 0.1, corners) * reach)
    return d.Ring(points, np.where(rng.random(corners) < 0.7, rng.uniform(-0.15, 0.35, corners), 0.0))


def _thing(rng: np.random.Generator, reach: float) -> d.Ring:
    turn = rng.uniform(0.0, 6.0)
    makers = (
        lambda: d.circle(0.0, 0.0, reach),
        lambda: d.star(0.0, 0.0, 1.3 * reach, 0.6 * reach, int(rng.integers(4, 7)), turn),
        lambda: d.lens(0.0, 0.0, 2.6 * reach, rng.uniform(0.3, 0.7), turn),
        lambda: d.rounded(
            np.array([[-1.2, -0.7], [1.2, -0.7], [1.2, 0.7], [-1.2, 0.7]]) * reach, 0.2 * reach
        ).turned(turn),
    )
    return makers[int(rng.integers(len(makers)))]()


@dataclass(frozen=True, eq=False)
class Copy:
    """An edited copy and the Pose that brings it back onto the first."""

    drawing: Drawing
    pose: Pose


def any_copy(first: Drawing, rng: np.random.Generator) -> Copy:
    """Scaled by 0.7 to 1.4, turned by up to 10 degrees, up to 30 % of each side cut off, parts removed."""
    scale, turn = float(np.exp(rng.uniform(np.log(0.7), np.log(1.4)))), np.radians(rng.uniform(-10.0, 10.0))
    page = np.array(first.page) * scale
    cut = rng.uniform(0.0, 0.3, 2)
    low = -page * cut * rng.random(2)
    kept = tuple(int(np.ceil(side)) for side in page * (1.0 - cut))
    # first to copy about the page's middle, then the copy's page is cut out
    middle = np.array(first.page) / 2.0
    forth = Pose.turned(scale, turn, (0.0, 0.0))
    shift = page / 2.0 - forth.of(middle[None])[0] + low
    forth = replace(forth, shift=(float(shift[0]), float(shift[1])))
    layers = [layer for index, layer in enumerate(first.layers) if index == 0 or rng.random() > 0.25]
    moved = tuple((colour, d.Ring(forth.of(ring.points), ring.bulges)) for colour, ring in layers)
    return Copy(Drawing(moved, (kept[0], kept[1])), inverse(forth))


def inverse(pose: Pose) -> Pose:
    """The way back."""
    factor = 1.0 / complex(pose.along, pose.across)
    shift = -factor * complex(*pose.shift)
    return Pose(factor.real, factor.imag, (shift.real, shift.imag))


def misses(found: Pose, true: Pose, page: tuple[int, int]) -> float:
    """Px of the first: root mean square over the copy's page of how far the found place is off."""
    x, y = np.meshgrid(np.linspace(0.0, page[0], 12), np.linspace(0.0, page[1], 12))
    points = np.column_stack((x.ravel(), y.ravel()))
    return float(np.sqrt(((found.of(points) - true.of(points)) ** 2).sum(axis=1).mean()))
