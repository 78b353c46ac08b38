"""From a Job and its picture to everything that follows from them, stage by stage.

bytes -> Picture -> squared up -> touch-ups -> Colours -> Outline in px (core/outlined.py; artwork goes a
shorter way to it) -> made regular -> Shape in mm -> pieces joined -> hanger -> as-cut edge -> Layout -> a
second picture (core/second_stages.py) -> found sheet -> path -> films -> nest or sight edges -> forecast.
Each stage is kept from an earlier Build while what it stands on is unchanged (core/keep.py).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from core.artwork.artwork import Artwork
from core.artwork.holes import with_holes
from core.cancel import NEVER, CancelToken
from core.decal.film import FilmSource
from core.decal.films import Films, films_as_wished
from core.decal.holds import heat_findings, holding_findings
from core.decal.relief import RELIEF_MM, Relief
from core.decal.rim import NO_RIMS, Rim
from core.film_sources import MadeOf, films_from, patch_of
from core.findings import Finding, Level, worst_first
from core.gauge.on_sheet import stair_of
from core.job.choice import Stage
from core.job.job import Job, Source
from core.job.resolve import (
    FILM_FIRST_INSET,
    PicturePlace,
    bit_of,
    bits_of,
    board_cutting,
    board_of,
    corner_edits,
    cutter_correction,
    cutting_of,
    doubts_of,
    entries_of,
    film_wish,
    fit_rule,
    hanger_wish,
    has_film_level_with_tabs,
    height_findings,
    inset_of,
    machine_of,
    made_of,
    pieces_wish,
    role_wishes,
    router_correction,
    rules_of,
    size_of,
    stock_wish,
    tab_rule,
)
from core.keep import Keeper, Kept
from core.nest.nest import Nest, nest
from core.outline.loop import Loop
from core.outline.outline import Outline
from core.outline.region import Regions, bounds_of, mapped
from core.outlined import Outlined, outlined
from core.patches.colour_names import hex_of
from core.patches.hanger import hung
from core.patches.pieces import joined
from core.patches.shape import Shape, moved_findings, shape_of, with_findings
from core.picture.colours import Colours
from core.picture.fineness import coarse
from core.picture.picture import Picture
from core.picture.square import Squared
from core.regular.regular import Regular, regular
from core.regular.told import told
from core.router.board import board_findings
from core.router.cutting import NO_TABS
from core.router.good_for import good_for, uneven_findings
from core.router.plan import RouterPlan, plan
from core.router.reach import AsCut, as_cut
from core.router.setup import Setup
from core.router.skin import skin_findings
from core.router.tab_walls import walls_of
from core.second.second import Second
from core.second_stages import Laid, findings_on_shape, laid
from core.sheet.fit_error import FitForecast, forecast, forecast_findings
from core.sheet.found import Found, find_sheet
from core.sheet.lay_out import lay_out
from core.sheet.layout import Layout
from core.sheet.material import material_named
from core.sheet.measuring import measuring_findings
from core.sheet.placement import repeated
from core.sheet.rule import FitWay
from core.sheet.sighted import Sighted, sight_forecast, sighted
from core.touch.corners import settled
from core.touch.paint import Touched


class Look(StrEnum):
    """How closely the picture's edges are read: FIRST is to be looked at, EXACT is to be cut."""

    FIRST = "first"
    EXACT = "exact"


@dataclass(frozen=True, eq=False)
class Build:
    """Everything that follows from a Job; computed, never edited.

    picture is the upright source; traced is in px of the squared one; shape and reach in mm from the left
    bottom of the shape's box; layout, films and path in the frame. part, as_cut and
    films are those of the first copy; laid is the second picture, where there is one. findings
    have their place in the frame, worst first. A Build of a FIRST look differs from the EXACT one by
    hundredths of a pixel along edges, more at corners and thin places.
    """

    job: Job
    source: Source
    picture: Picture
    squared: Squared
    touched: Touched
    colours: Colours
    traced: Outline
    shape: Shape
    reach: AsCut
    layout: Layout
    films: Films
    path: RouterPlan
    findings: tuple[Finding, ...]
    kept: Mapping[str, Kept]
    look: Look = Look.EXACT
    laid: Laid | None = None
    artwork: Artwork | None = None
    found: Found = field(default_factory=Found)
    fit: FitForecast | None = None
    nest: Nest | None = None
    sighted: Sighted | None = None

    @property
    def height_mm(self) -> float:
        """The height asked for, drawn, or assumed."""
        return self.shape.size_mm[1]

    @property
    def off_mm(self) -> float | None:
        """How far off films are to be expected, mm; None where nothing says it or none is laid on a part."""
        is_laid_after = self.films.films and self.job.fit.way != "sheet"
        return self.fit.claim_mm if self.fit is not None and is_laid_after else None

    @property
    def place(self) -> PicturePlace:
        """Where the source picture's pixels lie in the frame."""
        return _place(self.squared, self.shape, self.layout)

    @property
    def part(self) -> Regions:
        """The part, with its bridges or its base plate, in the frame."""
        return in_frame(self.shape.part, self.layout)

    @property
    def drawn(self) -> Regions:
        """What of the part the picture has, in the frame; its height is the height asked for."""
        return in_frame(self.shape.drawn, self.layout)

    @property
    def as_cut(self) -> Regions:
        """The part as the bit leaves it, in the frame."""
        return in_frame(self.reach.regions, self.layout)

    @property
    def every_part(self) -> Regions:
        """The parts of all copies as traced, in the frame, copy by copy."""
        return repeated(self.part, self.layout.copies)

    @property
    def every_as_cut(self) -> Regions:
        """The parts of all copies as the bit leaves them, in the frame, copy by copy."""
        return repeated(self.as_cut, self.layout.copies)

    def film_patch(self, name: str) -> Regions:
        """The patch that a film comes from, in the frame."""
        giver = self.laid.second if self.laid else self.shape
        return in_frame(patch_of(giver, self.shape.part, made_of(self.job), name), self.layout)


