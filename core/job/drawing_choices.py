# ruff: noqa: RUF009 - declared() makes a dataclass field, once, as field() itself does
"""What is drawn, and what becomes of it: picture, shape, part and films.

Each choice is declared here, once, with its default and limits. Defaults are those of a careful maker at a
light router (common practice, no source, unless a line says otherwise). Values are Measures, in mm, mm2,
mm/min, rad, rpm, s or mm/s2 inside.
"""

from dataclasses import dataclass

from core.findings import Point
from core.job.choice import Auto, Stage, declared
from core.job.edits import CornerMade, TouchUp
from core.job.kinds import Colour, Count, Name, Quantity, Several, Word, length
from core.job.placed import ColourAndRole, PairOfPoints, PatchAndRole, PicturePoint
from core.job.seen import ColourPair, Paper, PicturePoints
from core.job.tips import PictureTip, TipInset
from core.job.wish import PointPair, RoleOfColour, RoleOfPatch
from core.picture.paper_size import PaperSize
from core.regular.rule import Rule
from core.touch.edit import Corner, Touch
from core.units import ANGLE, AREA, Measure


@dataclass(frozen=True)
class PictureChoices:
    """What is seen in the picture."""

    pixels: str = declared(
        Word(("enough", "all")),
        "enough",
        Stage.READ,
        "large pictures are read at a half or less; or every pixel",
    )
    corners: tuple[Point, ...] | Auto = declared(
        PicturePoints(4, "the four corners of a sheet", "120,80; 900,95; 880,1200; 100,1180"),
        "auto",
        Stage.SQUARE,
        "a sheet photographed at a slant is made square; auto looks for one",
    )
    paper: PaperSize | Auto = declared(
        Paper(), "auto", Stage.SQUARE, "the size of that sheet; it gives the drawing its true height"
    )
    level: Measure = declared(
        Quantity(ANGLE, "-45 deg", "45 deg"),
        "0 deg",
        Stage.SQUARE,
        "the picture is turned by so much, counter-clockwise",
    )
    crop: tuple[Point, ...] = declared(
        PicturePoints(2, "two opposite corners", "40,30; 400,380"),
        "none",
        Stage.SQUARE,
        "what of the picture is kept; the rest is not looked at",
    )
    light: str = declared(
        Word(("evened", "as it is")),
        "evened",
        Stage.SQUARE,
        "shading and soft shadows are taken out, or left",
    )
    colours: int | Auto = declared(
        Count(2, 16), "auto", Stage.COLOURS, "how many flat colours the picture has, its ground counted"
    )
    palette: tuple[str, ...] | Auto = declared(
        Several(Colour(), least=2, most=16, items="colours"),
        "auto",
        Stage.COLOURS,
        "the flat colours by hand, instead of those that are found",
    )
    merged: tuple[tuple[str, str], ...] = declared(
        Several(ColourPair(), most=16, items="pairs of colours"),
        "",
        Stage.COLOURS,
        "pairs of found colours that are one; the first takes in the second",
    )
    transfer: str = declared(
        Word(("as stored", "linear light")),
        "as stored",
        Stage.TRACE,
        "what a pixel at an edge is the mean of: stored numbers, as drawing programs do, or light",
    )
    ground: str | Auto = declared(
        Colour(), "auto", Stage.COLOURS, "the colour round the shape; it is no part of it"
    )
    touches: tuple[Touch, ...] = declared(
        Several(TouchUp(), items="touch-ups"),
        "",
        Stage.TOUCH,
        "small edits of the picture: rub out, fill a speck, bridge a gap, part what touches",
    )


@dataclass(frozen=True)
class ShapeChoices:
    """What becomes of the patches, and how high the shape stands."""

    height: Measure | Auto = declared(
        length("5 mm", "2 m"),
        "auto",
        Stage.SHAPE,
        "one height for part and films; auto is what a known paper says, else 100 mm",
    )
    colours: tuple[RoleOfColour, ...] = declared(
        Several(ColourAndRole(), most=16, items="roles"),
        "",
        Stage.SHAPE,
        "what becomes of each colour: a film, bare, a hole, or ground",
    )
    patches: tuple[RoleOfPatch, ...] = declared(
        Several(PatchAndRole(), items="roles"),
        "",
        Stage.SHAPE,
        "what becomes of single patches that differ from their colour",
    )
    smallest: Measure = declared(
        Quantity(AREA, "0 mm2", "1000 mm2"), "0.5 mm2", Stage.SHAPE, "specks under this area are dropped"
    )
    corners: tuple[Corner, ...] = declared(
        Several(CornerMade(), items="corners"),
        "",
        Stage.SHAPE,
        "single corners made sharp, or round with a radius",
    )
    regular: tuple[str, ...] = declared(
        Several(Word(tuple(Rule)), most=len(Rule), items="rules"),
        "",
        Stage.REGULAR,
        "what is made regular within the picture's noise: level lines, square corners, equal radii, "
        "one centre, mirrored halves",
    )
    pieces: str = declared(
        Word(("several", "bridged", "based")),
        "several",
        Stage.PIECES,
        "parts that do not touch: each its own, joined by bridges, or on a base plate",
    )
    bridge_width: Measure = declared(
        length("0.5 mm", "100 mm"), "4 mm", Stage.PIECES, "how wide bridges, and necks of a base plate, are"
    )
    bridge_foot: Measure = declared(
        length("0 mm", "20 mm"),
        "2 mm",
        Stage.PIECES,
        "radius at a bridge's feet, where it would crack first",
    )
    base_margin: Measure = declared(
        length("0.5 mm", "200 mm"), "5 mm", Stage.PIECES, "how far a base plate stands out round the shape"
    )


