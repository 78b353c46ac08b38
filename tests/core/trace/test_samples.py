"""Edge samples against circles and lines whose place is known in closed form."""

import numpy as np
import pytest

from core.trace.edges import read_edges
from core.trace.faces import framed, settled
from tests.support.drawn import (
    BLACK_ON_WHITE,
    Patch,
    Shape,
    blurred,
    circle,
    colours_of,
    drawn,
    eight_bit,
    hardened,
    picture_of,
    polygon,
)

AT, RADIUS = (60.31, 59.87), 40.23


def edges_of(ring, spoil=eight_bit, light=None):
    pixels = drawn(Shape("one", 120, 120, (Patch(1, (ring,)),), 1), BLACK_ON_WHITE)
    pixels = spoil(pixels if light is None else pixels * light)
    return read_edges(*settled(framed(picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE))))


@pytest.mark.parametrize("sigma", [0.0, 0.5, 1.0, 1.5])
def test_a_circle_is_read_where_it_is_once_its_bend_is_taken_off_whatever_the_blur(sigma):
    edges = edges_of(circle(*AT, RADIUS), blurred(sigma) if sigma else eight_bit)
    samples = edges.samples
    off = np.hypot(*(samples.places - AT).T) - RADIUS
    assert abs(np.mean(off + samples.bend / RADIUS)) < 0.002
    assert np.std(off) < 0.01


@pytest.mark.parametrize("sigma", [0.5, 1.0, 1.5])
def test_the_blur_of_a_picture_is_measured_within_a_twentieth_of_a_pixel(sigma):
    assert edges_of(circle(*AT, RADIUS), blurred(sigma)).blur == pytest.approx(sigma, abs=0.05)


def test_a_straight_edge_in_light_that_falls_off_is_read_by_its_local_levels():
    light = np.linspace(1.0, 0.6, 120)[None, :, None]
    ring = polygon((20.0, 20.3), (100.0, 27.1), (100.0, 90.0), (20.0, 90.0))
    places = edges_of(ring, light=light).samples.places
    lower = places[(places[:, 1] < 40) & (places[:, 0] > 30) & (places[:, 0] < 90)]
    off = lower[:, 1] - (20.3 + (lower[:, 0] - 20.0) * 6.8 / 80.0)
    assert np.sqrt(np.mean(off**2)) < 0.006


def test_a_picture_without_a_mixed_pixel_is_known_to_be_hard_and_a_soft_one_is_not():
    assert edges_of(circle(*AT, RADIUS), hardened(BLACK_ON_WHITE)).least_sigma > 0.2
    assert edges_of(circle(*AT, RADIUS)).least_sigma == 0.0


def test_an_edge_at_45_degrees_is_read_in_every_row_as_any_other_is():
    middle, side = 60.3, 40.0
    diamond = polygon(
        (middle - side, middle), (middle, middle - side), (middle + side, middle), (middle, middle + side)
    )
    places = edges_of(diamond).samples.places
    off = np.abs(np.abs(places - middle).sum(axis=1) - side) / np.sqrt(2.0)
    tips = np.abs(np.abs(places - middle).max(axis=1) - side) < 6.0
    assert len(places) > 0.9 * 4.0 * side
    assert off[~tips].max() < 0.1
