"""What one press can do about a finding at once: the word to press, and the Job that follows."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from core.findings import Point
from core.job.job import Job
from core.job.placed import PicturePoint
from core.job.tips import PictureTip, TipInset
from core.job.wish import RoleOfPatch
from core.patches.role import Role

if TYPE_CHECKING:
    from core.shown import Shown

#: The Job after a press: from the one before, what is shown of it, and the finding's place (mm in the frame).
Change = Callable[[Job, "Shown", Point], Job]


@dataclass(frozen=True)
class Act:
    """words to press; done, what the step is called when it is undone; whether it needs a finding's place."""

    words: str
    done: str
    change: Change
    has_place: bool = True


def hole_instead(job: Job, shown: "Shown", at: Point) -> Job:
    """The Job in which the patch at this place is cut out."""
    wish = RoleOfPatch(_pressed(shown, at), Role.THROUGH, "", shown.palette[shown.ground])
    return replace(job, shape=replace(job.shape, patches=(*job.shape.patches, wish)))


def _pressed(shown: "Shown", at: Point) -> Point:
    """The picture's point there, px, kept within it."""
    (x, y), (width, height) = shown.place.back(at), shown.picture_size
    return round(min(max(x, 0.0), width), 1), round(min(max(y, 0.0), height), 1)


def nearer_here(job: Job, shown: "Shown", at: Point) -> Job:
    """The Job in which film may come nearer to the edge at this tip, by half of what it does now."""
    from core.job.resolve import inset_of  # noqa: PLC0415 - brings numpy; something is shown already

    now = min([inset_of(job), *(tip.inset_mm for tip in job.film.tips if tip.at == _pressed(shown, at))])
    said = TipInset().written(PictureTip(_pressed(shown, at), round(now / 2.0, 2)))
    others = [TipInset().written(tip) for tip in job.film.tips if tip.at != _pressed(shown, at)]
    return job.with_choice("film.tips", "; ".join([*others, said]))


def wide_enough(job: Job, shown: "Shown", _at: Point) -> Job:
    """The Job with the inset that the error to expect asks for."""
    from core.sheet.fit_error import inset_for  # noqa: PLC0415 - see above

    assert shown.off_mm is not None  # noqa: S101 - the finding is told of it
    return job.with_choice("film.inset", f"{inset_for(shown.off_mm):g} mm")


def _pointed_at(key: str) -> Change:
    """The place is added to the points of a choice."""

    def change(job: Job, shown: "Shown", at: Point) -> Job:
        said = [*filter(None, [job.text(key)]), PicturePoint().written(_pressed(shown, at))]
        return job.with_choice(key, "; ".join(said))

    return change


def _set(key: str, text: str) -> Change:
    """A choice gets this value."""

    def change(job: Job, _shown: "Shown", _at: Point) -> Job:
        return job.with_choice(key, text)

    return change


ACTS: dict[str, tuple[Act, ...]] = {
    "enclosed-bare": (Act("cut it out", "area cut out", hole_instead),),
    "tiny-piece": (
        Act("leave it out", "piece left out", _pointed_at("film.dropped")),
        Act("leave all out", "small pieces left out", _set("film.small_pieces", "left out")),
        Act("join it", "piece joined", _pointed_at("film.joined")),
        Act("join all", "small pieces joined", _set("film.small_pieces", "joined")),
    ),
    "film-not-joined": (Act("leave it out", "piece left out", _pointed_at("film.dropped")),),
    "thin-stroke": (Act("thicken strokes", "strokes thickened", _set("film.stroke", "0.8 mm")),),
    "thin-gap": (Act("open gaps", "gaps opened", _set("film.gap", "0.8 mm")),),
    "tiny-opening": (
        Act("fill it", "opening filled", _pointed_at("film.filled")),
        Act("fill all", "small openings filled", _set("film.small_openings", "filled")),
    ),
    "corner-lifts": (Act("round them", "corners rounded", _set("film.corner_radius", "0.5 mm")),),
    "tip-lost": (Act("nearer here", "film nearer at a tip", nearer_here),),
    "inset-below-forecast": (Act("take that inset", "inset as the fit asks", wide_enough, has_place=False),),
    "rim-moved": (
        Act("thin it", "rim thinned", _set("film.rim", "thinned")),
        Act("drop it", "rim dropped", _set("film.rim", "dropped")),
    ),
    "rim-thinned": (
        Act("move it in", "rim moved in", _set("film.rim", "moved")),
        Act("drop it", "rim dropped", _set("film.rim", "dropped")),
    ),
    "rim-dropped": (Act("move it in", "rim moved in", _set("film.rim", "moved")),),
    "film-stencil": (
        Act("bridge islands", "islands bridged", _set("film.stencil_islands", "bridged"), has_place=False),
    ),
    "lettering-clipped": (
        Act("move it", "lettering moved", _set("film.lettering", "moved")),
        Act("make it smaller", "lettering made smaller", _set("film.lettering", "scaled")),
    ),
}
