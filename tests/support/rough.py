"""Pictures without lines and arcs behind them: soft hills of colour, grain, and edges of fur."""

import cv2
import numpy as np

from core.picture.colours import Colours
from core.picture.picture import Picture
from tests.support.drawn import BLACK_ON_WHITE, colours_of, picture_of


def hills(seed: int, side: int = 34) -> tuple[Picture, Colours]:
    """Labels of smooth random fields; the pixels blurred, grainy, or both."""
    rng = np.random.default_rng(seed)
    fields = [cv2.GaussianBlur(rng.normal(size=(side, side + 5)), (0, 0), 2.0) for _ in range(3)]
    labels = np.argmax(np.stack(fields), axis=0).astype(np.uint8)
    palette = rng.random((3, 3))
    pixels = palette[labels]
    if seed % 3:
        pixels = cv2.GaussianBlur(pixels, (0, 0), 1.0)
    if seed % 2:
        pixels = np.clip(pixels + rng.normal(0, 0.06, pixels.shape), 0, 1)
    return picture_of(pixels), Colours(palette, labels, 0)


def fur(side: int = 80) -> tuple[Picture, Colours]:
    """A disc with an edge of teeth and fur, as the outline of an animal in a photograph has it."""
    rng = np.random.default_rng(3)
    y, x = np.mgrid[:side, :side] - side / 2.0
    coarse = cv2.GaussianBlur(rng.normal(size=(side, side)), (0, 0), 1.2)
    grey = cv2.GaussianBlur(
        (np.hypot(x, y) + 9.0 * coarse / coarse.std() < side / 3).astype(float), (0, 0), 0.7
    )
    pixels = np.repeat(1.0 - grey[..., None], 3, axis=2)
    return picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE)
