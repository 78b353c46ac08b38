"""Flat art of known colours, drawn finely and scaled down so that its edges cover pixels by their share."""

import io
from dataclasses import dataclass

import cv2
import numpy as np
from PIL import Image

from core.picture.read import read_picture

FINE = 4
WHITE, BLACK, GREY = (1.0, 1.0, 1.0), (0.05, 0.05, 0.05), (0.5, 0.5, 0.5)
RED, GREEN, BLUE, SAND = (0.8, 0.15, 0.1), (0.2, 0.6, 0.3), (0.15, 0.25, 0.7), (0.9, 0.75, 0.5)


@dataclass
class Drawing:
    """A canvas of colour indices; every method paints over what is there and returns the drawing."""

    colours: list
    height: int = 300
    width: int = 260

    def __post_init__(self):
        self.fine = np.zeros((self.height * FINE, self.width * FINE), np.uint8)

    def disc(self, x, y, radius, colour):
        cv2.circle(self.fine, (round(x * FINE), round(y * FINE)), round(radius * FINE), colour, -1)
        return self

    def line(self, start, end, width, colour):
        ends = [tuple(round(value * FINE) for value in point) for point in (start, end)]
        cv2.line(self.fine, *ends, colour, round(width * FINE))
        return self

    def box(self, left, top, right, bottom, colour):
        edges = [round(value * FINE) for value in (left, top, right, bottom)]
        self.fine[edges[1] : edges[3], edges[0] : edges[2]] = colour
        return self

    def shares(self):
        """How much of each pixel each colour covers, (h, w, k)."""
        size = (self.width, self.height)
        layers = [(self.fine == index).astype(np.float32) for index in range(len(self.colours))]
        return np.stack([cv2.resize(layer, size, interpolation=cv2.INTER_AREA) for layer in layers], axis=2)

    def pixels(self, blur=0.0, noise=0.0):
        pixels = self.shares() @ np.array(self.colours, np.float32)
        if blur:
            pixels = cv2.GaussianBlur(pixels, (0, 0), blur)
        return pixels + np.random.default_rng(1).normal(0, noise / 255, pixels.shape)

    def picture(self, blur=0.0, noise=0.0, kind="PNG", **options):
        return as_picture(self.pixels(blur, noise), kind, **options)


def as_picture(pixels, kind="PNG", **options):
    levels = np.clip(np.round(np.asarray(pixels) * 255), 0, 255).astype(np.uint8)
    out = io.BytesIO()
    Image.fromarray(levels).save(out, kind, **options)
    return read_picture(out.getvalue(), "drawn")


def flat_art(colours):
    """Overlapping discs and a bar, so that every colour meets several others."""
    drawing = Drawing(list(colours))
    for index in range(1, len(colours)):
        angle = 2 * np.pi * index / (len(colours) - 1)
        drawing.disc(130 + 50 * np.cos(angle), 150 + 55 * np.sin(angle), 42, index)
    return drawing.box(60, 140, 200, 152, len(colours) - 1)