def _silent(_stage: str) -> None:
    """Progress that nobody asked for."""


def build(
    job: Job,
    source: Source,
    earlier: Build | None = None,
    token: CancelToken = NEVER,
    tell: Callable[[str], None] = _silent,
) -> Build:
    """The Build of a Job. Raises UnreadableFile, WrongCall, or Cancelled between two stages."""
    return build_by(Keeper(token, job.woken_by, earlier.kept if earlier else {}, tell), job, source)


def build_by(keeper: Keeper, job: Job, source: Source, look: Look = Look.EXACT) -> Build:
    """The same by a Keeper, who has what was finished also when Cancelled is raised.

    A FIRST look at a picture that was traced before is an EXACT one.
    """
    keep, token = keeper.stage, keeper.token
    shows = outlined(keeper, job, source, is_first=look is Look.FIRST)
    look, square = (Look.FIRST if shows.is_first else Look.EXACT), shows.squared
    even = keep(Stage.REGULAR, (shows.traced,), lambda: regular(shows.traced, rules_of(job), token))
    drawn = keep(Stage.SHAPE, (square, shows.colours, even), lambda: _shape(job, shows, even))
    whole = keep(Stage.PIECES, (drawn,), lambda: joined(drawn, pieces_wish(job)))
    thick = stock_wish(job).thickness_mm
    shape = keep(Stage.HANGER, (square, whole, thick), lambda: _hung(job, square, whole, thick))
    reach = keep(Stage.REACH, (shape,), lambda: as_cut(shape.part, bit_of(job), bits_of(job)))
    layout = keep(Stage.SHEET, (reach,), lambda: _layout(job, reach))
    face = laid(keeper, job, source.face, shows, shape) if source.face else None
    giver = face.second if face else shape
    found = keep(Stage.FOUND, (layout,), lambda: _found(job, layout))
    place = _place(square, shape, layout)  # follows from the three, so it is no need of its own
    cut = (giver, reach, layout)
    path = keep(
        Stage.PATH,
        (shape, reach, layout),
        lambda: _path(job, source, shape, reach, layout, place, token),
    )
    level = path if has_film_level_with_tabs(job) else None
    films = keep(
        Stage.FILMS, (square, shape, *cut, level), lambda: _films(job, shape, cut, place, level, token)
    )
    nested = _nest(keeper, job, reach, layout, path) if layout.board else None
    seen = _sighted(keeper, job, reach, layout, path)
    fit = keep(
        Stage.FORECAST, (reach, layout, nested, seen), lambda: _forecast(job, reach, layout, nested, seen)
    )
    so_far = (shows.picture, square, shows.touched, shows.colours, shows.traced)
    made = Build(
        job,
        source,
        *so_far,
        shape,
        reach,
        seen.layout if seen else layout,
        films,
        path,
        (),
        {},
        look,
        face,
        shows.artwork,
        found,
        fit,
        nested,
        seen,
    )
    return replace(made, findings=_findings(made), kept=keeper.kept)


def in_frame(regions: Regions, layout: Layout) -> Regions:
    """Regions of the shape's coordinates, moved to where the shape lies on the stock."""

    def moved(loop: Loop) -> Loop:
        return loop.moved(*layout.shape_at)

    return mapped(regions, moved)


