"""The tools for the picture under the pages: one row of words above them, while the picture is shown."""

from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QWidget

from app.desk.desk import Desk
from app.desk.view import CommonView


class Tool(StrEnum):
    """What a press or a drag on the picture does."""

    ROLE = "role"
    RUB = "rub"
    JOIN = "bridge"
    PART = "part"
    CORNER = "corner"
    LEVEL = "level"
    CROP = "crop"
    SHEET = "sheet"
    GROUND = "ground"
    SAME = "same"


@dataclass(frozen=True)
class Said:
    """A tool on its button, and beside the pointer."""

    name: str
    hint: str


SAID = {
    Tool.ROLE: Said("Patch", "press: what becomes of this patch"),
    Tool.RUB: Said("Rub out", "press a speck, or drag a disc over it from its middle"),
    Tool.JOIN: Said("Bridge", "drag from end to end over a gap, or along a neck"),
    Tool.PART: Said("Part", "drag across what touches"),
    Tool.CORNER: Said("Corner", "press: this corner sharp · drag away: round"),
    Tool.LEVEL: Said("Level", "drag along what should be level or upright"),
    Tool.CROP: Said("Crop", "drag a box over what is kept · press: all of it"),
    Tool.SHEET: Said("Slanted sheet", "drag the four corners of the sheet"),
    Tool.GROUND: Said("Ground", "press: this colour is no part of the shape"),
    Tool.SAME: Said("One colour", "drag from a colour to the one that is to take it in"),
}
#: Keys that take a tool while the picture is shown.
KEYS = dict(zip("123456789M", Tool, strict=True))
#: Those that mean something for a drawing, which has no pixels.
FOR_DRAWINGS = (Tool.ROLE, Tool.CORNER)


class PictureTools(QWidget):
    """One row of buttons, of which one is pressed; seen only while the picture is."""

    def __init__(self, desk: Desk, view: CommonView) -> None:
        super().__init__()
        self._desk, self._view = desk, view
        self.setAccessibleName("tools for the picture")
        self._group = QButtonGroup(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 2, 8, 2)
        row.setSpacing(6)
        self.buttons = {tool: self._button(key, tool) for key, tool in KEYS.items()}
        for button in self.buttons.values():
            row.addWidget(button)
        row.addStretch(1)
        view.layers_changed.connect(self._follow)
        desk.shown_changed.connect(self._follow)
        self._follow()

    def _button(self, key: str, tool: Tool) -> QPushButton:
        button = QPushButton(SAID[tool].name)
        button.setCheckable(True)
        button.setToolTip(f"{SAID[tool].hint} ({key})")
        button.setAccessibleName(f"{SAID[tool].name}: {SAID[tool].hint}")
        button.clicked.connect(lambda _checked=False: self._view.take_tool(tool))
        self._group.addButton(button)
        return button

    def _follow(self, *_shown: object) -> None:
        self.setVisible(self._view.has_picture)
        if not self._view.has_picture:
            return
        is_drawing = self._is_drawing()
        for tool, button in self.buttons.items():
            button.setVisible(not is_drawing or tool in FOR_DRAWINGS)
        if is_drawing and self._view.tool not in FOR_DRAWINGS:
            self._view.take_tool(Tool.ROLE)
        self.buttons[Tool(self._view.tool)].setChecked(True)

    def _is_drawing(self) -> bool:
        from core.artwork.read import kind_of  # noqa: PLC0415 - brings numpy; something is shown by now

        source = self._desk.source
        return source is not None and kind_of(source.data) is not None
