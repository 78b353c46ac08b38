"""The paper proof: true size on as many pages as it takes, joined by marks that both pages carry."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.outline.loop import Loop
from core.outline.region import Region
from core.paper.paper_proof import PaperProof, ProofFilm, paper_proof_pages, proof_tiling
from core.paper.pdf import A4, LETTER
from core.paper.tiles import ABOVE, BELOW, LEFT, RIGHT, SHARED, tiled
from core.sheet.mark import Mark
from core.sheet.stock import Stock

SIZES = st.floats(5.0, 900.0)


def proof_of(wide, deep):
    part = (Region(Loop.circle((wide / 2, deep / 2), min(wide, deep) / 3)),)
    stock = Stock(wide, deep, 3.0, 0.0, 0.1, 0.1, is_clear=True)
    marks = (Mark((10.0, 10.0), 7.0, 6.0, is_key=True),)
    return PaperProof("turtle-118mm", stock, part, part, (ProofFilm("#1f7a6d", part),), marks)


@given(SIZES, SIZES, st.sampled_from([A4, LETTER]), st.floats(-50, 50), st.floats(-50, 50))
def test_every_point_is_shown_on_some_page_inside_its_window(wide, deep, paper, x, y):
    tiling = tiled((x, y, x + wide, y + deep), paper)
    corners = [(x, y), (x + wide, y), (x, y + deep), (x + wide, y + deep), (x + wide / 2, y + deep / 2)]
    for at in corners:
        assert any(shows(tile, at) for tile in tiling.tiles)
    for tile in tiling.tiles:
        left, below = tile.seen[0] + tile.shift[0], tile.seen[1] + tile.shift[1]
        right, above = tile.seen[2] + tile.shift[0], tile.seen[3] + tile.shift[1]
        assert (left, below) == pytest.approx((LEFT, BELOW))
        assert right == pytest.approx(tiling.paper.width_mm - RIGHT)
        assert above == pytest.approx(tiling.paper.height_mm - ABOVE)


def shows(tile, at):
    x_min, y_min, x_max, y_max = tile.seen
    slack = 1e-9
    return x_min - slack <= at[0] <= x_max + slack and y_min - slack <= at[1] <= y_max + slack


@given(SIZES, SIZES)
def test_neighbours_share_a_strip_and_carry_the_same_marks_in_it(wide, deep):
    tiling = tiled((0.0, 0.0, wide, deep), A4)
    for row in range(tiling.rows):
        line = [tile for tile in tiling.tiles if tile.row == row]
        for left, right in pairwise(line):
            assert left.seen[2] - right.seen[0] == pytest.approx(SHARED)
            shared = [
                one
                for one in tiling.joins(left)
                if any(one == pytest.approx(other) for other in tiling.joins(right))
            ]
            assert len(shared) >= 2


def test_a_small_job_is_one_page_and_a_wide_one_is_laid_on_its_side():
    assert len(proof_tiling(proof_of(120.0, 150.0)).tiles) == 1
    wide = proof_tiling(proof_of(260.0, 150.0))
    assert len(wide.tiles) == 1
    assert wide.paper.width_mm > wide.paper.height_mm
    assert len(proof_tiling(proof_of(300.0, 400.0)).tiles) > 1


def test_every_page_says_which_it_is_and_how_to_print_it():
    proof = proof_of(300.0, 400.0)
    tiling = proof_tiling(proof)
    pages = paper_proof_pages(proof, tiling)
    for number, page in enumerate(pages, 1):
        words = " ".join(one.words for one in page.writings())
        assert f"page {number} of {len(pages)}" in words
        assert "Print at 100 %" in words
