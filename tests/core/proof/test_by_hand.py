"""What was done to films by hand is believed within bounds of the proof's own."""

from dataclasses import replace

import pytest
import shapely

from core.proof.by_hand import moved_findings, with_islands
from core.proof.claims import BridgeClaim, FineClaim
from tests.core.proof.claimed import claims

FACE = shapely.box(0, 0, 60, 40)
#: Two pieces of a film, 2 mm apart.
PIECES = shapely.MultiPolygon([shapely.box(5, 5, 20, 20), shapely.box(22, 5, 30, 20)])


def bridged(start, end, width):
    film = claims().films[0]
    film = replace(film, bridges=(BridgeClaim(start, end, width),))
    (made,) = with_islands([PIECES], [film], [FACE])
    return made.area - PIECES.area


def test_a_bridge_between_two_pieces_is_film():
    assert bridged((20, 10), (22, 10), 1.0) == pytest.approx(2.0, abs=0.01)


@pytest.mark.parametrize(
    ("start", "end", "width"),
    [
        ((40, 10), (42, 10), 1.0),
        ((20, 30), (22, 30), 9.0),
        ((20, 12.5), (22, 12.5), 10.5),
        ((30, 10), (44, 10), 1.0),
    ],
)
def test_one_that_joins_nothing_or_is_larger_than_any_is_none(start, end, width):
    assert bridged(start, end, width) == 0.0


@pytest.mark.parametrize("fine", [FineClaim(most_mm=1.01), FineClaim(stroke_mm=5.1), FineClaim(gap_mm=5.1)])
def test_more_than_may_be_moved_is_a_stop_whatever_was(fine):
    (stop,) = moved_findings("sky.svg", PIECES, PIECES, fine)
    assert stop.code == "film-not-moved"
    assert moved_findings("sky.svg", PIECES, PIECES, FineClaim(5.0, 5.0, 1.0)) == ()
