"""Hue that pairs of pixels share: seen in what a decoder gives, and imitated as it gives it."""

import io

import numpy as np
import pytest
from PIL import Image

from core.trace.hue import BANDS, Pairs, pairs_in, thinned
from tests.support import drawn as d

#: Pillow's numbers for a JPEG's hue: for every pixel, for pairs along rows, for pairs both ways.
EVERY, ALONG, BOTH = 0, 1, 2


def as_jpeg(pixels, quality, subsampling):
    out = io.BytesIO()
    whole = np.rint(pixels * 255.0).astype(np.uint8)
    Image.fromarray(whole).save(out, "JPEG", quality=quality, subsampling=subsampling)
    return np.asarray(Image.open(out).convert("RGB"), np.float32) / 255.0


@pytest.mark.parametrize("quality", [30, 60, 90])
@pytest.mark.parametrize("palette", [d.FOUR, d.BLUE_ON_BEIGE], ids=["four", "two"])
def test_pairs_are_seen_wherever_the_picture_was_cropped(quality, palette):
    shape = d.flag(300) if len(palette) > 2 else d.shapes(300)[3]
    pixels = as_jpeg(d.drawn(shape, palette), quality, BOTH)
    assert pairs_in(pixels) == Pairs(0, 0)
    assert pairs_in(pixels[1:, 2:]) == Pairs(1, 0)
    assert pairs_in(pixels[:, 1:]) == Pairs(0, 1)


def test_pairs_along_rows_alone_are_told_from_pairs_both_ways():
    assert pairs_in(as_jpeg(d.drawn(d.flag(300), d.FOUR), 60, ALONG)) == Pairs(None, 0)


@pytest.mark.parametrize(
    "spoil",
    [d.eight_bit, d.blurred(1.0), d.blurred(2.0), d.noisy(5), lambda whole: as_jpeg(whole, 60, EVERY)],
    ids=["clean", "blur 1", "blur 2", "noise", "jpeg with all its hue"],
)
def test_no_pairs_are_seen_where_every_pixel_has_its_own_hue(spoil):
    assert not pairs_in(spoil(d.drawn(d.flag(300), d.FOUR)).astype(np.float32))


def test_thinned_hue_reads_as_a_decoder_shows_it():
    pixels = np.clip(d.drawn(d.flag(121), d.FOUR) * 0.6 + 0.2, 0.0, 1.0).astype(np.float32)
    shown = as_jpeg(pixels, 100, BOTH)
    found = thinned(pixels, Pairs(0, 0))
    # Rounding of lightness, hue and colours, one after the other: about a grey level.
    assert np.sqrt(np.mean((found - shown) ** 2)) < 1.2 / 255.0
    assert np.sqrt(np.mean((pixels - shown) ** 2)) > 2.5 / 255.0


def test_thinning_keeps_lightness_and_even_colours():
    pixels = np.clip(d.drawn(d.pie(101), d.FOUR) * 0.3 + 0.4, 0.0, 1.0).astype(np.float32)
    found = thinned(pixels, Pairs(1, 0))
    np.testing.assert_allclose(found @ BANDS[0], pixels @ BANDS[0], atol=1e-5)
    even = np.full((9, 8, 3), (0.2, 0.7, 0.4), np.float32)
    np.testing.assert_allclose(thinned(even, Pairs(1, 1)), even, atol=1e-6)
