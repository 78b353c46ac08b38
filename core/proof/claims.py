"""What a kit's report claims: the proof believes nothing else about the kit."""

from dataclasses import dataclass

from core.proof.correction import CorrectionClaim

Pair = tuple[float, float]

#: Sides of the stock, as a report names them.
SIDES = ("left", "right", "near", "far")


@dataclass(frozen=True)
class MarkClaim:
    """A mark: its place in the frame, the bored and the film diameter, mm.

    Of a strip beside the part the middle of its area, the diameters of the circle as large as it, how wide
    it is, and how far from the part's edge as cut.
    """

    at: Pair
    diameter_mm: float
    film_diameter_mm: float
    kind: str = "hole"
    wide_mm: float = 0.0
    gap_mm: float = 0.0


@dataclass(frozen=True)
class FoundClaim:
    """A program point p, mm from the work zero, is written as R(turn) p + shift."""

    shift_mm: Pair
    turn_deg: float


@dataclass(frozen=True)
class TabClaim:
    """A tab: its stub on the part's wall, middle and length; neck at the stock's bottom; height; mm."""

    at: Pair
    neck_mm: float
    wall_mm: float
    height_mm: float


@dataclass(frozen=True)
class SkinClaim:
    """The skin that holds instead of tabs, mm, and how many openings of one piece go right through."""

    thickness_mm: float
    openings_through: int


@dataclass(frozen=True)
class StockClaim:
    """The sheet, mm; board_mm: what lies under it; good_for_mm: how thin and thick it may be.

    None where a report does not tell.
    """

    width_mm: float
    depth_mm: float
    thickness_mm: float
    masking_top_mm: float
    masking_bottom_mm: float
    board_mm: float | None = None
    good_for_mm: Pair | None = None


@dataclass(frozen=True)
class MachineClaim:
    """What the router and its controller are said to be."""

    travel_mm: tuple[float, float, float]
    spindle: str
    spin_up_s: float
    dwell_unit: str


@dataclass(frozen=True)
class ClampClaim:
    """A clamp: its middle and size in the frame, its top above the stock's bare top, mm."""

    at: Pair
    size_mm: Pair
    height_mm: float
    is_round: bool


@dataclass(frozen=True)
class DrumClaim:
    """What turns above the tip: how far above it a cylinder begins, and its diameter, mm."""

    above_mm: float
    diameter_mm: float


@dataclass(frozen=True)
class StepClaim:
    """A step: its middle in the frame, its depth below the stock's bare top, mm."""

    at: Pair
    depth_mm: float


@dataclass(frozen=True)
class BreakClaim:
    """A break cut: the way of the bit's middle, from a slot, in the frame, and what it leaves; mm."""

    start: Pair
    end: Pair
    left_mm: float


@dataclass(frozen=True)
class HingeClaim:
    """The strip along one side of the stock that is kept for the tape hinge, mm."""

    side: str
    width_mm: float


@dataclass(frozen=True)
class ProgramClaim:
    """What the part program is said to do; z is measured from the stated zero.

    bit_mm is how wide the bit cuts: its diameter, and what the router was measured to cut wider.
    """

    bit_mm: float
    safe_z_mm: float
    bottom_z_mm: float
    tabs: tuple[TabClaim, ...]
    feed_mm_min: float
    plunge_mm_min: float
    spindle_rpm: float
    drums: tuple[DrumClaim, ...] = ()
    air_cut_mm: float = 0.0
    depth_per_pass_mm: float | None = None
    skin: SkinClaim | None = None
    stair: tuple[StepClaim, ...] = ()
    breaks: tuple[BreakClaim, ...] = ()


@dataclass(frozen=True)
class ReliefClaim:
    """Film keeps reach_mm from a tab's stub: its start, middle and end on the part's wall, frame; mm."""

    wall: tuple[Pair, Pair, Pair]
    reach_mm: float


@dataclass(frozen=True)
class TipClaim:
    """Within reach_mm of a point of the frame, film may come as near to the part's edge as inset_mm."""

    at: Pair
    inset_mm: float
    reach_mm: float


@dataclass(frozen=True)
class DroppedClaim:
    """A piece of film that was left out, or an opening that was filled: a point inside it, and its area."""

    at: Pair
    area_mm2: float


@dataclass(frozen=True)
class RowClaim:
    """A row of glyphs of a film, by a point in each as drawn: scaled about a point, then moved, as a whole.

    ground is the film that it lies on, "" for bare ground.
    """

    film: str
    glyphs: tuple[Pair, ...]
    about: Pair
    scale: float
    shift: Pair
    ground: str


@dataclass(frozen=True)
class BridgeClaim:
    """A strip of film that joins two pieces: from one point to another, flat at both ends."""

    start: Pair
    end: Pair
    width_mm: float


@dataclass(frozen=True)
class MovedClaim:
    """A place where a stroke was made wider (why "grown") or a gap ("opened"), and how wide it became."""

    at: Pair
    why: str
    to_mm: float


@dataclass(frozen=True)
class FineClaim:
    """Strokes and gaps were to be so wide, no edge moved by more than most_mm; and where that was done."""

    stroke_mm: float = 0.0
    gap_mm: float = 0.0
    most_mm: float = 0.0
    moved: tuple[MovedClaim, ...] = ()


