"""What was done to a film by hand, so that its report can say it and the proof can look for it."""

from dataclasses import dataclass

from core.decal.fine import MovedEdge
from core.decal.islands import Bridge, FilledOpening


@dataclass(frozen=True)
class ByHand:
    """Bridges that join pieces, openings that were filled, strokes and gaps that were made wider."""

    bridges: tuple[Bridge, ...] = ()
    filled: tuple[FilledOpening, ...] = ()
    moved: tuple[MovedEdge, ...] = ()


UNTOUCHED = ByHand()
