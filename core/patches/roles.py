"""What becomes of every patch: a careful proposal, changed where the maker said so.

1. Every face of the ground's colour that reaches the ground beyond is ground; an enclosed one is bare,
   since a light area enclosed by dark is most often no hole. Every other face is film of its colour.
2. The maker's word for a colour, then for single patches, replaces that.
3. Faces too small to keep take the role of the neighbour with the longest shared edge.
4. Films are named: as told, else by the nearest CSS colour keyword, each colour's name once; a patch that
   is told the name of another colour's film joins that film.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from core.findings import Finding, Level, Point
from core.outline.outline import BEYOND, Outline
from core.patches.colour_names import Rgb, hex_of, nearest_keyword
from core.patches.face_at import face_at
from core.patches.patches import FilmName, Patches, PatchRole, RoleWishes, SinglePatchRole, checked_name
from core.patches.role import Role
from core.patches.specks import absorbed, face_areas
from core.picture.oklab import to_oklab

#: Distance in Oklab up to which a colour asked for is taken to be one of the picture's: about the step
#: between two neighbouring named colours (from memory: 0.02 is just seen side by side).
SAME_COLOUR = 0.1

#: Places told one by one; beyond it the first few and their number say as much.
MOST_PLACES = 12


def propose(
    outline: Outline,
    palette: Sequence[Rgb],
    ground: int,
    wishes: RoleWishes = RoleWishes(),  # noqa: B008 - frozen and empty
    smallest: float = 0.0,
    unit_mm: float = 1.0,
) -> Patches:
    """Roles for every face of the Outline.

    palette is sRGB 0..1, ground an index of it, smallest an area in the Outline's unit
    squared, unit_mm that unit in mm, for what is said of sizes. Findings have their place in the Outline's
    unit. Raises BadValue for a film name that is none.
    """
    roles = _proposed(outline, ground)
    proposed_bare = {face for face in range(len(roles)) if roles[face].role is Role.BARE}
    findings = list(_follow_colours(roles, outline, palette, wishes))
    told = _told_faces(outline, palette, wishes)
    findings += told.findings
    for face, wish in told.faces.items():
        roles[face] = PatchRole(wish.role, checked_name(wish.film) if wish.film else "")
    hosts = absorbed(outline, smallest, told.faces.keys())
    colours = [outline.faces[hosts.get(face, face)].colour for face in range(len(roles))]
    roles = [roles[hosts.get(face, face)] for face in range(len(roles))]
    findings += _speck_findings(outline, hosts, unit_mm)
    unasked = sorted(proposed_bare - told.faces.keys() - hosts.keys())
    findings += _enclosed_findings(outline, [face for face in unasked if roles[face].role is Role.BARE])
    named, films = _named(roles, colours, palette, face_areas(outline))
    return Patches(tuple(named), films, frozenset(hosts), tuple(findings))


def _proposed(outline: Outline, ground: int) -> list[PatchRole]:
    """Rule 1, films still without names."""
    reaches_beyond = outline.neighbours(BEYOND)
    roles = []
    for index, face in enumerate(outline.faces):
        if index == BEYOND or (face.colour == ground and index in reaches_beyond):
            roles.append(PatchRole(Role.GROUND))
        elif face.colour == ground:
            roles.append(PatchRole(Role.BARE))
        else:
            roles.append(PatchRole(Role.FILM))
    return roles


def nearest_colour(rgb: Rgb, palette: Sequence[Rgb]) -> int | None:
    """The index of the palette's colour that looks like this one; None when none does."""
    away = np.linalg.norm(to_oklab(palette) - to_oklab(rgb), axis=1)
    index = int(away.argmin())
    return index if away[index] <= SAME_COLOUR else None


def _follow_colours(
    roles: list[PatchRole], outline: Outline, palette: Sequence[Rgb], wishes: RoleWishes
) -> list[Finding]:
    """Rule 2 for colours; what lies beyond everything stays ground whatever its colour is to be."""
    findings = []
    for wish in wishes.colours:
        index = nearest_colour(wish.colour, palette)
        if index is None:
            findings.append(_colour_missing(wish.colour))
            continue
        told = PatchRole(wish.role, checked_name(wish.film) if wish.film else "")
        for face in range(BEYOND + 1, len(roles)):
            if outline.faces[face].colour == index and not _is_open_ground(face, roles):
                roles[face] = told
    return findings


def _is_open_ground(face: int, roles: list[PatchRole]) -> bool:
    return roles[face].role is Role.GROUND


