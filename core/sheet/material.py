"""What sheets are made of, as far as a cut, a tab and a film depend on it.

Sources, named beside the values: [chart] a cutter-industry chip-load chart for router bits of 3.175 mm, at
a depth of about one diameter; [sheets] data sheets of the sheets' sellers; [wood] Wood Handbook
FPL-GTR-190, Table 12-1; [bench] common practice, no source; [memory] a known source, its value from memory.
"""

from collections.abc import Callable
from dataclasses import dataclass

Rows = tuple[float, float, float, float]


@dataclass(frozen=True)
class Starting:
    """Rows over bits of 1.0, 1.5, 2.0, 3.175 mm, one flute, 10 000 rpm; mm/min, mm, degrees, mm/min."""

    feed: Rows
    depth: Rows
    ramp: Rows
    plunge: Rows


@dataclass(frozen=True)
class Material:
    """One kind of sheet; mm, N/mm2.

    chip_mm is the chart's window for a bit of 3.175 mm; pressure the cutting force for each mm2 of chip;
    shear what a tab bears, bending what a bar bears that is bent; depth_share the deepest usual pass on a
    light router, in bit diameters; thickness_tolerance(t) how far a sheet sold as t may be from it, or None
    where no figure was found; melts says what a thin chip does to it; cracks, whether solvents crack it
    where it was cut.
    """

    name: str
    is_clear: bool
    chip_mm: tuple[float, float]
    pressure: float
    shear: float
    shear_source: str
    depth_share: float
    melts: bool
    tab_neck_mm: float
    tab_height_mm: float
    bending: float
    bending_source: str
    film_holds: str
    thickness_tolerance: Callable[[float], float] | None
    starting: Starting
    cracks: bool = False


YES, SEALED, NO = "yes", "sealed", "no"


def _cast_tolerance(thickness_mm: float) -> float:
    """Mm either way: ISO 7823-1 allows 0.4 + 0.1 t of a cast sheet [memory]."""
    return 0.4 + 0.1 * thickness_mm


# [bench] all rows; inside the chart's window in proportion to the diameter, or a little below it.
_PLASTIC = Starting((250, 300, 400, 550), (0.25, 0.4, 0.7, 1.0), (2.0, 2.0, 2.5, 3.0), (60, 60, 80, 100))
_WOOD = Starting((200, 300, 400, 500), (0.5, 0.75, 1.0, 1.5), (3.0, 3.0, 4.0, 5.0), (150, 150, 180, 200))
_SOFT = Starting((250, 300, 400, 500), (0.4, 0.75, 1.0, 1.5), (3.0, 3.0, 4.0, 5.0), (150, 150, 180, 200))


def _acrylic(name: str, *, is_clear: bool) -> Material:
    return Material(
        name,
        is_clear,
        chip_mm=(0.0762, 0.1270),  # [chart] acrylic
        pressure=150.0,  # shear model of forming a chip, 100 to 250; its inputs from memory
        shear=61.8,  # [sheets] 630 kgf/cm2 to 9000 psi
        shear_source="data sheets of cast sheets",
        depth_share=0.5,  # [bench]
        melts=True,
        tab_neck_mm=3.0,  # [bench]
        tab_height_mm=0.6,  # [bench]
        bending=110.3,  # [sheets] 16 000 psi by ASTM D790; another 103
        bending_source="data sheets of cast sheets",
        film_holds=YES,  # [bench]
        thickness_tolerance=_cast_tolerance,
        starting=_PLASTIC,
        cracks=True,  # [memory] acrylic manuals
    )


