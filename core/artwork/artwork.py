"""Artwork as the stages behind it need it: an Outline in px, its colours, and a picture of it.

1. A scale is chosen so that the longer side of what is drawn is SIDE px, y up, and a margin round it.
2. Strokes become areas, curves become lines and arcs within TOLERANCE at the target size (paint.py).
3. What reaches beyond the page is cut off there, as every viewer of the drawing does.
4. What is painted last is seen (core/outline/partition.py).
"""

import math
from dataclasses import dataclass, replace

from core.artwork.affine import Affine
from core.artwork.edges import SubPath, polygon
from core.artwork.ink import Box, Drawn, Ink, box_round
from core.artwork.paint import painted, segments_of
from core.artwork.scheme import Scheme
from core.errors import BadShape, UnreadableFile
from core.findings import Finding, Level
from core.outline.outline import BEYOND, Outline
from core.outline.partition import Paint, partition
from core.patches.colour_names import Rgb

#: px along the longer side of what is drawn: fine enough for a window to show it, and to press on it.
SIDE = 1000.0

#: px of bare ground round what is drawn.
MARGIN = 20.0

#: mm at the target size: how far a fitted curve may be from the true one, a fifth of what one outline may
#: be out by.
TOLERANCE = 0.002

#: Times the tolerance: a face thinner than that lies between two fits of one edge, and is no patch.
THINNEST = 4.0

#: Share of the drawing's longer side by which it may reach beyond its page before that is worth a word.
BEYOND_PAGE = 1e-4


@dataclass(frozen=True, eq=False)
class Artwork:
    """outline and findings in px, y up; size_px is the width and height of a picture of it.

    px_mm is the size of a px where the drawing states one, else None. holes are the faces without ink that
    are openings of a drawing of edges.
    """

    format: str
    outline: Outline
    palette: tuple[Rgb, ...]
    ground: int
    size_px: tuple[int, int]
    px_mm: float | None
    holes: frozenset[int]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Setting:
    """Where the drawing's page lies in the Outline: to_px, px a page unit, the box of the ink on the page."""

    to_px: Affine
    scale: float
    box: Box

    def size_px(self) -> tuple[int, int]:
        """Width and height of the picture, margins counted."""
        wide, tall = self.box[2] - self.box[0], self.box[3] - self.box[1]
        return math.ceil(wide * self.scale + 2.0 * MARGIN), math.ceil(tall * self.scale + 2.0 * MARGIN)


def artwork_of(drawn: Drawn, scheme: Scheme, height_mm: float | None) -> Artwork:
    """The artwork of a drawing at about this height; None is the size that the drawing states.

    UnreadableFile when nothing of it can be seen, or when it is too fine.
    """
    inks = [ink for ink, label in zip(drawn.inks, scheme.labels, strict=True) if label is not None]
    labels = [label for label in scheme.labels if label is not None]
    setting = setting_of(drawn, inks)
    px_mm = None if drawn.unit_mm is None else drawn.unit_mm / setting.scale
    tall = (setting.box[3] - setting.box[1]) * setting.scale
    tolerance = TOLERANCE / (px_mm if height_mm is None and px_mm else (height_mm or 1.0) / tall)
    paints = painted(inks, labels, setting.to_px, tolerance)
    beyond = _beyond_page(drawn, inks, setting)
    covers = [Paint(one.segments, one.is_even_odd, scheme.ground) for one in beyond]
    outline = _parted([*paints, *covers], scheme.ground, tolerance)
    if len(outline.faces) < 2:
        raise UnreadableFile("Nothing in the drawing can be seen: there is no shape in it.")
    holes = enclosed(outline, scheme.ground) if drawn.has_holes else frozenset()
    findings = (*_placed(drawn.findings, setting), *scheme.findings, *(_cut_off() for _ in beyond))
    return Artwork(
        drawn.format, outline, scheme.palette, scheme.ground, setting.size_px(), px_mm, holes, findings
    )


def _parted(paints: list[Paint], ground: int, tolerance: float) -> Outline:
    try:
        return partition(paints, ground, THINNEST * tolerance, tolerance / 2.0)
    except BadShape as wrong:
        raise UnreadableFile(
            "Edges of the drawing lie so close that it cannot be told what is inside."
        ) from wrong


def setting_of(drawn: Drawn, inks: list[Ink]) -> Setting:
    """How large and where the drawing is drawn in px. UnreadableFile when it has no size at all."""
    box = box_round([ink.box() for ink in inks])
    if drawn.page is not None:
        box = _common(box, drawn.page)
    side = max(box[2] - box[0], box[3] - box[1])
    if not (0.0 < side < math.inf and box[2] > box[0] and box[3] > box[1]):
        raise UnreadableFile("The drawing has no shape with a width and a height.")
    scale = SIDE / side
    corner = complex(box[0], box[1] if drawn.points_up else box[3])
    flip = Affine.scale(scale, scale if drawn.points_up else -scale)
    return Setting(Affine(c=complex(MARGIN, MARGIN)).after(flip.after(Affine(c=-corner))), scale, box)


def _common(box: Box, page: Box) -> Box:
    """What of the box lies on the page; the box itself where nothing does."""
    common = max(box[0], page[0]), max(box[1], page[1]), min(box[2], page[2]), min(box[3], page[3])
    return common if common[0] < common[2] and common[1] < common[3] else box


def _beyond_page(drawn: Drawn, inks: list[Ink], setting: Setting) -> list[Paint]:
    """Everything outside the page, as one paint, where ink reaches there."""
    if drawn.page is None:
        return []
    ink = box_round([each.box() for each in inks])
    slack = BEYOND_PAGE * SIDE / setting.scale
    page = drawn.page
    if page[0] - ink[0] <= slack >= page[1] - ink[1] and ink[2] - page[2] <= slack >= ink[3] - page[3]:
        return []
    far = max(ink[2] - ink[0], ink[3] - ink[1])
    outer = ink[0] - far, ink[1] - far, ink[2] + far, ink[3] + far
    paths = [_rectangle(box).mapped(setting.to_px) for box in (outer, page)]
    return [Paint(segments_of(paths), True, 0)]


def _rectangle(box: Box) -> SubPath:
    corners = [
        complex(box[0], box[1]),
        complex(box[2], box[1]),
        complex(box[2], box[3]),
        complex(box[0], box[3]),
    ]
    return polygon(corners, is_closed=True)


def enclosed(outline: Outline, ground: int) -> frozenset[int]:
    """The faces of the ground's colour that do not reach beyond."""
    open_ones = outline.neighbours(BEYOND) | {BEYOND}
    return frozenset(
        index for index, face in enumerate(outline.faces) if face.colour == ground and index not in open_ones
    )


def _placed(findings: tuple[Finding, ...], setting: Setting) -> tuple[Finding, ...]:
    def placed(finding: Finding) -> Finding:
        if finding.at is None:
            return finding
        at = setting.to_px.of(complex(*finding.at))
        return replace(finding, at=(at.real, at.imag))

    return tuple(map(placed, findings))


def _cut_off() -> Finding:
    return Finding(
        Level.CAUTION,
        "cut-at-page",
        "Part of the drawing reaches beyond its page and is cut off at the page's edge.",
        "Make the page larger than the drawing, if all of it is meant.",
    )
