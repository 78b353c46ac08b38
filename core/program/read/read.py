"""Reading a program: bytes in, a Program out, or the line that cannot be understood and why.

1. The bytes are looked at: empty, binary, what ends its lines.
2. Lines are taken one by one. Plain motion lines, nearly all of a program, are matched whole by one
   expression; every other line goes through the lexer and is carried out item by item. Both end in the
   same Controller, so that they cannot read a move differently.
3. The frame round the lines is judged: per cent signs, M2 or M30, text after the end (NISTIR 6556 3.1).
"""

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass

from core.errors import UnreadableFile
from core.program.read.arc import ArcWords
from core.program.read.controller import Controller
from core.program.read.execute import execute
from core.program.read.leniency import STRICT, Leniency
from core.program.read.lexer import read_block, refuse
from core.program.read.program import Ending, Preamble, Program
from core.program.read.record import Frame, program_of

TEXT_BYTES = bytes((9, 10, 13, *range(32, 127), *range(128, 256)))
BYTE_ORDER_MARK = b"\xef\xbb\xbf"

_NUMBER = rb"([+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))"
_WORDS = b"".join(b"(?:" + letter + _NUMBER + b" ?)?" for letter in (b"X", b"Y", b"Z", b"I", b"J", b"F"))
PLAIN_MOTION = re.compile(rb"(?:N[0-9]{1,5} ?)?(?:G0?([0-3]) ?)?" + _WORDS + rb"[\r\n]*")


@dataclass
class _Progress:
    """Where the reading stands in the file."""

    has_text: bool = False
    is_framed: bool = False
    is_closed: bool = False
    end_line: int | None = None
    line_count: int = 0
    longest: int = 0


def read_program(data: bytes, *, leniency: Leniency = STRICT) -> Program:
    """The program in these bytes; UnreadableFile names the line and the reason."""
    _look_at(data)
    controller = Controller(leniency)
    progress = _Progress()
    for raw in _lines(data):
        _read_line(raw, controller, progress)
    _judge_end(controller, progress)
    preamble = Preamble(
        controller.units_line, controller.distance_line, controller.feed_mode_line, controller.plane_line
    )
    ending = Ending(progress.end_line, controller.rpm != 0.0)
    unit = controller.unit_name()
    return program_of(controller.record, Frame(unit, preamble, ending, progress.line_count, progress.longest))


def _look_at(data: bytes) -> None:
    if not data.strip():
        raise UnreadableFile("The program is empty.")
    strange = data.translate(None, TEXT_BYTES)
    if strange:
        raise UnreadableFile(
            f"This is no router program: it holds bytes that no text has (the first is {strange[0]})."
        )


def _lines(data: bytes) -> Iterator[bytes]:
    if b"\n" not in data:
        data = data.replace(b"\r", b"\n")
    return iter(io.BytesIO(data))


def _read_line(raw: bytes, controller: Controller, progress: _Progress) -> None:
    progress.line_count += 1
    length = len(raw.rstrip(b"\r\n")) if len(raw) > progress.longest else 0
    if length > progress.longest:
        progress.longest = length
        _refuse_long(length, controller.leniency, progress.line_count)
    if progress.end_line is None:
        plain = PLAIN_MOTION.fullmatch(raw)
        if plain is not None:
            _plain_motion(plain, controller, progress.line_count)
            return
    _read_other(raw, controller, progress)


def _refuse_long(length: int, leniency: Leniency, line: int) -> None:
    if length > leniency.line_limit:
        refuse(line, f"it is {length} characters long, where {leniency.line_limit} are the most")


def _plain_motion(plain: re.Match[bytes], controller: Controller, line: int) -> None:
    code, *numbers = plain.groups()
    x, y, z, i, j, feed = [None if number is None else float(number) for number in numbers]
    if feed is not None:
        controller.set_feed(feed, line)
    if code is not None:
        controller.motion = int(code)
    arc = None if i is None and j is None else ArcWords(i, j, None)
    if x is None and y is None and z is None:
        controller.stand_still(line, is_told=code is not None, arc=arc)
    else:
        controller.move(line, (x, y, z), arc)


def _read_other(raw: bytes, controller: Controller, progress: _Progress) -> None:
    line = progress.line_count
    text = raw.decode("latin-1").strip()
    if line == 1 and raw.startswith(BYTE_ORDER_MARK) and controller.leniency.text_after_end:
        text = text[len(BYTE_ORDER_MARK) :]
    if not text or progress.is_closed:
        return
    if text == "%":
        _per_cent(controller, progress)
        return
    progress.has_text = True
    if progress.end_line is not None:
        if not controller.leniency.text_after_end:
            refuse(line, f"text stands after the program's end on line {progress.end_line}")
    else:
        execute(read_block(text, line, semicolons=controller.leniency.semicolons), controller)
        progress.end_line = line if controller.ended else None


def _per_cent(controller: Controller, progress: _Progress) -> None:
    """The first of two opens the program, the second closes it; what follows is ignored (3.1)."""
    line = progress.line_count
    if progress.is_framed:
        progress.is_closed = True
        progress.end_line = progress.end_line or line
    elif not (progress.has_text or controller.record.rows):
        progress.is_framed = True
    elif not controller.leniency.text_after_end:
        refuse(line, "a per cent sign closes a program that none has opened")
    else:
        progress.is_closed = True


def _judge_end(controller: Controller, progress: _Progress) -> None:
    if controller.leniency.no_end:
        return
    if progress.is_framed and not progress.is_closed:
        refuse(progress.line_count, "the file ends and the per cent sign that closes it is missing")
    if progress.end_line is None:
        refuse(progress.line_count, "the file ends without M2 or M30, so that some of it may be lost")
