"""A regular Outline, when asked: within the noise of the trace, each change shown, all Chains shared still.

Plot: the Outline as numbers (frame.py) -> what is nearly regular, and by how much (near.py), the axis
(mirror.py) and both halves (halves.py) -> what the noise explains becomes relations, with the joints that are
smooth -> one constrained least squares (solve.py) -> what had to move by more than its noise gives up the
relations that moved it, and all is solved again -> the Outline, what was changed and what was left.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

import numpy as np

from core.cancel import NEVER, CancelToken
from core.findings import Point
from core.outline.curve import picked
from core.outline.outline import Outline
from core.regular.edge import Edge
from core.regular.frame import Frame
from core.regular.halves import evened, halves
from core.regular.mirror import Axis, best_axis
from core.regular.near import WITHIN, Candidate, candidates, smooth_joints
from core.regular.relation import Relations
from core.regular.rule import Rule
from core.regular.solve import Solved, Values, solved
from core.trace.planar import crossing

#: Segments beyond which an outline is a photograph in crumbs, and nothing in it is regular.
MOST_SEGMENTS = 600
#: Rounds of giving up relations that ask for too much.
ROUNDS = 12
#: px within which a relation holds.
HOLDS = 1e-6
#: No axis.
NONE: Axis = (0.0, 0.0)


@dataclass(frozen=True)
class Change:
    """What was made regular, or was left: the rule, a place in px, and px that it moved, or would have to.

    noise_px is how much the noise explains. px is None where a mirror image was asked for and no axis found.
    """

    rule: Rule
    at: Point | None
    px: float | None
    noise_px: float
    is_made: bool


@dataclass(frozen=True, eq=False)
class Regular:
    """The Outline in px as asked, and every change; too_many: it has more edges than are looked at."""

    outline: Outline
    changes: tuple[Change, ...] = ()
    too_many: bool = False


@dataclass(frozen=True, eq=False)
class Told:
    """first is where the edge was; outline is the same edge as it is told now, both halves alike."""

    first: Outline
    outline: Outline
    axis: Axis


def regular(outline: Outline, rules: Collection[Rule], token: CancelToken = NEVER) -> Regular:
    """The Outline with what the rules ask for; the very same where they ask for nothing. Raises Cancelled."""
    if not rules or not outline.chains:
        return Regular(outline)
    if sum(len(chain.bulges) for chain in outline.chains) > MOST_SEGMENTS:
        return Regular(outline, too_many=True)
    if Rule.MIRROR in rules:
        return _mirrored(outline, frozenset(rules), token)
    return _made_regular(Told(outline, outline, NONE), frozenset(rules), token)


def _mirrored(outline: Outline, rules: frozenset[Rule], token: CancelToken) -> Regular:
    """With both halves one; where that is too much, only what else is asked for, and said."""
    frame = Frame.of(outline)
    axis = best_axis(Edge(frame))
    left = Change(Rule.MIRROR, None, None, 0.0, is_made=False)
    if axis is not None:
        even = evened(outline, axis)
        answering = halves(Values(Frame.of(even), axis), axis)
        left = _left(Frame.of(even), answering)
        if answering.is_within and answering.relations:
            made = _made_regular(Told(outline, even, axis), rules, token)
            if any(change.rule is Rule.MIRROR and change.is_made for change in made.changes):
                return made
    others = rules - {Rule.MIRROR}
    made = regular(outline, others, token)
    return replace(made, changes=(*made.changes, left))


def _made_regular(edges: Told, rules: frozenset[Rule], token: CancelToken) -> Regular:
    first, axis = edges.first, edges.axis
    frame, edge = Frame.of(edges.outline), Edge(Frame.of(first))
    values = Values(frame, axis)
    found = candidates(values, rules)
    if Rule.MIRROR in rules:
        found.append(halves(values, axis))
    kept = [one for one in found if one.is_within and one.relations]
    left = [one for one in found if one.is_near]
    for _ in range(ROUNDS):
        token.check()
        if not kept:
            break
        answer = _solved(values, kept)
        made = frame.outline_of(answer.points, answer.bulges)
        moves = edge.strays(Frame.of(made))
        strained = _strained(frame, answer, kept, moves)
        if not strained:
            if set(crossing(made.chains)) - set(crossing(first.chains)):
                break
            changes = [_made(frame, one, moves) for one in kept] + [_left(frame, one) for one in left]
            return Regular(made, tuple(changes))
        left += strained
        kept = [one for one in kept if one not in strained]
    return Regular(first, tuple(_left(frame, one) for one in (*kept, *left)))


def _solved(values: Values, kept: list[Candidate]) -> Solved:
    relations = [relation for one in kept for relation in one.relations]
    free = ~values.frame.is_line
    free[[row for one in kept for row in one.freed]] = True
    return solved(values, [*relations, smooth_joints(values)], free)


def _strained(frame: Frame, answer: Solved, kept: list[Candidate], moves: np.ndarray) -> list[Candidate]:
    """The candidates that ask for too much.

    Those that cannot hold together, or for each segment that moves beyond its noise the worst one about it,
    or about its neighbours.
    """
    failed = [one for one in kept if any(_fails(relation, answer) for relation in one.relations)]
    if failed:
        return failed[:1] if len(failed) == len(kept) else failed
    beyond = np.flatnonzero(moves > WITHIN * frame.noise).tolist()
    return _each_once(_worst_about(frame, row, kept) for row in beyond)


def _fails(relation: Relations, answer: Solved) -> bool:
    return bool(np.abs(relation.off(answer.values)).max(initial=0.0) > HOLDS)


def _worst_about(frame: Frame, row: int, kept: list[Candidate]) -> Candidate:
    near = {row, *(other for other in range(len(frame.tails)) if row in (other, frame.after(other)))}
    near |= {after for one in tuple(near) if (after := frame.after(one)) is not None}
    about = [one for one in kept if not near.isdisjoint(one.segments)] or kept
    return max(about, key=lambda one: one.off / one.noise)


def _each_once(many: Iterable[Candidate]) -> list[Candidate]:
    found: list[Candidate] = []
    for one in many:
        if one not in found:
            found.append(one)
    return found


def _made(frame: Frame, one: Candidate, moves: np.ndarray) -> Change:
    rows = np.array(one.segments)
    worst = int(rows[moves[rows].argmax()])
    return Change(one.rule, _middle(frame, worst), float(moves[worst]), one.noise, is_made=True)


def _left(frame: Frame, one: Candidate) -> Change:
    return Change(one.rule, _middle(frame, one.segments[-1]), one.off, WITHIN * one.noise, is_made=False)


def _middle(frame: Frame, row: int) -> Point:
    x, y = picked(frame.segments(), np.array([row])).midpoints()[0].tolist()
    return x, y
