"""The process that builds: newest first, errors as sentences, nothing traced twice."""

from pathlib import Path

import pytest

from app.desk.proof_words import since_told
from app.opened import earlier_report
from app.warm_up import warm_up
from app.worker import Answer, FirstLook, Wanted, Worker
from core.cancel import NEVER, CancelToken
from core.errors import Cancelled
from core.files import write_folder
from core.job.job import Job, Source
from core.kit.also import Also
from core.kit.make import make_kit
from core.kit.older_kit import is_older_kit

TURTLE = Path(__file__).parents[2] / "assets" / "demo" / "turtle.png"
LONG = 60.0  # s: a slow machine's first import of everything


@pytest.fixture(scope="module")
def worker():
    made = Worker()
    yield made
    made.close()
    assert not made.is_alive()


@pytest.fixture(scope="module")
def source():
    return Source("turtle.png", TURTLE.read_bytes())


def answers(worker, number):
    """Everything said until the answer with this number."""
    said = []
    while not said or not (isinstance(said[-1], Answer) and said[-1].number == number):
        one = worker.receive(LONG)
        assert one is not None, "the worker said nothing"
        said.append(one)
    return said


def test_a_job_is_shown_and_a_new_height_traces_nothing_again(worker, source):
    first = worker.ask(Wanted.SHOWN, Job().with_choice("shape.height", "60 mm"), source)
    *before, last = answers(worker, first)
    assert before[0].stage == "read"
    looks = [one for one in before if isinstance(one, FirstLook)]
    assert [one.result.is_first_look for one in looks] == [True]
    assert not last.result.is_first_look
    assert looks[0].result.size_mm == pytest.approx(last.result.size_mm, rel=2e-3)
    second = worker.ask(Wanted.SHOWN, Job().with_choice("shape.height", "90 mm"), source)
    said = answers(worker, second)
    assert said[0].stage == "shape"
    assert not any(isinstance(one, FirstLook) for one in said)
    assert said[-1].result.size_mm[1] == pytest.approx(90.0, abs=1e-6)


def test_only_the_newest_of_many_requests_is_answered(worker, source):
    numbers = [
        worker.ask(Wanted.SHOWN, Job().with_choice("shape.height", f"{height} mm"), source)
        for height in range(50, 70)
    ]
    answered = [one.number for one in answers(worker, numbers[-1]) if isinstance(one, Answer)]
    assert answered[-1] == numbers[-1]
    assert len(answered) <= 2


def test_a_bad_picture_is_one_sentence_and_the_worker_lives_on(worker, source):
    number = worker.ask(Wanted.SHOWN, Job(), Source("bad.png", b"no picture"))
    answer = answers(worker, number)[-1]
    assert answer.result is None
    assert "bad.png" in answer.sentence
    assert not answer.is_defect
    number = worker.ask(Wanted.SHOWN, Job().with_choice("shape.height", "80 mm"), source)
    assert answers(worker, number)[-1].result is not None


def test_a_kit_for_a_folder_with_an_older_kit_is_compared_with_it_as_make_does(worker, source, tmp_path):
    older, newer = (Job().with_choice("shape.height", "50 mm").with_choice("bit.diameter", f"{bit} mm")
                    for bit in (2, 1.5))  # fmt: skip
    first = answers(worker, worker.ask(Wanted.KIT, older, source, tmp_path / "kit"))[-1].result
    assert first.report["since"] is None
    write_folder(tmp_path / "kit", dict(first.files), is_older_kit)
    second = answers(worker, worker.ask(Wanted.KIT, newer, source, tmp_path / "kit"))[-1].result
    made = make_kit(newer, source, NEVER, lambda _: None, Also(earlier_report(None, tmp_path / "kit")))
    assert second.report["since"] == made.report["since"]
    assert {"name": "bit", "was": 2.0, "now": 1.5} in second.report["since"]["changed"]
    assert "bit was 2, now 1.5" in since_told(second.report)


def test_warming_up_builds_something_and_stops_when_somebody_asks():
    warm_up(NEVER)
    with pytest.raises(Cancelled):
        warm_up(CancelToken(lambda: True))
