"""A film: one colour of vinyl as the cutter will cut it."""

from dataclasses import dataclass

from core.decal.by_hand import UNTOUCHED, ByHand
from core.decal.left_out import DroppedPiece
from core.decal.rim_runs import RimRun
from core.findings import Point
from core.outline.region import Regions
from core.patches.bridges import Bridge


@dataclass(frozen=True, eq=False)
class FilmSource:
    """What a film is made from: its name, "#rrggbb", and its patches' Regions in the frame, mm."""

    name: str
    colour: str
    patch: Regions


@dataclass(frozen=True)
class Stencil:
    """Bridges to islands, how wide they were asked for (mm, 0 for none), and islands that none hold."""

    bridge_mm: float = 0.0
    bridges: tuple[Bridge, ...] = ()
    loose: tuple[Point, ...] = ()


@dataclass(frozen=True, eq=False)
class Film:
    """regions in the frame, mm, seen from the front; smallest_width_mm is that of its narrowest piece.

    dropped: the pieces that were left out of it; done: what else was done to it by hand; rim: its runs along
    the part's edge, moved or not; stencil: where it is its patch's negative.
    """

    name: str
    colour: str
    regions: Regions
    inset_mm: float
    smallest_width_mm: float
    dropped: tuple[DroppedPiece, ...] = ()
    done: ByHand = UNTOUCHED
    rim: tuple[RimRun, ...] = ()
    stencil: Stencil | None = None

    @property
    def pieces(self) -> int:
        """How many separate areas there are to weed."""
        return len(self.regions)

    def area(self) -> float:
        """The film's own area, mm2, openings taken off."""
        return sum(region.area() for region in self.regions)


@dataclass(frozen=True)
class Excepted:
    """A place where film or edge differs from the outline on purpose, and the length of edge concerned.

    why is one of the report's words: "tip", "unreached", later "rounded", "overlap" and others.
    """

    at: Point
    why: str
    size_mm: float
