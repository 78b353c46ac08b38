"""The fit band over the part: where edges of film may come to lie, laid as badly as is to be expected."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPainterPath

from app.desk.part_paint import tinted
from app.desk.paths import path_of, placed
from app.desk.theme import Theme
from app.desk.view import Seen, transform_of
from core.decal.fit_band import fit_band
from core.job.resolve import inset_of

if TYPE_CHECKING:
    from core.shown import Shown


@dataclass(frozen=True, eq=False)
class Band:
    """Paths in the scene, on the part and over its edge, of every copy; off_mm: the error to expect."""

    on_part: QPainterPath
    over_edge: QPainterPath
    off_mm: float
    inset_mm: float

    def words(self) -> str:
        """How near to the part's edge film may come, and how far from it stay."""
        nearest = self.inset_mm - self.off_mm
        where = f"{nearest:.2f} mm inside" if nearest >= 0.0 else f"{-nearest:.2f} mm over"
        return f"laid by its marks up to {self.off_mm:.2f} mm off, film comes as near as {where} the edge"


def band_of(shown: "Shown") -> Band | None:
    """The band of all films that are shown; None where no error is known, or nothing is laid."""
    if not shown.off_mm or not shown.films.films:
        return None
    inset = inset_of(shown.job)
    made = fit_band([film.regions for film in shown.films.films], shown.as_cut, inset, shown.off_mm)
    on_part, over_edge = QPainterPath(), QPainterPath()
    for copy in shown.layout.copies:
        on_part.addPath(placed(copy).map(path_of(made.on_part)))
        over_edge.addPath(placed(copy).map(path_of(made.over_edge)))
    return Band(on_part, over_edge, shown.off_mm, inset)


def paint_band(painter: QPainter, band: Band, seen: Seen, theme: Theme) -> None:
    """Thin over the part, and plain where film would come over its edge."""
    painter.save()
    painter.setTransform(transform_of(seen))
    painter.setPen(Qt.PenStyle.NoPen)
    for path, colour, alpha in ((band.on_part, "caution", 110), (band.over_edge, "stop", 200)):
        painter.fillPath(path, tinted(theme, colour, alpha))
    painter.restore()
