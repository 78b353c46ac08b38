"""Colours found in drawings of known colours; edges, noise and compression add none."""

import pickle

import numpy as np
import pytest
from drawn import BLACK, BLUE, GREEN, GREY, RED, SAND, WHITE, Drawing, as_picture, flat_art

from core.cancel import CancelToken
from core.errors import BadShape, BadValue, Cancelled, UnreadableFile
from core.picture.colours import Colours, ColourWish, find_colours
from core.picture.tally import apart
from tests.support.drawn import BLACK_ON_WHITE, BLUE_ON_BEIGE, FOUR, drawn, grainy, picture_of, pie, shapes

PROPOSE = ColourWish()
PALETTES = [
    [WHITE, BLACK],
    [WHITE, RED, BLUE],
    [WHITE, GREEN, BLACK, SAND],
    [SAND, RED, GREEN, BLUE, WHITE, BLACK],
    [WHITE, RED, GREEN, BLUE, SAND, BLACK, GREY, (0.9, 0.4, 0.7), (0.3, 0.8, 0.8)],
]
#: Every way in which the same drawing may reach us.
WAYS = {
    "as drawn": {},
    "soft": {"blur": 1.0},
    "very soft": {"blur": 2.0},
    "grainy": {"noise": 8.0},
    "JPEG 90": {"kind": "JPEG", "quality": 90},
    "JPEG 60": {"kind": "JPEG", "quality": 60},
    "JPEG 30": {"kind": "JPEG", "quality": 30},
    "WebP 60": {"kind": "WEBP", "quality": 60},
}


def codes(colours):
    return [finding.code for finding in colours.findings]


def true_labels(drawing, colours):
    """The labels as indices of the drawing's own colours."""
    return apart(colours.palette, np.array(drawing.colours)).argmin(axis=1)[colours.labels]


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("palette", PALETTES, ids=len)
def test_flat_art_has_the_colours_it_was_drawn_with(palette, way):
    colours = find_colours(flat_art(palette).picture(**WAYS[way]), PROPOSE)
    assert len(colours.palette) == len(palette)
    assert apart(np.array(palette), colours.palette).min(axis=1).max() < 0.03
    assert "photograph" not in codes(colours)


@pytest.mark.parametrize("palette", PALETTES, ids=len)
def test_the_colours_of_clean_art_are_exact(palette):
    colours = find_colours(flat_art(palette).picture(), PROPOSE)
    off = np.abs(np.array(palette)[:, np.newaxis] - colours.palette).max(axis=2).min(axis=1)
    assert off.max() <= 0.5 / 255 + 1e-6


@pytest.mark.parametrize("palette", PALETTES, ids=len)
def test_a_pixel_belongs_to_the_colour_that_covers_most_of_it(palette):
    drawing = flat_art(palette)
    colours = find_colours(drawing.picture(), PROPOSE)
    shares = drawing.shares()
    clear = shares.max(axis=2) > 0.6
    wrong = (true_labels(drawing, colours) != shares.argmax(axis=2)) & clear
    assert np.count_nonzero(wrong) <= 0.02 * np.count_nonzero(shares.max(axis=2) < 0.99)


@pytest.mark.parametrize("blur", [0.0, 0.6, 1.2, 2.0])
def test_an_edge_between_white_and_black_gets_no_grey_rim(blur):
    drawing = Drawing([WHITE, BLACK, GREY]).disc(90, 150, 60, 1).disc(200, 220, 40, 2)
    colours = find_colours(drawing.picture(blur=blur), PROPOSE)
    labels = true_labels(drawing, colours)
    rows, columns = np.indices(labels.shape)
    beside_grey = np.hypot(columns + 0.5 - 200, rows + 0.5 - 220) < 50
    assert np.count_nonzero((labels == 2) & ~beside_grey) == 0


@pytest.mark.parametrize("width", [2.0, 2.5, 3.0])
@pytest.mark.parametrize("blur", [0.0, 0.7])
def test_a_thin_stroke_keeps_its_colour(width, blur):
    drawing = (
        Drawing([WHITE, BLACK]).line((40, 60), (210, 231), width, 1).line((40, 250), (220, 200), width, 1)
    )
    colours = find_colours(drawing.picture(blur=blur), PROPOSE)
    assert len(colours.palette) == 2
    inked = np.count_nonzero(colours.labels != colours.ground)
    assert inked == pytest.approx(np.count_nonzero(drawing.fine) / 16, rel=0.15)


def test_thin_strokes_beside_a_thick_shape_are_a_colour_of_their_own():
    drawing = Drawing([WHITE, RED, BLUE]).disc(120, 110, 60, 1).line((30, 230), (220, 270), 2.5, 2)
    colours = find_colours(drawing.picture(), PROPOSE)
    assert len(colours.palette) == 3
    assert np.count_nonzero(true_labels(drawing, colours) == 2) > 300


@pytest.mark.parametrize("blur", [0.0, 0.8])
def test_an_island_of_thirty_pixels_is_kept(blur):
    drawing = Drawing([WHITE, GREEN, SAND]).disc(130, 150, 80, 1).disc(150.3, 120.6, 3.1, 2)
    colours = find_colours(drawing.picture(blur=blur), PROPOSE)
    assert len(colours.palette) == 3
    assert 20 <= np.count_nonzero(true_labels(drawing, colours) == 2) <= 42


def test_dust_is_taken_away_and_counted():
    pixels = Drawing([WHITE, BLACK]).disc(130, 150, 70, 1).pixels()
    for row, column in ((20, 30), (40, 200), (150, 130)):
        pixels[row : row + 2, column : column + 2] = 1.0 - pixels[row, column]
    colours = find_colours(as_picture(pixels), PROPOSE)
    note = next(finding for finding in colours.findings if finding.code == "specks-removed")
    assert note.text.startswith("3 specks")
    assert colours.labels[20, 30] == colours.ground != colours.labels[150, 130]


