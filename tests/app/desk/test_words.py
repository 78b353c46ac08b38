"""Sentence, cards, names, units, findings in groups, colours: what the window says, without a window."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.desk.cards import CARDS, card_of
from app.desk.finder import found
from app.desk.keys import KEYS
from app.desk.names import name_of
from app.desk.proof_words import files_told, proof_told
from app.desk.remedies import REMEDIES
from app.desk.sentence import plain, sentence, to_answer
from app.desk.spoken import other_unit, said
from app.desk.theme import DARK, LIGHT, TEXT_ON_GROUND, contrast, style_sheet
from app.desk.trade_words import WORDS
from app.desk.trade_words import found as explained
from core.findings import Finding, Level
from core.grouped import grouped
from core.job.job import CHOICES, Job, Source
from core.kit.kit import FileRole
from tests.support.jobs import texts_of

CORE = Path(__file__).parents[3] / "core"


def test_every_choice_lies_in_exactly_one_card():
    placed = [key for card in CARDS for key in card.choices]
    assert sorted(placed) == sorted(CHOICES)


def test_no_two_choices_of_a_card_have_one_name():
    for card in CARDS:
        names = [name_of(key) for key in card.choices]
        assert len(set(names)) == len(names)


def test_the_sentence_reads_as_one_and_opens_every_card():
    pieces = sentence(Job().with_choice("shape.height", "118"), Source("kiosk/turtle.png", b""), None)
    assert plain(pieces) == (
        "turtle 118 mm tall, of clear cast acrylic, 3 mm, cut with a 2 mm bit, 1 flute on a 300 \u00d7 200 "
        "router, held by 4 tabs, faced with films on the front, fitted in its frame."
    )
    assert [piece.card for piece in pieces if piece.card] == [card.name for card in CARDS]


def test_only_the_height_is_to_answer_and_once_given_nothing_is():
    assert to_answer(Job()) == ("shape.height",)
    assert to_answer(Job().with_choice("shape.height", "118")) == ()


@pytest.mark.parametrize(
    ("key", "text", "shown", "other"),
    [
        ("shape.height", "118", "118 mm", "4.646 in"),
        ("shape.height", "118 mm", "118 mm", "4.646 in"),
        ("shape.height", "4 5/8 in", "4 5/8 in", "117.47 mm"),
        ("shape.height", '5"', '5"', "127 mm"),
        ("stock.masking_top", "0.01 mm", "0.01 mm", "0.00039 in"),
        ("shape.height", "auto", "auto", ""),
        ("cutting.feed", "400", "400 mm/min", "15.7 in/min"),
        ("cutting.feed", "16 in/min", "16 in/min", "406 mm/min"),
        ("shape.smallest", "0.5 mm2", "0.5 mm2", "0.0008 in²"),
        ("stock.thickness", "3.02; 2.98", "3.02 mm; 2.98 mm", ""),
        ("bit.flutes", "2", "2", ""),
        ("cutting.speed", "10 000", "10 000 rpm", ""),
    ],
)
def test_a_value_is_said_with_its_unit_and_in_the_other(key, text, shown, other):
    value = CHOICES[key].read(text)
    assert said(CHOICES[key], value) == shown
    assert other_unit(CHOICES[key], value) == other


@given(st.data())
def test_what_is_said_reads_back_to_the_same(data):
    key = data.draw(st.sampled_from(sorted(CHOICES)))
    choice = CHOICES[key]
    value = choice.read(data.draw(texts_of(key)))
    assert choice.is_same(choice.read(said(choice, value)), value)


def finding(code, text, at=None, level=Level.NOTE):
    return Finding(level, code, text, "Do something.", at)


def test_findings_of_one_kind_are_told_once_with_the_range_of_their_numbers():
    many = [
        finding("corner-rounded", f"Leaves {size:.2f} mm in it.", (size, 1.0)) for size in (0.3, 0.12, 0.67)
    ]
    (group,) = grouped(many)
    assert group.text == "Leaves 0.12 to 0.67 mm in it."
    assert group.places == ((0.3, 1.0), (0.12, 1.0), (0.67, 1.0))


def test_findings_that_say_different_things_stay_apart_and_the_worst_comes_first():
    groups = grouped([finding("a", "One."), finding("a", "Two."), finding("b", "Bad.", level=Level.STOP)])
    assert [group.text for group in groups] == ["Bad.", "One.", "Two."]


def test_the_2_of_mm2_is_no_number():
    (group,) = grouped([finding("a", "It has 0.78 mm2."), finding("a", "It has 1.5 mm2.")])
    assert group.text == "It has 0.78 to 1.5 mm²."


def test_every_remedy_opens_a_choice_and_is_about_a_finding_that_exists():
    source = "".join(path.read_text() for path in sorted(CORE.rglob("*.py")))
    for code, remedies in REMEDIES.items():
        # a finding of the first picture said of the second has its code behind the word
        assert f'"{code.removeprefix("second-")}"' in source or f'"{code}"' in source, code
        for remedy in remedies:
            assert card_of(remedy.key)


def test_a_choice_is_found_by_its_name_and_by_what_it_is_for():
    assert found("skim")[0] == "cutting.skim"
    assert found("bit dia") == ("bit.diameter",)
    assert "cutting.skim" in found("spoil board")
    assert found("no such thing") == ()


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_text_stands_out_from_every_ground_it_is_on(theme):
    for text, ground in TEXT_ON_GROUND:
        assert contrast(getattr(theme, text), getattr(theme, ground)) >= 4.5, (text, ground)


def test_contrast_of_black_and_white_is_21():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#777777") == 1.0


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_the_style_sheet_has_no_colour_that_is_not_of_the_theme(theme):
    assert "@" not in style_sheet(theme)


def test_no_key_does_two_things():
    keys = [key for given, _ in KEYS.values() for key in given]
    assert len(set(keys)) == len(keys)


def test_the_proof_is_told_in_one_sentence():
    report = {
        "readback": {
            "edge_error_mm": {"max": 0.000775},
            "film_error_mm": {"a": {"max": 0.0004}, "b": {"max": 0.004}},
            "mark_error_mm": 0.0,
        },
        "files": [{"path": "a.svg", "role": "film-drawing", "film": "green"}],
    }
    told = "Read back from the files: part by 0.001 mm, films by 0.004 mm, marks by 0.000 mm"
    assert proof_told(report) == f"{told} at most from what was asked."
    assert list(files_told(report)) == [("a.svg", "film green, for the knife")]
    assert "nothing to read back" in proof_told({})


def test_every_icon_is_ours_and_takes_the_colours_of_the_theme():
    icons = Path(__file__).parents[3] / "assets" / "icons"
    for path in icons.glob("*.svg"):
        text = path.read_text()
        assert "currentColor" in text
        assert not re.search(r"#[0-9a-fA-F]{3}", text)


def test_every_file_of_a_kit_says_what_it_is_for():
    report = {"files": [{"path": str(role), "role": str(role)} for role in FileRole]}
    assert all(what for _, what in files_told(report))


def test_words_of_the_trade_stand_in_order_and_none_twice():
    words = [word for word, _ in WORDS]
    assert words == sorted(words)
    assert len(set(words)) == len(words)
    assert all(means.endswith(".") for _, means in WORDS)


def test_a_word_of_the_trade_is_found_by_itself_and_by_what_it_speaks_of():
    assert explained("tab")[0][0] == "tab"
    assert "frame" in [word for word, _ in explained("tab")]
    assert explained("no such word") == ()
    assert explained(" ") == WORDS
