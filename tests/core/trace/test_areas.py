"""Every face of the demo has the area of its pixels: no ring lies on the wrong side of itself."""

from pathlib import Path

import cv2
import numpy as np
import pytest

from core.cancel import NEVER
from core.outline.outline import BEYOND
from core.patches.specks import face_areas
from core.picture.colours import ColourWish, find_colours
from core.picture.read import read_picture
from core.trace.trace import trace

TURTLE = Path(__file__).parents[3] / "assets" / "demo" / "turtle.png"


@pytest.fixture(scope="module")
def colours():
    return find_colours(read_picture(TURTLE.read_bytes(), "turtle.png"), ColourWish())


def test_every_face_of_the_demo_has_the_area_of_its_pixels(colours):
    outline = trace(read_picture(TURTLE.read_bytes(), "turtle.png"), colours, NEVER)
    areas = face_areas(outline)
    height = colours.labels.shape[0]
    for index, face in enumerate(outline.faces):
        if index == BEYOND:
            continue
        own = (colours.labels == face.colour).astype(np.uint8)
        _, patches = cv2.connectedComponents(own, connectivity=4)
        x, y = face.inside
        patch = patches[int(height - y), int(x)] == patches
        edge = cv2.morphologyEx(patch.astype(np.uint8), cv2.MORPH_GRADIENT, np.ones((3, 3), np.uint8)).sum()
        assert areas[index] == pytest.approx(patch.sum(), abs=0.1 * edge), f"face {index} at {face.inside}"
