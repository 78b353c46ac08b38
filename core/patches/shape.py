"""The shape at its physical size: scaled once, so that the part is exactly as high as asked.

Specks are judged in mm2, mm need the scale, and the scale needs to know what is part: so roles are
proposed without dropping anything, the scale that follows says what a speck is, and the scale is taken
again from what is left.
"""

from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace

import numpy as np

from core.errors import WrongCall
from core.findings import Finding, Point
from core.outline.loop import Bounds
from core.outline.outline import Outline
from core.outline.region import Regions
from core.patches.colour_names import Rgb
from core.patches.patches import Patches, RoleWishes, film_patch, part_of
from core.patches.roles import propose


@dataclass(frozen=True)
class Size:
    """How large the shape is: its height in mm, or mm per px of the Outline; one of the two is given."""

    height_mm: float | None = None
    px_mm: float | None = None


@dataclass(frozen=True, eq=False)
class Scaled:
    """An Outline in mm, the left and bottom of its part's box at the origin.

    A point p of the Outline it came from lies at p * scale + shift.
    """

    outline: Outline
    scale: float
    shift: Point


@dataclass(frozen=True, eq=False)
class Shape:
    """The Outline in mm, what becomes of its patches, and the part; findings have their place in mm.

    drawn is the part as the picture has it, size_mm its size; part has bridges or a base plate besides,
    where they are asked for. hanger: the middle of the hole that the part hangs by, in its coordinates.
    """

    outline: Outline
    patches: Patches
    drawn: Regions
    part: Regions
    size_mm: Point
    scale: float
    shift: Point
    hanger: Point | None = None

    def film_patch(self, name: str) -> Regions:
        """The Regions that a film comes from, before the face cuts them, in the shape's coordinates."""
        return film_patch(self.outline, self.patches, name)


def faces_box(outline: Outline, faces: AbstractSet[int]) -> Bounds:
    """x_min, y_min, x_max, y_max round the edge of these faces, bellies of arcs included.

    Raises WrongCall when they have no edge: then there is no part to give a height to.
    """
    edges = [chain for chain in outline.chains if (chain.left in faces) != (chain.right in faces)]
    if not edges:
        raise WrongCall(
            "Nothing in the picture is part: every patch is ground or a hole; give one the role film or bare."
        )
    reach = np.vstack([np.vstack((edge.points, edge.segments().turning_points())) for edge in edges])
    low, high = reach.min(axis=0), reach.max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def scaled_to(outline: Outline, faces: AbstractSet[int], size: Size) -> Scaled:
    """The Outline scaled so that the box of these faces has this size, its left bottom corner at 0, 0."""
    x_min, y_min, _, y_max = faces_box(outline, faces)
    scale = size.px_mm if size.px_mm is not None else (size.height_mm or 0.0) / (y_max - y_min)
    shift = (-x_min * scale, -y_min * scale)
    return Scaled(outline.mapped(scale, shift), scale, shift)


def shape_of(
    outline: Outline,
    palette: Sequence[Rgb],
    ground: int,
    wishes: RoleWishes,
    *,
    size: Size,
    smallest_mm2: float,
) -> Shape:
    """The shape that a traced Outline (picture px) becomes at this size (> 0).

    Raises WrongCall when nothing is part, BadValue for a film name that is no name.
    """
    whole = propose(outline, palette, ground, wishes)
    first = scaled_to(outline, whole.part_faces(), size)
    patches = propose(outline, palette, ground, wishes, smallest_mm2 / first.scale**2, first.scale)
    scaled = scaled_to(outline, patches.part_faces(), size)
    _, _, width, height = faces_box(scaled.outline, patches.part_faces())
    findings = moved_findings(patches.findings, scaled.scale, scaled.shift)
    part = part_of(scaled.outline, patches)
    return Shape(
        scaled.outline,
        replace(patches, findings=findings),
        part,
        part,
        (width, height),
        scaled.scale,
        scaled.shift,
    )


def with_findings(shape: Shape, in_px: tuple[Finding, ...]) -> Shape:
    """The shape with more to be said of it; places in px of the Outline it came from."""
    if not in_px:
        return shape
    seen = moved_findings(in_px, shape.scale, shape.shift)
    return replace(shape, patches=replace(shape.patches, findings=(*shape.patches.findings, *seen)))


def moved_findings(findings: tuple[Finding, ...], scale: float, shift: Point) -> tuple[Finding, ...]:
    """The same findings with their places scaled about the origin, then moved by shift."""
    return tuple(
        finding if finding.at is None else replace(finding, at=_moved(finding.at, scale, shift))
        for finding in findings
    )


def _moved(at: Point, scale: float, shift: Point) -> Point:
    return float(at[0] * scale + shift[0]), float(at[1] * scale + shift[1])
