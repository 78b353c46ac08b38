"""Pictures of the window's main states, to be looked at: `python tests/bench/screens.py FOLDER`.

Both themes, 1100 x 700 and 1600 x 1000; QT_SCALE_FACTOR=2 makes them twice as dense. The demo is built by the
real process.
"""

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import mkdtemp

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication  # noqa: E402

from app.desk.cards import CARDS  # noqa: E402
from app.desk.desk import Desk  # noqa: E402
from app.desk.theme import DARK, LIGHT, put_on  # noqa: E402
from app.desk.window import DeskWindow  # noqa: E402

SIZES = ((1100, 700), (1600, 1000))


def states(window: DeskWindow) -> dict[str, Callable[[], object]]:
    """What is done to come to each, one after the other, with the demo on the desk."""
    spread = window.spread
    assert spread is not None
    cards = {f"card {card.name}": lambda card=card: window.open_choice(card.few[0]) for card in CARDS}
    return {
        "pages": _nothing,
        **cards,
        "table": lambda: window.open_choice("bit.diameter"),
        "keys": window.list_keys,
        "words": window.list_words,
        "write": window.ask_for_kit,
        "true size": window.set_true_size,
        "played": lambda: (window.close_card(), spread.play.seek(0.8 * spread.play.total)),
        "closed": lambda: (spread.play.leave(), spread.view.close_book(1.0)),
        "picture": lambda: (spread.view.close_book(0.0), window.show_picture()),
        "pages again": window.show_picture,
        "gauge": window.show_gauge,
        "gauge left": window.leave_gauge,
    }


def _nothing() -> None:
    """As it is."""


def settled(turns: int = 12) -> None:
    """Let layouts settle and pages be painted sharp."""
    for _ in range(turns):
        QApplication.processEvents()
        time.sleep(0.02)


def main(folder: Path) -> None:
    """All states in every theme and size."""
    folder.mkdir(parents=True, exist_ok=True)
    application = QApplication([])
    put_on(application, LIGHT)
    window = DeskWindow(Desk(), Path(mkdtemp()))
    window.show()
    while window.spread is None:
        settled(1)
    window.grab().save(str(folder / "empty.png"))
    window.desk.open_path(ROOT / "assets" / "demo" / "turtle.samecut")
    while window.desk.shown is None or window.desk.is_old or window.desk.shown.is_first_look:
        settled(1)
    for theme in (LIGHT, DARK):
        put_on(application, theme)
        for size in SIZES:
            window.resize(*size)
            for name, come in states(window).items():
                come()
                settled()
                window.grab().save(str(folder / f"{theme.name}-{size[0]}-{name.replace(' ', '-')}.png"))
    window.close()
    window.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
