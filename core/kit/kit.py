"""The cut kit: the folder with every file of one job, what each is for, and what each is called."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from hashlib import sha256
from typing import Any

from core.findings import Finding
from core.kit.says import SAYS, says_digest


class FileRole(StrEnum):
    """What a file of the kit is for."""

    PART_PROGRAM = "part-program"
    CLEARANCE_LAP = "clearance-lap"
    AIR_CUT = "air-cut"
    NEST_PROGRAM = "nest-program"
    NEST_LAP = "nest-lap"
    PART_DRAWING = "part-drawing"
    FILM_DRAWING = "film-drawing"
    FILM_PLOT = "film-plot"
    JOB_SHEET = "job-sheet"
    PAPER_PROOF = "paper-proof"
    GAUGE_PAGE = "gauge-page"
    PICTURE = "picture"
    JOB = "job"
    SOURCE = "source"
    NO_PROGRAM = "no-program"


#: Roles whose bytes the proof reads; of the others the digest of what they say speaks.
PROVEN = frozenset(
    (
        FileRole.PART_PROGRAM,
        FileRole.CLEARANCE_LAP,
        FileRole.AIR_CUT,
        FileRole.NEST_PROGRAM,
        FileRole.NEST_LAP,
        FileRole.PART_DRAWING,
        FileRole.FILM_DRAWING,
        FileRole.FILM_PLOT,
    )
)

#: Proven roles that may not change all the same: the proof of a plot bears the rounding to its units, so
#: that a place one unit off, 0.025 mm, would pass.
EXACT = frozenset((FileRole.FILM_PLOT,))


@dataclass(frozen=True)
class KitFile:
    """One file: its role, its format, its name in the folder, its bytes, and its film if it has one.

    view: what a picture shows ("front", "back" or "sheet"), "" for other files.
    """

    role: FileRole
    format: str
    path: str
    data: bytes
    film: str = ""
    view: str = ""

    def listed(self) -> dict[str, str]:
        """The file's entry in the report."""
        entry = {
            "role": str(self.role),
            "format": self.format,
            "path": self.path,
            "sha256": sha256(self.data).hexdigest(),
        }
        says = None if self.role in PROVEN - EXACT else says_digest(self.data, self.format)
        named = {"film": self.film, "view": self.view, SAYS: says}
        return entry | {name: value for name, value in named.items() if value}


@dataclass(frozen=True)
class Kit:
    """Every file by its name, report included; the report as an object; all findings, worst first."""

    files: Mapping[str, bytes]
    report: Mapping[str, Any]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class KitNames:
    """Names carry the job's name and its height, so that the files of two kits never mix."""

    job: str
    height_mm: float

    def base(self) -> str:
        """Name and height: turtle-118mm; a height that is no whole number is written with a point."""
        return f"{plain_name(self.job)}-{self.height_mm:.3f}".rstrip("0").rstrip(".") + "mm"

    def named(self, what: str, ending: str) -> str:
        """The file for one purpose: turtle-118mm-WHAT.ENDING."""
        return f"{self.base()}-{what}.{ending}" if what else f"{self.base()}.{ending}"


#: Characters of a name; longer ones are cut, so that every file system takes the longest file's name.
LONGEST_NAME = 60


def plain_name(name: str) -> str:
    """The name in letters, digits, hyphens and underscores; "job" when nothing is left of it.

    >>> plain_name("My kiosk / turtle.v2")
    'My-kiosk-turtle-v2'
    """
    letters = unicodedata.normalize("NFC", name)
    plain = re.sub(r"[^\w-]+", "-", letters).strip("-_")[:LONGEST_NAME].strip("-_")
    return plain or "job"
