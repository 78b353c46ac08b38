"""Pictures that are not ours: each gives colours or one sentence, never a crash."""

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from core.errors import UnreadableFile
from core.picture.colours import ColourWish, find_colours
from core.picture.read import read_picture

pytestmark = pytest.mark.outside

#: Names of functions in skimage.data, scikit-image (BSD-3); none of them downloads anything.
FROM_SKIMAGE = ("horse", "coins", "page", "text", "clock", "logo", "chelsea", "rocket", "retina")
#: Files in matplotlib's sample_data.
FROM_MATPLOTLIB = ("logo2.png", "grace_hopper.jpg")
PHOTOGRAPHS = {"coins", "page", "clock", "chelsea", "rocket", "retina", "grace_hopper.jpg"}


def of_skimage(name):
    import skimage.data  # noqa: PLC0415 - slow to import, needed only here

    pixels = getattr(skimage.data, name)()
    out = io.BytesIO()
    Image.fromarray(pixels if pixels.dtype != bool else pixels.astype(np.uint8) * 255).save(out, "PNG")
    return out.getvalue()


def of_matplotlib(name):
    import matplotlib as mpl  # noqa: PLC0415 - slow to import, needed only here

    return (Path(mpl.get_data_path()) / "sample_data" / name).read_bytes()


@pytest.mark.parametrize("name", FROM_SKIMAGE + FROM_MATPLOTLIB)
def test_a_picture_not_made_by_us_gives_colours_or_one_sentence(name):
    data = of_skimage(name) if name in FROM_SKIMAGE else of_matplotlib(name)
    try:
        picture = read_picture(data, name)
        colours = find_colours(picture, ColourWish())
    except UnreadableFile as refused:
        assert str(refused).endswith(".")  # noqa: PT017 - either outcome is right
        return
    assert colours.labels.shape == (picture.height, picture.width)
    assert 2 <= len(colours.palette) <= 12
    codes = {finding.code for finding in colours.findings}
    assert ("photograph" in codes) == (name in PHOTOGRAPHS | {"text"})


def test_the_horse_is_black_on_white_paper():
    colours = find_colours(read_picture(of_skimage("horse"), "horse"), ColourWish())
    np.testing.assert_allclose(colours.palette[colours.ground], 1.0, atol=0.01)
    share = np.mean(colours.labels != colours.ground)
    assert 0.2 < share < 0.5


def test_a_logo_keeps_what_is_transparent_as_its_ground():
    picture = read_picture(of_matplotlib("logo2.png"), "logo2.png")
    colours = find_colours(picture, ColourWish())
    assert picture.alpha is not None
    agrees = (colours.labels == colours.ground) == (picture.alpha < 0.5)
    assert agrees[picture.alpha < 0.2].mean() > 0.99
