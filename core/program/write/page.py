"""Lines of words as the bytes of a file: numbered, inside the limit, ended as the controller wants."""

from collections.abc import Iterable, Iterator

from core.errors import BadShape
from core.program.write.dialect import Dialect

LINE_NUMBER_STEP = 10
#: NISTIR 6556 3.3.1 has five digits and allows repeats, so that numbering begins anew behind them.
LARGEST_LINE_NUMBER = 99_999
LINE_NUMBER_ROOM = len("N99990 ")


def room(dialect: Dialect) -> int:
    """Characters of a line that are left for its words."""
    return dialect.line_limit - (LINE_NUMBER_ROOM if dialect.has_line_numbers else 0)


def fitted(words: list[str], dialect: Dialect) -> Iterator[str]:
    """The words as a line; where it is too long the feed stands before it, then the spaces go."""
    limit = room(dialect)
    if len(" ".join(words)) > limit and words[-1].startswith("F"):
        yield words[-1]
        words = words[:-1]
    line = " ".join(words)
    if len(line) > limit:
        line = "".join(words)
    if len(line) > limit:
        raise BadShape(f"{line!r} is longer than the {limit} characters that the controller takes")
    yield line


def page_bytes(lines: Iterable[str], dialect: Dialect) -> bytes:
    """The file: ASCII, every line ended, per cent signs round it where asked."""
    body = _numbered(lines) if dialect.has_line_numbers else list(lines)
    if dialect.has_per_cent_signs:
        body = ["%", *body, "%"]
    return "".join(line + dialect.newline for line in body).encode("ascii")


def _numbered(lines: Iterable[str]) -> list[str]:
    count = LARGEST_LINE_NUMBER // LINE_NUMBER_STEP
    return [f"N{(i % count + 1) * LINE_NUMBER_STEP} {line}" for i, line in enumerate(lines)]
