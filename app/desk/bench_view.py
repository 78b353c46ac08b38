"""The bench view: for a laptop beside the machine, one step of the work, one picture, one number at a time.

It is read from two metres and in the sun: black on white whatever the theme, letters as large as the step
leaves room for. Turned over like pages, with the keys that a remote for slides sends too.
"""

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QKeyEvent, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from app.desk.bench_work import BenchStep, BenchWork
from app.desk.surface import ScreenSurface
from core.paper.order import Scene
from core.paper.scenes import HIGH, WIDE, draw_scene

#: pt: the largest letters of a step, and the smallest that are tried; what is to be minded has a share of it.
LARGEST_PT, SMALLEST_PT, CARE_SHARE = 40.0, 17.0, 0.72
#: pt of the number, of the line above and of the buttons.
NUMBER_PT, HEAD_PT, BUTTON_PT = 64.0, 20.0, 18.0
#: px of the margins; the share of the width that picture and number take.
AROUND, BESIDE = 32, 0.34
NEXT = (Qt.Key.Key_Space, Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_PageDown, Qt.Key.Key_Return)
BACK = (Qt.Key.Key_Backspace, Qt.Key.Key_Left, Qt.Key.Key_Up, Qt.Key.Key_PageUp)

_STYLE = """
#bench { background: #ffffff; }
#bench QLabel { color: #000000; background: transparent; }
#bench QLabel#care { background: #fff3c4; border-left: 10px solid #7a4a00; padding: 10px 14px; }
#bench QLabel#number { color: #00483d; }
#bench QLabel#head { color: #3a3a3a; }
#bench QPushButton { background: #ffffff; color: #00483d; border: 2px solid #00483d; border-radius: 8px;
  padding: 8px 22px; min-height: 44px; }
#bench QPushButton:focus { border: 4px solid #00483d; padding: 6px 20px; }
#bench QPushButton:disabled { color: #6a6a6a; border-color: #b0b0b0; }
"""


