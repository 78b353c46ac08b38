"""A saved Job: nothing lost on the way to text and back, and every mistake named with its line."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BadValue, UnreadableFile
from core.job.job import CHOICES, Job
from core.job.saved import FORMAT, PictureEntry, SavedJob, is_relative, read_job, write_job
from tests.support.jobs import JOBS

TURTLE = PictureEntry("turtle.png", "ab" * 32)
EARLIER = """\
# for the kiosk
format = 1        # keep

[source]
picture = "turtle.png"
sha256 = "abababababababababababababababababababababababababababababababab"

[bit]   # the sharp one
diameter = "2.00 mm"     # measured
flutes = 1
colour = "gold"          # not ours

[shape]
height = '4 5/8 in'
colours = [
    "#2e7d5b film shell",   # the shell
    "#ffffff ground",
]

[workshop]
shelf = {row = 3, box = "b"}

[[workshop.note]]
text = "ask for \\"cast\\""
"""
SOURCE = 'format = 1\n[source]\npicture = "turtle.png"\n'


def saved(text: str) -> SavedJob:
    return read_job(text, "turtle.samecut")


@settings(max_examples=50)
@given(JOBS)
def test_a_job_reads_back_from_its_own_text(job):
    text = write_job(job, TURTLE)
    assert saved(text) == SavedJob(job, TURTLE)
    assert write_job(job, TURTLE, text) == text


@settings(max_examples=50)
@given(JOBS)
def test_only_what_differs_is_written_and_the_height(job):
    lines = write_job(job, TURTLE).splitlines()
    named = {line.partition(" = ")[0] for line in lines if " = " in line and not line.startswith("#")}
    typed_otherwise = {key for key in CHOICES if job.value(key) != CHOICES[key].default}
    wanted = {key.partition(".")[2] for key in typed_otherwise | {"shape.height"}}
    assert named - {"format", "picture", "sha256"} <= wanted | {""}


@settings(max_examples=40)
@given(JOBS, JOBS)
def test_a_job_written_over_another_is_the_later_one(before, after):
    text = write_job(after, TURTLE, write_job(before, TURTLE))
    assert saved(text).job == after


@settings(max_examples=50)
@given(JOBS)
def test_comments_unknown_keys_and_their_order_outlast_every_change(job):
    text = write_job(job, TURTLE, EARLIER)
    assert saved(text).job == job
    assert saved(text).unknown == ("bit.colour", "workshop")
    kept = ["# for the kiosk", "# keep", "# the sharp one", 'colour = "gold"          # not ours']
    kept += ['shelf = {row = 3, box = "b"}', "[[workshop.note]]", 'text = "ask for \\"cast\\""']
    places = [text.index(piece) for piece in kept]
    assert places == sorted(places)


def test_an_unchanged_job_leaves_every_byte_of_the_earlier_text():
    assert write_job(saved(EARLIER).job, TURTLE, EARLIER) == EARLIER


def test_one_change_changes_one_line():
    job = saved(EARLIER).job.with_choice("bit.diameter", "3.175")
    before, after = EARLIER.splitlines(), write_job(job, TURTLE, EARLIER).splitlines()
    assert [line for line in after if line not in before] == ['diameter = "3.175"     # measured']


@pytest.mark.parametrize(
    "form",
    [
        'bit.diameter = "3 mm"\nbit.flutes = 2\nformat = 1\n[source]\npicture = "turtle.png"\n',
        'format = 1\nbit = {diameter = "3 mm", flutes = 2}\n[source]\npicture = "turtle.png"\n',
        'format = 1\nsource.picture = "turtle.png"\n[bit]\ndiameter = 3\nflutes = "2"',
        'format = 1\r\n[source]\r\npicture = "turtle.png"\r\n[bit]\r\ndiameter = 3.0\r\nflutes = 2\r\n',
        SOURCE + "[bit]\ndiameter = 3\nflutes = 2\n[x]\ny = 1\n[bit.extra]\nz = 2\n",
        '\ufeffformat = 1\n[source]\npicture = "turtle.png"\n["bit"]\n"diameter" = """3 mm"""\nflutes = 2\n',
    ],
)
def test_every_way_that_toml_has_to_say_it_is_read_and_can_be_changed(form):
    job = saved(form).job
    assert (job.bit.diameter.value, job.bit.flutes) == (3.0, 2)
    changed = (
        job.with_choice("bit.flutes", "3")
        .with_choice("bit.flute_length", "12")
        .with_choice("film.inset", "1")
    )
    assert saved(write_job(changed, TURTLE, form)).job == changed
    reset = job.with_choice("bit.flutes", "1")
    assert saved(write_job(reset, TURTLE, form)).job == reset


def test_the_picture_keeps_its_first_name_under_another():
    job = Job(source="turtle.png")
    text = write_job(job, PictureEntry("turtle-118mm.png"))
    assert saved(text).job.source == "turtle.png"
    assert saved(write_job(job, PictureEntry("turtle.png"), text)) == SavedJob(
        job, PictureEntry("turtle.png")
    )


def test_another_picture_under_the_same_name_is_refused_unless_the_digest_is_taken_out():
    one = SavedJob(Job(source="a.png"), PictureEntry("a.png", "00" * 32))
    with pytest.raises(
        UnreadableFile, match=r"a\.png is no longer the picture that job\.samecut was made from"
    ):
        one.source(b"other", "job.samecut")
    assert SavedJob(one.job, PictureEntry("a.png")).source(b"other", "job.samecut").data == b"other"


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (SOURCE + "\n[bit]\n# hello\ndiameter = 3.0e1\n", ", line 7: bit.diameter: '3.0e1' is no length"),
        (
            SOURCE + '[bit]\ndiameter = "40 mm"',
            ", line 5: bit.diameter: 40 mm is too much; it takes 0.2 mm to 12.7 mm.",
        ),
        (SOURCE + "[bit]\nflutes = 1979-05-27", ", line 5: bit.flutes: write it as text, as a number"),
        (SOURCE + "[bit]\nflutes = {a = 1}", ", line 5: bit.flutes: write it as text"),
        (SOURCE + "[bit]\ndiameter = inf", ", line 5: bit.diameter: 'inf' is no length"),
        (SOURCE + "[shape]\ncolours = [['#fff film']]", ", line 5: shape.colours: write it as text"),
        (
            SOURCE + "[shape]\ncolours = [\n '#fff film',\n '#ff film']",
            ", line 5: shape.colours: '#ff' is no colour",
        ),
        ("bit = 3\n" + SOURCE, ", line 1: bit is a group of choices"),
        ("format = 2\n[source]\npicture = 'a.png'", ", line 1: format 2 needs a newer Samecut"),
        ("format = true", ", line 1: a Job says which format"),
        ("[source]\npicture = 'a.png'", "turtle.samecut: a Job says which format"),
        ("format = 1", "a Job names its picture"),
        ("format = 1\n[source]\npicture = '/etc/passwd'", ", line 3: '/etc/passwd' is no path from the Job"),
        ("format = 1\n[source]\npicture = 'C:/a.png'", ", line 3: 'C:/a.png' is no path from the Job"),
        ("format = 1\n[source]\npicture = 'a.png'\nsha256 = 3", ", line 4: sha256 is the picture's digest"),
        ("format = 1\n[source]\npicture = 'a.png'\nname = 'x/y'", ", line 4: name is what"),
        ("format = 1\nformat = 1\n", "cannot be read as a Job: Cannot overwrite a value (at line 2"),
        ("\x00", "cannot be read as a Job"),
        ("x = " + "[" * 5000, "cannot be read as a Job"),
        ("x = " + "9" * 5000, "cannot be read as a Job"),
        ("#" * 1_000_001, "is too long to be a Job"),
    ],
)
def test_a_wrong_job_is_one_sentence_with_line_and_reason(text, sentence):
    with pytest.raises(UnreadableFile) as caught:
        saved(text)
    assert sentence in str(caught.value)
    assert str(caught.value).startswith("turtle.samecut")


@settings(max_examples=100)
@given(
    st.integers(0, len(EARLIER)),
    st.integers(0, 12),
    st.text(max_size=4) | st.sampled_from(list("[]{}\"'=.,\n")),
)
def test_a_damaged_job_is_read_or_refused_and_can_be_written_again(at, length, put):
    damaged = EARLIER[:at] + put + EARLIER[at + length :]
    try:
        job = saved(damaged).job
    except UnreadableFile:
        return
    changed = job.with_choice("film.inset", "1.25 mm")
    assert saved(write_job(changed, TURTLE, damaged)).job == changed


@pytest.mark.parametrize(
    ("path", "leads"),
    [
        ("a.png", True),
        ("../x/a b.png", True),
        ("", False),
        (".", False),
        ("/a", False),
        ("c:a", False),
        ("//h/a", False),
        ("a\x00b", False),
        ("\\\\h\\s\\a", False),
    ],
)
def test_only_a_path_from_the_job_leads_to_its_picture(path, leads):
    assert is_relative(path) is leads


def test_a_job_is_not_written_with_a_path_that_cannot_be_read_again():
    with pytest.raises(BadValue):
        write_job(Job(source="a.png"), PictureEntry("/a.png"))


def test_the_format_is_the_first_thing_a_new_job_says():
    assert write_job(Job(source="a.png"), TURTLE).splitlines()[1] == f"format = {FORMAT}"


def test_a_default_that_was_typed_another_way_stays_as_it_was_typed():
    job = Job(source="turtle.png").with_choice("bit.diameter", "0,2 cm")
    text = write_job(job, TURTLE)
    assert 'diameter = "0,2 cm"' in text
    assert saved(text).job.text("bit.diameter") == "0,2 cm"


def test_a_second_picture_stands_beside_the_first_and_goes_again():
    job, face = Job("turtle.png", "painted.png"), PictureEntry("turtle-118mm-face.png", "cd" * 32)
    text = write_job(job, TURTLE, EARLIER, face)
    found = saved(text)
    assert (found.job.face, found.face) == ("painted.png", face)
    assert write_job(job, TURTLE, text, face) == text
    alone = write_job(Job("turtle.png"), TURTLE, text)
    assert saved(alone).face is None
    assert "face" not in alone


@pytest.mark.parametrize("path", ["/painted.png", 3])
def test_a_second_picture_that_is_nowhere_is_refused_with_its_line(path):
    said = f'"{path}"' if isinstance(path, str) else str(path)
    text = f'format = 1\n[source]\npicture = "turtle.png"\nface = {said}\n'
    with pytest.raises(UnreadableFile, match="line 4"):
        saved(text)


def test_a_default_that_was_said_is_written_read_and_taken_back():
    job = Job(source="turtle.png").with_choice("film.inset", "0.8 mm")
    picture = PictureEntry("turtle.png")
    text = write_job(job, picture)
    assert 'inset = "0.8 mm"' in text
    assert read_job(text, "turtle.samecut").job == job
    again = write_job(job.with_default("film.inset"), picture, text)
    assert "inset" not in again
