"""The picture under a page, its patches tinted by what becomes of them; a press gives a patch another role.

Film takes its own colour, bare is dotted, through is hatched: never told by colour alone.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QImage, QImageReader, QPainter, QPainterPath, QPen, QTransform

from app.desk.picture_hand import PictureHand
from app.desk.picture_marks import paint_marks
from app.desk.picture_tools import Tool
from app.desk.theme import Theme
from app.desk.view import Seen, transform_of

if TYPE_CHECKING:
    from app.desk.page import Page
    from core.findings import Point
    from core.job.wish import RoleOfPatch
    from core.patches.role import Role
    from core.shown import Shown

#: What a press makes of a patch, by what it is; a patch at the picture's rim becomes ground, not a hole.
NEXT = {"film": "bare", "bare": "through", "through": "film", "ground": "film"}
NEXT_AT_RIM = {"film": "bare", "bare": "ground", "through": "film", "ground": "film"}
#: Deviations on either side within which an edge lies in 95 of 100 cases; how strongly that band is drawn.
SPREAD, BAND_ALPHA = 1.96, 110
#: What a role is called beside the pointer.
SAID = {
    "film": "film",
    "bare": "bare, part without film",
    "through": "through, a hole",
    "ground": "ground, no part",
}


class PictureLayer:
    """The picture of one page: as it is, or is_clean, as it is read: flat patches and nothing else."""

    def __init__(self, page: "Page", *, is_clean: bool = False) -> None:
        self._page = page
        self._is_clean = is_clean
        self.hand = PictureHand(page)
        self._image: QImage | None = None
        self._image_of: object = None
        self._tints: tuple[tuple[str, QPainterPath], ...] | None = None
        self._inks: tuple[tuple[str, QPainterPath], ...] | None = None
        self._faces: dict[int, QPainterPath] = {}

    def forget(self) -> None:
        """Other patches; the picture itself is kept while it is the same."""
        self._tints = None
        self._inks = None
        self._faces = {}
        self.hand.forget()

    def paint(self, painter: QPainter, theme: Theme, scale: float) -> None:
        """The picture in its place, veiled a little, the patches tinted; the painter stands in the scene."""
        shown = self._page.shown
        if shown is None:
            return
        self._paint_picture(painter, shown, theme)
        for colour, area in self._inked(shown):
            painter.fillPath(area, QColor(colour))
        for role, path in self._tinted(shown):
            if not (self._is_clean and role.startswith("#")):
                painter.fillPath(path, _tint(role, theme, scale))
        band = theme.colour("caution")
        band.setAlpha(BAND_ALPHA)
        for width, path in _bands(shown):
            painter.setPen(QPen(band, width, c=Qt.PenCapStyle.FlatCap, j=Qt.PenJoinStyle.RoundJoin))
            painter.drawPath(path)
        painter.setPen(QPen(theme.colour("ink"), 0))
        painter.drawPath(_edges(shown))

    def _paint_picture(self, painter: QPainter, shown: "Shown", theme: Theme) -> None:
        """The source picture as squaring up has laid it, and its border."""
        image, box = self._picture(), QRectF(0.0, 0.0, *map(float, shown.picture_size))
        painter.save()
        painter.setTransform(_laid(shown), combine=True)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        if self._is_clean and not self._is_drawing():
            painter.fillRect(box, QColor(shown.palette[shown.ground]))
        elif image is not None:
            painter.drawImage(box, image)
        painter.setPen(QPen(theme.colour("line"), 0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        painter.restore()

    def paint_hovered(self, painter: QPainter, pointer: QPointF | None, seen: Seen, theme: Theme) -> None:
        """What the tool draws, or the patch under the pointer, outlined; the painter stands in px."""
        shown = self._page.shown
        if shown is None or not self._page.view.has_picture:
            return
        if self.hand.tool is not Tool.ROLE:
            paint_marks(painter, self.hand, shown, seen, theme)
        elif pointer is not None:
            self._paint_patch(painter, pointer, shown, seen, theme)

    def _paint_patch(
        self, painter: QPainter, pointer: QPointF, shown: "Shown", seen: Seen, theme: Theme
    ) -> None:
        face = self._face_at(shown, seen.back(pointer))
        if face is None:
            return
        painter.setBrush(Qt.BrushStyle.NoBrush)
        outline = transform_of(seen).map(self._face_path(shown, face))
        for colour, width in (("page", 5.0), ("accent", 2.0)):
            painter.setPen(QPen(theme.colour(colour), width))
            painter.drawPath(outline)

    def title(self) -> tuple[str, str]:
        """What is seen, and how fine it is."""
        shown = self._page.shown
        assert shown is not None  # noqa: S101 - a page without anything shown has no title
        if self._is_clean:
            colours = len({face.colour for face in shown.outline.faces[1:]} | {shown.ground})
            return "As it is read", f"{colours} colours, {len(shown.outline.faces) - 1} patches"
        width, height = shown.picture_size
        fine = (
            ""
            if self._is_drawing()
            else f" · {shown.px_mm:.2f} mm a pixel · good to {_good_to(shown):.0f} mm"
        )
        return "Your picture as it is", f"{width} \u00d7 {height} px{fine}"

    def named_at(self, point: "Point") -> str:
        """What the tool does here; else what becomes of the patch, and what a press would make of it."""
        if self.hand.tool is not Tool.ROLE:
            return self.hand.said(point)
        shown = self._page.shown
        face = None if shown is None else self._face_at(shown, point)
        if shown is None or face is None:
            return ""
        role = shown.patches.roles[face]
        name = f"film {role.film}" if role.film else SAID[role.role.value]
        return f"{name} · press: {_next_role(shown, face)}"

    def pressed(self, point: "Point") -> bool:
        """Begin a stroke of the tool, or give the patch here its next role; False where there is none."""
        from core.patches.role import Role  # noqa: PLC0415 - with the first Shown

        if self.hand.tool is not Tool.ROLE:
            return self.hand.pressed(point)
        shown = self._page.shown
        face = None if shown is None else self._face_at(shown, point)
        if shown is None or face is None:
            return False
        role, at = Role(_next_role(shown, face)), shown.outline.faces[face].inside
        x, y = shown.place.back(at)
        patches = with_role(shown, self._page.desk.job.shape.patches, at, role)
        self._page.desk.propose_value("shape.patches", patches, f"patch at {x:.0f}, {y:.0f} {role}")
        return True

    def _face_at(self, shown: "Shown", point: "Point") -> int | None:
        from core.patches.face_at import face_at  # noqa: PLC0415 - brings numpy; something is shown by now

        face = face_at(shown.outline, point)
        return face or None  # 0 is what lies beyond everything

    def _face_path(self, shown: "Shown", face: int) -> QPainterPath:
        if face not in self._faces:
            self._faces[face] = _union(shown, frozenset((face,)))
        return self._faces[face]

    def _tinted(self, shown: "Shown") -> tuple[tuple[str, QPainterPath], ...]:
        if self._tints is None:
            groups: dict[str, set[int]] = {}
            for face, role in enumerate(shown.patches.roles):
                if face:
                    groups.setdefault(_tint_name(shown, role.role.value, role.film), set()).add(face)
            self._tints = tuple((name, _union(shown, frozenset(faces))) for name, faces in groups.items())
        return self._tints

    def _inked(self, shown: "Shown") -> tuple[tuple[str, QPainterPath], ...]:
        """The colours of what is read, or of a drawing that is lines already, and their areas."""
        if self._inks is None:
            groups: dict[str, set[int]] = {}
            for index, face in enumerate(shown.outline.faces if self._is_clean or self._is_drawing() else ()):
                if index and face.colour != shown.ground:
                    groups.setdefault(shown.palette[face.colour], set()).add(index)
            self._inks = tuple((colour, _union(shown, frozenset(faces))) for colour, faces in groups.items())
        return self._inks

    def _is_drawing(self) -> bool:
        from core.artwork.read import kind_of  # noqa: PLC0415 - brings numpy; something is shown by now

        source = self._page.desk.source
        return source is not None and kind_of(source.data) is not None

    def _picture(self) -> QImage | None:
        """The picture, upright, as the screen can show it; None for a drawing, or where Qt cannot read it."""
        source = self._page.desk.source
        if source is None or self._is_drawing():
            return None
        if self._image_of is not source:
            self._image, self._image_of = _read(source.data), source
        return self._image


def _read(data: bytes) -> QImage | None:
    buffer = QBuffer()
    buffer.setData(QByteArray(data))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer)
    reader.setAutoTransform(True)
    image = reader.read()
    return None if image.isNull() else image


def _laid(shown: "Shown") -> QTransform:
    """From px of the source picture to the scene; Qt writes matrices for rows of coordinates."""
    place = shown.place
    (a, b, c), (d, e, f), (g, h, i) = place.plane.rows
    onto = QTransform(a, d, g, b, e, h, c, f, i)
    left, top = place.shift[0], -place.picture_height * place.scale - place.shift[1]
    return onto * QTransform(place.scale, 0.0, 0.0, place.scale, left, top)


def _union(shown: "Shown", faces: frozenset[int]) -> QPainterPath:
    from app.desk.paths import path_of  # noqa: PLC0415 - with the next
    from core.outline.faces import regions_of  # noqa: PLC0415 - brings numpy; something is shown by now

    return path_of(regions_of(shown.outline, faces))


def _edges(shown: "Shown") -> QPainterPath:
    from app.desk.paths import path_of_run  # noqa: PLC0415

    path = QPainterPath()
    for chain in shown.outline.chains:
        path.addPath(path_of_run(chain.points, chain.bulges))
    return path


def _bands(shown: "Shown") -> "list[tuple[float, QPainterPath]]":
    """Runs of the outline by how wide, mm, the band is in which their edge lies in 95 of 100 cases."""
    from app.desk.paths import path_of_run  # noqa: PLC0415

    bands: dict[float, QPainterPath] = {}
    for chain, doubt in zip(shown.outline.chains, shown.outline.doubt, strict=False):
        width = round(2.0 * SPREAD * doubt, 3)
        if width > 0.0:
            bands.setdefault(width, QPainterPath()).addPath(path_of_run(chain.points, chain.bulges))
    return list(bands.items())


def _good_to(shown: "Shown") -> float:
    """The largest height for which this picture is fine enough, mm, in steps that can be told."""
    from core.picture.fineness import good_to  # noqa: PLC0415 - something is shown by now

    most = good_to(shown.size_mm[1], shown.px_mm, max(shown.outline.doubt, default=0.0))
    step = 10.0 if most >= 100.0 else 1.0
    return most // step * step


def _tint_name(shown: "Shown", role: str, film: str) -> str:
    """A colour for a film, else the role's word."""
    colours = {one.name: one.colour for one in shown.films.films}
    return colours.get(film, role) if film else role


