"""The paper proof: stock, part, films and marks at true size, to lay the stock on before anything is cut.

A printer that fits pages to its paper is the first thing that goes wrong, so every page carries a ruler of
100 mm each way. What is larger than the paper goes on several pages with marks to join them by.
"""

from dataclasses import dataclass

from core.findings import Point
from core.outline.loop import Loop
from core.outline.region import Regions, bounds_of
from core.paper.lettering import POINT, shortened
from core.paper.pdf import A4, Paper, write_pdf
from core.paper.recorder import Recorder, Recording
from core.paper.scaled import Scaled
from core.paper.shapes import draw_box, draw_circle, draw_line, draw_loop, draw_regions
from core.paper.surface import INK, Anchor, Fill, Letters, Pen, Surface
from core.paper.tiles import ABOVE, BELOW, LEFT, RIGHT, Box, Tile, Tiling, tiled
from core.sheet.mark import Mark
from core.sheet.stock import Stock

#: mm: the ruler on every page, and how long its marks are at every 1, 5 and 10 mm.
RULER, TICKS = 100.0, (1.2, 2.0, 3.2)
#: mm between a ruler and the drawing.
ASIDE = 4.0
#: mm from a mark's middle to the end of its cross, beyond its circle.
CROSS = 2.0

EDGE, TRACED = Pen(INK, 0.3), Pen("#6d7579", 0.15, dash=(1.2, 0.8))
STOCK_EDGE, MARK_PEN, JOIN = Pen("#6d7579", 0.25, dash=(4.0, 1.5)), Pen("#b4232a", 0.25), Pen("#2a5d84", 0.3)
SMALL = Letters(9.0 * POINT)
WHITE = Fill("#ffffff")


@dataclass(frozen=True)
class ProofFilm:
    """A film where it will lie: its colour "#rrggbb" and its pieces, mm in the frame."""

    colour: str
    regions: Regions


@dataclass(frozen=True)
class PaperProof:
    """Everything on it, mm in the frame; box is the films' sheet box, if any; note stands under the title."""

    title: str
    stock: Stock
    part: Regions
    as_cut: Regions
    films: tuple[ProofFilm, ...]
    marks: tuple[Mark, ...]
    box: Loop | None = None
    note: str = ""


def proof_tiling(proof: PaperProof, paper: Paper = A4) -> Tiling:
    """Its pages, and where each lies in the frame."""
    stock = (0.0, 0.0, proof.stock.width_mm, proof.stock.depth_mm)
    loops = [region.outer for region in proof.part]
    boxes = [stock, *([bounds_of(loops)] if loops else []), *([proof.box.bounds()] if proof.box else [])]
    return tiled(_round(boxes), paper)


def paper_proof_pdf(proof: PaperProof, tiling: Tiling) -> bytes:
    """The proof as PDF, one page a tile."""
    return write_pdf(paper_proof_pages(proof, tiling), tiling.paper, f"{proof.title}: paper proof")


def paper_proof_pages(proof: PaperProof, tiling: Tiling) -> tuple[Recording, ...]:
    """Its pages as recordings, mm."""
    return tuple(_page(proof, tiling, tile) for tile in tiling.tiles)


def _round(boxes: list[Box]) -> Box:
    lows_x, lows_y, highs_x, highs_y = zip(*boxes, strict=True)
    return min(lows_x), min(lows_y), max(highs_x), max(highs_y)


def _page(proof: PaperProof, tiling: Tiling, tile: Tile) -> Recording:
    recorder = Recorder()
    _draw_all(Scaled(recorder, 1.0, tile.shift), proof, tiling.joins(tile))
    _draw_margins(recorder, tiling.paper)
    _draw_rulers(recorder)
    _draw_words(recorder, proof, tiling, tile)
    return recorder.recording()


def _draw_all(surface: Surface, proof: PaperProof, joins: tuple[Point, ...]) -> None:
    draw_box(surface, (0.0, 0.0), (proof.stock.width_mm, proof.stock.depth_mm), None, STOCK_EDGE)
    for film in proof.films:
        draw_regions(surface, film.regions, Fill(film.colour, 0.25), Pen(film.colour, 0.2))
    draw_regions(surface, proof.part, None, TRACED)
    draw_regions(surface, proof.as_cut, None, EDGE)
    if proof.box is not None:
        draw_loop(surface, proof.box)
        surface.paint(None, JOIN)
    for mark in proof.marks:
        if mark.strip is not None:
            draw_loop(surface, mark.strip)
            surface.paint(None, MARK_PEN)
            continue
        _draw_cross(surface, mark.at, mark.diameter_mm / 2.0, MARK_PEN)
    for join in joins:
        _draw_cross(surface, join, 2.5, JOIN)


def _draw_cross(surface: Surface, at: Point, radius: float, pen: Pen) -> None:
    (x, y), reach = at, radius + CROSS
    draw_circle(surface, at, radius, None, pen)
    draw_line(surface, (x - reach, y), (x + reach, y), pen)
    draw_line(surface, (x, y - reach), (x, y + reach), pen)


def _draw_margins(surface: Surface, paper: Paper) -> None:
    """White round the window of the page: what lies beyond it is another page's."""
    wide, high = paper.width_mm, paper.height_mm
    for low, top in (
        ((0.0, 0.0), (wide, BELOW)),
        ((0.0, high - ABOVE), (wide, high)),
        ((0.0, 0.0), (LEFT, high)),
        ((wide - RIGHT, 0.0), (wide, high)),
    ):
        draw_box(surface, low, top, WHITE, None)


def _draw_rulers(surface: Surface) -> None:
    """100 mm along the page's bottom and up its left side."""
    pen, x, y = Pen(INK, 0.2), LEFT - ASIDE, BELOW - ASIDE
    draw_line(surface, (LEFT, y), (LEFT + RULER, y), pen)
    draw_line(surface, (x, BELOW), (x, BELOW + RULER), pen)
    for mm in range(int(RULER) + 1):
        tick = TICKS[2] if mm % 10 == 0 else TICKS[1] if mm % 5 == 0 else TICKS[0]
        draw_line(surface, (LEFT + mm, y), (LEFT + mm, y - tick), pen)
        draw_line(surface, (x, BELOW + mm), (x - tick, BELOW + mm), pen)
    surface.text("100 mm", (LEFT + RULER + 2.0, y - 3.0), SMALL)
    surface.text("100 mm", (x - 4.0, BELOW + RULER + 2.0), SMALL)


def _draw_words(surface: Surface, proof: PaperProof, tiling: Tiling, tile: Tile) -> None:
    high, right = tiling.paper.height_mm, tiling.paper.width_mm - RIGHT
    count, number = len(tiling.tiles), tile.row * tiling.columns + tile.column + 1
    place = f", row {tile.row + 1} from below, column {tile.column + 1} from the left" if count > 1 else ""
    end = Letters(SMALL.size_mm, anchor=Anchor.END)
    surface.text(
        f"{proof.title}: paper proof 1 : 1", (LEFT, high - 9.0), Letters(SMALL.size_mm, is_bold=True)
    )
    note = shortened(proof.note, SMALL, right - LEFT)
    surface.text(note, (LEFT, high - 13.5), SMALL)
    surface.text(f"page {number} of {count}{place}", (right, high - 9.0), end)
    surface.text(
        "Print at 100 %, not fitted to the page: both rulers must measure 100 mm.", (LEFT, 6.0), SMALL
    )
