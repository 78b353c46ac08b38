"""Film plots of whole kits: read back, proven, and told when they are not what they should be."""

import json
import re
from hashlib import sha256

import numpy as np
import pytest

from core.decal.knife import Knife
from core.drawing.drawing import Drawing, Layer, LayerOf
from core.drawing.read.hpgl import read_hpgl
from core.findings import has_stop
from core.kit.check import check_files
from core.kit.plots import PlotFrame, film_plot
from core.outline.loop import Loop
from core.proof.layers import NamedLayers, read_layers
from core.proof.plot import prove_plot
from core.proof.read_claims import claims_of
from core.sheet.correction import Correction
from tests.support.pictures import badge_kit

WAYS = {
    "plain": {},
    "steered": {"knife__compensated": "yes"},
    "overcut": {"knife__overcut": "2 mm"},
    "wide": {"knife__compensated": "yes", "knife__offset": "1 mm", "film__overlap": "0 mm"},
    "behind": {"film__side": "behind", "knife__compensated": "yes"},
    "corrected": {"knife__scale_x": "100.4 %", "knife__skew": "0.2 deg", "knife__compensated": "yes"},
    "copies": {"stock__copies": "3"},
    "strips": {"film__strips": "15 mm", "knife__compensated": "yes", "stock__copies": "2"},
}


def plots(kit):
    return [one for one in kit.report["files"] if one["role"] == "film-plot"]


@pytest.mark.parametrize("way", WAYS)
def test_every_film_has_a_proven_plot(way):
    kit = badge_kit(**WAYS[way])
    assert not has_stop(kit.findings)
    assert [one["film"] for one in plots(kit)] == [film["name"] for film in kit.report["films"]]
    readback, films = kit.report["readback"], kit.report["films"]
    is_steered = films[0]["knife"]["compensated"]
    for film in films:
        error = readback["plot_error_mm"][film["name"]]
        assert error["max"] <= (0.05 if is_steered else 0.03)
        assert 0.0 < error["rms"] <= 0.02
    assert readback["plot_mark_error_mm"] <= 0.013
    assert check_files(kit.files)[1] == ()


def test_without_plots_there_are_none():
    kit = badge_kit(knife__plot="no")
    assert plots(kit) == []
    assert kit.report["readback"]["plot_error_mm"] == {}
    assert kit.report["readback"]["plot_mark_error_mm"] is None


def test_points_of_the_frame_are_forty_units_to_the_mm_after_the_shift():
    kit = badge_kit()
    shift = np.array(kit.report["frame"]["plot_shift"])
    assert shift % 0.025 == pytest.approx(0.0)
    run = read_hpgl(kit.files[plots(kit)[0]["path"]]).runs[-1]
    size = kit.report["films"][0]["sheet_box_mm"]
    assert (run.pen, np.ptp(run.points, axis=0).tolist()) == (3, [40 * size[0], 40 * size[1]])
    marks = [one for one in read_hpgl(kit.files[plots(kit)[0]["path"]]).runs if one.pen == 2]
    middles = sorted(
        ((one.points.min(axis=0) + one.points.max(axis=0)) / 80 - shift).tolist() for one in marks
    )
    assert middles == pytest.approx(np.array(sorted(mark["at"] for mark in kit.report["marks"])), abs=0.013)


def test_an_uncompensated_plot_cut_as_it_is_shows_the_error_of_a_trailing_blade():
    kit = badge_kit()
    report = json.loads(kit.files["report.json"])
    for film in report["films"]:
        film["knife"]["compensated"] = True
    claims = claims_of(report)
    film = next(film for film in claims.films if film.name == report["films"][0]["name"])
    (drawn, *_), (plot, *_) = (
        claims.files_of("film-drawing", film.name),
        claims.files_of("film-plot", film.name),
    )
    layers = NamedLayers(drawn.path, read_layers(kit.files[drawn.path], drawn.format, None))
    proof = prove_plot(plot.path, kit.files[plot.path], film, (layers, None), claims)
    # Corners of 90 degrees are missed by the offset times the sine: far beyond what is allowed.
    assert not proof.edge.max_mm <= 0.05
    assert "plot-differs" in {finding.code for finding in proof.findings}