@dataclass(frozen=True)
class PartChoices:
    """What holds the part while it is cut."""

    hold: str = declared(
        Word(("tabs", "skin")),
        "tabs",
        Stage.PATH,
        "tabs hold the part, or a skin under every slot, which is cut by hand and asks for Z on the board",
    )
    skin: Measure = declared(
        length("0.1 mm", "3 mm"),
        "0.5 mm",
        Stage.PATH,
        "how thick the skin is that the last pass leaves above the board",
    )
    tabs: tuple[Point, ...] | Auto = declared(
        Several(PicturePoint(), items="points"),
        "auto",
        Stage.PATH,
        "where tabs hold the part; each point settles on the edge nearest to it",
    )
    entries: tuple[Point, ...] = declared(
        Several(PicturePoint(), items="points"),
        "",
        Stage.PATH,
        "where the bit enters an edge or opening; each point holds for the nearest one, others are chosen",
    )
    tab_neck: Measure = declared(
        length("0.5 mm", "20 mm"),
        "3 mm",
        Stage.PATH,
        "how wide a tab is where it is narrowest; left as it is, 4 mm in wood and HDPE",
    )
    tab_height: Measure = declared(
        length("0.2 mm", "10 mm"),
        "0.8 mm",
        Stage.PATH,
        "how high a tab stands on the stock's bottom; left as it is, 1 mm in wood and HDPE",
    )
    tab_spacing: Measure = declared(
        length("10 mm", "500 mm"), "60 mm", Stage.PATH, "the longest run of edge without a tab"
    )
    tab_count: int = declared(
        Count(2, 60), "4", Stage.PATH, "how many tabs hold each part at least; fewer let it turn"
    )
    hanger: tuple[Point, ...] | Auto = declared(
        Several(PicturePoint(), most=1, items="points"),
        "",
        Stage.HANGER,
        "a hole to hang the part by: none, a point, or auto, where it hangs straight",
        may_be_auto=True,
    )
    hanger_hole: Measure = declared(
        length("1 mm", "30 mm"), "4 mm", Stage.HANGER, "diameter of the hole that the part hangs by"
    )


