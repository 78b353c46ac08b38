"""Clamps as people type them."""

import pytest

from core.errors import BadValue
from core.job.on_stock import ClampPlace
from core.sheet.clamp import Clamp

KIND = ClampPlace()


@pytest.mark.parametrize(
    ("text", "clamp"),
    [
        ("10,80 box 20x40 high 12", Clamp((10, 80), (20, 40), 12)),
        ("10 mm, 80 mm  BOX 20 mm \u00d7 1 in high 1/2 in", Clamp((10, 80), (20, 25.4), 12.7)),
        ("-4,5 8,25 round 25 high 12,5", Clamp((-4.5, 8.25), (25, 25), 12.5, is_round=True)),
    ],
)
def test_a_clamp_is_read_and_written(text, clamp):
    assert KIND.read(text) == clamp
    assert KIND.read(KIND.written(clamp)) == clamp


@pytest.mark.parametrize(
    "text",
    [
        "",
        "10,80",
        "10,80 box 20 high 12",
        "10,80 box 20x40",
        "10 box 20x40 high 12",
        "10,80 box 0x40 high 12",
        "10,80 round 25 high -1",
        "10,80 round 9999 high 12",
        "6000,0 round 5 high 5",
    ],
)
def test_what_is_no_clamp_is_refused_in_words(text):
    with pytest.raises(BadValue):
        KIND.read(text)
