import pytest

from core.errors import UnreadableFile
from core.program.read.lexer import read_block


def words(text):
    return dict(read_block(text, 7, semicolons=False).words)


def test_white_space_means_nothing_even_inside_a_number():
    assert words("g0x +0. 12 34y 7") == {"G": 0.0, "X": 0.1234, "Y": 7.0}


@pytest.mark.parametrize(("text", "value"), [("5.", 5), (".5", 0.5), ("+5", 5), ("005.500", 5.5), ("-0", 0)])
def test_every_legal_form_of_a_number_is_read(text, value):
    assert words(f"X{text}") == {"X": value}


@pytest.mark.parametrize(
    "text",
    ["X", "X.", "X--1", "X1.2.3", "X+-1", "Xq", "X#5", "X[1+2]", "#5=3", "N1.5X1", "N000009X1", "$H"],
)
def test_what_is_no_word_is_refused_with_its_line(text):
    with pytest.raises(UnreadableFile, match=r"^Line 7 of the program: .+\.$"):
        read_block(text, 7, semicolons=False)


@pytest.mark.parametrize("text", ["(a", "a)", "(a(b)", "X1 ; c", "/X1", "X\u0661", "X\u00df", "\u00e9"])
def test_what_the_standard_does_not_allow_is_refused_with_its_line(text):
    with pytest.raises(UnreadableFile, match=r"^Line 7 of the program: .+\.$"):
        read_block(text, 7, semicolons=False)


def test_comments_and_messages_are_told_apart():
    notes = read_block("(one) X1 ( msg , two)", 1, semicolons=False).notes
    assert [(note.text, note.is_message) for note in notes] == [("one", False), ("two", True)]


def test_a_semicolon_opens_a_comment_only_where_it_is_let():
    block = read_block("X1 ; Y2 (not closed", 1, semicolons=True)
    assert block.words == (("X", 1.0),)
    assert block.notes[0].text == "Y2 (not closed"
