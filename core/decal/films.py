"""Films from patches and part: film = patch ∩ face, neighbours on one edge, what is too small told.

The inset belongs to the part's edge and openings, never to the edge between two colours. Where an overlap
is asked for, the lower of two neighbours goes on under the upper one.
"""

from dataclasses import dataclass

import numpy as np

from core.cancel import NEVER, CancelToken
from core.decal.alike import alike_findings
from core.decal.cut_films import CutFilm, cut_films
from core.decal.excepted import lost_tips, tip_findings
from core.decal.face import NearerTip, TipWish, face_of, nearer_tips
from core.decal.film import Excepted, Film, FilmSource
from core.decal.laying import Laying, in_laying_order, order_findings
from core.decal.left_out import NOTHING, LeftOut
from core.decal.round_corners import sharp_findings, with_round_corners
from core.decal.weld import welded
from core.decal.width import piece_widths
from core.findings import Finding, Level, Point
from core.outline.region import Region, Regions
from core.outline.segments import Floats

#: mm2 and mm: below it a piece is dragged along by the blade or lost in weeding (common practice, no source).
TINY_PIECE_MM2, THIN_STROKE_MM = 3.0, 0.8
#: Places told one by one for each film; beyond it the first few and their number say as much.
MOST_PLACES = 12
#: Neighbours that meet edge to edge, sharing their Chains.
SIDE_BY_SIDE = Laying()


@dataclass(frozen=True, eq=False)
class Films:
    """face in the frame, mm; the films that have at least one piece, the lowest as seen first.

    tips: where the face comes nearer to the edge than the inset.
    """

    face: Regions
    films: tuple[Film, ...]
    excepted: tuple[Excepted, ...]
    findings: tuple[Finding, ...]
    tips: tuple[NearerTip, ...] = ()


@dataclass(frozen=True)
class FilmWish:
    """How far films stay inside the edge (mm, >= 0), how they lie, and what differs from that by hand."""

    inset_mm: float
    laying: Laying = SIDE_BY_SIDE
    left_out: LeftOut = NOTHING
    tips: tuple[TipWish, ...] = ()
    corner_mm: float = 0.0


def make_films(
    sources: tuple[FilmSource, ...],
    as_cut: Regions,
    inset_mm: float,
    laying: Laying = SIDE_BY_SIDE,
    token: CancelToken = NEVER,
) -> Films:
    """Every film cut to the face; sources and as_cut in the frame, mm, inset_mm >= 0."""
    return films_as_wished(sources, as_cut, FilmWish(inset_mm, laying), token)


def films_as_wished(
    sources: tuple[FilmSource, ...], as_cut: Regions, wish: FilmWish, token: CancelToken = NEVER
) -> Films:
    """Every film cut to the face; sources and as_cut in the frame, mm."""
    tips = nearer_tips(wish.tips, as_cut, wish.inset_mm)
    face = face_of(as_cut, wish.inset_mm, tips)
    token.check()
    ordered = in_laying_order(sources, wish.laying)
    cut = cut_films([source.patch for source in ordered], face, wish.laying.overlap_mm, wish.left_out)
    films: list[Film] = []
    findings: list[Finding] = [*order_findings(ordered, wish.laying)]
    every = welded([one.regions for one in cut])
    if wish.corner_mm > 0.0:
        every = with_round_corners(every, wish.corner_mm)
    else:
        findings += sharp_findings([source.name for source in ordered], every)
    for source, regions, one in zip(ordered, every, cut, strict=True):
        token.check()
        if not regions:
            findings.append(_vanished(source, wish.inset_mm, one))
            continue
        widths = piece_widths(regions, THIN_STROKE_MM)
        narrowest = float(widths.min())
        films.append(Film(source.name, source.colour, regions, wish.inset_mm, narrowest, one.dropped))
        findings += _small_pieces(source.name, regions, widths)
    covered = tuple(region for source in sources for region in source.patch)
    lost = lost_tips(as_cut, covered, wish.inset_mm, tips)
    overlaps = tuple(place for one in cut for place in one.overlaps)
    findings += [*tip_findings(lost, face), *alike_findings(films)]
    return Films(face, tuple(films), (*lost, *overlaps), tuple(findings), tips)


def _vanished(source: FilmSource, inset_mm: float, cut: CutFilm) -> Finding:
    at = _corner(source.patch[0]) if source.patch else None
    if cut.dropped:
        text = f"Nothing is left of the film {source.name}: all its pieces are left out."
        return Finding(Level.NOTE, "film-vanished", text, "Leave fewer pieces out to have it again.", at)
    return Finding(
        Level.CAUTION,
        "film-vanished",
        f"Nothing is left of the film {source.name}: all of it lies within {inset_mm:g} mm of the edge.",
        "Make the inset smaller, or give the patch the role bare.",
        at,
    )


def _small_pieces(name: str, regions: Regions, widths: Floats) -> list[Finding]:
    """One finding for each place up to a dozen, then one with the number of those left."""
    found = [
        finding
        for region, width in zip(regions, widths.tolist(), strict=True)
        if (finding := _small_piece(name, region, width)) is not None
    ]
    more = len(found) - MOST_PLACES
    return found if more <= 0 else [*found[:MOST_PLACES], _and_more(name, more)]


def _small_piece(name: str, region: Region, width: float) -> Finding | None:
    if region.area() < TINY_PIECE_MM2:
        return Finding(
            Level.CAUTION,
            "tiny-piece",
            f"A piece of the film {name} has {region.area():.2f} mm2; under {TINY_PIECE_MM2:g} it gets lost.",
            "Make the shape larger, give this patch to its neighbour, or leave the piece out.",
            _corner(region),
        )
    if width < THIN_STROKE_MM:
        return Finding(
            Level.CAUTION,
            "thin-stroke",
            f"A piece of the film {name} is {width:.2f} mm wide; under {THIN_STROKE_MM:g} it is dragged.",
            "Make the shape larger, or the inset smaller where the part's edge thins the piece.",
            _corner(region),
        )
    return None


def _and_more(name: str, more: int) -> Finding:
    return Finding(
        Level.CAUTION,
        "small-pieces",
        f"The film {name} has {more} more pieces that are tiny or thin.",
        "Make the shape larger, or make the smallest patch larger.",
    )


def _corner(region: Region) -> Point:
    """A point of the piece's edge, the first from below: small pieces need no better place."""
    points = region.outer.points
    x, y = points[np.lexsort((points[:, 0], points[:, 1]))[0]].tolist()
    return float(x), float(y)
