"""What a maker should know of how the second picture lies on the first."""

from core.findings import Finding, Level, Point
from core.second.match import LEAST_MATCHED, NEARLY, Match

#: mm; films that miss by more are seen at the edge (common practice, no source).
MOST_RMS_MM = 0.15
#: Share by which one direction may be stretched: 0.3 mm in 100.
MOST_STRETCH = 0.003
#: mm of growth worth a word, and px of it that a reading may be wrong by.
TOLD_GROWTH_MM, SURE_GROWTH_PX = 0.05, 0.25

_BY_HAND = "Give three pairs of points (film.pairs) to lay it by hand."
_ANOTHER = (
    "Give a copy of the first picture that keeps most of its edges, or three pairs of points (film.pairs)."
)


def findings_of(match: Match, px_mm: float) -> tuple[Finding, ...]:
    """Everything worth saying; px_mm is the side of the first picture's pixel."""
    found = [_place(match, px_mm)]
    if match.is_mirror_image:
        found.append(_mirrored())
    elif not match.belongs:
        found.append(_doubted(match))
    found += [
        one
        for one in (_either_way(match), _loose(match, px_mm), _stretched(match), _grown(match, px_mm))
        if one
    ]
    return tuple(found)


def _place(match: Match, px_mm: float) -> Finding:
    how = (
        "lies as the first one does"
        if match.as_it_lies
        else (f"is scaled by {match.pose.scale:.4f} and turned by {match.pose.turn_deg:.2f}°")
    )
    text = (
        f"The second picture {how}; {match.matched:.0%} of its edges lie on edges of the first"
        + (f", within {match.rms * px_mm:.3f} mm" if match.matched > 0.0 else "")
        + (f"; the next best place has {match.runner_up.matched:.0%}." if match.runner_up else ".")
    )
    return Finding(Level.NOTE, "second-picture", text, "Look at the films over the part before cutting.")


def _mirrored() -> Finding:
    return Finding(
        Level.STOP,
        "second-mirrored",
        "The second picture is a mirror image of the first.",
        "Mirror the second picture; for films behind clear stock choose film.side behind instead.",
    )


def _doubted(match: Match) -> Finding:
    text = f"Only {match.matched:.0%} of the second picture's edges lie on edges of the first"
    if match.by_hand:
        return Finding(
            Level.CAUTION,
            "second-doubtful",
            f"{text}, where it was laid by hand.",
            "Look at the films over the part; mend the pairs of points where they do not fit.",
        )
    told = (
        f"{text}, less than {LEAST_MATCHED:.0%}" if match.matched < LEAST_MATCHED else f"{text}, in fragments"
    )
    return Finding(Level.STOP, "second-strange", f"{told}: they do not seem to belong together.", _ANOTHER)


def _either_way(match: Match) -> Finding | None:
    other = match.runner_up
    if other is None or match.is_mirror_image or other.matched < NEARLY * match.matched:
        return None
    way = (
        "mirrored"
        if other.pose.is_mirrored
        else f"scaled by {other.pose.scale:.3f}, turned by {other.pose.turn_deg:.1f}°"
    )
    return Finding(
        Level.CAUTION,
        "second-either-way",
        f"The second picture fits nearly as well {way}: {other.matched:.0%} against {match.matched:.0%}.",
        f"Look at the films over the part. {_BY_HAND}",
    )


def _loose(match: Match, px_mm: float) -> Finding | None:
    if match.pairs_off * px_mm > MOST_RMS_MM:
        return Finding(
            Level.CAUTION,
            "second-pairs-apart",
            f"The pairs of points miss each other by {match.pairs_off * px_mm:.2f} mm (root mean square).",
            "Look for the pair that is wrong, or take the points more exactly.",
        )
    if match.matched == 0.0 or match.rms * px_mm <= MOST_RMS_MM:
        return None
    return Finding(
        Level.CAUTION,
        "second-loose",
        f"Edges that both pictures show lie {match.rms * px_mm:.2f} mm apart (root mean square).",
        "Use a second picture with more pixels, or make the inset larger.",
    )


def _stretched(match: Match) -> Finding | None:
    if match.stretch <= MOST_STRETCH:
        return None
    return Finding(
        Level.CAUTION,
        "second-stretched",
        f"The second picture is stretched by {match.stretch:.1%} more in one direction than in the other.",
        "Scale it with its proportions kept; it is laid on the first without stretching it.",
    )


def _grown(match: Match, px_mm: float) -> Finding | None:
    grown = match.growth * px_mm
    if not match.matched or abs(grown) < TOLD_GROWTH_MM or abs(match.growth) < SURE_GROWTH_PX:
        return None
    way = "grown" if grown > 0.0 else "shrunk"
    return Finding(
        Level.NOTE,
        "second-grown",
        f"Dark areas of the second picture have {way} by {abs(grown):.2f} mm along their edges.",
        "Nothing where the inset is larger; else use a copy that was only painted over.",
    )


def cut_off(at: Point) -> Finding:
    """A film that ends where the second picture ends, inside the part."""
    return Finding(
        Level.CAUTION,
        "second-cut-off",
        "The second picture ends here inside the part, and so does the film.",
        "Use a second picture that shows the whole part, or give this patch the role bare.",
        at,
    )
