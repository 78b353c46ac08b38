"""Artwork read by us, by readers of SVG and DXF that share no code with us, and by a renderer.

svgpathtools 1.7 and svgelements 1.9 (MIT) read paths, ezdxf 1.4 (MIT) reads DXF, cairosvg 2.8 (LGPL) draws.
"""

import io
import math
import random

import cairosvg
import ezdxf
import numpy as np
import pytest
import svgelements
import svgpathtools
from ezdxf import bbox
from PIL import Image

from core.outline.faces import regions_of
from core.outline.measure import all_loops, contains
from core.outline.region import bounds_of
from tests.support.artwork import artwork, regions_mm, svg

pytestmark = pytest.mark.outside

#: mm: how far a fitted curve may be off at the size that is stated.
TOLERANCE = 0.002


def random_path(seed):
    """A closed path of every kind of command."""
    rng = random.Random(seed)  # noqa: S311 - a drawing, no secret

    def spot():
        return f"{rng.uniform(15, 85):.3f},{rng.uniform(15, 85):.3f}"

    kinds = [
        lambda: f"L{spot()}",
        lambda: f"C{spot()} {spot()} {spot()}",
        lambda: f"S{spot()} {spot()}",
        lambda: f"Q{spot()} {spot()}",
        lambda: f"T{spot()}",
        lambda: f"H{rng.uniform(15, 85):.3f}",
        lambda: f"V{rng.uniform(15, 85):.3f}",
        lambda: (
            f"A{rng.uniform(5, 30):.2f} {rng.uniform(5, 30):.2f} {rng.uniform(0, 180):.1f} "
            f"{rng.randrange(2)} {rng.randrange(2)} {spot()}"
        ),
    ]
    return f"M{spot()}" + "".join(rng.choice(kinds)() for _ in range(rng.randrange(3, 8))) + "z"


@pytest.mark.parametrize("seed", range(8))
def test_svgpathtools_finds_the_same_box(seed):
    path = random_path(seed)
    x_min, x_max, y_min, y_max = svgpathtools.parse_path(path).bbox()
    data = svg(f'<path d="{path}"/>', 'width="100mm" height="100mm" viewBox="0 0 100 100" overflow="visible"')
    if min(x_min, y_min) < 0.0 or max(x_max, y_max) > 100.0:
        data = svg(f'<path d="{path}"/>', 'width="300mm" height="300mm" viewBox="-100 -100 300 300"')
    box = bounds_of(all_loops(regions_mm(artwork(data))))
    assert box[2] - box[0] == pytest.approx(x_max - x_min, abs=2.0 * TOLERANCE)
    assert box[3] - box[1] == pytest.approx(y_max - y_min, abs=2.0 * TOLERANCE)


def test_svgelements_finds_the_same_box_through_nested_transforms():
    """Without skew: under one its box of an oval is wrong by a hundredth, against the sum of squares."""
    inside = (
        '<g transform="translate(20 10) rotate(25)"><rect x="5" y="5" width="40" height="20" rx="6"/>'
        '<ellipse transform="scale(1.5)" cx="30" cy="25" rx="12" ry="7"/></g>'
    )
    data = svg(inside)
    read = svgelements.SVG.parse(io.BytesIO(data), ppi=96.0)
    boxes = [each.bbox() for each in read.elements() if isinstance(each, svgelements.Shape)]
    left, low, right, high = zip(*boxes, strict=True)
    wide, tall = (max(right) - min(left)) * 25.4 / 96.0, (max(high) - min(low)) * 25.4 / 96.0
    box = bounds_of(all_loops(regions_mm(artwork(data))))
    assert (box[2] - box[0], box[3] - box[1]) == pytest.approx((wide, tall), abs=0.006)


def test_ezdxf_finds_the_same_box_of_every_kind_of_entity():
    made = ezdxf.new("R2010")
    made.units = 4
    space = made.modelspace()
    space.add_lwpolyline([(0, 0, 0.3), (50, 0, -0.2), (60, 40, 0), (0, 30, 0.5)], format="xyb", close=True)
    space.add_ellipse((90, 20), (12, 9), 0.6)
    block = made.blocks.new("B")
    block.add_circle((0, 0), 3)
    space.add_blockref("B", (20, 70), dxfattribs={"xscale": 2, "yscale": 1, "rotation": 33})
    text = io.StringIO()
    made.write(text)
    truth = bbox.extents(space, fast=False)
    box = bounds_of(all_loops(regions_mm(artwork(text.getvalue().encode()))))
    assert box[2] - box[0] == pytest.approx(truth.size.x, abs=0.02)  # its ovals are flattened by 0.01
    assert box[3] - box[1] == pytest.approx(truth.size.y, abs=0.02)


@pytest.mark.parametrize("rule", ["nonzero", "evenodd"])
@pytest.mark.parametrize("seed", range(3))
def test_cairo_paints_what_lies_inside(seed, rule):
    """Points well away from every edge: inked there as they are here."""
    stroke = 'stroke="black" stroke-width="3" stroke-linejoin="round" stroke-linecap="round"'
    data = svg(f'<path d="{random_path(40 + seed)}" fill-rule="{rule}" {stroke}/>')
    pixels = 500
    png = cairosvg.svg2png(bytestring=data, output_width=pixels, output_height=pixels)
    alpha = np.asarray(Image.open(io.BytesIO(png)).convert("RGBA"))[..., 3]
    art = artwork(data)
    regions = regions_of(
        art.outline, {k for k, face in enumerate(art.outline.faces) if k and face.colour != art.ground}
    )
    rows, columns = np.nonzero((alpha == 0) | (alpha == 255))
    chosen = np.random.default_rng(seed).choice(len(rows), 3000, replace=False)
    ink = np.argwhere(alpha > 0)
    low, high = ink.min(axis=0), ink.max(axis=0) + 1
    box = bounds_of(all_loops(regions))
    scale = (box[2] - box[0]) / (high[1] - low[1])
    x = box[0] + (columns[chosen] + 0.5 - low[1]) * scale
    y = box[3] - (rows[chosen] + 0.5 - low[0]) * scale
    inside = contains(regions, np.column_stack((x, y)))
    assert np.mean(inside == (alpha[rows[chosen], columns[chosen]] == 255)) > 0.995


def test_cairo_covers_the_same_area():
    """Exact area against summed coverage: 0.05 % of a page's edge pixels is what cairo itself is good for."""
    data = svg(
        '<path d="M20 20C60 0 90 40 60 60S10 90 20 50z"/><circle cx="70" cy="75" r="15"/>'
        '<path d="M10 90h30" stroke="red" stroke-width="5" stroke-linecap="round"/>'
    )
    png = cairosvg.svg2png(bytestring=data, output_width=1500, output_height=1500)
    covered = np.asarray(Image.open(io.BytesIO(png)).convert("RGBA"))[..., 3].sum() / 255.0 / 225.0
    area = sum(region.area() for region in regions_mm(artwork(data)))
    assert area == pytest.approx(covered, rel=5e-4)
    assert math.isfinite(area)
