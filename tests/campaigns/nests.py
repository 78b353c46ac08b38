"""A seeded campaign of nest boards: parts that nobody has seen, laid by simulation in the pocket read back.

Each trial draws a shape, cuts it, makes its board, writes the board's program and reads its bytes. What the
bit sweeps at the pocket's floor is the pocket; the part as the bit leaves it is the part. Laying is brute
force: the part is pushed from where it is meant to lie in many directions of x, y and turn, a little at a
time, until it meets a wall. Harm is a part that does not go in with 0.15 mm all round; one that can move
farther than the board says; or one that nothing holds, without a finding that says so.

    python -m tests.campaigns.nests --seed 1 --count 200
"""

from dataclasses import dataclass, field, replace

import numpy as np
import shapely

from core.findings import has_stop
from core.nest.nest import Nest, nest
from core.outline.loop import Loop
from core.outline.region import Region, Regions, mapped
from core.program.read.read import read_program
from core.program.write.dialect import Dialect
from core.program.write.moves import ProgramZero
from core.program.write.writer import Spindle, write_program
from core.proof.removal import swept_below
from core.router.bit import Bit
from core.router.plan import plan
from core.router.reach import as_cut
from core.router.setup import Setup
from core.sheet.lay_out import lay_out
from core.sheet.rule import FitRule, FitWay
from core.sheet.wish import StockWish
from tests.campaigns.tally import Tally, command
from tests.core.router.sheet_after import CUTTING, MACHINE, TABS, solid
from tests.support.shapes import is_simple, rectangle, regular, rough, rounded, turned

WISH = StockWish(None, None, 3.0, 0.1, 0.1, 0.1, is_clear=False)
BITS = (1.0, 1.5, 2.0, 3.175)
#: mm asked for between part and wall, and what two flattened edges may take of it.
CLEARANCE, FLAT = 0.15, 0.002
#: Directions of a push, mm of one push, mm after which nothing holds.
PUSHES, STEP, LOOSE = 60, 0.02, 3.0
#: How much farther than said a part may move: walls are met a little beyond their tangents.
BEYOND_SHARE, BEYOND = 0.15, 0.03


@dataclass
class Figures(Tally):
    """The tally; the least clearance, how far parts move, and how many findings there were; mm."""

    clearances: list[float] = field(default_factory=list)
    plays: list[float] = field(default_factory=list)
    told: dict[str, int] = field(default_factory=dict)

    def lines(self) -> list[str]:
        """The figures, then the tally."""
        found = ", ".join(f"{code} {count}" for code, count in sorted(self.told.items())) or "none"
        return [
            f"least clearance mm: {min(self.clearances):.4f}" if self.clearances else "no part was laid",
            f"play mm: median {np.median(self.plays):.3f}, most {max(self.plays):.3f}"
            if self.plays
            else "none held",
            f"findings: {found}",
            *super().lines(),
        ]


def any_part(rng: np.random.Generator) -> Regions:
    """A shape of 25 to 110 mm: rough stars, smooth blobs, plates, polygons, discs; sometimes two pieces."""
    size = rng.uniform(25.0, 110.0)
    makers = (
        lambda: _rough(rng, size),
        lambda: _rough(rng, size),
        lambda: _blob(rng, size),
        lambda: _blob(rng, size),
        lambda: rounded(size, rng.uniform(0.4, 1.0) * size, 0.1 * size),
        lambda: rectangle(size, rng.uniform(0.3, 1.0) * size),
        lambda: regular(int(rng.integers(3, 9)), 0.4 * size),
        lambda: Loop.circle((0.0, 0.0), size / 2.0),
    )
    first = turned(makers[int(rng.integers(len(makers)))](), rng.uniform(0.0, 6.0))
    x_min, y_min, x_max, _ = first.bounds()
    parts: Regions = (Region(first.moved(-x_min, -y_min)),)
    if rng.random() < 0.1:
        other = _blob(rng, 30.0)
        left, near, *_ = other.bounds()
        parts += (Region(other.moved(x_max - x_min + 14.0 - left, -near)),)
    return parts


def _rough(rng: np.random.Generator, size: float) -> Loop:
    while True:
        loop = rough(rng, int(rng.integers(5, 12)), size / 2.0)
        if is_simple(loop):
            return loop


def _blob(rng: np.random.Generator, size: float) -> Loop:
    angles = np.linspace(0.0, 2.0 * np.pi, 48, endpoint=False)
    radii = (
        1.0 + 0.12 * np.sin(2 * angles + rng.uniform(0, 6)) + 0.08 * np.sin(3 * angles + rng.uniform(0, 6))
    )
    points = size / 2.0 * radii[:, None] * np.column_stack((np.cos(angles), np.sin(angles)))
    return Loop(points, np.full(48, np.tan(np.pi / 96.0)))


