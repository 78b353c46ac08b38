"""The samples of one chain as the search for pieces sees them: places, what each counts, and the measure."""

from dataclasses import dataclass, replace

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Ints


@dataclass(frozen=True, eq=False)
class Track:
    """places (n, 2) px in order, weight (n,) 0 to 1, step (n,) cracks, bend (n,) px per curvature.

    sigma is the noise of a sample of weight 1 in px; trim the samples left out at either end of a piece,
    because they feel its neighbour.
    """

    places: Floats
    weight: Floats
    step: Ints
    bend: Floats
    sigma: float
    trim: int

    def __len__(self) -> int:
        return len(self.step)

    def rolled(self, start: int) -> "Track":
        """A ring's samples from start all the way round to start again."""
        order = np.concatenate((np.arange(start, len(self)), np.arange(start + 1)))
        return replace(
            self,
            places=self.places[order],
            weight=self.weight[order],
            step=self.step[order],
            bend=self.bend[order],
        )


def trims(length: Ints, most: Ints | int) -> Ints:
    """Samples to leave out at either end of pieces that span length steps: fewer in short pieces."""
    return np.asarray(np.clip((length - 1) // 2, 0, most))
