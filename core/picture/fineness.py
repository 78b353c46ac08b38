"""What a picture is too coarse or too pale for: said in numbers, before anything is cut from it."""

import numpy as np
import numpy.typing as npt

from core.findings import Finding, Level
from core.picture.oklab import Floats

#: mm; a pixel larger than this hides what a film or a bit can still make: two and a half of them are 1.25 mm.
LARGEST_PX = 0.5
#: mm; an edge less certain than this shows where film and part meet (common practice, no source).
LARGEST_DOUBT = 0.1
#: Pixels across that a stroke or a gap needs to be found as one.
NARROWEST = 2.5
#: Grey levels of 255 between two colours below which noise that nobody sees moves their edge, and how many
#: times the range of the noise in a flat place it must be.
LEAST_CONTRAST, TIMES_NOISE = 40.0, 1.5


def coarse(px_mm: float, doubt_mm: float) -> tuple[Finding, ...]:
    """A caution where a picture is small for its size: mm a pixel, and the deviation of edges to expect."""
    if px_mm <= LARGEST_PX and doubt_mm <= LARGEST_DOUBT:
        return ()
    text = (
        f"A pixel of the picture is {px_mm:.2f} mm at this height: expect edges to be off by about "
        f"{doubt_mm:.2f} mm, and what is narrower than {NARROWEST * px_mm:.1f} mm to be lost."
    )
    return (
        Finding(
            Level.CAUTION, "picture-coarse", text, "Use a larger or sharper picture, or a smaller height."
        ),
    )


def good_to(height_mm: float, px_mm: float, doubt_mm: float) -> float:
    """The largest height, mm, at which a picture that is no drawing is still fine enough for its size."""
    return height_mm * min(LARGEST_PX / px_mm, LARGEST_DOUBT / doubt_mm if doubt_mm > 0.0 else np.inf)


def pale(palette: Floats, beside: tuple[tuple[int, int], ...], noise_levels: int) -> tuple[Finding, ...]:
    """A note on the two colours that lie beside each other and differ least, where that is too little.

    palette (k, 3) in 0..1, beside pairs of indices, noise_levels the range of a flat place in grey levels.
    """
    differ = [(contrast(palette, one, other), one, other) for one, other in beside]
    levels, one, other = min(differ, default=(np.inf, 0, 0))
    if levels >= enough(noise_levels):
        return ()
    names = (_hex(palette[one]), _hex(palette[other]))
    text = f"{names[0]} and {names[1]} differ by {levels:.0f} levels of 255 only: their edge is less certain."
    return (
        Finding(Level.NOTE, "low-contrast", text, "Photograph it in better light, or darken one of them."),
    )


def contrast(palette: Floats, one: int, other: int) -> float:
    """Grey levels of 255 by which two colours differ in the channel where they differ most."""
    return float(255.0 * np.abs(palette[one] - palette[other]).max())


def enough(noise_levels: int) -> float:
    """Grey levels of contrast that an edge should have."""
    return max(LEAST_CONTRAST, TIMES_NOISE * noise_levels)


def _hex(colour: Floats) -> str:
    red, green, blue = (int(value) for value in np.clip(np.round(colour * 255.0), 0, 255))
    return f"#{red:02x}{green:02x}{blue:02x}"


def touching_pairs(labels: npt.NDArray[np.uint8], count: int, least: int) -> tuple[tuple[int, int], ...]:
    """The pairs of labels (h, w) that lie side by side in at least so many places, each pair once."""
    codes = [
        np.minimum(one, other).astype(np.uint16) * np.uint16(count) + np.maximum(one, other)
        for one, other in ((labels[:, :-1], labels[:, 1:]), (labels[:-1], labels[1:]))
    ]
    places = sum(np.bincount(code.ravel(), minlength=count * count) for code in codes)
    pairs = (divmod(int(code), count) for code in np.flatnonzero(np.asarray(places) >= least))
    return tuple((one, other) for one, other in pairs if one != other)
