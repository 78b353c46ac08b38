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
from core.proof.prove import prove
from core.proof.read_claims import claims_of
from core.proof.readback import EDGE_WITHIN
from tests.campaigns.tally import Tally, command
from tests.support.open_drawings import drawings

#: mm that a piece of edge may lie from another film's to be the same.
SAME_EDGE_MM = 1e-4
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
    off_mm: list[float] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)

    def lines(self) -> list[str]:
        """The figures, then the tally."""
        return [
            f"{len(self.seconds)} drawings, {self.films} films, {self.pairs} pairs that meet",
            f"in {self.shared} pieces of edge; off by {max(self.off_mm, default=0.0):.4f} mm at most",
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
        random.shuffle(pile)  # type: ignore[arg-type]
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
    drawn = [
        _loops(file.data, file.film)
        for file in files
        if file.role is FileRole.FILM_DRAWING and file.format == "svg"
    ]
    return next((harm for pair in combinations(drawn, 2) if (harm := _told_twice(figures, *pair))), "")


def _loops(data: bytes, film: str) -> list[Loop]:
    """The film's contours as its SVG has them, number by number."""
    read = read_svg(data)
    return [
        Loop(one.points, one.bulges)
        for layer in read.layers
        if layer.name == f"film-{film}"
        for one in layer.contours
    ]


def _told_twice(figures: Figures, one: list[Loop], other: list[Loop]) -> str:
    """Where two films overlap, or have an edge that is not the same number in both; "" for nowhere."""
    lower, upper = _area(one), _area(other)
    double = float(shapely.area(shapely.intersection(lower, upper)))
    if double > DOUBLE_MM2:
        return f"two films share {double:.4f} mm2"
    both = 0
    known = {piece for loop in other for piece in _pieces(loop)}
    edge = shapely.boundary(upper)
    for loop in one:
        middles = np.asarray(shapely.points(loop.segments().midpoints()))
        ends = np.asarray(shapely.points(loop.points))
        near = shapely.dwithin(middles, edge, SAME_EDGE_MM + 1e-3)
        near &= shapely.dwithin(ends, edge, SAME_EDGE_MM) & shapely.dwithin(
            np.roll(ends, -1), edge, SAME_EDGE_MM
        )
        for piece, is_near in zip(_pieces(loop), near.tolist(), strict=True):
            if not is_near:
                continue
            both += 1
            start, end, bulge = piece
            if (end, start, -bulge) not in known:
                return f"an edge from {start} to {end} is told otherwise in the other film"
    figures.pairs += bool(both)
    figures.shared += both
    return ""


def _pieces(loop: Loop) -> list[tuple[tuple[float, float], tuple[float, float], float]]:
    starts = [(float(x), float(y)) for x, y in loop.points]
    ends = [*starts[1:], starts[0]]
    return list(zip(starts, ends, map(float, loop.bulges), strict=True))


def _area(loops: list[Loop]) -> shapely.Geometry:
    rings = [shapely.LinearRing(loop.flattened(1e-4)) for loop in loops]
    return shapely.build_area(shapely.geometrycollections(rings))


if __name__ == "__main__":
    command(__doc__ or "", campaign, 300)
