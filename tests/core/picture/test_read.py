"""Every way to store a picture gives the same pixels; whatever is no picture gives one sentence."""

import io
import pickle
import struct
import zlib

import numpy as np
import png
import pytest
from PIL import Image

from core.errors import BadShape, UnreadableFile
from core.picture.decode import decoded, turned
from core.picture.header import opened
from core.picture.oklab import from_oklab, to_oklab
from core.picture.picture import Picture
from core.picture.read import read_picture

RANDOM = np.random.default_rng(5)
COLOUR = RANDOM.integers(0, 256, (18, 26, 3), dtype=np.uint8)
GREY = COLOUR[..., 0]


def saved(image, kind, **options):
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def levels(data):
    return np.round(read_picture(data, "x").pixels * 255).astype(int)


@pytest.mark.parametrize(
    ("kind", "options"),
    [
        ("PNG", {}),
        ("WEBP", {"lossless": True}),
        ("TIFF", {}),
        ("TIFF", {"compression": "tiff_lzw"}),
        ("TIFF", {"compression": "tiff_deflate"}),
        ("BMP", {}),
    ],
)
def test_every_lossless_kind_gives_the_same_pixels(kind, options):
    np.testing.assert_array_equal(levels(saved(Image.fromarray(COLOUR), kind, **options)), COLOUR)


@pytest.mark.parametrize("kind", ["JPEG", "WEBP"])
def test_lossy_kinds_give_nearly_the_same_pixels(kind):
    smooth = np.repeat(np.linspace(20, 230, 64, dtype=np.uint8)[np.newaxis, :, np.newaxis], 48, 0).repeat(
        3, 2
    )
    assert np.abs(levels(saved(Image.fromarray(smooth), kind, quality=95)) - smooth).max() <= 4


