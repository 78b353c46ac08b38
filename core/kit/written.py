"""What is written of a kit before its proof: programs, drawings and plots."""

from dataclasses import dataclass

from core.build import Build
from core.decal.sheet_box import SheetBox
from core.findings import Finding, has_stop
from core.kit.drawing_files import drawing_files
from core.kit.drawings import kit_sheet_box
from core.kit.kit import KitFile, KitNames
from core.kit.programs import ProgramSet, write_programs


@dataclass(frozen=True)
class Written:
    """What is written before the proof: programs, drawings and plots, and the box that all films share.

    findings tell what could not be written.
    """

    names: KitNames
    programs: ProgramSet | None
    drawings: tuple[KitFile, ...]
    box: SheetBox
    findings: tuple[Finding, ...] = ()

    def files(self) -> tuple[KitFile, ...]:
        """All of them, programs first."""
        return (*(self.programs.files if self.programs else ()), *self.drawings)


def written_of(made: Build, names: KitNames) -> Written:
    """Programs and drawings of a Build, not yet proven; no programs where a stop is known already."""
    cannot = has_stop(made.findings) or made.found.is_awaited
    programs = None if cannot else write_programs(made, names)
    box = kit_sheet_box(made.films.films, made.drawn, made.layout)
    drawings = drawing_files(made, names, box)
    return Written(names, programs, drawings.files, box, drawings.findings)
