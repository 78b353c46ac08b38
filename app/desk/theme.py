"""Colours of the window, light and dark, and the style sheet made of them. Pages ask theme_of(widget)."""

from dataclasses import dataclass, fields

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication, QWidget

#: Smallest text, pt: readable from an arm's length.
SMALLEST_PT = 11.0


@dataclass(frozen=True)
class Theme:
    """Every colour as #rrggbb. ink and quiet are text; on them every ground holds 4.5:1 (WCAG 2.2, 1.4.3).

    stock, stock_edge, part, part_edge, board, film_ground are of the pages; veil lies over what is old;
    chip_... colour the bit's way by the chip that it takes.
    """

    name: str
    desk: str
    page: str
    card: str
    line: str
    ink: str
    quiet: str
    accent: str
    on_accent: str
    accent_wash: str
    stop: str
    caution: str
    note: str
    veil: str
    stock: str
    stock_edge: str
    part: str
    part_edge: str
    part_light: str
    board: str
    film_ground: str
    mark: str
    path: str
    chip_full: str
    chip_thin: str
    chip_rubs: str
    chip_down: str

    def colour(self, name: str) -> QColor:
        """One of the colours, for painting."""
        return QColor(str(getattr(self, name)))


LIGHT = Theme(
    name="light",
    desk="#e9e3d6",
    page="#f8f5ed",
    card="#fdfbf6",
    line="#cfc6b3",
    ink="#2b2720",
    quiet="#5f584a",
    accent="#0f6a5c",
    on_accent="#ffffff",
    accent_wash="#d9e9e2",
    stop="#a3172a",
    caution="#87500a",
    note="#3d5a80",
    veil="#f8f5ed",
    stock="#e7eeec",
    stock_edge="#8fa39f",
    part="#cfe0de",
    part_edge="#2b4a48",
    part_light="#ffffff",
    board="#c9ae84",
    film_ground="#fffdf8",
    mark="#8c3b1f",
    path="#0f6a5c",
    chip_full="#16548c",
    chip_thin="#d99a00",
    chip_rubs="#c43c0e",
    chip_down="#7d6b9c",
)

DARK = Theme(
    name="dark",
    desk="#1f1d1a",
    page="#2a2824",
    card="#33302b",
    line="#4f4a41",
    ink="#efe9dc",
    quiet="#b8afa0",
    accent="#7cc9b6",
    on_accent="#10231f",
    accent_wash="#2c423c",
    stop="#ff9a96",
    caution="#f0bd6a",
    note="#a4c2ea",
    veil="#2a2824",
    stock="#3a4240",
    stock_edge="#72827e",
    part="#4d6360",
    part_edge="#d5e6e2",
    part_light="#ffffff",
    board="#6e5b3e",
    film_ground="#34312c",
    mark="#eb9f7c",
    path="#7cc9b6",
    chip_full="#5f9fe0",
    chip_thin="#f7dc7a",
    chip_rubs="#ff7a4d",
    chip_down="#b7a5dc",
)

