"""The paper proof of a Build, at true size, and where the frame lies on its pages."""

from core.build import Build
from core.decal.sheet_box import SheetBox
from core.findings import Point
from core.job.job import Job
from core.kit.corrected import corrected_briefly
from core.kit.kit import FileRole, KitFile, KitNames
from core.paper.paper_proof import PaperProof, ProofFilm, paper_proof_pdf, proof_tiling
from core.paper.pdf import A4, LETTER, Paper


def paper_of(job: Job) -> Paper:
    """The paper that job sheet and paper proof are made for."""
    return LETTER if job.files.paper == LETTER.name else A4


def page_shifts(made: Build, box: SheetBox) -> tuple[Point, ...]:
    """For each page of the paper proof what is added to a point of the frame, mm."""
    return tuple(tile.shift for tile in proof_tiling(_proof(made, "", box), paper_of(made.job)).tiles)


def paper_proof_file(made: Build, names: KitNames, box: SheetBox) -> KitFile:
    """The PDF to lay the stock on."""
    proof = _proof(made, names.base(), box)
    data = paper_proof_pdf(proof, proof_tiling(proof, paper_of(made.job)))
    return KitFile(FileRole.PAPER_PROOF, "pdf", names.named("paper-proof", "pdf"), data)


def _proof(made: Build, title: str, box: SheetBox) -> PaperProof:
    films = tuple(ProofFilm(film.colour, film.regions) for film in made.films.films)
    drawn = box.loop if films else None
    layout = made.layout
    return PaperProof(
        title,
        layout.stock,
        made.part,
        made.as_cut,
        films,
        layout.marks,
        drawn,
        corrected_briefly(made.job),
    )
