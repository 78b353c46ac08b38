"""Films from patches and part: film = patch ∩ face, neighbours on one edge, what is too small told.

The inset belongs to the part's edge and openings, never to the edge between two colours. Where an overlap
is asked for, the lower of two neighbours goes on under the upper one.
"""

from dataclasses import dataclass

import numpy as np

from core.cancel import NEVER, CancelToken
from core.decal.alike import alike_findings
from core.decal.cut_films import CutFilm, cut_films
from core.decal.edits import AS_THEY_ARE, Edits
from core.decal.excepted import lost_tips, tip_findings
from core.decal.face import NearerTip, TipWish, face_of, nearer_tips
from core.decal.film import Excepted, Film, FilmSource
from core.decal.laying import Laying, in_laying_order, order_findings
from core.decal.rim import RimWish, rim_findings, rimmed
from core.decal.round_corners import sharp_findings, with_round_corners
from core.decal.thin import LEAST_STROKE_MM
from core.decal.too_fine import fineness_findings
from core.decal.weld import welded
from core.decal.width import piece_widths
from core.findings import Finding, Level, Point
from core.outline.region import Region, Regions

#: The inset thins rims.
RIMS_STAY = RimWish()
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
    edits: Edits = AS_THEY_ARE
    tips: tuple[TipWish, ...] = ()
    corner_mm: float = 0.0
    rim: RimWish = RIMS_STAY


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
    sources: tuple[FilmSource, ...],
    as_cut: Regions,
    wish: FilmWish,
    token: CancelToken = NEVER,
    part: Regions | None = None,
) -> Films:
    """Every film cut to the face; sources, as_cut and part in the frame, mm.

    part: the part as drawn, along whose edge rims lie; as_cut where none is told.
    """
    tips = nearer_tips(wish.tips, as_cut, wish.inset_mm)
    face = face_of(as_cut, wish.inset_mm, tips)
    token.check()
    ordered = in_laying_order(sources, wish.laying)
    edge = as_cut if part is None else part
    rims = rimmed([source.patch for source in ordered], edge, wish.inset_mm, wish.rim)
    token.check()
    cut = cut_films([rim.patch for rim in rims], face, wish.laying.overlap_mm, wish.edits)
    films: list[Film] = []
    findings: list[Finding] = [*order_findings(ordered, wish.laying), *cut.findings]
    every = welded([one.regions for one in cut.films])
    if wish.corner_mm > 0.0:
        every = with_round_corners(every, wish.corner_mm)
    else:
        findings += sharp_findings([source.name for source in ordered], every)
    for source, regions, one, rim in zip(ordered, every, cut.films, rims, strict=True):
        token.check()
        if not regions:
            findings.append(_vanished(source, wish.inset_mm, one))
            continue
        findings += rim_findings(source.name, rim, wish.rim.how, wish.inset_mm)
        narrowest = float(piece_widths(regions, LEAST_STROKE_MM).min())
        films.append(
            Film(
                source.name,
                source.colour,
                regions,
                wish.inset_mm,
                narrowest,
                one.dropped,
                one.done,
                rim.runs,
            )
        )
    findings += fineness_findings([source.name for source in ordered], every, face)
    covered = tuple(region for source in sources for region in source.patch)
    lost = lost_tips(as_cut, covered, wish.inset_mm, tips)
    overlaps = tuple(place for one in cut.films for place in one.overlaps)
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


def _corner(region: Region) -> Point:
    """A point of the piece's edge, the first from below: small pieces need no better place."""
    points = region.outer.points
    x, y = points[np.lexsort((points[:, 0], points[:, 1]))[0]].tolist()
    return float(x), float(y)
