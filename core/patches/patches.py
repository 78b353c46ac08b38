"""Patches and what becomes of them: film, bare, through or ground.

A role belongs to a face of the Outline; part and films are unions of faces, so this file needs no
geometry beyond the Outline's own.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from core.errors import BadValue
from core.findings import Finding, Point
from core.outline.faces import regions_of
from core.outline.outline import Outline
from core.outline.region import Regions
from core.patches.colour_names import Rgb
from core.patches.role import Role

#: What a film may be called, so that it is a layer, a file name and an XML id alike.
NAME_RULE: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


def checked_name(name: str) -> str:
    """The name itself; BadValue when it is more than lower-case letters, digits and single hyphens."""
    if not NAME_RULE.fullmatch(name):
        raise BadValue(
            f'A film is called by lower-case letters, digits and hyphens, such as "shell-2"; not "{name}".'
        )
    return name


@dataclass(frozen=True)
class PatchRole:
    """A role, and the film's name where it is film ("" elsewhere)."""

    role: Role
    film: str = ""


@dataclass(frozen=True)
class ColourRole:
    """The maker's word for a whole colour; film "" leaves the name to the nearest keyword."""

    colour: Rgb
    role: Role
    film: str = ""


@dataclass(frozen=True)
class SinglePatchRole:
    """The maker's word for the patch round a point, in the Outline's unit.

    colour is what the patch had when the word was given: where another colour now lies there, the word
    is not followed but reported. None: whatever lies there.
    """

    at: Point
    role: Role
    film: str = ""
    colour: Rgb | None = None


@dataclass(frozen=True)
class RoleWishes:
    """Everything the maker said about roles; a single patch's word goes before its colour's."""

    colours: tuple[ColourRole, ...] = ()
    patches: tuple[SinglePatchRole, ...] = ()


@dataclass(frozen=True)
class FilmName:
    """One film: its name, and the colour (of its largest patch) that it is shown in."""

    name: str
    colour: Rgb


@dataclass(frozen=True)
class Patches:
    """roles, one for each face of the Outline; films in the palette's order; specks already absorbed.

    specks are the faces that took the role of a neighbour because they are too small to keep.
    """

    roles: tuple[PatchRole, ...]
    films: tuple[FilmName, ...]
    specks: frozenset[int]
    findings: tuple[Finding, ...]

    def faces_of(self, wanted: Iterable[Role]) -> frozenset[int]:
        """The faces with one of these roles."""
        among = frozenset(wanted)
        return frozenset(face for face, patch in enumerate(self.roles) if patch.role in among)

    def part_faces(self) -> frozenset[int]:
        """The faces that stay: film and bare."""
        return self.faces_of((Role.FILM, Role.BARE))

    def through_faces(self) -> frozenset[int]:
        """The faces that are cut out as asked."""
        return self.faces_of((Role.THROUGH,))

    def film_faces(self, name: str) -> frozenset[int]:
        """The faces of one film."""
        return frozenset(face for face, patch in enumerate(self.roles) if patch == PatchRole(Role.FILM, name))


def part_of(outline: Outline, patches: Patches) -> Regions:
    """The part's Regions in the Outline's unit: every Chain between two of its faces dropped."""
    return regions_of(outline, patches.part_faces())


def film_patch(outline: Outline, patches: Patches, name: str) -> Regions:
    """The Regions that one film comes from, before the face cuts them."""
    return regions_of(outline, patches.film_faces(name))