def test_clean_art_has_nothing_to_report():
    assert find_colours(flat_art(PALETTES[2]).picture(), PROPOSE).findings == ()


@pytest.mark.parametrize("count", [2, 3, 5, 6])
def test_as_many_colours_as_asked_for(count):
    picture = flat_art(PALETTES[3]).picture()
    assert len(find_colours(picture, ColourWish(count=count)).palette) == count


def test_more_colours_than_there_are_cannot_be_made_up():
    colours = find_colours(flat_art(PALETTES[1]).picture(), ColourWish(count=9))
    assert 3 <= len(colours.palette) < 9
    assert "fewer-colours" in codes(colours)


@pytest.mark.parametrize("count", [-1, 0, 1, 65])
def test_a_count_that_cannot_be_is_refused(count):
    with pytest.raises(BadValue):
        find_colours(flat_art(PALETTES[0]).picture(), ColourWish(count=count))


@pytest.mark.parametrize("level", [0.0, 0.4, 1.0])
def test_one_colour_is_no_shape(level):
    with pytest.raises(UnreadableFile, match="one colour only"):
        find_colours(as_picture(np.full((60, 60, 3), level)), PROPOSE)


def test_low_contrast_is_still_two_colours():
    colours = find_colours(flat_art([(0.6, 0.6, 0.6), (0.37, 0.37, 0.37)]).picture(), PROPOSE)
    assert len(colours.palette) == 2


def test_shades_fall_to_a_few_colours_with_a_caution():
    ramp = np.linspace(0, 1, 300)[:, np.newaxis, np.newaxis] * np.ones((1, 240, 3))
    colours = find_colours(as_picture(ramp), PROPOSE)
    assert 2 <= len(colours.palette) <= 6
    assert "photograph" in codes(colours)


def test_noise_alone_ends_in_a_caution():
    noise = np.random.default_rng(3).random((120, 100, 3))
    assert "photograph" in codes(find_colours(as_picture(noise), PROPOSE))


@pytest.mark.parametrize("palette", [BLACK_ON_WHITE, BLUE_ON_BEIGE, FOUR], ids=["black", "blue", "four"])
def test_the_grain_of_paper_is_no_colour_of_its_own(palette):
    shape = shapes(300)[3] if len(palette) == 2 else pie(300)
    colours = find_colours(picture_of(grainy(drawn(shape, palette))), PROPOSE)
    assert len(colours.palette) == len(palette)
    assert "photograph" not in codes(colours)


def test_the_same_picture_gives_the_same_colours():
    one, two = (find_colours(flat_art(PALETTES[3]).picture(noise=6), PROPOSE) for _ in range(2))
    assert one.palette.tobytes() == two.palette.tobytes()
    assert one.labels.tobytes() == two.labels.tobytes()


def test_work_that_is_no_longer_wanted_is_given_up():
    with pytest.raises(Cancelled):
        find_colours(flat_art(PALETTES[0]).picture(), PROPOSE, CancelToken(lambda: True))


def test_colours_cannot_be_written_to_and_survive_pickling():
    colours = find_colours(flat_art(PALETTES[1]).picture(), PROPOSE)
    again = pickle.loads(pickle.dumps(colours))  # noqa: S301 - our own bytes
    np.testing.assert_array_equal(again.labels, colours.labels)
    assert again.ground == colours.ground
    with pytest.raises(ValueError, match="read-only"):
        again.labels[0, 0] = 1


def test_labels_that_the_palette_does_not_explain_are_refused():
    with pytest.raises(BadShape):
        Colours(np.zeros((2, 3)), np.full((4, 4), 2, np.uint8), 0)
    with pytest.raises(BadShape):
        Colours(np.zeros((2, 3)), np.zeros((4, 4), np.uint8), 2)


def test_two_colours_that_are_one_become_the_first_of_them():
    picture = flat_art(PALETTES[2]).picture(blur=0.5)
    apart_still = find_colours(picture, PROPOSE)
    colours = find_colours(picture, ColourWish(merged=((GREEN, SAND),)))
    assert len(colours.palette) == len(apart_still.palette) - 1
    was, now = (apart(each.palette, np.array([GREEN, SAND])) for each in (apart_still, colours))
    green, sand = was.argmin(axis=0)
    both = np.isin(apart_still.labels, (green, sand))
    assert np.mean((colours.labels == now[:, 0].argmin()) == both) > 0.999
    assert now[:, 0].min() < 0.02


def test_a_pair_that_was_merged_before_is_merged_with_all_it_took_in():
    picture = flat_art(PALETTES[3]).picture()
    colours = find_colours(picture, ColourWish(merged=((RED, GREEN), (BLUE, RED))))
    assert len(colours.palette) == len(PALETTES[3]) - 2


def test_colours_by_hand_are_the_only_ones():
    picture = flat_art(PALETTES[3]).picture()
    colours = find_colours(picture, ColourWish(palette=(SAND, (0.1, 0.2, 0.5))))
    assert len(colours.palette) == 2


def test_a_colour_by_hand_splits_what_was_proposed_as_one():
    close = [WHITE, (0.30, 0.42, 0.55), (0.315, 0.435, 0.565), BLACK]
    drawing = Drawing(close).box(30, 30, 120, 260, 1).box(120, 30, 220, 260, 2).disc(70, 150, 20, 3)
    picture = drawing.picture()
    assert len(find_colours(picture, PROPOSE).palette) == 3
    assert len(find_colours(picture, ColourWish(palette=tuple(close))).palette) == 4
