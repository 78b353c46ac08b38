"""The keys of the window in one place: what they do, and the card that lists them."""

from collections.abc import Callable, Mapping

from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QLabel, QWidget

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
    "redo": (("Ctrl+Shift+Z", "Ctrl+Y"), "do it again"),
    "find": (("/",), "find a choice by its name"),
    "next": (("F6", "."), "go to the next thing worth knowing"),
    "picture": (("P",), "show the picture under the pages"),
    "whole": (("0",), "show everything"),
    "true": (("T",), "show everything at true size"),
    "run": (("B",), "run the bit along its path, or hold it"),
    "keys": (("F1",), "this list"),
}
#: What pages and fields do by themselves.
_ELSEWHERE = (
    ("Tab", "go to the next field, bracket, finding or page"),
    ("Escape", "give up a drag, a text or a card"),
    ("wheel", "nearer or farther; drag to move"),
    ("Return", "on the part page: the next tab"),
    ("S", "on the part page: the next clamp, hanging hole or work zero"),
    ("C", "on the part page: a clamp where the pointer is"),
    ("arrow keys", "move what is chosen by 0.1 mm, with Shift 1 mm"),
    ("Delete", "take away what is chosen"),
)


def bind(window: QWidget, does: Mapping[str, Callable[[], object]]) -> None:
    """Let the keys do it, wherever in the window the keyboard is."""
    for name, call in does.items():
        for keys in KEYS[name][0]:
            QShortcut(QKeySequence(keys), window).activated.connect(call)


class KeyCard(Popover):
    """The list of keys."""

    wide_px = 680

    def __init__(self, window: QWidget, opener: QWidget) -> None:
        super().__init__(window, opener, "Keys")
        listed = [*((" or ".join(keys), words) for keys, words in KEYS.values()), *_ELSEWHERE]
        rows = "".join(
            f"<tr><td style='padding: 2px 18px 2px 0'><b>{keys}</b></td>"
            f"<td style='padding: 2px 0'>{words}</td></tr>"
            for keys, words in listed
        )
        self.body.addWidget(QLabel(f"<table>{rows}</table>"))
