"""The items of one line, carried out in the order of NISTIR 6556 Table 8, whatever order they stand in."""

from dataclasses import dataclass

from core.program.read import codes
from core.program.read.arc import MM_PER_INCH, ArcWords
from core.program.read.controller import XY_PLANE, Controller
from core.program.read.lexer import Block, refuse
from core.program.read.program import EventKind, Remark

MOST_M_WORDS = 4  # NISTIR 6556 3.3.5
AXES = ("X", "Y", "Z")
ARC_LETTERS = ("I", "J", "R")
PROGRAM_ENDS = (2, 30)


@dataclass(frozen=True)
class Sorted:
    """The words of a line: G codes (tenths) and M codes by group, every other letter with its number."""

    line: int
    g: dict[str, int]
    m: dict[str, int]
    values: dict[str, float]


def execute(block: Block, controller: Controller) -> None:
    """Carry out one line; UnreadableFile when it breaks a rule or cannot be understood."""
    _remark(block, controller)
    words = sorted_words(block, later=controller.leniency.later_codes)
    _feeds_and_speeds(words, controller)
    _tool_and_spindle(words, controller)
    _dwell(words, controller)
    _modes(words, controller)
    _motion(words, controller)
    _stop(words, controller)


def sorted_words(block: Block, *, later: bool) -> Sorted:
    """The words by what they are; refuses unknown ones and any two of one group (3.3.5)."""
    found = Sorted(block.line, {}, {}, {})
    m_words = 0
    for letter, number in block.words:
        if letter == "G":
            _add_g(found, number, later=later)
        elif letter == "M":
            m_words += 1
            _add_m(found, number)
        else:
            _add_value(found, letter, number)
    if m_words > MOST_M_WORDS:
        refuse(block.line, "more than four M words stand on one line")
    return found


def _add_g(found: Sorted, number: float, *, later: bool) -> None:
    code = round(number * 10.0)
    if abs(number * 10.0 - code) > codes.NEARLY_WHOLE:
        refuse(found.line, f"G{number:g} is not a code")
    if code in codes.G_REFUSED:
        refuse(found.line, f"G{code / 10:g} cannot be followed: {codes.G_REFUSED[code]}")
    group = codes.G_GROUPS.get(code) or (codes.LATER_CODES.get(code) if later else None)
    if group is None:
        refuse(found.line, f"G{code / 10:g} is not a code that this reader knows")
    if group in found.g:
        refuse(found.line, f"two codes of one kind ({group}) stand on one line")
    found.g[group] = code


def _add_m(found: Sorted, number: float) -> None:
    code = round(number)
    group = codes.M_GROUPS.get(code)
    if group is None or abs(number - code) > codes.NEARLY_WHOLE:
        refuse(found.line, f"M{number:g} is not a code that this reader knows")
    if group in found.m and {found.m[group], code} != {7, 8}:
        refuse(found.line, f"two codes of one kind ({group}) stand on one line")
    found.m[group] = code


def _add_value(found: Sorted, letter: str, number: float) -> None:
    if letter in codes.AXES_THAT_TURN:
        refuse(found.line, f"{letter} turns the work, which a flat part does not need")
    if letter == "N":
        refuse(found.line, "a line number stands behind other words")
    if letter not in codes.KNOWN_LETTERS:
        refuse(found.line, f"the letter {letter} has no meaning here")
    if letter in found.values:
        refuse(found.line, f"the letter {letter} stands twice on one line")
    found.values[letter] = number


def _remark(block: Block, controller: Controller) -> None:
    remarks = (Remark(block.line, note.text, note.is_message) for note in block.notes)
    controller.record.remarks.extend(remarks)


def _feeds_and_speeds(words: Sorted, controller: Controller) -> None:
    if codes.FEED_MODE in words.g:
        controller.feed_mode_line = controller.feed_mode_line or words.line
    if "F" in words.values:
        controller.set_feed(words.values["F"], words.line)
    if "S" in words.values:
        controller.set_speed(words.values["S"], words.line)


def _tool_and_spindle(words: Sorted, controller: Controller) -> None:
    tool = words.values.get("T", 0.0)
    if tool < 0.0 or abs(tool - round(tool)) > codes.NEARLY_WHOLE:
        refuse(words.line, "a tool is a whole number of 0 or more")
    if codes.TOOL in words.m:
        controller.say(EventKind.TOOL, words.line, tool)
    if codes.SPINDLE in words.m:
        controller.set_spindle({3: 1, 4: -1, 5: 0}[words.m[codes.SPINDLE]], words.line)


def _dwell(words: Sorted, controller: Controller) -> None:
    if codes.DWELL not in words.g:
        if "P" in words.values and not (controller.leniency.later_codes and "path control" in words.g):
            refuse(words.line, "P stands without G4")
        return
    if words.values.get("P", -1.0) < 0.0:
        refuse(words.line, "a dwell (G4) needs a P of 0 or more")
    controller.say(EventKind.DWELL, words.line, words.values["P"])


def _modes(words: Sorted, controller: Controller) -> None:
    g, line = words.g, words.line
    if codes.PLANE in g:
        controller.plane = g[codes.PLANE]
        controller.plane_line = controller.plane_line or (line if controller.plane == XY_PLANE else None)
    if codes.UNITS in g:
        controller.set_units(MM_PER_INCH if g[codes.UNITS] == 200 else 1.0, line)
    if "work system" in g and controller.record.rows:
        refuse(line, "another work system after the first move has an unknown place")
    if codes.DISTANCE in g:
        controller.is_absolute = g[codes.DISTANCE] == 900
        controller.distance_line = controller.distance_line or line


def _motion(words: Sorted, controller: Controller) -> None:
    values = words.values
    has_axis = any(letter in values for letter in AXES)
    has_arc = any(letter in values for letter in ARC_LETTERS)
    if codes.MOTION in words.g:
        controller.motion = words.g[codes.MOTION] // 10
    arc = ArcWords(values.get("I"), values.get("J"), values.get("R")) if has_arc else None
    if has_axis:
        controller.move(words.line, (values.get("X"), values.get("Y"), values.get("Z")), arc)
    else:
        controller.stand_still(words.line, is_told=codes.MOTION in words.g, arc=arc)


def _stop(words: Sorted, controller: Controller) -> None:
    code = words.m.get(codes.STOP)
    if code is None:
        return
    if code in PROGRAM_ENDS:
        controller.ended = True
    else:
        controller.say(EventKind.STOP, words.line, 0.0)
