"""A seeded campaign of faults in a router program: which does the proof catch, and which did harm?

The judge is the proof: strict reading, the rules of safe motion, the edge that is left, what comes loose.
The oracle shares nothing with it: a few lines that follow the words of our own writer, and distances from
points of the true edge to many places along the path. What the oracle calls harm, the judge must stop;
what changes nothing, it must let pass.

    python -m tests.core.proof.program_faults --seed 1 --count 5000
"""

import argparse
import re
import sys
from collections import Counter
from dataclasses import dataclass
from functools import cache

import numpy as np
import shapely
from scipy.spatial import cKDTree

from core.errors import UnreadableFile
from core.outline.loop import Loop
from core.outline.region import Region
from core.program.read.read import read_program
from core.program.write.dialect import Dialect
from core.program.write.moves import ProgramZero
from core.program.write.writer import Spindle, write_program
from core.proof.edges import edge_distance
from core.proof.gouges import gouge_findings
from core.proof.limits import Limits
from core.proof.part import left_of
from core.proof.removal import swept_flush
from core.proof.rules import judge
from core.proof.standing import loose_pieces
from core.proof.tabs_left import tabs_left
from tests.core.router.sheet_after import planned, sheet

BIT, TOP, BOTTOM, TAB = 2.0, 0.0, -3.0, 0.8
CENTRE, OUTER, HOLE_AT, HOLE = (40.0, 40.0), 16.0, (40.0, 45.0), 4.0
STOCK = shapely.box(0, 0, 80, 80)
#: mm: what the proof must see, and what the oracle's own sampling leaves in doubt.
SEEN, DOUBT = 0.01, 0.002
STEP = 0.02


@dataclass(frozen=True)
class Sample:
    """A program, what it is held to, and the part that it should leave."""

    data: bytes
    limits: Limits
    part: shapely.Polygon
    necks: tuple[tuple[float, ...], ...]


@dataclass(frozen=True)
class Fault:
    """One change of a program: its kind and the bytes with it."""

    kind: str
    data: bytes


@cache
def sample() -> Sample:
    """A ring with an opening off its middle, as the router plans it and the writer writes it."""
    part = (Region(Loop.circle(CENTRE, OUTER), (Loop.circle(HOLE_AT, HOLE).reversed(),)),)
    _, plan = planned(part, layout=sheet(80.0, 80.0, -BOTTOM, ()))
    data = write_program(plan.toolpath, ("a ring",), Dialect(), ProgramZero(), Spindle(10000.0, 5.0))
    limits = Limits(
        plan.safe_z_mm, TOP, plan.bottom_z_mm, (300.0, 200.0, 50.0), 10000.0, 5.0, "s", 400.0, 80.0, 1000.0
    )
    ring = shapely.Point(CENTRE).buffer(OUTER, 512) - shapely.Point(HOLE_AT).buffer(HOLE, 512)
    return Sample(data, limits, ring, necks(read_program(data)))


def verdict(data: bytes, of: Sample) -> str:
    """What the proof says: "" where it has nothing to say."""
    try:
        program = read_program(data)
    except UnreadableFile:
        return "unreadable"
    broken = judge(program, of.limits).broken
    if broken:
        return broken[0].code
    left = left_of(STOCK, swept_flush(program, BIT, BOTTOM, TAB), of.part)
    if edge_distance(left, of.part).max_mm > SEEN:
        return "edge"
    if gouge_findings("", program, left, BIT, TOP):
        return "gouged"
    if loose_pieces(program, STOCK, BIT, BOTTOM):
        return "loose"
    return "" if necks(program) == of.necks else "tab"


def necks(program) -> tuple[tuple[float, ...], ...]:
    """Every tab's place, neck and height, to 0.02 mm, in which a tab is to be measured."""
    tabs = tabs_left(program, STOCK, BIT, BOTTOM, TAB)
    return tuple(tuple(np.round(np.array([*tab.middle, tab.neck_mm, tab.height_mm]) / 0.04)) for tab in tabs)


# --- the oracle ---------------------------------------------------------------------------------------

WORD = re.compile(r"([A-Z])(-?[0-9.]+)")


class Lost(Exception):
    """The words are none that our writer writes."""


