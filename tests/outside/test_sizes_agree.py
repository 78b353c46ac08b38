"""One kit, 100 mm high: programs that are not ours find the same size in every drawing of it.

SVG drawn by cairosvg 2.9 (LGPL) and resvg-py 0.5 (MIT), DXF read by ezdxf 1.4 (MIT), the job sheet drawn by
poppler's pdftocairo (GPL) and pypdfium2 5 (Apache-2.0 or BSD). At 600 dots an inch a pixel is 0.0423 mm.
"""

import io
import re
import shutil
import subprocess
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from time import perf_counter

import ezdxf
import numpy as np
import pytest
from ezdxf.bbox import extents
from PIL import Image

from core.build import build
from core.cancel import NEVER
from core.kit.make import kit_of
from core.outline.region import bounds_of
from tests.support.pictures import badge, job

pytestmark = pytest.mark.outside

HEIGHT = 100.0  # mm, asked for
WITHIN = 0.05  # mm: what a ruler shows, and about the renderers' pixel
MEAN_WITHIN = 0.005  # mm: the mean over a whole edge, finer than any one pixel of it
DOTS = 600  # an inch
PIXEL = 25.4 / DOTS
GROUP = "{http://www.w3.org/2000/svg}g"


@pytest.fixture(scope="module")
def made():
    return build(job(shape__height=f"{HEIGHT:g} mm"), badge())


@pytest.fixture(scope="module")
def kit(made):
    return kit_of(made, NEVER, lambda _stage: None, perf_counter())


@pytest.fixture(scope="module")
def width(made):
    x_min, _, x_max, _ = bounds_of(loop for region in made.part for loop in region.loops())
    return x_max - x_min


def file_of(kit, role, form):
    (name,) = [file["path"] for file in kit.report["files"] if (file["role"], file["format"]) == (role, form)]
    return kit.files[name]


def solid(data, layer):
    """The drawing with this layer alone, filled and without a line, so that its area and edges show."""
    root = ET.fromstring(data)  # noqa: S314 - our own file
    for group in list(root.iter(GROUP)):
        if group.get("id") == layer:
            group.attrib.update({"fill": "#000", "stroke": "none"})
        else:
            root.remove(group)
    return ET.tostring(root)


def drawn_by_cairosvg(data):
    import cairosvg  # noqa: PLC0415 - slow to import, needed only here

    return cairosvg.svg2png(bytestring=data, dpi=DOTS)


def drawn_by_resvg(data):
    from resvg_py import svg_to_bytes  # noqa: PLC0415 - slow to import, needed only here

    return bytes(svg_to_bytes(svg_string=data.decode(), dpi=float(DOTS)))


def across(coverage):
    """mm: the box of what is drawn, width and height, a half-covered pixel counting for half.

    Upright and level edges fill their row or column evenly, so that the fullest row tells the width.
    """
    wide, tall = coverage.sum(axis=1), coverage.sum(axis=0)
    return float(wide.max()) * PIXEL, float(tall.max()) * PIXEL


@pytest.mark.parametrize("draw", [drawn_by_cairosvg, drawn_by_resvg])
def test_two_renderers_draw_the_parts_svg_at_the_size_asked_for(draw, made, kit, width):
    data = file_of(kit, "part-drawing", "svg")
    coverage = np.asarray(Image.open(io.BytesIO(draw(solid(data, "part")))))[:, :, 3] / 255.0
    stock = made.layout.stock
    page = coverage.shape[1] * PIXEL, coverage.shape[0] * PIXEL
    assert page == pytest.approx((stock.width_mm, stock.depth_mm), abs=PIXEL)
    assert across(coverage) == pytest.approx((width, HEIGHT), abs=WITHIN)
    area = sum(region.area() for region in made.part)
    assert coverage.sum() * PIXEL**2 == pytest.approx(area, abs=MEAN_WITHIN * 2.0 * (width + HEIGHT))


@pytest.mark.parametrize("role", ["part-drawing", "film-drawing"])
def test_every_svg_says_its_own_size_in_mm_and_draws_to_a_scale_of_one(kit, role):
    """Source: SVG 2, units and the viewport transform: a viewBox in the numbers of the size is scale 1."""
    files = [file["path"] for file in kit.report["files"] if (file["role"], file["format"]) == (role, "svg")]
    assert files
    for name in files:
        root = ET.fromstring(kit.files[name])  # noqa: S314 - our own file
        said = [re.fullmatch(r"([\d.]+)mm", root.get(side)).group(1) for side in ("width", "height")]
        assert root.get("viewBox").split()[2:] == said


def test_the_dxf_reader_finds_the_size_asked_for_in_its_own_unit(kit, width):
    document = ezdxf.filemanagement.read(io.StringIO(file_of(kit, "part-drawing", "dxf").decode("cp1252")))
    assert document.units == 4  # DXF Reference, $INSUNITS: millimetres
    box = extents(document.modelspace().query('*[layer=="PART"]'))
    assert (box.size.x, box.size.y) == pytest.approx((width, HEIGHT), abs=WITHIN)


