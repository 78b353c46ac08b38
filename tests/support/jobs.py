"""Jobs at random: for every choice, texts that a maker could type for it."""

from hypothesis import strategies as st

from core.job.choice import AUTO
from core.job.edits import CornerMade, TouchUp
from core.job.job import CHOICES, Job
from core.job.kinds import NEVER, Colour, Count, Day, Kind, Name, Quantity, Several, Word, YesNo
from core.job.on_stock import ClampPlace, Reading
from core.job.placed import ColourAndRole, FramePoint, PairOfPoints, PatchAndRole, PicturePoint
from core.job.seen import ColourPair, Paper, PicturePoints
from core.job.tips import TipInset
from core.units import in_digits, parsed

_PIXELS = st.decimals(0, 9999, places=2).map(lambda number: in_digits(float(number)))
_HALVES = st.integers(-4000, 4000).map(lambda number: in_digits(number / 2))
_COLOURS = st.from_regex(r"#([0-9a-fA-F]{3}){1,2}", fullmatch=True)
_ROLES = st.sampled_from(["film", "film eye", "film shell-2", "bare", "through", "ground"])
_SIZES = st.decimals("0.01", 1999, places=2).map(lambda number: in_digits(float(number)))
_FORMS = st.tuples(_SIZES, _SIZES).map(lambda sizes: f"box {sizes[0]}x{sizes[1]}") | _SIZES.map(
    "round {}".format
)
_CLAMPS = st.tuples(_HALVES, _HALVES, _FORMS, _SIZES).map(lambda said: "{},{} {} high {}".format(*said))
_POINTS = st.tuples(_PIXELS, _PIXELS).map(",".join)

_RUBS = st.tuples(st.just("rub"), _POINTS, _SIZES)
_BARS = st.tuples(st.sampled_from(["bridge", "part"]), _POINTS, _POINTS, _SIZES).filter(
    lambda said: said[1] != said[2]
)
_TOUCHES = (_RUBS | st.tuples(st.just("fill"), _POINTS) | _BARS).map(" ".join)
_RADII = st.tuples(_SIZES, st.sampled_from([" px", "px"])) | st.tuples(
    st.integers(1, 999).map(str), st.sampled_from(["", " mm"])
)
_CORNERS = st.tuples(st.just("sharp"), _POINTS).map(" ".join) | st.tuples(
    st.just("round"), _POINTS, _RADII.map("".join)
).map(" ".join)


def _quantities(kind: Quantity) -> st.SearchStrategy[str]:
    unit = float(kind.family.units[0].factor)
    low, high = (parsed(limit, kind.family).value / unit for limit in (kind.least, kind.most))
    numbers = st.floats(low, high).map(lambda number: in_digits(min(max(number, low), high)))
    spelled = st.sampled_from(["", kind.unit, f" {kind.unit}"])
    texts = st.tuples(numbers, spelled).map("".join)
    return texts | texts.map(lambda text: text.replace(".", ","))


def _texts(kind: Kind) -> st.SearchStrategy[str]:
    return _TEXTS[type(kind)](kind)


def _lists(kind: Several) -> st.SearchStrategy[str]:
    return st.lists(_texts(kind.of), min_size=kind.least, max_size=min(kind.most, 5)).map("; ".join)


_TEXTS = {
    Quantity: _quantities,
    Count: lambda kind: st.integers(kind.least, kind.most).map(str),
    Word: lambda kind: st.sampled_from(kind.words),
    Day: lambda _: st.dates().map(lambda day: day.isoformat()) | st.just(NEVER),
    YesNo: lambda _: st.sampled_from(["yes", "no"]),
    Colour: lambda _: _COLOURS,
    Name: lambda _: st.from_regex(r"[A-Za-zäß][A-Za-z0-9 ä'#=\]\[-]{0,20}[a-z]", fullmatch=True),
    PicturePoint: lambda _: _POINTS,
    FramePoint: lambda _: st.tuples(_HALVES, _HALVES).map(", ".join),
    ClampPlace: lambda _: _CLAMPS,
    Reading: lambda _: st.tuples(_HALVES, _HALVES).map(",".join),
    ColourAndRole: lambda _: st.tuples(_COLOURS, _ROLES).map(" ".join),
    PatchAndRole: lambda _: st.tuples(_POINTS, _COLOURS | st.just(""), _ROLES).map(" ".join),
    TouchUp: lambda _: _TOUCHES,
    CornerMade: lambda _: _CORNERS,
    PairOfPoints: lambda _: st.tuples(_POINTS, _POINTS).map(" = ".join),
    Several: _lists,
    ColourPair: lambda _: st.tuples(_COLOURS, _COLOURS).map(" ".join),
    PicturePoints: lambda kind: (
        st.lists(_POINTS, min_size=kind.count, max_size=kind.count).map("; ".join) | st.just("none")
    ),
    TipInset: lambda _: st.tuples(
        _POINTS, st.decimals(0, 20, places=2).map(lambda mm: in_digits(float(mm)))
    ).map(lambda said: f"{said[0]} {said[1]} mm"),
    Paper: lambda _: st.sampled_from(["A4", "letter", "100 x 150 mm", "4 x 6 in", "21,5 cm x 30 cm"]),
}


def texts_of(key: str) -> st.SearchStrategy[str]:
    """Texts that the choice of this key takes."""
    choice = CHOICES[key]
    texts = _texts(choice.kind)
    return texts | st.just(AUTO.value) if choice.may_be_auto else texts


def _made(said: list[tuple[str, str]]) -> Job:
    job = Job(source="turtle.png")
    for key, text in said:
        job = job.with_choice(key, text)
    return job


_SAID = st.sampled_from(sorted(CHOICES)).flatmap(lambda key: texts_of(key).map(lambda text: (key, text)))
#: Jobs in which up to a dozen choices were said, some of them as their default.
JOBS = st.lists(_SAID, max_size=12).map(_made)
