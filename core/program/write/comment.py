"""Words for people as comments that no controller can take for anything else."""

import re
import textwrap
import unicodedata

#: Left out of comments: parentheses end or nest them; small controllers act on ? ! ~ $ wherever they
#: stand and take ; and % for the start of something else (from memory).
NOT_IN_COMMENTS = re.compile(r"[^A-Za-z0-9 .,:+\-=/<>_'&]")
SPELLED_OUT = {
    "×": "x", "°": " deg", "µ": "u", "–": "-", "—": "-", "−": "-", "⌀": "dia ", "Ø": "dia ", "ø": "dia ",  # noqa: RUF001 - these very characters are what is spelled out
    "(": "- ", "[": "- ", "ß": "ss", '"': " in", "%": " per cent", ";": ",", "æ": "ae", "Æ": "Ae",
}  # fmt: skip
MESSAGE = re.compile(r"\s*M\s*S\s*G\s*,", re.IGNORECASE)


def plain_words(text: str) -> str:
    """The text in the few characters that are safe inside a comment; never the start of a message."""
    spelled = "".join(SPELLED_OUT.get(letter, letter) for letter in text)
    ascii_text = unicodedata.normalize("NFKD", spelled).encode("ascii", "ignore").decode("ascii")
    words = " ".join(NOT_IN_COMMENTS.sub(" ", ascii_text).split())
    return f"- {words}" if MESSAGE.match(words) else words


def comment_lines(text: str, limit: int) -> tuple[str, ...]:
    """The text as comments, none longer than limit characters; none at all when nothing is left of it."""
    room = limit - len("(-)")
    wrapped = textwrap.wrap(plain_words(text), room, break_on_hyphens=False)
    return tuple(f"({_no_message(line)})" for line in wrapped)


def message_line(text: str, limit: int) -> str:
    """The text as a message that the controller shows (NISTIR 6556 3.3.4), cut off at the limit."""
    return f"(MSG,{plain_words(text)[: limit - len('(MSG,)')]})"


def _no_message(line: str) -> str:
    """A wrapped line may begin with what another line's words made harmless."""
    return f"-{line}" if MESSAGE.match(line) else line
