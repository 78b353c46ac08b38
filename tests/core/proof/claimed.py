"""Reports and layers for tests of the proof: a square part of 40 x 20 with one film, and its marks."""

from math import pi

import numpy as np

from core.proof.layers import Contour, Layers
from core.proof.read_claims import claims_of

MARKS = ((5.0, 5.0), (55.0, 5.0), (5.0, 35.0))


def report(**changes):
    """A report of the square; a change names a field of the top or, with __, one below it."""
    values = {
        "report": 1,
        "height_mm": 20.0,
        "width_mm": 40.0,
        "frame": {"zero_at": [0.0, 0.0], "z_zero": "stock top", "mirror_x": None},
        "marks": [{"at": list(at), "diameter_mm": 3.5, "film_diameter_mm": 3.0} for at in MARKS],
        "stock": {
            "width_mm": 60.0,
            "depth_mm": 40.0,
            "thickness_mm": 3.0,
            "masking_top_mm": 0.1,
            "masking_bottom_mm": 0.2,
        },
        "machine": {
            "travel_mm": [300.0, 200.0, 50.0],
            "spindle": "program",
            "spin_up_s": 5.0,
            "dwell_unit": "s",
        },
        "program": {
            "bit_mm": 2.0,
            "safe_z_mm": 5.0,
            "bottom_z_mm": -3.3,
            "tabs": [{"at": [30.0, 10.0], "neck_mm": 3.0, "wall_mm": 5.0, "height_mm": 0.8}],
            "feed_mm_min": 400.0,
            "plunge_mm_min": 100.0,
            "spindle_rpm": 10000.0,
        },
        "films": [{"name": "sky", "inset_mm": 1.0, "sheet_box_mm": [50.0, 30.0]}],
        "files": [
            {"role": "part-drawing", "format": "svg", "path": "part.svg", "sha256": ""},
            {"role": "film-drawing", "format": "svg", "path": "sky.svg", "sha256": "", "film": "sky"},
        ],
    }
    for key, value in changes.items():
        *groups, name = key.split("__")
        inner = values
        for group in groups:
            inner = inner[group]
        inner[name] = value
    return values


def claims(**changes):
    """What such a report claims."""
    return claims_of(report(**changes))


def box(x_min, y_min, x_max, y_max):
    """A closed contour of straight lines."""
    corners = [[x_min, y_min], [x_max, y_min], [x_max, y_max], [x_min, y_max]]
    return Contour(np.array(corners, float), np.zeros(4), is_closed=True)


def circle(at, diameter):
    """A closed contour of two half turns."""
    ends = np.add(at, [[diameter / 2.0, 0.0], [-diameter / 2.0, 0.0]])
    return Contour(ends, np.ones(2), is_closed=True)


def line(*points):
    """An open contour of straight lines."""
    return Contour(np.array(points, float), np.zeros(len(points) - 1), is_closed=False)


def layers(**contours):
    """Layers by name, with _ for -."""
    return Layers({name.replace("_", "-"): tuple(each) for name, each in contours.items()})


def svg(turn="", **groups):
    """An SVG of 60 x 40 mm with path data by group; turn is a transform of it all."""
    bodies = []
    for name, shapes in groups.items():
        inner = "".join(f'<path d="{shape}"/>' for shape in shapes)
        bodies.append(f'<g id="{name.replace("_", "-")}">{inner}</g>')
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 -40 60 40">'
        f'<g transform="{turn}">{"".join(bodies)}</g></svg>'
    ).encode()


def box_path(x_min, y_min, x_max, y_max):
    """The path data of a box in the frame."""
    return f"M{x_min} {-y_min}L{x_max} {-y_min}L{x_max} {-y_max}L{x_min} {-y_max}Z"


def circle_path(at, diameter):
    """The path data of a circle in the frame."""
    r = diameter / 2.0
    x, y = at[0], -at[1]
    return f"M{x + r} {y}A{r} {r} 0 0 0 {x - r} {y}A{r} {r} 0 0 0 {x + r} {y}Z"


def disc_area(diameter):
    """Area of a circle, mm2."""
    return pi * diameter**2 / 4.0
