"""One line of RS-274 into words and comments (NISTIR 6556 3.3)."""

import re
from dataclasses import dataclass
from typing import NoReturn

from core.errors import UnreadableFile

WORD = re.compile(r"([A-Z])([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))")
LINE_NUMBER = re.compile(r"N([0-9]{1,5})(?![0-9.])")
MESSAGE = re.compile(r"\s*[Mm]\s*[Ss]\s*[Gg]\s*,")
SPACES = str.maketrans("", "", " \t")


@dataclass(frozen=True)
class Note:
    """The text of a comment, without its parentheses."""

    text: str
    is_message: bool


@dataclass(frozen=True)
class Block:
    """A line that was understood: its words in their order (the N word left out), and its comments."""

    line: int
    words: tuple[tuple[str, float], ...]
    notes: tuple[Note, ...]


def refuse(line: int, reason: str) -> NoReturn:
    """Raise the one kind of error that a program can be: its line and the reason."""
    raise UnreadableFile(f"Line {line} of the program: {reason}.")


def read_block(text: str, line: int, *, semicolons: bool) -> Block:
    """The words and comments of one line; UnreadableFile names what is not allowed there."""
    code, notes = _without_comments(text, line, semicolons=semicolons)
    squeezed = code.translate(SPACES)
    if not squeezed.isascii():
        refuse(line, f"{_first_strange(squeezed)!r} stands outside a comment")
    return Block(line, tuple(_words(_after_number(squeezed.upper(), line), line)), tuple(notes))


def _without_comments(text: str, line: int, *, semicolons: bool) -> tuple[str, list[Note]]:
    code: list[str] = []
    notes: list[Note] = []
    at = 0
    opening = re.compile(r"[();]" if semicolons else r"[()]")
    while found := opening.search(text, at):
        code.append(text[at : found.start()])
        if found.group() == ";":
            notes.append(_note(text[found.end() :]))
            return "".join(code), notes
        end = _comment_end(text, found, line)
        notes.append(_note(text[found.end() : end]))
        at = end + 1
    return "".join((*code, text[at:])), notes


def _comment_end(text: str, opening: re.Match[str], line: int) -> int:
    if opening.group() == ")":
        refuse(line, "a comment is closed that was never opened")
    end = text.find(")", opening.end())
    if end < 0:
        refuse(line, "a comment is not closed")
    if "(" in text[opening.end() : end]:
        refuse(line, "a comment stands inside a comment")
    return end


def _note(text: str) -> Note:
    message = MESSAGE.match(text)
    return Note((text[message.end() :] if message else text).strip(), message is not None)


def _after_number(code: str, line: int) -> str:
    if code.startswith("/"):
        refuse(line, "a block-delete slash leaves it to a switch on the machine whether this line runs")
    if not code.startswith("N"):
        return code
    number = LINE_NUMBER.match(code)
    if number is None:
        refuse(line, "a line number is a whole number of at most five digits")
    return code[number.end() :]


def _words(code: str, line: int) -> list[tuple[str, float]]:
    words: list[tuple[str, float]] = []
    at = 0
    while at < len(code):
        word = WORD.match(code, at)
        if word is None:
            refuse(line, _why_no_word(code[at:]))
        words.append((word.group(1), float(word.group(2))))
        at = word.end()
    return words


def _why_no_word(rest: str) -> str:
    if rest[0] in "#[=" or rest[1:2] in ("#", "["):
        return "parameters and expressions are not read, since their values stand outside the file"
    if "A" <= rest[0] <= "Z":
        return f"{rest[:12]!r} has no number that RS-274 knows"
    return f"{rest[:12]!r} is not a word"


def _first_strange(code: str) -> str:
    return next(letter for letter in code if not letter.isascii())