@pytest.mark.parametrize("kind", ["PNG", "TIFF", "BMP", "GIF"])
def test_palettes_and_grey_and_one_bit_mean_their_colours(kind):
    palette = Image.fromarray(GREY // 64).convert("P")
    palette.putpalette([250, 10, 20, 30, 240, 50, 5, 6, 230, 90, 90, 90])
    want = np.array(palette.convert("RGB"))
    np.testing.assert_array_equal(levels(saved(palette, kind)), want)
    np.testing.assert_array_equal(
        levels(saved(Image.fromarray(GREY), kind)), GREY[..., np.newaxis].repeat(3, 2)
    )
    bits = Image.fromarray(GREY > 127)
    np.testing.assert_array_equal(levels(saved(bits, kind))[..., 0], np.where(GREY > 127, 255, 0))


@pytest.mark.parametrize("interlace", [False, True])
@pytest.mark.parametrize("channels", [1, 2, 3, 4])
def test_sixteen_bits_are_kept_to_the_last(channels, interlace):
    deep = RANDOM.integers(0, 65536, (18, 26, channels), dtype=np.uint16)
    out = io.BytesIO()
    writer = png.Writer(
        26, 18, bitdepth=16, greyscale=channels < 3, alpha=channels in (2, 4), interlace=interlace
    )
    writer.write(out, deep.reshape(18, -1).tolist())
    raster = decoded(opened(out.getvalue()))
    colour = deep[..., :3] if channels > 2 else deep[..., :1].repeat(3, 2)
    np.testing.assert_array_equal(np.round(raster.colour.astype(float) * 65535), colour)
    if channels in (2, 4):
        np.testing.assert_array_equal(np.round(raster.alpha.astype(float) * 65535), deep[..., -1])


def test_sixteen_bit_tiff_keeps_grey():
    deep = RANDOM.integers(0, 65536, (18, 26), dtype=np.uint16)
    pixels = read_picture(saved(Image.fromarray(deep), "TIFF"), "x").pixels
    np.testing.assert_array_equal(np.round(pixels[..., 1].astype(float) * 65535), deep)


@pytest.mark.parametrize("depth", [8, 16])
def test_a_transparent_colour_key_is_transparent(depth):
    samples = RANDOM.integers(0, 1 << depth, (18, 26, 3))
    samples[3:9, 4:11] = (1, 2, 3)
    out = io.BytesIO()
    png.Writer(26, 18, bitdepth=depth, greyscale=False, transparent=(1, 2, 3)).write(
        out, samples.reshape(18, -1).tolist()
    )
    picture = read_picture(out.getvalue(), "x")
    want = (samples != (1, 2, 3)).any(axis=2)
    np.testing.assert_array_equal(picture.alpha, want)
    np.testing.assert_allclose(picture.pixels[~want], [picture.matte] * np.count_nonzero(~want))


def test_a_palette_entry_may_be_transparent():
    palette = Image.fromarray((GREY // 128).astype(np.uint8)).convert("P")
    palette.putpalette([200, 0, 0, 0, 0, 200])
    for kind in ("PNG", "GIF"):
        picture = read_picture(saved(palette, kind, transparency=0), "x")
        np.testing.assert_array_equal(picture.alpha, GREY // 128)


def test_a_soft_edge_of_alpha_becomes_a_soft_edge_between_art_and_matte():
    cover = np.tile(np.linspace(0, 255, 18).round().astype(np.uint8), (12, 1))
    art = np.dstack([np.full_like(cover, level) for level in (200, 30, 30)] + [cover])
    picture = read_picture(saved(Image.fromarray(art), "PNG"), "x")
    assert picture.matte == (1.0, 1.0, 1.0)
    red, matte = np.array([200, 30, 30]) / 255, np.ones(3)
    share = cover[..., np.newaxis] / 255
    np.testing.assert_allclose(picture.pixels, red * share + matte * (1 - share), atol=1e-6)


def test_a_white_logo_on_nothing_is_laid_over_something_dark_enough():
    art = np.full((20, 20, 4), 255, np.uint8)
    art[:6, :, 3] = 0
    picture = read_picture(saved(Image.fromarray(art), "PNG"), "x")
    assert np.abs(picture.pixels[10, 10] - picture.pixels[2, 10]).max() > 0.5


def test_full_alpha_is_no_alpha():
    opaque = np.dstack([COLOUR, np.full((18, 26), 255, np.uint8)])
    assert read_picture(saved(Image.fromarray(opaque), "PNG"), "x").alpha is None


def test_ink_is_read_as_the_colour_it_prints():
    ink = np.zeros((32, 32, 4), np.uint8)
    ink[:, 16:] = (0, 255, 255, 0)  # magenta and yellow print red
    pixels = read_picture(saved(Image.fromarray(ink, "CMYK"), "JPEG", quality=95), "x").pixels
    np.testing.assert_allclose(pixels[16, 4], (1, 1, 1), atol=0.03)
    np.testing.assert_allclose(pixels[16, 28], (1, 0, 0), atol=0.03)


#: What "123 / 456", stored with each orientation, shows as (Exif 2.3, tag Orientation).
SHOWN = {
    1: [[1, 2, 3], [4, 5, 6]],
    2: [[3, 2, 1], [6, 5, 4]],
    3: [[6, 5, 4], [3, 2, 1]],
    4: [[4, 5, 6], [1, 2, 3]],
    5: [[1, 4], [2, 5], [3, 6]],
    6: [[4, 1], [5, 2], [6, 3]],
    7: [[6, 3], [5, 2], [4, 1]],
    8: [[3, 6], [2, 5], [1, 4]],
}


@pytest.mark.parametrize("orientation", SHOWN)
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_a_picture_is_turned_upright_as_its_tag_says(kind, orientation):
    stored = np.kron(np.array([[1, 2, 3], [4, 5, 6]]) * 40, np.ones((16, 16))).astype(np.uint8)
    exif = Image.Exif()
    exif[0x0112] = orientation
    options = {"lossless": True} if kind == "WEBP" else {}
    data = saved(Image.fromarray(stored).convert("RGB"), kind, exif=exif, **options)
    shown = np.round(read_picture(data, "x").pixels[8::16, 8::16, 0] * 255 / 40).astype(int)
    assert shown.tolist() == SHOWN[orientation]
    assert turned(np.array([[1, 2, 3], [4, 5, 6]]), orientation).tolist() == SHOWN[orientation]


def test_damaged_exif_does_not_cost_the_picture():
    data = saved(Image.fromarray(COLOUR), "JPEG", exif=b"Exif\0\0MM\0\x2a\xff\xff\xff\xff")
    assert read_picture(data, "x").width == 26


def test_the_first_picture_of_an_animation_counts():
    frames = [Image.fromarray(np.full((12, 12), level, np.uint8)) for level in (10, 200)]
    assert levels(saved(frames[0], "GIF", save_all=True, append_images=frames[1:])).max() == 10


def test_a_picture_cannot_be_written_to_and_survives_pickling():
    picture = read_picture(saved(Image.fromarray(COLOUR), "PNG"), "x")
    again = pickle.loads(pickle.dumps(picture))  # noqa: S301 - our own bytes
    np.testing.assert_array_equal(again.pixels, picture.pixels)
    assert (again.digest, again.format, again.width, again.height) == (picture.digest, "PNG", 26, 18)
    for one in (picture, again):
        with pytest.raises(ValueError, match="read-only"):
            one.pixels[0, 0] = 0


def test_a_picture_does_not_follow_the_array_it_was_made_from():
    pixels = np.zeros((9, 9, 3), np.float32)
    picture = Picture(pixels, None, None, "x", "PNG", "")
    pixels[:] = 1
    assert picture.pixels.max() == 0


def test_numbers_that_are_no_picture_are_refused():
    with pytest.raises(BadShape):
        Picture(np.zeros((9, 9), np.float32), None, None, "x", "PNG", "")
    with pytest.raises(BadShape):
        Picture(np.zeros((9, 9, 3), np.float32), np.zeros((8, 9), np.float32), None, "x", "PNG", "")


def chunk(kind, body):
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png_header(width, height):
    header = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + header + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


LARGE = Image.fromarray(np.tile(COLOUR, (8, 8, 1)))
GOOD = {kind: saved(LARGE, kind) for kind in ("PNG", "JPEG", "GIF", "BMP", "TIFF", "WEBP")}
GOOD["TIFF packed"] = saved(LARGE, "TIFF", compression="tiff_lzw")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "empty"),
        (b"Dear reader, this is no picture at all.", "not a picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "not a picture"),
        (saved(Image.new("RGB", (1, 1)), "PNG"), "too small"),
        (saved(Image.new("RGB", (900, 3)), "PNG"), "too small"),
        (png_header(30_000, 30_000), "too large"),
        (png_header(10_000, 9_000), "too large"),
        (png_header(25_000, 20), "too large"),
        (png_header(2**31 - 1, 2**31 - 1), "too large"),
        (saved(Image.new("RGBA", (20, 20)), "PNG"), "transparent all over"),
        (b"\0\0\0\x18ftypheic" + bytes(200), "damaged"),
    ],
)
def test_what_holds_no_shape_gets_one_sentence_that_says_why(data, says):
    with pytest.raises(UnreadableFile, match=says) as refused:
        read_picture(data, "turtle.png")
    sentence = str(refused.value)
    assert sentence.startswith("turtle.png ")
    assert sentence.endswith(".")
    assert "\n" not in sentence


@pytest.mark.parametrize("kind", GOOD)
@pytest.mark.parametrize("share", [0.3, 0.5, 0.9])
def test_half_a_picture_is_no_picture(kind, share):
    data = GOOD[kind]
    with pytest.raises(UnreadableFile):
        read_picture(data[: int(len(data) * share)], "x")


def mutated(random, data):
    data = bytearray(data)
    match int(random.integers(5)):
        case 0:
            return bytes(data[: random.integers(len(data))])
        case 1:
            for at in random.integers(0, len(data), random.choice([1, 3, 20, 200])):
                data[at] ^= int(random.integers(1, 256))
        case 2:
            at = int(random.integers(min(200, len(data) - 4)))
            data[at : at + 4] = bytes.fromhex(random.choice(["00000000", "7fffffff", "80000000", "ffffffff"]))
        case 3:
            start, length = int(random.integers(len(data))), int(random.integers(1, 400))
            data[start : start + length] = data[start : start + length] * int(random.choice([0, 3]))
        case _:
            keep = int(random.integers(20, 400))
            data[keep:] = random.bytes(len(data) - min(keep, len(data)))
    return bytes(data)


def test_damaged_files_give_a_picture_or_a_sentence_and_nothing_on_standard_error(capfd):
    random = np.random.default_rng(20)
    kinds = sorted(GOOD)
    for _ in range(210):
        data = mutated(random, GOOD[kinds[random.integers(len(kinds))]])
        try:
            picture = read_picture(data, "x")
        except UnreadableFile:
            continue
        assert np.isfinite(picture.pixels).all()
        assert 0 <= picture.pixels.min() <= picture.pixels.max() <= 1
    assert capfd.readouterr().err == ""


def test_oklab_agrees_with_its_known_values_and_turns_back():
    # Values of sRGB's white, red and blue: from memory.
    np.testing.assert_allclose(to_oklab([1, 1, 1]), [1, 0, 0], atol=1e-4)
    np.testing.assert_allclose(to_oklab([1, 0, 0]), [0.62796, 0.22486, 0.12585], atol=1e-4)
    np.testing.assert_allclose(to_oklab([0, 0, 1]), [0.45201, -0.03246, -0.31153], atol=1e-4)
    rgb = RANDOM.random((200, 3))
    np.testing.assert_allclose(from_oklab(to_oklab(rgb)), rgb, atol=1e-9)


def test_what_a_decoder_logs_is_not_told_beside_the_one_sentence(capfd, caplog):
    """Tag 277 of a TIFF is the samples per pixel (TIFF 6.0, section 8); nobody decodes 255."""
    data = saved(Image.fromarray(COLOUR), "TIFF")
    tag = struct.pack("<HHIHH", 277, 3, 1, 3, 0)
    assert data.count(tag) == 1
    with pytest.raises(UnreadableFile):
        read_picture(data.replace(tag, struct.pack("<HHIHH", 277, 3, 1, 255, 0)), "x")
    assert (capfd.readouterr().err, caplog.records) == ("", [])
