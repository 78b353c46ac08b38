"""The face of all papers, Bitstream Vera from inside reportlab's wheel: widths, wrapping, missing signs.

The same face everywhere gives equal papers everywhere, and every line is measured before it is set.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from core.paper.surface import Letters

REGULAR, BOLD = "Vera", "VeraBd"

#: mm of a point of type (1/72 in).
POINT = 25.4 / 72.0

#: Nothing on a paper is set smaller (readable at arm's length): 9 points in mm.
SMALLEST_MM = 9.0 * POINT

#: mm of line per mm of type, so that lines stand clear of each other.
LEADING = 1.28

#: What stands in for a sign the face does not have.
MISSING = "?"

#: Signs the face lacks, and how the papers say them.
SAID_OTHERWISE = str.maketrans(
    {"→": "to", "⌀": "Ø", "≤": "at most", "≥": "at least", "\u2032": "'", "\u2033": '"'}
)


def face_of(letters: Letters) -> str:
    """The registered name of the face."""
    return BOLD if letters.is_bold else REGULAR


def _metrics() -> Any:
    # slow to import, needed only here; the library has no types
    from reportlab.pdfbase import pdfmetrics  # type: ignore[import-untyped]  # noqa: PLC0415

    return pdfmetrics


def font_file(name: str) -> Path:
    """Where the face lies."""
    # slow to import, needed only here; the library has no types
    import reportlab  # type: ignore[import-untyped]  # noqa: PLC0415

    return Path(reportlab.__file__).parent / "fonts" / f"{name}.ttf"


def register_faces() -> None:
    """Make both faces known to the PDF library; again and again does no harm."""
    # slow to import, needed only here; the library has no types
    from reportlab.pdfbase.ttfonts import TTFont  # type: ignore[import-untyped]  # noqa: PLC0415

    pdfmetrics = _metrics()
    known = pdfmetrics.getRegisteredFontNames()
    for name in (REGULAR, BOLD):
        if name not in known:
            pdfmetrics.registerFont(TTFont(name, str(font_file(name))))


def printable(words: str) -> str:
    """The same words in signs that the face has, on one line."""
    register_faces()
    glyphs = _metrics().getFont(REGULAR).face.charToGlyph
    plain = " ".join(words.translate(SAID_OTHERWISE).split())
    return "".join(sign if ord(sign) in glyphs else MISSING for sign in plain)


def width_mm(words: str, letters: Letters) -> float:
    """How wide the words are set, mm."""
    register_faces()
    return float(_metrics().stringWidth(words, face_of(letters), letters.size_mm))


def wrapped(words: str, letters: Letters, room_mm: float) -> tuple[str, ...]:
    """The words in lines no wider than room_mm; a word wider than the room is cut where it must be."""
    lines: list[str] = []
    line = ""
    for word in _pieces(printable(words), letters, room_mm):
        longer = f"{line} {word}" if line else word
        if line and width_mm(longer, letters) > room_mm:
            lines.append(line)
            line = word
        else:
            line = longer
    return (*lines, line)


def _pieces(words: str, letters: Letters, room_mm: float) -> Iterator[str]:
    for word in words.split(" "):
        rest = word
        while width_mm(rest, letters) > room_mm and len(rest) > 1:
            fitting = next(
                n for n in range(len(rest) - 1, 0, -1) if n == 1 or _fits(rest[:n], letters, room_mm)
            )
            yield rest[:fitting]
            rest = rest[fitting:]
        yield rest


def _fits(words: str, letters: Letters, room_mm: float) -> bool:
    return width_mm(words, letters) <= room_mm


def shortened(words: str, letters: Letters, room_mm: float) -> str:
    """One line no wider than room_mm, with an ellipsis where something was left out."""
    whole = printable(words)
    if _fits(whole, letters, room_mm):
        return whole
    ends = range(len(whole) - 1, 0, -1)
    return next((f"{whole[:n]}…" for n in ends if _fits(f"{whole[:n]}…", letters, room_mm)), "")