MATERIALS = (
    _acrylic("clear cast acrylic", is_clear=True),
    _acrylic("opaque cast acrylic", is_clear=False),
    Material(
        "clear polycarbonate",
        is_clear=True,
        chip_mm=(0.0762, 0.1524),  # [chart] soft plastic
        pressure=120.0,  # [bench] in proportion to its yield stress
        shear=40.0,  # [sheets] 5800 psi
        shear_source="data sheets of polycarbonate",
        depth_share=0.5,  # [bench]
        melts=True,
        tab_neck_mm=3.0,  # [bench]
        tab_height_mm=0.8,  # [bench] it bends and does not snap
        bending=57.9,  # [sheets] yields at 8400 psi
        bending_source="yield stress of data sheets",
        film_holds=YES,  # [bench] it may give off gas: try a piece first
        thickness_tolerance=None,
        starting=_PLASTIC,
        cracks=True,  # [bench] sensitive to solvents
    ),
    Material(
        "ABS",
        is_clear=False,
        chip_mm=(0.0762, 0.1524),  # [chart] soft plastic
        pressure=90.0,  # [bench] in proportion to its yield stress
        shear=22.0,  # 0.58 of the tensile 37.9 [sheets], as a ductile solid shears
        shear_source="tensile strength of data sheets, times 0.58",
        depth_share=0.5,  # [bench]
        melts=True,
        tab_neck_mm=3.0,  # [bench]
        tab_height_mm=0.8,  # [bench]
        bending=37.9,  # [sheets] tensile, 5500 psi
        bending_source="tensile strength of data sheets",
        film_holds=YES,  # [bench] on its smooth side
        thickness_tolerance=None,
        starting=_PLASTIC,
    ),
    Material(
        "HDPE",
        is_clear=False,
        chip_mm=(0.0762, 0.1524),  # [chart] soft plastic
        pressure=60.0,  # [bench] in proportion to its yield stress
        shear=12.8,  # 0.58 of the tensile 22.1 [sheets]
        shear_source="tensile strength of data sheets, times 0.58",
        depth_share=0.5,  # [bench]
        melts=True,
        tab_neck_mm=4.0,  # [bench]
        tab_height_mm=1.0,  # [bench]
        bending=22.1,  # [sheets] tensile, 3200 psi; it bends and does not snap
        bending_source="tensile strength of data sheets",
        film_holds=NO,  # [bench]
        thickness_tolerance=None,
        starting=_SOFT,
    ),
    Material(
        "plywood",
        is_clear=False,
        chip_mm=(0.1016, 0.1524),  # [chart] softwood and soft plywood
        pressure=60.0,  # [memory] textbooks of wood cutting give 15 to 60
        shear=1.0,  # [memory] rolling shear across the veneers, 1.0 to 1.5
        shear_source="rolling shear, from memory",
        depth_share=1.0,  # [bench]
        melts=False,
        tab_neck_mm=4.0,  # [bench]
        tab_height_mm=1.0,  # [bench]
        bending=33.7,  # [wood] modulus of rupture, 33.72 to 42.61
        bending_source="Wood Handbook, modulus of rupture",
        film_holds=SEALED,  # [bench]
        thickness_tolerance=None,
        starting=_WOOD,
    ),
    Material(
        "MDF",
        is_clear=False,
        chip_mm=(0.1016, 0.1778),  # [chart] MDF and particle board
        pressure=40.0,  # [bench] 20 to 50
        shear=0.55,  # [memory] internal bond by ANSI A208.2, 0.55 to 0.60
        shear_source="internal bond by ANSI A208.2, from memory",
        depth_share=1.0,  # [bench]
        melts=False,
        tab_neck_mm=4.0,  # [bench]
        tab_height_mm=1.0,  # [bench]
        bending=35.9,  # [wood] modulus of rupture
        bending_source="Wood Handbook, modulus of rupture",
        film_holds=SEALED,  # [bench]
        thickness_tolerance=None,
        starting=_WOOD,
    ),
)

CAST_ACRYLIC, MDF = MATERIALS[0], MATERIALS[-1]
MATERIAL_NAMES = tuple(material.name for material in MATERIALS)


def material_named(name: str) -> Material:
    """The material of this name. Raises KeyError."""
    return {material.name: material for material in MATERIALS}[name]
