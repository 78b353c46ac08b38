"""SVG path data of the plainest kind, read many times faster: absolute moves, lines, circular arcs, closings.

A sheet of copies has a hundred thousand of them. What is not surely of this kind, or is in any way odd, is
left to svg_path.py, which reads command by command and says what is wrong.
"""

import re
from itertools import pairwise

import numpy as np

from core.drawing.read.contours import Floats
from core.drawing.read.svg_path import ROUND_WITHIN, Pair, SubPath

#: Only these letters and plain numbers: nothing here can be taken for another command, or for no number.
_ALL = re.compile(r"(?:[MLAZ][0-9.eE+\- \t\r\n,]*+)++")
_STEP = re.compile(r"([MLAZ])([^MLAZ]*)")
#: How many words each letter is followed by.
_WORDS = {"M": 2, "L": 2, "A": 7, "Z": 0}
_FLAGS = frozenset(("0", "1"))


class _Odd(Exception):
    """Not of the plainest kind after all."""


def plain_path(data: str) -> tuple[SubPath, ...] | None:
    """Every sub-path, as read_path gives them; None for what this cannot read."""
    if _ALL.fullmatch(data) is None:
        return None
    steps = [(letter, words.replace(",", " ").split()) for letter, words in _STEP.findall(data)]
    moves = [place for place, (letter, _) in enumerate(steps) if letter == "M"]
    if moves[:1] != [0]:
        return None
    try:
        return tuple(_sub_path(steps[start:end]) for start, end in pairwise([*moves, len(steps)]))
    except (_Odd, ValueError):
        return None


def _sub_path(steps: list[tuple[str, list[str]]]) -> SubPath:
    """Raises _Odd, or ValueError for a word that is no number."""
    is_closed = steps[-1][0] == "Z"
    drawn = steps[:-1] if is_closed else steps
    points: list[Pair] = []
    arcs: list[tuple[int, float, float, float]] = []
    for place, (letter, words) in enumerate(drawn):
        if len(words) != _WORDS[letter] or letter == "Z":
            raise _Odd
        points.append((float(words[-2]), float(words[-1])))
        if letter == "A":
            arcs.append((place - 1, *_arc(words)))
    if len(points) < 2 or (is_closed and steps[-1][1]):
        raise _Odd
    bulges = np.zeros(len(points) - 1)
    ends = np.array(points)
    if arcs:
        _bend(bulges, ends, np.array(arcs))
    elif not np.isfinite(ends).all():
        raise _Odd
    if is_closed and points[-1] == points[0]:
        return SubPath(ends[:-1], bulges, is_closed, bool(arcs))
    return SubPath(ends, np.append(bulges, 0.0) if is_closed else bulges, is_closed, bool(arcs))


def _arc(words: list[str]) -> tuple[float, float, float]:
    """Radius; 1 where it is the large arc; 1 where its angle grows, else -1."""
    radius, other, turned = float(words[0]), float(words[1]), float(words[2])
    is_round = radius > 0.0 and abs(radius - other) <= ROUND_WITHIN * radius and turned - turned == 0.0
    if not is_round or words[3] not in _FLAGS or words[4] not in _FLAGS:
        raise _Odd
    return radius, float(words[3]), 1.0 if words[4] == "1" else -1.0


def _bend(bulges: Floats, ends: Floats, arcs: Floats) -> None:
    """Bulges of the arcs, as svg_path.arc_bulge has them."""
    rows = arcs[:, 0].astype(np.int64)
    chords = np.hypot(*(ends[rows + 1] - ends[rows]).T)
    if not (chords > 0.0).all() or not np.isfinite(ends).all() or not np.isfinite(arcs).all():
        raise _Odd
    halves = np.arcsin(np.minimum(chords / (2.0 * arcs[:, 1]), 1.0))
    halves = np.where(arcs[:, 2] == 1.0, np.pi - halves, halves)
    bulges[rows] = np.tan(halves / 2.0) * arcs[:, 3]
