"""Weed lines as the proof reads them."""

import pytest

from core.proof.layers import NamedLayers
from core.proof.weeding import weed_findings
from tests.core.proof.claimed import box, circle, claims, layers, line


def told(*lines, count=None):
    film = {"name": "sky", "inset_mm": 1.0, "sheet_box_mm": [60.0, 40.0]}
    film["weed_lines"] = len(lines) if count is None else count
    drawn = layers(
        film_sky=[box(20, 10, 40, 30), box(25, 15, 35, 25)],
        marks=[circle((5, 5), 4.0)],
        weeding=[*lines, box(0, 0, 60, 40)],
    )
    return [one.code for one in weed_findings(NamedLayers("sky.svg", drawn), claims(films=[film]).films[0])]


@pytest.mark.parametrize(
    ("lines", "codes"),
    [
        ([line((0, 20), (17.9, 20)), line((42.1, 20), (60, 20))], []),
        ([line((0, 20), (18.1, 20))], ["weed-line-crosses"]),
        ([line((0, 20), (60, 20))], ["weed-line-crosses"]),
        ([line((27, 20), (33, 20))], ["weed-line-crosses"]),  # within an opening of the piece
        ([line((0, 8), (10, 8))], ["weed-line-crosses"]),
        ([line((-1, 35), (60, 35))], ["weed-line-crosses"]),
        ([], []),
    ],
)
def test_a_weed_line_that_comes_near_anything_kept_or_leaves_the_box_is_a_stop(lines, codes):
    assert told(*lines) == codes


def test_lines_that_are_not_as_many_as_stated_are_a_stop():
    assert told(line((0, 20), (10, 20)), count=0) == ["weed-lines-differ"]
    assert told(count=2) == ["weed-lines-differ"]