def _tint(name: str, theme: Theme, scale: float) -> QBrush:
    """Films by colour; bare dotted; through hatched; ground left as it is."""
    if name.startswith("#"):
        colour = QColor(name)
        colour.setAlpha(90)
        return QBrush(colour)
    pattern = {"bare": Qt.BrushStyle.Dense6Pattern, "through": Qt.BrushStyle.BDiagPattern}.get(name)
    if pattern is None:
        return QBrush(Qt.BrushStyle.NoBrush)
    brush = QBrush(theme.colour("accent" if name == "bare" else "stop"), pattern)
    brush.setTransform(QTransform.fromScale(1.0 / scale, 1.0 / scale))
    return brush


def _next_role(shown: "Shown", face: int) -> str:
    is_at_rim = 0 in shown.outline.neighbours(face)
    return (NEXT_AT_RIM if is_at_rim else NEXT)[shown.patches.roles[face].role.value]


def with_role(
    shown: "Shown", wishes: "tuple[RoleOfPatch, ...]", at: "Point", role: "Role", film: str = ""
) -> "tuple[RoleOfPatch, ...]":
    """The patch here, frame, has this role; an earlier word about it goes.

    The word is kept at the point well inside the patch, with the colour that it has now.
    """
    from core.job.wish import RoleOfPatch  # noqa: PLC0415 - with the first Shown
    from core.patches.face_at import face_at  # noqa: PLC0415 - brings numpy; something is shown by now

    face = face_at(shown.outline, at)
    others = [one for one in wishes if face_at(shown.outline, shown.place.of(one.at)) != face]
    x, y = shown.place.back(shown.outline.faces[face].inside)
    colour = shown.palette[shown.outline.faces[face].colour]
    return (*others, RoleOfPatch((round(x, 2), round(y, 2)), role, film, colour))
