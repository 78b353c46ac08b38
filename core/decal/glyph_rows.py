"""Rows of glyphs among the pieces of a film: of one height, on one base line, side by side.

Only boxes are looked at, in the four ways that level lettering can be turned. A row has at least three
pieces of one height that stand on its base line; other pieces on the line, as capitals and small letters of
one fount are, and what hangs below or over it (tails, dots, accents, commas), belong to it as well.
"""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from core.outline.loop import Bounds
from core.outline.segments import Floats

#: Pieces of a row at least; two that stand side by side are no lettering yet.
LEAST_GLYPHS = 3
#: Shares of a glyph's height: how far off the base line it may stand (round letters overshoot), and by how
#: much the heights may differ of those that count as equally high.
OFF_LINE, ALIKE = 0.06, 0.08
#: Shares of it between which others of the row are high (capitals against small letters), by which two may
#: be apart (words), and which one may be wide.
LOWEST, HIGHEST, APART, WIDEST = 0.6, 1.65, 1.0, 2.0
#: Shares of the height by which tails hang below the line, and accents stand above the tallest.
TAIL, ACCENT = 0.55, 0.6
#: mm; lower pieces are dots and crumbs, no glyphs.
LEAST_HEIGHT_MM = 1.0


def glyph_rows(boxes: Sequence[Bounds]) -> list[tuple[int, ...]]:
    """For each row the places of its pieces in boxes (mm), the longest row first; no piece is in two."""
    taken: set[int] = set()
    rows: list[tuple[int, ...]] = []
    if len(boxes) < LEAST_GLYPHS:
        return rows
    turned = [_turned(np.array(boxes), quarters) for quarters in range(4)]
    while True:
        found = max((_longest(box, taken) for box in turned), key=len)
        if len(found) < LEAST_GLYPHS:
            return rows
        rows.append(found)
        taken.update(found)


def _turned(boxes: Floats, quarters: int) -> Floats:
    """(n, 4) x_min, y_min, x_max, y_max, the plane turned by so many quarters."""
    for _ in range(quarters):
        x_min, y_min, x_max, y_max = boxes.T
        boxes = np.column_stack((-y_max, x_min, -y_min, x_max))
    return boxes


def _longest(boxes: Floats, taken: set[int]) -> tuple[int, ...]:
    """The longest row that is level in these boxes, with what hangs on it; nothing where there is none."""
    free = np.array([row not in taken for row in range(len(boxes))])
    heights, widths = boxes[:, 3] - boxes[:, 1], boxes[:, 2] - boxes[:, 0]
    free &= (heights >= LEAST_HEIGHT_MM) & (widths <= WIDEST * heights)
    best: list[int] = []
    for seed in np.flatnonzero(free).tolist():
        height = float(heights[seed])
        on_line = np.abs(boxes[:, 1] - boxes[seed, 1]) <= OFF_LINE * height
        alike = (heights >= LOWEST * height) & (heights <= HIGHEST * height)
        hangs = (boxes[:, 1] <= boxes[seed, 1]) & (boxes[:, 3] >= boxes[seed, 1] + LOWEST * height)
        hangs &= boxes[:, 1] >= boxes[seed, 1] - TAIL * height
        run = _run_of(boxes, np.flatnonzero(free & alike & (on_line | hangs)), seed, height)
        row = [one for one in run if on_line[one]]
        as_high = int((np.abs(heights[row] - height) <= ALIKE * height).sum())
        best = row if as_high >= LEAST_GLYPHS and len(row) > len(best) else best
    return _with_marks(boxes, best, taken) if len(best) >= LEAST_GLYPHS else ()


def _run_of(boxes: Floats, rows: np.ndarray, seed: int, height: float) -> list[int]:
    """Those of the pieces that stand side by side with the seed, none farther apart than glyphs are."""
    ordered = rows[np.argsort(boxes[rows, 0], kind="stable")].tolist()
    runs = [[ordered[0]]]
    for before, after in pairwise(ordered):
        if boxes[after, 0] - boxes[before, 2] <= APART * height:
            runs[-1].append(after)
        else:
            runs.append([after])
    return next(run for run in runs if seed in run)


def _with_marks(boxes: Floats, row: list[int], taken: set[int]) -> tuple[int, ...]:
    """The row with the tails, dots and commas that belong to it: smaller pieces within its band."""
    heights = boxes[row, 3] - boxes[row, 1]
    height, line = float(np.median(heights)), float(np.median(boxes[row, 1]))
    low, high = line - TAIL * height, line + heights.max() + ACCENT * height
    left, right = boxes[row, 0].min() - APART * height, boxes[row, 2].max() + APART * height
    inside = (boxes[:, 0] >= left) & (boxes[:, 2] <= right) & (boxes[:, 1] >= low) & (boxes[:, 3] <= high)
    sizes = (boxes[:, 2] - boxes[:, 0]) * (boxes[:, 3] - boxes[:, 1])
    inside &= sizes <= WIDEST * np.max(sizes[row])
    return tuple(sorted({*row, *(one for one in np.flatnonzero(inside).tolist() if one not in taken)}))
