"""Spoilt drawings: every one is read or refused in one sentence, never anything else."""

import io
import random

import ezdxf
import pytest

from core.artwork.read import kind_of
from core.errors import SamecutError
from tests.support.artwork import artwork, svg

DRAWING = svg(
    '<style>.a{fill:#e9c46a}</style><g transform="translate(3 4) rotate(10)">'
    '<rect class="a" x="10" y="10" width="40" height="20" rx="3"/>'
    '<path d="M20 30C40 0 50 80 70 40s10 5 2 9zM5 5l3 0 0 3z" fill="teal"/></g>'
    '<circle cx="60" cy="60" r="12" stroke="navy" stroke-width="3" fill="none"/>'
)


def dxf():
    made = ezdxf.new("R12")
    space = made.modelspace()
    space.add_polyline2d([(0, 0, 0), (30, 0, 0.5), (30, 20, 0)], format="xyb", close=True)
    space.add_circle((10, 8), 3)
    text = io.StringIO()
    made.write(text)
    return text.getvalue().encode()


def spoilt(data, rng):
    """One of: cut short, bytes changed, a span left out, a span again."""
    how, at = rng.randrange(4), rng.randrange(len(data))
    length = rng.randrange(1, 60)
    if how == 0:
        return data[:at]
    if how == 1:
        changed = bytearray(data)
        for _ in range(rng.choice((1, 3, 20))):
            changed[rng.randrange(len(changed))] = (
                rng.choice(b'0123456789.-eMLCAZ"<>/ \n#x') if rng.random() < 0.8 else rng.randrange(256)
            )
        return bytes(changed)
    if how == 2:
        return data[:at] + data[at + length :]
    return data[: at + length] + data[at:]


def sentence_of(data):
    """What a drawing is refused with; nothing where it is read."""
    try:
        artwork(data)
    except SamecutError as wrong:
        return str(wrong)
    return ""


def campaign(request, whole):
    return range(2000 if request.config.getoption("--whole") else whole)


@pytest.mark.parametrize("kind", ["SVG", "DXF"])
def test_a_spoilt_drawing_is_read_or_refused_in_a_sentence(kind, request):
    good = DRAWING if kind == "SVG" else dxf()
    assert kind_of(good) == kind
    for seed in campaign(request, 120):
        rng = random.Random(f"{kind} {seed}")  # noqa: S311 - to spoil files with
        bad = spoilt(good, rng)
        said = sentence_of(bad)
        assert "\n" not in said, f"seed {seed}"
        assert len(said) < 300, f"seed {seed}"
