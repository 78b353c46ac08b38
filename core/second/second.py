"""The second picture where it lies on the shape, and the films it gives."""

from dataclasses import dataclass, replace

import numpy as np

from core.findings import Finding, Point
from core.outline.curve import dot
from core.outline.faces import regions_of
from core.outline.outline import Outline
from core.outline.region import Regions
from core.outline.segments import Floats
from core.patches.patches import Patches
from core.patches.role import Role
from core.second.match import Match
from core.second.pose import Pose
from core.second.traced import along_sides


@dataclass(frozen=True, eq=False)
class Second:
    """outline is the second picture's, in the shape's mm; patches its roles; pose takes its px there.

    size is that of the picture, px.
    """

    match: Match
    pose: Pose
    outline: Outline
    patches: Patches
    size: tuple[int, int]

    def film_patch(self, name: str) -> Regions:
        """The Regions that a film comes from, before the face cuts them, in the shape's coordinates."""
        return regions_of(self.outline, self.patches.film_faces(name))

    def of(self, points: Floats) -> Floats:
        """(n, 2) px of the second picture, y up, in the shape's mm."""
        return self.pose.of(points)

    def cut_off(self, traced: Outline) -> Floats:
        """(n, 2) mm: where a film ends at a side of the second picture; traced is its Outline in px."""
        films = self.patches.faces_of((Role.FILM,))
        found = [np.empty((0, 2))]
        for chain in traced.chains:
            if (chain.left in films) == (chain.right in films):
                continue
            segments = chain.segments()
            ahead = (
                segments.chords()
                / np.maximum(np.sqrt(dot(segments.chords(), segments.chords())), 1e-9)[:, None]
            )
            middles = segments.midpoints()
            found.append(middles[along_sides(middles, ahead, self.size)])
        return self.of(np.vstack(found))


def moved(findings: tuple[Finding, ...], pose: Pose) -> tuple[Finding, ...]:
    """Findings of the second picture, told as such, their places in the shape's mm."""
    return tuple(
        replace(
            one,
            code=f"second-{one.code}",
            text=f"In the second picture: {_small(one.text)}",
            at=_placed(one.at, pose),
        )
        for one in findings
    )


def _small(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


def _placed(at: Point | None, pose: Pose) -> Point | None:
    if at is None:
        return None
    x, y = pose.of(np.array([at]))[0]
    return float(x), float(y)
