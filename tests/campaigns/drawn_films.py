"""A seeded campaign of open flat-colour drawings: every one becomes films that its own bytes prove.

Overlap is 0, so that films which meet share their edge: read back from SVG, every piece of it stands in both
files with the very same numbers, and nothing lies under two films. Harm is a traceback, a stop of the
proof, a film outside its face or off its patch by more than a hundredth, or an edge told twice.

    python -m tests.campaigns.drawn_films --seed 1 --count 300
"""

import time
from dataclasses import dataclass, field
from itertools import combinations, zip_longest

import numpy as np
import shapely

from core.build import Build, build
from core.drawing.read.svg import read_svg
from core.errors import SamecutError
from core.findings import Level
from core.job.job import Job, Source
from core.kit.drawing_files import drawing_files
from core.kit.drawings import kit_sheet_box
from core.kit.kit import FileRole, KitNames
from core.kit.report import report_of
from core.outline.loop import Loop
from core.outline.measure import Inside, Nearest
from core.outline.segments import Floats
from core.proof.prove import prove
from core.proof.read_claims import claims_of
from core.proof.readback import EDGE_WITHIN
from tests.campaigns.tally import Tally, command
from tests.support.open_drawings import drawings

#: mm from the face's edge beyond which a Chain's point is surely the film's; mm by which welding moves one.
SOUND_MM, WELDED_MM = 0.01, 3e-6
#: Two bulges of one arc, read from two files from either end of it.
SAME_BULGE = 1e-9
#: mm2 that may lie under two films: the flattening of one arc from two sides.
DOUBLE_MM2 = 1e-3
HEIGHT = "80 mm"


@dataclass
class Figures(Tally):
    """The tally; seconds of each drawing, films and pairs that meet, worst mm of a film, kinds of refusal."""

    seconds: list[float] = field(default_factory=list)
    films: int = 0
    pairs: int = 0
    shared: int = 0
    thin: int = 0
    off_mm: list[float] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)

    def lines(self) -> list[str]:
        """The figures, then the tally."""
        return [
            f"{len(self.seconds)} drawings, {self.films} films, {self.pairs} pairs that meet",
            f"in {self.shared} pieces of edge, {self.thin} more beside what is too thin to be film",
            f"off their patches by {max(self.off_mm, default=0.0):.4f} mm at most",
            f"s each: median {np.median(self.seconds):.2f}, most {max(self.seconds):.2f}",
            *(f"refused: {one}" for one in self.refused),
            *super().lines(),
        ]


def campaign(seed: int, count: int) -> Figures:
    """count drawings of those that can be had, drawn by the seed."""
    figures = Figures()
    for name, data in _drawn(seed, count):
        _one(figures, name, data)
    return figures


def _drawn(seed: int, count: int) -> list[tuple[str, bytes]]:
    """As many of each package as there are, up to an even share, in an order of the seed."""
    random, every = np.random.default_rng(seed), drawings()
    packages = sorted({name.rpartition("/")[0] for name in every})
    piles = [[one for one in every.items() if one[0].startswith(package)] for package in packages]
    for pile in piles:
        random.shuffle(pile)
    rows = [one for row in zip_longest(*piles) for one in row if one is not None]
    return rows[:count]


def _one(figures: Figures, name: str, data: bytes) -> None:
    begun = time.perf_counter()
    job = Job(source="drawing.svg").with_choice("shape.height", HEIGHT).with_choice("film.overlap", "0 mm")
    try:
        made = build(job, Source("drawing.svg", data))
        harm = _harm_of(figures, made)
    except SamecutError as error:
        figures.refused.append(f"{name}: {error}")
        harm = ""
    except Exception as error:  # noqa: BLE001 - a crash is what is looked for
        harm = f"{type(error).__name__}: {error}"
    figures.seconds.append(time.perf_counter() - begun)
    figures.count(name.rpartition("/")[0], f"{name}: {harm}" if harm else "", "", is_dress=False)


