"""The few flat colours of a picture: a palette, and for every pixel the one it belongs to."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.errors import BadShape
from core.findings import Finding
from core.picture.picture import locked

Palette = npt.NDArray[np.float64]
Labels = npt.NDArray[np.uint8]

#: Labels are one byte, and nobody cuts more films than this.
MOST_COLOURS = 64


@dataclass(frozen=True)
class ColourWish:
    """What the maker asks: how many colours, and which one is the ground (0..1 RGB); None: propose."""

    count: int | None = None
    ground: tuple[float, float, float] | None = None


@dataclass(frozen=True, eq=False)  # no ==: two arrays have no single truth value
class Colours:
    """palette (k, 3) float64 on the picture's scale, labels (h, w) uint8 into it, ground an index of it.

    Kept read-only; else BadShape. A label says which flat colour a pixel belongs to, the nearer of two at
    a soft edge. Findings have their place in picture px: x from the left edge, y up from the bottom edge.
    """

    palette: Palette
    labels: Labels
    ground: int
    findings: tuple[Finding, ...] = ()

    def __post_init__(self) -> None:
        palette, labels = locked(self.palette, np.float64), locked(self.labels, np.uint8)
        if palette.ndim != 2 or palette.shape[1] != 3 or not 1 <= len(palette) <= MOST_COLOURS:
            raise BadShape(f"palette {palette.shape}: not (1 to {MOST_COLOURS}, 3)")
        if labels.ndim != 2 or labels.size == 0 or int(labels.max()) >= len(palette):
            raise BadShape(f"labels {labels.shape} that a palette of {len(palette)} does not explain")
        if not 0 <= self.ground < len(palette):
            raise BadShape(f"ground {self.ground} of {len(palette)} colours")
        object.__setattr__(self, "palette", palette)
        object.__setattr__(self, "labels", labels)

    def __reduce__(self) -> tuple[type["Colours"], tuple[Any, ...]]:
        # An unpickled array can be written to again; going through the constructor locks it.
        return Colours, (self.palette, self.labels, self.ground, self.findings)
