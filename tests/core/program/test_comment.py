import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.program.read.lexer import read_block
from core.program.write.comment import comment_lines, message_line, plain_words


@given(st.text(max_size=200), st.integers(40, 80))
def test_any_text_becomes_comments_that_a_strict_reader_takes(text, limit):
    for line in comment_lines(text, limit):
        block = read_block(line, 1, semicolons=False)
        assert not block.words
        assert [note.is_message for note in block.notes] == [False]
        assert len(line) <= limit
        assert line.isascii()


@given(st.text(max_size=200))
def test_a_message_is_one_message_and_nothing_else(text):
    block = read_block(message_line(text, 60), 1, semicolons=False)
    assert not block.words
    assert [note.is_message for note in block.notes] == [True]


@pytest.mark.parametrize("trap", ["?", "!", "~", "$", ";", "%", "(", ")"])
def test_what_a_small_controller_acts_on_never_stands_in_a_comment(trap):
    assert trap not in plain_words(f"a {trap} b")


def test_words_with_signs_and_accents_keep_their_sense():
    assert (
        plain_words("Schildkröte \u2013 118 mm \u00d7 94 mm (Ø 2)") == "Schildkrote - 118 mm x 94 mm - dia 2"
    )
