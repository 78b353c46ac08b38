"""What is said of a part laid by sight edges: whether it fits them another way, for any number of strips."""

import pytest

from core.build import build
from core.job.job import Job, Source

PLATE = "M0 0h120v80h-120z"
#: Like nothing of itself, turned or turned over.
ODD = "M0 0L140 0L150 40L110 95L60 70L20 110L-15 60z"
#: Itself turned over alone.
KITE = "M50 0L100 60L50 150L0 60z"


def told(path, *, height):
    drawing = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-20 -5 180 160"><path d="{path}"/></svg>'
    job = Job().with_choice("shape.height", height).with_choice("fit.way", "edge")
    made = build(job, Source("plate.svg", drawing.encode()))
    ways = [one.text for one in made.findings if one.code == "sight-edge-ambiguous"]
    assert not [one for one in made.findings if one.code == "no-sight-edge"]
    return [way for way in ("turned by 180", "turned over") if any(way in text for text in ways)]


@pytest.mark.parametrize(
    ("path", "height", "ways"),
    [
        (PLATE, "80 mm", ["turned by 180", "turned over"]),
        (KITE, "150 mm", ["turned over"]),
        (ODD, "110 mm", []),
        (ODD, "150 mm", []),
    ],
)
def test_a_part_that_fits_its_strips_another_way_is_told_and_no_other(path, height, ways):
    assert told(path, height=height) == ways
