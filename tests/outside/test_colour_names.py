"""Our table of colour names against the tables of two libraries that carry the same standard."""

import pytest
from PIL import ImageColor

from core.patches.colour_names import hex_of, keywords

pytestmark = pytest.mark.outside


def test_every_keyword_is_the_one_of_pillows_table():
    # Source: CSS Color Module Level 4, named colours, as Pillow's ImageColor carries them.
    ours = {name: hex_of(colour) for name, colour in keywords().items()}
    # Asked for one by one: the table itself is changed by whoever has asked before.
    theirs = {name: "#{:02x}{:02x}{:02x}".format(*ImageColor.getrgb(name)) for name in ImageColor.colormap}
    assert ours == theirs


def test_every_keyword_is_the_one_of_matplotlibs_table():
    # Source: the same, as matplotlib's colors.CSS4_COLORS carries it.
    colors = pytest.importorskip("matplotlib.colors")
    ours = {name: hex_of(colour) for name, colour in keywords().items()}
    assert ours == {name: value.lower() for name, value in colors.CSS4_COLORS.items()}
