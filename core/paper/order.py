"""The order of work when film goes on while the part still hangs in its frame.

Every caution stands at the step where it matters (core/paper/hazards.py has them and their sources), and
defers to the makers of machine, tool and material and to local rules.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from core.findings import Point
from core.paper.hazards import Hazard, sentences


class Scene(StrEnum):
    """The picture that stands beside a step."""

    PEEL = "peel"
    KEY_UPPER_LEFT = "upper left"
    KEY_UPPER_RIGHT = "upper right"
    KEY_LOWER_LEFT = "lower left"
    KEY_LOWER_RIGHT = "lower right"
    LOWER_FRAME = "lower the frame"
    DOT_IN_HOLE = "dot in its hole"
    TURN_OVER = "turn over"
    PUNCH = "punch"
    HINGE = "hinge"
    RUB = "rub"
    BREAK_OUT = "break out"
    SNAP_FRAME = "snap the frame"
    JOG = "jog"
    LAY_ON_SHEET = "lay on the sheet"
    SIGHT = "between sight edges"
    NEST_PINS = "pins in the board"
    NEST_FILM = "film on pins"


@dataclass(frozen=True)
class WorkStep:
    """What to do, what to take care of while doing it, and the picture of it.

    hazards are told in their own words; caution is what is to be said of this step alone. number is the
    one in words that hands need, with its unit, for who shows a step large; "" for none.
    """

    words: str
    caution: str = ""
    scene: Scene | None = None
    hazards: tuple[Hazard, ...] = ()
    number: str = ""

    @property
    def care(self) -> str:
        """All that is to be taken care of, "" where nothing is."""
        return " ".join(part for part in (sentences(self.hazards), self.caution) if part)


@dataclass(frozen=True)
class Stage:
    """A part of the work with a name of its own; the sheet boxes stand under the first step of one.

    is_at_router: it is done at the router, and so stands on the router's page.
    """

    title: str
    steps: tuple[WorkStep, ...]
    shows_sheet_boxes: bool = False
    is_at_router: bool = False


@dataclass(frozen=True)
class FrameWork:
    """What the order of work depends on. program, lap and air_cut are file names, "" for none.

    key_corner is where the key hole is seen from the front ("upper left"); is_punched: the marks are cut
    rings that are punched out, because stock or liner cannot be looked through; is_behind: films lie behind
    the stock; skin_mm: the skin that holds the part instead of tabs, 0 where tabs do;
    spindle: "program", "knob" or "switch". film_order: the films as they are laid, the
    first in front; where two meet, one lies overlap_mm on the other. has_plots: films are there as plots
    too; knife_mm: the offset of the knife that they steer, 0 where the cutter compensates it. film_piece_mm:
    the film that each needs, rollers and all; witness_mm: the line to lay a ruler on, 0 where there is none.
    bores_marks: whether the part program does; has_strips: whether marks are strips beside the part.
    is_wood, and cracks: whether solvents crack the stock. break_count, break_left_mm: the cuts that open the
    frame, 0 for none, and what they leave at the bottom; relief_mm: how far film stands back at tabs.
    """

    program: str
    lap: str
    zero_words: str
    z_zero: str
    set_z_mm: float
    touched_with: str
    bit_words: str
    spindle: str
    spindle_rpm: float
    thickness_mm: float
    key_corner: str
    hinge_side: str
    tab_count: int
    is_punched: bool
    is_behind: bool
    has_films: bool = True
    air_cut: str = ""
    film_order: tuple[str, ...] = ()
    overlap_mm: float = 0.0
    skin_mm: float = 0.0
    board_error_mm: float = 0.0
    has_plots: bool = False
    knife_mm: float = 0.0
    bores_marks: bool = True
    film_piece_mm: tuple[float, float] | None = None
    witness_mm: float = 0.0
    is_wood: bool = False
    cracks: bool = True
    has_strips: bool = False
    break_count: int = 0
    relief_mm: float = 0.0
    break_left_mm: float = 0.0


#: Corners of the sheet as seen, and where they go when it is turned like a page.
TURNED = {
    "upper left": "upper right",
    "upper right": "upper left",
    "lower left": "lower right",
    "lower right": "lower left",
}


def corner_of(key: Point, middle: Point) -> str:
    """Where the key hole lies, seen from the middle of the part: "upper left" and so on."""
    high = "upper" if key[1] >= middle[1] else "lower"
    return f"{high} {'left' if key[0] < middle[0] else 'right'}"


def in_its_frame(work: FrameWork) -> tuple[Stage, ...]:
    """The stages in order: without a program those of the router are left out, without film those of film."""
    stages = []
    if work.program:
        stages += [
            Stage("Set up", tuple(set_up(work)), is_at_router=True),
            Stage("Cut the part", tuple(cut_part(work)), is_at_router=True),
        ]
    if work.has_films:
        stages.append(Stage("Cut the film", tuple(cut_film(work)), shows_sheet_boxes=True))
    if work.program:
        stages.append(Stage("Bring them together", tuple(_join(work))))
    return tuple(stages)


def set_up(work: FrameWork) -> Iterator[WorkStep]:
    """Stock, bit and zeros."""
    yield WorkStep(
        f"Measure the sheet in three to five places. This program is for {work.thickness_mm:.2f} mm; "
        "if yours is another, type it in and make the kit again.",
        number=f"{work.thickness_mm:.2f} mm",
    )
    yield WorkStep(
        "Lay the stock on a flat spoil board that reaches under the whole cut. Paper masking may stay on; "
        "thin plastic on top winds round small bits, so peel it along the path."
    )
    yield WorkStep(
        "Clamp or tape the waste, well outside the path of bit and nut.",
        hazards=(Hazard.CLAMPS,),
    )
    yield WorkStep(
        f"Put in the bit ({work.bit_words}) and tighten it.",
        hazards=(Hazard.BIT_CHANGE,),
        number=work.bit_words,
    )
    yield WorkStep(f"Set X and Y to 0 at the {work.zero_words}.")
    if work.skin_mm:
        yield WorkStep(
            f"Brush board and sheet clean and fix the sheet flat all over: it must lie on the board to "
            f"{work.board_error_mm:g} mm everywhere the bit goes.",
            "A chip under the sheet, or a board out of level, and the skin is cut through: the part flies.",
        )
    yield WorkStep(
        f"Z zero is the {work.z_zero}: touch it with {work.touched_with}, "
        f"then set Z to {work.set_z_mm:.2f} mm.",
        number=f"Z {work.set_z_mm:.2f} mm",
    )
    if work.lap:
        yield WorkStep(
            f"Run {work.lap}: spindle off, bit raised, round everything it will reach. Watch it pass clear."
        )
    if work.air_cut:
        yield WorkStep(f"Run {work.air_cut}: the same path in air above the stock. Watch it to the end.")
        return
    yield WorkStep("Run the program once in air, with Z zero raised by more than the depth of the cut.")


def cut_part(work: FrameWork) -> Iterator[WorkStep]:
    """From the air drawn off to the part measured."""
    yield WorkStep(
        "Put on what protects you, start the extraction, clear the floor.",
        hazards=(
            Hazard.EYES, Hazard.HEARING, Hazard.CLOTHING, Hazard.WOOD_DUST if work.is_wood else Hazard.FUMES,
            Hazard.FIRE, Hazard.STOP_KNOWN,
        ),
    )  # fmt: skip
    if work.spindle != "program":
        yield WorkStep(
            f"Switch the spindle on by hand, at {work.spindle_rpm:.0f} rpm, before you start.",
            number=f"{work.spindle_rpm:.0f} rpm",
        )
    yield WorkStep(
        f"Run {work.program}. It {'bores the marks, then cuts' if work.bores_marks else 'cuts'} "
        f"{_opened_by(work)}openings, then the edge; {_held_by(work)}.",
        hazards=(Hazard.ATTENDANCE, Hazard.DISTANCE, Hazard.LOOSE_PARTS, Hazard.RUBBING),
    )
    yield WorkStep(
        f"Wait until the spindle stands still. Leave {_left_whole(work)}. Lift the whole frame off, part and "
        "all.",
        hazards=(Hazard.RUN_DOWN, Hazard.CHIPS, Hazard.SMOULDER),
    )
    yield WorkStep("Measure the part's height against the drawing before you go on.")


def _opened_by(work: FrameWork) -> str:
    """What is cut to open the frame later, before all that frees something."""
    if not work.break_count:
        return ""
    return f"{work.break_count} break cuts that leave {work.break_left_mm:g} mm, then "


def _held_by(work: FrameWork) -> str:
    if work.skin_mm:
        return f"a skin {work.skin_mm:g} mm thick holds the part until you cut it free"
    return f"{work.tab_count} tabs hold the part until you cut them"


def _left_whole(work: FrameWork) -> str:
    return "the skin whole" if work.skin_mm else "every tab"


def cut_film(work: FrameWork) -> Iterator[WorkStep]:
    """From the drawing opened to the tape rubbed down."""
    side = " They are already mirrored for the back: do not mirror them again." if work.is_behind else ""
    yield WorkStep(
        f"Open each film's drawing in the cutter's program and select all: it must read the size said "
        f"here. If it does not, the units are wrong: never scale by eye.{side}"
    )
    yield from _measured(work)
    yield WorkStep(
        "Cut a test square first, then the film, marks and all. Let the cutter compensate its knife, once.",
        hazards=(Hazard.CUTTER_HEAD, Hazard.VINYL),
    )
    yield from _plots(work)
    yield WorkStep(
        f"Weed the waste and keep {_marks_kept(work)}. Lay transfer tape over everything.",
        hazards=(Hazard.BLADES,),
    )
    yield from _one_after_another(work)
    yield WorkStep("Rub the tape down well from the middle out.")


def _measured(work: FrameWork) -> Iterator[WorkStep]:
    """How to see the size without a number, and how much film to load."""
    if work.witness_mm:
        yield WorkStep(
            f"The upright line in the layer notes is {work.witness_mm:g} mm long, with a tick every 10 mm: "
            "measure it there, or draw it with a pen and lay a ruler on it. Notes are never cut.",
            number=f"{work.witness_mm:g} mm",
        )
    if work.film_piece_mm is not None:
        wide, long = work.film_piece_mm
        yield WorkStep(
            f"Load at least {wide:g} by {long:g} mm of each film, room for the rollers counted.",
            number=f"{wide:g} \u00d7 {long:g} mm",
        )


def _plots(work: FrameWork) -> Iterator[WorkStep]:
    """What to send instead of the drawings, and who then compensates the knife."""
    if work.has_plots and work.knife_mm:
        yield WorkStep(
            f"Or send each film's plot (.plt) to the cutter as it is. They steer a knife whose tip trails "
            f"by {work.knife_mm:g} mm: set the cutter's own offset to 0 for them, and back for the drawings.",
            "Compensated twice, every corner grows an ear; compensated never, every corner is rounded.",
        )
    elif work.has_plots:
        yield WorkStep(
            "Or send each film's plot (.plt) to the cutter as it is, with the offset of its knife set in the "
            "cutter: these plots do not compensate it."
        )


def _marks_kept(work: FrameWork) -> str:
    if work.has_strips:
        return "the strips beside the shape"
    return "the three mark rings" if work.is_punched else "the three mark dots"


def _one_after_another(work: FrameWork) -> Iterator[WorkStep]:
    """Films that meet: which goes on first, and that their overlap is meant."""
    if len(work.film_order) <= 1:
        return
    meet = (
        f"where two meet, one lies {work.overlap_mm:g} mm over the other on purpose, so trim nothing"
        if work.overlap_mm > 0.0
        else "where two meet, they lie edge to edge"
    )
    yield WorkStep(
        f"Lay the films in this order, marks over marks: {', then '.join(work.film_order)}; {meet}. "
        "Gathered on one tape, pick them up the other way round: the last one first."
    )


def _join(work: FrameWork) -> Iterator[WorkStep]:
    if not work.has_films:
        yield from break_out(work)
        return
    yield WorkStep(
        "Peel the masking from the side to be faced, on the part and round the three holes. Rinse, let dry.",
        scene=Scene.PEEL,
        hazards=washing(work),
    )
    yield WorkStep(
        f"Lay the frame so that the key hole, the larger one, is at the {_key_seen(work)}.",
        scene=Scene(_key_corner(work)) if work.key_corner else None,
    )
    yield from _punched(work) if work.is_punched else _looked_through()
    yield WorkStep(
        "Rub from the middle out. Take the tape off flat and slowly, folded back on itself.", scene=Scene.RUB
    )
    yield from break_out(work)


def washing(work: FrameWork) -> tuple[Hazard, ...]:
    """What to take care of where the sheet is washed."""
    return (Hazard.SOLVENTS,) if work.cracks else ()


def flame(work: FrameWork) -> tuple[Hazard, ...]:
    """What to take care of where a plastic edge is dressed."""
    return () if work.is_wood else (Hazard.FLAME,)


def _is_turned_over(work: FrameWork) -> bool:
    """Looked through, film lies sticky side up and the frame goes on it; punched, it is the other way round.

    So a film for the front meets a frame lying on its face, unless it is pinned, and one for the back not.
    """
    return work.is_behind == work.is_punched


def _key_seen(work: FrameWork) -> str:
    if not _is_turned_over(work):
        return f"{work.key_corner}, as in the drawing"
    return f"{_key_corner(work)}: turn it like a page, left edge to the right"


def _key_corner(work: FrameWork) -> str:
    """Where the key hole is when the frame lies as it is to lie."""
    return TURNED.get(work.key_corner, work.key_corner) if _is_turned_over(work) else work.key_corner


def _looked_through() -> Iterator[WorkStep]:
    yield WorkStep(
        "Lay the film sticky side up, mist it with water and a drop of soap, and lower the frame onto it.",
        scene=Scene.LOWER_FRAME,
        hazards=(Hazard.WET,),
    )
    yield WorkStep(
        "Slide until each dot hangs in its hole with an even ring of light all round; then press.",
        scene=Scene.DOT_IN_HOLE,
    )
    yield WorkStep("Turn frame and film over together, so that the tape is on top.", scene=Scene.TURN_OVER)


def _punched(work: FrameWork) -> Iterator[WorkStep]:
    yield WorkStep(
        "Punch out the three rings through tape, film and liner, and put a 5 mm pin through each.",
        scene=Scene.PUNCH,
        hazards=(Hazard.PUNCH,),
    )
    side = f" along the {work.hinge_side} side" if work.hinge_side else ""
    yield WorkStep(
        f"Set film and pins on the frame; fix it with a hinge of tape{side}. Pull the pins.",
        scene=Scene.HINGE,
    )
    yield WorkStep("Fold the film back, strip the liner, fold it down again onto the part.")


def break_out(work: FrameWork) -> Iterator[WorkStep]:
    """Frame and tabs, or the skin."""
    if work.skin_mm:
        yield from _cut_skin(work)
        return
    side = "from the side of the slot" if work.is_behind else "from the back, where they are level with it"
    if work.relief_mm:
        side += f", where the film stands {work.relief_mm:g} mm back"
    if work.break_count:
        yield WorkStep(
            f"Snap the frame at the {work.break_count} break cuts, bent so that each gapes: "
            f"{work.break_left_mm:g} mm is left. On a larger sheet saw on to its edge.",
            scene=Scene.SNAP_FRAME,
            hazards=(Hazard.SPLINTERS,),
        )
    opened = "" if work.break_count else "Break the frame open. "
    yield WorkStep(
        f"{opened}Cut the {work.tab_count} tabs {side}, and dress the stubs with a fine file.",
        scene=Scene.BREAK_OUT,
        hazards=(Hazard.KNIFE_AWAY, Hazard.SHARP_STUBS, *flame(work)),
    )


def _cut_skin(work: FrameWork) -> Iterator[WorkStep]:
    """How a part comes off its skin: scored along its wall, parted, trimmed."""
    yield WorkStep(
        f"Lay the sheet on a cutting mat with the slot up. Score the {work.skin_mm:g} mm skin along the "
        "part's wall with a sharp knife, lightly and often, until it parts; openings that have a skin first.",
        "The other hand behind the blade. Do not snap a brittle sheet: it tears into the part and splinters.",
        hazards=(Hazard.KNIFE_AWAY,),
    )
    yield WorkStep(
        "Trim the rim that is left with a fine file held flat along the wall.",
        "The rim is as sharp as a blade.",
        hazards=flame(work),
    )
