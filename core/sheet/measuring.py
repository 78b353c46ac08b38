"""Whether the sheet has been measured well enough for what is to be cut from it."""

from core.findings import Finding, Level
from core.sheet.material import Material

#: Places in which a sheet is measured at least (common practice, no source).
PLACES = 3


def measuring_findings(material: Material, thickness_mm: float, places: int) -> tuple[Finding, ...]:
    """A note when fewer than three places were measured; with the material's tolerance where one is known."""
    if places >= PLACES:
        return ()
    text = f"The sheet's thickness is given in {_counted(places)}; sheets differ across and from their label."
    if material.thickness_tolerance is not None:
        far = material.thickness_tolerance(thickness_mm)
        text += f" A cast sheet may be {far:.1f} mm off (ISO 7823-1, from memory)."
    return (Finding(Level.NOTE, "measure-the-sheet", text, "Measure it in three to five places."),)


def _counted(places: int) -> str:
    return "one place" if places == 1 else f"{places} places"
