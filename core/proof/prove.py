"""The read-back of a whole kit, from its bytes and the claims of its report.

The plot: the drawings of the part give outline and as-cut edge; the program's bytes give the part that
is left, its marks and tabs, and whether every rule of safe motion was kept; the films are compared with
their patches inside the face of the part as it is left; sizes, marks and boxes are looked at in every
file on the way. Of several copies the first is proven, and that all others are the same. What cannot be
read is a stop that names the file, never a traceback.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import shapely
from shapely.geometry.base import BaseGeometry

from core.errors import UnreadableFile
from core.findings import Finding
from core.program.read.program import Program
from core.proof.air import air_findings
from core.proof.asked import asked_patches
from core.proof.by_hand import excepted_by_hand, moved_findings
from core.proof.claims import Claims, FileClaim, FilmClaim
from core.proof.copies import Motion, motions_in, of_first_copy
from core.proof.edges import EdgeDistance, edge_distance
from core.proof.films import Bed, FilmEdge, film_edge, film_findings
from core.proof.lap import lap_findings
from core.proof.layers import Layers, NamedLayers, read_layers
from core.proof.lettering import row_findings, rows_moved, with_rows
from core.proof.marks import drawn_mark_error, mark_findings
from core.proof.nest import prove_nest, prove_nest_lap
from core.proof.overlap import overlap_findings, overlaps_in
from core.proof.part import part_drawing_findings
from core.proof.plots import plot_proofs, with_plots
from core.proof.polygons import areas_in
from core.proof.programs import (
    ProgramProof,
    counted,
    in_place,
    prove_lap,
    prove_program,
    read_named,
    rule_findings,
    tabs_of_first,
)
from core.proof.readback import EDGE_WITHIN, Readback, RuleCount, breach
from core.proof.reliefs import kept_free, relief_findings, relieved_places
from core.proof.rim_ends import rim_end_findings
from core.proof.rounding import rounded_in
from core.proof.sights import sight_findings
from core.proof.sizes import (
    box_findings,
    crossing_findings,
    height_findings,
    level_height_error,
    page_findings,
    part_height_error,
)
from core.proof.stencil import all_beds, stencil_findings, with_stencils
from core.proof.strange import strange_findings
from core.proof.weeding import weed_findings
from core.proof.witness import unit_findings, witness_findings

Files = Mapping[str, bytes]

#: What a drawing has beside its patches, or its film.
PART_LAYERS = ("part", "as-cut", "marks", "notes")
FILM_LAYERS = ("marks", "weeding", "notes")
PROGRAMS = ("clearance-lap", "part-program", "air-cut", "nest-program", "nest-lap")


@dataclass(frozen=True)
class _Figures:
    """What one drawing was measured to; film is None for a drawing of the part."""

    height_error_mm: float
    mark_error_mm: float
    findings: tuple[Finding, ...]
    film: str = ""
    edge: EdgeDistance | None = None


def prove(files: Files, claims: Claims) -> Readback:
    """The figures and findings of the read-back; what cannot be read is among the findings."""
    found: list[Finding] = []
    parts = _read_all(files, claims.files_of("part-drawing"), found)
    if not parts:
        found.append(breach("no-part-drawing", "The kit has no drawing of the part that can be read."))
        return Readback(findings=tuple(found))
    motions = motions_in(parts[0].layers, claims.pieces)
    if motions is None:
        text = f"{parts[0].path} does not hold {claims.pieces} copies of one piece."
        return Readback(findings=(*found, breach("copies-differ", text)))
    parts = [of_first_copy(part, motions, found) for part in parts]
    first = parts[0].layers
    outline = first.area("part")
    program = _prove_program(files, claims, outline, motions, found)
    left = program.part.left if program else first.area("as-cut")
    as_cut = edge_distance(first.area("as-cut"), left)
    figures = [_prove_part_drawing(part, parts[0], (left, as_cut), claims) for part in parts]
    every = shapely.union_all([motion.area(left) for motion in motions])
    found += [one for part in parts for one in sight_findings(part, claims.marks, every)]
    upwards = claims.films_upwards
    drawn = [first.area(f"patch-{film.name}") for film in upwards]
    patches = with_rows(drawn, upwards, claims.rows)
    asked = with_stencils(asked_patches(patches, outline, upwards), outline, upwards)
    found += [one for film in asked for one in film.findings]
    taken: BaseGeometry = shapely.Polygon()
    overlaps = [
        *rows_moved(drawn, upwards, claims.rows),
        *relieved_places(claims, left, [one.patch for one in asked]),
    ]
    plots = {}
    read = [_read_all(files, claims.files_of("film-drawing", film.name), found, claims) for film in upwards]
    firsts = [[of_first_copy(drawing, motions, found) for drawing in whole] for whole in read]
    made_beds = all_beds(
        asked, left, upwards, claims.tips, _moved_films(firsts, upwards), kept_free(claims.reliefs or ())
    )
    found += row_findings(drawn, upwards, claims.rows, [bed.face for bed in made_beds])
    for film, bed, what, whole, drawings in zip(upwards, made_beds, asked, read, firsts, strict=True):
        if not drawings:
            found.append(breach("no-film-drawing", f"The kit has no drawing of the film {film.name}."))
        found += [finding for drawing in whole for finding in weed_findings(drawing, film)]
        of_film = _prove_film(drawings, film, bed, taken, claims)
        figures += of_film
        found += stencil_findings(film.name, film.stencil, bed, what)
        overlaps += [*bed.left_out(), *excepted_by_hand(bed.before, film), *what.excepted]
        if drawings:
            found += moved_findings(drawings[0].path, bed.before, bed.seen, film.fine)
            found += [one for drawing in drawings for one in rim_end_findings(drawing, film, bed, what)]
        if drawings and film.corner_mm:
            area = drawings[0].layers.area(f"film-{film.name}")
            overlaps += rounded_in(area, bed.corners, bed.own)
        if whole:
            plots[film.name] = plot_proofs(files, film, (whole[0], of_film[0].edge), claims, found)
        if drawings and bed.under.uppers:
            area = drawings[0].layers.area(f"film-{film.name}")
            taken = shapely.union(taken, areas_in(shapely.intersection(area, bed.under.above)))
            overlaps += overlaps_in(area, bed.own, bed.under)
        found += [one for drawing in drawings for one in sight_findings(drawing, claims.marks, every)]
    made = _summed_up(program, figures, found)
    return with_plots(replace(made, excepted=(*overlaps, *made.excepted)), plots)


def _moved_films(drawings: list[list[NamedLayers]], films: tuple[FilmClaim, ...]) -> list[BaseGeometry]:
    """What each film's first drawing has, where a film is said to have moved edges; else nothing."""
    if not any(film.fine.moved for film in films):
        return []
    return [
        read[0].layers.area(f"film-{film.name}") if read else shapely.Polygon()
        for read, film in zip(drawings, films, strict=True)
    ]