def path_of(data: bytes) -> list[tuple[np.ndarray, bool, bool]]:
    """Each move as places (k, 3), whether it is a rapid, and whether the spindle turns the right way."""
    at, motion, unit, turns, moves = np.array([np.nan] * 3), "", 1.0, False, []
    for text in data.decode().splitlines():
        if text.startswith("("):
            continue
        words = WORD.findall(text)
        if "".join(letter + number for letter, number in words) != text.replace(" ", ""):
            raise Lost
        codes = [letter + number for letter, number in words if letter in "GM"]
        if "G91" in codes or any(code not in KNOWN for code in codes):
            raise Lost
        unit = 25.4 if "G20" in codes else 1.0 if "G21" in codes else unit
        turns = True if "M3" in codes else False if {"M4", "M5"} & set(codes) else turns
        motion = next((code for code in codes if code in MOTIONS), motion)
        values = {letter: float(number) * unit for letter, number in words if letter in "XYZIJ"}
        if "M2" in codes:
            return moves
        if values.keys() & set("XYZ"):
            end = np.array([values.get(axis, at[i]) for i, axis in enumerate("XYZ")])
            moves.append((places(at, end, motion, values), motion == "G0", turns))
            at = end
    raise Lost


MOTIONS = ("G0", "G1", "G2", "G3")
KNOWN = (*MOTIONS, "G4", "G17", "G20", "G21", "G40", "G54", "G80", "G90", "G94", "M2", "M3", "M4", "M5")


def places(start, end, motion, values):
    """Places no more than STEP apart along one move."""
    if motion not in ("G2", "G3"):
        count = int(np.ceil(np.nan_to_num(np.hypot(*(end - start)[:2])) / STEP)) + 1
        return start + np.linspace(0, 1, count + 1)[:, None] * (end - start)
    arm = complex(-values.get("I", 0.0), -values.get("J", 0.0))
    centre = complex(*start[:2]) - arm
    turn = np.angle((complex(*end[:2]) - centre) / arm) if arm else 0.0
    sweep = turn % (2 * np.pi) if motion == "G3" else -((-turn) % (2 * np.pi))
    share = np.linspace(0, 1, int(np.ceil(abs(sweep) * abs(arm) / STEP)) + 2)
    round_it = centre + arm * np.exp(1j * share * sweep)
    return np.column_stack((round_it.real, round_it.imag, start[2] + share * (end[2] - start[2])))


@cache
def true_edge() -> np.ndarray:
    """Points of the true edge, (n, 2) mm."""
    angle = np.linspace(0, 2 * np.pi, 700, endpoint=False)
    circle = np.column_stack((np.cos(angle), np.sin(angle)))
    return np.vstack((circle * OUTER + CENTRE, circle[::4] * HOLE + HOLE_AT))


@cache
def true_inside() -> np.ndarray:
    """Points inside the part, (n, 2) mm."""
    grid = np.stack(np.meshgrid(np.arange(20, 60, 0.5), np.arange(20, 60, 0.5)), axis=-1).reshape(-1, 2)
    inside = shapely.contains_xy(sample().part, grid)
    return grid[inside]


def harm(data: bytes, of: Sample) -> str:
    """What the fault does to the work, as far as the oracle can tell: "" for nothing."""
    try:
        moves = path_of(data)
    except (Lost, ValueError):
        return ""
    cut = np.vstack([move[move[:, 2] <= BOTTOM + TAB + 0.001, :2] for move, _, _ in moves])
    begun = np.vstack([move[move[:, 2] <= TOP - 0.003, :2] for move, _, _ in moves])
    if not len(cut) or np.isnan(cut).any():
        return "no cut" if not len(cut) else "from nowhere"
    tree = cKDTree(cut)
    off = np.abs(tree.query(true_edge())[0] - BIT / 2.0).max()
    gouged = (cKDTree(begun).query(true_inside())[0] < BIT / 2.0 - SEEN - DOUBT).any()
    if off > SEEN + DOUBT or gouged:
        return f"edge moved {off:.3f}" if off > SEEN + DOUBT else "gouged"
    return _unsafe(moves, of.limits)


def _unsafe(moves, limits):
    for move, is_rapid, turns in moves[1:]:
        low = np.nanmin(move[:, 2])
        if low < limits.bottom_z_mm - 0.002:
            return "too deep"
        if low < TOP - 0.002 and not turns:
            return "spindle off"
        aside = np.ptp(move[:, :2], axis=0).max() > 0.002
        if is_rapid and low < limits.safe_z_mm - 0.002 and (aside or move[-1, 2] < move[0, 2]):
            return "rapid in stock"
    return ""


# --- the faults ---------------------------------------------------------------------------------------


def _replaced(lines, row, text):
    return [*lines[:row], text, *lines[row + 1 :]]


def _pick(random, lines, pattern):
    rows = [row for row, text in enumerate(lines) if re.search(pattern, text) and not text.startswith("(")]
    return int(random.choice(rows))


def _digit(random, lines):
    row = _pick(random, lines, r"[0-9]")
    at = int(random.choice([m.start() for m in re.finditer("[0-9]", lines[row])]))
    other = str((int(lines[row][at]) + int(random.integers(1, 10))) % 10)
    return _replaced(lines, row, lines[row][:at] + other + lines[row][at + 1 :])


