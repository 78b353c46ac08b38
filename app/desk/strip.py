"""The strip on top: the job as a sentence whose brackets open cards, what is still to answer, and the kit."""

from collections.abc import Sequence

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QPushButton, QSizePolicy, QWidget

from app.desk.desk import Desk
from app.desk.sentence import SIGNS, Piece, plain, sentence, to_answer

#: px between words, between lines, and at the edges.
GAP, LEADING, EDGE = 5, 6, 12
#: px of a line.
LINE = 30


class Strip(QWidget):
    """card_asked(name) when a bracket is pressed; kit_asked() for the kit."""

    card_asked = Signal(str)
    kit_asked = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.setObjectName("strip")
        self._desk = desk
        self._pieces: tuple[Piece, ...] = ()
        self._words: list[QWidget] = []
        self.brackets: dict[str, QPushButton] = {}
        self.answer = _button("", "plain", lambda: self.card_asked.emit("height"))
        self.kit = _button("Write the kit", "main", self.kit_asked.emit)
        self.kit.setToolTip("Ctrl+E")
        for button in (self.answer, self.kit):
            button.setParent(self)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        desk.job_changed.connect(self.refresh)
        desk.shown_changed.connect(self.refresh)
        self.refresh()

    def refresh(self, *_told: object) -> None:
        """Say the present job; whatever a signal tells is on the Desk too."""
        source = self._desk.source
        shown = self._desk.shown
        pieces = sentence(self._desk.job, source, shown) if source is not None else _NOTHING
        if [piece.card for piece in pieces] != [piece.card for piece in self._pieces]:
            self._make(pieces)
        self._pieces = pieces
        for piece, word in zip(pieces, self._words, strict=True):
            word.setText(piece.text)  # type: ignore[attr-defined] # labels and buttons both have it
        self.setAccessibleName(plain(pieces))
        waiting = len(to_answer(self._desk.job)) if source is not None else 0
        self.answer.setText(f"{waiting} to answer")
        self.answer.setVisible(waiting > 0)
        self.kit.setVisible(source is not None)
        self._arrange()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """As high as the sentence is long."""
        return QSize(600, self._arrange())

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Break the lines anew."""
        super().resizeEvent(event)
        self._arrange()

    def _make(self, pieces: Sequence[Piece]) -> None:
        for word in self._words:
            word.hide()
            word.deleteLater()
        self.brackets = {}
        self._words = [self._word(piece) for piece in pieces]
        before: QWidget | None = None
        for widget in (*self._words, self.answer, self.kit):
            if before is not None:
                QWidget.setTabOrder(before, widget)
            before = widget

    def _word(self, piece: Piece) -> QWidget:
        if not piece.card:
            label = QLabel(piece.text, self)
            label.show()
            return label
        button = _button(piece.text, "bracket", lambda: self.card_asked.emit(piece.card))
        button.setParent(self)
        button.setAccessibleDescription(f"opens the choices about the {piece.card}")
        button.show()
        self.brackets[piece.card] = button
        return button

    def _arrange(self) -> int:
        """Put the words in lines, the buttons at the right of the first; the height that it takes, px."""
        right = self.width() - EDGE
        for button in (self.kit, self.answer):
            if not button.isHidden():
                size = button.sizeHint()
                right -= size.width()
                button.setGeometry(right, EDGE + (LINE - size.height()) // 2, size.width(), size.height())
                right -= 2 * GAP
        x, y, end = EDGE, EDGE, right
        widths = [word.sizeHint().width() for word in self._words]
        signs = [word.text() in SIGNS for word in self._words]  # type: ignore[attr-defined]
        for place, (word, width) in enumerate(zip(self._words, widths, strict=True)):
            gap = 0 if signs[place] or x == EDGE else GAP
            sign = widths[place + 1] if signs[place + 1 : place + 2] == [True] else 0
            if x + gap + width + sign > end and x > EDGE and not signs[place]:
                x, y, gap, end = EDGE, y + LINE + LEADING, 0, self.width() - EDGE
            word.setGeometry(x + gap, y, width, LINE)
            x += gap + width
        height = y + LINE + EDGE
        if self.minimumHeight() != height:
            self.setFixedHeight(height)
        return height


_NOTHING = (Piece("Nothing on the desk yet."),)


def _button(text: str, name: str, pressed: object) -> QPushButton:
    button = QPushButton(text)
    button.setObjectName(name)
    button.clicked.connect(lambda _checked=False: pressed())  # type: ignore[operator]
    return button
