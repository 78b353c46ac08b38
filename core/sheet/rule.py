"""The numbers of the fit in its frame: how large the marks are and how far they keep from everything.

All in mm; common practice, no source, unless said otherwise. They suit bits of 1 to 3.175 mm and 5 mm pins.
"""

from dataclasses import dataclass
from enum import StrEnum

#: Every mark, part and mirror line stands on this grid: exact in every format, the plotter's too.
GRID_MM = 0.5
#: Wall that stays between a mark's hole and the slot round the part, and the same as a share of thickness.
LEAST_WALL_MM, WALL_OF_THICKNESS = 4.0, 1.3
#: Wall that stays between a mark's hole and the stock's edge, and the same as a share of thickness.
LEAST_EDGE_WALL_MM, EDGE_WALL_OF_THICKNESS = 6.0, 2.0
#: Frame that stays round the part where no hinge is: enough to lift it by without breaking.
LEAST_FRAME_MM, FRAME_BEYOND_SLOT_MM = 8.0, 6.0
#: A longer sheet gets a fourth mark: film stretches in proportion.
FOURTH_MARK_ABOVE_MM = 250.0


class FitWay(StrEnum):
    """How film and part are brought together."""

    FRAME = "frame"
    EDGE = "edge"
    NEST = "nest"
    SHEET = "sheet"


@dataclass(frozen=True)
class FitRule:
    """Bores and film marks by diameter, the strip kept for the tape hinge, and the way of fitting.

    In its frame, marks are bored; film on the sheet has dots to be jogged over; round a loose part there
    are no marks on the sheet: sight edges are found when tabs are, pins of a nest stand in its board.
    """

    hole_mm: float = 5.0
    key_mm: float = 7.0
    dot_mm: float = 4.0
    key_dot_mm: float = 6.0
    ring_mm: float = 5.0
    hinge_mm: float = 25.0
    way: FitWay = FitWay.FRAME
    board_mm: float = 6.0

    @property
    def is_film_first(self) -> bool:
        """Whether film goes on the sheet before it is cut."""
        return self.way is FitWay.SHEET

    @property
    def marks_the_sheet(self) -> bool:
        """Whether marks lie on the sheet that the part is cut from."""
        return self.way in {FitWay.FRAME, FitWay.SHEET}

    def bore(self, *, is_key: bool) -> float:
        """Diameter bored through the stock."""
        return self.key_mm if is_key else self.hole_mm

    def film_diameter(self, *, is_key: bool, is_clear: bool) -> float:
        """Clear stock: a dot that hangs in the hole; else a ring that a hollow punch follows."""
        if not is_clear and not self.is_film_first:
            return self.ring_mm
        return self.key_dot_mm if is_key else self.dot_mm


@dataclass(frozen=True)
class Clearances:
    """What the rules come to for one bit and sheet."""

    rule: FitRule
    bit_mm: float
    thickness_mm: float

    def to_part(self, *, is_key: bool) -> float:
        """From a mark's centre to the as-cut edge."""
        wall = max(LEAST_WALL_MM, WALL_OF_THICKNESS * self.thickness_mm)
        return self.rule.bore(is_key=is_key) / 2.0 + self.bit_mm + wall

    def to_edge(self, *, is_key: bool) -> float:
        """From a mark's centre to the stock's edge."""
        wall = max(LEAST_EDGE_WALL_MM, EDGE_WALL_OF_THICKNESS * self.thickness_mm)
        return self.rule.bore(is_key=is_key) / 2.0 + wall

    def to_hinged_edge(self, *, is_key: bool) -> float:
        """From a mark's centre to the edge along which the hinge is taped."""
        hinge = self.rule.hinge_mm + self.rule.bore(is_key=is_key) / 2.0
        return max(hinge, self.to_edge(is_key=is_key))

    def frame(self) -> float:
        """From the part to the stock's edge."""
        return max(LEAST_FRAME_MM, self.bit_mm + FRAME_BEYOND_SLOT_MM)

    def hinged_frame(self) -> float:
        """From the part to the edge along which the hinge is taped: the strip is clear of the slot."""
        return max(self.rule.hinge_mm + self.bit_mm, self.frame())