def _sign(random, lines):
    row = _pick(random, lines, r"[XYZIJ]-?[0-9]")
    word = random.choice(re.findall(r"[XYZIJ]-?[0-9.]+", lines[row]))
    other = word[0] + (word[2:] if word[1] == "-" else "-" + word[1:])
    return _replaced(lines, row, lines[row].replace(word, other, 1))


def _lost(random, lines):
    row = int(random.integers(len(lines)))
    return lines[:row] + lines[row + 1 :]


def _doubled(random, lines):
    row = int(random.integers(len(lines)))
    return lines[: row + 1] + lines[row:]


def _swapped(random, lines):
    row = int(random.integers(len(lines) - 1))
    return [*lines[:row], lines[row + 1], lines[row], *lines[row + 2 :]]


def _exchanged(pattern, table):
    def change(random, lines):
        row = _pick(random, lines, pattern)
        return _replaced(lines, row, re.sub(pattern, lambda found: table[found.group()], lines[row], count=1))

    return change


def _moved(letters, most):
    def change(random, lines):
        row = _pick(random, lines, f"[{letters}]-?[0-9]")
        word = random.choice(re.findall(rf"[{letters}]-?[0-9.]+", lines[row]))
        other = f"{word[0]}{float(word[1:]) + random.uniform(-most, most):.4f}"
        return _replaced(lines, row, lines[row].replace(word, other, 1))

    return change


def _cut_short(random, lines):
    text = "\n".join(lines)
    return text[: int(random.integers(1, len(text) - 2))].split("\n")


def _spaced(random, lines):
    row = _pick(random, lines, r"[XYZ]")
    return _replaced(
        lines, row, random.choice([lines[row].replace(" ", "  "), lines[row].lower(), lines[row] + " (note)"])
    )


HARMFUL = {
    "digit": _digit,
    "sign": _sign,
    "line lost": _lost,
    "line doubled": _doubled,
    "lines swapped": _swapped,
    "G1 and G0": _exchanged(r"\bG[01]\b", {"G0": "G1", "G1": "G0"}),
    "G2 and G3": _exchanged(r"\bG[23]\b", {"G2": "G3", "G3": "G2"}),
    "centre": _moved("IJ", 0.5),
    "place": _moved("XY", 0.5),
    "depth": _moved("Z", 1.0),
    "units": _exchanged(r"\bG21\b", {"G21": "G20"}),
    "spindle": _exchanged(r"\bM3\b", {"M3": "M4"}),
    "spindle speed": _exchanged(r"\bS10000\b", {"S10000": "S1000"}),
    "cut short": _cut_short,
}
HARMLESS = {"spaces, case, remarks": _spaced}


def faults(data: bytes, seed: int, count: int, kinds=None):
    """count faults, every kind in turn."""
    random = np.random.default_rng(seed)
    named = list((kinds or HARMFUL).items())
    lines = data.decode().splitlines()
    for index in range(count):
        kind, change = named[index % len(named)]
        yield Fault(kind, ("\n".join(change(random, list(lines))) + "\n").encode())


@dataclass(frozen=True)
class Tally:
    """How a campaign went; missed names kind and harm of what got through."""

    caught: Counter
    passed: Counter
    missed: tuple[str, ...]
    false_alarms: tuple[str, ...]


def campaign(seed: int, count: int) -> Tally:
    """The faults laid before judge and oracle."""
    of = sample()
    caught, passed, missed, alarms = Counter(), Counter(), [], []
    for fault in faults(of.data, seed, count):
        said = verdict(fault.data, of)
        (caught if said else passed)[fault.kind] += 1
        done = "" if said else harm(fault.data, of)
        if done:
            missed.append(f"{fault.kind}: {done}")
    for fault in faults(of.data, seed, max(count // 20, 3), HARMLESS):
        said = verdict(fault.data, of)
        if said:
            alarms.append(f"{fault.kind}: {said}")
    return Tally(caught, passed, tuple(missed), tuple(alarms))


def main() -> None:
    """Print caught, passed without harm, missed, false alarms."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=5000)
    asked = parser.parse_args()
    tally = campaign(asked.seed, asked.count)
    rows = [
        f"{kind:15} caught {tally.caught[kind]:5}  passed without harm {tally.passed[kind]:5}"
        for kind in HARMFUL
    ]
    counts = f"missed {len(tally.missed)}, false alarms {len(tally.false_alarms)}"
    sys.stdout.write("\n".join((*rows, counts, *tally.missed, *tally.false_alarms, "")))


if __name__ == "__main__":
    main()