@dataclass(frozen=True)
class KnifeClaim:
    """How far the knife's tip trails, whether plots do what that needs, and the longest overcut, mm."""

    offset_mm: float = 0.0
    is_compensated: bool = False
    overcut_mm: float = 0.0

    @property
    def is_steered(self) -> bool:
        """Whether the path in a plot is another than the edge that is cut."""
        return self.is_compensated and self.offset_mm > 0.0


@dataclass(frozen=True)
class NestClaim:
    """What the nest board's program is said to do; its zero lies at zero_at in the frame, Z on its top; mm.

    play_mm: how far the part can move in its pocket at most; None where it is not held.
    """

    zero_at: Pair
    pocket_depth_mm: float
    mark_depth_mm: float
    clearance_mm: float
    play_mm: float | None
    bit_mm: float
    safe_z_mm: float
    depth_per_pass_mm: float
    feed_mm_min: float
    plunge_mm_min: float
    spindle_rpm: float


@dataclass(frozen=True)
class RimRunClaim:
    """From where to where on the patch's edge a run of a film's rim goes, the film on its left; frame, mm."""

    start: Pair
    end: Pair


@dataclass(frozen=True)
class RimClaim:
    """What became of a film's rim (moved, thinned, dropped), how wide one is at most, mm, and its runs."""

    how: str
    widest_mm: float
    runs: tuple[RimRunClaim, ...] = ()


@dataclass(frozen=True)
class StencilClaim:
    """A film that is its patch's negative, its bridges, and a point of each island that none hold.

    bridge_mm: how wide bridges were asked for, 0 for none.
    """

    bridge_mm: float
    bridges: tuple[BridgeClaim, ...] = ()
    loose: tuple[Pair, ...] = ()


@dataclass(frozen=True)
class FilmClaim:
    """One film by name, its inset and the number to read in the cutter's program, mm.

    laid is its place in the order in which films are laid, 1 the first; overlap_mm how far it goes on under
    a neighbour that is seen above it. witness_mm is the length of the size witness, 0 where there is none;
    svg_unit_mm how long a bare number of its SVG is; corner_mm by how much outside corners may be rounded.
    """

    name: str
    inset_mm: float
    sheet_box_mm: Pair
    overlap_mm: float = 0.0
    laid: float = 1.0
    knife: KnifeClaim = KnifeClaim()
    witness_mm: float = 0.0
    svg_unit_mm: float = 1.0
    weed_lines: float = 0.0
    dropped: tuple[DroppedClaim, ...] = ()
    corner_mm: float = 0.0
    bridges: tuple[BridgeClaim, ...] = ()
    filled: tuple[DroppedClaim, ...] = ()
    fine: FineClaim = FineClaim()
    rim: RimClaim | None = None
    made_of: str = ""
    stencil: StencilClaim | None = None


@dataclass(frozen=True)
class FileClaim:
    """A file of the kit; film is "" where it belongs to none.

    says is the digest of what it says, "" where the proof of the file itself is all that counts.
    """

    role: str
    format: str
    path: str
    sha256: str
    film: str = ""
    says: str = ""


@dataclass(frozen=True)
class Claims:
    """The whole report, less what the proof does not look at.

    part_mm is the width and height of the part where it has more to it than the drawn shape, whose size
    height_mm and width_mm are. reliefs None: the kit is from before films stood back from tabs.
    """

    height_mm: float
    width_mm: float
    part_mm: Pair | None
    zero_at: Pair
    z_zero: str
    mirror_x: float | None
    marks: tuple[MarkClaim, ...]
    stock: StockClaim
    machine: MachineClaim
    program: ProgramClaim | None
    films: tuple[FilmClaim, ...]
    files: tuple[FileClaim, ...]
    clamps: tuple[ClampClaim, ...] = ()
    pieces: int = 1
    found: FoundClaim | None = None
    router: CorrectionClaim | None = None
    cutter: CorrectionClaim | None = None
    cutter_wider_mm: float = 0.0
    plot_shift: Pair = (0.0, 0.0)
    tips: tuple[TipClaim, ...] = ()
    rows: tuple[RowClaim, ...] = ()
    nest: NestClaim | None = None
    hinge: HingeClaim | None = None
    reliefs: tuple[ReliefClaim, ...] | None = None

    @property
    def top_z_mm(self) -> float:
        """Z of the stock's bare top in the program: 0, or above the board what lies on it."""
        if self.z_zero == "stock top":
            return 0.0
        return self.stock.thickness_mm + self.stock.masking_bottom_mm

    @property
    def films_upwards(self) -> tuple["FilmClaim", ...]:
        """The films as they are seen, the lowest first: behind clear stock the one laid last."""
        return tuple(sorted(self.films, key=lambda film: film.laid, reverse=self.mirror_x is not None))

    @property
    def bored(self) -> tuple[MarkClaim, ...]:
        """The marks that the part program bores."""
        return tuple(mark for mark in self.marks if mark.kind == "hole")

    def files_of(self, role: str, film: str = "") -> tuple[FileClaim, ...]:
        """The files with this role, and of this film where one is named."""
        return tuple(file for file in self.files if file.role == role and (not film or file.film == film))