def damaged(kit, change, name=None):
    """The kit's files with one plot changed, digest and all, so that only the proof can tell."""
    path = name or plots(kit)[0]["path"]
    files = dict(kit.files)
    files[path] = change(files[path])
    old, new = (sha256(data[path]).hexdigest() for data in (kit.files, files))
    files["report.json"] = files["report.json"].replace(old.encode(), new.encode())
    return {finding.code for finding in check_files(files)[1]} - {"report-changed"}


def nudged(data):
    """Two points of the film, 0.13 mm away, in ways that no edge of a badge runs."""
    head, film = data.split(b"SP1;", 1)
    ways = iter(((5, 2), (2, -5)))

    def away(found):
        x, y = next(ways)
        return b"PD%d,%d" % (int(found[1]) + x, int(found[2]) + y)

    return head + b"SP1;" + re.sub(rb"PD(\d+),(\d+)", away, film, count=2)


def pens_exchanged(data):
    return data.replace(b"SP1;", b"SP9;").replace(b"SP2;", b"SP1;").replace(b"SP9;", b"SP2;")


def without_last_cut(data):
    head, _, _ = data.rpartition(b"PU")
    start = head.rfind(b"\nPU")
    return data[:start] + b"\nPU;\nSP0;\n"


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (nudged, {"plot-differs"}),
        (pens_exchanged, {"plot-differs", "plot-order", "marks-differ"}),
        (lambda data: data.replace(b"PU;\nSP0;", b"SP0;").replace(b"SP0;", b"PD;"), {"pen-down"}),
        (lambda data: data.replace(b"PA;", b"PA;SC0,1,0,1;"), {"file-unreadable"}),
        (lambda data: data.replace(b"IN;", b"IN;PU-80,0;"), {"plot-out-of-range"}),
        (lambda data: data.replace(b"IN;", b"IN;PU33000,0;"), {"plot-out-of-range"}),
        (lambda _: b"", {"file-unreadable"}),
        (without_last_cut, {"plot-differs"}),
    ],
)
def test_a_plot_that_is_not_as_claimed_is_a_stop(change, told):
    assert told <= damaged(badge_kit(), change)


def test_an_overcut_left_out_is_told():
    kit = badge_kit(knife__overcut="2 mm")
    plain = badge_kit()
    path = plots(kit)[0]["path"]
    assert "overcut-differs" in damaged(kit, lambda _: plain.files[path])


def test_a_plot_beyond_the_numbers_of_a_plotter_is_not_written_and_told():
    kit = badge_kit(shape__height="900 mm")
    assert plots(kit) == []
    assert "plot-too-long" in {finding.code for finding in kit.findings}


def test_a_knife_that_is_steered_is_turned_in_the_waste_first():
    box = Loop(np.array([[0, 0], [60, 0], [60, 40], [5, 40], [0, 35]], float), np.zeros(5))
    drawing = Drawing("film", (0, 0, 60, 40), (LayerOf(Layer.WEEDING, "", "#000000", (box,)),))
    frame = PlotFrame(Correction(), (2.0, 2.0))
    plot = film_plot(drawing, Knife(0.25, is_compensated=True), frame)
    turning = plot.strokes[0].points - 2.0
    assert len(plot.strokes) == 2
    assert turning[0] == pytest.approx((2.5, 5.25))
    assert turning[-1] == pytest.approx((5.75, 2.5))
    clipped = Loop(np.array([[5, 0], [60, 0], [60, 40], [0, 40], [0, 5]], float), np.zeros(5))
    other = Drawing("film", (0, 0, 60, 40), (LayerOf(Layer.WEEDING, "", "#000000", (clipped,)),))
    turning = film_plot(other, Knife(0.25, is_compensated=True), frame).strokes[0].points - 2.0
    assert turning[0] == pytest.approx((57.5, 34.75))
