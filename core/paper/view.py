"""The finished thing as it will look from the front: the part as the bit leaves it, the films on it.

Clear stock is shown as clear, with an edge that catches light from the upper left; film is flat colour.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np

from core.outline.loop import Bounds, Loop
from core.outline.region import Regions, bounds_of, mapped
from core.outline.segments import Floats
from core.paper.png import png_of, with_true_size
from core.paper.recorder import Recorder
from core.paper.shapes import draw_box, draw_polygon, draw_regions
from core.paper.surface import Fill, Pen, Surface

#: The longer side of the picture of a kit, pixels.
LONG_SIDE_PX = 1200

#: Pixels of a mm, all that a printer makes use of (254 dots an inch; common practice, no source); most
#: pixels of a side; the longer side of the picture of the back, which is looked at once.
PER_MM, MOST_PX, BACK_PX = 10.0, 3000, 800

#: Shares of the longer side of the shape: paper left round it, the lit edge, how far the shadow falls.
MARGIN, EDGE, SHADOW = 0.08, 0.009, 0.014

#: Where the light comes from: a unit vector in the page.
LIGHT = np.array([-0.6, 0.8])

#: How many tones the lit edge has; more cannot be told apart.
TONES = 24

#: mm of flattening for the lit edge, per mm of the shape: under a fifth of a pixel of the picture.
SMOOTH = 1e-4

#: A mitre at a sharp corner reaches no farther than this many edge widths.
LONGEST_MITRE = 2.0

PAPER, SHADE = "#f3eee4", "#5d5648"
#: Where a film's edge may come to lie: on the part, and over its edge.
BAND, OVER = Fill("#f0a020", 0.6), Fill("#c01830", 0.85)
CLEAR, CLEAR_DARK, CLEAR_LIGHT = "#dde9ea", "#86a9b0", "#ffffff"


@dataclass(frozen=True)
class FilmLook:
    """A film as it lies on the part: its name, its colour "#rrggbb", where it is."""

    name: str
    colour: str
    regions: Regions


@dataclass(frozen=True)
class Look:
    """part as traced, as_cut as the bit leaves it, films from the lowest to the topmost; in the frame, mm.

    stock_colour is the sheet's own where it is not clear. Films behind clear stock lie under it. band: where
    edges of film may come to lie on the part, and where over its edge.
    """

    part: Regions
    as_cut: Regions
    films: tuple[FilmLook, ...]
    is_clear: bool
    stock_colour: str = "#d9d2c3"
    is_behind: bool = False
    band: tuple[Regions, Regions] = ((), ())

    @property
    def shape(self) -> Regions:
        """What is seen of the part: as traced where the bit leaves nothing yet."""
        return self.as_cut or self.part


def view_box(look: Look) -> Bounds:
    """The page of the picture round the shape, mm."""
    x_min, y_min, x_max, y_max = _bounds(look)
    margin = MARGIN * max(x_max - x_min, y_max - y_min)
    return x_min - margin, y_min - margin, x_max + margin, y_max + margin


def picture(look: Look, long_side_px: int = LONG_SIDE_PX) -> bytes:
    """A picture of the kit: PNG that says its true size, soft paper ground."""
    box = view_box(look)
    recorder = Recorder()
    draw_box(recorder, box[:2], box[2:], Fill(PAPER))
    draw_view(recorder, look)
    longer = max(box[2] - box[0], box[3] - box[1])
    return with_true_size(png_of(recorder.recording(), box, long_side_px), longer / long_side_px)


def print_px(look: Look) -> int:
    """Pixels of the longer side at true size; never fewer than for the screen."""
    x_min, y_min, x_max, y_max = view_box(look)
    true_size = round(max(x_max - x_min, y_max - y_min) * PER_MM)
    return min(max(true_size, LONG_SIDE_PX), MOST_PX)


def from_behind(look: Look) -> Look:
    """The same thing turned like a page: what is seen of it from its back.

    Film on the front of stock that is not clear is not seen from there.
    """
    x_min, _, x_max, _ = _bounds(look)
    middle = (x_min + x_max) / 2.0

    def turned(regions: Regions) -> Regions:
        return mapped(regions, lambda loop: loop.mirrored(middle))

    seen = look.films if look.is_clear or look.is_behind else ()
    films = tuple(replace(film, regions=turned(film.regions)) for film in reversed(seen))
    part, as_cut = turned(look.part), turned(look.as_cut)
    band = turned(look.band[0]), turned(look.band[1])
    return replace(look, part=part, as_cut=as_cut, films=films, is_behind=not look.is_behind, band=band)


def draw_view(surface: Surface, look: Look) -> None:
    """Shadow, films behind, sheet, lit edge, films in front."""
    size = _size(look)
    _draw_shadow(surface, look, size)
    if look.is_behind:
        _draw_films(surface, look, size)
    light, dark = _tones(look)
    draw_regions(surface, look.shape, _sheet(look), None)
    for loop in (loop for region in look.shape for loop in region.loops()):
        _draw_edge(surface, loop, size, (dark, light))
    if not look.is_behind:
        _draw_films(surface, look, size)
    draw_regions(surface, look.shape, None, Pen(mixed(dark, "#000000", 0.45), size * 0.0011))
    for regions, colour in zip(look.band, (BAND, OVER), strict=True):
        draw_regions(surface, regions, colour, None)


def _bounds(look: Look) -> Bounds:
    return bounds_of(loop for region in look.shape for loop in region.loops())


def _size(look: Look) -> float:
    x_min, y_min, x_max, y_max = _bounds(look)
    return max(x_max - x_min, y_max - y_min)


def _sheet(look: Look) -> Fill:
    if not look.is_clear:
        return Fill(look.stock_colour)
    return Fill(CLEAR, 0.35 if look.is_behind else 0.8)


def _tones(look: Look) -> tuple[str, str]:
    if look.is_clear:
        return CLEAR_LIGHT, CLEAR_DARK
    return mixed(look.stock_colour, "#ffffff", 0.55), mixed(look.stock_colour, "#000000", 0.3)


def _draw_shadow(surface: Surface, look: Look, size: float) -> None:
    """A soft one: the same shape thrown to the lower right, in ever wider and fainter strokes."""
    throw = SHADOW * size
    thrown = mapped(look.shape, lambda loop: loop.moved(0.6 * throw, -0.8 * throw))
    for share in (1.0, 0.7, 0.4, 0.15):
        draw_regions(surface, thrown, None, Pen(SHADE, 1.3 * throw * share, 0.05))
    draw_regions(surface, thrown, Fill(SHADE, 0.16 if look.is_clear else 0.26), None)


def _draw_films(surface: Surface, look: Look, size: float) -> None:
    """Flat colour, and the hairline that a film's own thickness throws."""
    for film in look.films:
        rim = Pen(mixed(film.colour, "#000000", 0.35), size * 0.0008, 0.7)
        draw_regions(surface, film.regions, Fill(film.colour), rim)


