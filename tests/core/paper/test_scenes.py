"""The small pictures of the order of work: one for every scene, inside its box, beside its step."""

from dataclasses import replace

import numpy as np
import pytest

from core.paper.order import FrameWork, Scene, in_its_frame
from core.paper.order_on_sheet import SheetWork, on_sheet_first
from core.paper.recorder import Recorder
from core.paper.scenes import HIGH, WIDE, draw_scene

WORK = FrameWork(
    "part.nc", "lap.nc", "corner", "stock top", 0.1, "paper", "2 mm", "program", 10000, 3.0,
    "upper left", "left", 6, is_punched=False, is_behind=False,
)  # fmt: skip


class Places(Recorder):
    """Every place that anything is drawn to."""

    def __init__(self):
        super().__init__()
        self.places = []

    def move(self, x, y):
        self.places.append((x, y))
        super().move(x, y)

    def line(self, x, y):
        self.places.append((x, y))
        super().line(x, y)

    def arc(self, x, y, bulge):
        self.places.append((x, y))
        super().arc(x, y, bulge)


@pytest.mark.parametrize("scene", list(Scene))
def test_every_scene_has_a_picture_that_stays_in_its_box(scene):
    surface = Places()
    draw_scene(surface, scene, (100.0, 50.0))
    places = np.array(surface.places) - (100.0, 50.0)
    assert len(places) > 6
    assert (places >= 0.0).all()
    assert (places <= (WIDE, HIGH)).all()


def scenes(stages):
    return [step.scene for stage in stages for step in stage.steps if step.scene]


def test_the_key_hole_is_drawn_where_the_words_say_it_is():
    for work in (WORK, replace(WORK, is_behind=True), replace(WORK, is_punched=True)):
        (step,) = [
            step
            for stage in in_its_frame(work)
            for step in stage.steps
            if "key hole, the larger" in step.words
        ]
        assert step.scene.value in step.words


def test_bringing_film_and_part_together_is_shown_step_by_step():
    looked = scenes(in_its_frame(WORK))
    punched = scenes(in_its_frame(replace(WORK, is_punched=True)))
    assert {Scene.LOWER_FRAME, Scene.DOT_IN_HOLE, Scene.TURN_OVER, Scene.RUB, Scene.BREAK_OUT} <= set(looked)
    assert {Scene.PUNCH, Scene.HINGE} <= set(punched)
    assert not {Scene.PUNCH, Scene.HINGE} & set(looked)


def test_with_film_on_the_sheet_first_the_marks_are_read_before_anything_is_cut():
    marks = ((0.0, 0.0), (100.0, 0.0), (20.0, 60.0))
    before = on_sheet_first(SheetWork(replace(WORK, program=""), marks, ()))
    after = on_sheet_first(SheetWork(WORK, marks, marks))
    assert [stage.title for stage in before][-1] == "Find the sheet"
    titles = [stage.title for stage in after]
    assert titles.index("Check where the sheet lies") < titles.index("Cut the part")
    assert Scene.JOG in scenes(before)
    assert "(20.00, 60.00)" in " ".join(step.words for stage in after for step in stage.steps)
