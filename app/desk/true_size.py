"""True size: one mm of the frame is one mm on the screen, with a correction the maker sets with a bank card.

Screens say how large they are, and some are wrong by several percent. What was set is remembered for each
screen, by its name and its pixels.
"""

import json
from pathlib import Path

from PySide6.QtCore import QObject, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QScreen
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from app.desk.card import Popover
from app.desk.errand import Errands
from app.desk.label import lettering
from app.desk.theme import theme_of
from app.desk.view import INCH_MM, CommonView
from core.errors import UnreadableFile
from core.files import read_file, write_file

#: mm; a bank card, its width, height and corners (ISO/IEC 7810, ID-1).
CARD_MM, CORNER_MM = (85.60, 53.98), 3.18
#: Share of one press; half a millimetre in the width of a card is as much as a hand sees.
STEP = 0.005
#: Corrections beyond these are no screen's fault but a slip.
LEAST, MOST = 0.4, 2.5


def screen_name(screen: QScreen) -> str:
    """What tells one screen from another."""
    size = screen.size()
    return f"{screen.manufacturer()} {screen.model()} {screen.name()} {size.width()}x{size.height()}".strip()


def corrections(place: Path) -> dict[str, float]:
    """What was set, by screen; nothing where nothing was, or where it cannot be read."""
    try:
        found = json.loads(read_file(place)) if place.is_file() else {}
    except (UnreadableFile, ValueError):
        return {}
    known = found.items() if isinstance(found, dict) else ()
    return {name: value for name, value in known if isinstance(value, float) and LEAST <= value <= MOST}


def remember(place: Path, screen: str, correction: float) -> None:
    """Keep it for this screen. Raises Unwritable."""
    place.parent.mkdir(parents=True, exist_ok=True)
    text = json.dumps({**corrections(place), screen: correction}, indent=1, sort_keys=True)
    write_file(place, text.encode())


class TrueSize(QObject):
    """Of one window: told(times) how many times larger than true size its pages are; failed(sentence)."""

    told = Signal(float)
    failed = Signal(str, bool)

    def __init__(self, window: QWidget, errands: Errands) -> None:
        super().__init__(window)
        self._window, self._errands = window, errands
        self._place: Path | None = None
        self._view: CommonView | None = None
        self._correction = 1.0

    @property
    def dots_per_inch(self) -> float:
        """Of the window's screen, by its own word."""
        return float(self._window.screen().physicalDotsPerInch())

    def recall(self, state: Path) -> None:
        """Take up what was set for this screen; corrections lie in this folder."""
        place = self._place = state / "screens.json"
        self._errands.run(lambda: corrections(place), self._take_up, self.failed.emit)

    def take(self, view: CommonView) -> None:
        """Tell and set the scale of this view."""
        self._view, view.screen_correction = view, self._correction
        view.changed.connect(self._tell)

    def show(self) -> None:
        """One mm as one mm."""
        if self._view is not None:
            self._view.true_size(self.dots_per_inch)

    def card(self, window: QWidget, opener: QWidget) -> "TrueSizeCard":
        """The card that sets it right; what was set is remembered when the card goes."""
        assert self._view is not None  # noqa: S101 - asked only with pages to look at
        card = TrueSizeCard(window, opener, self._view, self.dots_per_inch)
        card.closed.connect(self._keep)
        return card

    def _take_up(self, known: dict[str, float]) -> None:
        self._correction = known.get(screen_name(self._window.screen()), 1.0)
        if self._view is not None:
            self._view.screen_correction = self._correction

    def _tell(self) -> None:
        if self._view is not None:
            self.told.emit(self._view.times_true_size(self.dots_per_inch))

    def _keep(self) -> None:
        view, place, screen = self._view, self._place, screen_name(self._window.screen())
        if view is not None and place is not None and view.screen_correction != self._correction:
            now = self._correction = view.screen_correction
            self._errands.run(lambda: remember(place, screen, now), _ignore, self.failed.emit)


def _ignore(_result: object) -> None:
    """Nothing follows."""


class TrueSizeCard(Popover):
    """Shows a bank card as large as this screen is thought to show it; wider or narrower sets that right."""

    def __init__(self, window: QWidget, opener: QWidget, view: CommonView, dots_per_inch: float) -> None:
        super().__init__(window, opener, "True size")
        self._view, self._dots = view, dots_per_inch
        self.body.addWidget(_wrapped("Pages show 1 mm as 1 mm, by what the screen says of itself."))
        self.frame = _CardFrame(view, dots_per_inch)
        self.body.addWidget(self.frame)
        self.body.addWidget(
            _wrapped("Lay a bank card on this frame. Where it is not as wide, press until it is.")
        )
        self._said = QLabel()
        self.narrower = self._button("narrower", 1.0 - STEP)
        self.wider = self._button("wider", 1.0 + STEP)
        self.back = self._button("as the screen says", 0.0)
        row = QHBoxLayout()
        for widget in (self.narrower, self.wider, self._said, self.back):
            row.addWidget(widget)
        row.addStretch(1)
        self.body.addLayout(row)
        self._say()

    def _button(self, words: str, factor: float) -> QPushButton:
        button = QPushButton(words)
        button.setAutoRepeat(factor > 0.0)
        button.clicked.connect(lambda _checked=False: self._correct(factor))
        return button

    def _correct(self, factor: float) -> None:
        wanted = self._view.screen_correction * factor if factor else 1.0
        self._view.correct_screen(min(max(wanted, LEAST), MOST), self._dots)
        self._say()

    def _say(self) -> None:
        percent = (self._view.screen_correction - 1.0) * 100.0
        self._said.setText(f"corrected by {percent:+.1f} %" if abs(percent) > 0.01 else "not corrected")
        self.frame.updateGeometry()
        self.frame.update()
        self.stand() if self.isVisible() else None


class _CardFrame(QWidget):
    """The outline of a bank card at true size."""

    def __init__(self, view: CommonView, dots_per_inch: float) -> None:
        super().__init__()
        self._view, self._dots = view, dots_per_inch
        self.setAccessibleName("outline of a bank card at true size")

    @property
    def px_per_mm(self) -> float:
        """Pixels of the screen to a mm of a ruler laid on it."""
        return self._dots * self._view.screen_correction / INCH_MM

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """The card and a little room."""
        return QSize(*(round(side * self.px_per_mm) + 4 for side in CARD_MM))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """A card that is cut off measures nothing."""
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """A round-cornered frame with its width."""
        del event
        painter, theme = QPainter(self), theme_of(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(theme.colour("accent"), 1))
        painter.setBrush(theme.colour("page"))
        box = QRectF(1.5, 1.5, *(side * self.px_per_mm for side in CARD_MM))
        corner = CORNER_MM * self.px_per_mm
        painter.drawRoundedRect(box, corner, corner)
        painter.setPen(theme.colour("quiet"))
        painter.setFont(lettering(self))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, f"{CARD_MM[0]:.1f} \u00d7 {CARD_MM[1]:.1f} mm")
        painter.end()


def _wrapped(words: str) -> QLabel:
    label = QLabel(words)
    label.setWordWrap(True)
    label.setObjectName("quiet")
    return label
