"""What each film's patch is, from the patches of the part drawing and what the report says was asked for."""

from collections.abc import Sequence
from dataclasses import replace

from shapely.geometry.base import BaseGeometry

from core.proof.claims import FilmClaim
from core.proof.edges import edge_distance
from core.proof.readback import EDGE_WITHIN, breach
from core.proof.rim import Asked, asked_patch

#: What the report calls a film of the whole face.
WHOLE = "whole face"


def asked_patches(
    patches: Sequence[BaseGeometry], part: BaseGeometry, films: Sequence[FilmClaim]
) -> tuple[Asked, ...]:
    """One for each film, in their order; part and patches as drawn."""
    made = []
    for place, (patch, film) in enumerate(zip(patches, films, strict=True)):
        others = [other for at, other in enumerate(patches) if at != place]
        asked = Asked(patch)
        if film.rim is not None:
            asked = asked_patch(film.name, patch, part, others, film.rim, film.inset_mm)
        made.append(_whole(asked, patch, part, film.name) if film.made_of == WHOLE else asked)
    return tuple(made)


def _whole(asked: Asked, patch: BaseGeometry, part: BaseGeometry, name: str) -> Asked:
    """With a stop where the film of the whole face does not come from the whole part."""
    off = edge_distance(patch, part)
    if off.max_mm <= EDGE_WITHIN:
        return asked
    text = f"The film {name} of the whole face comes from another area than the part."
    return replace(asked, findings=(*asked.findings, breach("face-differs", text, off.at)))
