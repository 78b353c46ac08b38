"""Every kind of picture as near as is asked: one shape each, or with --whole all of them at two sizes."""

import numpy as np
import pytest

from tests.support import drawn as d
from tests.support.inputs import OF_FOUR, ROWS
from tests.support.score import score

#: What a single picture may reach, over the limit of the median.
SINGLE = 3.0

#: px of height; shapes that are many short pieces are left to the whole campaign.
SIZES = (300, 600)
QUICK = (1, 2, 3, 4, 7)

#: Known to be over what is asked of a median: white cannot overshoot, so compressed dark colours seem larger.
WORSE_KNOWN = {(f"four, jpeg {quality}", column) for quality in (60, 30) for column in ("bias", "area")}

COLUMNS = ("rms", "greatest_off_corners", "corner", "wobble")


@pytest.mark.parametrize(("at", "name"), list(enumerate([*ROWS, *OF_FOUR])))
def test_one_picture_of_every_kind_is_within_three_times_what_is_asked_of_the_median(at, name):
    row = ROWS.get(name) or OF_FOUR[name]
    shape = d.shapes(300)[QUICK[at % len(QUICK)]] if name in ROWS else (d.pie(300), d.flag(300))[at % 2]
    found = score(row.traced(shape), shape)
    for column in COLUMNS:
        if (name, column) not in WORSE_KNOWN:
            assert getattr(found, column) <= SINGLE * getattr(row.limits, column), column
    if (name, "pieces") not in WORSE_KNOWN:
        assert found.pieces <= 1.0 + SINGLE * (row.limits.pieces - 1.0)


@pytest.mark.whole
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", [*ROWS, *OF_FOUR])
def test_the_median_over_shapes_is_what_is_asked(name, size):
    row = ROWS.get(name) or OF_FOUR[name]
    shapes = d.shapes(size) if name in ROWS else (d.pie(size), d.flag(size))
    if name == "1-bit":
        shapes = tuple(shape for shape in shapes if shape.name != "upright box")
    found = [score(row.traced(shape), shape) for shape in shapes]
    for column in (*COLUMNS, "pieces", "bias", "area"):
        if (name, column) in WORSE_KNOWN:
            continue
        median = abs(float(np.median([getattr(one, column) for one in found])))
        assert median <= getattr(row.limits, column), column