def _shape(job: Job, shows: Outlined, even: Regular) -> Shape:
    square, colours = shows.squared, shows.colours
    palette = [(float(red), float(green), float(blue)) for red, green, blue in colours.palette]
    height = square.picture.height
    wishes = with_holes(role_wishes(job, square.plane, height), shows.artwork)

    def shaped(outline: Outline) -> Shape:
        return shape_of(
            outline,
            palette,
            colours.ground,
            wishes,
            size=size_of(job, square),
            smallest_mm2=job.shape.smallest.value,
        )

    edits = corner_edits(job, square.plane, height)
    made = settled(even.outline, edits, lambda outline: shaped(outline).scale)
    shape = shaped(made.outline)
    return with_findings(shape, (*told(even, shape.scale), *made.findings))


def _hung(job: Job, square: Squared, whole: Shape, thickness_mm: float) -> Shape:
    in_shape = PicturePlace(square.picture.height, whole.scale, whole.shift, square.plane)
    return hung(whole, hanger_wish(job, in_shape, thickness_mm))


def _layout(job: Job, reach: AsCut) -> Layout:
    machine = machine_of(job)
    return lay_out(
        reach.regions,
        stock_wish(job),
        fit_rule(job),
        bit_mm=bit_of(job).called_mm,
        travel_mm=machine.travel_mm[:2],
        zero_at=job.stock.zero_at,
    )


