"""What may become of a patch."""

from enum import StrEnum


class Role(StrEnum):
    """Film and bare are part, covered and not; through and ground are no part."""

    FILM = "film"
    BARE = "bare"
    THROUGH = "through"
    GROUND = "ground"
