"""The same drawing on every surface."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outline.loop import Loop
from core.paper.pdf import A4, beziers, write_pdf
from core.paper.png import png_of
from core.paper.recorder import Recorder
from core.paper.scaled import Scaled
from core.paper.shapes import draw_box, draw_circle, draw_loop
from core.paper.surface import Anchor, Fill, Letters, Pen
from core.paper.svg import svg_of

WAVE = Loop(np.array([[10.0, 10.0], [60.0, 10.0], [60.0, 50.0]]), np.array([0.4, -1.7, 0.0]))


def drawn(surface):
    draw_loop(surface, WAVE)
    surface.paint(Fill("#88aa00", 0.5), Pen("#000000", 0.3, dash=(1.0, 2.0)))
    draw_circle(surface, (30.0, 90.0), 7.0, None, Pen())
    surface.text("size < 5 & more", (5.0, 5.0), Letters(4.0, is_bold=True, anchor=Anchor.END))


def recorded():
    recorder = Recorder()
    drawn(recorder)
    return recorder.recording()


def test_a_recording_played_again_is_the_same():
    again = Recorder()
    recorded().play(again)
    assert again.recording() == recorded()


def test_equal_drawings_give_equal_bytes():
    box = (0.0, 0.0, 100.0, 100.0)
    assert svg_of(recorded(), box) == svg_of(recorded(), box)
    assert png_of(recorded(), box, 200) == png_of(recorded(), box, 200)
    assert write_pdf([recorded()], A4, "x") == write_pdf([recorded()], A4, "x")


def test_svg_keeps_arcs_and_escapes_words():
    text = svg_of(recorded(), (0.0, 0.0, 100.0, 100.0)).decode()
    assert "A36.25 36.25 0 0 0 60 -10" in text
    assert "size &lt; 5 &amp; more" in text
    assert 'viewBox="0 -100 100 100"' in text


def test_scaled_drawings_are_scaled_with_their_pens():
    recorder = Recorder()
    draw_box(Scaled(recorder, 2.0, (1.0, 3.0)), (0.0, 0.0), (5.0, 5.0), None, Pen("#000000", 0.5))
    (box,) = recorder.recording().items
    assert (box.steps[0].x, box.steps[0].y, box.steps[2].x, box.steps[2].y) == (1.0, 3.0, 11.0, 13.0)
    assert box.pen.width_mm == 1.0


@settings(deadline=None, max_examples=60)
@given(bulge=st.floats(0.01, 5) | st.floats(-5, -0.01), turn=st.floats(0, 6))
def test_beziers_stay_on_the_circle_they_stand_for(bulge, turn):
    start, end = (3.0, 4.0), (3.0 + 80 * math.cos(turn), 4.0 + 80 * math.sin(turn))
    segments = Loop(np.array([start, end]), np.array([bulge, 0.0])).segments()
    centre, radius = segments.centres()[0], segments.radii()[0]
    at = np.array(start)
    t = np.linspace(0, 1, 21)[:, None]
    curves = beziers(start, end, bulge)
    for curve in curves:
        first, second, last = np.array(curve)
        path = (1 - t) ** 3 * at + 3 * t * (1 - t) ** 2 * first + 3 * t**2 * (1 - t) * second + t**3 * last
        off = np.hypot(*(path - centre).T) - radius
        assert np.abs(off).max() < 5e-6 * radius  # eight a circle: 4.2e-6 of the radius (computed)
        at = last
    np.testing.assert_allclose(at, end)
    sweep = 4 * math.atan(abs(bulge))
    assert len(curves) == pytest.approx(sweep / (math.pi / 4), abs=1)
