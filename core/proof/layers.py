"""The layers of a drawing's bytes, whatever its format, by one name each and in the kit's frame."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from shapely.geometry.base import BaseGeometry

from core.drawing.read.contours import NotRead, ReadContour, ReadDrawing
from core.drawing.read.dxf import read_dxf
from core.drawing.read.svg import read_svg
from core.errors import UnreadableFile
from core.proof.correction import CorrectionClaim, undone_contour
from core.proof.polygons import Points, area_of, flat_ring, in_short_arcs, narrowed

#: mm: two files of one drawing differ by the last digit that each format writes.
SAME_CONTOUR = 1e-5

#: mm; no sheet reaches so far, and points along such an edge would fill the memory.
FARTHEST = 20_000.0

READERS = {"svg": read_svg, "dxf": read_dxf, "dxf-r12": read_dxf}


@dataclass(frozen=True, eq=False)
class Contour:
    """points (n, 2) mm, bulges (n,) of a closed contour; (n - 1,) matter of an open one."""

    points: Points
    bulges: Points
    is_closed: bool

    def is_same_as(self, other: "Contour") -> bool:
        """Whether no corner and no arc's middle lies more than SAME_CONTOUR from the other's."""
        if self.is_closed != other.is_closed or self.points.shape != other.points.shape:
            return False
        chords = np.hypot(*(np.roll(self.points, -1, axis=0) - self.points).T)[: len(self.bulges)]
        moved = np.abs(self.points - other.points).max(initial=0.0)
        bent = (np.abs(self.bulges - other.bulges) * chords / 2.0).max(initial=0.0)  # sagitta = bulge c / 2
        return bool(max(moved, bent) <= SAME_CONTOUR)


@dataclass(frozen=True)
class Page:
    """x_min, y_min, x_max, y_max mm as the file has it, and the width and height that it states in mm.

    covers: the same box in the frame, a stated correction undone. unit_mm: how long a bare number is.
    """

    box: tuple[float, float, float, float] | None
    stated_mm: tuple[float | None, float | None]
    covers: tuple[float, float, float, float] | None = None
    unit_mm: float | None = None


@dataclass(frozen=True)
class Layers:
    """Contours by the SVG group's name; a DXF layer FILM_SHELL is film-shell here too.

    wider_mm: by how much films and marks were drawn larger, for a cutter that leaves them smaller.
    not_read: what else stands in the file, by the same names; page: the sheet that the file shows, in the
    frame, and the size it states for it, None where its format states neither.
    """

    contours: Mapping[str, tuple[Contour, ...]]
    not_read: tuple[NotRead, ...] = ()
    page: "Page | None" = None
    wider_mm: float = 0.0

    def of(self, name: str) -> tuple[Contour, ...]:
        """The layer's contours; none where the drawing has no such layer."""
        return self.contours.get(name, ())

    def is_same_as(self, other: "Layers", name: str) -> bool:
        """Whether both have the same layer, contour by contour, to far less than the proof must see."""
        ours, theirs = self.of(name), other.of(name)
        return len(ours) == len(theirs) and all(map(Contour.is_same_as, ours, theirs))

    def rings(self, name: str) -> list[Points]:
        """The closed contours of a layer as drawn, arcs made fine chords."""
        return [flat_ring(contour.points, contour.bulges) for contour in self.of(name) if contour.is_closed]

    def marks(self) -> list[BaseGeometry]:
        """What each mark bounds, a stated width undone."""
        return [narrowed(area_of([ring]), self.wider_mm) for ring in self.rings("marks")]

    def area(self, name: str) -> BaseGeometry:
        """What the layer's closed contours bound, of a film a stated width undone."""
        area = area_of(self.rings(name))
        return narrowed(area, self.wider_mm) if name.startswith("film-") else area


@dataclass(frozen=True)
class NamedLayers:
    """The layers of one file of the kit."""

    path: str
    layers: Layers


def read_layers(
    data: bytes,
    file_format: str,
    mirror_x: float | None,
    correction: CorrectionClaim | None = None,
    wider_mm: float = 0.0,
) -> Layers:
    """The layers of a drawing, a stated correction undone, then a stated mirror. Raises UnreadableFile."""
    reader = READERS.get(file_format)
    if reader is None:
        raise UnreadableFile(f"a drawing of the format {file_format} cannot be proved.")
    drawing: ReadDrawing = reader(data)
    if any(not (np.abs(one.points) < FARTHEST).all() for layer in drawing.layers for one in layer.contours):
        raise UnreadableFile(f"the drawing reaches farther than {FARTHEST / 1000:g} m.")
    contours: dict[str, tuple[Contour, ...]] = {}
    for layer in drawing.layers:
        name = _plain(layer.name)
        read = tuple(_contour(contour, mirror_x, correction) for contour in layer.contours)
        contours[name] = contours.get(name, ()) + read
    unread = tuple(NotRead(one.what, _plain(one.layer), one.is_style) for one in drawing.not_read)
    stated = (drawing.width_mm, drawing.height_mm)
    page = None
    if file_format == "svg":
        page = Page(drawing.page, stated, _covers(drawing.page, correction), drawing.unit_mm)
    return Layers(contours, unread, page, wider_mm)


def _plain(layer: str) -> str:
    return layer.lower().replace("_", "-")


Box = tuple[float, float, float, float]


def _covers(page: Box | None, correction: CorrectionClaim | None) -> Box | None:
    """The box round the page with the correction undone."""
    if page is None or correction is None:
        return page
    x_min, y_min, x_max, y_max = page
    corners = correction.undone(np.array([[x_min, y_min], [x_max, y_min], [x_max, y_max], [x_min, y_max]]))
    (left, near), (right, far) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    return left, near, right, far


def _contour(read: ReadContour, mirror_x: float | None, correction: CorrectionClaim | None) -> Contour:
    points, bulges = read.points, read.bulges
    if correction is not None:
        points, bulges = undone_contour(points, bulges, correction, is_closed=read.is_closed)
    if mirror_x is not None:
        points, bulges = points * np.array([-1.0, 1.0]) + np.array([2.0 * mirror_x, 0.0]), -bulges
    if read.is_closed:
        points, bulges = in_short_arcs(points, bulges)
    return Contour(points, bulges, read.is_closed)
