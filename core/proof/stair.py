"""Steps of known depth, as the program's bytes leave them, against the depths that the report claims."""

from collections.abc import Sequence

from core.findings import Finding
from core.program.read.program import Program
from core.proof.claims import StepClaim
from core.proof.readback import breach
from core.proof.tabs_left import lowest_over

Pair = tuple[float, float]

#: mm; a program's last decimal twice, an inch's fifth at worst.
DEPTH_WITHIN = 1e-3
#: mm from the middle of a step to where its depth is read too: the rod of a depth gauge stands there.
ASIDE = 2.5


def stair_findings(
    path: str, program: Program, steps: Sequence[StepClaim], bit_mm: float, top: tuple[Pair, float]
) -> tuple[Finding, ...]:
    """A stop for each step that is not as deep as claimed, all over.

    top: where the program's zero is in the frame, and the z of the stock's top in the program, mm.
    """
    (zero_x, zero_y), top_z = top
    found = []
    for step in steps:
        x, y = step.at[0] - zero_x, step.at[1] - zero_y
        places = [(x + dx, y + dy) for dx in (-ASIDE, 0.0, ASIDE) for dy in (-ASIDE, 0.0, ASIDE)]
        depths = [top_z - lowest_over(program, bit_mm, place) for place in places]
        off = max(abs(depth - step.depth_mm) for depth in depths)
        if not off <= DEPTH_WITHIN:
            text = f"{path}: the step of {step.depth_mm:g} mm is {off:.3f} mm off somewhere."
            found.append(breach("step-differs", text, step.at))
    return tuple(found)
