"""A shape whose parts do not touch: left as several, joined by bridges, or set on a base plate.

What is added is part without film: the films keep to their patches. The size stays that of the traced
shape, whatever is added round it.
"""

from dataclasses import dataclass, replace
from enum import StrEnum

from core.findings import Finding, Level
from core.outline.boolean import difference, union
from core.outline.faces import regions_of
from core.outline.region import Region, Regions, bounds_of
from core.patches.base import base_round
from core.patches.bridges import Bridge, bridges_between, with_feet
from core.patches.shape import Shape
from core.patches.thin import narrow_findings


class Pieces(StrEnum):
    """What becomes of parts that do not touch."""

    SEVERAL = "several"
    BRIDGED = "bridged"
    BASED = "based"


@dataclass(frozen=True)
class PiecesWish:
    """mm: how wide bridges are, how round their feet, and how far a base plate stands out."""

    way: Pieces
    bridge_mm: float
    foot_mm: float
    margin_mm: float


def joined(shape: Shape, wish: PiecesWish) -> Shape:
    """The shape with its parts joined as asked, and where it is too narrow; the very same if neither."""
    made = _joined(shape, wish)
    thin = narrow_findings(made.part)
    return _with_part(made, made.part, thin) if thin else made


def _joined(shape: Shape, wish: PiecesWish) -> Shape:
    if wish.way is Pieces.BASED:
        return _based(shape, wish)
    if wish.way is Pieces.BRIDGED and len(shape.part) > 1:
        return _bridged(shape, wish)
    return shape


def _bridged(shape: Shape, wish: PiecesWish) -> Shape:
    bridges = bridges_between(shape.part, wish.bridge_mm)
    part = shape.part
    for bridge in bridges:
        part = with_feet(union(part, (bridge.bar(),)), bridge, wish.foot_mm)
    return _with_part(shape, part, tuple(map(_bridge_told, bridges)))


def _bridge_told(bridge: Bridge) -> Finding:
    if bridge.is_sound:
        return Finding(
            Level.NOTE,
            "bridge",
            f"A bridge {bridge.width_mm:g} mm wide and {bridge.gap_mm:.2f} mm long joins two pieces here.",
            "Look whether it may be there; bridge the gap in the picture to have it elsewhere.",
            bridge.middle,
        )
    return Finding(
        Level.CAUTION,
        "bridge-weak",
        f"No place takes a bridge {bridge.width_mm:g} mm wide whole: this one stands on narrower ground.",
        "Make bridges narrower, bridge the gap in the picture, or set the pieces on a base plate.",
        bridge.middle,
    )


def _based(shape: Shape, wish: PiecesWish) -> Shape:
    """On a plate without openings but for those that were asked for."""
    solid = tuple(Region(region.outer) for region in shape.part)
    base = base_round(solid, wish.margin_mm, wish.bridge_mm)
    through = shape.patches.through_faces()
    if through:
        base = difference(base, regions_of(shape.outline, through))
    x_min, y_min, x_max, y_max = bounds_of(region.outer for region in base)
    told = Finding(
        Level.NOTE,
        "base-plate",
        f"The base plate makes the part {x_max - x_min:.2f} mm wide and {y_max - y_min:.2f} mm high. "
        f"The height of {shape.size_mm[1]:g} mm is that of the drawn shape on it.",
        "Take the plate's margin off the height if the whole part is to be as high.",
    )
    return _with_part(shape, base, (told,))


def _with_part(shape: Shape, part: Regions, told: tuple[Finding, ...]) -> Shape:
    patches = replace(shape.patches, findings=(*shape.patches.findings, *told))
    return replace(shape, part=part, patches=patches)
