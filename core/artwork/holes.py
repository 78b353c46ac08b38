"""Which places of a drawing of edges are holes."""

from dataclasses import replace

from core.artwork.artwork import Artwork
from core.patches.patches import RoleWishes, SinglePatchRole
from core.patches.role import Role


def with_holes(wishes: RoleWishes, artwork: Artwork | None) -> RoleWishes:
    """What a drawing of edges says of places without ink, before what the maker said of single patches."""
    if artwork is None or not artwork.holes:
        return wishes
    faces = artwork.outline.faces
    holes = (SinglePatchRole(faces[hole].inside, Role.THROUGH) for hole in sorted(artwork.holes))
    return replace(wishes, patches=(*holes, *wishes.patches))
