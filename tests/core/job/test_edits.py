"""Touch-ups and corners as they are typed."""

import pytest

from core.errors import BadValue
from core.job.edits import CornerMade, TouchUp
from core.touch.edit import Corner, Touch, Way


@pytest.mark.parametrize(
    ("text", "value", "written"),
    [
        ("rub 412,388 6", Touch(Way.RUB, (412.0, 388.0), None, 6.0), "rub 412,388 6"),
        ("Rub 412.5,388 6.5 px", Touch(Way.RUB, (412.5, 388.0), None, 6.5), "rub 412.5,388 6.5"),
        ("fill 4,8", Touch(Way.FILL, (4.0, 8.0)), "fill 4,8"),
        ("bridge 1,2  3,4 5", Touch(Way.BRIDGE, (1.0, 2.0), (3.0, 4.0), 5.0), "bridge 1,2 3,4 5"),
        ("part 1,2 3,4 2,5", Touch(Way.PART, (1.0, 2.0), (3.0, 4.0), 2.5), "part 1,2 3,4 2.5"),
    ],
)
def test_a_touch_up_is_read_and_written(text, value, written):
    assert TouchUp().read(text) == value
    assert TouchUp().written(value) == written
    assert TouchUp().read(written) == value


@pytest.mark.parametrize(
    ("text", "value", "written"),
    [
        ("sharp 412,388", Corner((412.0, 388.0)), "sharp 412,388"),
        ("round 412,388 3 mm", Corner((412.0, 388.0), 3.0, is_mm=True), "round 412,388 3 mm"),
        ("round 412,388 3", Corner((412.0, 388.0), 3.0, is_mm=True), "round 412,388 3 mm"),
        ("ROUND 412,388 9px", Corner((412.0, 388.0), 9.0), "round 412,388 9 px"),
        ("round 1,2 1/4 in", Corner((1.0, 2.0), 6.35, is_mm=True), "round 1,2 6.35 mm"),
    ],
)
def test_a_corner_is_read_and_written(text, value, written):
    assert CornerMade().read(text) == value
    assert CornerMade().written(value) == written
    assert CornerMade().read(written) == value


@pytest.mark.parametrize(
    "text",
    ["", "rub", "rub 1,2", "rub 1,2 0", "rub 1,2 x", "fill 1,2 3", "fill", "bridge 1,2 3", "bridge 1,2 1,2 3",
     "smudge 1,2 3", "rub 1,2 99999"],
)  # fmt: skip
def test_what_is_no_touch_up_is_refused_with_the_forms(text):
    with pytest.raises(BadValue, match=r"rub|pixels|point"):
        TouchUp().read(text)


@pytest.mark.parametrize(
    "text", ["", "sharp", "sharp 1,2 3", "round 1,2", "round 1,2 0 mm", "blunt 1,2", "round 3 mm"]
)
def test_what_is_no_corner_is_refused(text):
    with pytest.raises(BadValue):
        CornerMade().read(text)
