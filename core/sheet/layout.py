"""The answer of the sheet: where part, marks and zero lie in the one frame."""

from dataclasses import dataclass, field

from core.findings import Finding, Point
from core.sheet.board import Board
from core.sheet.clamp import Clamp
from core.sheet.mark import Mark
from core.sheet.placement import Placement
from core.sheet.spindle_body import SpindleBody
from core.sheet.stock import Stock

#: Kinds of marks that lie on the sheet: bored, or dots of film laid on it first.
ON_SHEET = frozenset({"hole", "film"})


@dataclass(frozen=True)
class Layout:
    """shape_at: where the shape's own origin (left, bottom of its box) lies in the frame, mm.

    hinge_side is the side of the frame ("left", "right", "near", "far") kept free for the tape
    hinge, hinge_mm how wide that strip is.
    mirror_x is the line that films for the back are mirrored about, on the 0.5 mm grid.
    copies: what takes the first piece, in the frame, to every piece; the first of them does not move.
    board: the waste board of a nest, on which the marks stand then.
    """

    stock: Stock
    shape_at: Point
    marks: tuple[Mark, ...]
    zero_at: Point
    mirror_x: float
    hinge_side: str
    findings: tuple[Finding, ...]
    clamps: tuple[Clamp, ...] = ()
    body: SpindleBody = field(default_factory=SpindleBody)
    copies: tuple[Placement, ...] = (Placement(),)
    board: Board | None = None
    hinge_mm: float = 0.0

    @property
    def marks_on_sheet(self) -> tuple[Mark, ...]:
        """Marks of the sheet that the part is cut from: not the pins of a nest, nor sight edges."""
        return tuple(mark for mark in self.marks if mark.kind in ON_SHEET)