def _colour_missing(colour: Rgb) -> Finding:
    return Finding(
        Level.CAUTION,
        "colour-not-found",
        f"No colour of the picture looks like {hex_of(colour)}, which was given a role.",
        "Give the role to one of the picture's own colours, or find more colours.",
    )


class _Told:
    """Faces that were told one by one, and the words that no face could take."""

    def __init__(self) -> None:
        self.faces: dict[int, SinglePatchRole] = {}
        self.findings: list[Finding] = []


def _told_faces(outline: Outline, palette: Sequence[Rgb], wishes: RoleWishes) -> _Told:
    told = _Told()
    for wish in wishes.patches:
        face = face_at(outline, wish.at)
        wanted = None if wish.colour is None else nearest_colour(wish.colour, palette)
        if face == BEYOND:
            told.findings.append(_no_patch(wish.at))
        elif wish.colour is not None and outline.faces[face].colour != wanted:
            told.findings.append(_patch_changed(wish))
        else:
            told.faces[face] = wish
    return told


def _no_patch(at: Point) -> Finding:
    return Finding(
        Level.CAUTION,
        "patch-not-found",
        "A role was given to a patch here, and no patch lies here.",
        "Give it again inside the patch that was meant.",
        at,
    )


def _patch_changed(wish: SinglePatchRole) -> Finding:
    colour = "" if wish.colour is None else f" {hex_of(wish.colour)}"
    return Finding(
        Level.CAUTION,
        "patch-changed",
        f"The patch here is no longer of the colour{colour} that it had when its role was given.",
        "Look at this patch and give its role again.",
        wish.at,
    )


def _speck_findings(outline: Outline, hosts: dict[int, int], unit_mm: float) -> list[Finding]:
    """Their number, total and largest first; then the places of the others, up to a dozen in all."""
    if not hosts:
        return []
    areas = face_areas(outline) * unit_mm**2
    order = sorted(hosts, key=lambda face: (-float(areas[face]), face))
    total, largest = float(areas[order].sum()), float(areas[order[0]])
    number = f"{len(hosts)} specks were" if len(hosts) > 1 else "One speck was"
    sizes = (
        f"together {total:.2f} mm2, the largest {largest:.2f} mm2" if len(hosts) > 1 else f"{total:.2f} mm2"
    )
    counted = Finding(
        Level.NOTE,
        "specks",
        f"{number} too small to keep ({sizes}) and went to the neighbour that shares most edge.",
        "Make the smallest patch smaller, or give a role to the speck itself, to keep one.",
        outline.faces[order[0]].inside,
    )
    others = order[1:MOST_PLACES]
    return [counted, *(_speck(outline.faces[face].inside, float(areas[face])) for face in others)]


def _speck(at: Point, area: float) -> Finding:
    text = f"A speck of {area:.2f} mm2 was dropped here."
    return Finding(Level.NOTE, "speck", text, "Nothing, unless it matters.", at)


def _enclosed_findings(outline: Outline, faces: list[int]) -> list[Finding]:
    """Said once for all of them: whether one is a hole is the maker's to say."""
    if not faces:
        return []
    number = f"{len(faces)} areas" if len(faces) > 1 else "One area"
    verb = "are" if len(faces) > 1 else "is"
    finding = Finding(
        Level.NOTE,
        "enclosed-bare",
        f"{number} of the ground's colour, enclosed by the shape, {verb} taken as solid part without film.",
        "Give the patch the role through where it is to be a hole.",
        outline.faces[faces[0]].inside,
    )
    return [finding]


def _named(
    roles: list[PatchRole], colours: list[int], palette: Sequence[Rgb], areas: np.ndarray
) -> tuple[list[PatchRole], tuple[FilmName, ...]]:
    """Rule 4: roles with every film named, and the films in the order of the palette."""
    automatic = automatic_names(palette)
    named = [
        replace(role, film=role.film or automatic[colour]) if role.role is Role.FILM else PatchRole(role.role)
        for role, colour in zip(roles, colours, strict=True)
    ]
    largest: dict[str, int] = {}
    for face in np.argsort(-areas, kind="stable").tolist():
        if named[face].role is Role.FILM:
            largest.setdefault(named[face].film, face)
    order = sorted(largest, key=lambda name: (colours[largest[name]], name))
    return named, tuple(FilmName(name, palette[colours[largest[name]]]) for name in order)


def automatic_names(palette: Sequence[Rgb]) -> list[str]:
    """A name for every colour, each once: green, green-2, green-3."""
    used: set[str] = set()
    names = []
    for colour in palette:
        keyword = nearest_keyword(colour)
        name, number = keyword, 1
        while name in used:
            number += 1
            name = f"{keyword}-{number}"
        used.add(name)
        names.append(name)
    return names
