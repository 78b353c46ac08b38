"""Characters of an open font, drawn by a renderer that is not ours, traced back to their own curves.

Shapes: DejaVu Sans Bold 2.37 in the wheel of matplotlib 3.11 (Bitstream Vera licence with public-domain
changes, beside the file), read by fontTools 4.68 (MIT): quadratic curves, so that no line or arc of ours is
ever exactly one of them. Pixels: cairosvg 2.9 (LGPL), four times too large and reduced by summing, which
leaves an error of 0.004 of full contrast in edge pixels (measured against exact clipping).
"""

from dataclasses import dataclass
from functools import cache
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import shapely
from PIL import Image

from core.cancel import NEVER
from core.outline.faces import regions_of
from core.picture.colours import ColourWish, find_colours
from core.picture.read import read_picture
from core.trace.trace import trace

pytestmark = pytest.mark.outside

TIMES = 4  # drawn so many times too large, then reduced
MARGIN = 0.06  # of the picture's height, round the character
CHORDS_WITHIN = 2e-3  # of the font's 2048 units: what stands for its curves, under 0.001 px
FLAT = 5e-4  # px; chords that stand for our arcs
STRIDE = 0.5  # px between the places where the distance is taken

#: px. Measured over all twelve at 300 and 600 px high: root mean square 0.003 to 0.011, greatest 0.27
#: at corners and 0.1 along curves.
RMS_WITHIN, WORST_WITHIN = 0.02, 0.3
#: px; by which the whole edge may lie too far out or in: error of the area over length. Measured 0.004.
SHIFT_WITHIN = 0.008

CHARACTERS = "8B&@SgRQ%ä3k"
CASES = [(character, 300) for character in CHARACTERS] + [(character, 600) for character in "8&@Qä"]


@dataclass(frozen=True, eq=False)
class Glyph:
    """Closed runs of points on the true curves, px, y up; and the picture of them, PNG."""

    rings: tuple[np.ndarray, ...]
    png: bytes


@cache
def font():
    import matplotlib as mpl  # noqa: PLC0415 - slow to import, needed only here
    from fontTools.ttLib import TTFont  # noqa: PLC0415 - the same

    return TTFont(Path(mpl.get_data_path()) / "fonts" / "ttf" / "DejaVuSans-Bold.ttf")


def drawn_with(pen, character):
    font().getGlyphSet()[font().getBestCmap()[ord(character)]].draw(pen)
    return pen


def curve(start, control, end):
    """Points along a quadratic curve, the last left out: Bezier's formula, by the least chords within."""
    bend = np.hypot(*(start - 2.0 * control + end))
    share = np.linspace(0.0, 1.0, 1 + int(np.sqrt(bend / 4.0 / CHORDS_WITHIN)), endpoint=False)[:, None]
    return (1.0 - share) ** 2 * start + 2.0 * share * (1.0 - share) * control + share**2 * end


def rings_of(character):
    """Points along every contour, in the font's units."""
    from fontTools.pens.basePen import decomposeQuadraticSegment  # noqa: PLC0415 - slow to import
    from fontTools.pens.recordingPen import DecomposingRecordingPen  # noqa: PLC0415 - the same

    rings, at = [], None
    for name, points in drawn_with(DecomposingRecordingPen(font().getGlyphSet()), character).value:
        if name == "moveTo":
            rings.append([])
        elif name == "qCurveTo":
            for control, end in decomposeQuadraticSegment(points):
                rings[-1].append(curve(at, np.array(control, float), np.array(end, float)))
                at = np.array(end, float)
        elif name == "lineTo" or (at != rings[-1][0][0]).any():
            rings[-1].append(at[None, :])
        if points:
            at = np.array(points[-1], float)
    return [np.vstack(ring) for ring in rings]


