"""Whether film sticks to the sheet at all (common practice, no source), and that it must never be heated."""

from collections.abc import Sequence

from core.decal.film import Film
from core.findings import Finding, Level
from core.sheet.material import NO, SEALED, Material


def holding_findings(material: Material, *, has_films: bool) -> tuple[Finding, ...]:
    """A caution where vinyl lets go of the material, a note where the surface must be made ready first."""
    if not has_films:
        return ()
    if material.film_holds == NO:
        text = f"Vinyl film does not hold on {material.name}: its surface lets go of every common adhesive."
        remedy = "Use another sheet, or try a piece first and ask the film's maker."
        return (Finding(Level.CAUTION, "film-will-not-hold", text, remedy),)
    if material.film_holds == SEALED:
        text = f"Vinyl film holds on {material.name} only when its face is sealed."
        return (
            Finding(Level.NOTE, "seal-the-face", text, "Seal or paint the face, and let it dry through."),
        )
    return ()


def heat_findings(films: Sequence[Film]) -> tuple[Finding, ...]:
    """A note where there are films: PVC gives off hydrogen chloride in heat (laser-fume guidance)."""
    if not films:
        return ()
    x, y = films[-1].regions[0].outer.points[0].tolist()
    text = "Most vinyl film is PVC: in heat it gives off hydrogen chloride, bad for lungs and machine."
    remedy = "Knife only, never a laser or a flame, the faced part too; the film's maker says what it is."
    return (Finding(Level.NOTE, "film-no-heat", text, remedy, (x, y)),)
