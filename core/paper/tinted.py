"""A tinted strip with a bar along its left side: what must not be overlooked on a paper."""

from core.findings import Point
from core.paper.flow import Piece
from core.paper.shapes import draw_box
from core.paper.surface import Fill, Surface

STOP_INK, NOTE_INK = "#a3161c", "#2a5d84"


def tinted(inside: Piece, room: float, ground: str, ink: str, bar_mm: float = 1.2) -> Piece:
    """Inside on a ground room mm wide; strips of it meet, so that a box of them may run over a page's end."""

    def draw(surface: Surface, at: Point) -> None:
        low = (at[0], at[1] - inside.height_mm)
        draw_box(surface, low, (at[0] + room, at[1]), Fill(ground), None)
        draw_box(surface, low, (at[0] + bar_mm, at[1]), Fill(ink), None)
        inside.draw(surface, at)

    return Piece(inside.height_mm, draw)
