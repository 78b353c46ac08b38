"""The shared model: the planar partition of the picture into patches.

Two patches that touch share one Chain, not two similar ones. Part and films are unions of faces,
made by dropping the Chains that lie inside them, so whatever is made of neighbours still meets.
Ends of Chains that meet at a node are equal to the last bit, so nodes need no list of their own.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.chain import Chain

#: Index of the face beyond everything; it has no outer ring.
BEYOND = 0


@dataclass(frozen=True)
class Face:
    """One connected patch: the index of its colour, and a point well inside it, in the Outline's unit."""

    colour: int
    inside: tuple[float, float]


@dataclass(frozen=True, eq=False)
class Outline:
    """chains, and the faces they separate; faces[BEYOND] is the ground round everything. y points up.

    doubt (same length as chains) is the standard deviation expected of each Chain's place across itself,
    in the Outline's unit.
    """

    chains: tuple[Chain, ...]
    faces: tuple[Face, ...]
    doubt: tuple[float, ...]

    def mapped(self, scale: float, shift: tuple[float, float]) -> "Outline":
        """Scaled about the origin by scale > 0, then moved by shift; nothing is fitted again."""
        move = np.asarray(shift, dtype=np.float64)
        faces = tuple(
            Face(face.colour, (face.inside[0] * scale + shift[0], face.inside[1] * scale + shift[1]))
            for face in self.faces
        )
        return Outline(
            tuple(chain.mapped(scale, move) for chain in self.chains),
            faces,
            tuple(doubt * scale for doubt in self.doubt),
        )

    def neighbours(self, face: int) -> frozenset[int]:
        """The faces that share a Chain with this one."""
        sides = [(chain.left, chain.right) for chain in self.chains if face in (chain.left, chain.right)]
        return frozenset(side for pair in sides for side in pair) - {face}
