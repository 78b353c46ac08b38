"""The history: what was done can be taken back and done again, by name."""

from hypothesis import given
from hypothesis import strategies as st

from app.desk.history import LONGEST, History, Step
from core.job.job import Job, Source

SOURCE = Source("a.png", b"a")
DEEDS = st.lists(st.sampled_from(["do", "back", "forth"]), max_size=60)


def step(number):
    return Step(Job().with_choice("shape.height", f"{10 + number} mm"), SOURCE, f"height {number}")


def run(deeds):
    history, model, at = History(), [Step()], 0
    for number, deed in enumerate(deeds):
        if deed == "do":
            history = history.with_step(step(number))
            model = [*model[: at + 1], step(number)]
            at += 1
        elif deed == "back":
            history, at = history.back(), max(0, at - 1)
        else:
            history, at = history.forth(), min(len(model) - 1, at + 1)
    return history, model, at


@given(DEEDS)
def test_it_does_what_a_plain_list_does(deeds):
    history, model, at = run(deeds)
    assert list(history.steps) == model
    assert history.now == model[at]


@given(DEEDS)
def test_taking_everything_back_ends_at_the_first_job(deeds):
    history, _, _ = run(deeds)
    for _ in deeds:
        history = history.back()
    assert history.now == Step()
    assert history.undo_words == ""


@given(DEEDS)
def test_back_and_forth_is_the_same(deeds):
    history, _, at = run(deeds)
    if at > 0:
        assert history.back().forth() == history


def test_a_step_is_called_by_its_words():
    history = History().with_step(step(1)).with_step(step(2))
    assert history.undo_words == "height 2"
    assert history.back().redo_words == "height 2"
    assert history.back().undo_words == "height 1"


def test_only_so_many_steps_are_kept():
    history = History()
    for number in range(LONGEST + 5):
        history = history.with_step(step(number))
    assert len(history.steps) == LONGEST
    assert history.now == step(LONGEST + 4)


def test_a_step_that_should_never_have_been_leaves_no_trace():
    history = History().with_step(step(1)).with_step(step(2)).without_now()
    assert history == History().with_step(step(1))
    assert History().without_now() == History()