def boarded(parts: Regions, bit: Bit) -> tuple[Nest, Regions] | None:
    """The nest and the part as cut, both in the frame; None where nothing can be cut."""
    cut = as_cut(parts, bit)
    rule = replace(FitRule(), way=FitWay.NEST, hinge_mm=0.0)
    layout = lay_out(cut.regions, WISH, rule, bit_mm=bit.diameter_mm, travel_mm=(600.0, 600.0))
    if has_stop((*cut.findings, *layout.findings)):
        return None

    def moved(loop: Loop) -> Loop:
        return loop.moved(*layout.shape_at)

    placed = replace(cut, regions=mapped(cut.regions, moved), centres=mapped(cut.centres, moved))
    made = plan(placed, layout, bit, CUTTING, TABS, MACHINE)
    setup = Setup(layout, bit, CUTTING, TABS, MACHINE)
    return nest(placed.regions, made.tabs, layout, setup), placed.regions


def pocket_read_back(made: Nest, bit: Bit) -> shapely.Geometry:
    """What the bytes of the board's program take at the pocket's floor, in the frame."""
    at = made.board.at
    data = write_program(made.toolpath, (), Dialect(), ProgramZero(at, 0.0), Spindle(10_000.0, 5.0))
    swept = swept_below(read_program(data), bit.diameter_mm, -made.pocket_depth_mm)
    return shapely.affinity.translate(swept, *at)


def farthest(piece: shapely.Geometry, pocket: shapely.Geometry, rng: np.random.Generator) -> float:
    """How far a piece can be pushed at its worst place before it meets a wall, mm; infinite if none."""
    middle = np.array(shapely.box(*piece.bounds).centroid.coords[0])
    arms = shapely.get_coordinates(piece.convex_hull) - middle
    reach = np.hypot(*arms.T).max()
    most = 0.0
    for x, y, turn in rng.standard_normal((PUSHES, 3)):
        size = np.hypot(x - turn / reach * arms[:, 1], y + turn / reach * arms[:, 0]).max()
        gone = 0.0
        while gone < LOOSE:
            ahead = gone + STEP
            angle = np.degrees(turn / reach * ahead / size)
            pushed = shapely.affinity.rotate(piece, angle, tuple(middle))
            pushed = shapely.affinity.translate(pushed, x * ahead / size, y * ahead / size)
            if not pocket.covers(pushed):
                break
            gone = ahead
        most = max(most, gone if gone < LOOSE else np.inf)
    return float(most)


def _trial(figures: Figures, seed: int, number: int) -> None:
    rng = np.random.default_rng([seed, number])
    bit = Bit(float(rng.choice(BITS)), 1, 6.0)
    found = boarded(any_part(rng), bit)
    if found is None:
        figures.count("not cut", "", "", is_dress=False)
        return
    made, parts = found
    codes = {finding.code for finding in made.findings}
    for code in codes:
        figures.told[code] = figures.told.get(code, 0) + 1
    pocket = pocket_read_back(made, bit)
    shapely.prepare(pocket)
    harms = []
    for piece in shapely.get_parts(solid(parts)):
        room = shapely.distance(piece, shapely.boundary(pocket)) if pocket.covers(piece) else -1.0
        figures.clearances.append(float(room))
        if room < CLEARANCE - FLAT:
            harms.append(f"{number} has {room:.3f} mm")
        play = farthest(piece, pocket, rng)
        if made.play_mm is not None:
            figures.plays.append(play)
        if play > (made.play_mm or np.inf) * (1.0 + BEYOND_SHARE) + BEYOND:
            harms.append(f"{number} moves {play:.3f} mm, said {made.play_mm}")
        if np.isinf(play) and made.play_mm is not None:
            harms.append(f"{number} is not held")
    said = ", ".join(sorted(codes - {"few-notches"}))
    kind = "held" if made.play_mm is not None else "not held"
    stopped = bool(codes & {"nest-too-tight", "piece-in-opening"})
    figures.count(kind, "" if stopped else "; ".join(harms), said if stopped else "", is_dress=False)


def campaign(seed: int, count: int) -> Figures:
    """count parts; caught is what has a stop."""
    figures = Figures()
    for number in range(count):
        _trial(figures, seed, number)
    return figures


if __name__ == "__main__":
    command(__doc__ or "", campaign, 200)