def _harm_of(figures: Figures, made: Build) -> str:
    """What is wrong with the films' bytes; "" for nothing."""
    names = KitNames("drawing", made.shape.size_mm[1])
    box = kit_sheet_box(made.films.films, made.drawn, made.layout)
    files = drawing_files(made, names, box).files
    data = {file.path: file.data for file in files}
    claims = claims_of(report_of(made, None, box, files))
    readback = prove(data, claims)
    stops = [one for one in readback.findings if one.level is Level.STOP]
    if stops:
        return f"{stops[0].code}: {stops[0].text}"
    figures.films += len(made.films.films)
    figures.off_mm += [edge.max_mm for edge in readback.films.values()]
    if max(figures.off_mm, default=0.0) > EDGE_WITHIN:
        return f"a film is {max(figures.off_mm):.4f} mm off its patch"
    drawn = {
        file.film: _loops(file.data, file.film)
        for file in files
        if file.role is FileRole.FILM_DRAWING and file.format == "svg"
    }
    return _lie_apart(drawn) or _told_twice(figures, made, drawn)


def _loops(data: bytes, film: str) -> list[Loop]:
    """The film's contours as its SVG has them, number by number."""
    read = read_svg(data)
    return [
        Loop(one.points, one.bulges)
        for layer in read.layers
        if layer.name == f"film-{film}"
        for one in layer.contours
    ]


def _told_twice(figures: Figures, made: Build, drawn: dict[str, list[Loop]]) -> str:
    """Where a Chain between two films is not told with the same numbers in both files; "" for nowhere.

    Looked at is each of its segments that lies inside the face, by more than the inset's own rounding. A film
    may lack it where it is no film there: a patch thinner than the flattening is none.
    """
    known = {name: _Told.of(loops) for name, loops in drawn.items()}
    roles, inside = made.shape.patches.roles, Inside.of(made.films.face)
    edge = Nearest.of([loop for region in made.films.face for loop in region.loops()])
    met = set()
    for chain in made.shape.outline.mapped(1.0, made.layout.shape_at).chains:
        names = roles[chain.left].film, roles[chain.right].film
        if names[0] == names[1] or not all(name in known for name in names):
            continue
        points = chain.points
        sound = inside.holds(points) & (edge.distances(points) > SOUND_MM)
        for row in np.flatnonzero(sound[:-1] & sound[1:]).tolist():
            ends = points[row], points[row + 1]
            one, other = known[names[0]].told(*ends), known[names[1]].told(*ends[::-1])
            if one is None or other is None:
                figures.thin += 1
                continue
            if one[:2] != other[1::-1] or abs(one[2] + other[2]) > SAME_BULGE:
                return f"an edge from {one[0]} to {one[1]} is told otherwise in the other film"
            met.add(names)
            figures.shared += 1
    figures.pairs += len({frozenset(pair) for pair in met})
    return ""


def _lie_apart(drawn: dict[str, list[Loop]]) -> str:
    """Where two films lie on each other; "" for nowhere."""
    for (one, first), (other, second) in combinations(drawn.items(), 2):
        double = float(shapely.area(shapely.intersection(_area(first), _area(second))))
        if double > DOUBLE_MM2:
            return f"films {one} and {other} share {double:.4f} mm2"
    return ""


Piece = tuple[tuple[float, float], tuple[float, float], float]


@dataclass(frozen=True)
class _Told:
    """The pieces of a film's edge as its file has them, and a tree of their starts."""

    pieces: list[Piece]
    tree: shapely.STRtree

    @classmethod
    def of(cls, loops: list[Loop]) -> "_Told":
        pieces = [piece for loop in loops for piece in _pieces(loop)]
        return cls(pieces, shapely.STRtree([shapely.Point(start) for start, _, _ in pieces]))

    def told(self, start: Floats, end: Floats) -> Piece | None:
        """The piece from one point to another; None where there is none."""
        rows = self.tree.query(shapely.Point(start), predicate="dwithin", distance=WELDED_MM)
        for row in np.atleast_1d(rows).tolist():
            piece = self.pieces[int(row)]
            if np.hypot(*(np.array(piece[1]) - end)) <= WELDED_MM:
                return piece
        return None


def _pieces(loop: Loop) -> list[Piece]:
    starts = [(float(x), float(y)) for x, y in loop.points]
    ends = [*starts[1:], starts[0]]
    return list(zip(starts, ends, map(float, loop.bulges), strict=True))


def _area(loops: list[Loop]) -> shapely.Geometry:
    rings = [shapely.LinearRing(loop.flattened(1e-4)) for loop in loops]
    return shapely.build_area(shapely.geometrycollections(rings))


if __name__ == "__main__":
    command(__doc__ or "", campaign, 300)