def _draw_edge(surface: Surface, loop: Loop, size: float, tones: tuple[str, str]) -> None:
    """A band along the inside of the edge, bright where its face looks into the light."""
    corners = loop.flattened(SMOOTH * size)
    inner = inset(corners, EDGE * size)
    for tone, rows in _runs(_brightness(corners)):
        ring = [*rows, (rows[-1] + 1) % len(corners)]
        outline = np.vstack((corners[ring], inner[ring[::-1]]))
        colour = mixed(tones[0], tones[1], tone / (TONES - 1))
        draw_polygon(surface, [(x, y) for x, y in outline.tolist()], Fill(colour), Pen(colour, size * 2e-4))


def _runs(tones: list[int]) -> Iterator[tuple[int, list[int]]]:
    for tone, group in groupby(range(len(tones)), key=lambda i: tones[i]):
        yield tone, list(group)


def _brightness(corners: Floats) -> list[int]:
    """A tone for each side: 0 turned away from the light, TONES - 1 facing it; solid lies to the left."""
    outward = -_left_normals(corners)
    share = (outward @ LIGHT + 1.0) / 2.0
    tones: list[int] = np.round(share * (TONES - 1)).astype(int).tolist()
    return tones


def _left_normals(corners: Floats) -> Floats:
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.maximum(np.hypot(*sides.T), 1e-12)[:, None]
    return np.asarray(np.column_stack((-sides[:, 1], sides[:, 0])) / lengths)


def inset(corners: Floats, distance: float) -> Floats:
    """(n, 2): each corner of a polygon moved to its left by mitring its two sides; for shading only."""
    after = _left_normals(corners)
    both = after + np.roll(after, 1, axis=0)
    square = np.maximum((both**2).sum(axis=1), 1e-12)
    reach = np.minimum(2.0 / square, LONGEST_MITRE / np.sqrt(square))
    return np.asarray(corners + distance * reach[:, None] * both)


def mixed(first: str, second: str, share: float) -> str:
    """An sRGB colour between two, share of the way to the second."""
    one, two = (np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) for colour in (first, second))
    red, green, blue = np.round(one + (two - one) * share).astype(int).tolist()
    return f"#{red:02x}{green:02x}{blue:02x}"
