"""Large pictures read at a part of their size, and places that stay where they are."""

import io

import numpy as np
import pytest
from PIL import Image

from core.picture import read
from core.picture.read import read_picture
from core.picture.reduce import LEFT, READ_WHOLE, in_blocks, reduction
from core.picture.square import SquareWish, squared

LARGE = np.random.default_rng(3).integers(0, 256, (60, 44, 3)).astype(np.uint8)


def saved(levels, kind, **options):
    out = io.BytesIO()
    Image.fromarray(levels).save(out, kind, **options)
    return out.getvalue()


@pytest.fixture
def by_halves(monkeypatch):
    monkeypatch.setattr(read, "reduction", lambda _size: 2)


@pytest.mark.parametrize(
    ("size", "side"), [((3000, 2000), 1), ((4032, 3024), 2), ((6000, 4000), 3), ((8064, 6048), 4)]
)
def test_pictures_are_reduced_by_what_they_hold(size, side):
    assert reduction(size) == side


def test_what_is_left_is_read_in_time_whatever_the_picture():
    for pixels in np.linspace(1e5, 6.4e7, 200):
        width = int(np.sqrt(pixels * 1.5))
        left = pixels / reduction((width, int(pixels / width))) ** 2
        assert left <= max(READ_WHOLE, LEFT)


def test_a_block_becomes_its_mean_and_what_is_left_over_is_dropped():
    reduced = in_blocks(LARGE.astype(np.float32), 3)
    assert reduced.shape == (20, 14, 3)
    assert reduced[2, 5] == pytest.approx(LARGE[6:9, 15:18].reshape(-1, 3).mean(axis=0), abs=1e-3)


@pytest.mark.usefixtures("by_halves")
@pytest.mark.parametrize("kind", ["PNG", "TIFF", "BMP"])
def test_a_picture_is_the_mean_of_its_blocks(kind):
    picture = read_picture(saved(LARGE, kind), "x")
    assert (picture.reduced, picture.width, picture.source_size) == (2, 22, (44, 60))
    assert picture.pixels * 255 == pytest.approx(in_blocks(LARGE.astype(np.float32), 2), abs=0.6)


@pytest.mark.usefixtures("by_halves")
def test_what_the_decoder_reduces_lies_where_the_blocks_lie():
    smooth = np.clip(np.add.outer(np.arange(64) * 2, np.arange(48) * 2)[..., None] + [5, 20, 30], 0, 255)
    picture = read_picture(saved(smooth.astype(np.uint8), "JPEG", quality=97), "x")
    assert picture.source_size == (48, 64)
    assert picture.pixels * 255 == pytest.approx(in_blocks(smooth.astype(np.float32), 2), abs=3.5)


@pytest.mark.usefixtures("by_halves")
def test_transparent_pixels_give_no_colour_to_a_block():
    clear = np.dstack((LARGE, np.full((60, 44), 255, np.uint8)))
    clear[:, :23] = (255, 0, 0, 0)
    clear[:, 23:] = (10, 20, 30, 255)
    picture = read_picture(saved(clear, "PNG"), "x")
    red = picture.pixels[:, 11, 0] * 255
    assert red == pytest.approx((10 + 255 * picture.matte[0]) / 2, abs=1.0)
    assert picture.alpha[:, 11] == pytest.approx(0.5)


@pytest.mark.usefixtures("by_halves")
def test_every_pixel_is_read_where_that_is_asked():
    whole = read_picture(saved(LARGE, "PNG"), "x", every_pixel=True)
    assert np.array_equal(np.round(whole.pixels * 255), LARGE)


@pytest.mark.usefixtures("by_halves")
def test_places_of_the_file_are_found_in_the_reduced_picture():
    picture = read_picture(saved(LARGE, "PNG"), "x")
    made = squared(picture, SquareWish(corners=(), crop=((10.0, 20.0), (40.0, 56.0)), is_evened=False))
    assert made.plane.of((10.0, 20.0)) == (0.0, 0.0)
    assert made.plane.back((3.0, 4.0)) == (16.0, 28.0)
    assert (made.picture.width, made.picture.height) == (15, 18)
    assert [finding.code for finding in made.findings] == ["picture-reduced"]
    assert made.plane.scale_at((20.0, 20.0)) == pytest.approx(0.5)
