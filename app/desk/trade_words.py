"""The words of the trade that the window uses, each in a sentence or two, and the card that shows them."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from app.desk.card import Popover, scrolled

#: Word: what it means here. In the order of the alphabet.
WORDS: tuple[tuple[str, str], ...] = (
    ("allowance", "What the passes leave on the wall for the last lap, so that the edge comes out clean."),
    ("bare", "A patch that belongs to the part and gets no film."),
    ("bit", "The end mill that cuts. No inside corner comes out tighter than half its diameter."),
    ("bridge", "A narrow strip of the part, or of film, that joins what would otherwise be two pieces."),
    ("chip", "What one tooth takes in one turn. Too thin, and plastic melts; too thick, and the bit breaks."),
    ("clamp", "What holds the stock down and stands higher than it. Bit and nut keep clear of it."),
    ("climb, conventional", "The two ways round: the part on the right of travel, or on the left."),
    ("dot, hole", "A dot of film is laid in a hole of the part: so all films find their place at once."),
    ("films", "Sheets of vinyl, one for each colour, cut with a knife and laid on the part."),
    ("flute", "A cutting edge of the bit; more of them need more feed for the same chip."),
    ("frame", "The sheet round the part. Films are laid while the part still hangs in it by its tabs."),
    ("ground", "What lies behind the shape in the picture and becomes no part."),
    ("hinge", "Tape along one side on which a film turns down, so that it lands where it was held."),
    ("inset", "How far film stays inside the part's edge, so that none hangs over where it lies askew."),
    ("key", "The one mark that is larger than the others: the film fits one way round only."),
    ("last lap", "One more round at full depth, taking the allowance: it gives the edge its size."),
    ("masking", "The paper or film that a sheet is sold with. It counts when Z is touched off on it."),
    ("onion skin", "A thin layer left under the part instead of tabs, cut by hand afterwards."),
    ("pass", "One round of the bit at one depth; a sheet is cut through in several."),
    ("patch", "An area of one colour in the picture. It becomes film, bare, a hole or ground."),
    ("ramp", "Going down slantwise along the path, since a bit cuts badly straight down."),
    ("skim", "How far below the sheet the bit goes, into the board, so that it is through everywhere."),
    ("spoil board", "The board under the sheet that may be cut into."),
    ("stick-out", "How far the bit stands out of the collet. Half of it bends an eighth as far."),
    ("stock", "The sheet as it lies on the table, before it is cut."),
    ("tab", "A short bridge that holds the part in its frame until it is cut by hand."),
    ("transfer tape", "Tape that lifts a cut film off its backing in one piece, and lays it down again."),
    ("weed", "To pull away the film that is not wanted. Weed lines cut it into strips that come off easily."),
    ("work zero", "The point that the program counts from; it is touched off on the stock before the cut."),
)  # fmt: skip


def found(text: str) -> tuple[tuple[str, str], ...]:
    """The words that a text is part of, those themselves before those that only speak of it."""
    wanted = text.strip().casefold()
    named = [row for row in WORDS if wanted in row[0].casefold()]
    spoken = [row for row in WORDS if wanted in row[1].casefold() and row not in named]
    return (*named, *spoken)


class WordsCard(Popover):
    """All words, or those that were asked for."""

    wide_px = 760

    def __init__(self, window: QWidget, opener: QWidget) -> None:
        super().__init__(window, opener, "Words of the trade")
        self.line = QLineEdit()
        self.line.setPlaceholderText("a word")
        self.line.setAccessibleName("word to look for")
        self.line.textEdited.connect(self._look)
        self.body.addWidget(self.line)
        self.text = QLabel()
        self.text.setObjectName("scrolled")
        self.text.setWordWrap(True)
        self.text.setTextFormat(Qt.TextFormat.RichText)
        self.text.setAlignment(Qt.AlignmentFlag.AlignTop)
        area = scrolled(self.text)
        area.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # arrow keys then go up and down in it
        area.setAccessibleName("words of the trade")
        self.body.addWidget(area)
        self._look("")

    def _wanted_height(self, width: int) -> int:
        del width
        return self._window.height()

    def _look(self, text: str) -> None:
        rows = "".join(
            f"<p style='margin: 0 0 8px 0'><b>{word}</b> \u2013 {means}</p>" for word, means in found(text)
        )
        self.text.setText(rows or "No word of that kind is used here.")