def _read_all(
    files: Files,
    listed: tuple[FileClaim, ...],
    found: list[Finding],
    cutter: Claims | None = None,
) -> list[NamedLayers]:
    """The drawings that can be read; why the others cannot is added to what was found.

    cutter: claims whose mirror and correction films were written with; None for what no cutter cuts.
    """
    undone = (cutter.mirror_x, cutter.cutter, cutter.cutter_wider_mm) if cutter else (None, None, 0.0)
    drawings = []
    for claim in listed:
        if claim.path not in files:
            found.append(breach("file-missing", f"{claim.path} is missing."))
            continue
        try:
            layers = read_layers(files[claim.path], claim.format, *undone)
            drawings.append(NamedLayers(claim.path, layers))
        except UnreadableFile as error:
            found.append(breach("file-unreadable", f"{claim.path}: {error}"))
    return drawings


def _prove_program(
    files: Files, claims: Claims, outline: BaseGeometry, motions: tuple[Motion, ...], found: list[Finding]
) -> ProgramProof | None:
    """The proof of the part program and the lap; None where the kit has none, or it cannot be read."""
    found.extend(relief_findings(claims, tabs_of_first(claims, outline, motions)))
    if claims.program is None:
        listed = [file.path for role in PROGRAMS for file in claims.files_of(role)]
        found.extend(
            breach("program-unclaimed", f"{path} is listed, but the report says that the kit has no program.")
            for path in listed
        )
        return None
    proof = None
    rules = RuleCount()
    read: dict[str, Program] = {}
    paths: dict[str, str] = {}
    for role, prove_one in (("clearance-lap", prove_lap), ("part-program", prove_program)):
        named = _read_one(files, claims, role, found)
        if named is None:
            continue
        paths[role], read[role] = named
        proof = prove_one(read[role], paths[role], claims, outline, motions)
        rules = RuleCount(rules.checked + proof.rules.checked, rules.broken + proof.rules.broken)
        found.extend(proof.findings)
    if len(read) == 2:
        lap, part = (in_place(read[role], claims) for role in ("clearance-lap", "part-program"))
        found.extend(lap_findings(paths["clearance-lap"], lap, part, claims))
    if claims.program.air_cut_mm and "part-program" in read:
        found.extend(_prove_air(files, claims, read["part-program"], claims.program.air_cut_mm))
    if not isinstance(proof, ProgramProof):
        return None
    proof = replace(proof, rules=rules)
    return proof if claims.nest is None else _with_nest(proof, files, claims, motions, found)


