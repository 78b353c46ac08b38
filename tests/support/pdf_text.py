"""The words of a PDF as a reader that is not ours finds them: lines, where they stand, how large they are."""

from dataclasses import dataclass

import pypdfium2
import pypdfium2.raw as pdfium

MM = 25.4 / 72.0
#: Points by which letters of one line may stand higher, and apart in type sizes.
SAME_LINE, APART = 2.0, 1.2


@dataclass(frozen=True)
class TextPage:
    """words: runs of letters on one base line; boxes x0, y0, x1, y1 of each, mm, y up; points: type sizes."""

    size_mm: tuple[float, float]
    words: tuple[str, ...]
    boxes: tuple[tuple[float, float, float, float], ...]
    points: tuple[float, ...]


def pages_of(data: bytes) -> list[TextPage]:
    """Every page of a PDF."""
    document = pypdfium2.PdfDocument(data)
    try:
        return [_page(document[number]) for number in range(len(document))]
    finally:
        document.close()


def _page(page: pypdfium2.PdfPage) -> TextPage:
    text = page.get_textpage()
    runs: list[list[tuple[str, tuple[float, float, float, float], float]]] = []
    for index in range(text.count_chars()):
        sign = chr(pdfium.FPDFText_GetUnicode(text, index))
        size = pdfium.FPDFText_GetFontSize(text, index)
        if pdfium.FPDFText_IsGenerated(text, index) == 1 or not sign.strip():
            runs and runs[-1] and runs[-1].append((" ", runs[-1][-1][1], size))
            continue
        box = text.get_charbox(index)
        if runs and _goes_on(runs[-1][-1], box, size):
            runs[-1].append((sign, box, size))
        else:
            runs.append([(sign, box, size)])
    wide, high = page.get_size()
    return TextPage(
        (wide * MM, high * MM),
        tuple(" ".join("".join(sign for sign, _, _ in run).split()) for run in runs),
        tuple(_round([box for _, box, _ in run]) for run in runs),
        tuple(size for run in runs for sign, _, size in run if sign.strip()),
    )


def _goes_on(last: tuple[str, tuple[float, float, float, float], float], box, size: float) -> bool:
    """Whether a letter stands on the line of the one before, no farther from it than a few spaces."""
    _, before, was = last
    is_level = min(before[3], box[3]) - max(before[1], box[1]) > -SAME_LINE
    return is_level and abs(was - size) < 1e-6 and -1.0 < box[0] - before[2] < APART * size


def _round(boxes: list[tuple[float, float, float, float]]) -> tuple[float, float, float, float]:
    lows_x, lows_y, highs_x, highs_y = zip(*boxes, strict=True)
    return min(lows_x) * MM, min(lows_y) * MM, max(highs_x) * MM, max(highs_y) * MM