def _films(
    job: Job,
    shape: Shape,
    cut: tuple[Shape | Second, AsCut, Layout],
    place: PicturePlace,
    level: RouterPlan | None,
    token: CancelToken,
) -> Films:
    """cut: what gives the patches, the edge that the bit leaves, and where both lie.

    level: the path whose tabs films lie level with; None where they do not.
    """
    giver, reach, layout = cut
    what = made_of(job)
    sources = tuple(
        FilmSource(
            film.name, hex_of(film.colour), in_frame(patch_of(giver, shape.part, what, film.name), layout)
        )
        for film in films_from(giver, shape.part, what)
    )
    part, as_cut_edge = in_frame(shape.part, layout), in_frame(reach.regions, layout)
    wish = film_wish(job, place)
    if what is MadeOf.COLOURS and len(sources) > 1 and wish.rim.how is Rim.MOVED:
        wish = replace(wish, rim=NO_RIMS)  # in a picture of several colours a band along the edge is no line
    if level is not None:
        own = level.tabs[: len(level.tabs) // len(layout.copies)]
        reach_mm = wish.inset_mm + RELIEF_MM
        wish = replace(wish, reliefs=tuple(Relief(wall, reach_mm) for wall in walls_of(own, as_cut_edge)))
    return films_as_wished(sources, as_cut_edge, wish, token, part)


def _found(job: Job, layout: Layout) -> Found:
    readings = tuple(map(router_correction(job).back, job.fit.readings))
    return find_sheet(layout, readings, is_film_first=job.fit.way == "sheet")


def _nest(keeper: Keeper, job: Job, reach: AsCut, layout: Layout, path: RouterPlan) -> Nest:
    """The board that takes the loose part; no tab holds its pocket."""
    setup = Setup(layout, bit_of(job), board_cutting(job), NO_TABS, machine_of(job))

    def made() -> Nest:
        return nest(in_frame(reach.regions, layout), path.tabs, layout, setup)

    return keeper.stage(Stage.NEST, (reach, layout, path), made)


def _sighted(keeper: Keeper, job: Job, reach: AsCut, layout: Layout, path: RouterPlan) -> Sighted | None:
    """The strips beside the loose part, where film and part are fitted by them; they keep off its tabs."""
    if job.fit.way != FitWay.EDGE:
        return None

    def made() -> Sighted:
        stubs = tuple((tab.at, tab.wall_mm / 2.0) for tab in path.tabs)
        return sighted(in_frame(reach.regions, layout), stubs, layout)

    return keeper.stage(Stage.SIGHT, (reach, layout, path), made)


def _forecast(
    job: Job, reach: AsCut, layout: Layout, nested: Nest | None, seen: Sighted | None
) -> FitForecast | None:
    """For the corners of each copy's box, which no place of the part lies beyond."""
    as_cut = in_frame(reach.regions, layout)
    if seen is not None:
        return sight_forecast(as_cut, seen.pieces, doubts_of(job))
    x_min, y_min, x_max, y_max = bounds_of(region.outer for region in as_cut)
    corners = [(x, y) for x in (x_min, x_max) for y in (y_min, y_max)]
    places = [copy.point(corner) for copy in layout.copies for corner in corners]
    if nested is not None and nested.play_mm is None:
        return None
    play_mm = nested.play_mm or 0.0 if nested is not None else 0.0
    return forecast([mark.at for mark in layout.marks], places, doubts_of(job), play_mm)


def _of_fit(made: Build) -> tuple[Finding, ...]:
    """How well film and part will meet, where there are films; a film laid on the sheet is not laid again."""
    is_laid_after = made.films.films and made.job.fit.way != "sheet"
    told = forecast_findings(made.fit, inset_of(made.job)) if is_laid_after else ()
    return (*made.found.findings, *told, *_film_first_behind(made), *_film_first_near(made))


def _film_first_near(made: Build) -> tuple[Finding, ...]:
    """Film that is cut round must not lie in the bit's way: what was asked for stays, and is judged."""
    inset, asked = inset_of(made.job), made.job.film.inset.value
    if made.job.fit.way != FitWay.SHEET or not made.films.films:
        return ()
    if inset != asked:
        text = f"Film goes on before the part is cut, so it lies {inset:g} mm inside the edge, not {asked:g}."
        return (
            Finding(Level.NOTE, "film-first-inset", text, "An inset that you ask for is taken as it is."),
        )
    if inset >= FILM_FIRST_INSET:
        return ()
    text = (
        f"Film that goes on the sheet first lies {inset:g} mm inside the edge: where the sheet is found a "
        "little off, the bit catches it."
    )
    remedy = f"Take an inset of {FILM_FIRST_INSET:g} mm or more."
    return (Finding(Level.CAUTION, "film-near-bit", text, remedy),)


def _film_first_behind(made: Build) -> tuple[Finding, ...]:
    if made.job.film.side != "behind" or made.job.fit.way not in {"sheet", "nest"}:
        return ()
    if made.job.fit.way == "nest":
        text = "A nest takes the part face up, and these films are made for the back."
        return (
            Finding(Level.STOP, "nest-behind", text, "Lay films on the front, or fit them in the frame."),
        )
    text = "Film that goes on the sheet before it is cut lies on top, and these films are made for the back."
    return (
        Finding(Level.STOP, "film-first-behind", text, "Lay films on the front, or fit them in the frame."),
    )


def _place(square: Squared, shape: Shape, layout: Layout) -> PicturePlace:
    shift = (shape.shift[0] + layout.shape_at[0], shape.shift[1] + layout.shape_at[1])
    return PicturePlace(square.picture.height, shape.scale, shift, square.plane)


def _path(  # noqa: PLR0913, PLR0917 - one argument for each thing that it stands on
    job: Job,
    source: Source,
    shape: Shape,
    reach: AsCut,
    layout: Layout,
    place: PicturePlace,
    token: CancelToken,
) -> RouterPlan:
    placed = AsCut(in_frame(reach.regions, layout), (), in_frame(reach.centres, layout))
    rule = tab_rule(job, place)
    stair = stair_of(source.data, shape.size_mm, layout, rule)
    cutting = replace(cutting_of(job), entries=entries_of(job, place))
    return plan(placed, layout, bit_of(job), cutting, rule, machine_of(job), token, stair)


def _findings(made: Build) -> tuple[Finding, ...]:
    in_px = (*made.touched.findings, *made.colours.findings)
    seen = moved_findings(in_px, made.shape.scale, made.shape.shift)
    second = findings_on_shape(made.laid, made.shape, made.reach.regions) if made.laid else ()
    of_shape = (*seen, *made.shape.patches.findings, *second, *made.reach.findings)
    placed = moved_findings(of_shape, 1.0, made.layout.shape_at)
    on_stock = (
        *made.layout.findings,
        *made.films.findings,
        *made.path.findings,
        *(made.nest.findings if made.nest else ()),
        *(made.sighted.findings if made.sighted else ()),
        *_of_sheet(made),
        *_of_fit(made),
    )
    corrected = (
        *router_correction(made.job).findings("router"),
        *cutter_correction(made.job).findings("cutter"),
    )
    first = (*made.squared.findings, *_of_size(made), *corrected)
    return worst_first((*first, *placed, *on_stock))


def _of_size(made: Build) -> tuple[Finding, ...]:
    doubt = max(made.shape.outline.doubt, default=0.0)
    small = () if made.artwork else coarse(made.shape.scale, doubt)
    return (*height_findings(made.job, made.squared, made.height_mm), *small)


def _of_sheet(made: Build) -> tuple[Finding, ...]:
    material, stock = material_named(made.job.stock.material), made.layout.stock
    holding = holding_findings(material, has_films=bool(made.films.films))
    places = tuple(place.value for place in made.job.stock.thickness)
    measured = measuring_findings(material, stock.thickness_mm, len(places))
    return (*holding, *measured, *_of_board(made, places), *heat_findings(made.films.films))


def _of_board(made: Build, places: tuple[float, ...]) -> tuple[Finding, ...]:
    """What the board allows, and how far the sheet may differ from what was measured."""
    job, board = made.job, board_of(made.job)
    setup = Setup(made.layout, bit_of(job), cutting_of(job), tab_rule(job, made.place), machine_of(job))
    is_on_board = job.stock.z_zero == "board"
    return (
        *board_findings(setup, board),
        *skin_findings(setup, board, is_zeroed_on_board=is_on_board),
        *uneven_findings(good_for(setup, board, is_zeroed_on_board=is_on_board), places),
    )
