"""Touch-ups of the pixels: their edges lie where they were asked, whatever the picture is like."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.cancel import NEVER
from core.outline.chain import Chain
from core.outline.curve import picked
from core.picture.colours import ColourWish, find_colours
from core.picture.picture import Picture
from core.touch.cover import covered
from core.touch.edit import Touch, Way
from core.touch.paint import bar, disc, touched
from core.trace.trace import trace
from tests.support.drawn import (
    BLACK_ON_WHITE,
    Ring,
    Shape,
    _two_colour,
    blurred,
    circle,
    coverage,
    drawn,
    eight_bit,
    hardened,
    jpeg,
    noisy,
    picture_of,
    polygon,
)

SIZE = 300
LEFT = polygon((40.3, 60.2), (120.4, 60.2), (120.4, 240.1), (40.3, 240.1))
RIGHT = polygon((180.7, 50.2), (260.4, 60.2), (250.4, 240.1), (185.3, 230.1))
START, END, WIDTH = (100.2, 169.3), (210.3, 129.9), 20.0


def picture(*rings, spoil=eight_bit) -> Picture:
    return picture_of(spoil(drawn(_two_colour("work", SIZE, 4, *rings), BLACK_ON_WHITE)))


def outline_of(seen: Picture):
    return trace(seen, find_colours(seen, ColourWish()), NEVER)


def regions(seen: Picture) -> int:
    return len(outline_of(seen).faces) - 1


def beside_the_bar(chains: tuple[Chain, ...]) -> list[float]:
    """For both long sides of the bar how far the traced edge strays from it, px."""
    tail, head = (np.array([x, SIZE - y]) for x, y in (START, END))
    ahead = (head - tail) / np.hypot(*(head - tail))
    found = []
    for segments in (chain.segments() for chain in chains):
        for row in range(len(segments)):
            points = picked(segments, np.full(9, row)).points_at(np.linspace(0.0, 1.0, 9))
            aside = np.abs((points - tail) @ np.array([-ahead[1], ahead[0]]))
            if (np.abs(aside - WIDTH / 2.0) < 1.5).all() and np.ptp(points @ ahead) > WIDTH:
                found.append(float(np.abs(aside - WIDTH / 2.0).max()))
    return found


@pytest.mark.parametrize(
    "spoil",
    [eight_bit, blurred(1.5), noisy(5), noisy(12), jpeg(60), hardened(BLACK_ON_WHITE)],
    ids=["clean", "blurred", "noisy", "grainy", "jpeg", "1-bit"],
)
def test_the_traced_edge_of_a_bridge_lies_where_the_bridge_was_asked(spoil):
    seen = picture(LEFT, RIGHT, spoil=spoil)
    done = touched(seen, [Touch(Way.BRIDGE, START, END, WIDTH)])
    strays = beside_the_bar(outline_of(done.picture).chains)
    assert len(strays) == 2
    assert max(strays) <= 0.02
    assert done.findings == ()


def test_a_bridge_makes_one_region_of_two_and_a_parting_two_of_one():
    seen = picture(LEFT, RIGHT)
    joined = touched(seen, [Touch(Way.BRIDGE, START, END, WIDTH)]).picture
    parted = touched(joined, [Touch(Way.PART, (150.0, 80.0), (150.0, 250.0), 3.0)]).picture
    assert [regions(seen), regions(joined), regions(parted)] == [2, 1, 2]


def test_what_is_rubbed_out_is_gone_and_the_rest_is_as_it_was():
    alone = picture(LEFT)
    spotted = picture(LEFT, circle(200.3, 100.4, 5.2))
    rubbed = touched(spotted, [Touch(Way.RUB, (200.0, 200.0), (None), 8.0)]).picture
    assert np.abs(rubbed.pixels - alone.pixels).max() < 1.5 / 255.0


@pytest.mark.parametrize("spoil", [eight_bit, blurred(1.5), noisy(5)], ids=["clean", "blurred", "noisy"])
def test_a_filled_speck_is_gone_with_its_soft_edge_and_its_neighbour_stays(spoil):
    near = polygon((187.0, 104.0), (192.0, 92.0), (197.0, 104.0))
    spotted = picture(LEFT, circle(200.3, 120.4, 5.2), near, spoil=spoil)
    without = picture(LEFT, near, spoil=spoil)
    filled = touched(spotted, [Touch(Way.FILL, (200.0, 180.0))]).picture
    assert regions(filled) == regions(without) == 2
    assert np.abs(filled.pixels - without.pixels).max() < (40 if spoil is not eight_bit else 14) / 255.0


def test_a_speck_longer_than_the_first_look_is_filled_to_its_end():
    hair = polygon((20.0, 20.2), (280.0, 24.1), (280.0, 27.1), (20.0, 23.2))
    filled = touched(picture(LEFT, hair), [Touch(Way.FILL, (150.0, SIZE - 23.6))]).picture
    assert np.abs(filled.pixels - picture(LEFT).pixels).max() < 0.06


def test_a_pinhole_is_filled_with_what_lies_round_it():
    holed = picture(LEFT, circle(80.2, 150.3, 3.1).reversed())
    filled = touched(holed, [Touch(Way.FILL, (80.2, SIZE - 150.3))]).picture
    assert np.abs(filled.pixels - picture(LEFT).pixels).max() < 0.06


def test_without_touch_ups_the_picture_is_the_very_same():
    seen = picture(LEFT)
    assert touched(seen, []).picture is seen


@pytest.mark.parametrize(
    ("touch", "code"),
    [
        (Touch(Way.RUB, (20.0, 20.0), None, 5.0), "touch-idle"),
        (Touch(Way.FILL, (20.0, 20.0)), "touch-idle"),
        (Touch(Way.BRIDGE, (60.0, 100.0), (60.0, 200.0), 6.0), "touch-idle"),
        (Touch(Way.PART, (10.0, 20.0), (20.0, 20.0), 6.0), "touch-idle"),
        (Touch(Way.RUB, (400.0, 20.0), None, 5.0), "touch-outside"),
        (Touch(Way.BRIDGE, (20.0, 20.0), (20.0, 320.0), 6.0), "touch-outside"),
    ],
)
def test_an_edit_that_finds_nothing_to_do_is_told_with_its_place(touch, code):
    (finding,) = touched(picture(LEFT), [touch]).findings
    assert (finding.code, finding.level) == (code, "caution")
    assert finding.at == (touch.at[0], SIZE - touch.at[1])


def test_touch_ups_go_where_the_picture_has_gone():
    """One function carries them: here a crop by 20 px from the left and 10 from the top, doubled."""

    def carried(points):
        return (points - (20.0, 10.0)) * 2.0

    large = Shape("large", 560, 580, _two_colour("work", SIZE, 4, _grown(LEFT), _grown(RIGHT)).patches, 8)
    seen = picture_of(eight_bit(drawn(large, BLACK_ON_WHITE)))
    done = touched(seen, [Touch(Way.BRIDGE, START, END, WIDTH)], carried).picture
    bridged = _grown(Ring(bar((100.2, 130.7), (210.3, 170.1), WIDTH), np.zeros(4)))
    share = coverage((bridged,), 560, 580)
    assert np.abs(done.pixels[share > 0.999] - BLACK_ON_WHITE[1]).max() < 0.01
    assert np.abs(done.pixels - seen.pixels)[share < 1e-4].max() < 1e-3


def _grown(ring: Ring) -> Ring:
    """Where the ring, y up in a picture of 300 px, lies after that crop."""
    return ring.moved(-20.0, 0.0).scaled(2.0)


def test_transparency_is_bridged_with_the_colour():
    alpha = coverage((LEFT, RIGHT), SIZE, SIZE).astype(np.float32)
    seen = picture(LEFT, RIGHT)
    clear = Picture(seen.pixels, alpha, (1.0, 1.0, 1.0), "a.png", "PNG", "0" * 64)
    done = touched(clear, [Touch(Way.BRIDGE, START, END, WIDTH)]).picture
    assert done.alpha[150, 150] == pytest.approx(1.0)
    assert clear.alpha[150, 150] == 0.0


@settings(max_examples=40, deadline=None)
@given(
    st.tuples(st.floats(-20, 60), st.floats(-20, 60)),
    st.tuples(st.floats(-20, 60), st.floats(-20, 60)),
    st.floats(0.3, 25),
)
def test_what_a_bar_covers_is_its_area_pixel_by_pixel(start, end, width):
    """Against another way to the same: Green's theorem over each pixel (tests/support/drawn.py)."""
    if np.hypot(start[0] - end[0], start[1] - end[1]) < 1e-3:
        return
    ring = bar(start, end, width)
    cover = covered(ring, 40, 40)
    whole = np.zeros((40, 40))
    whole[cover.window] = cover.share
    # drawn.py has y up and row 0 on top, so the bar is turned over for it
    other = np.abs(coverage((Ring(ring * (1, -1) + (0, 40), np.zeros(4)),), 40, 40))
    assert np.abs(whole - other).max() < 1e-6


def test_a_disc_covers_what_a_disc_does():
    cover = covered(disc((20.3, 18.6), 9.4), 40, 40)
    assert cover.share.sum() == pytest.approx(np.pi * 9.4**2, rel=1e-9)
