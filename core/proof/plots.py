"""The plots of all films, proven film by film, and what the read-back says of them."""

from collections.abc import Mapping
from dataclasses import replace

from core.errors import UnreadableFile
from core.findings import Finding
from core.proof.claims import Claims, FilmClaim
from core.proof.edges import EdgeDistance
from core.proof.layers import NamedLayers
from core.proof.plot import PlotProof, prove_plot
from core.proof.readback import Readback, breach


def plot_proofs(
    files: Mapping[str, bytes],
    film: FilmClaim,
    drawing: tuple[NamedLayers, EdgeDistance | None],
    claims: Claims,
    found: list[Finding],
) -> tuple[PlotProof, ...]:
    """The proofs of a film's plots; why one could not be read is added to what was found.

    drawing: the film's drawing with all copies, and how far it is from the film as it should be.
    """
    proofs = []
    for claim in claims.files_of("film-plot", film.name):
        if claim.path not in files:
            found.append(breach("file-missing", f"{claim.path} is missing."))
            continue
        try:
            proofs.append(prove_plot(claim.path, files[claim.path], film, drawing, claims))
        except UnreadableFile as error:
            found.append(breach("file-unreadable", f"{claim.path}: {error}"))
    return tuple(proofs)


def with_plots(readback: Readback, proofs: Mapping[str, tuple[PlotProof, ...]]) -> Readback:
    """The read-back with the worst of each film's plots, and all that was found in them."""
    every = [proof for of_film in proofs.values() for proof in of_film]
    return replace(
        readback,
        plots={
            name: max((proof.edge for proof in of_film), key=lambda edge: edge.max_mm)
            for name, of_film in proofs.items()
            if of_film
        },
        plot_mark_error_mm=max((proof.mark_error_mm for proof in every), default=None),
        findings=(*readback.findings, *(finding for proof in every for finding in proof.findings)),
    )
