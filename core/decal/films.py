"""Films from patches and part: film = patch ∩ face, neighbours on one edge, what is too small told.

The inset belongs to the part's edge and openings, never to the edge between two colours. Where an overlap
is asked for, the lower of two neighbours goes on under the upper one.
"""

from dataclasses import dataclass, replace

import numpy as np

from core.cancel import NEVER, CancelToken
from core.decal.alike import alike_findings
from core.decal.cut_films import CutFilm, CutFilms, cut_films
from core.decal.edits import AS_THEY_ARE, Edits
from core.decal.excepted import lost_tips, tip_findings
from core.decal.face import NearerTip, TipWish, face_of, nearer_tips
from core.decal.film import Excepted, Film, FilmSource, Stencil
from core.decal.islands import AS_CUT
from core.decal.laying import Laying, in_laying_order, order_findings
from core.decal.lettering import MovedRow, with_lettering
from core.decal.relief import Relief, relieved
from core.decal.rim import RimWish, rim_findings, rimmed
from core.decal.round_corners import sharp_findings, with_round_corners
from core.decal.stencil import (
    Bridged,
    StencilWish,
    bridged,
    negative,
    stencil_findings,
    stencil_name_findings,
)
from core.decal.thin import LEAST_STROKE_MM
from core.decal.too_fine import fineness_findings
from core.decal.weld import welded
from core.decal.width import piece_widths
from core.findings import Finding, Level, Point
from core.outline.region import Region, Regions

#: The inset thins rims.
RIMS_STAY = RimWish()
#: Every film is what the picture shows.
NO_STENCILS = StencilWish()
#: Neighbours that meet edge to edge, sharing their Chains.
SIDE_BY_SIDE = Laying()


@dataclass(frozen=True, eq=False)
class Films:
    """face in the frame, mm; the films that have at least one piece, the lowest as seen first.

    tips: where the face comes nearer to the edge than the inset, reliefs: where it keeps farther; rows:
    lettering that was moved as a whole; rim: what became of lines along the edge.
    """

    face: Regions
    films: tuple[Film, ...]
    excepted: tuple[Excepted, ...]
    findings: tuple[Finding, ...]
    tips: tuple[NearerTip, ...] = ()
    rows: tuple[MovedRow, ...] = ()
    reliefs: tuple[Relief, ...] = ()
    rim: RimWish = RIMS_STAY


@dataclass(frozen=True)
class FilmWish:
    """How far films stay inside the edge (mm, >= 0), how they lie, and what differs from that by hand."""

    inset_mm: float
    laying: Laying = SIDE_BY_SIDE
    edits: Edits = AS_THEY_ARE
    tips: tuple[TipWish, ...] = ()
    corner_mm: float = 0.0
    rim: RimWish = RIMS_STAY
    stencils: StencilWish = NO_STENCILS
    lettering: str = "clipped"
    reliefs: tuple[Relief, ...] = ()


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
    face = relieved(face_of(as_cut, wish.inset_mm, tips), wish.reliefs)
    token.check()
    lettering = with_lettering(in_laying_order(sources, wish.laying), as_cut, face, wish.lettering)
    ordered = lettering.sources
    edge = as_cut if part is None else part
    rims = rimmed([source.patch for source in ordered], edge, wish.inset_mm, wish.rim)
    token.check()
    names = [source.name for source in ordered]
    cut = _cut(names, [rim.patch for rim in rims], edge, face, wish)
    films: list[Film] = []
    findings: list[Finding] = [*order_findings(ordered, wish.laying), *lettering.findings, *cut.findings]
    findings += stencil_name_findings(wish.stencils.names, names)
    every = _finished(names, cut, wish)
    if not wish.corner_mm:
        findings += sharp_findings(names, every)
    for source, regions, one, rim in zip(ordered, every, cut.films, rims, strict=True):
        token.check()
        if not regions:
            findings.append(_vanished(source, wish.inset_mm, one))
            continue
        findings += rim_findings(source.name, rim, wish.rim.how, wish.inset_mm)
        narrowest = float(piece_widths(regions, LEAST_STROKE_MM).min())
        made = _as_stencil(regions, face, wish) if source.name in wish.stencils.names else None
        films.append(
            Film(
                source.name,
                source.colour,
                made.regions if made else regions,
                wish.inset_mm,
                narrowest,
                one.dropped,
                one.done,
                rim.runs,
                Stencil(wish.stencils.bridge_mm, made.bridges, made.loose) if made else None,
            )
        )
        findings += stencil_findings(source.name, made, wish.stencils.bridge_mm) if made else []
    findings += fineness_findings([source.name for source in ordered], every, face)
    covered = tuple(region for source in sources for region in source.patch)
    lost = lost_tips(as_cut, covered, wish.inset_mm, tips)
    overlaps = tuple(place for one in cut.films for place in one.overlaps)
    findings += [*tip_findings(lost, face), *alike_findings(films)]
    excepted = (*lost, *overlaps)
    return Films(face, tuple(films), excepted, tuple(findings), tips, lettering.moved, wish.reliefs, wish.rim)


def _cut(names: list[str], patches: list[Regions], part: Regions, face: Regions, wish: FilmWish) -> CutFilms:
    """Each film cut to the face, the lowest first; a stencil is laid alone, and has no neighbours."""
    alone, beside = _apart(names, wish)
    cut = cut_films([patches[at] for at in beside], face, wish.laying.overlap_mm, wish.edits)
    if not alone:
        return cut
    found = dict(zip(beside, cut.films, strict=True))
    # Bridges and filled openings are of films as the picture shows them.
    edits = replace(wish.edits, islands=AS_CUT)
    for at in alone:
        (found[at],) = cut_films([negative(patches[at], part)], face, 0.0, edits).films
    return CutFilms(tuple(found[at] for at in range(len(names))), cut.findings)


def _apart(names: list[str], wish: FilmWish) -> tuple[list[int], list[int]]:
    """Which films are stencils, and which are not."""
    alone = [at for at, name in enumerate(names) if name in wish.stencils.names]
    return alone, [at for at in range(len(names)) if at not in alone]


def _finished(names: list[str], cut: CutFilms, wish: FilmWish) -> list[Regions]:
    """The films with equal numbers where they meet, their corners rounded where that is asked for."""
    every = list(welded([one.regions for one in cut.films]))
    if wish.corner_mm > 0.0:
        alone, beside = _apart(names, wish)
        for group in (beside, *([at] for at in alone)):
            rounded = with_round_corners([every[at] for at in group], wish.corner_mm)
            for at, regions in zip(group, rounded, strict=True):
                every[at] = regions
    return every


def _as_stencil(regions: Regions, face: Regions, wish: FilmWish) -> Bridged:
    """With bridges to its islands where they are asked for."""
    width = wish.stencils.bridge_mm
    return bridged(regions, face, width) if width > 0.0 else Bridged(regions)


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
