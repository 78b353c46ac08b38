"""The colours of a drawing: its palette, which of them is the ground, and what each ink is."""

from dataclasses import dataclass

import numpy as np

from core.artwork.edges import Bow
from core.artwork.ink import Box, Drawn, Ink
from core.errors import UnreadableFile
from core.findings import Finding, Level
from core.patches.colour_names import Rgb, hex_of, rgb_of
from core.picture.colours import MOST_COLOURS, ColourWish
from core.picture.oklab import to_oklab

#: Colours for a ground that is not drawn, the first that no ink looks like: paper first.
PAPERS = tuple(map(rgb_of, ("ffffff", "e6e0d4", "cfd8e3", "d9c9d9", "3a3a3a")))

#: Distance in Oklab below which a paper would be taken for an ink (two neighbouring named colours).
ALIKE = 0.04

#: Share of the page by which a rectangle that fills it may miss its edge.
FILLS = 1e-3


@dataclass(frozen=True, eq=False)
class Scheme:
    """palette, ground an index of it, labels one for each ink or None for ink that is the ground itself."""

    palette: tuple[Rgb, ...]
    ground: int
    labels: tuple[int | None, ...]
    findings: tuple[Finding, ...] = ()


def scheme_of(drawn: Drawn, wish: ColourWish) -> Scheme:
    """The scheme of a drawing. UnreadableFile when it has nothing but a ground."""
    backdrop = _fills_page(drawn)
    inks = drawn.inks[1:] if backdrop else drawn.inks
    colours = list(dict.fromkeys(ink.colour for ink in inks))
    ground = drawn.inks[0].colour if backdrop else _paper(colours)
    if wish.ground is not None:
        ground = _nearest(wish.ground, [ground, *colours])
    palette = [ground, *(colour for colour in colours if colour != ground)]
    stands = _merged(palette, min(wish.count or MOST_COLOURS, MOST_COLOURS))
    kept = sorted(set(stands))
    place = {colour: kept.index(stands[k]) for k, colour in enumerate(palette)}
    labels = [None if backdrop and ink is drawn.inks[0] else place[ink.colour] for ink in drawn.inks]
    if not any(labels):
        raise UnreadableFile("The drawing has no shape: everything in it is of the ground's colour.")
    findings = (_backdrop(ground),) if backdrop else ()
    return Scheme(tuple(palette[k] for k in kept), 0, tuple(labels), findings)


def _fills_page(drawn: Drawn) -> bool:
    """Whether the lowest ink is a rectangle that fills the page, with more on top."""
    first = drawn.inks[0]
    if drawn.page is None or len(drawn.inks) < 2 or first.pen is not None or len(first.paths) != 1:
        return False
    edges = [edge for edge in first.paths[0].edges if edge.start != edge.end]
    plain = len(edges) == 4 and all(isinstance(edge, Bow) and edge.bulge == 0.0 for edge in edges)
    return plain and _is_upright(first) and _covers(first.box(), drawn.page)


def _is_upright(ink: Ink) -> bool:
    ways = [ink.place.vector(edge.end - edge.start) for edge in ink.paths[0].edges]
    return all(min(abs(way.real), abs(way.imag)) <= FILLS * abs(way) for way in ways)


def _covers(box: Box, page: Box) -> bool:
    slack = FILLS * max(page[2] - page[0], page[3] - page[1])
    low = box[0] <= page[0] + slack and box[1] <= page[1] + slack
    return low and box[2] >= page[2] - slack and box[3] >= page[3] - slack


def _paper(colours: list[Rgb]) -> Rgb:
    inks = to_oklab(colours)
    away = [float(np.linalg.norm(inks - to_oklab(paper), axis=1).min()) for paper in PAPERS]
    return next(
        (paper for paper, gap in zip(PAPERS, away, strict=True) if gap > ALIKE), PAPERS[int(np.argmax(away))]
    )


def _nearest(wanted: Rgb, among: list[Rgb]) -> Rgb:
    return among[int(np.linalg.norm(to_oklab(among) - to_oklab(wanted), axis=1).argmin())]


def _merged(palette: list[Rgb], most: int) -> list[int]:
    """For every colour the one that stands for it, so that at most so many are left; the nearest go first."""
    stands = list(range(len(palette)))
    lab = to_oklab(palette)
    gaps = np.linalg.norm(lab[:, None, :] - lab[None, :, :], axis=2)
    gaps[np.tril_indices(len(palette))] = np.inf
    for _ in range(len(palette) - max(most, 2)):
        low, high = np.unravel_index(int(gaps.argmin()), gaps.shape)
        stands = [int(low) if one == high else one for one in stands]
        gaps[high, :] = gaps[:, high] = np.inf
    return stands


def _backdrop(colour: Rgb) -> Finding:
    return Finding(
        Level.NOTE,
        "backdrop",
        f"The rectangle of {hex_of(colour)} that fills the page is taken as the ground round the shape.",
        "Leave the rectangle out of the drawing, or give another ground, if it is part of the shape.",
    )
