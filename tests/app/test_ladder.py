"""Several heights make a kit each, side by side; the limits of a size are said in words."""

from pathlib import Path

import pytest

from app.edge import run
from app.limit_words import limit_lines
from core.findings import Finding, Level
from core.limits import Limit, Limits

DEMO = Path(__file__).parents[2] / "assets" / "demo" / "turtle.png"


def said_by(*arguments):
    return run([str(each) for each in arguments])


def test_each_height_gets_a_kit_of_its_own(tmp_path):
    assert said_by("make", DEMO, "--height", "60mm", "--height", "2 1/2 in", "--out", tmp_path / "kits") == 0
    assert sorted(place.name for place in (tmp_path / "kits").iterdir()) == ["turtle-60mm", "turtle-63.5mm"]
    for place in (tmp_path / "kits").iterdir():
        assert said_by("check", place) == 0


@pytest.mark.parametrize("height", ["25mm", "40mm", "47.3mm"])
def test_a_small_shape_with_tight_bends_and_films_that_overlap_is_proven(tmp_path, height):
    assert said_by("make", DEMO, "--height", height, "--out", tmp_path / "kit") == 0


def test_a_report_or_a_height_given_twice_is_refused_before_any_work(tmp_path):
    for wrong in (("--height", "60mm", "--report", "-"), ("--height", "118.0 mm")):
        assert said_by("make", DEMO, "--height", "118mm", *wrong, "--out", tmp_path / "kits") != 0
        assert not (tmp_path / "kits").exists()


def test_the_limits_are_said_with_what_breaks_beyond():
    lost = Finding(Level.CAUTION, "film-vanished", "The film sky vanishes.", "Make it larger.")
    lines = list(limit_lines(Limits(Limit(42.94, lost), Limit(173.2, None), 0.166, 0.002, 2000.0)))
    assert lines[0] == "Smallest height that can be cut: 42.9 mm; beyond: The film sky vanishes."
    assert lines[1] == "Largest height that can be cut: 173 mm."
    assert "a pixel is 0.166 mm" in lines[2]
    assert "answer the stops" in next(limit_lines(Limits(None, None, 0.1, 0.0, 1.0)))
