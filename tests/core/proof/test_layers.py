import numpy as np
import pytest

from core.drawing.drawing import Circle, Drawing, Layer, LayerOf, Line
from core.drawing.write.dxf import write_dxf, write_dxf_r12
from core.drawing.write.svg import write_svg
from core.errors import UnreadableFile
from core.outline.loop import Loop
from core.proof.layers import Contour, read_layers
from tests.core.proof.claimed import box, box_path, circle, disc_area, layers, svg

WAVE = Loop(np.array([[10.0, 20.0], [50.0, 22.0], [40.0, 35.0]]), np.array([0.3, -0.7, 2.5]))
DRAWING = Drawing(
    "sky",
    (0.0, 0.0, 60.0, 40.0),
    (
        LayerOf(Layer.FILM, "dark-sky", "#004080", (WAVE,)),
        LayerOf(Layer.MARKS, "", "#cc0000", (Circle((3.0, 4.0), 5.0),)),
        LayerOf(Layer.NOTES, "", "#888888", (Line((0.0, 1.0), (8.0, 1.0)),)),
    ),
)
WRITERS = {"svg": write_svg, "dxf": write_dxf, "dxf-r12": write_dxf_r12}


@pytest.mark.parametrize("kind", WRITERS)
def test_every_format_has_the_same_layers_under_the_same_names(kind):
    first = read_layers(write_svg(DRAWING), "svg", None)
    read = read_layers(WRITERS[kind](DRAWING), kind, None)
    assert set(read.contours) == {"film-dark-sky", "marks", "notes"}
    assert read.is_same_as(first, "film-dark-sky")
    assert read.is_same_as(first, "marks")
    assert read.area("film-dark-sky").area == pytest.approx(abs(WAVE.signed_area()), abs=0.1)
    assert read.area("marks").area == pytest.approx(disc_area(5.0), rel=1e-3)
    assert read.area("part").is_empty


@pytest.mark.parametrize("kind", WRITERS)
def test_a_stated_mirror_is_undone(kind):
    turned = read_layers(WRITERS[kind](DRAWING), kind, 30.5)
    back = Contour(turned.of("marks")[0].points * [-1, 1] + [61.0, 0.0], np.zeros(1), is_closed=True)
    assert back.points.mean(axis=0) == pytest.approx((3.0, 4.0))
    straight = read_layers(WRITERS[kind](DRAWING), kind, None)
    assert turned.area("film-dark-sky").area == pytest.approx(straight.area("film-dark-sky").area, abs=1e-6)
    assert not turned.is_same_as(straight, "film-dark-sky")


def test_contours_that_differ_by_more_than_a_last_digit_are_not_the_same():
    here = layers(part=[circle((10, 10), 8)])
    assert here.is_same_as(layers(part=[circle((10, 10 + 5e-6), 8)]), "part")
    assert not here.is_same_as(layers(part=[circle((10, 10 + 5e-5), 8)]), "part")
    flatter = Contour(here.of("part")[0].points, np.array([1.0, 0.9999]), is_closed=True)
    assert not here.is_same_as(layers(part=[flatter]), "part")
    assert not here.is_same_as(layers(part=[box(0, 0, 1, 1)]), "part")
    assert not here.is_same_as(layers(part=[]), "part")


def test_an_opening_is_taken_off_the_area():
    read = read_layers(svg(part=[box_path(0, 0, 40, 20), box_path(5, 5, 15, 15)]), "svg", None)
    assert read.area("part").area == pytest.approx(700.0)


def test_what_is_not_read_is_told_with_its_layer():
    data = svg(film_sky=["M0 0C1 1 2 2 3 0"])
    (left_out,) = read_layers(data, "svg", None).not_read
    assert left_out.layer == "film-sky"


@pytest.mark.parametrize(("data", "kind"), [(b"", "svg"), (b"<svg/>", "svg"), (b"x", "dxf"), (b"", "hpgl")])
def test_what_cannot_be_read_is_said(data, kind):
    with pytest.raises(UnreadableFile):
        read_layers(data, kind, None)
