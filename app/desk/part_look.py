"""What the part page draws, made once of a Shown: paths in the scene, mm, y down."""

import cmath
import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainterPath, QPainterPathStroker, QTransform

from app.desk.paths import Piece, path_of, path_of_run, pieces_between, pieces_of, placed

if TYPE_CHECKING:
    from core.outline.region import Regions
    from core.router.toolpath import Toolpath
    from core.shown import Shown

#: Where the light comes from, rad in the frame: over the left shoulder, as on a bench by a window.
LIGHT = math.radians(120.0)
#: Steps between an edge full in the light and one in its own shade.
FACETS = 25
#: mm that a stroked outline may stray from its curve: far below a pixel at any zoom that is used.
STROKE_FLATNESS = 0.01
#: mm of spoil board seen round the stock.
BOARD_MM = 9.0


@dataclass(frozen=True, eq=False)
class PartLook:
    """facets: (brightness -1..1, the stretches of edge that are so bright); copies: where each piece lies."""

    board: QRectF
    stock: QRectF
    hinge: QRectF
    part: QPainterPath
    slot: QPainterPath
    facets: tuple[tuple[float, QPainterPath], ...]
    holes: QPainterPath
    breaks: QPainterPath
    toolpath: "Toolpath"
    seams: QPainterPath
    zero: QPointF
    copies: tuple[QTransform, ...]

    @cached_property
    def last_lap(self) -> QPainterPath:
        """The bit's way on the last laps, made when it is first near enough to be seen: it may be long."""
        return _last_lap(self.toolpath)


def part_look(shown: "Shown") -> PartLook:
    """Everything of the part page that stands still."""
    stock = shown.layout.stock
    sheet = QRectF(0.0, -stock.depth_mm, stock.width_mm, stock.depth_mm)
    part = path_of(shown.as_cut)
    return PartLook(
        board=sheet.adjusted(-BOARD_MM, -BOARD_MM, BOARD_MM, BOARD_MM),
        stock=sheet,
        hinge=_hinge(sheet, shown),
        part=part,
        slot=_stroked(part, 2.0 * shown.setup.bit.diameter_mm),
        facets=_facets(shown.as_cut),
        holes=_holes(shown),
        breaks=_breaks(sheet, shown),
        toolpath=shown.path.toolpath,
        seams=_seams(shown),
        zero=QPointF(shown.layout.zero_at[0], -shown.layout.zero_at[1]),
        copies=tuple(placed(copy) for copy in shown.layout.copies),
    )


def _stroked(path: QPainterPath, width: float) -> QPainterPath:
    stroker = QPainterPathStroker()
    stroker.setWidth(width)
    stroker.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    stroker.setCurveThreshold(STROKE_FLATNESS)
    stroke = stroker.createStroke(path)
    stroke.setFillRule(Qt.FillRule.WindingFill)
    return stroke


def _breaks(sheet: QRectF, shown: "Shown") -> QPainterPath:
    """What the cuts that open the frame take of the sheet, seen from above."""
    ways, stock = QPainterPath(), QPainterPath()
    for cut in shown.path.breaks:
        ways.moveTo(cut.start[0], -cut.start[1])
        ways.lineTo(cut.end[0], -cut.end[1])
    stock.addRect(sheet)
    return _stroked(ways, shown.setup.bit.diameter_mm).intersected(stock)


def _hinge(sheet: QRectF, shown: "Shown") -> QRectF:
    """The strip of the sheet that is kept free for the tape."""
    wide = shown.job.fit.hinge.value
    strips = {
        "near": QRectF(sheet.left(), sheet.bottom() - wide, sheet.width(), wide),
        "far": QRectF(sheet.left(), sheet.top(), sheet.width(), wide),
        "left": QRectF(sheet.left(), sheet.top(), wide, sheet.height()),
        "right": QRectF(sheet.right() - wide, sheet.top(), wide, sheet.height()),
    }
    return strips.get(shown.layout.hinge_side, QRectF())


def _facets(regions: "Regions") -> tuple[tuple[float, QPainterPath], ...]:
    """The edge sorted by how much light it catches; the solid lies to the left of travel."""
    paths = [QPainterPath() for _ in range(FACETS)]
    for region in regions:
        for loop in region.loops():
            before = -1
            for piece in pieces_of(loop):
                which = _facet(piece)
                if which != before:
                    paths[which].moveTo(piece.start.real, -piece.start.imag)
                piece.draw(paths[which])
                before = which
    return tuple((2.0 * index / (FACETS - 1) - 1.0, path) for index, path in enumerate(paths))


def _facet(piece: Piece) -> int:
    outward = cmath.phase(piece.end - piece.start) - math.pi / 2.0
    return round((math.cos(outward - LIGHT) + 1.0) / 2.0 * (FACETS - 1))


def _holes(shown: "Shown") -> QPainterPath:
    path = QPainterPath()
    for mark in shown.layout.marks:
        if mark.kind == "hole":
            radius = mark.diameter_mm / 2.0
            path.addEllipse(QPointF(mark.at[0], -mark.at[1]), radius, radius)
    return path


def _last_lap(toolpath: "Toolpath") -> QPainterPath:
    """Where the bit's centre goes on the last laps, seen from above."""
    laps = [number for number, one in enumerate(toolpath.names) if one.name.endswith("last lap")]
    is_lap = [operation in laps for operation in toolpath.operations.tolist()]
    is_cut = [z < 0.0 for z in toolpath.ends[:, 2].tolist()]
    points = [complex(x, y) for x, y, _ in toolpath.starts().tolist()]
    bulges, path, is_open = toolpath.bulges.tolist(), QPainterPath(), False
    ends = [complex(x, y) for x, y, _ in toolpath.ends.tolist()]
    for index, start in enumerate(points):
        wanted = is_lap[index] and is_cut[index]
        if wanted and not is_open:
            path.moveTo(start.real, -start.imag)
        is_open = wanted
        if wanted:
            for piece in pieces_between(start, ends[index], bulges[index]):
                piece.draw(path)
    return path


def _seams(shown: "Shown") -> QPainterPath:
    """The edges between patches that stay together in the part: seen, not cut."""
    stays = shown.patches.part_faces()
    path = QPainterPath()
    for chain in shown.outline.chains:
        if chain.left in stays and chain.right in stays:
            path.addPath(path_of_run(chain.points, chain.bulges))
    return path
