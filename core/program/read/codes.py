"""G and M codes: their modal groups (NISTIR 6556 Table 4), and why some are refused.

G codes are kept as tenths (G38.2 is 382), since a code is a whole number of tenths (3.3.2.1).
"""

from typing import Final

#: NISTIR 6556 3.3.2.1: a number this near a whole one counts as that one.
NEARLY_WHOLE: Final = 0.0001

MOTION: Final = "motion"
PLANE: Final = "plane"
DISTANCE: Final = "distance"
FEED_MODE: Final = "feed mode"
UNITS: Final = "units"
DWELL: Final = "dwell"
QUIET: Final = "no effect on the path"

_GROUP_MEMBERS: Final[dict[str, tuple[int, ...]]] = {
    MOTION: (0, 10, 20, 30, 800),
    PLANE: (170, 180, 190),
    DISTANCE: (900, 910),
    FEED_MODE: (940,),
    UNITS: (200, 210),
    "cutter compensation": (400,),
    "length offset": (490,),
    "return": (980, 990),
    "work system": (540, 550, 560, 570, 580, 590, 591, 592, 593),
    "path control": (610, 611, 640),
    DWELL: (40,),
}

G_GROUPS: Final = {code: group for group, codes in _GROUP_MEMBERS.items() for code in codes}

#: Codes of later dialects that change nothing here, read only when the reader is lenient.
LATER_CODES: Final = {911: "arc distance"}

_ELSEWHERE: Final = "it goes to a place that is kept in the machine and not in the file"
_SHIFTED: Final = "it shifts the zero, so that the file alone does not say where the bit goes"
_CANNED: Final = "canned cycles are not read; write the moves one by one"
_COMPENSATED: Final = "cutter compensation lets the machine move the path by a number that is not in the file"

G_REFUSED: Final[dict[int, str]] = {
    100: _SHIFTED,
    280: _ELSEWHERE,
    300: _ELSEWHERE,
    281: _SHIFTED,
    301: _SHIFTED,
    382: "where a probing move ends is not in the file",
    410: _COMPENSATED,
    420: _COMPENSATED,
    430: "a tool length offset moves z by a number that is not in the file",
    530: "machine coordinates have no known place in this program",
    920: _SHIFTED,
    921: _SHIFTED,
    922: _SHIFTED,
    923: _SHIFTED,
    930: "inverse time feed is not read; give feeds in units per minute (G94)",
    950: "feed per turn is not read; give feeds in units per minute (G94)",
    901: "absolute arc centres are not part of RS-274/NGC version 3",
} | dict.fromkeys((810, 820, 830, 840, 850, 860, 870, 880, 890), _CANNED)

STOP: Final = "stop"
SPINDLE: Final = "spindle"
TOOL: Final = "tool"

M_GROUPS: Final[dict[int, str]] = (
    dict.fromkeys((0, 1, 2, 30, 60), STOP)
    | dict.fromkeys((3, 4, 5), SPINDLE)
    | dict.fromkeys((7, 8, 9), "coolant")
    | dict.fromkeys((48, 49), "overrides")
    | {6: TOOL}
)

#: Words that mean something on their own; every other letter is refused where it stands.
KNOWN_LETTERS: Final = frozenset("FGIJMPRSTXYZ")
AXES_THAT_TURN: Final = frozenset("ABC")
