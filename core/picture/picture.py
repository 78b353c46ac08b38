"""A picture as numbers: what the file says in every pixel, before anything is concluded from it."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from core.errors import BadShape

Pixels = npt.NDArray[np.float32]


def locked(values: npt.NDArray[Any], dtype: npt.DTypeLike) -> npt.NDArray[Any]:
    """Return the numbers as dtype, for nobody to write to: copied where the caller still could."""
    array = np.ascontiguousarray(values, dtype=dtype)
    if array is values and array.flags.writeable:
        array = array.copy()
    array.setflags(write=False)
    return array


@dataclass(frozen=True, eq=False)  # no ==: two arrays have no single truth value; digest tells pictures apart
class Picture:
    """Upright pixels with everything that was read from the file; kept read-only; else BadShape.

    pixels (h, w, 3) float32 in 0..1 on the file's own transfer curve, taken as sRGB's: row 0 at the top,
    pixel (row, column) covers that unit square. Where the file has transparency they are already laid
    over ``matte``, so that a soft edge of alpha is a soft edge between two colours. alpha (h, w) float32
    in 0..1, 0 transparent, or None; matte is None with it. name is the file's name for sentences, format
    its kind ("PNG"), digest the SHA-256 of its bytes in hexadecimal, notes what was done on the way in.
    reduced: a pixel is the mean of a block of so many of the file's on a side (reduce.py).
    """

    pixels: Pixels
    alpha: Pixels | None
    matte: tuple[float, float, float] | None
    name: str
    format: str
    digest: str
    notes: tuple[str, ...] = ()
    reduced: int = 1

    def __post_init__(self) -> None:
        pixels = locked(self.pixels, np.float32)
        if pixels.ndim != 3 or pixels.shape[2] != 3 or 0 in pixels.shape:
            raise BadShape(f"pixels {pixels.shape}: not (height, width, 3)")
        object.__setattr__(self, "pixels", pixels)
        if self.alpha is not None:
            alpha = locked(self.alpha, np.float32)
            if alpha.shape != pixels.shape[:2]:
                raise BadShape(f"alpha {alpha.shape} over pixels {pixels.shape}")
            object.__setattr__(self, "alpha", alpha)

    def __reduce__(self) -> tuple[type["Picture"], tuple[Any, ...]]:
        # An unpickled array can be written to again; going through the constructor locks it.
        fields = (self.pixels, self.alpha, self.matte, self.name, self.format, self.digest, self.notes)
        return Picture, (*fields, self.reduced)

    @property
    def source_size(self) -> tuple[int, int]:
        """Width and height of the upright source, px; up to a block less than the file's."""
        return self.width * self.reduced, self.height * self.reduced

    @property
    def width(self) -> int:
        """Columns, px."""
        return int(self.pixels.shape[1])

    @property
    def height(self) -> int:
        """Rows, px."""
        return int(self.pixels.shape[0])