@dataclass(frozen=True)
class FilmChoices:
    """How the films lie on the part."""

    made_of: str = declared(
        Word(("colours", "whole face", "dark lines")),
        "colours",
        Stage.FILMS,
        "one film for each colour, one for the whole face, or the dark lines alone, all else left clear",
    )
    rim: str = declared(
        Word(("moved", "thinned", "dropped")),
        "moved",
        Stage.FILMS,
        "a line along the part's edge, bare inside it: moved in at its width (one film, or dark lines), "
        "thinned by the inset, or dropped",
    )
    rim_width: Measure = declared(
        length("0.2 mm", "50 mm"),
        "4 mm",
        Stage.FILMS,
        "lines along the part's edge are a rim up to this width",
    )
    inset: Measure = declared(
        length("0 mm", "20 mm"), "0.8 mm", Stage.FILMS, "how far films stay inside the part's edge"
    )
    overlap: Measure = declared(
        length("0 mm", "2 mm"),
        "0.6 mm",
        Stage.FILMS,
        "how far the lower of two films that meet goes on under the upper one; at most 0.5 mm behind",
    )
    order: tuple[str, ...] = declared(
        Several(Name(), most=16, items="names"),
        "",
        Stage.FILMS,
        "names of films from the lowest up; those not named lie below them, light ones lowest",
    )
    stencils: tuple[str, ...] = declared(
        Several(Name(), most=16, items="names"),
        "",
        Stage.FILMS,
        "names of films cut as stencils: open where the picture has film, film on the rest of the face",
    )
    stencil_islands: str = declared(
        Word(("loose", "bridged")),
        "loose",
        Stage.FILMS,
        "islands of a stencil stay on transfer tape, or two bridges hold each",
    )
    stencil_bridge: Measure = declared(
        length("1.5 mm", "20 mm"), "2 mm", Stage.FILMS, "how wide those bridges are"
    )
    smallest_piece: Measure = declared(
        Quantity(AREA, "0 mm2", "1000 mm2"), "0 mm2", Stage.FILMS, "pieces of film under this are left out"
    )
    dropped: tuple[Point, ...] = declared(
        Several(PicturePoint(), items="points"), "", Stage.FILMS, "single pieces of film that are left out"
    )
    small_pieces: str = declared(
        Word(("kept", "left out", "joined")),
        "kept",
        Stage.FILMS,
        "pieces of film under 3 mm2 or nowhere 0.8 mm wide are kept, left out, or joined to the nearest",
    )
    joined: tuple[Point, ...] = declared(
        Several(PicturePoint(), items="points"),
        "",
        Stage.FILMS,
        "single pieces of film that a bridge joins to the nearest piece of their film",
    )
    bridge: Measure = declared(
        length("0.5 mm", "10 mm"), "1 mm", Stage.FILMS, "how wide bridges between pieces of film are"
    )
    small_openings: str = declared(
        Word(("kept", "filled")),
        "kept",
        Stage.FILMS,
        "openings of films under 2 mm2 in which no other film shows are kept, or filled",
    )
    filled: tuple[Point, ...] = declared(
        Several(PicturePoint(), items="points"), "", Stage.FILMS, "single openings of films that are filled"
    )
    stroke: Measure = declared(
        length("0 mm", "5 mm"),
        "0 mm",
        Stage.FILMS,
        "strokes of films thinner than this are thickened to it; 0 leaves them",
    )
    gap: Measure = declared(
        length("0 mm", "5 mm"),
        "0 mm",
        Stage.FILMS,
        "gaps in films narrower than this are opened to it; 0 leaves them",
    )
    most_moved: Measure = declared(
        length("0 mm", "1 mm"),
        "0.2 mm",
        Stage.FILMS,
        "how far an edge of film may move at most where strokes are thickened or gaps opened",
    )
    tips: tuple[PictureTip, ...] = declared(
        Several(TipInset(), items="tips"),
        "",
        Stage.FILMS,
        "tips of the part where film may come nearer to the edge, each with an inset of its own",
    )
    corner_radius: Measure = declared(
        length("0 mm", "5 mm"),
        "0 mm",
        Stage.FILMS,
        "outside corners of films are rounded by this much, where no other film adjoins: sharp ones lift",
    )
    lettering: str = declared(
        Word(("clipped", "moved", "scaled")),
        "clipped",
        Stage.FILMS,
        "rows of glyphs that the inset would clip stay clipped, or are moved or made smaller as a whole",
    )
    side: str = declared(
        Word(("front", "behind")),
        "front",
        Stage.FILMS,
        "films lie on the front, or behind clear stock, where they are cut mirrored",
    )
    stock_width: Measure | Auto = declared(
        length("10 mm", "3 m"), "auto", Stage.DRAWINGS, "how wide the film is; auto asks nothing of it"
    )
    stock_length: Measure | Auto = declared(
        length("10 mm", "100 m"), "auto", Stage.DRAWINGS, "how long the film is; auto asks nothing of it"
    )
    roller_margin: Measure = declared(
        length("0 mm", "100 mm"),
        "10 mm",
        Stage.DRAWINGS,
        "film that the cutter's rollers need on every side of the sheet box",
    )
    strips: Measure | Auto = declared(
        length("0 mm", "500 mm"),
        "auto",
        Stage.DRAWINGS,
        "weed lines cut waste into strips so wide, 10 mm at least; 0 draws none, auto 60 mm on a large sheet",
    )
    weed_lines: tuple[Measure, ...] | Auto = declared(
        Several(length("-1 m", "5 m"), most=99, items="heights"),
        "auto",
        Stage.DRAWINGS,
        "how far weed lines lie from the stock's near edge, in steps of 0.5 mm; auto cuts even strips",
    )
    match: str = declared(
        Word(("edges", "outline")),
        "edges",
        Stage.MATCH,
        "a second picture is laid on the first by every edge, or by nothing but its outline",
    )
    pairs: tuple[PointPair, ...] | Auto = declared(
        Several(PairOfPoints(), least=3, most=9, items="pairs"),
        "auto",
        Stage.MATCH,
        "points of the second picture and where they lie on the first, when it is laid by hand",
    )
    picture_colours: int | Auto = declared(
        Count(2, 16), "auto", Stage.SECOND_COLOURS, "how many flat colours the second picture has"
    )
    picture_ground: str | Auto = declared(
        Colour(), "auto", Stage.SECOND_COLOURS, "the colour round the shape in the second picture; no film"
    )
    colours: tuple[RoleOfColour, ...] = declared(
        Several(ColourAndRole(), most=16, items="roles"),
        "",
        Stage.SECOND_PATCHES,
        "what becomes of each colour of the second picture: a film, or bare",
    )
    patches: tuple[RoleOfPatch, ...] = declared(
        Several(PatchAndRole(), items="roles"),
        "",
        Stage.SECOND_PATCHES,
        "what becomes of single patches of the second picture, in its own pixels",
    )
