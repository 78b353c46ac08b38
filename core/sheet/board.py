"""The waste board of a nest: where it lies round the part, and how deep its pocket and its holes are."""

from dataclasses import dataclass

from core.findings import Finding, Level, Point

#: mm that a part stands out of its pocket, to be faced and lifted; a thin one half its thickness.
PROUD_MM = 1.0
#: mm: blind holes for the pins that carry the film.
MARK_DEPTH_MM = 4.0
#: mm of board that stays below pocket and holes.
LEAST_FLOOR_MM = 1.0


@dataclass(frozen=True)
class Board:
    """at: its left near corner in the frame, which is the zero of its program too; sizes in mm."""

    at: Point
    width_mm: float
    depth_mm: float
    thickness_mm: float


def pocket_depth(thickness_mm: float) -> float:
    """How deep the pocket for a part so thick is, mm."""
    return max(thickness_mm - PROUD_MM, thickness_mm / 2.0)


def board_findings(board: Board, thickness_mm: float) -> tuple[Finding, ...]:
    """A stop when the board is too thin for the pocket or the pins."""
    needed = max(pocket_depth(thickness_mm), MARK_DEPTH_MM) + LEAST_FLOOR_MM
    if board.thickness_mm >= needed:
        return ()
    text = (
        f"The board for the nest is {board.thickness_mm:g} mm thick, and {needed:.1f} mm are needed for "
        "pocket and pins."
    )
    return (Finding(Level.STOP, "board-too-thin", text, f"Take a board of {needed:.1f} mm or more."),)
