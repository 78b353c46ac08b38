"""The Job and its declarations: every choice changed by its text alone, nothing else moving."""

import pickle
import subprocess
import sys
from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadValue, WrongCall
from core.job.choice import AUTO, Stage
from core.job.job import CHOICES, GIVING_WAY, Job, Source, choice_named, nearest_choice
from tests.support.jobs import JOBS, texts_of

KEYS = st.sampled_from(sorted(CHOICES))


def test_groups_stand_in_the_order_that_is_promised():
    promised = [
        "picture",
        "shape",
        "part",
        "film",
        "fit",
        "stock",
        "bit",
        "cutting",
        "knife",
        "machine",
        "files",
    ]
    assert [entry.name for entry in fields(Job)] == ["source", "face", *promised, "said"]


@pytest.mark.parametrize("key", sorted(CHOICES))
def test_every_choice_is_declared_whole(key):
    choice = CHOICES[key]
    assert choice.key == key
    assert choice.help
    assert "\n" not in choice.help + choice.limits() + choice.default_text
    assert choice.limits()
    assert choice.wakes in Stage
    assert choice.read(choice.default_text) == choice.default == Job().value(key)
    assert choice.written(choice.default) == choice.default_text


@pytest.mark.parametrize(
    ("key", "inside"),
    [
        ("stock.thickness", [3.0]),
        ("stock.masking_top", 0.1),
        ("bit.diameter", 2.0),
        ("bit.flute_length", 6.0),
        ("cutting.speed", 10_000.0),
        ("cutting.skim", 0.3),
        ("cutting.safe_height", 5.0),
        ("machine.travel_x", 300.0),
        ("machine.travel_y", 200.0),
        ("machine.travel_z", 50.0),
        ("machine.top_feed", 1000.0),
        ("machine.acceleration", 50.0),
        ("machine.acceleration_z", 30.0),
        ("machine.corner_deviation", 0.01),
        ("machine.spin_up", 5.0),
        ("part.tab_neck", 3.0),
        ("part.tab_height", 0.8),
        ("part.tab_spacing", 60.0),
        ("film.inset", 0.8),
    ],
)
def test_defaults_that_must_not_drift(key, inside):
    value = Job().value(key)
    assert ([place.value for place in value] if isinstance(value, tuple) else value.value) == inside


def test_words_that_must_not_drift():
    job = Job()
    assert (job.fit.way, job.bit.flutes, job.part.tab_count, job.stock.zero_at) == ("frame", 1, 4, (0.0, 0.0))
    assert (job.machine.spindle, job.machine.arcs, job.machine.extension, job.machine.ending) == (
        "program", True, "nc", "M2",
    )  # fmt: skip
    assert job.stock.is_clear
    assert job.shape.height is AUTO


@given(KEYS, st.data())
def test_a_choice_changes_itself_and_nothing_else(key, data):
    text = data.draw(texts_of(key))
    job = Job(source="turtle.png").with_choice(key, text)
    assert job.value(key) == CHOICES[key].read(text)
    assert all(job.value(other) == Job().value(other) for other in CHOICES if other != key)
    assert set(job.differences()) <= {key}
    assert job.with_choice(key, job.text(key)) == job
    assert job.with_default(key) == Job(source="turtle.png")
    said = job.with_choice(key, CHOICES[key].default_text)
    assert replace(said, said=frozenset()) == Job(source="turtle.png")
    assert said.said == ({key} if key in GIVING_WAY else frozenset())


@pytest.mark.parametrize("key", sorted(GIVING_WAY))
def test_a_default_that_was_said_does_not_give_way_and_the_default_itself_does(key):
    job = Job()
    assert job.gives_way(key)
    said = job.with_choice(key, CHOICES[key].default_text)
    assert not said.gives_way(key)
    assert said.is_default(key)
    assert said.woken_by(CHOICES[key].wakes) != job.woken_by(CHOICES[key].wakes)
    assert said.with_default(key) == job


@given(JOBS)
def test_a_job_is_a_value(job):
    copy = pickle.loads(pickle.dumps(job))  # noqa: S301 - our own bytes
    assert copy == job
    assert hash(copy) == hash(job)
    assert (copy.value("shape.height") is AUTO) == (job.shape.height is AUTO)


def test_a_default_typed_another_way_does_not_differ():
    job = Job().with_choice("bit.diameter", "0.2 cm").with_choice("stock.thickness", "3,00")
    assert job.differences() == ()
    assert job != Job()
    assert job.text("bit.diameter") == "0.2 cm"


@given(KEYS, st.data())
def test_a_choice_wakes_its_own_stage_alone(key, data):
    job = Job().with_choice(key, data.draw(texts_of(key)))
    woken = {stage for stage in Stage if job.woken_by(stage) != Job().woken_by(stage)}
    assert woken == (set() if job == Job() else {CHOICES[key].wakes})


@pytest.mark.parametrize(
    ("asked", "nearest"),
    [
        ("bit.diametr", "bit.diameter"),
        ("diameter", "bit.diameter"),
        ("Bit.Diameter", "bit.diameter"),
        ("part.tab-neck", "part.tab_neck"),
        ("hieght", "shape.height"),
        ("wrong.flutes", "bit.flutes"),
        ("qqqqqq", ""),
    ],
)
def test_a_choice_that_does_not_exist_names_its_nearest(asked, nearest):
    assert nearest_choice(asked) == nearest
    with pytest.raises(WrongCall, match=nearest or "lists them all"):
        Job().with_choice(asked, "1")


@pytest.mark.parametrize(
    ("key", "text", "sentence"),
    [
        ("shape.height", "abc", "shape.height: 'abc' is no length; write it like "),
        ("shape.height", "0", "shape.height: 0 is too little; it takes 5 mm to 2 m."),
        ("shape.height", "1 km", "shape.height: 1 km is too much; it takes 5 mm to 2 m."),
        ("bit.flutes", "auto", "bit.flutes: it cannot be auto; it takes 1 to 6."),
        ("fit.way", "glue", "fit.way: 'glue'"),
    ],
)
def test_a_wrong_value_is_one_sentence_that_names_the_choice(key, text, sentence):
    with pytest.raises(BadValue) as caught:
        choice_named(key).read(text)
    assert str(caught.value).startswith(sentence)


def test_auto_is_known_in_any_case():
    assert Job().with_choice("cutting.feed", " AUTO ").cutting.feed is AUTO


def test_a_source_has_a_stem_and_a_digest():
    source = Source("my.turtle.png", b"abc")
    assert source.stem == "my.turtle"
    assert source.digest == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert Source("plain", b"").stem == "plain"
    assert "abc" not in repr(source)


def test_the_job_stands_without_numbers_pictures_or_a_window():
    heavy = "numpy", "cv2", "PySide6", "typer", "tomlkit", "shapely"
    code = f"import sys, core.job, core.job.saved; print([m for m in {heavy} if m in sys.modules])"
    assert subprocess.check_output([sys.executable, "-c", code], text=True).strip() == "[]"
