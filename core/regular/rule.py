"""What may be asked to be regular."""

from enum import StrEnum


class Rule(StrEnum):
    """level: level and upright lines. square: right angles. radii: equal ones. centres: of circles, one.

    mirror: both halves are made one.
    """

    LEVEL = "level"
    SQUARE = "square"
    RADII = "radii"
    CENTRES = "centres"
    MIRROR = "mirror"