@cache
def glyph(character, height):
    """The character in a picture of that height, px, off the grid of pixels in both directions."""
    import cairosvg  # noqa: PLC0415 - slow to import, needed only here
    from fontTools.pens.svgPathPen import SVGPathPen  # noqa: PLC0415 - the same

    path = drawn_with(SVGPathPen(font().getGlyphSet()), character).getCommands()
    rings = rings_of(character)
    low, high = np.vstack(rings).min(axis=0), np.vstack(rings).max(axis=0)
    scale = height * (1.0 - 2.0 * MARGIN) / (high[1] - low[1])
    width = int((high[0] - low[0]) * scale + 2.0 * MARGIN * height)
    x, y = MARGIN * height + np.array([0.37, 0.21]) - low * scale
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}">'
        f'<rect width="{width}" height="{height}" fill="#fff"/>'
        f'<path transform="matrix({scale} 0 0 {-scale} {x} {height - y})" d="{path}"/></svg>'
    )
    large = Image.open(BytesIO(cairosvg.svg2png(bytestring=svg.encode(), scale=TIMES))).convert("L")
    grey = np.asarray(large, float).reshape(height, TIMES, width, TIMES).mean(axis=(1, 3))
    out = BytesIO()
    Image.fromarray(np.rint(grey).astype(np.uint8)).save(out, "PNG")
    return Glyph(tuple(ring * scale + [x, y] for ring in rings), out.getvalue())


def traced(png):
    picture = read_picture(png, "glyph.png")
    colours = find_colours(picture, ColourWish())
    outline = trace(picture, colours, NEVER)
    return regions_of(outline, {i for i, face in enumerate(outline.faces) if face.colour != colours.ground})


def spaced(ring):
    """Points every STRIDE px along a closed run of points."""
    closed = np.vstack((ring, ring[:1]))
    along = np.append(0.0, np.cumsum(np.hypot(*np.diff(closed, axis=0).T)))
    at = np.arange(0.0, along[-1], STRIDE)
    return np.column_stack([np.interp(at, along, values) for values in closed.T])


def greatest(ones, others):
    """Distance, px, from the farthest of these closed runs' points, corners too, to the others."""
    return float(away(np.vstack([*ones, *map(spaced, ones)]), others).max())


def away(points, rings):
    """(n,) px from points (n, 2) to the nearest of closed runs."""
    pieces = np.vstack([np.stack((ring, np.roll(ring, -1, axis=0)), axis=1) for ring in rings])
    tree = shapely.STRtree(shapely.linestrings(pieces))
    (which, _), far = tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    answer = np.empty(len(points))
    answer[which] = far
    return answer


@dataclass(frozen=True)
class Found:
    """px: root mean square both ways, greatest both ways, mean shift; rings, and how many are openings."""

    rms: float
    worst: float
    shift: float
    regions: int
    openings: int
    pieces: int


@cache
def found(character, height):
    truth = glyph(character, height).rings
    regions = traced(glyph(character, height).png)
    loops = [loop for region in regions for loop in region.loops()]
    ours = [loop.flattened(FLAT) for loop in loops]
    forth = away(np.vstack([*map(spaced, ours)]), truth)
    back = away(np.vstack([*map(spaced, truth)]), ours)
    # TrueType runs outer contours clockwise
    area = -sum(shoelace(ring) for ring in truth)
    return Found(
        rms=float(np.sqrt((np.mean(forth**2) + np.mean(back**2)) / 2.0)),
        worst=max(greatest(ours, truth), greatest(truth, ours)),
        shift=float(sum(region.area() for region in regions) - area) / sum(loop.length() for loop in loops),
        regions=len(regions),
        openings=len(loops) - len(regions),
        pieces=sum(loop.bulges.size for loop in loops),
    )


def shoelace(ring):
    x, y = (ring - ring[0]).T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2.0)


@pytest.mark.parametrize(("character", "height"), CASES)
def test_a_character_comes_back_along_its_own_curves(character, height):
    got = found(character, height)
    assert got.rms <= RMS_WITHIN
    assert got.worst <= WORST_WITHIN
    assert abs(got.shift) <= SHIFT_WITHIN


@pytest.mark.parametrize(("character", "height"), CASES)
def test_a_character_keeps_its_pieces_and_openings(character, height):
    turns = [shoelace(ring) < 0.0 for ring in glyph(character, height).rings]
    got = found(character, height)
    assert (got.regions, got.openings) == (sum(turns), len(turns) - sum(turns))