class BenchView(QWidget):
    """leave_asked() when the maker goes back to the desk."""

    leave_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("bench")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setStyleSheet(_STYLE)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._work = BenchWork("", (), {})
        self._at = 0
        self.head, self.words, self.care = _label("head"), _label("words"), _label("care")
        self.number = _label("number")
        self.number.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self.picture = StepPicture()
        self.back = self._button("\u2190 before", lambda: self.go(-1))
        self.leave = self._button("the desk", self.leave_asked.emit)
        self.next = self._button("next \u2192", lambda: self.go(1))
        self._lay_out()

    @property
    def step(self) -> BenchStep:
        """The step that is shown."""
        return self._work.steps[self._at]

    @property
    def at(self) -> int:
        """Which it is, from 0."""
        return self._at

    def take(self, work: BenchWork) -> None:
        """Show this work, from its beginning; the same again goes on where it was."""
        if work.steps != self._work.steps or work.title != self._work.title:
            self._at = 0
        self._work = work
        self._show()

    def go(self, by: int) -> None:
        """So many steps on, or back; the ends stay."""
        self._at = max(0, min(self._at + by, len(self._work.steps) - 1))
        self._show()

    def event(self, event: QEvent) -> bool:
        """Keys mean what they mean here, not what they do on the desk."""
        if event.type() is QEvent.Type.ShortcutOverride:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Turn the pages; Escape goes back to the desk."""
        key = event.key()
        if key in NEXT:
            self.go(1)
        elif key in BACK:
            self.go(-1)
        elif key == Qt.Key.Key_Home:
            self.go(-len(self._work.steps))
        elif key == Qt.Key.Key_End:
            self.go(len(self._work.steps))
        elif key == Qt.Key.Key_Escape:
            self.leave_asked.emit()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Letters as large as there is room for."""
        super().resizeEvent(event)
        if self._work.steps:
            self._fit()

    def _show(self) -> None:
        step = self.step
        self.head.setText(
            f"{self._work.title}  \u00b7  {step.stage}, {step.place} of {step.count}"
            f"  \u00b7  step {self._at + 1} of {len(self._work.steps)}"
        )
        self.words.setText(step.words)
        self.care.setText(step.care)
        self.care.setVisible(bool(step.care))
        self.number.setText(step.number.replace(" \u00d7 ", " \u00d7\n"))
        self.number.setVisible(bool(step.number))
        self.picture.show_step(step, self._work.pictures.get(step.view))
        self.back.setEnabled(self._at > 0)
        self.next.setEnabled(self._at + 1 < len(self._work.steps))
        self.setAccessibleName(" ".join(filter(None, (step.stage, step.number, step.words, step.care))))
        self._fit()

    def _fit(self) -> None:
        """The largest letters with which words and what is to be minded have room."""
        step = self.step
        beside = round(BESIDE * self.width())
        wide = self.width() - 3 * AROUND - beside
        whole = self.width() - 2 * AROUND
        high = self.height() - 4 * AROUND - self.head.sizeHint().height() - self.next.sizeHint().height()
        size = LARGEST_PT
        while size > SMALLEST_PT:
            words = _height(step.words, size, wide)
            care = _height(step.care, CARE_SHARE * size, whole - 48) + 24.0 if step.care else 0.0
            if max(words, high * 0.36) + care + AROUND <= high:
                break
            size -= 1.0
        _letter(self.words, size)
        _letter(self.care, CARE_SHARE * size)
        _letter(self.number, _number_pt(self.number.text(), beside))
        self._right.setFixedWidth(beside)

    def _lay_out(self) -> None:
        _letter(self.head, HEAD_PT)
        for button in (self.back, self.leave, self.next):
            font = button.font()
            font.setPointSizeF(BUTTON_PT)
            button.setFont(font)
        self._right = QWidget()
        right = QVBoxLayout(self._right)
        right.setContentsMargins(0, 0, 0, 0)
        right.addWidget(self.picture, 1)
        right.addWidget(self.number)
        middle = QHBoxLayout()
        middle.setSpacing(AROUND)
        middle.addWidget(self.words, 1, Qt.AlignmentFlag.AlignTop)
        middle.addWidget(self._right)
        below = QHBoxLayout()
        below.addWidget(self.back)
        below.addStretch(1)
        below.addWidget(self.leave)
        below.addStretch(1)
        below.addWidget(self.next)
        column = QVBoxLayout(self)
        column.setContentsMargins(AROUND, AROUND // 2, AROUND, AROUND // 2)
        column.setSpacing(AROUND // 2)
        column.addWidget(self.head)
        column.addLayout(middle, 1)
        column.addWidget(self.care)
        column.addLayout(below)

    def _button(self, words: str, pressed: object) -> QPushButton:
        made = QPushButton(words)
        made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        made.clicked.connect(lambda _checked=False: pressed())  # type: ignore[operator]
        return made


class StepPicture(QWidget):
    """The picture of one step: a scene drawn, or one of the kit's own pictures."""

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self._scene, self._pixmap = "", QPixmap()

    def show_step(self, step: BenchStep, png: bytes | None) -> None:
        """Take the step's picture."""
        self._scene, self._pixmap = step.scene, QPixmap()
        if png is not None:
            self._pixmap.loadFromData(png)
        self.setAccessibleName(f"picture: {step.scene or step.view}")
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """As a scene lies."""
        return QSize(320, 190)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """As large as there is room for."""
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        room = QRectF(self.rect())
        if self._scene:
            px_mm = min(room.width() / WIDE, room.height() / HIGH)
            box = QRectF(0.0, 0.0, px_mm * WIDE, px_mm * HIGH)
            box.moveCenter(room.center())
            draw_scene(ScreenSurface(painter, box.bottomLeft(), px_mm), Scene(self._scene), (0.0, 0.0))
        elif not self._pixmap.isNull():
            size = self._pixmap.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
            box = QRectF(0.0, 0.0, size.width(), size.height())
            box.moveCenter(room.center())
            painter.drawPixmap(box, self._pixmap, QRectF(self._pixmap.rect()))
        painter.end()


def _label(name: str) -> QLabel:
    made = QLabel()
    made.setObjectName(name)
    made.setWordWrap(True)
    made.setTextFormat(Qt.TextFormat.PlainText)
    return made


def _font(size_pt: float) -> QFont:
    font = QFont()
    font.setPointSizeF(size_pt)
    return font


def _letter(label: QLabel, size_pt: float) -> None:
    label.setFont(_font(size_pt))


def _height(words: str, size_pt: float, wide: float) -> float:
    flags = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft
    room = QRectF(0.0, 0.0, wide, 1e6)
    return float(QFontMetricsF(_font(size_pt)).boundingRect(room, int(flags), words).height())


def _number_pt(words: str, wide: float) -> float:
    """As large as the number's column takes its lines."""
    metrics = QFontMetricsF(_font(NUMBER_PT))
    needed = max(metrics.horizontalAdvance(line) for line in words.splitlines()) if words else 1.0
    return float(max(SMALLEST_PT, min(NUMBER_PT, NUMBER_PT * (wide - 8.0) / needed)))
