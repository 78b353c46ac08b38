"""What can hurt at the bench, each with the sentence that stands at the step where it matters.

Own words after published guidance, named in brackets: [shops] rules of a university's and a makerspace's
CNC rooms and of a state library's lab; [OSHA] OSHA 3157 and its page on wood dust; [manual] a fabrication
manual for acrylic sheet; [memory] a known source, from memory; [practice] common practice, no source. None
of them replaces the makers' instructions, local rules or licensed practice, to which the sheet defers.
"""

from collections.abc import Iterable
from enum import StrEnum


class Hazard(StrEnum):
    """A thing to take care of, by the name that tests and code call it."""

    CLAMPS = "clamps"
    BIT_CHANGE = "bit change"
    EYES = "eyes"
    HEARING = "hearing"
    CLOTHING = "clothing"
    STOP_KNOWN = "stop known"
    FUMES = "fumes"
    WOOD_DUST = "wood dust"
    FIRE = "fire"
    ATTENDANCE = "attendance"
    DISTANCE = "distance"
    LOOSE_PARTS = "loose parts"
    RUBBING = "rubbing"
    RUN_DOWN = "run-down"
    CHIPS = "chips"
    SMOULDER = "smoulder"
    CUTTER_HEAD = "cutter head"
    BLADES = "blades"
    VINYL = "vinyl"
    SOLVENTS = "solvents"
    WET = "wet"
    PUNCH = "punch"
    SPLINTERS = "splinters"
    KNIFE_AWAY = "knife away"
    SHARP_STUBS = "sharp stubs"
    FLAME = "flame"


SENTENCES = {
    Hazard.CLAMPS: "No metal in the path: a bit that meets a clamp breaks and flies.",  # [shops]
    Hazard.BIT_CHANGE: "Spindle off at the mains first. The bit is sharp and may be hot.",  # [shops]
    Hazard.EYES: "Impact-rated glasses for you and whoever watches.",  # [shops]
    Hazard.HEARING: "Hearing protection.",  # [shops]
    Hazard.CLOTHING: "Hair, sleeves and cords tied back; no gloves, no rings.",  # [shops]
    Hazard.STOP_KNOWN: "Know where stop is, and keep it within reach.",  # [shops]
    Hazard.FUMES: "Plastic that overheats gives off fumes: draw them off at the cut.",  # [manual]
    Hazard.WOOD_DUST: "Wood dust harms lungs: draw it off and wear a fitted dust mask.",  # [OSHA]
    Hazard.FIRE: "Extinguisher at hand: chips burn.",  # [shops], [manual]
    Hazard.ATTENDANCE: "Stay with it till the end.",  # [shops]
    Hazard.DISTANCE: "Hands 150 mm from the bit.",  # [shops] 6 in
    Hazard.LOOSE_PARTS: "Never hold by hand what comes loose: it is thrown.",  # [shops]
    Hazard.RUBBING: "If chips smoke, melt or turn to dust, stop.",  # [practice]
    Hazard.RUN_DOWN: "After stop the bit runs on.",  # [shops] up to 30 s
    Hazard.CHIPS: "Brush or vacuum chips away, never by hand.",  # [shops]
    Hazard.SMOULDER: "Look for smouldering ones in the bin.",  # [practice]
    Hazard.CUTTER_HEAD: "Fingers, hair and tape clear of the moving head.",  # [practice]
    Hazard.BLADES: "Cap blades; used ones go into a box for sharps.",  # [practice]
    Hazard.VINYL: "Most vinyl is PVC: knife only, never a laser or a flame.",  # laser-fume guidance
    Hazard.SOLVENTS: "Water and mild soap only: solvents crack a cut sheet.",  # [memory] acrylic manuals
    Hazard.WET: "Wet work stays away from machines and mains.",  # [practice]
    Hazard.PUNCH: "Punch on a soft board, fingers behind the punch.",  # [practice]
    Hazard.SPLINTERS: "Glasses on: a sheet that snaps throws splinters.",  # [practice]
    Hazard.KNIFE_AWAY: "Cut away from yourself.",  # [practice]
    Hazard.SHARP_STUBS: "A snapped tab has sharp edges.",  # [practice]
    Hazard.FLAME: "No flame on the edge near dust, film or solvent.",  # [manual]
}


def sentences(hazards: Iterable[Hazard]) -> str:
    """What the sheet says of them, one after the other."""
    return " ".join(SENTENCES[hazard] for hazard in hazards)
