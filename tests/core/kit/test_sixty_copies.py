"""Sixty copies by removal: no cut that the program's bytes make, of whatever copy, bites any piece."""

from time import process_time

import numpy as np
import pytest
import shapely

from core.build import build
from core.job.resolve import fit_rule, machine_of, stock_wish
from core.kit.kit import KitNames
from core.kit.make import job_name
from core.kit.programs import write_programs
from core.outline.polygon import to_polygon
from core.program.read.read import read_program
from core.sheet.lay_out import lay_out
from tests.support.pictures import badge, job

COUNT, HEIGHT, BIT = 60, "26 mm", 2.0
WIDE = {"machine.travel_x": "700 mm", "machine.travel_y": "600 mm"}
#: mm that arcs are flattened to here, and by which a cut may seem to touch what it runs along.
FLAT, TOUCH = 1e-3, 5e-3
#: s of work in which the whole layout is to be there.
PROMISED = {"rows": 1.0, "tight": 10.0}


@pytest.fixture(scope="module", params=["rows", "tight"])
def sixty(request):
    wish = {"stock.copies": str(COUNT), "shape.height": HEIGHT, "stock.nesting": request.param, **WIDE}
    made = build(job(**wish), badge())
    written = write_programs(made, KitNames(job_name(made.job, made.source), made.height_mm))
    data = next(file.data for file in written.files if "part" in file.path)
    return request.param, made, read_program(data)


def pieces_of(made):
    """Every copy as it is to be left."""
    one = shapely.union_all(shapely.get_parts(to_polygon(made.as_cut, FLAT)))
    return np.array([shapely.transform(one, copy.points) for copy in made.layout.copies], dtype=object)


def ways_of(program):
    """The way of the bit's middle wherever it is below the stock's top, as lines."""
    below = np.flatnonzero(np.fmin(program.starts[:, 2], program.ends[:, 2]) < -1e-6)
    lines = []
    for row in below:
        start, end = program.starts[row, :2], program.ends[row, :2]
        turn = program.turns[row]
        if not turn:
            lines.append((start, end))
            continue
        centre = program.centres[row]
        first, last = start - centre, end - centre
        radius = float(np.hypot(*first))
        angle = np.arctan2(first[1], first[0])
        sweep = (turn * (np.arctan2(last[1], last[0]) - angle)) % (2 * np.pi) or 2 * np.pi
        count = max(2, int(np.ceil(sweep / (2 * np.arccos(1 - min(FLAT / radius, 0.5))))))
        angles = angle + turn * np.linspace(0, sweep, count + 1)
        lines.append(centre + radius * np.column_stack((np.cos(angles), np.sin(angles))))
    return shapely.linestrings(
        np.vstack(lines), indices=np.repeat(np.arange(len(lines)), list(map(len, lines)))
    )


def test_no_cut_bites_a_piece_and_pieces_keep_apart(sixty):
    _, made, program = sixty
    pieces = pieces_of(made)
    assert len(pieces) == COUNT
    tree = shapely.STRtree(pieces)
    ways = ways_of(program)
    bitten, _ = tree.query(ways, predicate="dwithin", distance=BIT / 2 - TOUCH)
    assert not bitten.size
    near, _ = tree.query(ways, predicate="dwithin", distance=BIT / 2 + TOUCH)
    assert np.unique(near).size > COUNT * 10  # each is cut round, by many moves
    one, other = tree.query(pieces, predicate="dwithin", distance=2 * BIT + 2.0)
    assert (one == other).all()


def test_every_piece_is_cut_round_and_hangs_on_its_tabs_alone(sixty):
    _, made, program = sixty
    pieces = pieces_of(made)
    ways = ways_of(program)
    row, piece = shapely.STRtree(pieces).query(ways, predicate="dwithin", distance=BIT / 2 + TOUCH)
    slots = [
        shapely.union_all(ways[row[piece == index]]).buffer(BIT / 2 + 2 * TOUCH) for index in range(COUNT)
    ]
    for index, slot in enumerate(slots):
        assert pieces[index].boundary.difference(slot).length < 0.05


def test_a_copy_moved_by_a_bit_would_be_bitten(sixty):
    """The measure itself: it sees one piece that lies where it should not."""
    _, made, program = sixty
    pieces = pieces_of(made)
    pieces[7] = shapely.transform(pieces[7], lambda points: points + np.array([0.1, 0.0]))
    bitten, which = shapely.STRtree(pieces).query(
        ways_of(program), predicate="dwithin", distance=BIT / 2 - TOUCH
    )
    assert bitten.size
    assert set(which.tolist()) == {7}


def test_they_are_laid_out_in_the_time_that_is_promised(sixty):
    way, made, _ = sixty
    machine, asked = machine_of(made.job), stock_wish(made.job)
    begun = process_time()
    laid = lay_out(made.reach.regions, asked, fit_rule(made.job), bit_mm=BIT, travel_mm=machine.travel_mm[:2])
    assert process_time() - begun <= PROMISED[way]
    assert len(laid.copies) == COUNT
