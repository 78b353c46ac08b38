"""An Outline as numbers that may be moved: its joints once each, and a bulge for every segment.

Chains that share a node share the joint, so whatever is solved for, they still meet; both patches of a
Chain go on sharing it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.outline.chain import Chain
from core.outline.curve import Ints
from core.outline.outline import Outline
from core.outline.segments import Floats, Segments

#: px; no edge is known better than this at its worst place, however clean the picture (the trace's own
#: figures: 0.12 px at most, 0.01 px rms).
LEAST_NOISE = 0.02
#: Standard deviations of a Chain's place that count as one of any single place on it.
LOCAL = 2.0


@dataclass(frozen=True, eq=False)
class Frame:
    """outline in px; tails and heads (s,) the joint where each segment begins and ends; owner (s,) its Chain.

    noise (s,) px, the standard deviation of any place on the segment. points (p, 2) and bulges (s,) are
    where they stood in the Outline.
    """

    outline: Outline
    points: Floats
    tails: Ints
    heads: Ints
    bulges: Floats
    owner: Ints
    noise: Floats

    @classmethod
    def of(cls, outline: Outline) -> "Frame":
        """Every joint once; ends that are equal to the last bit are one joint."""
        every = np.vstack([chain.points for chain in outline.chains])
        points, index = np.unique(every, axis=0, return_inverse=True)
        index = index.ravel().astype(np.int64)
        counts = [len(chain.points) for chain in outline.chains]
        inner = np.ones(len(every), dtype=bool)
        inner[np.cumsum(counts) - 1] = False
        starts = np.flatnonzero(inner)
        owner = np.repeat(np.arange(len(counts)), [count - 1 for count in counts])
        doubt = np.maximum(LOCAL * np.array(outline.doubt), LEAST_NOISE)
        bulges = np.concatenate([chain.bulges for chain in outline.chains])
        return cls(outline, points, index[starts], index[starts + 1], bulges, owner, doubt[owner])

    def segments(self) -> Segments:
        """All segments as they stood."""
        return Segments(self.points[self.tails], self.points[self.heads], self.bulges)

    @property
    def is_line(self) -> NDArray[np.bool_]:
        """(s,) whether each segment is straight."""
        return np.asarray(self.bulges == 0.0)

    def after(self, segment: int) -> int | None:
        """The segment that follows on the same Chain; None at the end of one that is no ring."""
        own = np.flatnonzero(self.owner == self.owner[segment])
        at = segment - int(own[0]) + 1
        if at < len(own):
            return int(own[at])
        return int(own[0]) if self.outline.chains[int(self.owner[segment])].is_ring else None

    def outline_of(self, points: Floats, bulges: Floats) -> Outline:
        """The Outline with its joints and bulges there; what has not been moved keeps its last bit."""
        chains = []
        for index, chain in enumerate(self.outline.chains):
            own = np.flatnonzero(self.owner == index)
            joints = np.append(self.tails[own], self.heads[own[-1]])
            chains.append(Chain(points[joints], bulges[own], chain.left, chain.right))
        return Outline(tuple(chains), self.outline.faces, self.outline.doubt)