def _with_nest(
    proof: ProgramProof, files: Files, claims: Claims, motions: tuple[Motion, ...], found: list[Finding]
) -> ProgramProof:
    """The program's proof with that of the nest board, in which the part that is left is laid."""
    named = _read_one(files, claims, "nest-program", found)
    if named is None:
        return proof
    path, program = named
    nest = prove_nest(program, path, claims, proof.part.left, motions)
    found.extend((*rule_findings(path, nest.rules), *nest.findings))
    own = [counted(path, [nest.rules])]
    lap = _read_one(files, claims, "nest-lap", found) if claims.files_of("nest-lap") else None
    if lap is not None:
        shown = prove_nest_lap(lap[1], lap[0], program, claims)
        own.append(counted(lap[0], [shown.rules]))
        found.extend((*rule_findings(lap[0], shown.rules), *shown.findings))
    checked = proof.rules.checked + sum(one.checked for one in own)
    broken = (*proof.rules.broken, *(words for one in own for words in one.broken))
    rules = RuleCount(checked, broken)
    return replace(proof, rules=rules, mark_error_mm=max(proof.mark_error_mm, nest.mark_error_mm))


def _read_one(files: Files, claims: Claims, role: str, found: list[Finding]) -> tuple[str, Program] | None:
    """The one program of a role with its path; None where there is none, and what was found says why."""
    named = claims.files_of(role)
    if len(named) != 1:
        found.append(breach("program-missing", f"The kit lists {len(named)} files with the role {role}."))
        return None
    try:
        return named[0].path, read_named(files, named[0].path)
    except UnreadableFile as error:
        found.append(breach("file-unreadable", str(error)))
        return None


def _prove_air(files: Files, claims: Claims, part: Program, raised_mm: float) -> list[Finding]:
    """The air cut against the part program that it shows."""
    found: list[Finding] = []
    named = _read_one(files, claims, "air-cut", found)
    if named is not None:
        path, air = named
        found.extend(air_findings(path, air, part, raised_mm))
    return found


