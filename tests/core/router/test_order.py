"""The rules of order in the written path, and that a contour begins and ends where its task says."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outline.loop import Loop
from core.outline.measure import Inside
from core.outline.region import Region
from core.router.contour import Cut, begun, contour_task
from core.router.cutting import Direction
from core.router.order import CONTOURS, FREES_NOTHING, MARKS, Task, air_within, in_order, rules_of
from core.router.setup import Setup
from core.router.strand import Strand
from core.router.travel import air_travel
from core.router.unrolled import Unrolled
from core.router.way import Stop, greedy
from core.sheet.placement import Placement
from tests.core.router.sheet_after import BIT, CUTTING, MACHINE, TABS, planned, rectangle, sheet


def task_at(x, y, **told):
    spot = np.array([[x, y]])
    points = np.array([[x, y, 0.0], [x, y, -1.0]])
    strand = Strand(f"{x:.3f} {y:.3f}", points, np.zeros(1), np.ones(1))
    return Task(Stop(spot, spot, np.zeros(1)), lambda _: (strand,), **told)


def contours(seed, count):
    """Contours within contours at random places: each may lie in an earlier, larger one."""
    rng, tasks = np.random.default_rng(seed), []
    for number in range(count):
        size = 1e5 * 0.7**number * float(rng.uniform(0.5, 1.0))
        home = int(rng.integers(-1, number)) if number else -1
        within = () if home < 0 else (home, *tasks[home].within)
        x, y = rng.uniform(0, 200, 2)
        tasks.append(task_at(x, y, size=size, number=number, within=within))
    return tasks


def names_in_order(tasks):
    return [strand.name for strand in in_order(tuple(tasks), np.zeros(2))]


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6), st.integers(1, 14))
def test_what_lies_inside_comes_before_what_frees_it_and_small_before_large(seed, count):
    tasks = contours(seed, count)
    marks = [task_at(*np.random.default_rng(seed + n).uniform(0, 200, 2), rank=MARKS) for n in range(3)]
    bay = task_at(1.0, 199.0, rank=FREES_NOTHING, size=30.0)
    done = names_in_order([*tasks, bay, *marks])
    place = {id(task): done.index(task.made(0)[0].name) for task in (*tasks, bay, *marks)}
    assert max(place[id(mark)] for mark in marks) < place[id(bay)]
    for task in tasks:
        assert place[id(bay)] < place[id(task)]
        assert all(place[id(task)] < place[id(tasks[home])] for home in task.within)
        for other in tasks:
            if task.within[:1] == other.within[:1] and 4.0 * task.size < other.size:
                assert place[id(task)] < place[id(other)]


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6), st.integers(2, 14))
def test_the_way_is_never_longer_than_the_nearest_next_of_the_same_rules(seed, count):
    tasks = tuple(contours(seed, count))
    spots = np.array([task.stop.begins[0] for task in tasks])
    usual = spots[greedy(spots, spots, rules_of(tasks), np.zeros(2))]
    found = np.array([strand.points[0, :2] for strand in in_order(tasks, np.zeros(2))])
    lengths = [np.hypot(*np.diff(np.vstack(((0, 0), way)), axis=0).T).sum() for way in (found, usual)]
    assert lengths[0] <= lengths[1] + 1e-9


@pytest.mark.parametrize("rough", list(Direction))
@pytest.mark.parametrize("has_last_lap", [True, False])
@pytest.mark.parametrize("is_beside", [True, False])
def test_a_contour_begins_and_ends_where_its_task_says(rough, has_last_lap, is_beside):
    setup = Setup(sheet(), BIT, replace(CUTTING, rough=rough, has_last_lap=has_last_lap), TABS, MACHINE)
    path = Unrolled.of(Loop.circle((70.0, 75.0), 31.0))
    passes = Unrolled.of(Loop.circle((70.0, 75.0), 31.2)) if is_beside else None
    kept = Inside.of((Region(Loop.circle((70.0, 75.0), 31.0 - 1e-6)),))
    contour = begun(Cut("edge", path, passes, (), kept), setup)
    milled = (Strand("waste", np.array([[1.0, 2.0, 0.0], [3.0, 4.0, 0.0]]), np.zeros(1), np.ones(1)),)
    for before in ((), milled):
        task = contour_task(contour, before, setup)
        assert task.stop.within.size > 10
        for manner in range(0, task.stop.within.size, 5):
            strands = task.made(manner)
            assert task.stop.begins[manner] == pytest.approx(strands[0].points[0, :2], abs=1e-9)
            assert task.stop.ends[manner] == pytest.approx(strands[-1].points[-1, :2], abs=1e-9)
            assert task.stop.within[manner] == pytest.approx(air_within(strands), abs=1e-9)


def of_contours(made):
    """The names of the contours in the order of the path, each once."""
    names = [made.toolpath.names[index].name for index in made.toolpath.operations]
    return [name for name in dict.fromkeys(names) if "lap" not in name and "mark" not in name]


def test_of_pieces_on_a_sheet_the_small_ones_are_cut_while_it_is_stiff():
    part = tuple(Region(rectangle(*box)) for box in [(20, 20, 80, 80), (90, 20, 110, 40), (90, 50, 112, 70)])
    _, made = planned(part, layout=sheet(marks=()))
    assert of_contours(made)[-1] == "edge 1"


def test_an_edge_is_begun_near_the_mark_before_it():
    part = (Region(rectangle(30, 30, 110, 130)),)
    _, made = planned(part)
    path = made.toolpath
    names = [path.names[index].name for index in path.operations]
    first = names.index("edge")
    across = np.hypot(*(path.ends - path.starts())[:, :2].T)
    assert across[first : first + 2].max() < 40.0
    assert CONTOURS < FREES_NOTHING < MARKS


def test_copies_are_gone_through_row_by_row_not_to_and_fro():
    part = (Region(rectangle(10, 10, 40, 40)),)
    copies = tuple(Placement((50.0 * column, 50.0 * row), False) for column in range(4) for row in range(3))
    layout = replace(sheet(220.0, 170.0, marks=()), copies=copies)
    _, made = planned(part, layout=layout)
    travel = air_travel(made.toolpath)
    assert travel.travelled_mm < 1.2 * travel.least_mm
