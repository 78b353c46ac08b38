"""The proof of stencils: the negative by its own means, bridges as asked for and no others."""

import pytest
import shapely

from core.proof.claims import BridgeClaim, FilmClaim, StencilClaim
from core.proof.films import film_edge, film_findings
from core.proof.readback import Why
from core.proof.rim import Asked
from core.proof.stencil import all_beds, stencil_findings, with_stencils

PART = shapely.box(0, 0, 60, 40)
FACE = PART.buffer(-1.0, join_style="mitre")
RING = shapely.box(10, 10, 30, 30).difference(shapely.box(16, 16, 24, 24))
LEFT = BridgeClaim((8.0, 20.0), (18.0, 20.0), 2.0)
RIGHT = BridgeClaim((22.0, 20.0), (32.0, 20.0), 2.0)
BARS = shapely.union(shapely.box(8, 19, 18, 21), shapely.box(22, 19, 32, 21))


def proven(film, bridge_mm=0.0, bridges=(), loose=()):
    claim = FilmClaim("ink", 1.0, (80.0, 60.0), 0.6, stencil=StencilClaim(bridge_mm, bridges, loose))
    (asked,) = with_stencils([Asked(RING)], PART, [claim])
    (bed,) = all_beds([asked], PART, [claim])
    found = (
        *film_findings("ink.svg", film_edge(film, bed)),
        *stencil_findings("ink", claim.stencil, bed, asked),
    )
    return {one.code for one in found}


def test_the_negative_without_bridges_is_proven():
    assert proven(FACE.difference(RING)) == set()


@pytest.mark.parametrize(
    "film", [RING, FACE, FACE.difference(RING.buffer(0.02)), FACE.difference(RING).union(BARS)]
)
def test_anything_else_is_a_stop(film):
    assert "film-differs" in proven(film)


def test_bridges_are_proven_when_two_hold_each_island():
    assert proven(FACE.difference(RING).union(BARS), 2.0, (LEFT, RIGHT)) == set()


def test_a_bridge_that_is_claimed_and_not_there_is_a_stop():
    assert "film-differs" in proven(FACE.difference(RING), 2.0, (LEFT, RIGHT))
    thin = shapely.union(shapely.box(8, 19.1, 18, 20.9), shapely.box(22, 19, 32, 21))
    assert "film-differs" in proven(FACE.difference(RING).union(thin), 2.0, (LEFT, RIGHT))


def test_one_bridge_is_not_two_and_none_only_where_the_report_gives_the_island_up():
    one = FACE.difference(RING).union(shapely.box(8, 19, 18, 21))
    assert "stencil-island" in proven(one, 2.0, (LEFT,))
    assert "stencil-island" in proven(FACE.difference(RING), 2.0)
    assert proven(FACE.difference(RING), 2.0, (), ((20.0, 20.0),)) == set()
    assert "stencil-island" in proven(FACE.difference(RING), 2.0, (), ((3.0, 3.0),))


def test_bridges_nobody_asked_for_narrow_ones_and_those_off_the_face_are_stops():
    assert "stencil-bridge" in proven(FACE.difference(RING).union(BARS), 0.0, (LEFT, RIGHT))
    narrow = [BridgeClaim(one.start, one.end, 1.4) for one in (LEFT, RIGHT)]
    thin = shapely.union(shapely.box(8, 19.3, 18, 20.7), shapely.box(22, 19.3, 32, 20.7))
    assert "stencil-bridge" in proven(FACE.difference(RING).union(thin), 1.5, tuple(narrow))
    beyond = BridgeClaim((-5.0, 20.0), (18.0, 20.0), 2.0)
    assert "stencil-bridge" in proven(FACE.difference(RING).union(BARS), 2.0, (beyond, RIGHT))


def test_each_bridge_is_listed():
    claim = FilmClaim("ink", 1.0, (80.0, 60.0), stencil=StencilClaim(2.0, (LEFT, RIGHT)))
    (asked,) = with_stencils([Asked(RING)], PART, [claim])
    assert [one.why for one in asked.excepted] == [Why.BRIDGE] * 2
