"""The keys of the window in one place: what they do, and the card that lists them."""

from collections.abc import Callable, Iterable, Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from app.desk.card import Popover

#: What is done: its keys, and its words in the list.
KEYS: Mapping[str, tuple[tuple[str, ...], str]] = {
    "open": (("Ctrl+O",), "open a picture or a saved Job"),
    "recent": (("Ctrl+Shift+O",), "open recent work"),
    "paste": (("Ctrl+V",), "take the picture that was copied"),
    "save": (("Ctrl+S",), "save the Job"),
    "save as": (("Ctrl+Shift+S",), "save the Job somewhere else"),
    "kit": (("Ctrl+E",), "write the kit"),
    "undo": (("Ctrl+Z",), "take the last step back"),
    "redo": (("Ctrl+Y", "Ctrl+Shift+Z"), "do it again"),
    "find": (("/",), "find a choice by its name"),
    "next": (("F6", "."), "go to the next thing worth knowing"),
    "picture": (("P",), "show the picture under the pages"),
    "whole": (("0",), "show everything"),
    "true": (("T",), "show everything at true size"),
    "run": (("B",), "run the bit along its path, or hold it"),
    "gauge": (("Ctrl+G",), "the gauge: make router and cutter agree"),
    "bench": (("Ctrl+B",), "the work beside the machine, step by step"),
    "keys": (("F1",), "this list"),
    "words": (("F2",), "the words of the trade"),
}
#: What pages and fields do by themselves.
_ELSEWHERE = (
    ("Tab", "the next field, bracket, finding or page"),
    ("Escape", "give up a drag, a text or a card"),
    ("wheel, + or -", "nearer or farther; drag to move"),
    ("Return", "the next tab of the part; on the strip, the next level"),
    ("S", "the next clamp, zero, hole, entry, mark or side of the sheet; on the film, the next weed line"),
    ("W", "on the film: a weed line where the pointer is"),
    ("C", "a clamp where the pointer is"),
    ("M", "a fourth mark where the pointer is"),
    ("arrows", "move what is chosen by 0.1 mm, with Shift 1 mm"),
    ("Delete", "take away what is chosen"),
    ("J, F", "on the film: join the chosen piece, give it to the next film"),
    ("1 to 9, M", "the tools for the picture, while it is shown"),
    ("Space", "on strip or handle: run, or close the book"),
    ("H", "on the ruler: two hands to measure between"),
    ("M", "on the handle: how far films are off"),
)


def bind(window: QWidget, does: Mapping[str, Callable[[], object]]) -> None:
    """Let the keys do it, wherever in the window the keyboard is."""
    for name, call in does.items():
        for keys in KEYS[name][0]:
            QShortcut(QKeySequence(keys), window).activated.connect(call)


class KeyCard(Popover):
    """The list of keys, in two columns: what is done anywhere, and what is done on pages and in fields."""

    wide_px = 1060

    def __init__(self, window: QWidget, opener: QWidget) -> None:
        super().__init__(window, opener, "Keys")
        row = QHBoxLayout()
        row.setSpacing(20)
        everywhere = [(" or ".join(keys), words) for keys, words in KEYS.values()]
        for listed in (everywhere, _ELSEWHERE):
            label = QLabel(_table(listed))
            label.setAlignment(Qt.AlignmentFlag.AlignTop)
            label.setWordWrap(True)
            row.addWidget(label, 1)
        self.body.addLayout(row)


def _table(rows: Iterable[tuple[str, str]]) -> str:
    lines = "".join(
        f"<tr><td style='padding: 2px 12px 2px 0; white-space: nowrap'><b>{keys}</b></td>"
        f"<td style='padding: 2px 0'>{words}</td></tr>"
        for keys, words in rows
    )
    return f"<table>{lines}</table>"
