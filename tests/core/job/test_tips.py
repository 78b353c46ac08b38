"""Tips as they are typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadValue
from core.job.tips import PictureTip, TipInset

PX, MM = st.floats(0, 9_999).map(lambda x: round(x, 3)), st.floats(0, 20).map(lambda x: round(x, 3))


@given(st.builds(PictureTip, st.tuples(PX, PX), MM))
def test_a_tip_is_read_back_as_it_was_written(tip):
    assert TipInset().read(TipInset().written(tip)) == tip


@pytest.mark.parametrize("text", ["412,388 0.3 mm", "412,388 .3mm", " 412,388  0,3 mm", "412,388 0.3"])
def test_an_inset_may_be_written_in_many_ways(text):
    assert TipInset().read(text) == PictureTip((412.0, 388.0), 0.3)


@pytest.mark.parametrize(
    "text", ["", "412,388", "0.3 mm", "412,388 21 mm", "412,388 -1 mm", "412 388 0.3 mm"]
)
def test_what_is_no_tip_is_refused_in_words(text):
    with pytest.raises(BadValue, match=r"takes|is"):
        TipInset().read(text)
