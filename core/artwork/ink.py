"""What a drawing paints, in its own unit, before it is fitted: areas and strokes, lowest first."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from core.artwork.affine import Affine
from core.artwork.edges import Bow, SubPath
from core.artwork.stroke import Pen
from core.findings import Finding
from core.patches.colour_names import Rgb

Box = tuple[float, float, float, float]

#: Samples of a curve from which the size of a drawing is told before it is fitted; only tolerances need it.
ROUGHLY = np.linspace(0.0, 1.0, 17)


@dataclass(frozen=True, eq=False)
class Ink:
    """Sub-paths of a layer, filled with a colour, or drawn with a pen; place takes them to the page.

    A rule without meaning for strokes: those are always filled by the nonzero rule.
    """

    paths: tuple[SubPath, ...]
    colour: Rgb
    place: Affine = field(default_factory=Affine)
    is_even_odd: bool = False
    pen: Pen | None = None
    layer: str = ""

    def box(self) -> Box:
        """x_min, y_min, x_max, y_max on the page, about; half a stroke's width is added all round."""
        spots = np.concatenate([spots_of(path.mapped(self.place)) for path in self.paths])
        more = self.pen.half * self.place.stretch() if self.pen else 0.0
        x, y = spots.real, spots.imag
        return float(x.min()) - more, float(y.min()) - more, float(x.max()) + more, float(y.max()) + more


def spots_of(path: SubPath) -> NDArray[np.complex128]:
    """(n,) corners of a sub-path and samples of its curves, in order."""
    found = [np.array([path.edges[0].start])]
    for edge in path.edges:
        if isinstance(edge, Bow):
            edge_spots = np.array([edge.end]) if edge.bulge == 0.0 else edge.oval().at(ROUGHLY)
        else:
            edge_spots = edge.at(ROUGHLY)
        found.append(edge_spots)
    return np.concatenate(found)


def box_round(boxes: list[Box]) -> Box:
    """The box round all of them, at least one."""
    lows_x, lows_y, highs_x, highs_y = zip(*boxes, strict=True)
    return min(lows_x), min(lows_y), max(highs_x), max(highs_y)


@dataclass(frozen=True, eq=False)
class Drawn:
    """All the ink of a drawing.

    unit_mm: mm of the page's unit where the file states a size, else None. page: the rectangle beyond which
    nothing is shown, or None. points_up: whether y does. has_holes: whether a place without ink, enclosed by
    the shape, is a hole (drawings of edges) or may be paper (drawings of areas). findings: places on it.
    """

    inks: tuple[Ink, ...]
    format: str
    unit_mm: float | None
    page: Box | None
    points_up: bool
    has_holes: bool = False
    findings: tuple[Finding, ...] = field(default=())