def test_both_forms_of_a_films_dxf_and_its_svg_have_one_size(made, kit):
    for film in made.films.films:
        x0, y0, x1, y1 = bounds_of(loop for region in film.regions for loop in region.loops())
        layer = f"film-{film.name}"
        for file in kit.report["files"]:
            if file.get("film") != film.name or file["format"] == "hpgl":  # plots have readers of their own
                continue
            data = kit.files[file["path"]]
            if file["format"] == "svg":
                png = drawn_by_cairosvg(solid(data, layer))
                shown = np.asarray(Image.open(io.BytesIO(png)))[:, :, 3] / 255.0 > 0.5
                size = np.ptp(np.flatnonzero(shown.any(axis=0))), np.ptp(np.flatnonzero(shown.any(axis=1)))
                found = (size[0] + 1) * PIXEL, (size[1] + 1) * PIXEL
            else:
                document = ezdxf.filemanagement.read(io.StringIO(data.decode("cp1252")))
                name = layer.upper().replace("-", "_")
                box = extents(document.modelspace().query(f'*[layer=="{name}"]'))
                found = box.size.x, box.size.y
            assert found == pytest.approx((x1 - x0, y1 - y0), abs=WITHIN), file["path"]


def inked_by_pdftocairo(data, folder):
    program = shutil.which("pdftocairo")
    assert program, "Install poppler-utils: apt-get install poppler-utils."
    (folder / "sheet.pdf").write_bytes(data)
    arguments = ["-png", "-gray", "-r", str(DOTS), "-singlefile", "sheet.pdf", "sheet"]
    subprocess.run([program, *arguments], cwd=folder, check=True)
    return 1.0 - np.asarray(Image.open(folder / "sheet.png").convert("L")) / 255.0


def inked_by_pdfium(data, _folder):
    import pypdfium2  # noqa: PLC0415 - slow to import, needed only here

    document = pypdfium2.PdfDocument(data)
    try:
        bitmap = document[0].render(scale=DOTS / 72.0, grayscale=True)
        return 1.0 - bitmap.to_numpy().reshape(bitmap.height, -1)[:, : bitmap.width] / 255.0
    finally:
        document.close()


def scale_said(data):
    """mm on paper for a mm of stock, in the words of the sheet itself."""
    import pypdfium2  # noqa: PLC0415 - slow to import, needed only here

    document = pypdfium2.PdfDocument(data)
    try:
        words = document[0].get_textpage().get_text_range()
    finally:
        document.close()
    paper, real = re.search(r"Drawn ([\d.]+) : ([\d.]+)", words).groups()
    return float(paper) / float(real)


def longest_run(dark):
    """From where to where most places one after another are dark."""
    light = np.concatenate(([-1], np.flatnonzero(~dark), [dark.size]))
    longest = int(np.argmax(np.diff(light)))
    return slice(int(light[longest]) + 1, int(light[longest + 1]))


def ends(ink):
    """Where, px, each line met on the way ends, by what the pixels round its end are covered.

    The end and not the middle: the tape hinge's strip covers half of the line along its side.
    """
    dark = np.concatenate(([False], ink > 0.5, [False]))
    begins, afters = np.flatnonzero(~dark[:-1] & dark[1:]), np.flatnonzero(dark[:-1] & ~dark[1:])
    return [
        float(after - 1 + ink[after - 1 : after + 2].sum() / ink[begin:after].max())
        for begin, after in zip(begins, afters, strict=True)
    ]


@dataclass(frozen=True)
class Measured:
    """mm on paper: the stock's width and depth, the part's."""

    stock: tuple[float, float]
    part: tuple[float, float]


def measured(ink, deep_mm):
    """The set-up drawing on its page: no line upright is longer than the stock's sides, deep_mm on paper.

    The part's lines are met on the way across the stock's middle, the median of many lines of pixels, so
    that neither a tab nor a mark is in the way.
    """
    runs = [longest_run(column > 0.5) for column in ink.T]
    sides = [at for at, run in enumerate(runs) if run.stop - run.start > 0.95 * deep_mm / PIXEL]
    rows = runs[sides[-1]]  # the sign of the work zero covers the other side
    drawing = ink[rows.start - 5 : rows.stop + 5, sides[0] - 5 : sides[-1] + 6]
    tall, broad = drawing.shape
    level = ends(np.median(drawing[int(0.4 * tall) : int(0.6 * tall)], axis=0))
    upright = ends(np.median(drawing[:, int(0.4 * broad) : int(0.6 * broad)], axis=1))
    (left, part_left, part_right, right), (far, part_far, part_near, near) = level, upright
    return Measured(
        ((right - left) * PIXEL, (near - far) * PIXEL),
        ((part_right - part_left) * PIXEL, (part_near - part_far) * PIXEL),
    )


@pytest.mark.parametrize("inked", [inked_by_pdftocairo, inked_by_pdfium])
def test_the_set_up_drawing_has_the_scale_that_it_says(inked, made, kit, width, tmp_path):
    data = file_of(kit, "job-sheet", "pdf")
    scale, stock = scale_said(data), made.layout.stock
    on_paper = stock.width_mm * scale, stock.depth_mm * scale
    found = measured(inked(data, tmp_path), on_paper[1])
    assert found.stock == pytest.approx(on_paper, abs=WITHIN)
    assert found.part == pytest.approx((width * scale, HEIGHT * scale), abs=WITHIN)
