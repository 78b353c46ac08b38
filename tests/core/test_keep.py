"""What is kept between two Builds, and what is made again."""

import pytest

from core.cancel import CancelToken
from core.errors import Cancelled
from core.keep import Keeper


class Choices:
    """A stand-in for a Job: the values that wake each stage."""

    def __init__(self, **values):
        self.values = values

    def __call__(self, stage):
        return (self.values.get(stage),)


def run(choices, earlier=None, token=None):
    keeper = Keeper(token or CancelToken(), choices, earlier or {})
    made = []
    first = keeper.stage("first", ("picture",), lambda: made.append("first") or object())
    second = keeper.stage("second", (first,), lambda: made.append("second") or object())
    keeper.stage("third", (second,), lambda: made.append("third") or object())
    return keeper.kept, made


def test_nothing_is_made_again_when_nothing_changed():
    kept, _ = run(Choices(first=1, second=2))
    again, made = run(Choices(first=1, second=2), kept)
    assert made == []
    assert again["third"].result is kept["third"].result


def test_a_choice_wakes_its_stage_and_all_that_stand_on_it():
    kept, _ = run(Choices(first=1, second=2))
    _, made = run(Choices(first=1, second=3), kept)
    assert made == ["second", "third"]


def test_a_choice_of_the_last_stage_wakes_no_other():
    kept, _ = run(Choices(third=1))
    _, made = run(Choices(third=2), kept)
    assert made == ["third"]


def test_work_that_is_given_up_stops_between_two_stages():
    answers = iter([False, True])
    with pytest.raises(Cancelled):
        run(Choices(), token=CancelToken(lambda: next(answers)))
