"""The gauge plate as artwork: one drawing, in mm, from which part and film are made like any other's."""

from core.gauge.plate import HOLE, HOLES_OFF, OPENING, PLATE

#: What the film of the gauge is called, and its colour.
FILM, COLOUR = "gauge", "#1f4e79"
GROUND = "#ffffff"
NAME = "gauge.svg"


def gauge_artwork() -> bytes:
    """The SVG: always the same bytes, by which a kit of a gauge is known."""
    width, depth = PLATE
    middle = (width / 2.0, depth / 2.0)
    corner = (middle[0] - OPENING[0] / 2.0, middle[1] - OPENING[1] / 2.0)
    holes = [
        _circle(middle[0] + side * HOLES_OFF[0], middle[1] + end * HOLES_OFF[1])
        for end in (-1.0, 1.0)
        for side in (-1.0, 1.0)
    ]
    path = " ".join([_box((0.0, 0.0), PLATE), _box(corner, OPENING), *holes])
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}mm" height="{depth:g}mm" '
        f'viewBox="0 0 {width:g} {depth:g}">\n'
        f'<path fill="{COLOUR}" fill-rule="evenodd" d="{path}"/>\n</svg>\n'
    ).encode()


def is_gauge(picture: bytes) -> bool:
    """Whether these are the bytes of the gauge's drawing."""
    return picture == gauge_artwork()


def _box(corner: tuple[float, float], size: tuple[float, float]) -> str:
    return f"M{corner[0]:g} {corner[1]:g}h{size[0]:g}v{size[1]:g}h{-size[0]:g}z"


def _circle(x: float, y: float) -> str:
    radius = HOLE / 2.0
    half = f"a{radius:g} {radius:g} 0 1 0"
    return f"M{x - radius:g} {y:g}{half} {HOLE:g} 0{half} {-HOLE:g} 0z"