#: Pairs of text and ground that occur; each holds 4.5:1.
TEXT_ON_GROUND = (
    *((text, ground) for text in ("ink", "quiet", "accent") for ground in ("desk", "page", "card")),
    *((text, ground) for text in ("stop", "caution", "note") for ground in ("desk", "page", "card")),
    ("ink", "accent_wash"),
    ("accent", "accent_wash"),
    ("on_accent", "accent"),
)


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two #rrggbb, 1 to 21 (WCAG 2.2, contrast ratio and relative luminance)."""
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    channels = [int(colour[start : start + 2], 16) / 255.0 for start in (1, 3, 5)]
    red, green, blue = (
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def theme_of(widget: QWidget) -> Theme:
    """The theme that a widget stands in, told by its palette."""
    return DARK if widget.palette().color(QPalette.ColorRole.Window).lightnessF() < 0.5 else LIGHT


def system_theme() -> Theme:
    """What the system asks for; light where it does not say."""
    return DARK if QGuiApplication.styleHints().colorScheme() is Qt.ColorScheme.Dark else LIGHT


def put_on(application: QApplication, theme: Theme) -> None:
    """Palette, font and style sheet for the whole application."""
    application.setStyle("Fusion")
    application.setPalette(_palette(theme))
    font = QFont(application.font())
    if font.pointSizeF() < SMALLEST_PT:
        font.setPointSizeF(SMALLEST_PT)
        application.setFont(font)
    application.setStyleSheet(style_sheet(theme))


def _palette(theme: Theme) -> QPalette:
    palette, role = QPalette(), QPalette.ColorRole
    for colour, roles in (
        ("desk", (role.Window,)),
        ("card", (role.Base, role.Button, role.ToolTipBase)),
        ("page", (role.AlternateBase,)),
        ("ink", (role.WindowText, role.Text, role.ButtonText, role.ToolTipText)),
        ("quiet", (role.PlaceholderText,)),
        ("accent", (role.Highlight, role.Link, role.Accent)),
        ("on_accent", (role.HighlightedText,)),
    ):
        for one in roles:
            palette.setColor(one, theme.colour(colour))
    return palette


def style_sheet(theme: Theme) -> str:
    """The style sheet; @name stands for a colour of the theme."""
    text = _STYLE
    for name in sorted((entry.name for entry in fields(Theme)), key=len, reverse=True):
        text = text.replace(f"@{name}", str(getattr(theme, name)))
    return text


_STYLE = """
QToolTip { color: @ink; background: @card; border: 1px solid @line; padding: 4px; }
#strip, #status { background: @desk; }
#card { background: @card; border: 1px solid @line; border-radius: 8px; }
#notice { background: @card; border: 1px solid @line; border-left: 4px solid @caution; border-radius: 4px; }
QLabel#quiet, QLabel#help, QLabel#other { color: @quiet; }
QLabel#refused { color: @stop; }
QLabel#doubted { color: @caution; }
QLabel#title { color: @quiet; }
QPushButton { background: transparent; color: @accent; border: 1px solid @line; border-radius: 5px;
  padding: 3px 10px; min-height: 22px; }
QPushButton:hover { background: @accent_wash; }
QPushButton:focus { border: 2px solid @accent; padding: 2px 9px; }
QPushButton:checked { background: @accent; color: @on_accent; border-color: @accent; }
QPushButton:checked:focus { border: 2px solid @ink; }
QPushButton:disabled { color: @quiet; }
QPushButton#main { background: @accent; color: @on_accent; border-color: @accent; font-weight: 600; }
QPushButton#main:hover { border-color: @ink; }
QPushButton#main:focus { border-color: @ink; }
QPushButton#main:disabled { background: @desk; color: @quiet; border-color: @line; }
QPushButton#bracket { border: none; border-bottom: 2px solid @accent; border-radius: 0; padding: 1px 2px;
  color: @ink; font-weight: 600; }
QPushButton#bracket:hover, QPushButton#bracket:checked { background: @accent_wash; color: @ink; }
QPushButton#bracket:focus { border: 2px solid @accent; padding: 0 0 1px 0; }
QToolButton#recent { background: @page; color: @ink; border: 1px solid @line; border-radius: 6px;
  padding: 6px; }
QToolButton#recent:hover { background: @accent_wash; }
QToolButton#recent:focus { border: 2px solid @accent; padding: 5px; }
QPushButton#plain, QPushButton#plain:checked { background: transparent; color: @accent; border: none;
  padding: 3px 6px; text-align: left; }
QPushButton#plain:hover { background: @accent_wash; }
QPushButton#plain:focus { border: 2px solid @accent; padding: 1px 4px; }
QLineEdit { background: @page; color: @ink; border: 1px solid @line; border-radius: 5px; padding: 3px 6px;
  min-height: 22px; selection-background-color: @accent; selection-color: @on_accent;
  placeholder-text-color: @quiet; }
QLineEdit:focus { border: 2px solid @accent; padding: 2px 5px; }
QLineEdit:disabled { color: @quiet; background: @desk; }
QLineEdit[state="doubtful"] { border: 2px dashed @caution; padding: 2px 5px; }
QLineEdit[state="refused"] { border: 2px solid @stop; padding: 2px 5px; }
QListWidget { background: @page; color: @ink; border: 1px solid @line; border-radius: 5px; }
QListWidget:focus { border: 2px solid @accent; }
QListWidget::item { padding: 3px 6px; }
QListWidget::item:selected { background: @accent_wash; color: @ink; }
QScrollArea, #scrolled { background: transparent; border: none; }
QScrollBar:vertical { background: transparent; width: 10px; margin: 0; }
QScrollBar::handle:vertical { background: @line; border-radius: 5px; min-height: 28px; }
QScrollBar::add-line, QScrollBar::sub-line { height: 0; width: 0; }
#finding { background: @page; border: 1px solid @line; border-radius: 6px; }
#finding[chosen="true"] { border: 2px solid @accent; }
"""
