"""The proof of rims knows what was asked for, finds it by its own means, and stops at anything else."""

import pytest
import shapely

from core.findings import Level
from core.proof.claims import FilmClaim, RimClaim, RimRunClaim
from core.proof.films import beds, film_edge, film_findings
from core.proof.readback import Why
from core.proof.rim import asked_patch
from core.proof.rim_ends import wrong_at_ends

PART = shapely.box(0, 0, 40, 30)
INNER = shapely.box(1.5, 1.5, 38.5, 28.5)
RING = RimRunClaim((1.5, 1.5), (1.5, 1.5))
FRAME = PART.difference(INNER)
CROSSED = FRAME.union(shapely.box(19, 0, 21, 30))
LEFT_RUN = RimRunClaim((19.0, 1.5), (19.0, 28.5))  # an opening: the film on its left, so clockwise
RIGHT_RUN = RimRunClaim((21.0, 28.5), (21.0, 1.5))


def proven(film, patch, how, *runs, inset=0.8):
    claim = RimClaim(how, 4.0, runs)
    asked = asked_patch("ink", patch, PART, [], claim, inset)
    (bed,) = beds([asked], PART, [FilmClaim("ink", inset, (60.0, 50.0), rim=claim)])
    found = (
        *asked.findings,
        *film_findings("ink.svg", film_edge(film, bed)),
    )
    assert all(one.level is Level.STOP for one in found)
    wrong = wrong_at_ends(film, bed.face, bed.gone, asked)
    return {one.code for one in found} | ({"rim-end"} if not wrong.is_empty else set())


def face(inset=0.8):
    return PART.buffer(-inset, join_style="mitre")


def frame_of(outer, inner):
    return PART.buffer(-outer, join_style="mitre").difference(PART.buffer(-inner, join_style="mitre"))


def test_each_way_is_proven_when_it_was_asked_for():
    assert proven(frame_of(0.8, 2.3), FRAME, "moved", RING) == set()
    assert proven(frame_of(0.8, 1.5), FRAME, "thinned", RING) == set()
    assert proven(shapely.Polygon(), FRAME, "dropped", RING) == set()


@pytest.mark.parametrize(
    ("film", "how"),
    [
        (frame_of(0.8, 1.5), "moved"),
        (frame_of(0.8, 2.28), "moved"),
        (frame_of(0.8, 2.32), "moved"),
        (frame_of(0.8, 2.3), "thinned"),
        (frame_of(0.8, 1.5), "dropped"),
    ],
)
def test_any_other_rim_than_the_one_asked_for_is_a_stop(film, how):
    assert "film-differs" in proven(film, FRAME, how, RING)


def test_a_rim_that_nothing_is_said_of_is_a_stop():
    assert "rim-missed" in proven(frame_of(0.8, 1.5), FRAME, "moved")
    crossed = frame_of(0.8, 2.3).union(shapely.box(19, 0, 21, 30)).intersection(face())
    assert "rim-missed" in proven(crossed, CROSSED, "moved", LEFT_RUN)


def test_an_edge_that_is_no_rim_is_not_moved_by_a_claim():
    wide = PART.difference(shapely.box(9, 9, 31, 21))
    claimed = RimRunClaim((9.0, 9.0), (9.0, 9.0))
    assert "rim-strange" in proven(wide.intersection(face()), wide, "moved", claimed)
    away = RimRunClaim((5.0, 5.0), (6.0, 5.0))
    assert "rim-strange" in proven(frame_of(0.8, 1.5), FRAME, "moved", away)


def test_runs_on_both_sides_of_a_line_are_proven_with_their_ends():
    film = frame_of(0.8, 2.3).union(shapely.box(19, 0, 21, 30)).intersection(face())
    assert proven(film, CROSSED, "moved", LEFT_RUN, RIGHT_RUN) == set()
    bar = shapely.box(19, 0, 21, 30).intersection(face())
    assert proven(bar, CROSSED, "dropped", LEFT_RUN, RIGHT_RUN) == set()


def test_film_missing_where_a_run_ends_is_a_stop():
    film = frame_of(0.8, 2.3).union(shapely.box(19, 0, 21, 30)).intersection(face())
    runs = LEFT_RUN, RIGHT_RUN
    assert "rim-end" in proven(film.difference(shapely.box(19, 1.5, 21, 1.9)), CROSSED, "moved", *runs)
    assert "rim-end" in proven(film.difference(shapely.box(18.5, 2.2, 19, 2.4)), CROSSED, "moved", *runs)


def test_every_run_is_listed_with_its_length():
    asked = asked_patch("ink", FRAME, PART, [], RimClaim("moved", 4.0, (RING,)), 0.8)
    (one,) = asked.excepted
    assert one.why is Why.RIM
    assert one.size_mm == pytest.approx(2 * (37 + 27))