def _prove_part_drawing(
    part: NamedLayers, first: NamedLayers, left: tuple[BaseGeometry, EdgeDistance], claims: Claims
) -> _Figures:
    """left: what the program leaves, and how far the first drawing's as-cut edge is from it."""
    layers, path = part.layers, part.path
    films = [film.name for film in claims.films]
    height = part_height_error(layers, claims)
    marks = drawn_mark_error(layers, claims.marks, is_film=False)
    findings = (
        *height_findings(path, height),
        *mark_findings(path, marks),
        *page_findings(path, layers, claims),
        *crossing_findings(path, layers),
        *strange_findings(path, layers, {*PART_LAYERS, *(f"patch-{film}" for film in films)}),
        *part_drawing_findings(part, first, films, *left),
    )
    return _Figures(height, marks, findings)


def _prove_film(
    drawings: list[NamedLayers], film: FilmClaim, bed: Bed, taken: BaseGeometry, claims: Claims
) -> list[_Figures]:
    """taken: where films below this one lie under another already."""
    layer = f"film-{film.name}"
    edges: list[tuple[Layers, FilmEdge]] = []
    figures = []
    for drawing in drawings:
        known = [edge for layers, edge in edges if layers.is_same_as(drawing.layers, layer)]
        edge = known[0] if known else film_edge(drawing.layers.area(layer), bed)
        edges.append((drawing.layers, edge))
        made = _one_film(drawing, film, edge, claims)
        lies: tuple[Finding, ...] = ()
        if bed.under.uppers and len(edges) == 1:
            lies = overlap_findings(drawing.path, drawing.layers.area(layer), bed.own, bed.under, taken)
        elif bed.under.uppers:
            lies = _other_layer(drawing, drawings[0], layer)
        if len(edges) > 1:
            lies = (*lies, *_other_layer(drawing, drawings[0], "weeding"))
        figures.append(replace(made, findings=(*made.findings, *lies)))
    return figures


def _other_layer(drawing: NamedLayers, first: NamedLayers, layer: str) -> tuple[Finding, ...]:
    """A stop when two drawings of one film differ, also where nothing else says how it should be."""
    if drawing.layers.is_same_as(first.layers, layer):
        return ()
    off = edge_distance(drawing.layers.area(layer), first.layers.area(layer))
    if off.max_mm <= EDGE_WITHIN:
        return ()
    text = f"The layer {layer} in {drawing.path} is {off.max_mm:.4f} mm off the one in {first.path}."
    return (breach("drawings-differ", text, off.at),)


def _one_film(drawing: NamedLayers, film: FilmClaim, edge: FilmEdge, claims: Claims) -> _Figures:
    layers, path = drawing.layers, drawing.path
    height = level_height_error(layers, claims)
    marks = drawn_mark_error(layers, claims.marks, is_film=True)
    findings = (
        *height_findings(path, height),
        *mark_findings(path, marks),
        *page_findings(path, layers, claims),
        *crossing_findings(path, layers),
        *strange_findings(path, layers, {*FILM_LAYERS, f"film-{film.name}"}),
        *box_findings(path, layers, film),
        *witness_findings(path, layers, film),
        *unit_findings(path, layers, film),
        *film_findings(path, edge),
    )
    return _Figures(height, marks, findings, film.name, edge.off)


def _summed_up(program: ProgramProof | None, figures: list[_Figures], found: list[Finding]) -> Readback:
    marks = [figure.mark_error_mm for figure in figures] + ([program.mark_error_mm] if program else [])
    films: dict[str, EdgeDistance] = {}
    for figure in figures:
        if figure.edge and (figure.film not in films or figure.edge.max_mm > films[figure.film].max_mm):
            films[figure.film] = figure.edge
    return Readback(
        height_error_mm=max(figure.height_error_mm for figure in figures),
        edge=program.part.edge if program else None,
        films=films,
        mark_error_mm=max(marks),
        excepted=program.part.excepted if program else (),
        rules=program.rules if program else RuleCount(),
        findings=(*found, *(finding for figure in figures for finding in figure.findings)),
    )
