"""Pieces between two faces strung into Chains, from node to node or round a ring.

1. A Piece with the same face on both sides is left out; the others are run in their own direction.
2. At a node where two Pieces with the same faces meet, the Chain goes on; everywhere else it ends.
3. Neighbouring Pieces of one source are one line or arc again (knit.py says how): what a hidden edge had
   cut is whole, and a source that is seen whole keeps its ends and its bulge to the last bit.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.chain import Chain
from core.outline.curve import Ints
from core.outline.knit import Stretch, best, bulges_of, joint
from core.outline.noding import Pieces
from core.outline.segments import Floats, Segments


@dataclass(frozen=True)
class Step:
    """A Piece, and whether it is run against its direction."""

    piece: int
    is_against: bool


def chains_of(pieces: Pieces, sources: Segments, nodes: Ints, faces: Ints) -> tuple[Chain, ...]:
    """The Chains of Pieces; nodes (2 n,) as in Arrangement, faces (n, 2) to the left and right of each."""
    rows = _rows_by_piece(pieces)
    return tuple(_chain(walk, pieces, sources, rows, faces) for walk in Walks(nodes, faces).all())


@dataclass(frozen=True)
class Walk:
    """Steps that one Chain goes; a ring may begin at any of them."""

    steps: list[Step]
    is_ring: bool


class Walks:
    """The visible Pieces by the nodes that they leave, and which have been walked."""

    def __init__(self, nodes: Ints, faces: Ints) -> None:
        self.nodes, self.faces = nodes, faces
        self.seen = np.flatnonzero(faces[:, 0] != faces[:, 1]).tolist()
        self.leaving: dict[int, list[Step]] = {}
        for piece in self.seen:
            self.leaving.setdefault(int(nodes[2 * piece]), []).append(Step(piece, is_against=False))
            self.leaving.setdefault(int(nodes[2 * piece + 1]), []).append(Step(piece, is_against=True))
        self.through = {node: self._passes(steps) for node, steps in self.leaving.items()}
        self.taken: set[int] = set()

    def all(self) -> list[Walk]:
        """Every visible Piece in one walk: those that end at a node first, then rings."""
        walks = []
        for node in sorted(self.leaving):
            if not self.through[node]:
                walks += self._each(self.leaving[node], is_ring=False)
        return walks + self._each([Step(piece, is_against=False) for piece in self.seen], is_ring=True)

    def _each(self, begins: list[Step], *, is_ring: bool) -> list[Walk]:
        """A walk from each of these steps that is not taken by then."""
        return [Walk(self._from(step), is_ring) for step in begins if step.piece not in self.taken]

    def _passes(self, steps: list[Step]) -> bool:
        """Whether a Chain goes through the node that these steps leave."""
        return len(steps) == 2 and self._sides(steps[0]) == self._sides(steps[1])[::-1]

    def _sides(self, step: Step) -> tuple[int, int]:
        return _sides(step, self.faces)

    def _from(self, step: Step) -> list[Step]:
        walk, ahead = [], [step]
        while ahead:
            here = ahead[0]
            walk.append(here)
            self.taken.add(here.piece)
            head = int(self.nodes[2 * here.piece + (0 if here.is_against else 1)])
            free = (each for each in self.leaving[head] if each.piece not in self.taken)
            ahead = list(free)[:1] if self.through[head] else []
        return walk


def _sides(step: Step, faces: Ints) -> tuple[int, int]:
    """The faces to the left and to the right of a step."""
    left, right = faces[step.piece].tolist()
    return (right, left) if step.is_against else (left, right)


def _chain(walk: Walk, pieces: Pieces, sources: Segments, rows: list[list[int]], faces: Ints) -> Chain:
    """A walk as a Chain, its pieces of one source joined."""
    choices = [_stretches(step, pieces, rows[step.piece]) for step in walk.steps]
    count = len(choices)
    turn = next((k for k in range(count) if not joint(choices[k - 1], choices[k])), 0) if walk.is_ring else 0
    order = [*range(turn, count), *range(turn)]
    starts: list[Floats] = []
    found: list[Stretch] = []
    open_ones: list[Stretch] = []
    for k in order:
        longer = joint(open_ones, choices[k])
        if not longer:
            found.extend(best(open_ones))
            starts.append(_start(walk.steps[k], pieces))
        open_ones = longer or choices[k]
    found.extend(best(open_ones))
    last = walk.steps[order[-1]]
    end = _start(Step(last.piece, not last.is_against), pieces)
    return Chain(np.vstack([*starts, end]), bulges_of(found, sources), *_sides(walk.steps[0], faces))


def _start(step: Step, pieces: Pieces) -> Floats:
    ends = pieces.segments.ends if step.is_against else pieces.segments.starts
    return np.asarray(ends[step.piece])


def _rows_by_piece(pieces: Pieces) -> list[list[int]]:
    """For every Piece the cut rows of the sources that share it."""
    rows: list[list[int]] = [[] for _ in range(len(pieces.segments))]
    for row, piece in enumerate(pieces.owners.tolist()):
        rows[piece].append(row)
    return rows


def _stretches(step: Step, pieces: Pieces, rows: list[int]) -> list[Stretch]:
    """A step as parts of the sources that share its Piece."""
    found = []
    for row in rows:
        first, last = float(pieces.firsts[row]), float(pieces.lasts[row])
        back = bool(pieces.is_against[row]) != step.is_against
        found.append(Stretch(int(pieces.sources[row]), *((last, first) if back else (first, last))))
    return found
